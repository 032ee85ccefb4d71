#include "sheet/tally.h"

#include "sheet/pair.h"

#include <math.h>

/* ---- the k-th smallest of many (Hoare's find) ------------------------------------------------------------------ */

static double kth(double x[], size_t n, size_t k)
{
    size_t from = 0, to = n - 1;
    while (from < to) {
        double middle = x[from + (to - from) / 2];
        size_t i = from, j = to;
        for (;;) {
            while (x[i] < middle) i++;
            while (x[j] > middle) j--;
            if (i >= j) break;
            double kept = x[i];
            x[i++] = x[j];
            x[j--] = kept;
        }
        if (k <= j)
            to = j;
        else
            from = j + 1;
    }
    return x[k];
}

double wh_tally_exact(double trials[], size_t n, double p)
{
    double place = p * (double)(n - 1);
    size_t k = (size_t)place;
    double at = kth(trials, n, k), next = k + 1 < n ? kth(trials, n, k + 1) : at;
    return at + (place - (double)k) * (next - at);
}

/* ---- windows --------------------------------------------------------------------------------------------------- */

static const double tail_share = 0.025;

/* How far a count of n may stand off its share, at five standard deviations. */
static double room(double n)
{
    return 5 * sqrt(n * tail_share * (1 - tail_share));
}

static struct wh_window window(double from, double to)
{
    return (struct wh_window){.from = from,
                              .to = to,
                              .step = to > from ? WH_TALLY_BINS / (to - from) : 0,
                              .near = from,
                              .far = to,
                              .last = WH_TALLY_BINS - 1};
}

/* Where the pilot's last trial is nearer than the room that is wanted, as far again past it. */
void wh_tally_lay(struct wh_quest *quest, double trials[], size_t n)
{
    double rank = tail_share * (double)n;
    size_t inner = (size_t)fmin(rank + room((double)n), (double)(n - 1)), last = n - 1;
    double low_in = kth(trials, n, inner), high_in = kth(trials, n, last - inner);
    double least = kth(trials, n, 0), most = kth(trials, n, last);
    if (rank > room((double)n)) {
        size_t outer = (size_t)(rank - room((double)n));
        quest->low = window(kth(trials, n, outer), low_in);
        quest->high = window(high_in, kth(trials, n, last - outer));
    } else {
        quest->low = window(least - (most - least), low_in);
        quest->high = window(high_in, most + (most - least));
    }
}

static double edge_of(const struct wh_window *window, size_t bin)
{
    return bin < WH_TALLY_BINS ? window->from + (double)bin * (window->to - window->from) / WH_TALLY_BINS : window->to;
}

/* Leaves the bins that hold the ranks from `least` to `most`; adds what lies in the bins before them to *under. */
static void narrow(struct wh_window *window, const uint32_t bins[], uint32_t *under, double least, double most)
{
    size_t first = window->first, end = window->last;
    while (first < end && *under + bins[first] < least) *under += bins[first++];
    size_t last = first;
    double count = *under + bins[last];
    while (last < end && count <= most) count += bins[++last];
    window->first = first;
    window->last = last;
    window->near = edge_of(window, first);
    window->far = edge_of(window, last + 1);
}

void wh_tally_narrow(struct wh_quest *quest, struct wh_tally *tally)
{
    double n = tally->answers, low = tail_share * n, high = (1 - tail_share) * n;
    narrow(&quest->low, tally->low, &tally->under_low, low - room(n), low + room(n));
    narrow(&quest->high, tally->high, &tally->under_high, high - room(n), high + room(n));
}

/* ---- counting -------------------------------------------------------------------------------------------------- */

enum { STRIDE = 8 };

static uint32_t marked(const wh_marks *counts)
{
    return (uint32_t)(-(*counts)[0] - (*counts)[1]);
}

static void put_in(const struct wh_window *window, double x, uint32_t bins[])
{
    if (!(x >= window->near && x <= window->far)) return;
    double at = (x - window->from) * window->step;
    size_t bin = at < (double)window->last ? (size_t)at : window->last;
    bins[bin > window->first ? bin : window->first]++;
}

