/* watch.h - what can be wrong with a channel's samples as they pass: clipped, stuck, the same number all along. */
#ifndef WH_TESTRUN_WATCH_H
#define WH_TESTRUN_WATCH_H

#include "testrun/record.h"

struct wh_watch {
    size_t count;        /* samples so far */
    double last, before; /* the sample before this run of equal ones began; before that */
    double least, most;
    double finest; /* the least difference between two samples that follow each other */
    size_t run;    /* equal samples up to now */
    size_t longest, longest_at;
    size_t stopped; /* runs of equal samples at the least or the most that begin with a jump */
};

void wh_watch_add(struct wh_watch *watch, size_t n, const double samples[]);

/* Never another number? */
bool wh_watch_constant(const struct wh_watch *watch);

/* States what was seen, for a channel of a name. */
void wh_watch_doubts(const struct wh_watch *watch, const char *name, double rate, struct wh_doubts *doubts);

#endif
