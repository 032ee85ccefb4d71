#include "study/spectrum.h"

#include "trade/rule.h"

#include <math.h>
#include <string.h>

enum { TERMS = 5 };

/* Sums of cosines: w = c0 - c1 cos(x) + c2 cos(2x) - ... Coefficients: F. J. Harris, Proc. IEEE 66 (1978) 51-83 for the
 * first four; the flat tops as Heinzel, Ruediger and Schilling, Spectrum and spectral density estimation by the
 * discrete Fourier transform, 2002, appendix C (from memory). */
static const double cosines[WH_WINDOWS][TERMS] = {{1},
                                                  {0.5, 0.5},
                                                  {0.54, 0.46},
                                                  {0.35875, 0.48829, 0.14128, 0.01168},
                                                  {0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368},
                                                  {1, 1.90796, 1.07349, 0.18199},
                                                  {1, 1.942604, 1.340318, 0.440811, 0.043097}};

void wh_window_fill(enum wh_window window, size_t n, size_t period, double w[])
{
    const double *c = cosines[window];
    for (size_t i = 0; i < n; i++) {
        double x = 2 * WH_PI * (double)i / (double)period, sign = 1;
        w[i] = c[0];
        for (size_t k = 1; k < TERMS && c[k] > 0; k++) w[i] += (sign = -sign) * c[k] * cos((double)k * x);
    }
}

struct wh_window_factors wh_window_factors(size_t n, const double w[])
{
    double sum = 0, squares = 0, half_cos = 0, half_sin = 0;
    for (size_t i = 0; i < n; i++) {
        double x = WH_PI * (double)i / (double)n;
        sum += w[i];
        squares += w[i] * w[i];
        half_cos += w[i] * cos(x);
        half_sin += w[i] * sin(x);
    }
    double count = (double)n;
    return (struct wh_window_factors){.gain = sum / count,
                                      .energy = sqrt(squares / count),
                                      .bandwidth = count * squares / (sum * sum),
                                      .scallop = hypot(half_cos, half_sin) / sum};
}

/* ---- blocks ---------------------------------------------------------------------------------------------------- */

struct wh_blocks *wh_blocks_open(struct wh_arena *arena, size_t size, size_t hop, enum wh_window window)
{
    struct wh_blocks *b = WH_NEW(arena, 1, struct wh_blocks);
    *b = (struct wh_blocks){.size = size, .hop = hop, .transform = wh_transform_forth(arena, size)};
    b->window = WH_NEW(arena, size, double);
    b->kept = WH_NEW(arena, size, double);
    wh_window_fill(window, size, size, b->window);
    return b;
}

struct wh_blocks *wh_blocks_like(struct wh_arena *arena, const struct wh_blocks *blocks)
{
    struct wh_blocks *b = WH_NEW(arena, 1, struct wh_blocks);
    *b = *blocks;
    b->filled = 0;
    b->kept = WH_NEW(arena, b->size, double);
    return b;
}

static void transform_block(struct wh_blocks *b)
{
    double sum = 0, *to = b->transform->real;
    for (size_t i = 0; i < b->size; i++) sum += b->kept[i];
    double mean = sum / (double)b->size;
    for (size_t i = 0; i < b->size; i++) to[i] = (b->kept[i] - mean) * b->window[i];
    wh_transform_run(b->transform);
}

bool wh_blocks_next(struct wh_blocks *b, size_t *n, const double **samples)
{
    size_t take = b->size - b->filled < *n ? b->size - b->filled : *n;
    if (take) memcpy(b->kept + b->filled, *samples, take * sizeof **samples);
    b->filled += take;
    *samples += take;
    *n -= take;
    if (b->filled < b->size) return false;
    transform_block(b);
    b->filled = b->size - b->hop;
    memmove(b->kept, b->kept + b->hop, b->filled * sizeof *b->kept);
    return true;
}

void wh_spectrum_add(struct wh_spectrum *sum, const struct wh_blocks *b)
{
    const double(*bins)[2] = (const double(*)[2])b->transform->bins;
    for (size_t k = 0; k < sum->lines; k++) sum->power[k] += bins[k][0] * bins[k][0] + bins[k][1] * bins[k][1];
    sum->averages++;
}

void wh_spectrum_finish(struct wh_spectrum *sum, const struct wh_blocks *b, double rate)
{
    struct wh_window_factors factors = wh_window_factors(b->size, b->window);
    double gain = factors.gain * (double)b->size, averages = sum->averages ? (double)sum->averages : 1;
    for (size_t k = 0; k < sum->lines; k++)
        sum->power[k] *= (k == 0 || 2 * k == b->size ? 1 : 2) / (gain * gain * averages);
    sum->step = rate / (double)b->size;
    sum->bandwidth = factors.bandwidth;
}

/* ---- Welch's average ------------------------------------------------------------------------------------------- */

struct wh_welch {
    double rate;
    struct wh_blocks *blocks;
    struct wh_spectrum sum;
};

static struct wh_welch *welch_of(struct wh_arena *arena, double rate, struct wh_blocks *blocks)
{
    struct wh_welch *welch = WH_NEW(arena, 1, struct wh_welch);
    size_t lines = blocks->size / 2 + 1;
    *welch = (struct wh_welch){rate, blocks, {.lines = lines, .power = WH_NEW(arena, lines, double)}};
    return welch;
}

struct wh_welch *wh_welch_open(struct wh_arena *arena, double rate, size_t size, enum wh_window window, double overlap)
{
    size_t hop = size - (size_t)((double)size * overlap);
    return welch_of(arena, rate, wh_blocks_open(arena, size, hop, window));
}

struct wh_welch *wh_welch_like(struct wh_arena *arena, const struct wh_welch *welch)
{
    return welch_of(arena, welch->rate, wh_blocks_like(arena, welch->blocks));
}

void wh_welch_add(struct wh_welch *welch, size_t n, const double samples[])
{
    while (wh_blocks_next(welch->blocks, &n, &samples)) wh_spectrum_add(&welch->sum, welch->blocks);
}

void wh_welch_close(struct wh_welch *welch, struct wh_spectrum *ret)
{
    wh_spectrum_finish(&welch->sum, welch->blocks, welch->rate);
    *ret = welch->sum;
}

/* ---- reading --------------------------------------------------------------------------------------------------- */

double wh_spectrum_rms(const struct wh_spectrum *s, double low, double high)
{
    double sum = 0;
    for (size_t k = 0; k < s->lines; k++)
        if ((double)k * s->step >= low && (double)k * s->step <= high) sum += s->power[k];
    return sqrt(sum / s->bandwidth);
}

struct wh_spectrum wh_spectrum_integral(struct wh_arena *arena, const struct wh_spectrum *s, int times)
{
    struct wh_spectrum integral = *s;
    integral.power = WH_NEW(arena, s->lines, double);
    for (size_t k = 1; k < s->lines; k++)
        integral.power[k] = s->power[k] * pow(2 * WH_PI * (double)k * s->step, 2.0 * times);
    return integral;
}
