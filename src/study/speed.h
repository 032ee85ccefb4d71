/* speed.h - a shaft's speed over a record: its run-up, its run-down, the angle turned. Can be read alone. */
#ifndef WH_STUDY_SPEED_H
#define WH_STUDY_SPEED_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* Speeds at rising times, and where the shaft's mark passed: turn i begins at mark[i]. */
struct wh_speed_trace {
    size_t count;
    const double *time, *speed; /* s, rad/s */
    size_t marks;
    const double *mark;      /* s; none where the speed was not read from a tacho */
    size_t missing, doubled; /* pulses put in, pulses left out */
    size_t gaps;             /* longer losses: the longest stretch between them was taken */
    double step;             /* s between points where none is missing; 0: they follow each other without a gap */
    double resolution;       /* rad/s: how well one point is told; 0 of a tacho's */
};

/* The angle turned at a time since mark 0, rad: smooth between the marks. NaN outside them, or without marks. */
double wh_trace_angle(const struct wh_speed_trace *trace, double time);

/* The greatest speed: of the middle ones of five, each a mean over a 500th of the trace, so that neither a stray point
 * nor the coarseness of a tacho makes it. 0 of an empty trace. */
double wh_trace_top(struct wh_arena *arena, const struct wh_speed_trace *trace);

/* The first run-down: of the points after the top speed is left, the longest chain of which none lies over the one
 * before it, down by at least a tenth of the top; or the last run-up, likewise. Stray points are left out, many are
 * thinned. Returned as a trace without marks. Errors: WH_ERR_NO_ANSWER: there is none. */
enum wh_status wh_trace_fall(struct wh_arena *arena, const struct wh_speed_trace *trace, struct wh_speed_trace *ret);
enum wh_status wh_trace_rise(struct wh_arena *arena, const struct wh_speed_trace *trace, struct wh_speed_trace *ret);

/* At most `most` points at even steps of time, each the mean of those it stands for. most >= 2. */
struct wh_speed_trace wh_trace_thinned(struct wh_arena *arena, const struct wh_speed_trace *trace, size_t most);

#endif
