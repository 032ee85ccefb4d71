#include "order/search.h"

#include "order/bound.h"
#include "order/heap.h"
#include "order/state.h"

#include <math.h>
#include <string.h>

struct search {
    const struct wh_order_job *job;
    struct wh_order_states *states, *next; /* where the state at hand is, and where what comes from it goes */
    const struct wh_order_bound *bound;
    struct wh_order_heap heap;
    bool timed;
    double lean, cutoff;
    size_t *ready, ready_count; /* blocks that can begin from the state at hand, ... */
    size_t *open;               /* ... those of them that have to be tried */
    size_t *ready_next;         /* and what can begin after the next one */
    struct wh_order_state *spare;
};

/* What can begin once a ready block is done: the others, and what has waited for it last. */
static size_t list_next(const struct search *s, const struct wh_order_state *to, size_t block)
{
    const struct wh_order_job *job = s->job;
    size_t count = 0;
    for (size_t i = 0; i < s->ready_count; i++)
        if (s->ready[i] != block) s->ready_next[count++] = s->ready[i];
    for (size_t i = job->next_from[block]; i < job->next_from[block + 1]; i++) {
        size_t next = job->next[i];
        if (wh_order_within(job->words, &job->before[next * job->words], to->more)) s->ready_next[count++] = next;
    }
    return count;
}

/* With waits: from each source begun, what follows it; from each not begun, the work before it and what follows. */
static double longest(const struct search *s, const struct wh_order_state *state)
{
    const struct wh_order_job *job = s->job;
    double most = wh_order_earliest(s->states, state, WH_ORDER_LATEST);
    double now = wh_order_earliest(s->states, state, WH_ORDER_FREE);
    for (size_t e = 0; e < state->ends; e++) {
        size_t source = wh_order_source(s->states, state, e);
        double end = wh_order_earliest(s->states, state, WH_ORDER_ENDS + e);
        for (size_t k = job->lags_from[source]; k < job->lags_from[source + 1]; k++) {
            const struct wh_order_lag *lag = &job->lags[job->from[k]];
            if (lag->inside || wh_order_has(state->more, job->block_of[lag->after])) continue;
            most = wh_order_later(most, end + lag->least + s->bound->tail[lag->after]);
        }
    }
    for (size_t i = 0; i < job->source_count; i++) {
        size_t block = job->block_of[job->sources[i]];
        if (wh_order_has(state->more, block)) continue;
        double work = wh_order_bound_work(s->bound, &job->before[block * job->words], state->more);
        most = wh_order_later(most, now + work + s->bound->tail[job->blocks[block].tasks[0]]);
    }
    return most;
}

/* The least that an order through this state can cost, with what can begin from it. */
static double least(const struct search *s, const struct wh_order_state *state, const size_t ready[], size_t count)
{
    double work = wh_order_earliest(s->states, state, WH_ORDER_FREE) + wh_order_later(state->rest, 0) +
                  s->lean * wh_order_bound_changes(s->bound, state->value, ready, count);
    return s->timed ? wh_order_later(work, longest(s, state)) : work;
}

static double least_of_all(const struct search *s)
{
    const struct wh_order_state *start = wh_order_state_at(s->states, 1);
    return least(s, start, s->ready, wh_order_ready(s->job, start, s->ready));
}

/* README.md, rule 2: nothing waits for anything before this block is done. */
static bool is_undisturbed(const struct search *s, const struct wh_order_state *state, size_t block)
{
    const struct wh_order_job *job = s->job;
    bool bare = wh_order_is_bare(job, block);
    if (state->ends > 0 || !(bare || wh_order_is_free(job, state, block))) return false;
    for (size_t i = 0; i < job->source_count; i++) {
        size_t source = job->block_of[job->sources[i]];
        if (wh_order_has(state->more, source)) continue;
        if (job->limited[i] && (!bare || source == block)) return false;
        if (source != block && !wh_order_has(&job->behind[block * job->words], source)) return false;
    }
    return true;
}

