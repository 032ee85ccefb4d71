#include "order/job.h"

#include "base/text.h"
#include "order/done.h"
#include "order/judge.h"

#include <math.h>
#include <string.h>

struct builder {
    struct wh_arena *arena;
    const struct wh_order_problem *problem;
    struct wh_order_job *job;
    WH_LIST(struct wh_order_edge) edges;
    WH_LIST(struct wh_order_lag) lags;
    const char *why;
};

static bool both(const struct builder *b, const struct wh_order_link *link)
{
    return b->job->chosen[link->first] && b->job->chosen[link->after];
}

static const char *name_of(const struct builder *b, size_t task)
{
    return wh_order_name(b->arena, b->problem, task);
}

static void add_lag(struct builder *b, size_t first, size_t after, double least, double most)
{
    if (least <= 0 && !isfinite(most) && !b->problem->tasks[first].alone) return;
    *WH_PUSH(b->arena, &b->lags) = (struct wh_order_lag){.first = first, .after = after, .least = least, .most = most};
}

/* What has to come before what: by links, and by the chosen ways of needs. */
static void gather(struct builder *b, const int chosen_way[])
{
    const struct wh_order_problem *p = b->problem;
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_link *link = &p->links[i];
        if (!both(b, link)) continue;
        *WH_PUSH(b->arena, &b->edges) = (struct wh_order_edge){link->first, link->after, link->least};
        add_lag(b, link->first, link->after, link->least, link->most);
    }
    for (size_t i = 0; i < p->need_count; i++) {
        const struct wh_order_need *need = &p->needs[i];
        if (!b->job->chosen[need->task] || !need->before || chosen_way[i] < 0) continue;
        const struct wh_order_way *way = &need->ways[chosen_way[i]];
        for (size_t k = 0; k < way->count; k++) {
            if (b->job->past && b->job->past[way->tasks[k]]) continue;
            *WH_PUSH(b->arena, &b->edges) = (struct wh_order_edge){way->tasks[k], need->task, 0};
            add_lag(b, way->tasks[k], need->task, 0, INFINITY);
        }
    }
}

/* What is done already comes first and in its order, whether it has ended or passes by itself. */
static void gather_done(struct builder *b)
{
    const struct wh_order_problem *p = b->problem;
    size_t last = WH_ORDER_NONE;
    for (size_t i = 0; i < p->done_count; i++) {
        if (!b->job->chosen[p->done[i]]) continue;
        if (last != WH_ORDER_NONE) *WH_PUSH(b->arena, &b->edges) = (struct wh_order_edge){last, p->done[i], -INFINITY};
        last = p->done[i];
    }
    for (size_t t = 0; t < p->task_count && last != WH_ORDER_NONE; t++) {
        if (!b->job->chosen[t] || wh_order_done_at(p, t) < p->done_count) continue;
        *WH_PUSH(b->arena, &b->edges) = (struct wh_order_edge){last, t, -INFINITY};
    }
}

/* For each task the one that follows it without a break, and whether it follows one so itself. */
static bool chain(struct builder *b, size_t next[], bool led[])
{
    const struct wh_order_problem *p = b->problem;
    for (size_t t = 0; t < p->task_count; t++) next[t] = WH_ORDER_NONE;
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_link *link = &p->links[i];
        if (!link->joined || !both(b, link) || next[link->first] == link->after) continue;
        if (next[link->first] != WH_ORDER_NONE || led[link->after]) {
            b->why = wh_arena_print(b->arena, "%s cannot follow %s at once: another task does", name_of(b, link->after),
                                    name_of(b, link->first));
            return false;
        }
        next[link->first] = link->after;
        led[link->after] = true;
    }
    return true;
}

static void join(struct builder *b, const size_t next[], const bool led[])
{
    struct wh_order_job *job = b->job;
    size_t n = b->problem->task_count;
    job->blocks = WH_NEW(b->arena, n, struct wh_order_block);
    job->block_of = WH_NEW(b->arena, n, size_t);
    job->member_of = WH_NEW(b->arena, n, size_t);
    size_t *line = WH_NEW(b->arena, n, size_t);
    size_t used = 0;
    for (size_t t = 0; t < n; t++) job->block_of[t] = WH_ORDER_NONE;
    for (size_t t = 0; t < n; t++) {
        if (!job->chosen[t] || led[t]) continue;
        struct wh_order_block *block = &job->blocks[job->count];
        block->tasks = &line[used];
        for (size_t m = t; m != WH_ORDER_NONE; m = next[m]) {
            job->block_of[m] = job->count;
            job->member_of[m] = block->count++;
            line[used++] = m;
        }
        job->count++;
    }
    job->words = job->count / 64 + 1;
}

