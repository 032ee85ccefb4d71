#include "order/several.h"

#include "order/bound.h"
#include "order/luck.h"
#include "order/search.h"
#include "order/several_bound.h"
#include "order/several_deal.h"
#include "order/several_model.h"

#include <math.h>
#include <string.h>

#define FAR 0.75    /* of a bound */
enum { MANY = 64 }; /* blocks */
enum { MEMORY = 128 << 20, LEARNT = 48 << 20 };
enum {
    TRIES = 2000,
    FEW_TRIES = 1000,
    DEALS = 400,
    FEW_DEALS = 40,
    DEALT = 130000000, /* lists dealt out at first, times blocks squared: about a list takes so long */
    STEPS = 200000,
    CHOICES = 2000,
    JUDGED = 16,
    LOOKED = 512,
    MORE = 3,
    EACH_BLOCK = 300, /* tries */
    EACH_NODE = 4,
    FREE_NODE = 8, /* where projects are not solved */
    SHARE = 4
};

/* A choice of ways, and what is known of its orders. */
struct candidate {
    const struct wh_order_job *job;
    const struct wh_order_model *model;
    const int *way;
    double bound;
    uint64_t nodes;            /* to look at next */
    struct wh_order_line line; /* its quickest order; cost INFINITY: none yet */
};

struct several {
    struct wh_arena *arena;
    const struct wh_order_problem *problem;
    struct wh_order_several best;
    struct wh_order_ways *ways;
    WH_LIST(struct candidate) candidates;
    uint64_t most;
    struct wh_order_budget *budget;
    uint64_t random;
    bool by_hands; /* chains and hands said far more of a choice than its project: they alone are asked */
    double late;   /* seconds; from then on choices are no longer looked for; 0: no limit */
};

/* Blocks by rank, found in memory of its own. */
struct listing {
    const struct wh_order_job *job;
    const double *rank;
    size_t *blocks;
    bool found;
};

static enum wh_status list_by_rank(struct wh_arena *arena, void *context)
{
    struct listing *listing = context;
    uint64_t steps = 0;
    size_t stuck;
    size_t *blocks = wh_order_by_rank(arena, listing->job, listing->rank, &steps, STEPS, &stuck);
    if (blocks) memcpy(listing->blocks, blocks, listing->job->count * sizeof blocks[0]);
    listing->found = blocks != NULL;
    return WH_OK;
}

/* The blocks by rank, as far as windows let them; NULL: none was found. */
static size_t *list_of(struct wh_arena *arena, const struct wh_order_job *job, const double rank[])
{
    struct listing listing = {.job = job, .rank = rank, .blocks = WH_NEW(arena, job->count, size_t)};
    if (wh_arena_run(MEMORY, list_by_rank, &listing)) wh_arena_give_up(arena);
    return listing.found ? listing.blocks : NULL;
}

static void keep_best(struct several *s, const struct candidate *c)
{
    if (!(c->line.cost < s->best.line.cost - WH_ORDER_SLACK)) return;
    s->best.line = c->line;
    s->best.way = c->way;
    s->budget->now.cost = c->line.cost;
}

/* Works a list off, mended and improved; it is kept when it is the quickest of its choice. */
static void try_list(struct several *s, struct candidate *c, const size_t list[], uint64_t tries)
{
    if (!list) return;
    struct wh_order_timer *timer = wh_order_timer_new(s->arena, s->problem);
    timer->way = c->way;
    struct wh_order_line line = wh_order_line_new(s->arena, c->job, timer, list);
    line.budget = s->budget;
    wh_order_line_hold(&line);
    wh_order_line_wander(&line, &s->random, c->bound, tries);
    if (!(line.cost < c->line.cost - WH_ORDER_SLACK)) return;
    c->line = line;
    keep_best(s, c);
}

/* Goes through many orders of a choice, from the quickest known on. */
static void wander(struct several *s, struct candidate *c)
{
    uint64_t many = (s->by_hands ? FREE_NODE : EACH_NODE) * s->most, few = EACH_BLOCK * c->job->count;
    if (!isfinite(c->line.cost)) return;
    wh_order_line_wander(&c->line, &s->random, c->bound, many < few ? many : few);
    keep_best(s, c);
}

static void try_natural(struct several *s, struct candidate *c)
{
    double *rank = WH_NEW(s->arena, c->job->count, double);
    for (size_t b = 0; b < c->job->count; b++) rank[b] = (double)b;
    try_list(s, c, list_of(s->arena, c->job, rank), FEW_TRIES);
}

