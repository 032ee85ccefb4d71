#include "order/search.h"
#include "order/state.h"

#include <math.h>

struct wh_order_found wh_order_soonest(struct wh_arena *arena, const struct wh_order_job *job, const double rank[])
{
    struct wh_order_states *states = wh_order_states_new(arena, job, WH_ORDER_WAITS);
    struct wh_order_state *to = wh_order_state_spare(states);
    size_t *ready = WH_NEW(arena, job->count, size_t);
    struct wh_order_found found = {.cost = INFINITY, .blocks = WH_NEW(arena, job->count, size_t)};
    uint32_t at = 1;
    for (size_t n = 0; n < job->count; n++) {
        const struct wh_order_state *state = wh_order_state_at(states, at);
        size_t count = wh_order_ready(job, state, ready), best = WH_ORDER_NONE;
        double best_wait = INFINITY;
        for (size_t i = 0; i < count; i++) {
            size_t block = ready[i];
            double wait;
            if (wh_order_follow(states, state, block, to, &wait) != WH_ORDER_FOLLOWS) continue;
            bool better = wait < best_wait - WH_ORDER_SLACK ||
                          (wait <= best_wait + WH_ORDER_SLACK && best != WH_ORDER_NONE && rank[block] < rank[best]);
            if (!better) continue;
            best = block;
            best_wait = wait;
        }
        if (best == WH_ORDER_NONE) return found;
        wh_order_follow(states, state, best, to, &best_wait);
        to->from = at;
        found.blocks[n] = best;
        at = wh_order_remember(states, to);
    }
    found.cost = wh_order_end(states, wh_order_state_at(states, at));
    found.found = true;
    return found;
}

/* The next block to try after the one of rank `after`, or WH_ORDER_NONE. */
static size_t next_by_rank(const size_t ready[], size_t count, const double rank[], size_t after)
{
    size_t best = WH_ORDER_NONE;
    double least = after < WH_ORDER_NONE ? rank[after] : -INFINITY;
    for (size_t i = 0; i < count; i++) {
        size_t b = ready[i];
        bool later = rank[b] > least || (rank[b] >= least && b > after);
        if (later && (best == WH_ORDER_NONE || rank[b] < rank[best])) best = b;
    }
    return best;
}

static size_t never_done(const struct wh_order_job *job, const struct wh_order_states *states)
{
    for (size_t b = 0; b < job->count; b++) {
        bool done = false;
        for (uint32_t k = 1; k < wh_order_state_count(states) && !done; k++) {
            done = wh_order_has(wh_order_state_at(states, k)->more, b);
        }
        if (!done) return b;
    }
    return WH_ORDER_NONE;
}

size_t *wh_order_by_rank(struct wh_arena *arena, const struct wh_order_job *job, const double rank[], uint64_t *nodes,
                         uint64_t most, size_t *ret_stuck)
{
    struct wh_order_states *states = wh_order_states_new(arena, job, WH_ORDER_NO_TIME);
    struct wh_order_state *to = wh_order_state_spare(states);
    size_t *ready = WH_NEW(arena, job->count, size_t);
    uint32_t at = 1;
    size_t tried = WH_ORDER_NONE;
    for (;;) {
        const struct wh_order_state *state = wh_order_state_at(states, at);
        if (state->depth == job->count) {
            size_t *blocks = WH_NEW(arena, job->count, size_t);
            wh_order_trace(states, at, blocks);
            return blocks;
        }
        size_t next = next_by_rank(ready, wh_order_ready(job, state, ready), rank, tried);
        if (next == WH_ORDER_NONE) {
            if (at == 1) break;
            tried = state->block;
            at = state->from;
            continue;
        }
        tried = next;
        if (++*nodes > most) break;
        double waited;
        if (wh_order_follow(states, state, next, to, &waited) != WH_ORDER_FOLLOWS) continue;
        to->from = at;
        uint32_t kept = wh_order_remember(states, to);
        if (!kept) continue;
        at = kept;
        tried = WH_ORDER_NONE;
    }
    *ret_stuck = never_done(job, states);
    return NULL;
}
