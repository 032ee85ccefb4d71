/* several_bound.h - how long several fitters take at least, by chains and by hands. */
#ifndef WH_ORDER_SEVERAL_BOUND_H
#define WH_ORDER_SEVERAL_BOUND_H

#include "order/job.h"

/* No timing of the job by its problem's fitters ends sooner, minutes; nor does one with more tasks. `way`: of each
 * need the way taken, -1 where it is left open: one of a single way is not. */
double wh_order_hands_bound(struct wh_arena *arena, const struct wh_order_job *job, const int way[]);

#endif
