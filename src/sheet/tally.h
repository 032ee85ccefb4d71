/* tally.h - what is counted of a figure over many trials: how many lie below and above, and, in two narrow windows of
 * bins round the ends of the 95 % interval, where. The windows are laid by a pilot run. */
#ifndef WH_SHEET_TALLY_H
#define WH_SHEET_TALLY_H

#include "sheet/course.h"
#include "sheet/spread.h"

enum { WH_TALLY_BINS = 512 };

/* A window of bins from `from` to `to`; `step` bins a unit, 0 where both are one. */
struct wh_window {
    double from, to, step;
};

/* What is looked for in a figure; the same for all threads. */
struct wh_quest {
    size_t column;
    struct wh_window low, high;
    struct wh_limits limits;
};

/* Counts of one thread; plain whole numbers, so that the order of adding them makes no difference. */
struct wh_tally {
    uint32_t answers, below, above; /* of the limits */
    uint32_t under_low, under_high; /* below each window */
    uint32_t low[WH_TALLY_BINS], high[WH_TALLY_BINS];
};

/* Lays both windows from the pilot's n trials of a figure (without those that have no answer); sorts them in part. */
void wh_tally_lay(struct wh_quest *quest, double trials[], size_t n);

/* Counts a block of n rows. */
void wh_tally_count(const struct wh_quest *quest, const double column[], const struct wh_seen *seen, size_t n,
                    struct wh_tally *tally);
void wh_tally_add(struct wh_tally *to, const struct wh_tally *from);

/* The value below which a share p of the answered trials lies: from the bins; from all of n trials, sorted in part. */
double wh_tally_low(const struct wh_quest *quest, const struct wh_tally *tally, double p);
double wh_tally_high(const struct wh_quest *quest, const struct wh_tally *tally, double p);
double wh_tally_exact(double trials[], size_t n, double p);

#endif
