#include "order_sample.h"

#include <math.h>
#include <string.h>

static uint64_t next_random(uint64_t *seed)
{
    *seed += 0x9E3779B97F4A7C15U;
    uint64_t z = *seed;
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9U;
    z = (z ^ z >> 27) * 0x94D049BB133111EBU;
    return z ^ z >> 31;
}

size_t sample_below(uint64_t *seed, size_t n)
{
    return (size_t)(next_random(seed) % n);
}

static bool chance(uint64_t *seed, size_t of)
{
    return sample_below(seed, of) == 0;
}

static void make_dimension(struct sample *s, size_t d, uint64_t *seed)
{
    struct wh_order_dimension *dimension = &s->problem.dimensions[d];
    size_t n = 2 + sample_below(seed, VALUES - 1);
    for (size_t i = 0; i < n * n; i++) s->cost[d][i] = (double)(1 + sample_below(seed, 6));
    for (size_t i = 0; i < n; i++) s->cost[d][i * n + i] = 0;
    bool metric = !chance(seed, 6);
    for (size_t k = 0; metric && k < n; k++) {
        for (size_t i = 0; i < n * n; i++) {
            s->cost[d][i] = fmin(s->cost[d][i], s->cost[d][i / n * n + k] + s->cost[d][k * n + i % n]);
        }
    }
    *dimension =
        (struct wh_order_dimension){.values = n, .cost = s->cost[d], .start = (int)sample_below(seed, n + 1) - 1};
    dimension->shared = chance(seed, 2);
    if (s->problem.window_count == 0 || chance(seed, 2)) return;
    s->sets[d][0] = (struct wh_order_way){s->set_lists[d], 1 + sample_below(seed, 2)};
    for (size_t i = 0; i < 2; i++) s->set_lists[d][i] = sample_below(seed, s->problem.window_count);
    dimension->open_sets = s->sets[d];
    dimension->open_set_count = 1;
}

static void make_tasks(struct sample *s, size_t n, uint64_t *seed)
{
    bool lone = chance(seed, 2);
    for (size_t t = 0; t < n; t++) {
        struct wh_order_task *task = &s->tasks[t];
        *task = (struct wh_order_task){.minutes = (double)sample_below(seed, 8), .crew = 1 + chance(seed, 5)};
        task->wanted = !chance(seed, 3);
        task->alone = lone && chance(seed, 4);
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
            size_t values = s->problem.dimensions[d].values;
            task->set_up[d] = values && !chance(seed, 3) ? (int)sample_below(seed, values) : WH_ORDER_ANY;
        }
    }
}

/* Links mostly lead from a lower to a higher number, so that few make rings. */
static void make_links(struct sample *s, size_t n, uint64_t *seed)
{
    size_t count = sample_below(seed, n + 2);
    for (size_t i = 0; i < count && i < LINKS; i++) {
        size_t a = sample_below(seed, n), b = sample_below(seed, n);
        if (a == b) continue;
        if (a > b && !chance(seed, 30)) {
            size_t c = a;
            a = b;
            b = c;
        }
        struct wh_order_link *link = &s->links[s->problem.link_count++];
        *link = (struct wh_order_link){.first = a, .after = b, .most = INFINITY, .joined = chance(seed, 6)};
        if (chance(seed, 4)) link->least = (double)sample_below(seed, 8);
        if (chance(seed, 6)) link->most = link->least + (double)sample_below(seed, 8);
    }
}

static void make_needs(struct sample *s, size_t n, uint64_t *seed)
{
    size_t count = sample_below(seed, NEEDS + 1);
    for (size_t i = 0; i < count; i++) {
        struct wh_order_need *need = &s->needs[i];
        *need =
            (struct wh_order_need){sample_below(seed, n), chance(seed, 2), s->ways[i], 1 + sample_below(seed, WAYS)};
        for (size_t w = 0; w < need->way_count; w++) {
            s->ways[i][w] = (struct wh_order_way){s->lists[i][w], 1 + sample_below(seed, 2)};
            for (size_t k = 0; k < 2; k++) s->lists[i][w][k] = sample_below(seed, n);
        }
    }
    s->problem.need_count = count;
}

/* Most uses last from a task to one that waits for it, as warming does. */
static void make_uses(struct sample *s, size_t n, uint64_t *seed)
{
    struct wh_order_problem *p = &s->problem;
    size_t count = chance(seed, 2) ? sample_below(seed, USES + 1) : 0;
    for (size_t u = 0; u < count; u++) {
        size_t from = sample_below(seed, n), to = (from + 1 + sample_below(seed, n - 1)) % n;
        if (p->link_count > 0 && !chance(seed, 4)) {
            const struct wh_order_link *link = &s->links[sample_below(seed, p->link_count)];
            from = link->first;
            to = link->after;
        }
        s->uses[p->use_count++] = (struct wh_order_use){sample_below(seed, 2), from, to};
    }
}

static void make_rivals(struct sample *s, size_t n, uint64_t *seed)
{
    struct wh_order_problem *p = &s->problem;
    for (size_t i = 0; i < RIVALS && chance(seed, 4); i++) {
        size_t one = sample_below(seed, n), other = (one + 1 + sample_below(seed, n - 1)) % n;
        if (!s->tasks[one].wanted || !s->tasks[other].wanted)
            s->rivals[p->rival_count++] = (struct wh_order_rivals){one, other};
    }
}

void sample_make(struct sample *s, uint64_t seed)
{
    memset(s, 0, sizeof *s);
    size_t n = 2 + sample_below(&seed, TASKS - 1);
    struct wh_order_problem *p = &s->problem;
    *p = (struct wh_order_problem){.tasks = s->tasks,
                                   .task_count = n,
                                   .needs = s->needs,
                                   .links = s->links,
                                   .windows = s->windows,
                                   .uses = s->uses,
                                   .rivals = s->rivals,
                                   .fitters = 1,
                                   .keep = (double)sample_below(&seed, 3)};
    p->window_count = sample_below(&seed, WINDOWS + 1);
    size_t dimensions = 1 + sample_below(&seed, WH_ORDER_DIMENSIONS);
    for (size_t d = 0; d < dimensions; d++) make_dimension(s, d, &seed);
    for (size_t d = dimensions; d < WH_ORDER_DIMENSIONS; d++) p->dimensions[d].start = WH_ORDER_ANY;
    make_tasks(s, n, &seed);
    make_links(s, n, &seed);
    make_needs(s, n, &seed);
    for (size_t w = 0; w < p->window_count; w++) {
        s->windows[w] = (struct wh_order_window){sample_below(&seed, n), sample_below(&seed, n)};
        s->tasks[s->windows[w].opens].alone = false;
    }
    make_uses(s, n, &seed);
    make_rivals(s, n, &seed);
    if (chance(&seed, 4)) p->enough = (double)sample_below(&seed, 6);
}