/* The rows past the last whole stride. */
static void count_rest(const struct wh_quest *quest, const double column[], size_t n, struct wh_tally *tally)
{
    for (size_t i = 0; i < n; i++) {
        double x = column[i];
        tally->under_low += x < quest->low.near;
        tally->under_high += x < quest->high.near;
        tally->below += x < quest->limits.least;
        tally->above += x > quest->limits.most;
        put_in(&quest->low, x, tally->low);
        put_in(&quest->high, x, tally->high);
    }
}

static void count_limits(const struct wh_quest *quest, const double column[], size_t n, struct wh_tally *tally)
{
    wh_pair least = WH_PAIR(quest->limits.least), most = WH_PAIR(quest->limits.most);
    wh_marks below = {0}, above = {0};
    for (size_t i = 0; i < n; i += 2) {
        wh_pair x = wh_pair_at(column + i);
        below += x < least;
        above += x > most;
    }
    tally->below += marked(&below);
    tally->above += marked(&above);
}

static void count_windows(const struct wh_quest *quest, const double column[], size_t n, struct wh_tally *tally)
{
    const struct wh_window *low = &quest->low, *high = &quest->high;
    wh_pair low_near = WH_PAIR(low->near), low_far = WH_PAIR(low->far);
    wh_pair high_near = WH_PAIR(high->near), high_far = WH_PAIR(high->far);
    wh_marks under_low = {0}, under_high = {0};
    for (size_t i = 0; i < n; i += STRIDE) {
        wh_marks in = {0};
        for (size_t j = 0; j < STRIDE; j += 2) {
            wh_pair x = wh_pair_at(column + i + j);
            under_low += x < low_near;
            under_high += x < high_near;
            in |= ((x >= low_near) & (x <= low_far)) | ((x >= high_near) & (x <= high_far));
        }
        if ((in[0] | in[1]) == 0) continue;
        for (size_t j = 0; j < STRIDE; j++) {
            put_in(low, column[i + j], tally->low);
            put_in(high, column[i + j], tally->high);
        }
    }
    tally->under_low += marked(&under_low);
    tally->under_high += marked(&under_high);
}

/* Rows without an answer compare as false and are counted nowhere. */
void wh_tally_count(const struct wh_quest *quest, const double column[], const struct wh_seen *seen, size_t n,
                    struct wh_tally *tally)
{
    size_t whole = n / STRIDE * STRIDE;
    tally->answers += (uint32_t)seen->answers;
    count_windows(quest, column, whole, tally);
    if (seen->least < quest->limits.least || seen->most > quest->limits.most) count_limits(quest, column, whole, tally);
    count_rest(quest, column + whole, n - whole, tally);
}

void wh_tally_add(struct wh_tally *to, const struct wh_tally *from)
{
    to->answers += from->answers;
    to->below += from->below;
    to->above += from->above;
    to->under_low += from->under_low;
    to->under_high += from->under_high;
    for (size_t b = 0; b < WH_TALLY_BINS; b++) {
        to->low[b] += from->low[b];
        to->high[b] += from->high[b];
    }
}

/* ---- reading --------------------------------------------------------------------------------------------------- */

static double read_off(const struct wh_window *window, const uint32_t bins[], double under, double wanted)
{
    size_t b = window->first;
    while (b < window->last && under + bins[b] < wanted) under += bins[b++];
    double share = bins[b] > 0 ? fmin(fmax((wanted - under) / bins[b], 0), 1) : 0;
    return window->from + ((double)b + share) * (window->to - window->from) / WH_TALLY_BINS;
}

double wh_tally_low(const struct wh_quest *quest, const struct wh_tally *tally)
{
    return read_off(&quest->low, tally->low, tally->under_low, tail_share * tally->answers);
}

double wh_tally_high(const struct wh_quest *quest, const struct wh_tally *tally)
{
    return read_off(&quest->high, tally->high, tally->under_high, (1 - tail_share) * tally->answers);
}
