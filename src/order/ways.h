/* ways.h - which tasks are done: one way for each need, the most promising choices first. */
#ifndef WH_ORDER_WAYS_H
#define WH_ORDER_WAYS_H

#include "order/order.h"

struct wh_order_choice {
    int *way;     /* for each need; -1: its task is not chosen */
    bool *chosen; /* for each task */
    double bound; /* no order of these tasks costs less */
};

struct wh_order_ways;

/* Of each task: only one need names it, and it is not wanted otherwise. */
const bool *wh_order_own_tasks(struct wh_arena *arena, const struct wh_order_problem *problem);

/* A closer bound of a choice than its minutes. The choice may be partial: needs left open have way -1, and its bound is
 * one of all choices that it can become. */
struct wh_order_judge {
    double (*bound)(void *context, const struct wh_order_choice *choice);
    void *context;
};

/* judge NULL: minutes alone. */
struct wh_order_ways *wh_order_ways_new(struct wh_arena *arena, const struct wh_order_problem *problem,
                                        const struct wh_order_judge *judge);

/* The next choice, bounds never falling; false when there is none, or *nodes has come to `most`. */
bool wh_order_ways_next(struct wh_order_ways *ways, struct wh_order_choice *ret, uint64_t *nodes, uint64_t most);

/* No choice not yet given costs less than this; INFINITY when all were given. */
double wh_order_ways_bound(const struct wh_order_ways *ways);

#endif
