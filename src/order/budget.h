/* budget.h - how long a search may go on, and who looks on. */
#ifndef WH_ORDER_BUDGET_H
#define WH_ORDER_BUDGET_H

#include "order/order.h"

struct wh_order_budget {
    const struct wh_order_watch *watch;
    double began;
    uint64_t most;
    size_t memory; /* of one search */
    struct wh_order_now now;
    enum wh_order_stop stop; /* CLOSED: it may go on */
};

struct wh_order_budget wh_order_budget_new(const struct wh_order_problem *problem, uint64_t usual_nodes,
                                           size_t usual_memory);

/* Takes one node; false when the search has to stop. */
bool wh_order_spend(struct wh_order_budget *budget);

/* Looks at the clock, and asks who looks on: is the time over, or was it stopped? */
bool wh_order_is_over(struct wh_order_budget *budget);

#endif
