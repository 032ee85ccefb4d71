#include "sheet/tally.h"

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

static struct wh_window window(double from, double to)
{
    return (struct wh_window){from, to, to > from ? WH_TALLY_BINS / (to - from) : 0};
}

/* Six standard deviations of the pilot's count to each side of the rank that is looked for. Where that reaches past
 * the pilot's last trial, as far again. */
void wh_tally_lay(struct wh_quest *quest, double trials[], size_t n)
{
    const double p = 0.025;
    double rank = p * (double)n, room = 6 * sqrt((double)n * p * (1 - p));
    size_t near = (size_t)fmin(rank + room, (double)(n - 1)), last = n - 1;
    double low_in = kth(trials, n, near), high_in = kth(trials, n, last - near);
    double least = kth(trials, n, 0), most = kth(trials, n, last);
    if (rank > room) {
        size_t far = (size_t)(rank - room);
        quest->low = window(kth(trials, n, far), low_in);
        quest->high = window(high_in, kth(trials, n, last - far));
    } else {
        quest->low = window(least - (most - least), low_in);
        quest->high = window(high_in, most + (most - least));
    }
}

static size_t bin_of(const struct wh_window *window, double x)
{
    double at = (x - window->from) * window->step;
    return at < WH_TALLY_BINS - 1 ? (size_t)at : WH_TALLY_BINS - 1;
}

/* ---- counting -------------------------------------------------------------------------------------------------- */

static uint32_t count_below(const double column[], size_t n, double end)
{
    int64_t count = 0;
    for (size_t i = 0; i < n; i++) count += column[i] < end;
    return (uint32_t)count;
}

static uint32_t count_above(const double column[], size_t n, double end)
{
    int64_t count = 0;
    for (size_t i = 0; i < n; i++) count += column[i] > end;
    return (uint32_t)count;
}

/* Rows without an answer compare as false and are counted nowhere. Only the few rows out in the ends are binned. */
void wh_tally_count(const struct wh_quest *quest, const double column[], const struct wh_seen *seen, size_t n,
                    struct wh_tally *tally)
{
    unsigned short out[WH_COURSE_ROWS + 1];
    size_t count = 0, answers = 0;
    double near_low = quest->low.to, near_high = quest->high.from;
    for (size_t i = 0; i < n; i++) {
        out[count] = (unsigned short)i;
        count += (column[i] <= near_low) | (column[i] >= near_high);
    }
    answers = seen->answers;
    tally->answers += (uint32_t)answers;
    tally->under_high += (uint32_t)answers;
    for (size_t i = 0; i < count; i++) {
        double x = column[out[i]];
        if (x < quest->low.from)
            tally->under_low++;
        else if (x <= near_low)
            tally->low[bin_of(&quest->low, x)]++;
        if (x < near_high) continue;
        tally->under_high--;
        if (x <= quest->high.to) tally->high[bin_of(&quest->high, x)]++;
    }
    if (seen->least < quest->limits.least) tally->below += count_below(column, n, quest->limits.least);
    if (seen->most > quest->limits.most) tally->above += count_above(column, n, quest->limits.most);
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
    size_t b = 0;
    while (b + 1 < WH_TALLY_BINS && under + bins[b] < wanted) under += bins[b++];
    double share = bins[b] > 0 ? fmin(fmax((wanted - under) / bins[b], 0), 1) : 0;
    return window->from + ((double)b + share) * (window->to - window->from) / WH_TALLY_BINS;
}

double wh_tally_low(const struct wh_quest *quest, const struct wh_tally *tally, double p)
{
    return read_off(&quest->low, tally->low, tally->under_low, p * tally->answers);
}

double wh_tally_high(const struct wh_quest *quest, const struct wh_tally *tally, double p)
{
    return read_off(&quest->high, tally->high, tally->under_high, p * tally->answers);
}
