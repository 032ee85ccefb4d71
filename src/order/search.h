/* search.h - orders of one job: the cheapest, best first; and one by rank, taken step by step. */
#ifndef WH_ORDER_SEARCH_H
#define WH_ORDER_SEARCH_H

#include "order/bound.h"
#include "order/budget.h"
#include "order/job.h"

struct wh_order_found {
    bool found;
    size_t *blocks; /* when found */
    double cost;
    double bound; /* no order of this job costs less, unless it is above the cutoff */
    bool stopped; /* before its end; there may be a cheaper one */
};

struct wh_order_how {
    bool timed;    /* waits between blocks count; otherwise they are left out: cheaper than it can be done */
    double lean;   /* orders abreast: above 1, changes of set-up still to come weigh more, and the bound says nothing */
    double cutoff; /* only what costs less */
    uint64_t most; /* states to look at */
    const struct wh_order_bound *bound; /* of this job */
};

/* What any order of a job costs at least, without a search. */
double wh_order_at_least(struct wh_arena *arena, const struct wh_order_job *job, const struct wh_order_how *how);

/* The cheapest order of a job, best first. */
struct wh_order_found wh_order_cheapest(struct wh_arena *arena, const struct wh_order_job *job,
                                        const struct wh_order_how *how, struct wh_order_budget *budget);

/* A good order of a job: all orders grow together, block by block, and of each length only the `width` best go on. */
struct wh_order_found wh_order_abreast(struct wh_arena *arena, const struct wh_order_job *job,
                                       const struct wh_order_how *how, size_t width, struct wh_order_budget *budget);

/* Step by step, always what keeps the fitter waiting least; among equals the block of lowest rank. Quick, not the best.
 */
struct wh_order_found wh_order_soonest(struct wh_arena *arena, const struct wh_order_job *job, const double rank[]);

/* Always the block of lowest rank that can come next, going back only where nothing can. NULL: no order exists, or it
 * took too long to find; *ret_stuck is then a block that never came up, or WH_ORDER_NONE. */
size_t *wh_order_by_rank(struct wh_arena *arena, const struct wh_order_job *job, const double rank[], uint64_t *nodes,
                         uint64_t most, size_t *ret_stuck);

#endif
