#include "order_several.h"

#include "order/done.h"
#include "order/implied.h"
#include "order/several_bound.h"
#include "order/several_model.h"
#include "order_sample.h"

#include <math.h>

enum { NODES = 2000 };

/* Takes the ways of the order until no need of a chosen task is left, but for those that are left open. */
static void choose(const struct wh_order_problem *p, const int taken[], uint64_t seed, bool chosen[], int way[])
{
    bool open[NEEDS];
    for (size_t i = 0; i < p->need_count; i++) {
        open[i] = p->needs[i].way_count > 1 && seed && sample_below(&seed, 2);
        way[i] = -1;
    }
    for (size_t t = 0; t < p->task_count; t++) chosen[t] = p->tasks[t].wanted;
    for (bool more = true; more;) {
        more = false;
        for (size_t i = 0; i < p->need_count; i++) {
            if (!chosen[p->needs[i].task] || open[i] || way[i] >= 0) continue;
            const struct wh_order_way *of = &p->needs[i].ways[taken[i]];
            for (size_t k = 0; k < of->count; k++) chosen[of->tasks[k]] = true;
            way[i] = taken[i];
            more = true;
        }
    }
}

struct several_bounds several_bounds(struct wh_arena *arena, const struct wh_order_problem *problem,
                                     const struct wh_order *order, uint64_t seed)
{
    const struct wh_order_problem *left = wh_order_implied(arena, wh_order_after_done(arena, problem));
    bool *chosen = WH_NEW(arena, TASKS, bool);
    int *way = WH_NEW(arena, NEEDS, int);
    const char *why;
    choose(left, wh_order_ways_left(arena, problem, order->chosen_way), seed, chosen, way);
    const struct wh_order_job *job = wh_order_job_new(arena, left, chosen, NULL, way, &why);
    if (!job) return (struct several_bounds){INFINITY, INFINITY};
    const struct wh_order_model *model = wh_order_model_new(arena, job);
    struct wh_schedule_limits limits = {.nodes = NODES};
    struct wh_schedule schedule = wh_schedule_solve(arena, &model->project, &limits);
    return (struct several_bounds){
        .hands = wh_order_hands_bound(arena, job, way),
        .project = schedule.proven && !schedule.found ? INFINITY : (double)schedule.bound / WH_ORDER_TICKS};
}
