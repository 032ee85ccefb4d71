#include "order/sequence.h"

#include "order/sequence_branch.h"
#include "order/sequence_exchange.h"
#include "order/sequence_states.h"

#include <math.h>
#include <string.h>

enum {
    USUAL_BYTES = 512 << 20,
    FIRST_WIDTH = 64,
    WIDENING = 8,
    FIRST_SWEEPS = 400,
    MORE_SWEEPS = 100,
    FIRST_TRIALS = 100000,
    FIRST_BRANCHING = 100000
};

/* A sweep with more steps than this costs more than its bound is worth. */
static const uint64_t MOST_STEPS = 40000000;

struct solving {
    const struct wh_sequence_problem *problem;
    const struct wh_sequence_limits *limits;
    struct wh_sequence *ret;
    struct wh_errors *errors;
    struct wh_sequence_run run;
    struct wh_sequence_walk walk;
    struct wh_sequence_assignment assignment;
    struct wh_sequence_exchange *exchange;
    size_t bytes, width;
    bool whole;
};

/* Always the cheapest task that may come next. */
static void begin_greedily(struct wh_sequence_run *run, struct wh_arena *arena)
{
    const struct wh_sequence_model *m = run->model;
    size_t *order = WH_NEW(arena, m->n, size_t), at = 0;
    uint64_t *done = WH_NEW(arena, m->words, uint64_t);
    wh_sequence_put(done, 0);
    for (size_t k = 1; k < m->n; k++) {
        size_t next = m->n;
        for (size_t t = 0; t < m->n; t++) {
            uint64_t missing = 0;
            for (size_t w = 0; w < m->words; w++) missing |= m->before[t * m->words + w] & ~done[w];
            if (missing || wh_sequence_has(done, t)) continue;
            if (next == m->n || m->cost[at * m->n + t] < m->cost[at * m->n + next]) next = t;
        }
        order[k] = at = next;
        wh_sequence_put(done, at);
    }
    wh_sequence_offer(run, order);
}

static enum wh_status search_states(struct wh_arena *arena, void *context)
{
    struct solving *s = context;
    s->whole = wh_sequence_states_search(arena, &s->walk, &s->run, s->width);
    return WH_OK;
}

static void try_exchanges(struct solving *s, uint64_t trials)
{
    if (isfinite(s->run.cost)) wh_sequence_exchange_improve(s->exchange, trials);
}

/* After a search of so many nodes: a cooling of some length, and then about as much work as the search was. */
static uint64_t trials_after(uint64_t nodes)
{
    uint64_t some = nodes / 8 < FIRST_TRIALS ? nodes / 8 : FIRST_TRIALS;
    return nodes / 32 > some ? nodes / 32 : some;
}

/* Wider and wider; between two searches the sequence and the bound are bettered. */
static void widen(struct solving *s, size_t most)
{
    for (s->width = FIRST_WIDTH; s->width <= most && !s->run.stopped;) {
        uint64_t nodes = s->run.nodes;
        wh_arena_run(SIZE_MAX, search_states, s);
        if (s->whole || wh_sequence_settled(&s->run) || s->width == most) return;
        s->width = s->width * WIDENING < most ? s->width * WIDENING : most;
        try_exchanges(s, trials_after(s->run.nodes - nodes));
        wh_sequence_walk_improve(&s->walk, &s->run, MORE_SWEEPS);
    }
}

/* False: there is no sequence. */
static bool assign(struct solving *s, struct wh_arena *arena)
{
    const struct wh_sequence_model *m = s->run.model;
    size_t *order = WH_NEW(arena, m->n, size_t);
    double bound = wh_sequence_assign(arena, m, &s->assignment);
    wh_sequence_raise(&s->run, bound);
    if (isinf(bound)) return false;
    wh_sequence_patch(&s->assignment, order);
    wh_sequence_offer(&s->run, order);
    s->exchange = wh_sequence_exchange_make(arena, &s->run, &s->assignment);
    return true;
}

/* No more of them, beside those of start and end, than there are tasks: an assignment is nearly a sequence. */
static bool has_few_pairs(const struct wh_sequence_model *m)
{
    size_t pairs = 0;
    for (size_t t = 1; t + 1 < m->n; t++)
        for (size_t other = 1; other + 1 < m->n; other++) pairs += wh_sequence_has(&m->after[t * m->words], other);
    return pairs <= m->n;
}

