#include "order/ways.h"

#include "order/bound.h"
#include "order/heap.h"

#include <math.h>
#include <string.h>

struct wh_order_ways {
    struct wh_arena *arena;
    const struct wh_order_problem *problem;
    const struct wh_order_judge *judge;      /* or NULL */
    WH_LIST(struct wh_order_choice) choices; /* whole and partial */
    struct wh_order_heap heap;
    uint16_t *turns[WH_ORDER_DIMENSIONS]; /* of each value: changes to it that every choice asks for */
    double path[WH_ORDER_DIMENSIONS];     /* changes along the dearest chain that every choice has */
    double idle; /* minutes inside the blocks that every choice has, with nothing to fill them */
    bool *seen;  /* working space: values of a dimension */
    const bool *own;
};

static double nearest(const struct wh_order_dimension *dimension, size_t to)
{
    double least = INFINITY;
    for (size_t from = 0; from < dimension->values; from++) {
        double cost = dimension->cost[from * dimension->values + to];
        if (from != to && cost < least) least = cost;
    }
    return dimension->values > 1 ? least : 0;
}

/* Each value needed and not held at the start is changed to at least once, and as often as every choice asks for it;
 * the first of a free dimension is free. Or the dearest chain of every choice. */
static double least_changes(const struct wh_order_ways *ways, const bool chosen[], size_t d)
{
    const struct wh_order_problem *p = ways->problem;
    const struct wh_order_dimension *dimension = &p->dimensions[d];
    double sum = 0, dearest = 0;
    memset(ways->seen, 0, dimension->values * sizeof *ways->seen);
    for (size_t t = 0; t < p->task_count; t++)
        if (chosen[t] && p->tasks[t].set_up[d] != WH_ORDER_ANY) ways->seen[p->tasks[t].set_up[d]] = true;
    for (size_t v = 0; v < dimension->values; v++) {
        if (!ways->seen[v]) continue;
        double cost = nearest(dimension, v);
        unsigned turns = ways->turns[d][v];
        if (turns == 0 && (int)v != dimension->start) turns = 1;
        sum += turns * cost;
        if (turns > 0 && cost > dearest) dearest = cost;
    }
    return fmax(dimension->start == WH_ORDER_ANY ? sum - dearest : sum, ways->path[d]);
}

const bool *wh_order_own_tasks(struct wh_arena *arena, const struct wh_order_problem *problem)
{
    bool *own = WH_NEW(arena, problem->task_count, bool);
    size_t *last = WH_NEW(arena, problem->task_count, size_t);
    for (size_t t = 0; t < problem->task_count; t++) own[t] = !problem->tasks[t].wanted;
    for (size_t i = 0; i < problem->need_count; i++) {
        for (size_t w = 0; w < problem->needs[i].way_count; w++) {
            for (size_t k = 0; k < problem->needs[i].ways[w].count; k++) {
                size_t t = problem->needs[i].ways[w].tasks[k];
                if (last[t] != 0 && last[t] != i + 1) own[t] = false;
                last[t] = i + 1;
            }
        }
    }
    return own;
}

/* Minutes that the needs not decided yet add at least: of each its shortest way, as far as no other need may ask for
 * the same task. */
static double least_to_come(const struct wh_order_ways *ways, const struct wh_order_choice *choice)
{
    const struct wh_order_problem *p = ways->problem;
    double sum = 0;
    for (size_t i = 0; i < p->need_count; i++) {
        const struct wh_order_need *need = &p->needs[i];
        if (choice->way[i] >= 0 || !choice->chosen[need->task]) continue;
        double shortest = INFINITY;
        for (size_t w = 0; w < need->way_count; w++) {
            double minutes = 0;
            for (size_t k = 0; k < need->ways[w].count; k++) {
                size_t t = need->ways[w].tasks[k];
                bool first = true; /* a way may name a task twice */
                for (size_t j = 0; j < k; j++) first &= need->ways[w].tasks[j] != t;
                if (first && ways->own[t] && !choice->chosen[t] && !p->tasks[t].alone) minutes += p->tasks[t].minutes;
            }
            shortest = fmin(shortest, minutes);
        }
        sum += shortest;
    }
    return sum;
}

