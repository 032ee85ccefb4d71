#include "study/lines.h"

#include <math.h>
#include <string.h>

enum { MULTIPLES = 6 }; /* of the shaft's line, that tell its speed */

static const double overlap_of_hann =
    1.0 / 18; /* what two half-overlapping Hann blocks have in common, twice squared */

double wh_noise_evidence(size_t n, double over)
{
    double x = (double)n * over, term = 1, sum = 1;
    if (!(x > 0)) return 0;
    for (size_t k = 1; k < n; k++) sum += term *= x / (double)k;
    return fmax(x - log(sum), 0);
}

double wh_noise_chance(size_t n, double sum)
{
    return -wh_noise_evidence(n, sum / (double)n);
}

/* Keeps `n` values in order while one leaves and one comes. */
static void put(double sorted[], size_t n, double value)
{
    size_t at = n;
    while (at > 0 && sorted[at - 1] > value) {
        sorted[at] = sorted[at - 1];
        at--;
    }
    sorted[at] = value;
}

static void take(double sorted[], size_t n, double value)
{
    size_t low = 0, high = n - 1;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (sorted[middle] < value)
            low = middle + 1;
        else
            high = middle;
    }
    memmove(sorted + low, sorted + low + 1, (n - 1 - low) * sizeof *sorted);
}

/* The running median of the lines, over its own share of the mean, is the floor. */
static void find_floor(struct wh_arena *arena, struct wh_ground *ground, size_t half)
{
    const double *power = ground->spectrum->power;
    double *sorted = WH_NEW(arena, 2 * half + 2, double);
    double ninth = 1 - 1 / (9.0 * (double)ground->looks), median_of_mean = ninth * ninth * ninth;
    size_t n = 0, lines = ground->lines;
    for (size_t k = 0; k < half && k < lines; k++) put(sorted, n++, power[k]);
    for (size_t k = 0; k < lines; k++) {
        if (k + half < lines) put(sorted, n++, power[k + half]);
        if (k > half) take(sorted, n--, power[k - half - 1]);
        ground->floor[k] = (sorted[(n - 1) / 2] + sorted[n / 2]) / 2 / median_of_mean;
    }
}

/* Where between its neighbours a peak lies: the top of the parabola through their logarithms. */
static double top_of(const double power[], size_t k)
{
    double left = log(power[k - 1]), middle = log(power[k]), right = log(power[k + 1]);
    double bend = left - 2 * middle + right;
    double off = bend < 0 ? (left - right) / (2 * bend) : 0;
    return isfinite(off) ? fmin(fmax(off, -0.5), 0.5) : 0;
}

/* The evidence of a peak `over` times the floor, looked for on three lines. */
static double of_three(size_t looks, double over)
{
    double evidence = wh_noise_evidence(looks, over);
    return evidence > 20 ? evidence - log(3) : -log1p(-pow(-expm1(-evidence), 3));
}

struct wh_ground wh_ground_of(struct wh_arena *arena, const struct wh_spectrum *spectrum, double reach)
{
    size_t lines = spectrum->lines, half = (size_t)(reach / spectrum->step);
    double looks = (double)spectrum->averages / (1 + overlap_of_hann);
    struct wh_ground ground = {.spectrum = spectrum, .lines = lines, .looks = looks >= 2 ? (size_t)looks : 1};
    ground.floor = WH_NEW(arena, lines, double);
    ground.place = WH_NEW(arena, lines, double);
    ground.evidence = WH_NEW(arena, lines, double);
    ground.whole = WH_NEW(arena, lines, bool);
    find_floor(arena, &ground, half < 12 ? 12 : half);
    const double *power = spectrum->power;
    for (size_t k = 0; k < lines; k++) {
        ground.place[k] = (double)k * spectrum->step;
        if (k < 2 || k + 1 >= lines || power[k] < power[k - 1] || power[k] <= power[k + 1] || !(ground.floor[k] > 0))
            continue;
        ground.place[k] += top_of(power, k) * spectrum->step;
        ground.evidence[k] = of_three(ground.looks, power[k] / ground.floor[k]);
    }
    return ground;
}

/* The highest power within a line of a frequency. */
static double highest_near(const struct wh_ground *ground, double frequency)
{
    double line = round(frequency / ground->spectrum->step), most = 0;
    for (double k = line - 1; k <= line + 1; k++)
        if (k >= 1 && k < (double)ground->lines) most = fmax(most, ground->spectrum->power[(size_t)k]);
    return most;
}

