#include "order_brute.h"

#include "order_sample.h"

#include <math.h>

/* All orders of a problem: the choices of ways one by one, of each all sequences. */
struct brute {
    const struct wh_order_problem *problem;
    int way[NEEDS];
    bool chosen[TASKS];
    size_t sequence[TASKS];
    size_t count, place[TASKS];
    double start[TASKS], end[TASKS], least[TASKS];
    double best;
    struct wh_order_timer *timer; /* of several fitters, or NULL */
};

static bool is_before(const struct brute *b, size_t t, size_t i)
{
    return b->place[t] < i;
}

static bool is_open(const struct brute *b, const struct wh_order_way *set, size_t i)
{
    for (size_t k = 0; k < set->count; k++) {
        const struct wh_order_window *window = &b->problem->windows[set->tasks[k]];
        if (is_before(b, window->opens, i) && !is_before(b, window->closes, i)) return true;
    }
    return false;
}

/* One fitter works off the sequence, starting nothing before its `least`. */
static double work_off(struct brute *b)
{
    const struct wh_order_problem *p = b->problem;
    double now = 0, last = 0;
    int held[WH_ORDER_DIMENSIONS];
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) held[d] = p->dimensions[d].start;
    for (size_t i = 0; i < b->count; i++) {
        size_t t = b->sequence[i];
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
            int to = p->tasks[t].set_up[d], from = held[d];
            if (to < 0 || to == from) continue;
            held[d] = to;
            if (from < 0) continue;
            now += p->dimensions[d].cost[(size_t)from * p->dimensions[d].values + (size_t)to];
            for (size_t s = 0; s < p->dimensions[d].open_set_count; s++) {
                if (!is_open(b, &p->dimensions[d].open_sets[s], i)) return INFINITY;
            }
        }
        double start = fmax(now, b->least[t]);
        for (size_t k = 0; k < p->link_count; k++) {
            const struct wh_order_link *link = &p->links[k];
            if (link->after == t && b->chosen[link->first]) start = fmax(start, b->end[link->first] + link->least);
        }
        for (size_t k = 0; k < p->need_count; k++) {
            if (p->needs[k].task != t || !p->needs[k].before) continue;
            const struct wh_order_way *way = &p->needs[k].ways[b->way[k]];
            for (size_t m = 0; m < way->count; m++) start = fmax(start, b->end[way->tasks[m]]);
        }
        b->start[t] = start;
        b->end[t] = start + p->tasks[t].minutes;
        now = p->tasks[t].alone ? start : b->end[t];
        last = fmax(last, b->end[t]);
    }
    return last;
}

/* The greatest waits push first tasks back until they hold, or for ever. */
static double timed(struct brute *b)
{
    for (size_t t = 0; t < TASKS; t++) b->least[t] = 0;
    for (int round = 0; round < 40; round++) {
        double cost = work_off(b);
        bool late = false;
        for (size_t k = 0; k < b->problem->link_count && isfinite(cost); k++) {
            const struct wh_order_link *link = &b->problem->links[k];
            if (!b->chosen[link->first] || !b->chosen[link->after]) continue;
            double least = b->start[link->after] - link->most - b->problem->tasks[link->first].minutes;
            if (least <= b->start[link->first] + 1e-9) continue;
            b->least[link->first] = least;
            late = true;
        }
        if (!late) return cost;
    }
    return INFINITY;
}

/* Does task t begin a use while another of the same thing goes on? */
static bool is_in_use(const struct brute *b, size_t t, size_t i)
{
    const struct wh_order_problem *p = b->problem;
    for (size_t u = 0; u < p->use_count; u++) {
        for (size_t k = 0; k < p->use_count; k++) {
            const struct wh_order_use *use = &p->uses[u], *other = &p->uses[k];
            if (k == u || use->from != t || other->thing != use->thing || !b->chosen[use->to] || !b->chosen[other->to])
                continue;
            if (is_before(b, other->from, i) && !is_before(b, other->to, i)) return true;
        }
    }
    return false;
}

/* May task t stand at place i, after those placed so far? */
static bool may_stand(const struct brute *b, size_t t, size_t i)
{
    const struct wh_order_problem *p = b->problem;
    if (is_in_use(b, t, i)) return false;
    for (size_t k = 0; k < p->link_count; k++) {
        const struct wh_order_link *link = &p->links[k];
        if (!b->chosen[link->first] || !b->chosen[link->after]) continue;
        if (link->after == t && !is_before(b, link->first, i)) return false;
        if (link->joined && link->after == t && b->place[link->first] + 1 != i) return false;
        if (link->joined && i > 0 && link->first == b->sequence[i - 1] && link->after != t) return false;
    }
    for (size_t k = 0; k < p->need_count; k++) {
        if (p->needs[k].task != t || !p->needs[k].before) continue;
        const struct wh_order_way *way = &p->needs[k].ways[b->way[k]];
        for (size_t m = 0; m < way->count; m++) {
            if (!is_before(b, way->tasks[m], i)) return false;
        }
    }
    return true;
}

static void all_sequences(struct brute *b, size_t i)
{
    if (i == b->count) {
        b->best = fmin(b->best, b->timer ? wh_order_time(b->timer, b->sequence, b->count) : timed(b));
        return;
    }
    for (size_t t = 0; t < b->problem->task_count; t++) {
        if (!b->chosen[t] || is_before(b, t, i) || !may_stand(b, t, i)) continue;
        b->sequence[i] = t;
        b->place[t] = i;
        all_sequences(b, i + 1);
        b->place[t] = TASKS;
    }
}

static void all_choices(struct brute *b)
{
    const struct wh_order_problem *p = b->problem;
    for (size_t k = 0; k < p->need_count; k++) {
        const struct wh_order_need *need = &p->needs[k];
        if (!b->chosen[need->task] || b->way[k] >= 0) continue;
        struct brute kept = *b;
        for (size_t w = 0; w < need->way_count; w++) {
            double best = b->best;
            *b = kept;
            b->best = best;
            b->way[k] = (int)w;
            for (size_t m = 0; m < need->ways[w].count; m++) b->chosen[need->ways[w].tasks[m]] = true;
            all_choices(b);
        }
        return;
    }
    for (size_t i = 0; i < p->rival_count; i++)
        if (b->chosen[p->rivals[i].one] && b->chosen[p->rivals[i].other]) return;
    b->count = 0;
    for (size_t t = 0; t < p->task_count; t++) b->count += b->chosen[t];
    for (size_t t = 0; t < TASKS; t++) b->place[t] = TASKS;
    all_sequences(b, 0);
}

double brute_cheapest(const struct wh_order_problem *problem, struct wh_order_timer *timer)
{
    struct brute b = {.problem = problem, .best = INFINITY, .timer = timer};
    for (size_t k = 0; k < NEEDS; k++) b.way[k] = -1;
    for (size_t t = 0; t < problem->task_count; t++) b.chosen[t] = problem->tasks[t].wanted;
    all_choices(&b);
    return b.best;
}
