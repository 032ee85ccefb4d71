#include "order/parts.h"

#include <math.h>
#include <string.h>

enum { VALUES = 2, MOST_PARTS = 32 };

/* A part ends with a cut: a block that all others come before or after. */
struct part {
    bool *chosen, *past; /* by task */
    size_t cut;          /* its last block in the whole job, or WH_ORDER_NONE for the last part */
};

struct wh_order_parts {
    struct wh_arena *arena;
    const struct wh_order_job *job;
    const int *way;
    struct wh_order_book *book;
    struct part part[MOST_PARTS];
    size_t count;
    int free; /* the dimension whose value at a cut may be either of two; -1: none */
    struct wh_order_part *between[MOST_PARTS][VALUES][VALUES]; /* begun and ended with; NULL: it cannot be */
    bool made[MOST_PARTS][VALUES][VALUES];
    /* from the beginning of each part to the end, by the value held when it begins: */
    bool solved[MOST_PARTS + 1][VALUES];
    double cost[MOST_PARTS + 1][VALUES], bound[MOST_PARTS + 1][VALUES];
    int exit[MOST_PARTS + 1][VALUES];    /* the value to end the part with for that cost */
    int towards[MOST_PARTS + 1][VALUES]; /* and for that bound */
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

/* Does a use begin on one side of a block and end on the other? */
static bool is_in_a_use(const struct wh_order_job *job, size_t b)
{
    const uint64_t *behind = &job->behind[b * job->words];
    for (size_t u = 0; u < job->problem->use_count; u++) {
        const struct wh_order_use *use = &job->problem->uses[u];
        if (!job->chosen[use->from] || !job->chosen[use->to]) continue;
        if (wh_order_has(behind, job->block_of[use->from]) != wh_order_has(behind, job->block_of[use->to])) return true;
    }
    return false;
}

/* No wait and no use may reach over a cut, and its set-up must be known but for one dimension of two values. */
static bool is_cut(struct wh_order_parts *parts, size_t b)
{
    const struct wh_order_job *job = parts->job;
    const struct wh_order_block *block = &job->blocks[b];
    if (block->count != 1 || job->source_of[block->tasks[0]] != WH_ORDER_NONE || !compares_with_all(job, b) ||
        !all_ended(job, b) || is_in_a_use(job, b))
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
static void find_parts(struct wh_order_parts *parts)
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

static const bool *copy(struct wh_arena *arena, const bool list[], size_t n)
{
    bool *copied = WH_NEW(arena, n, bool);
    memcpy(copied, list, n * sizeof *list);
    return copied;
}

/* The job of one part, begun with `from` and ended with `to` held in the free dimension. */
static struct wh_order_job *job_of(struct wh_arena *arena, const struct wh_order_parts *parts, size_t i, int from,
                                   int to)
{
    const struct wh_order_problem *whole = parts->job->problem;
    struct wh_order_problem *problem = WH_NEW(arena, 1, struct wh_order_problem);
    const struct part *part = &parts->part[i];
    const bool *chosen = copy(arena, part->chosen, whole->task_count);
    const bool *past = copy(arena, part->past, whole->task_count);
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
        struct wh_order_task *tasks = WH_NEW(arena, whole->task_count, struct wh_order_task);
        memcpy(tasks, whole->tasks, whole->task_count * sizeof *tasks);
        tasks[exit].set_up[parts->free] = to;
        problem->tasks = tasks;
    }
    struct wh_order_job *job = wh_order_job_new(arena, problem, chosen, past, parts->way, &why);
    if (job && holds) {
        job->exit = job->block_of[exit];
        job->held[parts->free] = true;
    }
    return job;
}

/* A part that is not in the book is made once more, to stay. */
static struct wh_order_part *part_between(struct wh_order_parts *parts, size_t i, int from, int to)
{
    struct wh_order_part **between = &parts->between[i][from][to];
    if (parts->made[i][from][to]) return *between;
    parts->made[i][from][to] = true;
    const struct wh_order_job *job = job_of(parts->arena, parts, i, from, to);
    if (!job) return NULL;
    *between = wh_order_part_of(parts->book, job);
    if (!*between) *between = wh_order_part_add(parts->book, job_of(parts->book->arena, parts, i, from, to));
    wh_order_part_search(parts->book, *between, 0);
    return *between;
}

/* The set-up task that ends part i fixes the value held after it, or leaves it at `to`. */
static int fixed_after(const struct wh_order_parts *parts, size_t i)
{
    if (parts->free < 0 || parts->part[i].cut == WH_ORDER_NONE) return 0;
    return parts->job->problem->tasks[parts->job->blocks[parts->part[i].cut].tasks[0]].set_up[parts->free];
}

/* The cheapest known, and the bound, from part i to the end, `from` held when it begins. */
static void weigh_from(struct wh_order_parts *parts, size_t i, int from)
{
    if (parts->solved[i][from]) return;
    parts->solved[i][from] = true;
    parts->cost[i][from] = parts->bound[i][from] = i < parts->count ? INFINITY : 0;
    if (i == parts->count) return;
    int fixed = fixed_after(parts, i);
    for (int to = 0; to < (fixed == WH_ORDER_ANY ? VALUES : 1); to++) {
        const struct wh_order_part *part = part_between(parts, i, from, to);
        int next = fixed == WH_ORDER_ANY ? to : fixed;
        if (!part || !isfinite(part->bound)) continue;
        weigh_from(parts, i + 1, next);
        double bound = part->bound + parts->bound[i + 1][next], cost = part->cost + parts->cost[i + 1][next];
        if (bound < parts->bound[i][from]) {
            parts->bound[i][from] = bound;
            parts->towards[i][from] = to;
        }
        if (cost < parts->cost[i][from]) {
            parts->cost[i][from] = cost;
            parts->exit[i][from] = to;
        }
    }
}

/* The value held when the first part begins. */
static int held_first(const struct wh_order_parts *parts)
{
    return parts->free < 0 ? 0 : parts->job->problem->dimensions[parts->free].start;
}

/* Searches the parts along the values that promise most, until all of those have had their efforts. */
static void search_most_promising(struct wh_order_parts *parts, unsigned efforts)
{
    bool searched;
    do {
        int from = held_first(parts);
        searched = false;
        memset(parts->solved, 0, sizeof parts->solved);
        weigh_from(parts, 0, from);
        for (size_t i = 0; i < parts->count && isfinite(parts->bound[i][from]); i++) {
            int to = parts->towards[i][from], fixed = fixed_after(parts, i);
            searched |= wh_order_part_search(parts->book, parts->between[i][from][to], efforts);
            from = fixed == WH_ORDER_ANY ? to : fixed;
        }
    } while (searched);
}

/* Searches all, while no order is known. */
static void search_all(struct wh_order_parts *parts, unsigned efforts)
{
    for (size_t i = 0; i < parts->count; i++)
        for (int from = 0; from < VALUES; from++)
            for (int to = 0; to < VALUES; to++)
                if (parts->between[i][from][to])
                    wh_order_part_search(parts->book, parts->between[i][from][to], efforts);
    memset(parts->solved, 0, sizeof parts->solved);
    weigh_from(parts, 0, held_first(parts));
}

struct wh_order_parts *wh_order_parts_new(struct wh_arena *arena, const struct wh_order_job *job,
                                          const int chosen_way[], struct wh_order_book *book)
{
    struct wh_order_parts *parts = WH_NEW(arena, 1, struct wh_order_parts);
    *parts = (struct wh_order_parts){.arena = arena, .job = job, .way = chosen_way, .book = book, .free = -1};
    find_parts(parts);
    return parts;
}

struct wh_order_found wh_order_by_parts(struct wh_order_parts *parts, unsigned efforts)
{
    const struct wh_order_job *job = parts->job;
    int from = held_first(parts);
    search_most_promising(parts, efforts);
    if (!isfinite(parts->cost[0][from])) search_all(parts, efforts);
    struct wh_order_found found = {.bound = parts->bound[0][from], .cost = parts->cost[0][from]};
    found.found = isfinite(found.cost);
    if (!found.found) return found;
    found.blocks = WH_NEW(parts->arena, job->count, size_t);
    size_t n = 0;
    for (size_t i = 0; i < parts->count; i++) {
        int to = parts->exit[i][from], fixed = fixed_after(parts, i);
        const struct wh_order_part *part = parts->between[i][from][to];
        for (size_t k = 0; k < part->job->count; k++)
            found.blocks[n++] = job->block_of[part->job->blocks[part->blocks[k]].tasks[0]];
        from = fixed == WH_ORDER_ANY ? to : fixed;
    }
    return found;
}
