/* compare.h - a record's figures beside those of the machine's last record, as `wharve testrun --json` wrote them. */
#ifndef WH_TESTRUN_COMPARE_H
#define WH_TESTRUN_COMPARE_H

#include "base/tree.h"

struct wh_compared {
    const char *name; /* of the figure, "velocity" */
    const char *place, *direction;
    double before, now; /* in the figure's unit */
    const char *unit;
    double ratio; /* now / before */
    bool matters; /* worth a sentence */
    const char *says;
};

/* Holds each figure of `now` to that of the same name, channel, place, direction, band and unit of `before`, both trees
 * of a test run's figures. What one of them lacks is left out; *ret_count may be 0. A velocity matters when it changed
 * by `step` mm/s or more (a quarter of the limit between B and C: ISO 20816-1, criterion II, from memory); anything
 * else, and a velocity where `step` is NAN, when it changed by more than a quarter (common practice). Errors:
 * WH_ERR_INPUT: `before` is no test run. */
enum wh_status wh_compare(struct wh_arena *arena, const struct wh_tree *before, const struct wh_tree *now, double step,
                          struct wh_compared **ret, size_t *ret_count, struct wh_errors *reterr);

#endif
