#include "order/timing.h"

#include "order/done.h"
#include "order/job.h"

#include <math.h>
#include <string.h>

/* What is asked of each task again and again: the dimensions whose windows it closes; whether it begins a use. */
static void index_tasks(struct wh_arena *arena, struct wh_order_timer *timer)
{
    const struct wh_order_problem *p = timer->problem;
    timer->shuts = WH_NEW(arena, p->task_count, unsigned char);
    timer->uses = WH_NEW(arena, p->task_count, bool);
    for (size_t u = 0; u < p->use_count; u++) timer->uses[p->uses[u].from] = true;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++)
        for (size_t s = 0; s < p->dimensions[d].open_set_count; s++) {
            const struct wh_order_way *set = &p->dimensions[d].open_sets[s];
            for (size_t k = 0; k < set->count; k++) {
                unsigned char *shuts = &timer->shuts[p->windows[set->tasks[k]].closes];
                *shuts = (unsigned char)(*shuts | 1U << d);
            }
        }
}

struct wh_order_timer *wh_order_timer_new(struct wh_arena *arena, const struct wh_order_problem *problem)
{
    struct wh_order_timer *timer = WH_NEW(arena, 1, struct wh_order_timer);
    size_t n = problem->task_count, count = 0;
    timer->problem = problem;
    timer->place = WH_NEW(arena, n, size_t);
    timer->least_start = WH_NEW(arena, n, double);
    timer->at = WH_NEW(arena, n, struct wh_order_step);
    timer->joined = WH_NEW(arena, n, bool);
    timer->links_into = WH_NEW(arena, n + 1, size_t);
    timer->links = WH_NEW(arena, problem->link_count, size_t);
    for (size_t t = 0; t < n; t++) {
        timer->links_into[t] = count;
        for (size_t i = 0; i < problem->link_count; i++) {
            if (problem->links[i].after == t) timer->links[count++] = i;
        }
    }
    timer->links_into[n] = count;
    timer->needs_of = WH_NEW(arena, n + 1, size_t);
    timer->needs = WH_NEW(arena, problem->need_count, size_t);
    count = 0;
    for (size_t t = 0; t < n; t++) {
        timer->needs_of[t] = count;
        for (size_t i = 0; i < problem->need_count; i++) {
            if (problem->needs[i].task == t) timer->needs[count++] = i;
        }
    }
    timer->needs_of[n] = count;
    index_tasks(arena, timer);
    return timer;
}

static bool stands(const struct wh_order_timer *timer, size_t task)
{
    return timer->place[task] != WH_ORDER_NONE;
}

/* Is a way taken: all its tasks are done, and before `task` when that is asked; and it is the way chosen? */
static bool way_taken(const struct wh_order_timer *timer, const struct wh_order_need *need,
                      const struct wh_order_way *way)
{
    if (timer->way && way != &need->ways[timer->way[need - timer->problem->needs]]) return false;
    for (size_t i = 0; i < way->count; i++) {
        if (!stands(timer, way->tasks[i])) return false;
        if (need->before && timer->place[way->tasks[i]] >= timer->place[need->task]) return false;
    }
    return true;
}

static bool needs_met(const struct wh_order_timer *timer)
{
    const struct wh_order_problem *p = timer->problem;
    for (size_t t = 0; t < p->task_count; t++) {
        if (p->tasks[t].wanted && !stands(timer, t)) return false;
    }
    for (size_t i = 0; i < p->need_count; i++) {
        const struct wh_order_need *need = &p->needs[i];
        bool met = !stands(timer, need->task);
        for (size_t w = 0; w < need->way_count && !met; w++) met = way_taken(timer, need, &need->ways[w]);
        if (!met) return false;
    }
    return true;
}

static bool rivals_apart(const struct wh_order_timer *timer)
{
    for (size_t i = 0; i < timer->problem->rival_count; i++) {
        const struct wh_order_rivals *rivals = &timer->problem->rivals[i];
        if (stands(timer, rivals->one) && stands(timer, rivals->other)) return false;
    }
    return true;
}

