/* ridge.h - the speed of a run-up or run-down from a vibration record alone: the once-a-turn line followed through a
 * short-time spectrum. Can be read alone.
 *
 * The path of most evidence is found through all the record at once (Viterbi), so that a mains line or a structure that
 * stands still in frequency does not catch it; then each point is read again with the change of speed taken out. */
#ifndef WH_STUDY_RIDGE_H
#define WH_STUDY_RIDGE_H

#include "study/speed.h"
#include "study/thin.h"

enum { WH_RIDGE_ORDERS = 3 }; /* the line and two of its multiples are looked at */

/* The lowest rate at which records are to be kept for a ridge up to a speed (rad/s), samples a second. */
double wh_ridge_rate(double speed);

struct wh_ridge {
    struct wh_speed_trace trace;    /* points at which the line stands out of the noise; no marks */
    const double *over_floor;       /* of each point: power of the line over the noise beside it, dB */
    const double *const *amplitude; /* of each channel, of each point: of the once-a-turn, in the channel's unit */
};

/* Follows the line through the channels (one or more kept signals of one rate and length) below 1.1 times `speed`,
 * rad/s. Where the line is less than 10 dB over the noise there is no point. Errors: WH_ERR_NO_ANSWER: the record is
 * shorter than eight windows, or fewer than eight points stand out. */
enum wh_status wh_ridge_follow(struct wh_arena *arena, size_t channels, const struct wh_thin *const thin[],
                               double speed, struct wh_ridge *ret);

#endif