/* With several fitters each may hold a tool of his own: only the work counts, shared out evenly. */
static double least(const struct wh_order_ways *ways, const struct wh_order_choice *choice)
{
    const bool *chosen = choice->chosen;
    const struct wh_order_problem *p = ways->problem;
    double work = least_to_come(ways, choice) + ways->idle, longest = 0;
    for (size_t t = 0; t < p->task_count; t++) {
        const struct wh_order_task *task = &p->tasks[t];
        if (!chosen[t]) continue;
        longest = fmax(longest, task->minutes);
        if (!task->alone) work += task->minutes * fmin(task->crew, p->fitters);
    }
    if (p->fitters > 1) return fmax(longest, work / p->fitters);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) work += least_changes(ways, chosen, d);
    return fmax(longest, work);
}

static void add(struct wh_order_ways *ways, const struct wh_order_choice *from, double at_least)
{
    struct wh_order_choice *choice = WH_PUSH(ways->arena, &ways->choices);
    *choice = *from;
    choice->bound = fmax(at_least, least(ways, choice));
    if (ways->judge) choice->bound = fmax(choice->bound, ways->judge->bound(ways->judge->context, choice));
    uint32_t decided = 0; /* among equals the one that is nearer to being whole */
    for (size_t i = 0; i < ways->problem->need_count; i++) decided += choice->way[i] >= 0;
    wh_order_heap_add(&ways->heap, choice->bound, decided, (uint32_t)(ways->choices.count - 1));
}

static void take(const struct wh_order_problem *problem, struct wh_order_choice *choice, size_t need, size_t w)
{
    const struct wh_order_way *way = &problem->needs[need].ways[w];
    choice->way[need] = (int)w;
    for (size_t k = 0; k < way->count; k++) choice->chosen[way->tasks[k]] = true;
}

/* Takes the ways of needs that have but one; the first need that leaves a choice, or the count of needs for none. */
static size_t close(const struct wh_order_problem *problem, struct wh_order_choice *choice)
{
    size_t open = problem->need_count;
    for (bool more = true; more;) {
        more = false;
        open = problem->need_count;
        for (size_t i = 0; i < problem->need_count; i++) {
            if (!choice->chosen[problem->needs[i].task] || choice->way[i] >= 0) continue;
            if (problem->needs[i].way_count == 1) {
                take(problem, choice, i, 0);
                more = true;
            } else if (open == problem->need_count) {
                open = i;
            }
        }
    }
    return open;
}

/* Idle minutes inside the blocks of a job that no other task may join. */
static double idle_inside(struct wh_arena *arena, const struct wh_order_job *job)
{
    const struct wh_order_problem *p = job->problem;
    bool *open = WH_NEW(arena, job->count, bool);
    double sum = 0;
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_link *link = &p->links[i];
        if (!link->joined || job->chosen[link->first] == job->chosen[link->after]) continue;
        open[job->block_of[job->chosen[link->first] ? link->first : link->after]] = true;
    }
    for (size_t b = 0; b < job->count; b++) {
        double work = 0;
        for (size_t m = 0; m < job->blocks[b].count; m++) {
            const struct wh_order_task *task = &p->tasks[job->blocks[b].tasks[m]];
            if (!task->alone) work += task->minutes;
        }
        if (!open[b]) sum += job->blocks[b].minutes - work;
    }
    return sum;
}