static void search(struct solving *s, struct wh_arena *arena)
{
    size_t n = s->run.model->n;
    begin_greedily(&s->run, arena);
    if (!assign(s, arena)) return;
    try_exchanges(s, 20 * n);
    struct wh_sequence_branching *b = wh_sequence_branch_make(arena, &s->run, &s->assignment, s->bytes / 3);
    bool ended = has_few_pairs(s->run.model) && wh_sequence_branch_on(b, FIRST_BRANCHING);
    if (s->run.stopped || wh_sequence_settled(&s->run)) return;
    wh_sequence_walk_make(arena, &s->assignment, &s->walk);
    size_t used = wh_arena_used(arena);
    if (s->walk.steps <= MOST_STEPS) {
        wh_sequence_walk_improve(&s->walk, &s->run, FIRST_SWEEPS);
        widen(s, used < s->bytes ? wh_sequence_states_width(&s->walk, s->bytes - used) : 0);
    }
    if (s->whole) wh_sequence_raise(&s->run, s->run.cost);
    uint64_t trials = FIRST_TRIALS; /* a longer, slower cooling each time */
    while (!s->run.stopped && !wh_sequence_settled(&s->run)) {
        if (!ended) ended = wh_sequence_branch_on(b, 10000);
        try_exchanges(s, trials);
        trials *= 2;
    }
}

static void tell(const struct solving *s)
{
    const struct wh_sequence_run *run = &s->run;
    bool settled = wh_sequence_settled(run);
    size_t count = 0;
    for (size_t i = 0; i < run->model->n; i++) {
        size_t task = run->model->task[run->best[i]];
        if (task < s->problem->count) s->ret->tasks[count++] = task;
    }
    if (isinf(run->cost)) s->ret->tasks = NULL;
    s->ret->cost = run->cost;
    s->ret->bound = settled ? run->cost : run->bound;
    s->ret->nodes = run->nodes;
    s->ret->stop = settled ? WH_SEQUENCE_PROVEN : run->stop;
}

static enum wh_status solve(struct wh_arena *arena, void *context)
{
    struct solving *s = context;
    struct wh_sequence_model model;
    enum wh_status status = wh_sequence_model_make(arena, s->problem, &model, s->errors);
    if (status != WH_OK) return status;
    s->run = (struct wh_sequence_run){.model = &model, .limits = s->limits, .cost = INFINITY, .bound = -INFINITY};
    s->run.best = WH_NEW(arena, model.n, size_t);
    s->run.started = s->limits->clock ? s->limits->clock() : 0;
    search(s, arena);
    tell(s);
    if (s->ret->stop != WH_SEQUENCE_PROVEN || s->ret->tasks) return WH_OK;
    return wh_errors_add(s->errors, WH_ERR_INPUT, (struct wh_place){0}, "allow more steps from task to task",
                         "no sequence of the tasks is allowed");
}

double wh_sequence_cost(const struct wh_sequence_problem *problem, const size_t tasks[])
{
    size_t count = problem->count;
    double cost = 0;
    if (problem->start >= 0 && tasks[0] != (size_t)problem->start) return INFINITY;
    if (problem->end >= 0 && tasks[count - 1] != (size_t)problem->end) return INFINITY;
    for (size_t i = 1; i < count; i++) cost += problem->cost[tasks[i - 1] * count + tasks[i]];
    for (size_t k = 0; k < problem->before_count; k++) {
        size_t first = count, after = 0;
        for (size_t i = 0; i < count; i++) {
            if (tasks[i] == problem->before[k].first) first = i;
            if (tasks[i] == problem->before[k].after) after = i;
        }
        if (first >= after) return INFINITY;
    }
    return cost;
}

enum wh_status wh_sequence_solve(struct wh_arena *arena, const struct wh_sequence_problem *problem,
                                 const struct wh_sequence_limits *limits, struct wh_sequence *ret,
                                 struct wh_errors *reterr)
{
    struct wh_sequence found = {.tasks = WH_NEW(arena, problem->count, size_t)};
    struct solving s = {.problem = problem, .limits = limits, .ret = &found, .errors = reterr};
    s.bytes = limits->bytes ? limits->bytes : USUAL_BYTES;
    enum wh_status status = wh_arena_run(s.bytes, solve, &s);
    if (status == WH_OK) *ret = found;
    return status;
}
