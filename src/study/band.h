/* band.h - a band of a stream as a signal of its own, at a lower rate, pieced together from transformed blocks.
 *
 * A Hann window with half its length of overlap adds up to one, so the pieces of a filtered signal, each transformed
 * back from a few bins, add up to the filtered signal. */
#ifndef WH_STUDY_BAND_H
#define WH_STUDY_BAND_H

#include "study/spectrum.h"

struct wh_band {
    const struct wh_blocks *blocks;
    size_t first, count; /* bins taken of a block */
    size_t size;         /* samples a block at the lower rate; hop is half of it */
    double *weight;      /* of each bin: the band's sloping sides, and whatever else it is multiplied by */
    bool complex;        /* analytic, moved down by first bins; else real, first must be 0 */
    bool quarter;        /* bins are turned back by a quarter: integrated once, where `weight` divides by 2 pi f */
    bool begun;
    struct wh_transform *transform;
    double *kept, *out; /* `size / 2` samples; of two numbers each when complex */
};

/* The analytic signal of a band low..high in Hz. Its square is right up to `top` Hz: its rate is the least that turns
 * nothing of the square back below that, the band's width and `top`, at most twice the width. */
struct wh_band *wh_band_analytic(struct wh_arena *arena, const struct wh_blocks *blocks, double rate, double low,
                                 double high, double top);

/* The real signal from low to high, at `times` times the rate that `high` needs at least. */
struct wh_band *wh_band_real(struct wh_arena *arena, const struct wh_blocks *blocks, double rate, double low,
                             double high, double times);

/* The same band of another stream's blocks, that works in the same room. */
struct wh_band *wh_band_like(struct wh_arena *arena, const struct wh_band *band, const struct wh_blocks *blocks);

/* Takes the block just cut, its bins divided by `divisor` (one a bin of the whole block; NULL: by one). True when
 * `size / 2` more samples stand in `out`: at every block but the first. */
bool wh_band_add(struct wh_band *band, const double divisor[]);

#endif