static bool links_kept(struct wh_order_timer *timer)
{
    const struct wh_order_problem *p = timer->problem;
    memset(timer->joined, 0, p->task_count * sizeof *timer->joined);
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_link *link = &p->links[i];
        if (!stands(timer, link->first) || !stands(timer, link->after)) continue;
        size_t first = timer->place[link->first], after = timer->place[link->after];
        if (link->joined ? after != first + 1 : after <= first) return false;
        if (link->joined) timer->joined[link->after] = true;
    }
    return true;
}

static bool placed(struct wh_order_timer *timer, const size_t sequence[], size_t n)
{
    for (size_t t = 0; t < timer->problem->task_count; t++) timer->place[t] = WH_ORDER_NONE;
    for (size_t i = 0; i < n; i++) {
        if (sequence[i] >= timer->problem->task_count || stands(timer, sequence[i])) return false;
        timer->place[sequence[i]] = i;
    }
    for (size_t i = 0; i < timer->problem->done_count; i++)
        if (timer->place[timer->problem->done[i]] != i) return false;
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
        if (p->uses[u].from != task || !stands(timer, p->uses[u].to)) continue;
        for (size_t k = 0; k < p->use_count; k++) {
            const struct wh_order_use *other = &p->uses[k];
            bool begun = other->thing == p->uses[u].thing && timer->place[other->from] < i && stands(timer, other->to);
            if (k == u || !begun) continue;
            if (timer->place[other->to] >= i) return INFINITY;
            free = wh_order_later(free, timer->at[timer->place[other->from]].start);
            free = wh_order_later(free, timer->at[timer->place[other->to]].start);
        }
    }
    return free;
}

/* The earliest start that what came before allows, whoever does it. */
static double ready(const struct wh_order_timer *timer, size_t task)
{
    const struct wh_order_problem *p = timer->problem;
    double start = wh_order_later(timer->least_start[task], may_close(timer, task));
    for (size_t i = timer->links_into[task]; i < timer->links_into[task + 1]; i++) {
        const struct wh_order_link *link = &p->links[timer->links[i]];
        if (stands(timer, link->first))
            start = wh_order_later(start, timer->at[timer->place[link->first]].end + link->least);
    }
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        bool waits_for_change = p->dimensions[d].shared && p->tasks[task].set_up[d] != WH_ORDER_ANY;
        if (waits_for_change) start = wh_order_later(start, timer->changed[d]);
    }
    return start;
}