/* README.md, rule 1: it passes by itself, without the fitter, and can begin now. */
static bool is_let_go(const struct search *s, const struct wh_order_state *state, size_t block)
{
    const struct wh_order_job *job = s->job;
    size_t task = job->blocks[block].tasks[0], source = job->source_of[task];
    double waited;
    if (job->blocks[block].count > 1 || !job->problem->tasks[task].alone || !wh_order_is_bare(job, block)) return false;
    if (job->limited[source] || state->rows > 1) return false;
    return wh_order_follow(s->states, state, block, s->spare, &waited) == WH_ORDER_FOLLOWS && waited <= 0;
}

/* README.md: done at once, without looking at others. */
static bool is_at_once(const struct search *s, const struct wh_order_state *state, size_t block)
{
    const struct wh_order_job *job = s->job;
    if (job->blocks[block].closes || job->blocks[block].waits) return false;
    if (!s->timed) return wh_order_is_free(job, state, block);
    return is_let_go(s, state, block) || is_undisturbed(s, state, block);
}

static void try(struct search *s, uint32_t number, size_t block, double parent)
{
    struct wh_order_state *to = s->spare;
    double waited;
    if (wh_order_follow(s->states, wh_order_state_at(s->states, number), block, to, &waited) != WH_ORDER_FOLLOWS)
        return;
    to->from = number;
    double key = wh_order_later(least(s, to, s->ready_next, list_next(s, to, block)), parent);
    if (key >= s->cutoff - WH_ORDER_SLACK) return;
    uint32_t kept = wh_order_remember(s->next, to);
    if (kept) wh_order_heap_add(&s->heap, key, to->depth, kept);
}

/* Does this block need a change in dimension d from here, and in no other? */
static bool changes_only(const struct wh_order_job *job, const struct wh_order_state *state, size_t block, size_t d)
{
    const struct wh_order_block *of = &job->blocks[block];
    const struct wh_order_task *task = &job->problem->tasks[of->tasks[0]];
    if (of->count > 1 || of->waits || of->closes || block == job->exit) return false;
    for (size_t e = 0; e < WH_ORDER_DIMENSIONS; e++) {
        bool changes = task->set_up[e] != WH_ORDER_ANY && task->set_up[e] != state->value[e];
        if (task->set_up[e] != WH_ORDER_ANY && !job->movable[e]) return false;
        if (changes != (e == d)) return false;
    }
    return true;
}

/* README.md: all that still needs this block's value in dimension d can be done now, at once and without another
 * change. */
static bool is_last_use(const struct search *s, const struct wh_order_state *state, size_t block, size_t d)
{
    const struct wh_order_job *job = s->job;
    int value = job->problem->tasks[job->blocks[block].tasks[0]].set_up[d];
    const uint64_t *uses = &s->bound->uses[d][(size_t)value * job->words];
    for (size_t w = 0; w < job->words; w++) {
        uint64_t left = uses[w] & ~state->more[w];
        for (; left; left &= left - 1) {
            size_t b = w * 64 + (size_t)__builtin_ctzll(left);
            if (!changes_only(job, state, b, d)) return false;
            for (size_t v = 0; v < job->words; v++)
                if (job->before[b * job->words + v] & ~state->more[v] & ~uses[v]) return false;
        }
    }
    return true;
}

static bool is_spent(const struct search *s, const struct wh_order_state *state, size_t d)
{
    const struct wh_order_job *job = s->job;
    if (state->value[d] == WH_ORDER_ANY) return false;
    const uint64_t *uses = &s->bound->uses[d][(size_t)state->value[d] * job->words];
    for (size_t w = 0; w < job->words; w++)
        if (uses[w] & ~state->more[w]) return false;
    return true;
}

static bool needs_change(const struct wh_order_job *job, const struct wh_order_state *state, size_t block, size_t d)
{
    for (size_t m = 0; m < job->blocks[block].count; m++) {
        int need = job->problem->tasks[job->blocks[block].tasks[m]].set_up[d];
        if (need != WH_ORDER_ANY) return need != state->value[d];
    }
    return false;
}

