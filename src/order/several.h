/* several.h - several fitters on one job: lists worked off in turn, each task by whoever can begin it first. */
#ifndef WH_ORDER_SEVERAL_H
#define WH_ORDER_SEVERAL_H

#include "order/line.h"

/* No order of several fitters, with any choice of ways, takes less. */
double wh_order_several_bound(struct wh_arena *arena, const struct wh_order_problem *problem, uint64_t *nodes,
                              uint64_t most);

/* The quickest order found: from the line of one fitter, the natural one, and longest rest first. */
struct wh_order_line wh_order_several(struct wh_arena *arena, const struct wh_order_job *job,
                                      struct wh_order_timer *timer, const struct wh_order_line *one,
                                      const size_t natural[], double goal);

#endif
