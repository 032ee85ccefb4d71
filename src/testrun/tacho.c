#include "testrun/tacho.h"

#include "trade/rule.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void set_levels(struct wh_tacho *t, size_t n, const double samples[])
{
    double least = samples[0], most = samples[0];
    for (size_t i = 0; i < n; i++) {
        least = fmin(least, samples[i]);
        most = fmax(most, samples[i]);
    }
    t->low = least + 0.4 * (most - least);
    t->high = least + 0.6 * (most - least);
    t->levelled = most > least;
    t->up = true; /* a record that begins within a pulse does not begin with a flank */
    t->before = samples[0];
}

void wh_tacho_add(struct wh_tacho *t, size_t n, const double samples[])
{
    if (!t->levelled && n > 0) set_levels(t, n, samples);
    for (size_t i = 0; i < n && t->levelled; i++) {
        double x = samples[i];
        if (x < t->low) t->up = false;
        if (!t->up && x >= t->high) {
            t->up = true;
            *WH_PUSH(t->arena, t) = ((double)(t->done + i) - (x - t->high) / (x - t->before)) / t->rate;
        }
        t->before = x;
    }
    t->done += n;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

double wh_tacho_speed(const struct wh_tacho *t, double pulses, double *ret_drift)
{
    size_t turn = (size_t)fmax(1, round(pulses));
    *ret_drift = 0;
    if (t->count < 3 || t->count <= turn) return 0;
    size_t n = t->count - turn;
    double *times = WH_NEW(t->arena, n, double);
    for (size_t i = 0; i < n; i++) times[i] = t->at[i + turn] - t->at[i];
    qsort(times, n, sizeof *times, by_size);
    size_t from = n / 20, to = n - from;
    double sum = 0;
    for (size_t i = from; i < to; i++) sum += times[i];
    double mean = sum / (double)(to - from);
    *ret_drift = mean / times[from] - mean / times[to - 1];
    return 2 * WH_PI * (double)turn / (pulses * mean);
}
