#include "study/thin.h"

#include <math.h>

enum { HALF_WIDTH = 20, BLOCK = 1 << 15 }; /* of the low-pass in kept samples; samples of a block of memory */

static const double PI = 3.14159265358979323846;
static const double EDGE = 0.95, SHAPE = 8; /* of the low-pass: over half the kept rate; Kaiser's window */

struct wh_thin {
    struct wh_arena *arena;
    double rate;
    size_t every, taps;
    double *filter; /* taps long */
    double *ring;   /* the last samples, twice over, so that they stand in a row */
    size_t place;
    size_t seen;  /* samples that went in */
    size_t count; /* samples kept */
    WH_LIST(float *) blocks;
};

/* Bessel function I0 by its series. */
static double bessel(double x)
{
    double sum = 1, term = 1;
    for (int k = 1; k < 60; k++) sum += term *= (x / (2 * k)) * (x / (2 * k));
    return sum;
}

struct wh_thin *wh_thin_open(struct wh_arena *arena, double rate, double wanted)
{
    struct wh_thin *thin = WH_NEW(arena, 1, struct wh_thin);
    thin->arena = arena;
    thin->every = (size_t)fmax(1, floor(rate / wanted));
    thin->rate = rate / (double)thin->every;
    size_t half = thin->every > 1 ? HALF_WIDTH * thin->every : 0;
    double sum = 0;
    thin->taps = 2 * half + 1;
    thin->filter = WH_NEW(arena, thin->taps, double);
    thin->ring = WH_NEW(arena, 2 * thin->taps, double);
    for (size_t i = 0; i < thin->taps; i++) {
        double x = half ? ((double)i - (double)half) / (double)half : 0, t = x * HALF_WIDTH * EDGE;
        double wave = fabs(t) < 1e-12 ? 1 : sin(PI * t) / (PI * t);
        sum += thin->filter[i] = wave * bessel(SHAPE * sqrt(fmax(0, 1 - x * x)));
    }
    for (size_t i = 0; i < thin->taps; i++) thin->filter[i] /= sum;
    return thin;
}

static void keep(struct wh_thin *thin, double sample)
{
    if (thin->count % BLOCK == 0) *WH_PUSH(thin->arena, &thin->blocks) = WH_NEW(thin->arena, BLOCK, float);
    thin->blocks.at[thin->count / BLOCK][thin->count % BLOCK] = (float)sample;
    thin->count++;
}

static void put(struct wh_thin *thin, double sample)
{
    size_t half = thin->taps / 2;
    thin->ring[thin->place] = thin->ring[thin->place + thin->taps] = sample;
    thin->place = (thin->place + 1) % thin->taps;
    thin->seen++;
    if (thin->seen <= half || (thin->seen - 1 - half) % thin->every != 0) return;
    const double *row = thin->ring + thin->place;
    double sum = 0;
    for (size_t i = 0; i < thin->taps; i++) sum += thin->filter[i] * row[i];
    keep(thin, sum);
}

void wh_thin_add(struct wh_thin *thin, size_t n, const double samples[])
{
    for (size_t i = 0; i < n; i++) put(thin, samples[i]);
}

void wh_thin_close(struct wh_thin *thin)
{
    for (size_t i = 0; i < thin->taps / 2; i++) put(thin, 0);
}

double wh_thin_rate(const struct wh_thin *thin)
{
    return thin->rate;
}

size_t wh_thin_count(const struct wh_thin *thin)
{
    return thin->count;
}

void wh_thin_copy(const struct wh_thin *thin, long from, size_t n, double to[])
{
    for (size_t i = 0; i < n; i++) {
        long k = from + (long)i;
        bool in = k >= 0 && (size_t)k < thin->count;
        to[i] = in ? (double)thin->blocks.at[(size_t)k / BLOCK][(size_t)k % BLOCK] : 0;
    }
}
