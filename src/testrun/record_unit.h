/* record_unit.h - units of records: "m/s2", "g" for standard gravity, "V" with a sensor's "100 mV/g". */
#ifndef WH_TESTRUN_RECORD_UNIT_H
#define WH_TESTRUN_RECORD_UNIT_H

#include "testrun/record.h"

/* What numbers of a unit stand for, and the SI value of one. volts: they are a sensor's, `of` is not known yet. */
struct wh_record_unit {
    enum wh_measure of;
    double factor;
    bool volts;
};

/* Reads a unit; "" is not stated. False: there is no such unit, or none of a record. */
bool wh_record_unit_read(const char *text, struct wh_record_unit *ret);

/* Reads "100 mV/g", "4.2 mV/(mm/s)", "8 mV/um": the SI value of one volt. False: it is none. */
bool wh_record_sensitivity_read(struct wh_arena *arena, const char *text, struct wh_record_unit *ret);

/* Reads a number and a unit, "50 m/s2", "10 V", or a bare number: what full scale is. */
bool wh_record_scale_read(const char *text, double *ret_number, const char **ret_unit);

/* A channel's name told apart: "neck-bearing across [m/s2]" has the unit "m/s2", the place "neck-bearing" and the
 * direction "across"; "tacho" is one. Anything may be missing. */
void wh_record_name_read(struct wh_arena *arena, const char *text, struct wh_record_channel *channel,
                         const char **ret_unit);

#endif