/* Lists, of the ready blocks, those that have to be tried: where one is the last use of a value, other changes in that
 * dimension need not come first; where the value held is spent too, nothing need. */
static size_t narrow(const struct search *s, const struct wh_order_state *state)
{
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS && !s->timed; d++) {
        if (!s->job->plain[d] || !s->job->movable[d] || state->value[d] == WH_ORDER_ANY) continue;
        for (size_t i = 0; i < s->ready_count; i++) {
            size_t block = s->ready[i], kept = 0;
            if (!changes_only(s->job, state, block, d) || !is_last_use(s, state, block, d)) continue;
            bool alone = is_spent(s, state, d);
            for (size_t k = 0; k < s->ready_count; k++)
                if (s->ready[k] == block || (!alone && !needs_change(s->job, state, s->ready[k], d)))
                    s->open[kept++] = s->ready[k];
            return kept;
        }
    }
    memcpy(s->open, s->ready, s->ready_count * sizeof s->open[0]);
    return s->ready_count;
}

static void expand(struct search *s, struct wh_order_entry at)
{
    const struct wh_order_state *state = wh_order_state_at(s->states, at.number);
    s->ready_count = wh_order_ready(s->job, state, s->ready);
    for (size_t i = 0; i < s->ready_count; i++) {
        if (!is_at_once(s, state, s->ready[i])) continue;
        try(s, at.number, s->ready[i], at.key);
        return;
    }
    size_t count = narrow(s, state);
    for (size_t i = 0; i < count; i++) try(s, at.number, s->open[i], at.key);
}

static struct search begin(struct wh_arena *arena, const struct wh_order_job *job, enum wh_order_wait waits,
                           double cutoff)
{
    struct search s = {.job = job, .timed = waits == WH_ORDER_WAITS, .lean = 1, .cutoff = cutoff};
    s.states = s.next = wh_order_states_new(arena, job, waits);
    s.heap.arena = arena;
    s.ready = WH_NEW(arena, job->count, size_t);
    s.open = WH_NEW(arena, job->count, size_t);
    s.ready_next = WH_NEW(arena, job->count, size_t);
    s.spare = wh_order_state_spare(s.states);
    return s;
}

double wh_order_at_least(struct wh_arena *arena, const struct wh_order_job *job, const struct wh_order_how *how)
{
    struct search s = begin(arena, job, how->timed ? WH_ORDER_WAITS : WH_ORDER_LOOSE, INFINITY);
    s.bound = how->bound;
    return least_of_all(&s);
}

/* A search in memory of its own, what is found in that of the caller. */
struct task {
    const struct wh_order_job *job;
    const struct wh_order_how *how;
    size_t width;
    struct wh_order_budget *budget;
    struct wh_order_found found;
};

static struct wh_order_found run(struct wh_arena *arena, enum wh_status (*body)(struct wh_arena *, void *),
                                 struct task task)
{
    task.found = (struct wh_order_found){.cost = INFINITY, .blocks = WH_NEW(arena, task.job->count, size_t)};
    if (wh_arena_run(SIZE_MAX, body, &task) != WH_OK) wh_arena_give_up(arena);
    return task.found;
}

