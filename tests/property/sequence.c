/* Small random sequencing problems against all their sequences.
 *
 * sequence [SEED [CASES]] prints one TAP line a property; a failing case is named by its number. */
#include "order/sequence.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TASKS = 9, PAIRS = 20 };

/* Knuth's MMIX generator; its high bits. */
static uint64_t state;

static size_t draw(size_t below)
{
    state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (size_t)(state >> 33) % below;
}

struct sample {
    struct wh_sequence_problem problem;
    double cost[TASKS * TASKS];
    struct wh_sequence_pair before[PAIRS];
    double least; /* by trying all */
};

/* Pairs go up in a random numbering, so that they are never a ring, but for one case in twenty. */
static void draw_pairs(struct sample *s)
{
    struct wh_sequence_problem *p = &s->problem;
    size_t rank[TASKS], n = p->count;
    for (size_t t = 0; t < n; t++) rank[t] = draw(100);
    if (p->start >= 0) rank[p->start] = 0;
    if (p->end >= 0) rank[p->end] = 200;
    size_t wanted = n > 1 ? draw(2 * n) : 0;
    for (size_t k = 0; k < wanted; k++) {
        size_t a = draw(n), b = draw(n);
        if (rank[a] < rank[b]) s->before[p->before_count++] = (struct wh_sequence_pair){a, b};
    }
    if (draw(20) == 0 && n > 1) s->before[p->before_count++] = (struct wh_sequence_pair){draw(n), draw(n)};
}

static void draw_costs(struct sample *s)
{
    size_t kind = draw(5), shut = draw(4) ? 0 : draw(60), most = kind == 0 ? 3 : kind == 1 ? 1000 : 20;
    for (size_t i = 0; i < s->problem.count * s->problem.count; i++) {
        double cost = (double)draw(most + 1);
        if (kind == 2) cost /= 7;
        if (kind == 3) cost -= 10;
        if (kind == 4) cost *= 2.5;
        s->cost[i] = draw(100) < shut ? INFINITY : cost;
    }
}

/* Two tasks that cost the same. */
static void draw_twins(struct sample *s)
{
    size_t n = s->problem.count, a = draw(n), b = draw(n);
    for (size_t t = 0; t < n; t++) {
        if (t == a || t == b) continue;
        s->cost[b * n + t] = s->cost[a * n + t];
        s->cost[t * n + b] = s->cost[t * n + a];
    }
    s->cost[b * n + a] = s->cost[a * n + b];
}

static void draw_sample(struct sample *s, uint64_t number)
{
    state = number * UINT64_C(0x9e3779b97f4a7c15) + 1;
    memset(s, 0, sizeof *s);
    struct wh_sequence_problem *p = &s->problem;
    *p = (struct wh_sequence_problem){1 + draw(TASKS - 1), s->cost, s->before, 0, WH_SEQUENCE_FREE, WH_SEQUENCE_FREE};
    if (draw(20) == 0) p->count = TASKS;
    if (draw(3)) p->start = (int)draw(p->count);
    if (draw(3)) p->end = (int)draw(p->count);
    if (p->start == p->end && p->count > 1) p->end = WH_SEQUENCE_FREE;
    draw_pairs(s);
    draw_costs(s);
    for (size_t twins = draw(4); twins > 0; twins--) draw_twins(s);
}

/* All sequences, task by task; a branch ends where a rule breaks. */
struct brute {
    struct sample *sample;
    size_t at[TASKS], count;
    bool done[TASKS];
};

static bool may_follow(const struct brute *b, size_t t)
{
    const struct wh_sequence_problem *p = &b->sample->problem;
    if (b->done[t] || (b->count == 0 && p->start >= 0 && t != (size_t)p->start)) return false;
    if (b->count + 1 == p->count && p->end >= 0 && t != (size_t)p->end) return false;
    for (size_t k = 0; k < p->before_count; k++) {
        if (p->before[k].after == t && !b->done[p->before[k].first]) return false;
    }
    return true;
}

static void try_all(struct brute *b, double cost)
{
    const struct wh_sequence_problem *p = &b->sample->problem;
    if (b->count == p->count) {
        b->sample->least = fmin(b->sample->least, cost);
        return;
    }
    for (size_t t = 0; t < p->count; t++) {
        if (!may_follow(b, t)) continue;
        double step = b->count ? p->cost[b->at[b->count - 1] * p->count + t] : 0;
        if (isinf(step)) continue;
        b->at[b->count++] = t;
        b->done[t] = true;
        try_all(b, cost + step);
        b->done[t] = false;
        b->count--;
    }
}

