#include "order/timing.h"

#include "order/done.h"
#include "order/timing_step.h"

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

static bool needs_met(const struct wh_order_timer *timer)
{
    const struct wh_order_problem *p = timer->problem;
    for (size_t t = 0; t < p->task_count; t++) {
        if (p->tasks[t].wanted && !wh_order_stands(timer, t)) return false;
    }
    for (size_t i = 0; i < p->need_count; i++) {
        const struct wh_order_need *need = &p->needs[i];
        bool met = !wh_order_stands(timer, need->task);
        for (size_t w = 0; w < need->way_count && !met; w++) met = wh_order_way_taken(timer, need, &need->ways[w]);
        if (!met) return false;
    }
    return true;
}

static bool rivals_apart(const struct wh_order_timer *timer)
{
    for (size_t i = 0; i < timer->problem->rival_count; i++) {
        const struct wh_order_rivals *rivals = &timer->problem->rivals[i];
        if (wh_order_stands(timer, rivals->one) && wh_order_stands(timer, rivals->other)) return false;
    }
    return true;
}

static bool links_kept(struct wh_order_timer *timer)
{
    const struct wh_order_problem *p = timer->problem;
    memset(timer->joined, 0, p->task_count * sizeof *timer->joined);
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_link *link = &p->links[i];
        if (!wh_order_stands(timer, link->first) || !wh_order_stands(timer, link->after)) continue;
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
        if (sequence[i] >= timer->problem->task_count || wh_order_stands(timer, sequence[i])) return false;
        timer->place[sequence[i]] = i;
    }
    for (size_t i = 0; i < timer->problem->done_count; i++)
        if (timer->place[timer->problem->done[i]] != i) return false;
    return true;
}

/* One pass, everything as early as least_start allows. */
static double pass(struct wh_order_timer *timer, const size_t sequence[], size_t n)
{
    double end = 0;
    wh_order_begin(timer);
    for (size_t i = 0; i < n; i++) {
        int only = i > 0 && timer->joined[sequence[i]] ? timer->at[i - 1].fitter : -1;
        struct wh_order_step best = wh_order_best_step(timer, sequence[i], i, only, wh_order_since(timer, sequence[i]));
        if (!isfinite(best.start)) return INFINITY;
        wh_order_book(timer, i, &best);
        end = wh_order_later(end, wh_order_later(best.start, best.end));
    }
    return end;
}

/* How late a link's task comes, 0 when in time or when the link does not count. */
static double lateness(const struct wh_order_timer *timer, const struct wh_order_link *link)
{
    if (!isfinite(link->most) || !wh_order_stands(timer, link->first) || !wh_order_stands(timer, link->after)) return 0;
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
