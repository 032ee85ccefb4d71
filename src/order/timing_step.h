/* timing_step.h - when one task starts and who leads it, after those before it: what timing.c does for all of them. */
#ifndef WH_ORDER_TIMING_STEP_H
#define WH_ORDER_TIMING_STEP_H

#include "order/job.h"
#include "order/timing.h"

static inline bool wh_order_stands(const struct wh_order_timer *timer, size_t task)
{
    return timer->place[task] != WH_ORDER_NONE;
}

/* Is a way taken: all its tasks are done, and before `task` when that is asked; and it is the way chosen? */
bool wh_order_way_taken(const struct wh_order_timer *timer, const struct wh_order_need *need,
                        const struct wh_order_way *way);

/* Nobody has begun. */
void wh_order_begin(struct wh_order_timer *timer);

/* From when on all is done that a task waits for; tasks to come stand at places behind. INFINITY: never. */
double wh_order_since(const struct wh_order_timer *timer, size_t task);

/* The step of a task at place i, from `since` on, by whoever can begin it first, or by fitter `only` where that is not
 * -1; start INFINITY: it cannot stand there. */
struct wh_order_step wh_order_best_step(const struct wh_order_timer *timer, size_t task, size_t i, int only,
                                        double since);

/* Books a step at place i: who is held until when, and the set-up it leaves. */
void wh_order_book(struct wh_order_timer *timer, size_t i, const struct wh_order_step *step);

#endif
