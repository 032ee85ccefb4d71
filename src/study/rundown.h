/* rundown.h - a rotor left to itself: what slows it, and when it can stand at the earliest. Can be read alone.
 *
 * The speed w falls by dw/dt = -(steady + viscous w + air w^2): rubbing and bearings; oil and grease; air and belt
 * flap. Each is a drag over the moment of inertia, so that no inertia is needed to fit a record. A time to standstill
 * says when to begin to look, never that a machine stands. */
#ifndef WH_STUDY_RUNDOWN_H
#define WH_STUDY_RUNDOWN_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

enum wh_slowing_by { WH_SLOWED_STEADY, WH_SLOWED_VISCOUS, WH_SLOWED_AIR, WH_SLOWED_SPEED, WH_SLOWING_TERMS };

/* of[]: steady rad/s2, viscous 1/s, air 1/rad, and the speed at time 0, rad/s. */
struct wh_slowing {
    double of[WH_SLOWING_TERMS];
};

/* The speed at a time, rad/s: negative after standstill, as the formula goes on.
 * Source: the equation above is a Riccati equation with constant factors, solved by its 2 x 2 matrix. */
double wh_slowing_speed(const struct wh_slowing *slowing, double time);

/* Seconds from one speed down to another, from >= to >= 0; infinite when the drag does not bring it there. */
double wh_slowing_time(const struct wh_slowing *slowing, double from, double to);

struct wh_run_down_fit {
    struct wh_slowing slowing;
    double covariance[WH_SLOWING_TERMS][WH_SLOWING_TERMS]; /* zero for a viscous term that was left out */
    bool told[WH_SLOWING_TERMS];                           /* which terms this record tells */
    double scatter;                                        /* standard deviation of the readings about the fit, rad/s */
    double correlation; /* of neighbouring residuals: near 0 noise, near 1 the fit bends another way than the record */
    size_t count;
    double lowest; /* speed read, rad/s */
    double start;  /* of the first reading, s: the fit counts its time from there */
};

enum { WH_RUN_DOWN_LEAST = 8 }; /* readings that a fit needs */

/* Least squares of n readings of the speed, times rising (s), speeds > 0 (rad/s). Steady drag and air are fitted first;
 * a term that comes out negative is left out; the viscous one is taken where it explains the record better beyond
 * chance. The covariance is widened by the correlation of the residuals. Errors: WH_ERR_NO_ANSWER: fewer readings than
 * WH_RUN_DOWN_LEAST, a speed that does not fall, or no fit. */
enum wh_status wh_run_down_fit(size_t n, const double time[], const double speed[], struct wh_run_down_fit *ret);

/* The same where some readings are of something else (a speed read off a line that was not the shaft's): those further
 * off than four times the middle scatter, and than `least` rad/s, are left out, again and again until it is always the
 * same ones. Which stayed is left in used[n]. time and speed as above. Errors: as above; more than a third left out. */
enum wh_status wh_run_down_fit_most(struct wh_arena *arena, size_t n, const double time[], const double speed[],
                                    double least, bool used[], struct wh_run_down_fit *ret);

/* Seconds from one speed down to another by the fit and their standard uncertainty; both infinite where the record
 * does not tell the steady drag well enough (less than three times its uncertainty). */
double wh_run_down_time(const struct wh_run_down_fit *fit, double from, double to, double *ret_u);

/* What the law of drag leaves open of the time to standstill, standard uncertainty in s: a tenth of the time that the
 * rest below the lowest speed read takes by the fit. Real air drag does not grow with the square of the speed quite;
 * with powers of 1.8 to 2.2 twice this holds the error (own trial, tests/property/run_down.py). */
double wh_run_down_unseen(const struct wh_run_down_fit *fit);

#endif
