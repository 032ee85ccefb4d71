/* pulses.h - from the pulses of a tacho channel to turns and speed. Can be read alone.
 *
 * The channel is worked in blocks of any length; the result does not hang on how it was cut. Levels are found from the
 * signal itself, half a second at a time, so that a pick-up whose pulses shrink with the speed is followed. */
#ifndef WH_STUDY_PULSES_H
#define WH_STUDY_PULSES_H

#include "study/speed.h"

struct wh_pulses;

enum { WH_PULSES_MOST = 2000000 }; /* pulses that are kept */

/* rate: samples a second; seconds of samples are looked through for the levels at a time. */
struct wh_pulses *wh_pulses_open(struct wh_arena *arena, double rate);
void wh_pulses_add(struct wh_pulses *pulses, size_t n, const double samples[]);

/* The pulses found: the times at which the signal rose through the middle of its levels; pulses of less than a tenth of
 * the largest are noise and left out. Errors: WH_ERR_LIMIT: more than WH_PULSES_MOST. */
enum wh_status wh_pulses_close(struct wh_pulses *pulses, const double **ret_times, size_t *ret_count);

/* How many pulses were found since the last call, and when the first and the last of them; they are then forgotten. For
 * who wants no more than the speed of a long record. `all`: those too that came since the levels were last found. */
struct wh_pulses_found {
    size_t count;
    double first, last; /* s */
};
struct wh_pulses_found wh_pulses_forget(struct wh_pulses *pulses, bool all);

/* Turns and speed from n pulse times, `per_turn` of them a turn (1 or more). A missing pulse (up to two in a row) is
 * put in, a doubled one left out; both are counted. One speed a turn, over the whole turn, so that uneven spacing of
 * the marks does not show. Errors: WH_ERR_NO_ANSWER: fewer than three turns in a row. */
enum wh_status wh_pulses_turns(struct wh_arena *arena, size_t n, const double times[], size_t per_turn,
                               struct wh_speed_trace *ret);

#endif
