/* order_roster.h - holds the roster of several fitters against the problem, written apart from the solver's timing. */
#ifndef WH_TESTS_PROPERTY_ORDER_ROSTER_H
#define WH_TESTS_PROPERTY_ORDER_ROSTER_H

#include "order/order.h"

/* NULL when every need, wait, crew and set-up is kept, else what is broken. */
const char *roster_broken(const struct wh_order_problem *problem, const struct wh_order *order);

#endif
