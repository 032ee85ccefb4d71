/* tacho.h - the mean speed that a tacho channel tells, and how it changes, in memory that does not grow. */
#ifndef WH_TESTRUN_TACHO_H
#define WH_TESTRUN_TACHO_H

#include "study/pulses.h"

struct wh_tacho {
    struct wh_pulses *pulses;
    size_t count;       /* pulses behind the first */
    double first, last; /* times of the first and the last pulse so far, s */
    bool begun;
    double least, most; /* pulses a second between two looks, half a second and more apart */
};

/* A tacho channel of so many samples a second. */
struct wh_tacho wh_tacho_open(struct wh_arena *arena, double rate);

void wh_tacho_add(struct wh_tacho *tacho, size_t n, const double samples[]);

/* Mean speed in rad/s over the record, `pulses` a turn; *ret_drift is the greatest less the least speed between two
 * looks, as a share of it. 0: fewer than three pulses. */
double wh_tacho_speed(struct wh_tacho *tacho, double pulses, double *ret_drift);

#endif