/* The chosen tasks that no block holds follow each other in a ring: so do edges among the blocks left over. */
static void tell_ring(struct builder *b, const bool sorted[])
{
    const struct wh_order_job *job = b->job;
    const struct wh_order_edge **cause = WH_NEW(b->arena, job->count, const struct wh_order_edge *);
    for (size_t i = 0; i < b->edges.count; i++) {
        const struct wh_order_edge *e = &b->edges.at[i];
        size_t to = job->block_of[e->after];
        if (!sorted[to] && !sorted[job->block_of[e->first]] && !cause[to]) cause[to] = e;
    }
    size_t at = 0;
    while (!cause[at]) at++;
    for (size_t i = 0; i < job->count; i++) at = job->block_of[cause[at]->first];
    struct wh_text text = {.arena = b->arena};
    size_t end = at;
    do {
        wh_text_print(&text, "%s%s waits for %s", text.count ? ", " : "", name_of(b, cause[at]->after),
                      name_of(b, cause[at]->first));
        at = job->block_of[cause[at]->first];
    } while (at != end);
    b->why = wh_text_of(&text);
}

/* A chosen task outside all blocks follows itself through joined links. */
static bool all_in_blocks(struct builder *b)
{
    for (size_t t = 0; t < b->problem->task_count; t++) {
        if (!b->job->chosen[t] || b->job->block_of[t] != WH_ORDER_NONE) continue;
        b->why = wh_arena_print(b->arena, "%s has to follow itself at once", name_of(b, t));
        return false;
    }
    return true;
}

/* Inside a block the sequence stands: an edge against it is a ring of two. */
static bool blocks_agree(struct builder *b)
{
    const struct wh_order_job *job = b->job;
    for (size_t i = 0; i < b->edges.count; i++) {
        const struct wh_order_edge *e = &b->edges.at[i];
        if (job->block_of[e->first] != job->block_of[e->after]) continue;
        if (job->member_of[e->first] < job->member_of[e->after]) continue;
        b->why = wh_arena_print(b->arena, "%s waits for %s, %s waits for %s", name_of(b, e->after),
                                name_of(b, e->first), name_of(b, e->first), name_of(b, e->after));
        return false;
    }
    return true;
}

static size_t lowest(const uint64_t set[], size_t words)
{
    for (size_t w = 0; w < words; w++)
        if (set[w]) return w * 64 + (size_t)__builtin_ctzll(set[w]);
    return WH_ORDER_NONE;
}

/* Sorts the blocks, lowest first among those free; false: a ring. */
static bool sort(struct builder *b)
{
    struct wh_order_job *job = b->job;
    size_t *sorted = WH_NEW(b->arena, job->count, size_t);
    size_t *open = WH_NEW(b->arena, job->count, size_t);
    bool *done = WH_NEW(b->arena, job->count, bool);
    uint64_t *free = WH_NEW(b->arena, job->words, uint64_t);
    job->before = WH_NEW(b->arena, job->count * job->words, uint64_t);
    job->behind = WH_NEW(b->arena, job->count * job->words, uint64_t);
    for (size_t i = 0; i < b->edges.count; i++) {
        size_t from = job->block_of[b->edges.at[i].first], to = job->block_of[b->edges.at[i].after];
        uint64_t *before = &job->before[to * job->words];
        if (from != to && !wh_order_has(before, from)) open[to]++;
        if (from == to) continue;
        wh_order_put(before, from);
        wh_order_put(&job->behind[from * job->words], to);
    }
    for (size_t n = 0; n < job->count; n++)
        if (open[n] == 0) wh_order_put(free, n);
    for (size_t n = 0; n < job->count; n++) {
        size_t next = lowest(free, job->words);
        if (next == WH_ORDER_NONE) {
            tell_ring(b, done);
            return false;
        }
        done[next] = true;
        free[next / 64] &= ~((uint64_t)1 << next % 64);
        sorted[n] = next;
        for (size_t w = 0; w < job->words; w++)
            for (uint64_t left = job->behind[next * job->words + w]; left; left &= left - 1) {
                size_t to = w * 64 + (size_t)__builtin_ctzll(left);
                if (--open[to] == 0) wh_order_put(free, to);
            }
    }
    job->sorted = sorted;
    return true;
}

/* What stands directly behind each block. */
static void index_next(struct builder *b)
{
    struct wh_order_job *job = b->job;
    WH_LIST(size_t) next = {0};
    job->next_from = WH_NEW(b->arena, job->count + 1, size_t);
    for (size_t block = 0; block < job->count; block++) {
        for (size_t w = 0; w < job->words; w++)
            for (uint64_t direct = job->behind[block * job->words + w]; direct; direct &= direct - 1)
                *WH_PUSH(b->arena, &next) = w * 64 + (size_t)__builtin_ctzll(direct);
        job->next_from[block + 1] = next.count;
    }
    job->next = next.at;
}

/* From what stands directly before and behind a block to all before and all behind it. */
static void close_sets(struct builder *b)
{
    struct wh_order_job *job = b->job;
    for (size_t n = 0; n < job->count; n++) {
        size_t to = job->sorted[n];
        uint64_t *before = &job->before[to * job->words];
        for (size_t w = 0; w < job->words; w++)
            for (uint64_t direct = before[w]; direct; direct &= direct - 1) {
                size_t from = w * 64 + (size_t)__builtin_ctzll(direct);
                for (size_t v = 0; v < job->words; v++) before[v] |= job->before[from * job->words + v];
            }
        for (size_t w = 0; w < job->words; w++)
            for (uint64_t all = before[w]; all; all &= all - 1)
                wh_order_put(&job->behind[(w * 64 + (size_t)__builtin_ctzll(all)) * job->words], to);
    }
}

