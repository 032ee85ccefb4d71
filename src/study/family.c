#include "study/family.h"

#include <math.h>

static const double usual_slip = 0.02; /* the standard deviation with which the centre is preferred */
static const double least_strength = 0.01;

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

/* The peak with most evidence within a line of a frequency, of equals the highest; 0: none. */
static size_t best_line(const struct wh_ground *ground, double frequency)
{
    double at = round(frequency / ground->spectrum->step);
    if (!(at >= 3) || at + 4 >= (double)ground->lines) return 0;
    size_t best = 0, middle = (size_t)at;
    for (size_t k = middle - 1; k <= middle + 1; k++) {
        double now = best ? fmin(ground->evidence[best], WH_EVIDENCE_MOST) : 0;
        double here = fmin(ground->evidence[k], WH_EVIDENCE_MOST);
        if (here > now || (best && here >= now && ground->spectrum->power[k] > ground->spectrum->power[best])) best = k;
    }
    return best;
}

/* A comb laid at a frequency: the evidence and the amplitudes of its members. */
struct laid {
    double evidence, amplitudes;
};

static struct laid lay(const struct wh_ground *ground, const struct wh_comb *comb, double frequency)
{
    struct laid laid = {0, 0};
    for (size_t i = 0; i < comb->count; i++) {
        size_t k = best_line(ground, comb->times[i] * frequency + comb->aside[i]);
        if (!k) continue;
        laid.evidence += fmin(ground->evidence[k], WH_EVIDENCE_MOST);
        if (ground->evidence[k] > WH_EVIDENCE_SEEN) laid.amplitudes += sqrt(2 * wh_ground_power(ground, k));
    }
    return laid;
}

/* What stands out at the family's frequency, which is then made exact by the peaks' places. */
static void fill(const struct wh_ground *ground, const struct wh_comb *comb, double level, struct wh_family *family)
{
    double squares = 0, itself[4] = {0}, beside[4] = {0}, places = 0, weights = 0;
    family->count = comb->count;
    for (size_t i = 0; i < comb->count; i++) {
        size_t k = best_line(ground, comb->times[i] * family->frequency + comb->aside[i]);
        if (!k || !(ground->evidence[k] > WH_EVIDENCE_SEEN)) continue;
        double square = 2 * wh_ground_power(ground, k) / (level * level);
        family->line[i] = k;
        family->seen++;
        family->whole += ground->whole[k];
        places += comb->times[i] * (ground->place[k] - comb->aside[i]);
        weights += comb->times[i] * comb->times[i];
        squares += square;
        if (comb->times[i] < 3.5)
            *(fabs(comb->aside[i]) > 0 ? &beside[(size_t)comb->times[i]] : &itself[(size_t)comb->times[i]]) += square;
    }
    if (weights > 0) family->frequency = places / weights;
    family->off = family->frequency / comb->centre - 1;
    family->depth = sqrt(squares);
    family->strength = 1;
    for (size_t i = 1; i <= 3; i++)
        family->strength *= cbrt(fmax(sqrt(itself[i] + fmin(beside[i], itself[i])), least_strength));
}

struct wh_family wh_family_find(const struct wh_ground *ground, const struct wh_comb *comb, double level)
{
    struct wh_family family = {.frequency = comb->centre};
    double most_times = 0, best = -INFINITY, evidence = 0;
    for (size_t i = 0; i < comb->count; i++) most_times = fmax(most_times, comb->times[i]);
    double width = 2 * comb->slip * comb->centre, tried = width * most_times / ground->spectrum->step + 1;
    size_t steps = (size_t)(2 * tried);
    for (size_t i = 0; i <= steps; i++) {
        double frequency = comb->centre - width / 2 + width * (double)i / (double)steps;
        double sigmas = (frequency / comb->centre - 1) / usual_slip;
        struct laid laid = lay(ground, comb, frequency);
        double merit = laid.amplitudes > 0 ? 1e3 + log(laid.amplitudes) - sigmas * sigmas / 2
                                           : laid.evidence - sigmas * sigmas / 2;
        if (merit <= best) continue;
        best = merit;
        evidence = laid.evidence;
        family.frequency = frequency;
    }
    family.chance = wh_noise_chance(comb->count, evidence) / log(10) + log10(tried);
    fill(ground, comb, level, &family);
    return family;
}
