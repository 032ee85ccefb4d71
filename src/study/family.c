#include "study/family.h"

#include <math.h>

static const double cost_of_slip = 1.5; /* of one per cent off the centre, in evidence; grows as the square */

struct wh_comb wh_comb_plain(double centre, double slip, size_t n)
{
    struct wh_comb comb = {.centre = centre, .slip = slip, .count = n};
    for (size_t i = 0; i < n; i++) comb.times[i] = (double)(i + 1);
    return comb;
}

struct wh_comb wh_comb_with_sides(double centre, double slip, size_t n, double aside)
{
    struct wh_comb comb = {.centre = centre, .slip = slip, .count = 3 * n};
    for (size_t i = 0; i < 3 * n; i++) {
        comb.times[i] = (double)(i / 3 + 1);
        comb.aside[i] = aside * ((double)(i % 3) - 1);
    }
    return comb;
}

/* The line with most evidence within one of a frequency; 0: none. */
static size_t best_line(const struct wh_ground *ground, double frequency)
{
    double at = round(frequency / ground->spectrum->step);
    if (!(at >= 3) || at + 4 >= (double)ground->lines) return 0;
    size_t best = 0, middle = (size_t)at;
    for (size_t k = middle - 1; k <= middle + 1; k++)
        if (ground->evidence[k] > (best ? ground->evidence[best] : 0)) best = k;
    return best;
}

static double evidence_at(const struct wh_ground *ground, const struct wh_comb *comb, double frequency)
{
    double sum = 0;
    for (size_t i = 0; i < comb->count; i++) {
        size_t k = best_line(ground, comb->times[i] * frequency + comb->aside[i]);
        if (k) sum += fmin(ground->evidence[k], WH_EVIDENCE_MOST);
    }
    return sum;
}

static void fill(const struct wh_ground *ground, const struct wh_comb *comb, double level, struct wh_family *family)
{
    double squares = 0;
    family->count = comb->count;
    for (size_t i = 0; i < comb->count; i++) {
        size_t k = family->line[i] = best_line(ground, comb->times[i] * family->frequency + comb->aside[i]);
        family->evidence[i] = k ? fmin(ground->evidence[k], WH_EVIDENCE_MOST) : 0;
        if (!(family->evidence[i] > WH_EVIDENCE_SEEN)) continue;
        family->seen++;
        family->whole += ground->whole[k];
        squares += 2 * wh_ground_power(ground, k);
    }
    family->depth = sqrt(squares) / level;
}

struct wh_family wh_family_find(const struct wh_ground *ground, const struct wh_comb *comb, double level)
{
    struct wh_family family = {.frequency = comb->centre};
    double step = ground->spectrum->step, most_times = 0, best = -INFINITY, best_sum = 0;
    for (size_t i = 0; i < comb->count; i++) most_times = fmax(most_times, comb->times[i]);
    double width = 2 * comb->slip * comb->centre, tried = width * most_times / step + 1;
    size_t steps = (size_t)(2 * tried);
    for (size_t i = 0; i <= steps; i++) {
        double frequency = comb->centre * (1 - comb->slip) + width * (double)i / (double)steps;
        double off = (frequency / comb->centre - 1) / 0.01, sum = evidence_at(ground, comb, frequency);
        if (sum - cost_of_slip * off * off <= best) continue;
        best = sum - cost_of_slip * off * off;
        best_sum = sum;
        family.frequency = frequency;
        family.off = off * 0.01;
    }
    family.chance = wh_noise_chance(comb->count, best_sum) / log(10) + log10(tried);
    family.score = -family.chance - (best_sum - best) / log(10);
    fill(ground, comb, level, &family);
    return family;
}