enum property { LEAST, BOUND, RULES, TWICE, LIMITS, NONE, PROPERTIES };
static const char *const words[PROPERTIES] = {
    "the proven cost is the least of all sequences",
    "no bound is above the least cost, however early the search ends",
    "each sequence has every task once, keeps the rules and costs what is said",
    "the same problem gives the same answer again",
    "the limits of nodes and memory are kept",
    "where no sequence is allowed, and only there, the solver says so"};

struct trial {
    struct sample sample;
    uint64_t number;
    bool failed[PROPERTIES];
    uint64_t first[PROPERTIES];
};

static void hold(struct trial *t, enum property property, bool holds)
{
    if (holds || t->failed[property]) return;
    t->failed[property] = true;
    t->first[property] = t->number;
}

static bool same(double a, double b)
{
    return (isinf(a) && isinf(b)) || fabs(a - b) <= 1e-9 * fmax(1, fabs(a));
}

static void hold_sequence(struct trial *t, const struct wh_sequence *found)
{
    const struct wh_sequence_problem *p = &t->sample.problem;
    bool done[TASKS] = {false}, well = true;
    hold(t, BOUND, found->bound <= t->sample.least + 1e-9 * fmax(1, fabs(t->sample.least)));
    if (!found->tasks) {
        hold(t, RULES, isinf(found->cost));
        return;
    }
    for (size_t i = 0; i < p->count; i++) {
        well = well && found->tasks[i] < p->count && !done[found->tasks[i]];
        if (well) done[found->tasks[i]] = true;
    }
    hold(t, RULES, well && same(wh_sequence_cost(p, found->tasks), found->cost));
}

static enum wh_status solve(struct wh_arena *arena, const struct trial *t, uint64_t nodes, struct wh_sequence *ret)
{
    struct wh_errors errors = wh_errors_in(arena);
    /* In every second case too little memory for the search over sets: branch and bound has to do it. */
    size_t bytes = t->number % 2 ? 8 << 20 : 300 << 10;
    struct wh_sequence_limits limits = {.nodes = nodes, .bytes = bytes, .seed = t->number};
    return wh_sequence_solve(arena, &t->sample.problem, &limits, ret, &errors);
}

static enum wh_status try_sample(struct wh_arena *arena, void *context)
{
    struct trial *t = context;
    struct wh_sequence full, again, part;
    enum wh_status status = solve(arena, t, 0, &full);
    hold(t, NONE, (status == WH_ERR_INPUT) == (bool)isinf(t->sample.least));
    if (status != WH_OK) return WH_OK;
    hold(t, LEAST, full.stop == WH_SEQUENCE_PROVEN && same(full.cost, t->sample.least));
    hold_sequence(t, &full);
    size_t size = t->sample.problem.count * sizeof(size_t);
    bool well = solve(arena, t, 0, &again) == WH_OK && again.nodes == full.nodes;
    hold(t, TWICE, well && memcmp(full.tasks, again.tasks, size) == 0);
    uint64_t nodes = 1 + t->number % 150;
    status = solve(arena, t, nodes, &part);
    hold(t, LIMITS, status == WH_OK && part.nodes <= nodes + 100);
    if (status != WH_OK) return WH_OK;
    hold(t, LIMITS, part.stop == WH_SEQUENCE_PROVEN || (part.stop == WH_SEQUENCE_NODES && part.nodes >= nodes));
    hold(t, LEAST, part.stop != WH_SEQUENCE_PROVEN || same(part.cost, t->sample.least));
    hold_sequence(t, &part);
    return WH_OK;
}

int main(int argc, char **argv)
{
    uint64_t seed = argc > 1 ? strtoull(argv[1], NULL, 10) : 1, cases = argc > 2 ? strtoull(argv[2], NULL, 10) : 3000;
    static struct trial t;
    for (uint64_t i = 0; i < cases; i++) {
        t.number = seed * UINT64_C(1000000) + i;
        draw_sample(&t.sample, t.number);
        struct brute brute = {.sample = &t.sample};
        t.sample.least = INFINITY;
        try_all(&brute, 0);
        hold(&t, LIMITS, wh_arena_run((size_t)64 << 20, try_sample, &t) == WH_OK);
    }
    printf("1..%d\n", PROPERTIES);
    unsigned long failed = 0;
    for (int k = 0; k < PROPERTIES; k++) {
        failed += t.failed[k];
        printf("%s %d - %s\n", t.failed[k] ? "not ok" : "ok", k + 1, words[k]);
        if (t.failed[k]) printf("# first at case %llu\n", (unsigned long long)t.first[k]);
    }
    return failed == 0 ? 0 : 1;
}
