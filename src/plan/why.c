/* Why a step stands where it stands: what it waits for and what waits for it, what it is done for, and what the whole
 * would take with the step at another place or taking longer. */
#include "plan/tasks.h"

#include <math.h>
#include <string.h>

struct looker {
    struct wh_arena *arena;
    const struct wh_plan *plan;
    size_t n;                    /* of tasks in the order */
    size_t *sequence;            /* tasks */
    size_t *place;               /* of each task, WH_NONE: it is not done */
    const struct wh_step **step; /* of each task; NULL: a mark */
};

static struct looker look(struct wh_arena *arena, const struct wh_plan *plan)
{
    const struct wh_order *order = plan->order;
    size_t count = plan->tasks->count;
    struct looker l = {.arena = arena,
                       .plan = plan,
                       .n = order->step_count,
                       .sequence = WH_NEW(arena, order->step_count + 1, size_t),
                       .place = WH_NEW(arena, count + 1, size_t),
                       .step = WH_NEW(arena, count + 1, const struct wh_step *)};
    for (size_t t = 0; t < count; t++) l.place[t] = WH_NONE;
    for (size_t i = 0; i < l.n; i++) l.place[l.sequence[i] = order->steps[i].task] = i;
    for (size_t s = 0; s < plan->step_count; s++)
        if (plan->steps[s].task->stage != WH_STAGE_LATER)
            l.step[plan->steps[s].task - plan->tasks->tasks] = &plan->steps[s];
    return l;
}

/* The time to the end of a sequence, with `more` minutes for one task, seconds. */
static double cost_with(const struct looker *l, const size_t sequence[], size_t task, double more)
{
    struct wh_order_task *longer = WH_NEW(l->arena, l->plan->tasks->count + 1, struct wh_order_task);
    struct wh_order_problem problem = l->plan->tasks->problem;
    memcpy(longer, problem.tasks, l->plan->tasks->count * sizeof *longer);
    longer[task].minutes += more;
    problem.tasks = longer;
    return 60 * wh_order_cost(l->arena, &problem, l->plan->order->chosen_way, sequence, l->n, NULL);
}

/* Does `first` have to be done before `after`? */
static bool precedes(const struct looker *l, size_t first, size_t after)
{
    const struct wh_order_problem *problem = &l->plan->tasks->problem;
    if (l->place[first] >= l->place[after]) return false;
    for (size_t k = 0; k < problem->link_count; k++)
        if (problem->links[k].first == first && problem->links[k].after == after) return true;
    for (size_t k = 0; k < problem->need_count; k++) {
        const struct wh_order_need *need = &problem->needs[k];
        int way = l->plan->order->chosen_way[k];
        for (size_t i = 0; need->task == after && need->before && way >= 0 && i < need->ways[way].count; i++)
            if (need->ways[way].tasks[i] == first) return true;
    }
    return false;
}

/* The steps next to a task in one direction, the nearest first, through marks; each once. */
static void add_neighbours(const struct looker *l, size_t task, bool before, bool seen[], const struct wh_step *to[],
                           size_t *count)
{
    for (size_t i = 0; i < l->n; i++) {
        size_t other = l->sequence[before ? l->n - 1 - i : i];
        if (seen[other] || !(before ? precedes(l, other, task) : precedes(l, task, other))) continue;
        seen[other] = true;
        if (l->step[other])
            to[(*count)++] = l->step[other];
        else if (l->plan->tasks->tasks[other].stage != WH_STAGE_BENCH) /* not the end of all that comes off */
            add_neighbours(l, other, before, seen, to, count);
    }
}

/* The chosen task that needs this one, before it or after. WH_NONE: none does. */
static size_t needed_by(const struct looker *l, size_t task, bool before)
{
    const struct wh_order_problem *problem = &l->plan->tasks->problem;
    for (size_t k = 0; k < problem->need_count; k++) {
        const struct wh_order_need *need = &problem->needs[k];
        int way = l->plan->order->chosen_way[k];
        if (way < 0 || need->before != before || l->place[need->task] == WH_NONE) continue;
        for (size_t i = 0; i < need->ways[way].count; i++)
            if (need->ways[way].tasks[i] == task) return need->task;
    }
    return WH_NONE;
}

static size_t asked_by(const struct looker *l, size_t task, bool *ret_before)
{
    size_t before = needed_by(l, task, true);
    *ret_before = before != WH_NONE;
    return *ret_before ? before : needed_by(l, task, false);
}

/* The same through marks: the step. */
static const struct wh_step *asking_step(const struct looker *l, size_t task, bool *ret_before)
{
    bool before;
    task = asked_by(l, task, ret_before);
    for (size_t i = 0; i < l->n && task != WH_NONE && !l->step[task]; i++) task = asked_by(l, task, &before);
    bool wanted =
        task == WH_NONE || l->plan->tasks->tasks[task].is == WH_TASK_CLEAN; /* all that is named is off then */
    return wanted ? NULL : l->step[task];
}

