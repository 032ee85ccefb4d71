#include "order/search.h"

#include "order/bound.h"
#include "order/heap.h"
#include "order/state.h"

#include <math.h>

struct search {
    const struct wh_order_job *job;
    struct wh_order_states *states;
    struct wh_order_bound *bound;
    struct wh_order_heap heap;
    bool timed;
    double cutoff;
    double given_up; /* least bound of what was left out although it might have led somewhere */
    size_t *ready, *ready_next; /* working space: blocks that can begin now, and after the next one */
    struct wh_order_state *spare;
};

static size_t list_ready(const struct wh_order_job *job, const struct wh_order_state *state, size_t ready[])
{
    size_t count = 0;
    for (size_t b = 0; b < job->count; b++) {
        if (wh_order_has(state->more, b)) continue;
        if (wh_order_within(job->words, &job->before[b * job->words], state->more)) ready[count++] = b;
    }
    return count;
}

/* With waits: from each source begun, what follows it; from each not begun, the work before it and what follows. */
static double longest(const struct search *s, const struct wh_order_state *state)
{
    const struct wh_order_job *job = s->job;
    double most = state->latest;
    for (size_t i = 0; i < job->lag_count; i++) {
        const struct wh_order_lag *lag = &job->lags[i];
        bool first = wh_order_has(state->more, job->block_of[lag->first]);
        if (lag->inside || !first || wh_order_has(state->more, job->block_of[lag->after])) continue;
        double end = wh_order_end(job, state, job->source_of[lag->first]);
        most = fmax(most, end + lag->least + s->bound->tail[lag->after]);
    }
    for (size_t i = 0; i < job->source_count; i++) {
        size_t block = job->block_of[job->sources[i]];
        if (wh_order_has(state->more, block)) continue;
        double work = wh_order_bound_work(s->bound, &job->before[block * job->words], state->more);
        most = fmax(most, state->time + work + s->bound->tail[job->blocks[block].tasks[0]]);
    }
    return most;
}

/* The least that an order through this state can cost. */
static double least(struct search *s, const struct wh_order_state *state)
{
    size_t count = list_ready(s->job, state, s->ready_next);
    double work = state->time + fmax(state->rest, 0) +
                  wh_order_bound_changes(s->bound, state->more, state->value, s->ready_next, count);
    return s->timed ? fmax(work, longest(s, state)) : work;
}

/* README.md: done at once, without looking at others. */
static bool is_at_once(struct search *s, uint32_t number, size_t block)
{
    const struct wh_order_job *job = s->job;
    const struct wh_order_state *state = wh_order_state_at(s->states, number);
    const struct wh_order_block *of = &job->blocks[block];
    if (of->closes || of->waits || !wh_order_is_free(job, state, block)) return false;
    if (!s->timed) return true;
    size_t own = job->source_of[of->tasks[0]];
    if (of->count == 1 && own != WH_ORDER_NONE && job->problem->tasks[of->tasks[0]].alone && !job->limited[own]) {
        return wh_order_follow(s->states, number, block, s->spare) == WH_ORDER_FOLLOWS && s->spare->time <= state->time;
    }
    for (size_t i = 0; i < job->source_count; i++) {
        size_t source = job->block_of[job->sources[i]];
        bool begun = wh_order_has(state->more, source);
        bool behind = wh_order_has(&job->behind[block * job->words], source);
        if (begun ? wh_order_end(job, state, i) > 0 : !behind) return false;
    }
    return true;
}

static void try(struct search *s, uint32_t number, size_t block, double parent)
{
    struct wh_order_state *to = s->spare;
    switch (wh_order_follow(s->states, number, block, to)) {
    case WH_ORDER_SHUT: return;
    case WH_ORDER_LATE: s->given_up = fmin(s->given_up, parent); return;
    case WH_ORDER_FOLLOWS: break;
    }
    double key = fmax(least(s, to), parent);
    if (key >= s->cutoff - WH_ORDER_SLACK) return;
    uint32_t kept = wh_order_remember(s->states, to);
    if (kept) wh_order_heap_add(&s->heap, key, to->depth, kept);
}