/* Needs that ask for an earlier task: it has to have ended. The way that ended first counts. */
static double needs_ended(const struct wh_order_timer *timer, size_t task)
{
    const struct wh_order_problem *p = timer->problem;
    double start = 0;
    for (size_t i = timer->needs_of[task]; i < timer->needs_of[task + 1]; i++) {
        const struct wh_order_need *need = &p->needs[timer->needs[i]];
        if (!need->before) continue;
        double first = INFINITY;
        for (size_t w = 0; w < need->way_count; w++) {
            if (!way_taken(timer, need, &need->ways[w])) continue;
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

/* Books a step: who is held until when, and the set-up it leaves. */
static void book(struct wh_order_timer *timer, const struct wh_order_step *step)
{
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

static void begin(struct wh_order_timer *timer)
{
    for (int f = 0; f < 4; f++) {
        timer->fitters[f] = 0;
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) timer->value[f][d] = timer->problem->dimensions[d].start;
    }
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) timer->used[d] = timer->changed[d] = 0;
}

/* Who can begin first, with the least to change; then who has just got his hands free: he goes on where he was. */
static bool suits_better(const struct wh_order_step *a, const struct wh_order_step *b)
{
    if (a->start < b->start || a->start > b->start) return a->start < b->start;
    if (a->change < b->change || a->change > b->change) return a->change < b->change;
    return a->waited < b->waited;
}

/* One pass, everything as early as least_start allows. */
static double pass(struct wh_order_timer *timer, const size_t sequence[], size_t n)
{
    double end = 0;
    begin(timer);
    for (size_t i = 0; i < n; i++) {
        double from = wh_order_later(ready(timer, sequence[i]), needs_ended(timer, sequence[i]));
        from = wh_order_later(from, unused(timer, sequence[i], i));
        struct wh_order_step best = {.start = INFINITY};
        for (int f = 0; f < timer->leading; f++) {
            if (i > 0 && timer->joined[sequence[i]] && f != timer->at[i - 1].fitter) continue;
            struct wh_order_step step = lead(timer, sequence[i], i, f, from);
            if (suits_better(&step, &best)) best = step;
        }
        if (!isfinite(best.start)) return INFINITY;
        timer->at[i] = best;
        book(timer, &best);
        end = wh_order_later(end, wh_order_later(best.start, best.end));
    }
    return end;
}

/* How late a link's task comes, 0 when in time or when the link does not count. */
static double lateness(const struct wh_order_timer *timer, const struct wh_order_link *link)
{
    if (!isfinite(link->most) || !stands(timer, link->first) || !stands(timer, link->after)) return 0;
    double end = timer->at[timer->place[link->first]].end;
    double late = timer->at[timer->place[link->after]].start - end - link->most;
    return late > WH_ORDER_SLACK ? late : 0;
}

/* Puts off what is followed too late; false when nothing had to be. */
static bool put_off(struct wh_order_timer *timer)
{
    bool any = false;
    for (size_t i = 0; i < timer->problem->link_count; i++) {
        const struct wh_order_link *link = &timer->problem->links[i];
        double late = lateness(timer, link);
        if (late <= 0) continue;
        timer->least_start[link->first] = timer->at[timer->place[link->first]].start + late;
        any = true;
    }
    return any;
}

static bool rules_kept(struct wh_order_timer *timer, const size_t sequence[], size_t n)
{
    return placed(timer, sequence, n) && needs_met(timer) && rivals_apart(timer) && links_kept(timer);
}

/* Each pass that puts something off moves starts towards the least that keeps all limits, if there is one; there is
 * none when they still move after as many passes as there are tasks. */
static double led_by(struct wh_order_timer *timer, int leading, const size_t sequence[], size_t n)
{
    timer->leading = leading;
    memset(timer->least_start, 0, timer->problem->task_count * sizeof *timer->least_start);
    for (size_t tries = 0; tries <= n + 1; tries++) {
        double end = pass(timer, sequence, n);
        if (!isfinite(end) || !put_off(timer)) return end;
    }
    return INFINITY;
}

double wh_order_time(struct wh_order_timer *timer, const size_t sequence[], size_t n)
{
    if (!rules_kept(timer, sequence, n)) return INFINITY;
    double end = led_by(timer, timer->problem->fitters, sequence, n);
    return isfinite(end) || timer->problem->fitters == 1 ? end : led_by(timer, 1, sequence, n);
}

double wh_order_lateness(struct wh_order_timer *timer, const size_t sequence[], size_t n)
{
    if (!rules_kept(timer, sequence, n)) return INFINITY;
    timer->leading = timer->problem->fitters;
    memset(timer->least_start, 0, timer->problem->task_count * sizeof *timer->least_start);
    if (!isfinite(pass(timer, sequence, n))) return INFINITY;
    double sum = 0;
    for (size_t i = 0; i < timer->problem->link_count; i++) sum += lateness(timer, &timer->problem->links[i]);
    return sum;
}

double wh_order_cost(struct wh_arena *arena, const struct wh_order_problem *problem, const int way[],
                     const size_t sequence[], size_t n, struct wh_order *ret)
{
    struct wh_order_timer *timer = wh_order_timer_new(arena, wh_order_after_done(arena, problem));
    timer->way = wh_order_ways_left(arena, problem, way);
    double cost = wh_order_time(timer, sequence, n);
    if (ret && isfinite(cost)) *ret = (struct wh_order){.steps = timer->at, .step_count = n, .cost = cost};
    return cost;
}