/* What counts when blocks are dealt out, by chance. */
static struct wh_order_deal any_deal(uint64_t *random)
{
    struct wh_order_deal deal = {.lost = 6 * wh_order_chance(random),
                                 .rest = 0.003 * pow(100, wh_order_chance(random))};
    if (wh_order_chance(random) < 0.5) deal.luck = 3 * wh_order_chance(random);
    return deal;
}

/* Deals the blocks of a choice out in many ways. The quickest list is tried. */
static void try_deals(struct several *s, struct candidate *c, uint64_t most)
{
    const struct wh_order_bound *bound = wh_order_bound_new(s->arena, c->job);
    struct wh_order_timer *timer = wh_order_timer_new(s->arena, s->problem);
    timer->way = c->way;
    struct wh_order_dealer dealer = wh_order_dealer_new(s->arena, c->job, timer, bound->tail);
    size_t *list = WH_NEW(s->arena, c->job->count, size_t);
    double best = INFINITY;
    for (uint64_t n = 0; n < most && best > c->bound + WH_ORDER_SLACK && !wh_order_is_over(s->budget); n++) {
        struct wh_order_deal deal = any_deal(&s->random);
        double end = wh_order_deal(&dealer, &deal, &s->random);
        if (!(end < best - WH_ORDER_SLACK)) continue;
        best = end;
        memcpy(list, dealer.blocks, c->job->count * sizeof list[0]);
    }
    if (isfinite(best)) try_list(s, c, list, FEW_TRIES);
}

/* In the order in which the schedule starts them. */
static void try_schedule(struct several *s, struct candidate *c, const int start[])
{
    double *rank = WH_NEW(s->arena, c->job->count, double);
    for (size_t b = 0; b < c->job->count; b++) rank[b] = start[c->model->activity_of[c->job->blocks[b].tasks[0]]];
    try_list(s, c, list_of(s->arena, c->job, rank), TRIES);
}

/* Solved in memory of its own. */
struct solving {
    const struct wh_schedule_problem *project;
    uint64_t nodes;
    struct wh_order_budget *budget;
    struct wh_schedule found;
    int *start; /* or NULL: not asked for */
};

static bool is_over(void *context, const struct wh_schedule_so_far *so_far)
{
    (void)so_far;
    return wh_order_is_over(context);
}

static enum wh_status solve(struct wh_arena *arena, void *context)
{
    struct solving *solving = context;
    struct wh_schedule_limits limits = {
        .nodes = solving->nodes, .bytes = LEARNT, .stop = is_over, .context = solving->budget};
    solving->found = wh_schedule_solve(arena, solving->project, &limits);
    if (solving->found.found && solving->start)
        memcpy(solving->start, solving->found.start, solving->project->count * sizeof(int));
    return WH_OK;
}

/* The shortest time to the end of what is left when set-ups of single fitters are left out: a bound. */
static double solve_apart(struct several *s, struct solving *solving)
{
    if (wh_arena_run(MEMORY, solve, solving)) wh_arena_give_up(s->arena);
    s->best.nodes += solving->found.nodes;
    s->budget->now.nodes += solving->found.nodes;
    if (solving->found.proven && !solving->found.found) return INFINITY;
    return (double)solving->found.bound / WH_ORDER_TICKS;
}

/* Judged in memory of its own. */
struct judging {
    struct several *several;
    const struct wh_order_choice *choice;
    double bound;
};

static enum wh_status judge_choice(struct wh_arena *arena, void *context)
{
    struct judging *judging = context;
    struct several *s = judging->several;
    const struct wh_order_choice *choice = judging->choice;
    const char *why;
    const struct wh_order_job *job = wh_order_job_new(arena, s->problem, choice->chosen, NULL, choice->way, &why);
    if (!job) {
        judging->bound = INFINITY;
        return WH_OK;
    }
    judging->bound = wh_order_hands_bound(arena, job, choice->way);
    if (s->by_hands) {
        s->best.nodes += JUDGED; /* it takes about as long */
        return WH_OK;
    }
    struct solving solving = {&wh_order_model_new(arena, job)->project, JUDGED, s->budget, .start = NULL};
    double project = solve_apart(s, &solving);
    s->by_hands = job->count > MANY && project < judging->bound * FAR;
    judging->bound = fmax(judging->bound, project);
    return WH_OK;
}

/* Has the share of choices been used up? */
static bool is_late(struct several *s)
{
    bool over = wh_order_is_over(s->budget);
    return over || s->best.nodes > s->most / SHARE || (s->late > 0 && s->budget->now.seconds > s->late);
}