static void expand(struct search *s, struct wh_order_entry at)
{
    const struct wh_order_state *state = wh_order_state_at(s->states, at.number);
    size_t count = list_ready(s->job, state, s->ready);
    for (size_t i = 0; i < count; i++) {
        if (!is_at_once(s, at.number, s->ready[i])) continue;
        try(s, at.number, s->ready[i], at.key);
        return;
    }
    for (size_t i = 0; i < count; i++) try(s, at.number, s->ready[i], at.key);
}

static struct search begin(struct wh_arena *arena, const struct wh_order_job *job, bool timed, double cutoff)
{
    struct search s = {.job = job, .timed = timed, .cutoff = cutoff, .given_up = INFINITY};
    s.states = wh_order_states_new(arena, job, timed);
    s.heap.arena = arena;
    s.ready = WH_NEW(arena, job->count, size_t);
    s.ready_next = WH_NEW(arena, job->count, size_t);
    s.spare = wh_order_state_spare(s.states);
    return s;
}

struct wh_order_found wh_order_cheapest(struct wh_arena *arena, const struct wh_order_job *job, bool timed,
                                        double cutoff, uint64_t *nodes, uint64_t most)
{
    struct search s = begin(arena, job, timed, cutoff);
    struct wh_order_found found = {.bound = cutoff, .cost = INFINITY};
    s.bound = wh_order_bound_new(arena, job);
    wh_order_heap_add(&s.heap, least(&s, wh_order_state_at(s.states, 1)), 0, 1);
    while (s.heap.list.count > 0) {
        struct wh_order_entry at = wh_order_heap_take(&s.heap);
        const struct wh_order_state *state = wh_order_state_at(s.states, at.number);
        if (state->depth == job->count || *nodes >= most) {
            found.bound = fmin(at.key, cutoff);
            found.found = state->depth == job->count && at.key < cutoff - WH_ORDER_SLACK;
            if (!found.found) break;
            found.cost = found.bound = fmax(state->time, state->latest);
            found.blocks = WH_NEW(arena, job->count, size_t);
            wh_order_trace(s.states, at.number, found.blocks);
            break;
        }
        if (state->beaten) continue;
        ++*nodes;
        expand(&s, at);
    }
    found.bound = fmin(found.bound, s.given_up);
    return found;
}

/* The next block to try after the one of rank `after`, or WH_ORDER_NONE. */
static size_t next_by_rank(const size_t ready[], size_t count, const double rank[], size_t after)
{
    size_t best = WH_ORDER_NONE;
    for (size_t i = 0; i < count; i++) {
        size_t b = ready[i];
        bool later = after == WH_ORDER_NONE || rank[b] > rank[after] || (rank[b] >= rank[after] && b > after);
        if (later && (best == WH_ORDER_NONE || rank[b] < rank[best])) best = b;
    }
    return best;
}

static size_t never_done(const struct search *s)
{
    const struct wh_order_job *job = s->job;
    for (size_t b = 0; b < job->count; b++) {
        bool done = false;
        for (uint32_t k = 1; k < s->states->count && !done; k++) {
            done = wh_order_has(wh_order_state_at(s->states, k)->more, b);
        }
        if (!done) return b;
    }
    return WH_ORDER_NONE;
}

size_t *wh_order_by_rank(struct wh_arena *arena, const struct wh_order_job *job, const double rank[], uint64_t *nodes,
                         uint64_t most, size_t *ret_stuck)
{
    struct search s = begin(arena, job, false, INFINITY);
    uint32_t at = 1;
    size_t tried = WH_ORDER_NONE;
    for (;;) {
        const struct wh_order_state *state = wh_order_state_at(s.states, at);
        if (state->depth == job->count) {
            size_t *blocks = WH_NEW(arena, job->count, size_t);
            wh_order_trace(s.states, at, blocks);
            return blocks;
        }
        size_t next = next_by_rank(s.ready, list_ready(job, state, s.ready), rank, tried);
        if (next == WH_ORDER_NONE) {
            if (at == 1) break;
            tried = state->block;
            at = state->from;
            continue;
        }
        tried = next;
        if (++*nodes > most) break;
        if (wh_order_follow(s.states, at, next, s.spare) != WH_ORDER_FOLLOWS) continue;
        s.spare->time = 0; /* only whether it can be done counts */
        uint32_t kept = wh_order_remember(s.states, s.spare);
        if (!kept) continue;
        at = kept;
        tried = WH_ORDER_NONE;
    }
    *ret_stuck = never_done(&s);
    return NULL;
}
