/* tacho.h - pulses of a tacho channel as times, and the speed they tell. */
#ifndef WH_TESTRUN_TACHO_H
#define WH_TESTRUN_TACHO_H

#include "base/arena.h"

#include <stdbool.h>

struct wh_tacho {
    struct wh_arena *arena;
    double rate;      /* samples a second */
    double low, high; /* the signal has to fall below the one before it rises through the other */
    bool levelled;    /* the two are known, from the first samples */
    bool up;          /* above `low` since it rose */
    size_t done;      /* samples so far */
    double before;    /* the last of them */
    double *at;       /* times of the rising flanks, s, between samples by a straight line */
    size_t count, room;
};

/* The first call should bring at least a turn: its least and greatest value set the levels of switching. */
void wh_tacho_add(struct wh_tacho *tacho, size_t n, const double samples[]);

/* Mean speed in rad/s over the record, `pulses` a turn, one turn in twenty at each end left aside as missed or false;
 * *ret_drift is the greatest less the least of the speeds of those turns, as a share of it. 0: fewer than three pulses.
 */
double wh_tacho_speed(const struct wh_tacho *tacho, double pulses, double *ret_drift);

#endif
