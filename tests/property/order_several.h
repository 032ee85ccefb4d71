/* The bounds of several fitters, by themselves: what they say of an order that stands. */
#ifndef WH_TESTS_PROPERTY_ORDER_SEVERAL_H
#define WH_TESTS_PROPERTY_ORDER_SEVERAL_H

#include "order/order.h"

struct several_bounds {
    double hands, project; /* minutes; each at most the cost of any order that the choice can become */
};

/* Of the choice of ways of an order, taken as far as `seed` decides: 0: all of it. */
struct several_bounds several_bounds(struct wh_arena *arena, const struct wh_order_problem *problem,
                                     const struct wh_order *order, uint64_t seed);

#endif
