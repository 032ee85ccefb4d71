/* done.h - a problem some of whose tasks are done already: facts that no rule undoes. */
#ifndef WH_ORDER_DONE_H
#define WH_ORDER_DONE_H

#include "order/order.h"

/* The same problem with the tasks done wanted, and without what only bound them: needs of something before them (left
 * with a way that asks for nothing), links into them that were not kept, uses that are over, rivals. Itself when
 * nothing is done. */
const struct wh_order_problem *wh_order_after_done(struct wh_arena *arena, const struct wh_order_problem *problem);

/* The place of a task among those done; done_count when it is not. */
size_t wh_order_done_at(const struct wh_order_problem *problem, size_t task);

/* Of each need of the problem as it was given: the way taken. Needs of tasks done say which way was met, -1: none. */
const int *wh_order_ways_taken(struct wh_arena *arena, const struct wh_order_problem *problem, const int way[]);

/* The other way round: ways of the problem as given, as ways of what is left of it. NULL for NULL. */
const int *wh_order_ways_left(struct wh_arena *arena, const struct wh_order_problem *problem, const int way[]);

#endif
