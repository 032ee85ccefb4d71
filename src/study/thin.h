/* thin.h - a signal kept at a lower rate, for what turns slowly: once-a-turn lines of a long record. Can be read alone.
 *
 * Worked in blocks of any length; a low-pass of constant delay stands before the thinning, and the delay is taken out,
 * so that sample k stands at the time k / rate. */
#ifndef WH_STUDY_THIN_H
#define WH_STUDY_THIN_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

struct wh_thin;

/* Keeps samples of `rate` at the lowest rate/whole number that is at least `wanted` (or at `rate` itself). Lines up to
 * 0.4 of the kept rate are kept within 0.02 %, what would fold on to them is held down to less than 1/20000. */
struct wh_thin *wh_thin_open(struct wh_arena *arena, double rate, double wanted);
void wh_thin_add(struct wh_thin *thin, size_t n, const double samples[]);
void wh_thin_close(struct wh_thin *thin);

double wh_thin_rate(const struct wh_thin *thin);
size_t wh_thin_count(const struct wh_thin *thin);

/* Copies n kept samples from `from` on; those before the first and after the last are 0. */
void wh_thin_copy(const struct wh_thin *thin, long from, size_t n, double to[]);

#endif
