/* spread.h - the spread of figures by Monte Carlo (GUM supplement 1). Can be read alone.
 *
 * Each uncertain input of a sheet is drawn for each trial: a tolerance zone, a stated or usual interval evenly between
 * its ends, a reading normal with its gauge's expanded uncertainty (k = 2). Trials are worked a block of rows at a
 * time, by as many threads as wished; the result hangs on sheet, seed and trials alone, to the last bit. A trial in
 * which an input falls out of the range of a rule, or the rule has no answer, gives no answer for all that hangs on it:
 * its share is told and never averaged in. */
#ifndef WH_SHEET_SPREAD_H
#define WH_SHEET_SPREAD_H

#include "sheet/sheet.h"

#include <stdint.h>

enum { WH_SPREAD_PILOT = 4096, WH_SPREAD_MATTERS = 5, WH_SPREAD_THREADS = 16, WH_SPREAD_TRIALS = 1000000000 };

/* Limits of a figure, SI; infinite on an open side. */
struct wh_limits {
    double least, most;
};

struct wh_spread_wish {
    const size_t *cells; /* the figures wished for */
    size_t count;
    const struct wh_limits *limits; /* of each; NULL: none has any */
    size_t trials;                  /* 2 to WH_SPREAD_TRIALS */
    uint64_t seed;
    size_t threads; /* 1 to WH_SPREAD_THREADS */
    bool matters;   /* find what matters most, too */
};

/* An input that matters to a figure: its cell, and the rank correlation over the first WH_SPREAD_PILOT trials. */
struct wh_matter {
    size_t cell;
    double rank; /* -1 to 1 */
};

/* All but `none` over the trials with an answer; NaN when hardly a trial has one. */
struct wh_spread {
    double mean, u;      /* u: standard uncertainty, the trials' standard deviation */
    double low, high;    /* 95 % interval: 2.5 % of the trials lie below low, 2.5 % above high */
    double below, above; /* shares outside the limits */
    double none;         /* share of all trials without an answer */
    struct wh_matter matters[WH_SPREAD_MATTERS];
    size_t matter_count;
};

/* Works the trials; `ret` has wish->count places. Up to WH_SPREAD_PILOT trials, low and high are those of the sorted
 * trials; beyond, they are exact to a bin of about 1/20,000 of the trials, which is a third of their sampling error at
 * a million trials. An empty thread pool is no error: what cannot be started is worked by the caller's thread. */
void wh_sheet_trials(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_spread_wish *wish,
                     struct wh_spread ret[]);

#endif
