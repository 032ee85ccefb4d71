/* part.h - one part of a job, searched with more and more effort; and the book of all parts met, so that choices of
 * ways that have a part in common search it once. */
#ifndef WH_ORDER_PART_H
#define WH_ORDER_PART_H

#include "order/search.h"

#include <math.h>

struct wh_order_part {
    const struct wh_order_job *job;
    double cost;                        /* of the cheapest order known; INFINITY: none */
    size_t *blocks;                     /* that order */
    double bound;                       /* no order costs less; INFINITY: there is none */
    const struct wh_order_bound *costs; /* what the rest of it costs at least; NULL: not needed yet */
    bool looked_at;
    unsigned efforts;
    bool loose_closed; /* the search without waits has come to its end */
};

struct wh_order_book {
    struct wh_arena *arena;
    struct wh_order_budget *budget;
    WH_LIST(struct wh_order_part *) parts;
};

/* The part in the book that has the same blocks and rules; NULL where there is none. */
struct wh_order_part *wh_order_part_of(const struct wh_order_book *book, const struct wh_order_job *job);

/* A new part; the job has to last as long as the book. */
struct wh_order_part *wh_order_part_add(struct wh_order_book *book, const struct wh_order_job *job);

static inline bool wh_order_part_closed(const struct wh_order_part *part)
{
    return !isfinite(part->bound) || part->cost <= part->bound + WH_ORDER_SLACK;
}

/* Searches a part until it is closed, or so many efforts were made, each with four times the nodes of the one before;
 * false when there was nothing to do, or nothing left to do it with. */
bool wh_order_part_search(struct wh_order_book *book, struct wh_order_part *part, unsigned efforts);

#endif
