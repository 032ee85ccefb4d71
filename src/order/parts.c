#include "order/parts.h"

#include "order/state.h"

#include <math.h>
#include <string.h>

enum { VALUES = 2, MOST_PARTS = 32, LEAN_NODES = 200, PART_MEMORY = 256 << 20 };

/* A part ends with a cut: a block that all others come before or after. */
struct part {
    bool *chosen, *past; /* by task */
    size_t cut;          /* its last block in the whole job, or WH_ORDER_NONE for the last part */
};

struct parts {
    struct wh_arena *arena;
    const struct wh_order_job *job;
    const int *way;
    uint64_t *nodes, most;
    struct part part[MOST_PARTS];
    size_t count;
    int free; /* the dimension whose value at a cut may be either of two; -1: none */
    /* of each part, by the value held when it begins: */
    bool solved[MOST_PARTS + 1][VALUES];
    double cost[MOST_PARTS + 1][VALUES], bound[MOST_PARTS + 1][VALUES];
    size_t *blocks[MOST_PARTS + 1][VALUES]; /* of the whole job, from this part to the end */
    size_t length[MOST_PARTS + 1][VALUES];
};

static size_t members(const uint64_t set[], size_t words)
{
    size_t n = 0;
    for (size_t w = 0; w < words; w++) n += (size_t)__builtin_popcountll(set[w]);
    return n;
}

static bool compares_with_all(const struct wh_order_job *job, size_t b)
{
    return members(&job->before[b * job->words], job->words) + members(&job->behind[b * job->words], job->words) + 1 ==
           job->count;
}

/* What passes by itself before a block is over when the block begins: something up to there has waited for it. */
static bool all_ended(const struct wh_order_job *job, size_t b)
{
    const uint64_t *before = &job->before[b * job->words];
    for (size_t s = 0; s < job->source_count; s++) {
        bool runs = job->problem->tasks[job->sources[s]].alone && wh_order_has(before, job->block_of[job->sources[s]]);
        for (size_t k = job->lags_from[s]; runs && k < job->lags_from[s + 1]; k++) {
            size_t after = job->block_of[job->lags[job->from[k]].after];
            runs = after != b && !wh_order_has(before, after);
        }
        if (runs) return false;
    }
    return true;
}

/* No wait may reach over a cut, and its set-up must be known but for one dimension of two values. */
static bool is_cut(struct parts *parts, size_t b)
{
    const struct wh_order_job *job = parts->job;
    const struct wh_order_block *block = &job->blocks[b];
    if (block->count != 1 || job->source_of[block->tasks[0]] != WH_ORDER_NONE || !compares_with_all(job, b) ||
        !all_ended(job, b))
        return false;
    const uint64_t *before = &job->before[b * job->words], *behind = &job->behind[b * job->words];
    for (size_t i = 0; i < job->lag_count; i++)
        if (wh_order_has(before, job->block_of[job->lags[i].first]) &&
            wh_order_has(behind, job->block_of[job->lags[i].after]))
            return false;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        const struct wh_order_dimension *dimension = &job->problem->dimensions[d];
        if (job->problem->tasks[block->tasks[0]].set_up[d] != WH_ORDER_ANY || dimension->values <= 1) continue;
        if (dimension->values > VALUES || dimension->start == WH_ORDER_ANY ||
            (parts->free >= 0 && parts->free != (int)d))
            return false;
        parts->free = (int)d;
    }
    return true;
}

