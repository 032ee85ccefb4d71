#include "order/order.h"

#include "order/done.h"
#include "order/implied.h"
#include "order/line.h"
#include "order/parts.h"
#include "order/search.h"
#include "order/several.h"
#include "order/ways.h"

#include <math.h>
#include <string.h>

enum {
    USUAL_NODES = 2000000,
    USUAL_MEMORY = 64 << 20,
    RANK_STEPS = 50000,
    CHOICES = 2000,
    EFFORTS = 24,
    IMPROVE_TRIES = 200,
    SETTLE_TRIES = 300,
    EACH = 4,            /* a node of several fitters takes as long as some for one, */
    FEW_TASKS = 200,     /* and, of more tasks than this, the longer the more there are */
    USUAL_WORK = 750000, /* nodes times tasks, where nobody says how many nodes */
    SHARE = 4,           /* of the seconds is for one fitter, where several are at work */
    ALONE = 1500000000   /* nodes times tasks squared that are: about a node takes so long */
};

/* A choice of ways that has an order, as far as it is known. */
struct candidate {
    const int *way;
    const bool *chosen;
    double bound; /* of its orders; INFINITY: it has none */
    unsigned efforts;
};

struct solver {
    struct wh_arena *arena;
    const struct wh_order_problem *problem;
    struct wh_order_problem alone; /* the same for one fitter */
    struct wh_order_timer *timer;  /* of one fitter */
    struct wh_order_budget budget;
    struct wh_order_book book;
    WH_LIST(struct candidate) candidates;
    struct wh_order_line best, natural; /* of the best choice; cost INFINITY: none */
    const int *way;
    double bound;    /* no order costs less */
    const char *why; /* the first reason found why a choice of ways cannot be done */
    size_t choices;
    size_t *blocks; /* working space: an order */
};

static void note_why(struct solver *s, const char *why)
{
    if (!s->why) s->why = wh_arena_text(s->arena, why);
}

static const struct wh_order_job *job_of(struct wh_arena *arena, struct solver *s, const struct candidate *candidate)
{
    const char *why = NULL;
    const struct wh_order_job *job = wh_order_job_new(arena, &s->alone, candidate->chosen, NULL, candidate->way, &why);
    if (!job) note_why(s, why);
    return job;
}

/* The natural order of a job, its limits kept; cost INFINITY when none was found. */
static struct wh_order_line natural_order(struct solver *s, const struct wh_order_job *job)
{
    double *rank = WH_NEW(s->arena, job->count, double);
    for (size_t b = 0; b < job->count; b++) rank[b] = (double)b;
    uint64_t steps = 0;
    size_t stuck = WH_ORDER_NONE;
    size_t *blocks = wh_order_by_rank(s->arena, job, rank, &steps, RANK_STEPS, &stuck);
    if (!blocks) {
        if (stuck != WH_ORDER_NONE) {
            note_why(s, wh_arena_print(s->arena, "%s is never reached: no open window lets its set-up be changed to",
                                       wh_order_name(s->arena, s->problem, job->blocks[stuck].tasks[0])));
        }
        return (struct wh_order_line){.cost = INFINITY};
    }
    struct wh_order_line line = wh_order_line_new(s->arena, job, s->timer, blocks);
    wh_order_line_hold(&line);
    return line;
}

static void keep_better(struct wh_order_line *best, struct wh_order_line line)
{
    if (isfinite(line.cost) && !(line.cost >= best->cost - WH_ORDER_SLACK)) *best = line;
}

/* A choice searched: what makes it ready takes memory of its own, only the parts stay. */
struct searching {
    struct solver *solver;
    struct candidate *candidate;
    double cost; /* of its order; INFINITY: none was found */
};

static enum wh_status search_candidate(struct wh_arena *arena, void *context)
{
    struct searching *searching = context;
    struct solver *s = searching->solver;
    struct candidate *candidate = searching->candidate;
    const struct wh_order_job *job = job_of(arena, s, candidate);
    if (!job) {
        candidate->bound = INFINITY;
        return WH_OK;
    }
    struct wh_order_parts *parts = wh_order_parts_new(arena, job, candidate->way, &s->book);
    struct wh_order_found found = wh_order_by_parts(parts, candidate->efforts);
    candidate->bound = fmax(candidate->bound, found.bound);
    if (!found.found) return WH_OK;
    searching->cost = found.cost;
    memcpy(s->blocks, found.blocks, job->count * sizeof *s->blocks);
    return WH_OK;
}

