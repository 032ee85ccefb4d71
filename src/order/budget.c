#include "order/budget.h"

#include <math.h>

enum { LOOK_EVERY = 64 }; /* nodes */

struct wh_order_budget wh_order_budget_new(const struct wh_order_problem *problem, uint64_t usual_nodes,
                                           size_t usual_memory)
{
    const struct wh_order_watch *watch = problem->watch;
    return (struct wh_order_budget){.watch = watch,
                                    .began = watch && watch->clock ? watch->clock() : 0,
                                    .most = problem->most_nodes ? problem->most_nodes : usual_nodes,
                                    .memory = problem->most_memory ? problem->most_memory : usual_memory,
                                    .now = {.cost = INFINITY}};
}

static void look(struct wh_order_budget *budget)
{
    const struct wh_order_watch *watch = budget->watch;
    if (watch->clock) budget->now.seconds = watch->clock() - budget->began;
    if (watch->most_seconds > 0 && budget->now.seconds > watch->most_seconds) budget->stop = WH_ORDER_SECONDS;
    if (watch->go_on && !watch->go_on(watch->context, &budget->now)) budget->stop = WH_ORDER_STOPPED;
}

bool wh_order_spend(struct wh_order_budget *budget)
{
    if (budget->stop == WH_ORDER_CLOSED && budget->now.nodes >= budget->most) budget->stop = WH_ORDER_NODES;
    if (budget->stop != WH_ORDER_CLOSED) return false;
    budget->now.nodes++;
    if (budget->watch && budget->now.nodes % LOOK_EVERY == 0) look(budget);
    return budget->stop == WH_ORDER_CLOSED;
}

bool wh_order_is_over(struct wh_order_budget *budget)
{
    if (budget->watch) look(budget);
    return budget->stop == WH_ORDER_SECONDS || budget->stop == WH_ORDER_STOPPED;
}
