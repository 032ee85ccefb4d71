/* draw.h - the random values of a spread. Can be read alone.
 *
 * Every input has a stream of its own, told from the others by its name, and the t-th trial takes the t-th value of
 * each stream: a value hangs on seed, name and trial alone, not on what else is drawn, in which order or by whom. The
 * stream is the counter put through the mixer of splitmix64 (Steele, Lea, Flood, "Fast splittable pseudorandom number
 * generators", OOPSLA 2014); the bell curve is cut into 128 layers (Marsaglia, Tsang, "The ziggurat method for
 * generating random variables", Journal of Statistical Software 5(8), 2000). */
#ifndef WH_SHEET_DRAW_H
#define WH_SHEET_DRAW_H

#include "base/quantity.h"

#include <stddef.h>
#include <stdint.h>

enum { WH_DRAW_LAYERS = 128 };

/* The layers of the bell curve: right edges from the foot up, and how much of each lies under the next. */
struct wh_draw_layers {
    double edge[WH_DRAW_LAYERS + 1], inner[WH_DRAW_LAYERS];
};
void wh_draw_layers(struct wh_draw_layers *ret);

/* The stream of an input. */
uint64_t wh_draw_stream(uint64_t seed, const char *name);

/* The values of trials first … first + n - 1: evenly between least and most, or normal about best. An exact value
 * gives itself. */
void wh_draw_column(const struct wh_value *value, uint64_t stream, uint64_t first, size_t n,
                    const struct wh_draw_layers *layers, double column[]);

#endif