/* A part ends at a cut that a choice of orders follows; where only one order is possible there is nothing to part. */
static void find_parts(struct parts *parts)
{
    const struct wh_order_job *job = parts->job;
    size_t done = 0;
    for (size_t n = 0; n < job->count; n++) {
        size_t b = job->sorted[n];
        bool last = n + 1 == job->count;
        bool parted =
            !last && parts->count + 1 < MOST_PARTS && !compares_with_all(job, job->sorted[n + 1]) && is_cut(parts, b);
        if (!last && !parted) continue;
        struct part *part = &parts->part[parts->count++];
        part->cut = last ? WH_ORDER_NONE : b;
        part->chosen = WH_NEW(parts->arena, job->problem->task_count, bool);
        part->past = WH_NEW(parts->arena, job->problem->task_count, bool);
        for (size_t i = 0; i <= n; i++) {
            const struct wh_order_block *block = &job->blocks[job->sorted[i]];
            for (size_t m = 0; m < block->count; m++) (i < done ? part->past : part->chosen)[block->tasks[m]] = true;
        }
        done = n + 1;
    }
}

/* The job of one part, begun with `from` and ended with `to` held in the free dimension. */
static struct wh_order_job *job_of(struct parts *parts, size_t i, int from, int to)
{
    const struct wh_order_problem *whole = parts->job->problem;
    struct wh_order_problem *problem = WH_NEW(parts->arena, 1, struct wh_order_problem);
    struct part *part = &parts->part[i];
    const char *why;
    *problem = *whole;
    if (i > 0) { /* what the cut before it leaves */
        const struct wh_order_task *cut = &whole->tasks[parts->job->blocks[parts->part[i - 1].cut].tasks[0]];
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++)
            if (cut->set_up[d] != WH_ORDER_ANY) problem->dimensions[d].start = cut->set_up[d];
    }
    if (parts->free >= 0) problem->dimensions[parts->free].start = from;
    size_t exit = part->cut == WH_ORDER_NONE ? WH_ORDER_NONE : parts->job->blocks[part->cut].tasks[0];
    bool holds = exit != WH_ORDER_NONE && parts->free >= 0 && whole->tasks[exit].set_up[parts->free] == WH_ORDER_ANY;
    if (holds) {
        struct wh_order_task *tasks = WH_NEW(parts->arena, whole->task_count, struct wh_order_task);
        memcpy(tasks, whole->tasks, whole->task_count * sizeof *tasks);
        tasks[exit].set_up[parts->free] = to;
        problem->tasks = tasks;
    }
    struct wh_order_job *job = wh_order_job_new(parts->arena, problem, part->chosen, part->past, parts->way, &why);
    if (job && holds) {
        job->exit = job->block_of[exit];
        job->held[parts->free] = true;
    }
    return job;
}

/* What an order of a part costs with its waits; INFINITY where a greatest wait is broken. */
static double timed_cost(struct wh_arena *arena, const struct wh_order_job *job, const size_t blocks[])
{
    struct wh_order_states *states = wh_order_states_new(arena, job, WH_ORDER_WAITS);
    struct wh_order_state *to = wh_order_state_spare(states);
    uint32_t at = 1;
    for (size_t i = 0; i < job->count; i++) {
        double waited;
        if (wh_order_follow(states, wh_order_state_at(states, at), blocks[i], to, &waited) != WH_ORDER_FOLLOWS)
            return INFINITY;
        at = wh_order_remember(states, to);
    }
    const struct wh_order_state *end = wh_order_state_at(states, at);
    return fmax(wh_order_earliest(states, end, WH_ORDER_FREE), wh_order_earliest(states, end, WH_ORDER_LATEST));
}

static void keep_cheaper(struct wh_order_found *best, struct wh_order_found found)
{
    if (found.found && (!best->found || found.cost < best->cost)) *best = found;
}

/* Orders made step by step so that nobody stands idle: by the cheapest without waits, by what has most behind it, by
 * the natural order. */