static void index_lags(struct builder *b)
{
    struct wh_order_job *job = b->job;
    size_t n = b->problem->task_count;
    job->lags = WH_NEW(b->arena, b->lags.count, struct wh_order_lag);
    job->lags_into = WH_NEW(b->arena, n + 2, size_t);
    for (size_t i = 0; i < b->lags.count; i++) job->lags_into[b->lags.at[i].after + 2]++;
    for (size_t t = 0; t < n; t++) job->lags_into[t + 2] += job->lags_into[t + 1];
    for (size_t i = 0; i < b->lags.count; i++) {
        struct wh_order_lag lag = b->lags.at[i];
        lag.inside = job->block_of[lag.first] == job->block_of[lag.after];
        job->lags[job->lags_into[lag.after + 1]++] = lag;
    }
    job->lag_count = b->lags.count;
}

static void index_sources(struct builder *b)
{
    struct wh_order_job *job = b->job;
    size_t count = 0;
    job->lags_from = WH_NEW(b->arena, job->end_count + 1, size_t);
    job->from = WH_NEW(b->arena, job->lag_count, size_t);
    for (size_t s = 0; s < job->end_count; s++) {
        job->lags_from[s] = count;
        for (size_t i = 0; i < job->lag_count; i++) {
            const struct wh_order_lag *lag = &job->lags[i];
            if (lag->first != job->sources[s]) continue;
            if (isfinite(lag->most)) (lag->inside ? job->limited_inside : job->limited)[s] = true;
            job->from[count++] = i;
        }
    }
    job->lags_from[job->end_count] = count;
}

/* Tasks whose end has to be remembered once they are done. */
static void find_sources(struct builder *b)
{
    struct wh_order_job *job = b->job;
    size_t n = b->problem->task_count;
    bool *inside = WH_NEW(b->arena, n, bool), *outside = WH_NEW(b->arena, n, bool);
    for (size_t i = 0; i < job->lag_count; i++) (job->lags[i].inside ? inside : outside)[job->lags[i].first] = true;
    job->sources = WH_NEW(b->arena, n, size_t);
    job->source_of = WH_NEW(b->arena, n, size_t);
    job->limited = WH_NEW(b->arena, n, bool);
    job->limited_inside = WH_NEW(b->arena, n, bool);
    for (size_t t = 0; t < n; t++) {
        job->source_of[t] = WH_ORDER_NONE;
        if (!job->chosen[t] || !(outside[t] || (b->problem->tasks[t].alone && !inside[t]))) continue;
        job->source_of[t] = job->source_count;
        job->sources[job->source_count++] = t;
    }
    job->end_count = job->source_count;
    for (size_t t = 0; t < n; t++) {
        if (!job->chosen[t] || !inside[t] || outside[t]) continue;
        job->source_of[t] = job->end_count;
        job->sources[job->end_count++] = t;
    }
    index_sources(b);
}

struct wh_order_job *wh_order_job_new(struct wh_arena *arena, const struct wh_order_problem *problem,
                                      const bool chosen[], const bool past[], const int chosen_way[],
                                      const char **ret_why)
{
    struct wh_order_job *job = WH_NEW(arena, 1, struct wh_order_job);
    struct builder b = {.arena = arena, .problem = problem, .job = job};
    *job = (struct wh_order_job){.problem = problem, .chosen = chosen, .past = past, .exit = WH_ORDER_NONE};
    size_t *next = WH_NEW(arena, problem->task_count, size_t);
    bool *led = WH_NEW(arena, problem->task_count, bool);
    gather(&b, chosen_way);
    gather_done(&b);
    bool fine = chain(&b, next, led);
    if (fine) join(&b, next, led);
    if (!fine || !all_in_blocks(&b) || !blocks_agree(&b) || !sort(&b)) {
        *ret_why = b.why;
        return NULL;
    }
    job->edges = b.edges.at;
    job->edge_count = b.edges.count;
    index_next(&b);
    close_sets(&b);
    index_lags(&b);
    find_sources(&b);
    for (size_t w = 0; w < problem->window_count; w++) {
        if (chosen[problem->windows[w].closes]) job->blocks[job->block_of[problem->windows[w].closes]].closes = true;
    }
    for (size_t u = 0; u < problem->use_count; u++) {
        if (!chosen[problem->uses[u].from] || !chosen[problem->uses[u].to]) continue;
        struct wh_order_block *block = &job->blocks[job->block_of[problem->uses[u].from]];
        block->closes = block->uses = true;
    }
    wh_order_judge(arena, job);
    return job;
}

size_t wh_order_tasks(const struct wh_order_job *job, const size_t blocks[], size_t tasks[])
{
    size_t n = 0;
    for (size_t i = 0; i < job->count; i++) {
        const struct wh_order_block *block = &job->blocks[blocks[i]];
        for (size_t m = 0; m < block->count; m++) tasks[n++] = block->tasks[m];
    }
    return n;
}
