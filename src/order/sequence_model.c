#include "order/sequence_model.h"

#include "order/sequence_twins.h"

#include <math.h>
#include <string.h>

/* The tasks in the caller's numbers, with the added ends after them. */
struct draft {
    const struct wh_sequence_problem *problem;
    struct wh_arena *arena;
    struct wh_errors *errors;
    size_t n, words, start, end;
    uint64_t *before, *after;
    size_t *sorted, placed; /* each after all that come before it; how many */
};

static enum wh_status refuse(const struct draft *d, const char *right, const char *says)
{
    return wh_errors_add(d->errors, WH_ERR_INPUT, (struct wh_place){0}, right, "%s", says);
}

static enum wh_status check_problem(const struct draft *d)
{
    const struct wh_sequence_problem *p = d->problem;
    struct wh_arena *arena = d->arena;
    if (p->count == 0 || p->count > WH_SEQUENCE_MOST) {
        return refuse(d, wh_arena_print(arena, "1 to %d tasks", WH_SEQUENCE_MOST),
                      wh_arena_print(arena, "%zu tasks cannot be put in order", p->count));
    }
    for (size_t i = 0; i < p->count * p->count; i++) {
        double cost = p->cost[i];
        if (i / p->count == i % p->count || isfinite(cost) || (isinf(cost) && cost > 0)) continue;
        return refuse(d, "a number, or infinity for what is not allowed",
                      wh_arena_print(arena, "the step from task %zu to task %zu has no cost", i / p->count + 1,
                                     i % p->count + 1));
    }
    for (size_t k = 0; k < p->before_count; k++) {
        struct wh_sequence_pair pair = p->before[k];
        if (pair.first < p->count && pair.after < p->count) continue;
        return refuse(d, NULL,
                      wh_arena_print(arena, "task %zu before task %zu: there are %zu tasks", pair.first + 1,
                                     pair.after + 1, p->count));
    }
    int most = (int)p->count - 1;
    if (p->start > most || p->end > most || p->start < WH_SEQUENCE_FREE || p->end < WH_SEQUENCE_FREE ||
        (p->start >= 0 && p->start == p->end && p->count > 1)) {
        return refuse(d, NULL, "the start or the end is not a task of its own");
    }
    return WH_OK;
}

static void add_pair(struct draft *d, size_t first, size_t after)
{
    if (first == after) return;
    wh_sequence_put(&d->before[after * d->words], first);
}

static void draw_pairs(struct draft *d)
{
    for (size_t k = 0; k < d->problem->before_count; k++) {
        struct wh_sequence_pair pair = d->problem->before[k];
        wh_sequence_put(&d->before[pair.after * d->words], pair.first);
    }
    for (size_t t = 0; t < d->n; t++) {
        add_pair(d, d->start, t);
        add_pair(d, t, d->end);
    }
}

/* Sorts the tasks so that each comes after all before it, and closes the sets over them. False: a ring. */
static bool close_pairs(struct draft *d)
{
    size_t words = d->words;
    bool *placed = WH_NEW(d->arena, d->n, bool);
    uint64_t *done = WH_NEW(d->arena, words, uint64_t);
    for (bool more = true; more;) {
        more = false;
        for (size_t t = 0; t < d->n; t++) {
            uint64_t *before = &d->before[t * words], missing = 0;
            for (size_t w = 0; w < words; w++) missing |= before[w] & ~done[w];
            if (placed[t] || missing) continue;
            for (size_t b = 0; b < d->n; b++) {
                if (!wh_sequence_has(before, b)) continue;
                for (size_t w = 0; w < words; w++) before[w] |= d->before[b * words + w];
            }
            placed[t] = more = true;
            wh_sequence_put(done, t);
            d->sorted[d->placed++] = t;
        }
    }
    for (size_t t = 0; t < d->n; t++) {
        for (size_t b = 0; b < d->n; b++) {
            if (wh_sequence_has(&d->before[t * words], b)) wh_sequence_put(&d->after[b * words], t);
        }
    }
    return d->placed == d->n;
}

/* From a task that was never placed back over such tasks, as often as there are tasks, leads into a ring. */
static enum wh_status refuse_ring(const struct draft *d)
{
    uint64_t *placed = WH_NEW(d->arena, d->words, uint64_t);
    for (size_t i = 0; i < d->placed; i++) wh_sequence_put(placed, d->sorted[i]);
    size_t t = 0;
    while (wh_sequence_has(placed, t)) t++;
    for (size_t step = 0; step < d->n; step++) {
        size_t b = 0;
        while (wh_sequence_has(placed, b) || !wh_sequence_has(&d->before[t * d->words], b)) b++;
        t = b;
    }
    return refuse(d, "take one of the pairs out",
                  wh_arena_print(d->arena, "task %zu waits, itself or over others, for itself", t + 1));
}