/* What a peak at `turns` whole turns stands over: the floor, and the two whole numbers to either side. */
static double beside(const struct wh_ground *ground, size_t k, double turns, double shaft)
{
    double most = ground->floor[k];
    for (int by = -2; by <= 2; by++)
        if (by != 0 && turns + by >= 1) most = fmax(most, highest_near(ground, (turns + by) * shaft));
    return most;
}

void wh_ground_leave_out(struct wh_ground *ground, double shaft, double mains)
{
    double step = ground->spectrum->step;
    for (size_t k = 2; k < ground->lines; k++) {
        if (!(ground->evidence[k] > 0)) continue;
        double at = ground->place[k], turns = shaft > 0 ? round(at / shaft) : 0;
        double beats = mains > 0 ? round(at / (2 * mains)) : 0;
        ground->whole[k] = turns >= 1 && fabs(at - turns * shaft) < fmax(0.75 * step, 0.0015 * at);
        if (ground->whole[k])
            ground->evidence[k] = of_three(ground->looks, ground->spectrum->power[k] / beside(ground, k, turns, shaft));
        if (beats >= 1 && fabs(at - beats * 2 * mains) < 0.75 * step) ground->evidence[k] = 0;
    }
}

double wh_ground_power(const struct wh_ground *ground, size_t line)
{
    double sum = 0;
    for (size_t k = line > 0 ? line - 1 : 0; k <= line + 1 && k < ground->lines; k++)
        sum += ground->spectrum->power[k] - ground->floor[k];
    return fmax(sum / ground->spectrum->bandwidth, 0);
}

/* How far a peak near a frequency stands out, in tens of the floor, less the farther off it lies; 0: none. */
static double support(const struct wh_ground *ground, double frequency, double most)
{
    double step = ground->spectrum->step, line = frequency / step, best = 0;
    if (!(line > 2)) return 0;
    for (size_t k = (size_t)line - 1; k <= (size_t)line + 2 && k < ground->lines; k++) {
        double off = (ground->place[k] - frequency) / (0.75 * step);
        if (!(ground->evidence[k] > 6) || fabs(off) >= 1) continue;
        best = fmax(best, fmin(log10(ground->spectrum->power[k] / ground->floor[k]), most) * (1 - off * off));
    }
    return best;
}

/* How well a speed's multiples stand out, the first counting most. Multiples of the mains speak for no speed. */
static double shaft_score(const struct wh_ground *ground, double shaft, double mains)
{
    double score = support(ground, shaft, 5);
    for (int i = 2; i <= MULTIPLES; i++) {
        double at = i * shaft;
        bool of_mains = mains > 0 && fabs(at - round(at / mains) * mains) < ground->spectrum->step;
        if (!of_mains) score += support(ground, at, 3) / i;
    }
    return score;
}

/* The speed that a peak at its i-th multiple tells, if that scores more than what is known so far. */
struct speed {
    double shaft, score;
};

static void try_multiples(const struct wh_ground *ground, double first, double mains, struct speed *best)
{
    double step = ground->spectrum->step;
    for (int i = 1; i <= MULTIPLES; i++) {
        double reach = fmin(0.15 * i, 1) * step, from = (i * first - reach) / step;
        for (size_t k = (size_t)from; (double)k * step <= i * first + reach + step && k < ground->lines; k++) {
            if (!(ground->evidence[k] > 6) || fabs(ground->place[k] - i * first) > reach) continue;
            double shaft = ground->place[k] / i, score = shaft_score(ground, shaft, mains);
            if (score > best->score) *best = (struct speed){shaft, score};
        }
    }
}

double wh_shaft_line(const struct wh_ground grounds[], size_t count, double stated, double tolerance, double mains,
                     double *ret_score)
{
    struct speed best = {stated, 0};
    for (size_t i = 0; i < count; i++) {
        double step = grounds[i].spectrum->step, least = stated * (1 - tolerance), most = stated * (1 + tolerance);
        for (size_t k = (size_t)(least / step); k <= (size_t)(most / step) + 1 && k < grounds[i].lines; k++) {
            double first = grounds[i].place[k];
            if (grounds[i].evidence[k] > 6 && first >= least && first <= most)
                try_multiples(&grounds[i], first, mains, &best);
        }
    }
    *ret_score = best.score;
    return best.shaft;
}
