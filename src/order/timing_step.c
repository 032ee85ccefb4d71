#include "order/timing_step.h"

#include <math.h>

void wh_order_begin(struct wh_order_timer *timer)
{
    for (int f = 0; f < 4; f++) {
        timer->fitters[f] = 0;
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) timer->value[f][d] = timer->problem->dimensions[d].start;
    }
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) timer->used[d] = timer->changed[d] = 0;
}

bool wh_order_way_taken(const struct wh_order_timer *timer, const struct wh_order_need *need,
                        const struct wh_order_way *way)
{
    if (timer->way && way != &need->ways[timer->way[need - timer->problem->needs]]) return false;
    for (size_t i = 0; i < way->count; i++) {
        if (!wh_order_stands(timer, way->tasks[i])) return false;
        if (need->before && timer->place[way->tasks[i]] >= timer->place[need->task]) return false;
    }
    return true;
}

/* When a change of a dimension before place i can begin for all its open sets; INFINITY: never. */
static double opened(const struct wh_order_timer *timer, size_t d, size_t i)
{
    const struct wh_order_problem *p = timer->problem;
    double latest = 0;
    if (i < p->done_count) return 0;
    for (size_t s = 0; s < p->dimensions[d].open_set_count; s++) {
        const struct wh_order_way *set = &p->dimensions[d].open_sets[s];
        double first = INFINITY;
        for (size_t k = 0; k < set->count; k++) {
            const struct wh_order_window *window = &p->windows[set->tasks[k]];
            size_t opens = timer->place[window->opens], closes = timer->place[window->closes];
            if (opens < i && closes >= i) first = fmin(first, timer->at[opens].end);
        }
        latest = wh_order_later(latest, first);
    }
    return latest;
}

/* A task that closes a window waits until changes that may need it are over. */
static double may_close(const struct wh_order_timer *timer, size_t task)
{
    double latest = 0;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++)
        if (timer->shuts[task] >> d & 1) latest = wh_order_later(latest, timer->changed[d]);
    return latest;
}

/* When what there is one of is free for a task at place i; INFINITY: it is in another use there. */
static double unused(const struct wh_order_timer *timer, size_t task, size_t i)
{
    const struct wh_order_problem *p = timer->problem;
    double free = 0;
    for (size_t u = 0; timer->uses[task] && u < p->use_count; u++) {
        if (p->uses[u].from != task || !wh_order_stands(timer, p->uses[u].to)) continue;
        for (size_t k = 0; k < p->use_count; k++) {
            const struct wh_order_use *other = &p->uses[k];
            bool begun =
                other->thing == p->uses[u].thing && timer->place[other->from] < i && wh_order_stands(timer, other->to);
            if (k == u || !begun) continue;
            if (timer->place[other->to] >= i) return INFINITY;
            free = wh_order_later(free, timer->at[timer->place[other->from]].start);
            free = wh_order_later(free, timer->at[timer->place[other->to]].start);
        }
    }
    return free;
}

/* The earliest start that set-ups of all and open windows allow. */
static double ready(const struct wh_order_timer *timer, size_t task)
{
    const struct wh_order_problem *p = timer->problem;
    double start = wh_order_later(timer->least_start[task], may_close(timer, task));
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        bool waits_for_change = p->dimensions[d].shared && p->tasks[task].set_up[d] != WH_ORDER_ANY;
        if (waits_for_change) start = wh_order_later(start, timer->changed[d]);
    }
    return start;
}

/* Links, and needs that ask for an earlier task: it has to have ended. The way that ended first counts. */
double wh_order_since(const struct wh_order_timer *timer, size_t task)
{
    const struct wh_order_problem *p = timer->problem;
    double start = 0;
    for (size_t i = timer->links_into[task]; i < timer->links_into[task + 1]; i++) {
        const struct wh_order_link *link = &p->links[timer->links[i]];
        if (wh_order_stands(timer, link->first))
            start = wh_order_later(start, timer->at[timer->place[link->first]].end + link->least);
    }
    for (size_t i = timer->needs_of[task]; i < timer->needs_of[task + 1]; i++) {
        const struct wh_order_need *need = &p->needs[timer->needs[i]];
        if (!need->before) continue;
        const int *chosen = timer->way ? &timer->way[timer->needs[i]] : NULL; /* it is kept as all needs are */
        double first = INFINITY;
        for (size_t w = 0; w < need->way_count; w++) {
            bool counts = chosen ? (int)w == chosen[0] : wh_order_way_taken(timer, need, &need->ways[w]);
            if (!counts) continue;
            double end = 0;
            for (size_t k = 0; k < need->ways[w].count; k++) {
                end = wh_order_later(end, timer->at[timer->place[need->ways[w].tasks[k]]].end);
            }
            first = fmin(first, end);
        }
        start = wh_order_later(start, first);
    }
    return start;
}

