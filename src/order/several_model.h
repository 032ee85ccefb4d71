/* several_model.h - a job of several fitters as a project: what is left of it when each fitter's own set-ups are left
 * out. Its shortest schedule is a bound of the job, and a list to work it off by. */
#ifndef WH_ORDER_SEVERAL_MODEL_H
#define WH_ORDER_SEVERAL_MODEL_H

#include "order/job.h"
#include "order/schedule.h"

/* Parts of a minute: the unit of time of the project. */
enum { WH_ORDER_TICKS = 10 };

struct wh_order_model {
    struct wh_schedule_problem project;
    size_t *activity_of; /* of each task, WH_ORDER_NONE when it is not chosen */
};

/* No timing of the job, by `problem`'s fitters, is shorter than the shortest schedule of the project. */
struct wh_order_model *wh_order_model_new(struct wh_arena *arena, const struct wh_order_job *job);

#endif
