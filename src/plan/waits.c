/* Why a step has to wait: something passes by itself, or another fitter's step has to be done first. */
#include "plan/tasks.h"

#include <math.h>

struct cause {
    size_t task; /* WH_NONE: no task that was chosen */
    double until;
    const char *because; /* of a link with a least wait */
};

static void later(struct cause *cause, const double end[], size_t task, double least, const char *because)
{
    double until = end[task] + least;
    if (isnan(until) || until <= cause->until) return;
    *cause = (struct cause){task, until, least > 0 ? because : NULL};
}

/* Of a heater there is one: what has to be fitted before it warms the next. WH_NONE: it is not that. */
static size_t frees_heater(const struct wh_order_problem *problem, const double end[], size_t task, double start)
{
    for (size_t u = 0; u < problem->use_count; u++)
        for (size_t k = 0; k < problem->use_count && problem->uses[u].from == task; k++) {
            const struct wh_order_use *other = &problem->uses[k];
            double begun = end[other->to] - problem->tasks[other->to].minutes;
            if (k != u && other->thing == problem->uses[u].thing && fabs(begun - start) < 0.01) return other->to;
        }
    return WH_NONE;
}

/* What holds a task up longest. */
static struct cause cause_of(const struct wh_tasks *tasks, const double end[], size_t task)
{
    const struct wh_order_problem *problem = &tasks->problem;
    struct cause cause = {WH_NONE, -INFINITY, NULL};
    for (size_t l = 0; l < problem->link_count; l++)
        if (problem->links[l].after == task)
            later(&cause, end, problem->links[l].first, problem->links[l].least, tasks->link_because[l]);
    for (size_t n = 0; n < problem->need_count; n++)
        for (size_t w = 0; w < problem->needs[n].way_count && problem->needs[n].task == task; w++)
            for (size_t i = 0; i < problem->needs[n].ways[w].count && problem->needs[n].before; i++)
                later(&cause, end, problem->needs[n].ways[w].tasks[i], 0, NULL);
    bool mark = cause.task != WH_NONE && !cause.because && tasks->tasks[cause.task].is == WH_TASK_MARK;
    return mark ? cause_of(tasks, end, cause.task) : cause;
}

const char *wh_plan_wait_because(struct wh_arena *arena, const struct wh_tasks *tasks, size_t task, double start,
                                 const double end[], const char *const what[])
{
    struct cause cause = cause_of(tasks, end, task);
    if (cause.because) return cause.because;
    if (cause.task != WH_NONE && what[cause.task] && cause.until > start - 1)
        return wh_arena_print(arena, "until \"%s\" is done", what[cause.task]);
    size_t frees = frees_heater(&tasks->problem, end, task, start);
    if (frees != WH_NONE && what[frees]) return wh_arena_print(arena, "the heater is busy until \"%s\"", what[frees]);
    return tasks->problem.tasks[task].crew > 1 ? "until there are hands enough" : "until the others are ready for it";
}
