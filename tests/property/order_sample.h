/* Small random problems of the ordering solver, each named by its seed. */
#ifndef WH_TESTS_PROPERTY_ORDER_SAMPLE_H
#define WH_TESTS_PROPERTY_ORDER_SAMPLE_H

#include "order/order.h"

enum { TASKS = 8, LINKS = 12, NEEDS = 4, WINDOWS = 3, VALUES = 3, WAYS = 2, USES = 3, RIVALS = 2 };

/* A problem with all it points to. */
struct sample {
    struct wh_order_problem problem;
    struct wh_order_task tasks[TASKS];
    struct wh_order_need needs[NEEDS];
    struct wh_order_way ways[NEEDS][WAYS], sets[WH_ORDER_DIMENSIONS][1];
    size_t lists[NEEDS][WAYS][2], set_lists[WH_ORDER_DIMENSIONS][2];
    struct wh_order_link links[LINKS];
    struct wh_order_window windows[WINDOWS];
    struct wh_order_use uses[USES];
    struct wh_order_rivals rivals[RIVALS];
    double cost[WH_ORDER_DIMENSIONS][VALUES * VALUES];
};

void sample_make(struct sample *s, uint64_t seed);

/* A random number below n; the seed moves on. */
size_t sample_below(uint64_t *seed, size_t n);

#endif