static enum wh_status search_best_first(struct wh_arena *arena, void *context)
{
    struct task *task = context;
    struct wh_order_found *found = &task->found;
    struct search s = begin(arena, task->job, task->how->timed ? WH_ORDER_WAITS : WH_ORDER_LOOSE, task->how->cutoff);
    uint64_t looked_at = 0;
    size_t most_memory = wh_arena_used(arena) + task->budget->memory;
    s.bound = task->how->bound;
    found->bound = s.cutoff;
    wh_order_heap_add(&s.heap, least_of_all(&s), 0, 1);
    while (s.heap.list.count > 0) {
        struct wh_order_entry at = wh_order_heap_take(&s.heap);
        const struct wh_order_state *state = wh_order_state_at(s.states, at.number);
        if (state->beaten) continue;
        if (at.key >= s.cutoff - WH_ORDER_SLACK) break;
        if (state->depth == s.job->count) {
            found->found = true;
            found->cost = found->bound = wh_order_end(s.states, state);
            wh_order_trace(s.states, at.number, found->blocks);
            break;
        }
        if (looked_at++ >= task->how->most || wh_arena_used(arena) >= most_memory || !wh_order_spend(task->budget)) {
            found->stopped = true;
            found->bound = fmin(at.key, s.cutoff);
            break;
        }
        expand(&s, at);
    }
    return WH_OK;
}

struct wh_order_found wh_order_cheapest(struct wh_arena *arena, const struct wh_order_job *job,
                                        const struct wh_order_how *how, struct wh_order_budget *budget)
{
    return run(arena, search_best_first, (struct task){.job = job, .how = how, .budget = budget});
}

/* One of the states that go on: the place of the one before it in its level, and what was done from there. */
struct link {
    uint32_t before, block;
};

/* Takes the best of the heap as the next level, the only one still known; the rest is given up. */
static size_t next_level(struct search *s, struct wh_order_entry level[], struct link links[], size_t width,
                         double *given_up)
{
    size_t count = 0;
    wh_order_forget(s->states);
    while (s->heap.list.count > 0 && count < width) {
        struct wh_order_entry at = wh_order_heap_take(&s->heap);
        const struct wh_order_state *state = wh_order_state_at(s->next, at.number);
        if (state->beaten) continue;
        links[count] = (struct link){state->from - 1, state->block};
        at.number = wh_order_remember(s->states, state);
        level[count++] = at;
    }
    if (s->heap.list.count > 0) *given_up = fmin(*given_up, s->heap.list.at[0].key);
    s->heap.list.count = 0;
    wh_order_forget(s->next);
    return count;
}

static enum wh_status search_abreast(struct wh_arena *arena, void *context)
{
    struct task *task = context;
    struct wh_order_found *found = &task->found;
    enum wh_order_wait waits = task->how->timed ? WH_ORDER_WAITS : WH_ORDER_LOOSE;
    struct search s = begin(arena, task->job, waits, task->how->cutoff);
    size_t n = s.job->count, count = 1;
    struct wh_order_entry *level = WH_NEW(arena, task->width, struct wh_order_entry);
    struct link *links = WH_NEW(arena, n * task->width, struct link);
    double given_up = s.cutoff;
    s.lean = task->how->lean;
    s.bound = task->how->bound;
    s.next = wh_order_states_new(arena, task->job, waits);
    wh_order_forget(s.next);
    level[0] = (struct wh_order_entry){.key = least_of_all(&s), .number = 1};
    for (size_t depth = 0; depth < n && count > 0; depth++) {
        for (size_t i = 0; i < count; i++) {
            found->stopped = !wh_order_spend(task->budget);
            if (found->stopped) return WH_OK;
            expand(&s, level[i]);
        }
        count = next_level(&s, level, &links[depth * task->width], task->width, &given_up);
    }
    if (s.lean > 1) given_up = 0;
    found->bound = given_up;
    found->stopped = count == 0 && given_up < s.cutoff;
    if (count == 0) return WH_OK;
    found->found = true;
    found->cost = wh_order_end(s.states, wh_order_state_at(s.states, level[0].number));
    found->bound = fmin(found->cost, given_up);
    for (size_t depth = n, at = 0; depth-- > 0; at = links[depth * task->width + at].before)
        found->blocks[depth] = links[depth * task->width + at].block;
    return WH_OK;
}

struct wh_order_found wh_order_abreast(struct wh_arena *arena, const struct wh_order_job *job,
                                       const struct wh_order_how *how, size_t width, struct wh_order_budget *budget)
{
    return run(arena, search_abreast, (struct task){.job = job, .how = how, .width = width, .budget = budget});
}