/* Goes on with a choice: its order is kept when it is the best, improved by moving blocks about. */
static void go_on(struct solver *s, struct candidate *candidate)
{
    struct searching searching = {s, candidate, INFINITY};
    if (wh_arena_run(SIZE_MAX, search_candidate, &searching) != WH_OK) wh_arena_give_up(s->arena);
    bool cheaper = searching.cost < s->best.cost - WH_ORDER_SLACK;
    bool first = !isfinite(s->best.cost) && candidate->efforts == 1 && isfinite(candidate->bound);
    if (!first && !cheaper) return;
    const struct wh_order_job *job = job_of(s->arena, s, candidate);
    struct wh_order_line line = {.cost = INFINITY}, natural = s->natural;
    s->timer->way = candidate->way;
    if (cheaper) line = wh_order_line_new(s->arena, job, s->timer, s->blocks);
    if (cheaper && !(line.cost < s->best.cost - WH_ORDER_SLACK)) return;
    if (candidate->way != s->way) natural = natural_order(s, job);
    keep_better(&line, natural);
    if (!isfinite(line.cost)) return;
    s->best = wh_order_line_new(s->arena, job, s->timer, line.blocks);
    s->natural = natural;
    s->way = candidate->way;
    s->budget.now.cost = s->best.cost;
}

static void add_candidate(struct solver *s, const struct wh_order_choice *choice)
{
    struct candidate *candidate = WH_PUSH(s->arena, &s->candidates);
    *candidate = (struct candidate){.way = choice->way, .chosen = choice->chosen, .bound = choice->bound};
    candidate->efforts = isfinite(s->best.cost) ? 0U : 1U; /* the sooner one order is known, the better */
    s->choices++;
    go_on(s, candidate);
}

/* No order of any choice costs less; `least`: of those not looked at. */
static double least_bound(const struct solver *s, double least)
{
    for (size_t i = 0; i < s->candidates.count; i++) least = fmin(least, s->candidates.at[i].bound);
    return least;
}

/* May an order of this bound be so much cheaper than the best that it is worth a search? */
static bool is_open(const struct solver *s, double bound)
{
    return bound < s->best.cost - s->problem->enough - WH_ORDER_SLACK;
}

/* Of the choices that may still be cheaper than the best, the one of the least bound. */
static struct candidate *most_open(struct solver *s)
{
    struct candidate *open = NULL;
    for (size_t i = 0; i < s->candidates.count; i++) {
        struct candidate *c = &s->candidates.at[i];
        if (is_open(s, c->bound) && (!open || c->bound < open->bound)) open = c;
    }
    return open;
}

/* Always goes on with the choice that may be the cheapest, and looks at a new one where that may be cheaper still. */
static void search_choices(struct solver *s)
{
    struct wh_order_ways *ways = wh_order_ways_new(s->arena, &s->alone, NULL);
    struct wh_order_choice choice;
    uint64_t looked_at = 0; /* choices do not use up the states of the orders */
    size_t most_memory = wh_arena_used(s->arena) + s->budget.memory;
    s->best.cost = s->natural.cost = INFINITY;
    while (s->budget.stop == WH_ORDER_CLOSED) {
        if (wh_arena_used(s->arena) > most_memory) s->budget.stop = WH_ORDER_MEMORY;
        struct candidate *open = most_open(s);
        double next = wh_order_ways_bound(ways);
        s->bound = s->budget.now.bound = least_bound(s, next);
        if (is_open(s, next) && (!open || next <= open->bound) && looked_at < CHOICES) {
            if (wh_order_ways_next(ways, &choice, &looked_at, CHOICES)) add_candidate(s, &choice);
            continue;
        }
        if (!open || open->efforts == EFFORTS) break;
        open->efforts++;
        go_on(s, open);
    }
    s->bound = least_bound(s, wh_order_ways_bound(ways));
    if (!isfinite(s->best.cost)) return;
    s->timer->way = s->way;
    wh_order_line_improve(&s->best, s->bound, IMPROVE_TRIES);
}

/* What one fitter would do, as a first order of several: they have the rest of the time and of the nodes. */
static void search_first(struct solver *s)
{
    struct wh_order_watch watch;
    uint64_t all = s->budget.most, most = ALONE / (s->problem->task_count * s->problem->task_count + 1);
    if (s->problem->watch) {
        watch = *s->problem->watch;
        watch.most_seconds /= SHARE;
        s->budget.watch = &watch;
    }
    if (most < all) s->budget.most = most;
    search_choices(s);
    s->budget.most = all;
    s->budget.watch = s->problem->watch;
    bool share = s->budget.stop == WH_ORDER_SECONDS || s->budget.stop == WH_ORDER_NODES;
    if (share && isfinite(s->best.cost)) s->budget.stop = WH_ORDER_CLOSED;
}