static size_t size_of(const uint64_t *set, size_t words)
{
    size_t size = 0;
    for (size_t w = 0; w < words; w++) size += (size_t)__builtin_popcountll(set[w]);
    return size;
}

/* Numbers the tasks by the middle of their places; those with the same middle stay as sorted. */
static void number(struct draft *d, struct wh_sequence_model *m)
{
    size_t *twice = WH_NEW(d->arena, d->n, size_t);
    for (size_t t = 0; t < d->n; t++) {
        size_t before = size_of(&d->before[t * d->words], d->words), after = size_of(&d->after[t * d->words], d->words);
        twice[t] = before + d->n - 1 - after;
    }
    for (size_t i = 0; i < d->n; i++) {
        size_t t = d->sorted[i], at = i;
        for (; at > 0 && twice[m->task[at - 1]] > twice[t]; at--) m->task[at] = m->task[at - 1];
        m->task[at] = t;
    }
}

static double cost_of(const struct draft *d, size_t from, size_t to)
{
    size_t count = d->problem->count;
    return from < count && to < count ? d->problem->cost[from * count + to] : 0;
}

static void fill_sets(const struct draft *d, struct wh_sequence_model *m)
{
    for (size_t i = 0; i < m->n; i++) {
        for (size_t j = 0; j < m->n; j++) {
            if (!wh_sequence_has(&d->before[m->task[i] * d->words], m->task[j])) continue;
            wh_sequence_put(&m->before[i * m->words], j);
            wh_sequence_put(&m->after[j * m->words], i);
        }
    }
    for (size_t i = 0; i < m->n; i++) {
        m->early[i] = size_of(&m->before[i * m->words], m->words);
        m->late[i] = m->n - 1 - size_of(&m->after[i * m->words], m->words);
    }
}

/* A step is in no sequence when it goes back, or passes a task that has to stand in between. */
static void fill_costs(const struct draft *d, struct wh_sequence_model *m)
{
    for (size_t i = 0; i < m->n; i++) {
        for (size_t j = 0; j < m->n; j++) {
            bool open = i != j && !wh_sequence_has(&m->before[i * m->words], j);
            for (size_t w = 0; w < m->words; w++)
                open = open && !(m->after[i * m->words + w] & m->before[j * m->words + w]);
            m->cost[i * m->n + j] = open ? cost_of(d, m->task[i], m->task[j]) : INFINITY;
        }
    }
}

static uint64_t common_divisor(uint64_t a, uint64_t b)
{
    while (b) {
        uint64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* The greatest number, down to a 1024th, that all costs are multiples of; 0: there is none. */
static double grain_of(const struct wh_sequence_model *m)
{
    uint64_t grain = 0;
    for (size_t i = 0; i < m->n * m->n; i++) {
        double parts = fabs(m->cost[i]) * 1024;
        if (isinf(parts)) continue;
        if (parts > 0x1p40 || trunc(parts) < parts) return 0;
        grain = common_divisor((uint64_t)parts, grain);
    }
    return (double)grain / 1024;
}

static void allocate(struct wh_arena *arena, struct wh_sequence_model *m, size_t n)
{
    m->n = n;
    m->words = (n + 63) / 64;
    m->cost = WH_NEW(arena, n * n, double);
    m->before = WH_NEW(arena, n * m->words, uint64_t);
    m->after = WH_NEW(arena, n * m->words, uint64_t);
    m->early = WH_NEW(arena, n, size_t);
    m->late = WH_NEW(arena, n, size_t);
    m->task = WH_NEW(arena, n, size_t);
}

enum wh_status wh_sequence_model_make(struct wh_arena *arena, const struct wh_sequence_problem *problem,
                                      struct wh_sequence_model *ret, struct wh_errors *reterr)
{
    struct draft d = {.problem = problem, .arena = arena, .errors = reterr};
    enum wh_status status = check_problem(&d);
    if (status != WH_OK) return status;
    d.n = problem->count;
    d.start = problem->start >= 0 ? (size_t)problem->start : d.n++;
    d.end = problem->end >= 0 ? (size_t)problem->end : d.n++;
    d.words = (d.n + 63) / 64;
    d.before = WH_NEW(arena, d.n * d.words, uint64_t);
    d.after = WH_NEW(arena, d.n * d.words, uint64_t);
    d.sorted = WH_NEW(arena, d.n, size_t);
    draw_pairs(&d);
    if (!close_pairs(&d)) return refuse_ring(&d);
    wh_sequence_order_twins(problem, &(struct wh_sequence_sets){d.n, d.words, d.before, d.after});
    struct wh_sequence_model m;
    allocate(arena, &m, d.n);
    number(&d, &m);
    fill_sets(&d, &m);
    fill_costs(&d, &m);
    m.grain = grain_of(&m);
    *ret = m;
    return WH_OK;
}