/* Marks the crew of a task led by fitter f, the others being those free first; when all of them are there. */
static double gather_crew(const struct wh_order_timer *timer, size_t task, int f, bool in[4])
{
    double there = timer->fitters[f];
    in[f] = true;
    for (int more = timer->problem->tasks[task].crew - 1; more > 0; more--) {
        int next = -1;
        for (int g = 0; g < timer->problem->fitters; g++) {
            if (!in[g] && (next < 0 || timer->fitters[g] < timer->fitters[next])) next = g;
        }
        if (next < 0) break; /* fewer are here than it takes: they use the hoist */
        in[next] = true;
        there = wh_order_later(there, timer->fitters[next]);
    }
    return there;
}

/* The step if fitter f leads it; its start is INFINITY when the change cannot be made. */
static struct wh_order_step lead(const struct wh_order_timer *timer, size_t task, size_t i, int f, double from)
{
    const struct wh_order_problem *p = timer->problem;
    double change = 0, begin = timer->fitters[f];
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        int to = p->tasks[task].set_up[d], now = timer->value[p->dimensions[d].shared ? 0 : f][d];
        if (to == WH_ORDER_ANY || now == WH_ORDER_ANY || now == to) continue;
        change += p->dimensions[d].cost[(size_t)now * p->dimensions[d].values + (size_t)to];
        begin = wh_order_later(begin, opened(timer, d, i));
        if (p->dimensions[d].shared) begin = wh_order_later(begin, wh_order_later(timer->used[d], timer->changed[d]));
    }
    bool in[4] = {false};
    double start = wh_order_later(wh_order_later(begin + change, from), gather_crew(timer, task, f, in));
    return (struct wh_order_step){.task = task,
                                  .start = start,
                                  .end = start + p->tasks[task].minutes,
                                  .fitter = f,
                                  .change = change,
                                  .waited = wh_order_later(0, start - timer->fitters[f] - change)};
}

void wh_order_book(struct wh_order_timer *timer, size_t i, const struct wh_order_step *step)
{
    timer->at[i] = *step;
    const struct wh_order_problem *p = timer->problem;
    const struct wh_order_task *task = &p->tasks[step->task];
    double until = task->alone ? step->start : step->end;
    bool in[4] = {false};
    gather_crew(timer, step->task, step->fitter, in);
    for (int f = 0; f < p->fitters; f++) {
        if (in[f]) timer->fitters[f] = until;
    }
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        int *value = &timer->value[p->dimensions[d].shared ? 0 : step->fitter][d];
        if (task->set_up[d] == WH_ORDER_ANY) continue;
        if (*value != task->set_up[d] && *value != WH_ORDER_ANY)
            timer->changed[d] = wh_order_later(timer->changed[d], step->start);
        *value = task->set_up[d];
        timer->used[d] = wh_order_later(timer->used[d], until);
    }
}

/* Who can begin first, with the least to change; then who has just got his hands free: he goes on where he was. */
static bool suits_better(const struct wh_order_step *a, const struct wh_order_step *b)
{
    if (a->start < b->start || a->start > b->start) return a->start < b->start;
    if (a->change < b->change || a->change > b->change) return a->change < b->change;
    return a->waited < b->waited;
}

struct wh_order_step wh_order_best_step(const struct wh_order_timer *timer, size_t task, size_t i, int only,
                                        double since)
{
    double from = wh_order_later(wh_order_later(since, ready(timer, task)), unused(timer, task, i));
    struct wh_order_step best = {.start = INFINITY};
    for (int f = 0; f < timer->leading; f++) {
        if (only >= 0 && f != only) continue;
        struct wh_order_step step = lead(timer, task, i, f, from);
        if (suits_better(&step, &best)) best = step;
    }
    return best;
}