/* A bound of all choices that this one, whole or partial, can become. */
static double judge(void *context, const struct wh_order_choice *choice)
{
    struct judging judging = {.several = context, .choice = choice};
    struct several *s = context;
    if (is_late(s)) return 0; /* the rest is for orders */
    if (wh_arena_run(MEMORY, judge_choice, &judging)) wh_arena_give_up(s->arena);
    return judging.bound;
}

/* Looks closer at a choice; its schedule is a list to try. */
static void look_at(struct several *s, struct candidate *c)
{
    uint64_t left = s->most > s->best.nodes ? s->most - s->best.nodes : 1;
    struct solving solving = {&c->model->project, c->nodes < left ? c->nodes : left, s->budget, .start = NULL};
    solving.start = WH_NEW(s->arena, c->model->project.count, int);
    if (s->by_hands)
        s->best.nodes += solving.nodes; /* its time is for orders */
    else
        c->bound = fmax(c->bound, solve_apart(s, &solving));
    c->nodes = solving.found.proven ? 0 : c->nodes * MORE;
    if (solving.found.found) try_schedule(s, c, solving.start);
}

/* May an order of this bound be so much quicker than the best that it is worth a search? */
static bool is_open(const struct several *s, double bound)
{
    return bound < s->best.line.cost - s->problem->enough - WH_ORDER_SLACK;
}

/* The choices of least bound, until enough was looked at or no other can be quicker. */
static void gather(struct several *s)
{
    struct wh_order_ways *ways = s->ways;
    struct wh_order_choice choice;
    uint64_t looked_at = 0;
    while (is_open(s, wh_order_ways_bound(ways)) && (s->candidates.count == 0 || !is_late(s)) &&
           wh_order_ways_next(ways, &choice, &looked_at, CHOICES)) {
        const char *why;
        s->budget->now.bound = choice.bound;
        const struct wh_order_job *job = wh_order_job_new(s->arena, s->problem, choice.chosen, NULL, choice.way, &why);
        if (!job) continue;
        struct candidate *c = WH_PUSH(s->arena, &s->candidates);
        double bound = fmax(choice.bound, wh_order_hands_bound(s->arena, job, choice.way));
        *c = (struct candidate){job, wh_order_model_new(s->arena, job), choice.way, bound, LOOKED, {.cost = INFINITY}};
        try_natural(s, c);
        try_deals(s, c, FEW_DEALS);
        look_at(s, c);
    }
    s->best.nodes += looked_at;
    s->best.bound = wh_order_ways_bound(ways);
}

/* The candidate that might still be the quickest, and is not searched to its end. */
static struct candidate *most_promising(struct several *s)
{
    struct candidate *most = NULL;
    for (size_t i = 0; i < s->candidates.count; i++) {
        struct candidate *c = &s->candidates.at[i];
        if (c->nodes == 0 || !is_open(s, c->bound)) continue;
        if (!most || c->bound < most->bound) most = c;
    }
    return most;
}

struct wh_order_several wh_order_several(struct wh_arena *arena, const struct wh_order_problem *problem,
                                         const struct wh_order_line *one, const int way[], uint64_t most,
                                         struct wh_order_budget *budget)
{
    struct several s = {
        .arena = arena, .problem = problem, .most = most, .budget = budget, .random = 88172645463325252U};
    s.best = (struct wh_order_several){.line.cost = INFINITY, .way = way};
    budget->now.cost = INFINITY, budget->now.bound = 0;
    wh_order_is_over(budget); /* reads the clock */
    double from = budget->now.seconds, until = budget->watch ? budget->watch->most_seconds : 0;
    s.late = until > from ? from + (until - from) / SHARE : 0;
    struct wh_order_judge judging = {judge, &s};
    s.ways =
        wh_order_ways_new(arena, problem, &judging); /* what all choices have in common is judged before all else */
    struct candidate first = {.job = one->job, .way = way, .line.cost = INFINITY};
    first.bound = wh_order_ways_bound(s.ways);
    uint64_t deals = DEALT / (one->job->count * one->job->count + 1);
    try_list(&s, &first, one->blocks, FEW_TRIES);
    try_deals(&s, &first, deals < DEALS ? deals : DEALS);
    wander(&s, &first);
    gather(&s);
    for (struct candidate *c = most_promising(&s); c && s.best.nodes < s.most && !wh_order_is_over(budget);
         c = most_promising(&s)) {
        look_at(&s, c);
        wander(&s, c);
    }
    for (size_t i = 0; i < s.candidates.count; i++) s.best.bound = fmin(s.best.bound, s.candidates.at[i].bound);
    s.best.bound = fmin(s.best.bound, s.best.line.cost);
    return s.best;
}
