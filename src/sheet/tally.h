/* tally.h - what is counted of a figure over many trials: how many lie below and above its limits and, in two narrow
 * windows of bins round the ends of the 95 % interval, where. A pilot run lays the windows; as trials are
 * counted they are narrowed to the bins in which the ends can still come to lie. */
#ifndef WH_SHEET_TALLY_H
#define WH_SHEET_TALLY_H

#include "sheet/course.h"
#include "sheet/spread.h"

enum { WH_TALLY_BINS = 512 };

/* Bins from `from` to `to`, `step` a unit (0 where both are one); only `first` to `last` are still counted in, which
 * lie from `near` to `far`. */
struct wh_window {
    double from, to, step, near, far;
    size_t first, last;
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
    uint32_t under_low, under_high; /* below the first bin counted in */
    uint32_t low[WH_TALLY_BINS], high[WH_TALLY_BINS];
};

/* Lays both windows from the pilot's n trials of a figure (without those that have no answer); sorts them in part. */
void wh_tally_lay(struct wh_quest *quest, double trials[], size_t n);

/* Narrows both windows to where all trials counted so far leave the ends. */
void wh_tally_narrow(struct wh_quest *quest, struct wh_tally *tally);

/* Counts a block of n rows. */
void wh_tally_count(const struct wh_quest *quest, const double column[], const struct wh_seen *seen, size_t n,
                    struct wh_tally *tally);
void wh_tally_add(struct wh_tally *to, const struct wh_tally *from);

/* The ends of the 95 % interval, from the bins. */
double wh_tally_low(const struct wh_quest *quest, const struct wh_tally *tally);
double wh_tally_high(const struct wh_quest *quest, const struct wh_tally *tally);

/* The value below which a share p of n trials lies; sorts them in part. */
double wh_tally_exact(double trials[], size_t n, double p);

#endif
