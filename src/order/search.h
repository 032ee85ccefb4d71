/* search.h - orders of one job: the cheapest, best first; and one by rank, taken step by step. */
#ifndef WH_ORDER_SEARCH_H
#define WH_ORDER_SEARCH_H

#include "order/job.h"

struct wh_order_found {
    bool found;
    size_t *blocks; /* when found */
    double cost;
    double bound;   /* no order of this job costs less, unless it is above the cutoff */
};

/* The cheapest order that costs less than `cutoff`. timed: waits between blocks count; otherwise they are left out,
 * which makes it cheaper than it can be done. *nodes counts up to `most`. */
struct wh_order_found wh_order_cheapest(struct wh_arena *arena, const struct wh_order_job *job, bool timed,
                                        double cutoff, uint64_t *nodes, uint64_t most);

/* Always the block of lowest rank that can come next, going back only where nothing can. NULL: no order exists, or it
 * took too long to find; *ret_stuck is then a block that never came up, or WH_ORDER_NONE. */
size_t *wh_order_by_rank(struct wh_arena *arena, const struct wh_order_job *job, const double rank[], uint64_t *nodes,
                         uint64_t most, size_t *ret_stuck);

#endif