static enum wh_status no_order(const struct solver *s, struct wh_errors *reterr)
{
    const char *why = s->why            ? s->why
                      : s->choices == 0 ? "two tasks are needed of which only one may be done"
                                        : "the greatest waits between tasks cannot all be kept";
    if (s->budget.stop == WH_ORDER_STOPPED || s->budget.stop == WH_ORDER_SECONDS)
        return wh_errors_add(reterr, WH_ERR_LIMIT, (struct wh_place){0}, "give it more time",
                             "no order was found before the search was stopped");
    if (isfinite(s->bound)) {
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "no order was found in %llu steps: %s",
                             (unsigned long long)s->budget.now.nodes, why);
    }
    if (s->choices < 2)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "no order exists: %s", why);
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL,
                         "no order exists, whichever of %zu choices of ways is taken: %s", s->choices, why);
}

/* The line as an order; `timer` has timed it last. */
static struct wh_order *order_of(const struct solver *s, struct wh_order_line *line)
{
    struct wh_order *order = WH_NEW(s->arena, 1, struct wh_order);
    size_t n = wh_order_tasks(line->job, line->blocks, line->tasks);
    order->cost = wh_order_time(line->timer, line->tasks, n);
    order->steps = line->timer->at;
    order->step_count = n;
    order->chosen_way = s->way;
    order->nodes = s->budget.now.nodes;
    order->stop = s->budget.stop;
    return order;
}

/* The natural order is kept unless the best saves more than the problem's `keep`. */
static struct wh_order *decide(const struct solver *s, struct wh_order_line *best, struct wh_order_line *natural,
                               double bound)
{
    bool kept = isfinite(natural->cost) && natural->cost <= best->cost + fmax(s->problem->keep, 0) + WH_ORDER_SLACK;
    if (!kept) wh_order_line_settle(best, SETTLE_TRIES);
    double least = fmin(best->cost, natural->cost);
    struct wh_order *order = order_of(s, kept ? natural : best);
    order->natural = kept;
    order->natural_cost = natural->cost;
    order->least = least;
    order->proven = bound >= least - WH_ORDER_SLACK;
    order->bound = order->proven ? least : bound;
    return order;
}

static uint64_t nodes_of_several(const struct wh_order_problem *problem)
{
    uint64_t asked = problem->most_nodes, tasks = problem->task_count;
    if (asked == 0 || asked == UINT64_MAX) return USUAL_WORK / tasks + 1;
    return tasks > FEW_TASKS ? asked / EACH * FEW_TASKS / tasks : asked / EACH;
}

/* The natural order of the tasks that the quickest order does, worked off by several. */
static struct wh_order *decide_several(struct solver *s)
{
    uint64_t most = nodes_of_several(s->problem);
    struct wh_order_several found = wh_order_several(s->arena, s->problem, &s->best, s->way, most, &s->budget);
    struct wh_order_line natural = {.cost = INFINITY};
    s->way = s->timer->way = found.way;
    if (s->budget.stop == WH_ORDER_CLOSED && found.bound < found.line.cost - s->problem->enough - WH_ORDER_SLACK)
        s->budget.stop = WH_ORDER_NODES;
    struct wh_order_line alone = natural_order(s, found.line.job);
    if (isfinite(alone.cost)) natural = wh_order_line_new(s->arena, found.line.job, found.line.timer, alone.blocks);
    return decide(s, &found.line, &natural, found.bound);
}

enum wh_status wh_order_solve(struct wh_arena *arena, const struct wh_order_problem *problem, struct wh_order **ret,
                              struct wh_errors *reterr)
{
    enum wh_status status = wh_order_check(problem, reterr);
    if (status) return status;
    struct solver *s = WH_NEW(arena, 1, struct solver);
    const struct wh_order_problem *left = wh_order_implied(arena, wh_order_after_done(arena, problem));
    *s = (struct solver){.arena = arena, .problem = left, .alone = *left};
    s->alone.fitters = 1;
    s->budget = wh_order_budget_new(problem, USUAL_NODES, USUAL_MEMORY);
    s->book = (struct wh_order_book){.arena = arena, .budget = &s->budget};
    s->timer = wh_order_timer_new(arena, &s->alone);
    s->blocks = WH_NEW(arena, problem->task_count, size_t);
    problem->fitters == 1 ? search_choices(s) : search_first(s);
    if (!isfinite(s->best.cost)) return no_order(s, reterr);
    s->timer->way = s->way;
    *ret = problem->fitters == 1 ? decide(s, &s->best, &s->natural, s->bound) : decide_several(s);
    (*ret)->chosen_way = wh_order_ways_taken(arena, problem, s->way);
    return WH_OK;
}
