/* implied.h - what a need of several ways says whichever is taken. */
#ifndef WH_ORDER_IMPLIED_H
#define WH_ORDER_IMPLIED_H

#include "order/order.h"

/* The same problem with links from the tasks that come before every way of a need to the task that needs it. They only
 * say what is so anyway, so that it is known before a way is chosen. */
const struct wh_order_problem *wh_order_implied(struct wh_arena *arena, const struct wh_order_problem *problem);

#endif