static struct wh_order_found quick_order(struct parts *parts, const struct wh_order_job *job,
                                         const struct wh_order_bound *bound, const size_t loose[])
{
    double *rank = WH_NEW(parts->arena, job->count, double);
    struct wh_order_found best = {.cost = INFINITY};
    for (size_t i = 0; loose && i < job->count; i++) rank[loose[i]] = (double)i;
    if (loose) best = wh_order_soonest(parts->arena, job, rank);
    for (size_t b = 0; b < job->count; b++) rank[b] = -bound->tail[job->blocks[b].tasks[0]];
    keep_cheaper(&best, wh_order_soonest(parts->arena, job, rank));
    for (size_t b = 0; b < job->count; b++) rank[b] = (double)b;
    keep_cheaper(&best, wh_order_soonest(parts->arena, job, rank));
    return best;
}

/* The cheapest order without waits: one found soon, then whatever is cheaper still. */
static struct wh_order_found without_waits(struct parts *parts, const struct wh_order_job *job,
                                           const struct wh_order_bound *bound, double cutoff)
{
    struct wh_order_how how = {.lean = 2, .cutoff = cutoff, .most = LEAN_NODES, .bound = bound};
    struct wh_order_found soon = wh_order_cheapest(parts->arena, job, &how, parts->nodes);
    how = (struct wh_order_how){
        .lean = 1, .cutoff = soon.found ? soon.cost : cutoff, .most = parts->most, .bound = bound};
    struct wh_order_found best = wh_order_cheapest(parts->arena, job, &how, parts->nodes);
    if (best.found || !soon.found) return best;
    soon.bound = best.bound;
    soon.stopped = best.stopped;
    return soon;
}

/* The cheapest order of one part: without waits first; when they then cost nothing, that is it. Where the search stops
 * before its end, the best of what is found quickly. */
static struct wh_order_found solve_part(struct parts *parts, const struct wh_order_job *job, double cutoff)
{
    const struct wh_order_bound *bound = wh_order_bound_new(parts->arena, job);
    struct wh_order_found loose = without_waits(parts, job, bound, cutoff), best = loose;
    if (loose.found ? job->source_count == 0 : !loose.stopped) return loose;
    best.cost = loose.found ? timed_cost(parts->arena, job, loose.blocks) : INFINITY;
    best.found = isfinite(best.cost);
    if (!(best.cost <= loose.bound + WH_ORDER_SLACK))
        keep_cheaper(&best, quick_order(parts, job, bound, loose.found ? loose.blocks : NULL));
    struct wh_order_how how = {.timed = true,
                               .lean = 1,
                               .cutoff = fmin(cutoff, best.found ? best.cost : INFINITY),
                               .most = parts->most,
                               .bound = bound};
    best.bound = loose.bound;
    if (how.cutoff <= loose.bound + WH_ORDER_SLACK) return best;
    struct wh_order_found tight = wh_order_cheapest(parts->arena, job, &how, parts->nodes);
    if (tight.found) best = tight;
    best.bound = fmax(loose.bound, tight.bound);
    return best;
}

/* Each part is searched in memory of its own, given back at once; when it cannot be had, neither can the rest. */
struct search_of_part {
    const struct parts *parts;
    const struct wh_order_job *job;
    double cutoff;
    struct wh_order_found found;
};

static enum wh_status search_part(struct wh_arena *arena, void *context)
{
    struct search_of_part *search = context;
    struct parts here = *search->parts;
    here.arena = arena;
    search->found = solve_part(&here, search->job, search->cutoff);
    if (!search->found.found) return WH_OK;
    size_t *kept = WH_NEW(search->parts->arena, search->job->count, size_t);
    memcpy(kept, search->found.blocks, search->job->count * sizeof *kept);
    search->found.blocks = kept;
    return WH_OK;
}

static struct wh_order_found solve_apart(struct parts *parts, const struct wh_order_job *job, double cutoff)
{
    struct search_of_part search = {.parts = parts, .job = job, .cutoff = cutoff};
    if (wh_arena_run(PART_MEMORY, search_part, &search) == WH_OK) return search.found;
    wh_arena_give_up(parts->arena);
}

