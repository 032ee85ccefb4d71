#include "order/several.h"

#include "order/bound.h"
#include "order/search.h"
#include "order/ways.h"

#include <math.h>

enum { TRIES = 2000, STEPS = 20000 };

/* The longest chain of tasks that wait for each other. */
static double longest_chain(struct wh_arena *arena, const struct wh_order_job *job)
{
    const struct wh_order_task *tasks = job->problem->tasks;
    double *end = WH_NEW(arena, job->problem->task_count, double), longest = 0;
    for (size_t n = 0; n < job->count; n++) {
        const struct wh_order_block *block = &job->blocks[job->sorted[n]];
        double now = 0;
        for (size_t m = 0; m < block->count; m++) {
            size_t t = block->tasks[m];
            for (size_t i = 0; i < job->edge_count; i++) {
                const struct wh_order_edge *edge = &job->edges[i];
                if (edge->after == t) now = fmax(now, end[edge->first] + edge->least);
            }
            end[t] = now + tasks[t].minutes;
            longest = fmax(longest, end[t]);
            now = tasks[t].alone ? now : end[t];
        }
    }
    return longest;
}

double wh_order_several_bound(struct wh_arena *arena, const struct wh_order_problem *problem, uint64_t *nodes,
                              uint64_t most)
{
    struct wh_order_ways *ways = wh_order_ways_new(arena, problem);
    struct wh_order_choice choice;
    double bound = INFINITY;
    while (wh_order_ways_bound(ways) < bound && wh_order_ways_next(ways, &choice, nodes, most)) {
        const char *why;
        const struct wh_order_job *job = wh_order_job_new(arena, problem, choice.chosen, NULL, choice.way, &why);
        if (job) bound = fmin(bound, fmax(choice.bound, longest_chain(arena, job)));
    }
    return fmin(bound, wh_order_ways_bound(ways));
}

/* Longest rest first, as far as windows let it. NULL: none was found. */
static size_t *by_rest(struct wh_arena *arena, const struct wh_order_job *job)
{
    const struct wh_order_bound *bound = wh_order_bound_new(arena, job);
    double *rank = WH_NEW(arena, job->count, double);
    for (size_t b = 0; b < job->count; b++) rank[b] = -bound->tail[job->blocks[b].tasks[0]];
    uint64_t steps = 0;
    size_t stuck;
    return wh_order_by_rank(arena, job, rank, &steps, STEPS, &stuck);
}

struct wh_order_line wh_order_several(struct wh_arena *arena, const struct wh_order_job *job,
                                      struct wh_order_timer *timer, const struct wh_order_line *one,
                                      const size_t natural[], double goal)
{
    const size_t *lists[] = {one->blocks, natural, by_rest(arena, job)};
    struct wh_order_line best = {.cost = INFINITY};
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        if (!lists[i]) continue;
        struct wh_order_line line = wh_order_line_new(arena, job, timer, lists[i]);
        wh_order_line_hold(&line);
        if (i == 0 || line.cost < best.cost - WH_ORDER_SLACK) best = line;
    }
    wh_order_line_improve(&best, goal, TRIES);
    return best;
}
