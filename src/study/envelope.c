#include "study/envelope.h"

#include "study/band.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PIECES = 4096, MOST_BANDS = 24 };
static const double highest = 0.46; /* of the rate: what is above belongs to the converter's filter */
static const double noise = 2;      /* of noise: mean square of the squared envelope over the square of its mean */
static const double root_two = 1.41421356237309504880;

/* The kurtosis of each piece of a stream; when there are too many, every other one is let go. */
struct pieces {
    double *at;
    size_t count, every, passed;
};

struct one {
    struct wh_envelope envelope;
    struct wh_band *band;
    struct wh_welch *welch;
    struct pieces pieces;
    double *squared;
    double sum, count;
};

struct wh_envelopes {
    struct wh_arena *arena;
    const struct wh_blocks *blocks;
    double top;
    double *smooth, *running; /* the block's smoothed magnitude; a running sum */
    struct one one[MOST_BANDS];
    size_t count;
};

static void keep_piece(struct pieces *pieces, double kurtosis)
{
    if (pieces->passed++ % pieces->every) return;
    if (pieces->count == PIECES) {
        for (size_t i = 0; i < PIECES / 2; i++) pieces->at[i] = pieces->at[2 * i];
        pieces->count = PIECES / 2;
        pieces->every *= 2;
    }
    pieces->at[pieces->count++] = kurtosis;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(struct pieces *pieces)
{
    size_t n = pieces->count;
    if (n == 0) return 0;
    qsort(pieces->at, n, sizeof *pieces->at, by_size);
    return (pieces->at[(n - 1) / 2] + pieces->at[n / 2]) / 2;
}

static void add_one(struct wh_envelopes *e, double rate, struct wh_band *band, struct wh_envelope envelope,
                    double seconds)
{
    struct one *one = &e->one[e->count++];
    double slower = rate * (double)band->size / (double)e->blocks->size;
    one->envelope = envelope;
    one->band = band;
    one->squared = WH_NEW(e->arena, band->size / 2, double);
    one->pieces = (struct pieces){.at = WH_NEW(e->arena, PIECES, double), .every = 1};
    one->welch = wh_welch_open(e->arena, slower, wh_transform_length((size_t)(slower * seconds)), WH_WINDOW_HANN, 0.5);
}

struct wh_envelopes *wh_envelopes_open(struct wh_arena *arena, const struct wh_blocks *blocks, double rate, double top,
                                       double seconds)
{
    struct wh_envelopes *e = WH_NEW(arena, 1, struct wh_envelopes);
    size_t bins = blocks->size / 2 + 1;
    e->arena = arena;
    e->blocks = blocks;
    e->top = top;
    e->smooth = WH_NEW(arena, bins, double);
    e->running = WH_NEW(arena, bins + 1, double);
    double high = highest * rate, low = top / 2, whole = rate / 2 - top / 2;
    if (low < whole / 2)
        add_one(e, rate, wh_band_analytic(arena, blocks, rate, low, whole, top),
                (struct wh_envelope){.low = low, .high = whole, .whitened = true}, seconds);
    for (; high / 2 >= low && e->count < MOST_BANDS; high /= root_two)
        add_one(e, rate, wh_band_analytic(arena, blocks, rate, high / 2, high, top),
                (struct wh_envelope){.low = high / 2, .high = high}, seconds);
    return e;
}

struct wh_envelopes *wh_envelopes_like(struct wh_arena *arena, const struct wh_envelopes *envelopes,
                                       const struct wh_blocks *blocks)
{
    struct wh_envelopes *e = WH_NEW(arena, 1, struct wh_envelopes);
    *e = *envelopes;
    e->blocks = blocks;
    for (size_t i = 0; i < e->count; i++) {
        struct one *one = &e->one[i];
        one->band = wh_band_like(arena, one->band, blocks);
        one->welch = wh_welch_like(arena, one->welch);
        one->pieces = (struct pieces){.at = WH_NEW(arena, PIECES, double), .every = 1};
        one->sum = one->count = 0;
    }
    return e;
}

/* The magnitude of the block's bins, each the mean of those a hundred-and-twenty-eighth of the rate to either side. */
static void smooth_block(struct wh_envelopes *e)
{
    const double(*bins)[2] = (const double(*)[2])e->blocks->transform->bins;
    size_t n = e->blocks->size / 2 + 1, reach = e->blocks->size / 128;
    for (size_t k = 0; k < n; k++)
        e->running[k + 1] = e->running[k] + sqrt(bins[k][0] * bins[k][0] + bins[k][1] * bins[k][1]);
    double least = e->running[n] * 1e-15 / (double)n;
    for (size_t k = 0; k < n; k++) {
        size_t from = k > reach ? k - reach : 0, to = k + reach + 1 < n ? k + reach + 1 : n;
        double mean = (e->running[to] - e->running[from]) / (double)(to - from);
        e->smooth[k] = mean > least ? mean : INFINITY;
    }
}

/* The next piece of the squared envelope. */
static void square(struct one *one)
{
    size_t n = one->band->size / 2;
    const double *out = one->band->out;
    double sum = 0, squares = 0;
    for (size_t i = 0; i < n; i++) {
        double e = (out[2 * i] * out[2 * i] + out[2 * i + 1] * out[2 * i + 1]) / 2;
        one->squared[i] = e;
        sum += e;
        squares += e * e;
    }
    if (sum > 0) keep_piece(&one->pieces, squares * (double)n / (sum * sum) - noise);
    one->sum += sum;
    one->count += (double)n;
    wh_welch_add(one->welch, n, one->squared);
}

void wh_envelopes_add(struct wh_envelopes *e)
{
    smooth_block(e);
    for (size_t i = 0; i < e->count; i++)
        if (wh_band_add(e->one[i].band, e->one[i].envelope.whitened ? e->smooth : NULL)) square(&e->one[i]);
}

size_t wh_envelopes_close(struct wh_envelopes *e, struct wh_envelope **ret)
{
    struct wh_envelope *envelopes = WH_NEW(e->arena, e->count, struct wh_envelope);
    for (size_t i = 0; i < e->count; i++) {
        struct one *one = &e->one[i];
        struct wh_envelope *envelope = &envelopes[i];
        *envelope = one->envelope;
        envelope->mean_square = one->count > 0 ? one->sum / one->count : 0;
        envelope->kurtosis = median(&one->pieces);
        wh_welch_close(one->welch, &envelope->spectrum);
        size_t lines = (size_t)(e->top / envelope->spectrum.step) + 1;
        if (lines < envelope->spectrum.lines) envelope->spectrum.lines = lines;
    }
    *ret = envelopes;
    return e->count;
}

size_t wh_envelope_best(const struct wh_envelope envelopes[], size_t count)
{
    size_t best = count;
    for (size_t i = 0; i < count; i++)
        if (!envelopes[i].whitened && (best == count || envelopes[i].kurtosis > envelopes[best].kurtosis)) best = i;
    return best;
}