/* What every choice has in common waits for each other along chains, whatever else is chosen. In memory of its own. */
static enum wh_status count_changes(struct wh_arena *arena, void *context)
{
    struct wh_order_ways *ways = context;
    const struct wh_order_problem *p = ways->problem;
    const char *why;
    const struct wh_order_choice *common = &ways->choices.at[0];
    const struct wh_order_job *job = wh_order_job_new(arena, p, common->chosen, NULL, common->way, &why);
    if (!job) return WH_OK;
    const struct wh_order_bound *bound = wh_order_bound_new(arena, job);
    ways->idle = idle_inside(arena, job);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++)
        for (size_t b = 0; b < job->count; b++) {
            ways->path[d] = fmax(ways->path[d], wh_order_path(bound, d, b, p->dimensions[d].start));
            for (size_t v = 0; v < p->dimensions[d].values; v++) {
                uint16_t turns = wh_order_turns(bound, d, b, (int)v == p->dimensions[d].start)[v];
                if (turns > ways->turns[d][v]) ways->turns[d][v] = turns;
            }
        }
    return WH_OK;
}

static bool rivals_apart(const struct wh_order_problem *problem, const bool chosen[])
{
    for (size_t i = 0; i < problem->rival_count; i++)
        if (chosen[problem->rivals[i].one] && chosen[problem->rivals[i].other]) return false;
    return true;
}

struct wh_order_ways *wh_order_ways_new(struct wh_arena *arena, const struct wh_order_problem *problem,
                                        const struct wh_order_judge *judge)
{
    struct wh_order_ways *ways = WH_NEW(arena, 1, struct wh_order_ways);
    size_t values = 0;
    *ways = (struct wh_order_ways){.arena = arena, .problem = problem, .judge = judge, .heap = {.arena = arena}};
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        if (problem->dimensions[d].values > values) values = problem->dimensions[d].values;
        ways->turns[d] = WH_NEW(arena, problem->dimensions[d].values, uint16_t);
    }
    ways->seen = WH_NEW(arena, values, bool);
    ways->own = wh_order_own_tasks(arena, problem);
    struct wh_order_choice start = {.way = WH_NEW(arena, problem->need_count, int),
                                    .chosen = WH_NEW(arena, problem->task_count, bool)};
    for (size_t i = 0; i < problem->need_count; i++) start.way[i] = -1;
    for (size_t t = 0; t < problem->task_count; t++) start.chosen[t] = problem->tasks[t].wanted;
    close(problem, &start);
    *WH_PUSH(arena, &ways->choices) = start;
    if (problem->fitters == 1 && wh_arena_run(SIZE_MAX, count_changes, ways) != WH_OK) wh_arena_give_up(arena);
    ways->choices.count = 0;
    if (rivals_apart(problem, start.chosen)) add(ways, &start, 0);
    return ways;
}

static void branch(struct wh_order_ways *ways, const struct wh_order_choice *from, size_t need)
{
    const struct wh_order_problem *p = ways->problem;
    for (size_t w = 0; w < p->needs[need].way_count; w++) {
        struct wh_order_choice next = {.way = WH_NEW(ways->arena, p->need_count, int),
                                       .chosen = WH_NEW(ways->arena, p->task_count, bool)};
        memcpy(next.way, from->way, p->need_count * sizeof next.way[0]);
        memcpy(next.chosen, from->chosen, p->task_count * sizeof next.chosen[0]);
        take(p, &next, need, w);
        close(p, &next);
        if (rivals_apart(p, next.chosen)) add(ways, &next, from->bound);
    }
}

bool wh_order_ways_next(struct wh_order_ways *ways, struct wh_order_choice *ret, uint64_t *nodes, uint64_t most)
{
    while (ways->heap.list.count > 0 && *nodes < most) {
        struct wh_order_entry entry = wh_order_heap_take(&ways->heap);
        struct wh_order_choice choice = ways->choices.at[entry.number];
        ++*nodes;
        size_t open = close(ways->problem, &choice);
        if (open == ways->problem->need_count) {
            choice.bound = fmax(choice.bound, least(ways, &choice));
            *ret = choice;
            return true;
        }
        branch(ways, &choice, open);
    }
    return false;
}

double wh_order_ways_bound(const struct wh_order_ways *ways)
{
    return ways->heap.list.count > 0 ? ways->heap.list.at[0].key : INFINITY;
}
