/* The cheapest of all orders of a small problem, one by one, timed by other code than the solver's. */
#ifndef WH_TESTS_PROPERTY_ORDER_BRUTE_H
#define WH_TESTS_PROPERTY_ORDER_BRUTE_H

#include "order/timing.h"

/* INFINITY: there is none. `timer`: the lists of several fitters are timed by it; NULL: one fitter. */
double brute_cheapest(const struct wh_order_problem *problem, struct wh_order_timer *timer);

#endif
