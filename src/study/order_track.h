/* order_track.h - amplitude and phase of the once-a-turn against speed, and the resonances passed. Can be read alone.
 */
#ifndef WH_STUDY_ORDER_TRACK_H
#define WH_STUDY_ORDER_TRACK_H

#include "study/speed.h"
#include "study/thin.h"

struct wh_order_track {
    size_t count;
    const double *time, *speed; /* s, rad/s; in the order of time */
    const double *amplitude;    /* peak, in the signal's unit */
    const double *phase;        /* rad, unwrapped: how far its crest comes after the mark; NULL: no tacho */
};

/* The once-a-turn of a kept signal about each of at most `most` times between the first and the last mark, worked over
 * whole turns under a Hann window: eight at least, more where the speed changes by less than 1/200 meanwhile. Errors:
 * WH_ERR_NO_ANSWER: fewer than 16 turns. */
enum wh_status wh_order_track(struct wh_arena *arena, const struct wh_thin *signal, const struct wh_speed_trace *trace,
                              size_t most, struct wh_order_track *ret);

enum { WH_RESONANCES_MOST = 8 };

struct wh_resonance {
    double speed;     /* rad/s: natural frequency met by the once-a-turn */
    double damping;   /* share of critical */
    double amplitude; /* greatest, in the signal's unit */
    double at;        /* rad/s: where it was greatest */
    bool turned;      /* the phase turned by a quarter to half a turn there; false without a tacho */
    bool hurried;     /* passed in so few swings that the peak comes late and lower than standing there would show */
};

/* Resonances passed: peaks of the displacement over the rise that unbalance gives it, each fitted with the closed form
 * of a damped mass on a spring driven by unbalance, from the lowest speed up; their number. `derived`: 0 the signal is
 * a displacement, 1 a velocity, 2 an acceleration. Source: S. S. Rao, Mechanical Vibrations, rotating unbalance: X = e
 * r^2/sqrt((1 - r^2)^2 + (2 z r)^2). */
size_t wh_resonances(struct wh_arena *arena, const struct wh_order_track *track, int derived,
                     struct wh_resonance ret[WH_RESONANCES_MOST]);

#endif