/* A part that was named and cannot come off before this task is done; WH_NONE: none. */
static size_t toward(const struct looker *l, size_t task, bool seen[])
{
    const struct wh_order_problem *problem = &l->plan->tasks->problem;
    size_t found = WH_NONE;
    seen[task] = true;
    for (size_t k = 0; k < problem->need_count && found == WH_NONE; k++) {
        const struct wh_order_need *need = &problem->needs[k];
        const struct wh_task *asking = &l->plan->tasks->tasks[need->task];
        int way = l->plan->order->chosen_way[k];
        bool asks = false;
        if (way < 0 || !need->before || seen[need->task] || l->place[need->task] == WH_NONE) continue;
        for (size_t i = 0; i < need->ways[way].count; i++) asks |= need->ways[way].tasks[i] == task;
        if (!asks) continue;
        bool named = asking->is == WH_TASK_OFF && (l->plan->asked[asking->thing] || l->plan->also[asking->thing]);
        found = named ? asking->thing : toward(l, need->task, seen);
    }
    return found;
}

/* The sequence with the task at `from` put at `to`. */
static void moved(const struct looker *l, size_t from, size_t to, size_t sequence[])
{
    size_t task = l->sequence[from], k = 0;
    for (size_t i = 0; i < l->n; i++) {
        if (i == from) continue;
        if (k == to) sequence[k++] = task;
        sequence[k++] = l->sequence[i];
    }
    if (k < l->n) sequence[k] = task;
}

/* The first place from one end, towards where it stands, at which it could stand too. */
static void try_places(const struct looker *l, struct wh_why *why, size_t at, bool earlier)
{
    size_t task = l->sequence[at], *trial = WH_NEW(l->arena, l->n + 1, size_t), first = 0, last = l->n - 1;
    for (size_t i = 0; i < at; i++)
        if (precedes(l, l->sequence[i], task)) first = i + 1;
    for (size_t i = l->n - 1; i > at; i--)
        if (precedes(l, task, l->sequence[i])) last = i - 1;
    if (first < l->plan->tasks->problem.done_count) first = l->plan->tasks->problem.done_count;
    for (size_t to = earlier ? first : last; to != at; earlier ? to++ : to--) {
        moved(l, at, to, trial);
        double cost = cost_with(l, trial, task, 0);
        size_t next = earlier ? to - 1 : to;
        while (next < l->n && !l->step[l->sequence[next]] && next > 0) next--;
        if (!isfinite(cost) || next >= l->n || !l->step[l->sequence[next]]) continue;
        if (earlier)
            why->earliest = l->step[l->sequence[next]], why->earlier_costs = cost - l->plan->total;
        else
            why->latest = l->step[l->sequence[next]], why->later_costs = cost - l->plan->total;
        return;
    }
}

/* Seconds it may take longer before the whole does: found by halving between a minute and a shift. */
static double spare_of(const struct looker *l, size_t task)
{
    double least = 0, most = 480, slack = 1e-3;
    if (cost_with(l, l->sequence, task, 0.25) > l->plan->total + slack) return 0;
    while (most - least > 0.25) {
        double middle = (least + most) / 2;
        bool free = cost_with(l, l->sequence, task, middle) <= l->plan->total + slack;
        *(free ? &least : &most) = middle;
    }
    return 60 * floor(least);
}

static size_t task_of(const struct looker *l, size_t step)
{
    for (size_t i = 0; i < l->n; i++)
        if (l->step[l->sequence[i]] == &l->plan->steps[step]) return l->sequence[i];
    return WH_NONE;
}

struct wh_why wh_plan_why(struct wh_arena *arena, const struct wh_plan *plan, size_t step)
{
    struct looker l = look(arena, plan);
    struct wh_why why = {.step = &plan->steps[step], .toward = WH_NONE};
    size_t task = task_of(&l, step);
    if (task == WH_NONE) return why; /* of a later visit */
    why.after = WH_NEW(arena, l.n + 1, const struct wh_step *);
    why.before = WH_NEW(arena, l.n + 1, const struct wh_step *);
    add_neighbours(&l, task, true, WH_NEW(arena, plan->tasks->count + 1, bool), why.after, &why.after_count);
    add_neighbours(&l, task, false, WH_NEW(arena, plan->tasks->count + 1, bool), why.before, &why.before_count);
    why.asked_by = asking_step(&l, task, &why.asked_before);
    why.toward = toward(&l, task, WH_NEW(arena, plan->tasks->count + 1, bool));
    if (step >= plan->done_count) {
        try_places(&l, &why, l.place[task], true);
        try_places(&l, &why, l.place[task], false);
    }
    why.spare = spare_of(&l, task);
    double longer = cost_with(&l, l.sequence, task, 1);
    why.lengthens = (longer - plan->total) / 60;
    return why;
}

const double *wh_plan_spare(struct wh_arena *arena, const struct wh_plan *plan)
{
    struct looker l = look(arena, plan);
    double *spare = WH_NEW(arena, plan->step_count + 1, double);
    for (size_t s = plan->done_count; s < plan->step_count; s++) {
        size_t task = task_of(&l, s);
        spare[s] = task == WH_NONE ? 0 : spare_of(&l, task);
    }
    return spare;
}
