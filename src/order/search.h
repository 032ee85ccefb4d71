/* search.h - orders of one job: the cheapest, best first; and one by rank, taken step by step. */
#ifndef WH_ORDER_SEARCH_H
#define WH_ORDER_SEARCH_H

#include "order/bound.h"
#include "order/job.h"

struct wh_order_found {
    bool found;
    size_t *blocks; /* when found */
    double cost;
    double bound; /* no order of this job costs less, unless it is above the cutoff */
    bool stopped; /* at the most states; there may be a cheaper one */
};

struct wh_order_how {
    bool timed;    /* waits between blocks count; otherwise they are left out: cheaper than it can be done */
    double lean;   /* 1: the cheapest; more: changes of set-up still to come weigh more, an order is found sooner and
                      need not be the cheapest, and the bound says nothing */
    double cutoff; /* only what costs less */
    uint64_t most; /* states to look at */
    const struct wh_order_bound *bound; /* of this job */
};

/* The cheapest order of a job. *nodes counts the states looked at. */
struct wh_order_found wh_order_cheapest(struct wh_arena *arena, const struct wh_order_job *job,
                                        const struct wh_order_how *how, uint64_t *nodes);

/* Step by step, always what keeps the fitter waiting least; among equals the block of lowest rank. Quick, not the best.
 */
struct wh_order_found wh_order_soonest(struct wh_arena *arena, const struct wh_order_job *job, const double rank[]);

/* Always the block of lowest rank that can come next, going back only where nothing can. NULL: no order exists, or it
 * took too long to find; *ret_stuck is then a block that never came up, or WH_ORDER_NONE. */
size_t *wh_order_by_rank(struct wh_arena *arena, const struct wh_order_job *job, const double rank[], uint64_t *nodes,
                         uint64_t most, size_t *ret_stuck);

#endif
