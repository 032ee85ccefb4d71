#include "order/order.h"

#include "order/done.h"
#include "order/line.h"
#include "order/parts.h"
#include "order/search.h"
#include "order/several.h"
#include "order/ways.h"

#include <math.h>

enum {
    USUAL_NODES = 2000000,
    RANK_STEPS = 50000,
    CHOICES = 2000,
    TRIED = 4,
    STATES_A_CHOICE = 500,
    SETTLE_TRIES = 300,
    SEVERAL = 6,          /* times as many nodes for several fitters, up to ... */
    MOST_SEVERAL = 200000 /* ... so many */
};

struct solver {
    struct wh_arena *arena;
    const struct wh_order_problem *problem;
    struct wh_order_problem alone; /* the same for one fitter */
    struct wh_order_timer *timer;  /* of one fitter */
    uint64_t nodes, most;
    struct wh_order_line best, natural; /* of the best choice; cost INFINITY: none */
    const int *way;
    double bound;
    const char *why; /* the first reason found why a choice of ways cannot be done */
    size_t choices;
};

static void note_why(struct solver *s, const char *why)
{
    if (!s->why) s->why = why;
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

/* The best order of one choice of ways that costs less than `cutoff`; *ret_bound is true of all its orders. */
static struct wh_order_line solve_job(struct solver *s, const struct wh_order_job *job, const int way[],
                                      struct wh_order_line natural, double cutoff, double *ret_bound)
{
    struct wh_order_line best = {.cost = INFINITY};
    if (isfinite(natural.cost)) best = wh_order_line_new(s->arena, job, s->timer, natural.blocks);
    struct wh_order_found found = wh_order_by_parts(s->arena, job, way, fmin(cutoff, best.cost), &s->nodes,
                                                    s->choices > 1 ? s->most / 4 : s->most);
    *ret_bound = found.bound;
    if (found.found) keep_better(&best, wh_order_line_new(s->arena, job, s->timer, found.blocks));
    return best;
}

static void try_choice(struct solver *s, const struct wh_order_choice *choice)
{
    const char *why = NULL;
    const struct wh_order_job *job = wh_order_job_new(s->arena, &s->alone, choice->chosen, NULL, choice->way, &why);
    s->choices++;
    if (!job) {
        note_why(s, why);
        return;
    }
    double bound;
    s->timer->way = choice->way;
    struct wh_order_line natural = natural_order(s, job);
    struct wh_order_line line = solve_job(s, job, choice->way, natural, s->best.cost, &bound);
    s->bound = fmin(s->bound, fmax(bound, choice->bound));
    if (!isfinite(line.cost) || line.cost >= s->best.cost - WH_ORDER_SLACK) return;
    s->best = line;
    s->natural = natural;
    s->way = choice->way;
}

static void search_choices(struct solver *s)
{
    struct wh_order_ways *ways = wh_order_ways_new(s->arena, &s->alone, NULL);
    struct wh_order_choice choice;
    uint64_t looked_at = 0; /* choices do not use up the states of the orders */
    s->best.cost = s->bound = INFINITY;
    while (s->choices < TRIED + s->most / STATES_A_CHOICE &&
           wh_order_ways_bound(ways) < s->best.cost - WH_ORDER_SLACK &&
           wh_order_ways_next(ways, &choice, &looked_at, CHOICES)) {
        try_choice(s, &choice);
    }
    s->bound = fmin(s->bound, wh_order_ways_bound(ways));
    s->nodes += looked_at;
}

static enum wh_status no_order(const struct solver *s, struct wh_errors *reterr)
{
    const char *why = s->why ? s->why : "the greatest waits between tasks cannot all be kept";
    if (s->nodes >= s->most) {
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "no order was found in %llu steps: %s",
                             (unsigned long long)s->nodes, why);
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
    order->nodes = s->nodes;
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

/* The natural order of the tasks that the quickest order does, worked off by several. */
static struct wh_order *decide_several(struct solver *s)
{
    struct wh_order_several found = wh_order_several(
        s->arena, s->problem, &s->best, s->way, s->most < MOST_SEVERAL / SEVERAL ? s->most * SEVERAL : MOST_SEVERAL);
    struct wh_order_line natural = {.cost = INFINITY};
    s->nodes += found.nodes;
    s->way = s->timer->way = found.way;
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
    const struct wh_order_problem *left = wh_order_after_done(arena, problem);
    *s = (struct solver){.arena = arena, .problem = left, .alone = *left};
    s->most = problem->most_nodes ? problem->most_nodes : USUAL_NODES;
    s->alone.fitters = 1;
    s->timer = wh_order_timer_new(arena, &s->alone);
    search_choices(s);
    if (!isfinite(s->best.cost)) return no_order(s, reterr);
    s->timer->way = s->way;
    *ret = problem->fitters == 1 ? decide(s, &s->best, &s->natural, s->bound) : decide_several(s);
    (*ret)->chosen_way = wh_order_ways_taken(arena, problem, s->way);
    return WH_OK;
}