/* The blocks of a part, as blocks of the whole job. */
static size_t put_blocks(const struct parts *parts, const struct wh_order_job *job, const size_t from[], size_t to[])
{
    for (size_t i = 0; i < job->count; i++) to[i] = parts->job->block_of[job->blocks[from[i]].tasks[0]];
    return job->count;
}

static int value_after(const struct parts *parts, size_t i, int to)
{
    int fixed = parts->job->problem->tasks[parts->job->blocks[parts->part[i].cut].tasks[0]].set_up[parts->free];
    return fixed == WH_ORDER_ANY ? to : fixed;
}

static void solve_from(struct parts *parts, size_t i, int from, double cutoff);

/* One way through part i: begun with `from`, ended with `to` held. */
static void try_exit(struct parts *parts, size_t i, int from, int to)
{
    bool last = i + 1 == parts->count;
    const struct wh_order_job *job = job_of(parts, i, from, to);
    double *cost = &parts->cost[i][from], *bound = &parts->bound[i][from], rest = 0, rest_bound = 0;
    if (!job) return;
    struct wh_order_found found = solve_apart(parts, job, *cost);
    if (!last && (found.found || isfinite(found.bound)) && found.bound < *cost - WH_ORDER_SLACK) {
        int next = parts->free < 0 ? 0 : value_after(parts, i, to);
        solve_from(parts, i + 1, next, INFINITY);
        rest = parts->cost[i + 1][next];
        rest_bound = parts->bound[i + 1][next];
    }
    *bound = fmin(*bound, found.bound + rest_bound);
    if (!found.found || found.cost + rest >= *cost - WH_ORDER_SLACK) return;
    *cost = found.cost + rest;
    size_t n = put_blocks(parts, job, found.blocks, parts->blocks[i][from]);
    parts->length[i][from] = n;
    if (last) return;
    int next = parts->free < 0 ? 0 : value_after(parts, i, to);
    memcpy(parts->blocks[i][from] + n, parts->blocks[i + 1][next], parts->length[i + 1][next] * sizeof(size_t));
    parts->length[i][from] += parts->length[i + 1][next];
}

/* The cheapest from part i to the end that costs less than `cutoff`, `from` held when it begins. */
static void solve_from(struct parts *parts, size_t i, int from, double cutoff)
{
    if (parts->solved[i][from]) return;
    parts->solved[i][from] = true;
    parts->cost[i][from] = cutoff;
    parts->bound[i][from] = INFINITY;
    parts->blocks[i][from] = WH_NEW(parts->arena, parts->job->count, size_t);
    bool open =
        parts->free >= 0 && parts->part[i].cut != WH_ORDER_NONE &&
        parts->job->problem->tasks[parts->job->blocks[parts->part[i].cut].tasks[0]].set_up[parts->free] == WH_ORDER_ANY;
    for (int to = 0; to < (open ? VALUES : 1); to++) try_exit(parts, i, from, to);
    parts->bound[i][from] = fmin(parts->bound[i][from], parts->cost[i][from]);
}

struct wh_order_found wh_order_by_parts(struct wh_arena *arena, const struct wh_order_job *job, const int chosen_way[],
                                        double cutoff, uint64_t *nodes, uint64_t most)
{
    struct parts *parts = WH_NEW(arena, 1, struct parts);
    *parts = (struct parts){.arena = arena, .job = job, .way = chosen_way, .nodes = nodes, .most = most, .free = -1};
    if (job->count == 0) return (struct wh_order_found){.found = cutoff > 0, .blocks = WH_NEW(arena, 1, size_t)};
    find_parts(parts);
    int from = parts->free < 0 ? 0 : job->problem->dimensions[parts->free].start;
    solve_from(parts, 0, from, cutoff);
    struct wh_order_found found = {.bound = fmin(parts->bound[0][from], cutoff), .cost = parts->cost[0][from]};
    found.found = found.cost < cutoff - WH_ORDER_SLACK;
    found.blocks = parts->blocks[0][from];
    return found;
}
