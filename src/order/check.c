#include "order/done.h"
#include "order/job.h"

#include <math.h>

static const struct wh_place NOWHERE = {0};

const char *wh_order_name(struct wh_arena *arena, const struct wh_order_problem *problem, size_t task)
{
    const char *name = problem->tasks[task].name;
    return name ? name : wh_arena_print(arena, "task %zu", task);
}

static bool is_minutes(double x)
{
    return isfinite(x) && x >= 0;
}

static void check_task(const struct wh_order_problem *problem, size_t t, struct wh_errors *reterr)
{
    const struct wh_order_task *task = &problem->tasks[t];
    const char *name = wh_order_name(reterr->arena, problem, t);
    if (!is_minutes(task->minutes)) {
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "0 or more", "%s: %g minutes", name, task->minutes);
    }
    if (task->crew < 1) {
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "1 or more", "%s: a crew of %d", name, task->crew);
    }
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        int value = task->set_up[d];
        if (value == WH_ORDER_ANY || (value >= 0 && (size_t)value < problem->dimensions[d].values)) continue;
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, NULL, "%s: set-up %d in dimension %zu, which has %zu values", name,
                      value, d, problem->dimensions[d].values);
    }
}

static void check_way(const struct wh_order_way *way, size_t end, const char *what, struct wh_errors *reterr)
{
    for (size_t i = 0; i < way->count; i++) {
        if (way->tasks[i] < end) continue;
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, NULL, "%s names number %zu of %zu", what, way->tasks[i], end);
    }
}

static void check_dimension(const struct wh_order_problem *problem, size_t d, struct wh_errors *reterr)
{
    const struct wh_order_dimension *dimension = &problem->dimensions[d];
    for (size_t i = 0; i < dimension->values * dimension->values; i++) {
        if (dimension->cost[i] >= 0) continue;
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "0 or more", "a change in dimension %zu costs %g minutes", d,
                      dimension->cost[i]);
    }
    if (dimension->start != WH_ORDER_ANY && (dimension->start < 0 || (size_t)dimension->start >= dimension->values) &&
        dimension->values > 0) {
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, NULL, "dimension %zu starts at %d of %zu values", d,
                      dimension->start, dimension->values);
    }
    for (size_t i = 0; i < dimension->open_set_count; i++) {
        check_way(&dimension->open_sets[i], problem->window_count, "an open set", reterr);
    }
}

static void check_links(const struct wh_order_problem *problem, struct wh_errors *reterr)
{
    for (size_t i = 0; i < problem->link_count; i++) {
        const struct wh_order_link *link = &problem->links[i];
        bool numbers = link->first < problem->task_count && link->after < problem->task_count;
        if (numbers && link->first != link->after && is_minutes(link->least) && link->most >= link->least) continue;
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "two tasks, 0 <= least <= most",
                      "link %zu: from %zu to %zu, %g..%g", i, link->first, link->after, link->least, link->most);
    }
    for (size_t i = 0; i < problem->window_count; i++) {
        const struct wh_order_window *window = &problem->windows[i];
        bool numbers = window->opens < problem->task_count && window->closes < problem->task_count;
        if (numbers && !problem->tasks[window->opens].alone) continue;
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "it is opened by a task that a fitter does",
                      "window %zu: from %zu to %zu", i, window->opens, window->closes);
    }
}

static void check_uses(const struct wh_order_problem *problem, struct wh_errors *reterr)
{
    for (size_t i = 0; i < problem->use_count; i++) {
        const struct wh_order_use *use = &problem->uses[i];
        if (use->from < problem->task_count && use->to < problem->task_count && use->from != use->to) continue;
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "two tasks", "use %zu: from %zu to %zu", i, use->from, use->to);
    }
}

static void check_rivals(const struct wh_order_problem *problem, struct wh_errors *reterr)
{
    for (size_t i = 0; i < problem->rival_count; i++) {
        const struct wh_order_rivals *rivals = &problem->rivals[i];
        bool numbers = rivals->one < problem->task_count && rivals->other < problem->task_count;
        if (numbers && rivals->one != rivals->other) continue;
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "two tasks", "rivals %zu: %zu and %zu", i, rivals->one,
                      rivals->other);
    }
}

static void check_needs(const struct wh_order_problem *problem, struct wh_errors *reterr)
{
    for (size_t i = 0; i < problem->need_count; i++) {
        const struct wh_order_need *need = &problem->needs[i];
        if (need->task >= problem->task_count) {
            wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, NULL, "need %zu is of task %zu of %zu", i, need->task,
                          problem->task_count);
        } else if (need->way_count == 0) {
            wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, NULL, "%s needs something that can be had in no way",
                          wh_order_name(reterr->arena, problem, need->task));
        }
        for (size_t w = 0; w < need->way_count; w++) {
            check_way(&need->ways[w], problem->task_count, "a way", reterr);
        }
    }
}

static void check_done(const struct wh_order_problem *problem, struct wh_errors *reterr)
{
    for (size_t i = 0; i < problem->done_count; i++) {
        size_t task = problem->done[i];
        if (task >= problem->task_count)
            wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, NULL, "task %zu of %zu is said to be done", task,
                          problem->task_count);
        else if (wh_order_done_at(problem, task) < i)
            wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, NULL, "%s is said to be done twice",
                          wh_order_name(reterr->arena, problem, task));
    }
}

enum wh_status wh_order_check(const struct wh_order_problem *problem, struct wh_errors *reterr)
{
    size_t already = reterr->count;
    for (size_t t = 0; t < problem->task_count; t++) check_task(problem, t, reterr);
    check_needs(problem, reterr);
    check_links(problem, reterr);
    check_uses(problem, reterr);
    check_rivals(problem, reterr);
    check_done(problem, reterr);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) check_dimension(problem, d, reterr);
    if (problem->fitters < 1 || problem->fitters > 4) {
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "1 to 4", "%d fitters", problem->fitters);
    }
    if (isnan(problem->keep)) wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "minutes", "keep is not a number");
    if (!(problem->enough >= 0))
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "0 or more minutes", "enough is %g", problem->enough);
    return reterr->count > already ? WH_ERR_INPUT : WH_OK;
}
