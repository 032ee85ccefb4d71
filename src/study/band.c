#include "study/band.h"

#include "trade/rule.h"

#include <math.h>
#include <string.h>

/* A band's sides fall over this share of the frequency they stand at, inside the band. */
static const double side = 0.08;

static double slope(double k, double first, double last)
{
    double inside = fmin((k - first) / (side * first), (last - k) / (side * last));
    return inside < 0 ? 0 : inside >= 1 ? 1 : 0.5 - 0.5 * cos(WH_PI * inside);
}

static struct wh_band *make(struct wh_arena *arena, const struct wh_blocks *blocks, double step, double low,
                            double high)
{
    struct wh_band *band = WH_NEW(arena, 1, struct wh_band);
    size_t from = (size_t)(low / step), to = (size_t)(high / step) + 1, most = blocks->size / 2;
    band->blocks = blocks;
    band->first = from - from % 2; /* even: the pieces then join without a turn of phase */
    band->count = (to < most ? to : most) - band->first;
    band->weight = WH_NEW(arena, band->count, double);
    for (size_t k = 0; k < band->count; k++)
        band->weight[k] = 2 * slope((double)(band->first + k), low / step, high / step) / (double)blocks->size;
    return band;
}

struct wh_band *wh_band_analytic(struct wh_arena *arena, const struct wh_blocks *blocks, double rate, double low,
                                 double high, double top)
{
    struct wh_band *band = make(arena, blocks, rate / (double)blocks->size, low, high);
    band->complex = true;
    size_t more = (size_t)(top * (double)blocks->size / rate) + 1;
    band->size = wh_transform_length(band->count + (more < band->count ? more : band->count));
    band->transform = wh_transform_complex(arena, band->size);
    band->kept = WH_NEW(arena, band->size, double);
    band->out = WH_NEW(arena, band->size, double);
    return band;
}

struct wh_band *wh_band_real(struct wh_arena *arena, const struct wh_blocks *blocks, double rate, double low,
                             double high, double times)
{
    struct wh_band *band = make(arena, blocks, rate / (double)blocks->size, low, high);
    size_t whole = band->first + band->count;
    double *weight = WH_NEW(arena, whole, double);
    for (size_t k = 0; k < band->count; k++) weight[band->first + k] = band->weight[k] / 2;
    band->weight = weight;
    band->first = 0;
    band->count = whole;
    band->size = wh_transform_length((size_t)(2 * times * (double)whole));
    band->transform = wh_transform_back(arena, band->size);
    band->kept = WH_NEW(arena, band->size / 2, double);
    band->out = WH_NEW(arena, band->size / 2, double);
    return band;
}

struct wh_band *wh_band_like(struct wh_arena *arena, const struct wh_band *band, const struct wh_blocks *blocks)
{
    struct wh_band *b = WH_NEW(arena, 1, struct wh_band);
    *b = *band;
    b->blocks = blocks;
    b->begun = false;
    b->kept = WH_NEW(arena, b->complex ? b->size : b->size / 2, double);
    return b;
}

bool wh_band_add(struct wh_band *band, const double divisor[])
{
    const double(*from)[2] = (const double(*)[2])band->blocks->transform->bins + band->first;
    double(*to)[2] = band->transform->bins;
    size_t bins = band->complex ? band->size : band->size / 2 + 1;
    for (size_t k = 0; k < band->count; k++) {
        double weight = divisor ? band->weight[k] / divisor[band->first + k] : band->weight[k];
        to[k][0] = weight * from[k][band->quarter];
        to[k][1] = weight * (band->quarter ? -from[k][0] : from[k][1]);
    }
    memset(to + band->count, 0, (bins - band->count) * sizeof *to);
    wh_transform_run(band->transform);
    const double *samples = band->complex ? band->transform->bins[0] : band->transform->real;
    size_t half = band->complex ? band->size : band->size / 2;
    for (size_t i = 0; i < half; i++) band->out[i] = band->kept[i] + samples[i];
    memcpy(band->kept, samples + half, half * sizeof *samples);
    bool whole = band->begun;
    band->begun = true;
    return whole;
}
