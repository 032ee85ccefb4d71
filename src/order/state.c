#include "order/state.h"

#include <math.h>
#include <string.h>

enum { PIECE = 256 };

static double *ends(const struct wh_order_job *job, struct wh_order_state *state)
{
    return (double *)(void *)(state->more + job->words);
}

double wh_order_end(const struct wh_order_job *job, const struct wh_order_state *state, size_t source)
{
    double end;
    memcpy(&end, state->more + job->words + source, sizeof end);
    return end;
}

struct wh_order_state *wh_order_state_at(const struct wh_order_states *states, uint32_t number)
{
    return (struct wh_order_state *)(void *)(states->pieces.at[number / PIECE] + number % PIECE * states->size);
}

struct wh_order_state *wh_order_state_spare(struct wh_order_states *states)
{
    return wh_arena_get(states->arena, states->size);
}

static uint32_t new_state(struct wh_order_states *states)
{
    uint32_t number = states->count++;
    if (number % PIECE == 0) {
        *WH_PUSH(states->arena, &states->pieces) = wh_arena_get_many(states->arena, PIECE, states->size);
    }
    return number;
}

struct wh_order_states *wh_order_states_new(struct wh_arena *arena, const struct wh_order_job *job, bool timed)
{
    struct wh_order_states *states = WH_NEW(arena, 1, struct wh_order_states);
    *states = (struct wh_order_states){.arena = arena, .job = job, .timed = timed};
    states->size = sizeof(struct wh_order_state) + (job->words + (timed ? job->source_count : 0)) * sizeof(uint64_t);
    states->table_room = 1024;
    states->table = WH_NEW(arena, states->table_room, uint32_t);
    states->end = WH_NEW(arena, job->problem->task_count, double);
    new_state(states); /* number 0 stands for none */
    struct wh_order_state *start = wh_order_state_spare(states);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) start->value[d] = job->problem->dimensions[d].start;
    for (size_t b = 0; b < job->count; b++) start->rest += job->blocks[b].minutes;
    wh_order_remember(states, start);
    return states;
}

/* Done before member m of a block begins, the blocks of `done` being done? */
static bool is_done(const struct wh_order_job *job, const uint64_t done[], size_t block, size_t m, size_t task)
{
    size_t of = job->block_of[task];
    if (of == WH_ORDER_NONE) return job->past && job->past[task];
    return of == block ? job->member_of[task] < m : wh_order_has(done, of);
}

static bool is_open(const struct wh_order_job *job, const uint64_t done[], size_t block, size_t m,
                    const struct wh_order_way *set)
{
    for (size_t k = 0; k < set->count; k++) {
        const struct wh_order_window *window = &job->problem->windows[set->tasks[k]];
        if (is_done(job, done, block, m, window->opens) && !is_done(job, done, block, m, window->closes)) return true;
    }
    return false;
}

/* Changes the set-up for member m of a block: minutes, or INFINITY when it cannot be done. */
static double change(const struct wh_order_job *job, const uint64_t done[], size_t block, size_t m, int value[])
{
    const struct wh_order_task *task = &job->problem->tasks[job->blocks[block].tasks[m]];
    double cost = 0;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        const struct wh_order_dimension *dimension = &job->problem->dimensions[d];
        int from = value[d], to = task->set_up[d];
        if (to == WH_ORDER_ANY || to == from) continue;
        value[d] = to;
        if (block == job->exit && m == 0 && job->held[d]) return INFINITY;
        if (from == WH_ORDER_ANY) continue;
        cost += dimension->cost[(size_t)from * dimension->values + (size_t)to];
        for (size_t s = 0; s < dimension->open_set_count; s++) {
            if (!is_open(job, done, block, m, &dimension->open_sets[s])) return INFINITY;
        }
    }
    return cost;
}

/* When lags let a task begin; *most is the latest that they allow. */
static double ready(const struct wh_order_states *states, const struct wh_order_state *from, size_t task, double *most)
{
    const struct wh_order_job *job = states->job;
    double start = 0;
    *most = INFINITY;
    for (size_t i = job->lags_into[task]; i < job->lags_into[task + 1]; i++) {
        const struct wh_order_lag *lag = &job->lags[i];
        if (!lag->inside && !states->timed) continue;
        double end = lag->inside ? states->end[lag->first] : wh_order_end(job, from, job->source_of[lag->first]);
        start = fmax(start, end + lag->least);
        *most = fmin(*most, end + lag->most);
    }
    return start;
}

/* Is anything still to come that the end of a source, once the fitter is at `time`, can hold up? */
static bool is_live(const struct wh_order_job *job, uint64_t done[], size_t source, double end, double time)
{
    for (size_t i = 0; i < job->lag_count; i++) {
        const struct wh_order_lag *lag = &job->lags[i];
        if (lag->first != job->sources[source] || lag->inside || wh_order_has(done, job->block_of[lag->after]))
            continue;
        if (isfinite(lag->most) || end + lag->least > time) return true;
    }
    return false;
}

static void note_ends(const struct wh_order_states *states, size_t block, struct wh_order_state *to)
{
    const struct wh_order_job *job = states->job;
    double *end = ends(job, to);
    for (size_t s = 0; s < job->source_count; s++) {
        if (job->block_of[job->sources[s]] == block) end[s] = states->end[job->sources[s]];
        if (!is_live(job, to->more, s, end[s], to->time)) end[s] = 0;
    }
}

enum wh_order_follow wh_order_follow(struct wh_order_states *states, uint32_t number, size_t block,
                                     struct wh_order_state *to)
{
    double waited;
    return wh_order_follow_waiting(states, number, block, to, &waited);
}

enum wh_order_follow wh_order_follow_waiting(struct wh_order_states *states, uint32_t number, size_t block,
                                             struct wh_order_state *to, double *ret_waited)
{
    const struct wh_order_job *job = states->job;
    struct wh_order_state *from = wh_order_state_at(states, number);
    memcpy(to, from, states->size);
    *ret_waited = 0;
    for (size_t m = 0; m < job->blocks[block].count; m++) {
        size_t t = job->blocks[block].tasks[m];
        const struct wh_order_task *task = &job->problem->tasks[t];
        double most, start = to->time + change(job, from->more, block, m, to->value);
        if (!isfinite(start)) return WH_ORDER_SHUT;
        double change_over = start;
        start = fmax(start, ready(states, from, t, &most));
        *ret_waited += start - change_over;
        if (start > most + WH_ORDER_SLACK) return WH_ORDER_LATE;
        states->end[t] = start + task->minutes;
        to->time = task->alone ? start : states->end[t];
        if (states->timed) to->latest = fmax(to->latest, states->end[t]);
    }
    to->from = number;
    to->block = (uint32_t)block;
    to->depth++;
    to->rest -= job->blocks[block].minutes;
    to->beaten = false;
    wh_order_put(to->more, block);
    if (states->timed) note_ends(states, block, to);
    return WH_ORDER_FOLLOWS;
}

static size_t slot_of(const struct wh_order_states *states, const struct wh_order_state *state)
{
    uint64_t hash = 0x9E3779B97F4A7C15U;
    for (size_t w = 0; w < states->job->words; w++) hash = (hash ^ state->more[w]) * 0xD6E8FEB86659FD93U ^ hash >> 29;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        hash = (hash ^ (uint64_t)(state->value[d] + 1)) * 0xD6E8FEB86659FD93U ^ hash >> 31;
    }
    return (size_t)(hash ^ hash >> 32) & (states->table_room - 1);
}

static bool is_same(const struct wh_order_states *states, const struct wh_order_state *a,
                    const struct wh_order_state *b)
{
    return memcmp(a->more, b->more, states->job->words * sizeof a->more[0]) == 0 &&
           memcmp(a->value, b->value, sizeof a->value) == 0;
}

/* The place in the table where such states hang, or an empty one. */
static uint32_t *find(struct wh_order_states *states, const struct wh_order_state *state)
{
    size_t slot = slot_of(states, state);
    while (states->table[slot] && !is_same(states, wh_order_state_at(states, states->table[slot]), state)) {
        slot = (slot + 1) & (states->table_room - 1);
    }
    return &states->table[slot];
}

static void widen(struct wh_order_states *states)
{
    uint32_t *old = states->table;
    size_t room = states->table_room;
    states->table_room *= 2;
    states->table = WH_NEW(states->arena, states->table_room, uint32_t);
    for (size_t i = 0; i < room; i++) {
        if (old[i]) *find(states, wh_order_state_at(states, old[i])) = old[i];
    }
}

/* Whatever can be done from b can be done from a no later: all waits are over no later, and where something must
 * follow within a time they run alike. */
static bool beats(const struct wh_order_states *states, const struct wh_order_state *a, const struct wh_order_state *b)
{
    if (a->time > b->time + WH_ORDER_SLACK || a->latest > b->latest + WH_ORDER_SLACK) return false;
    for (size_t s = 0; states->timed && s < states->job->source_count; s++) {
        double ahead = wh_order_end(states->job, b, s) - wh_order_end(states->job, a, s);
        if (ahead < -WH_ORDER_SLACK || (states->job->limited[s] && ahead > WH_ORDER_SLACK)) return false;
    }
    return true;
}

uint32_t wh_order_remember(struct wh_order_states *states, const struct wh_order_state *state)
{
    uint32_t *first = find(states, state);
    for (uint32_t at = *first; at; at = wh_order_state_at(states, at)->same) {
        struct wh_order_state *known = wh_order_state_at(states, at);
        if (beats(states, known, state)) return 0;
        if (beats(states, state, known)) known->beaten = true;
    }
    uint32_t number = new_state(states);
    struct wh_order_state *kept = wh_order_state_at(states, number);
    memcpy(kept, state, states->size);
    kept->same = *first;
    *first = number;
    if (number > states->table_room / 2) widen(states);
    return number;
}

void wh_order_trace(const struct wh_order_states *states, uint32_t number, size_t blocks[])
{
    for (const struct wh_order_state *s = wh_order_state_at(states, number); s->depth > 0;
         s = wh_order_state_at(states, s->from)) {
        blocks[s->depth - 1] = s->block;
    }
}

bool wh_order_is_free(const struct wh_order_job *job, const struct wh_order_state *state, size_t block)
{
    for (size_t m = 0; m < job->blocks[block].count; m++) {
        const struct wh_order_task *task = &job->problem->tasks[job->blocks[block].tasks[m]];
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
            if (task->set_up[d] == WH_ORDER_ANY) continue;
            if (task->set_up[d] != state->value[d] || !job->movable[d]) return false;
        }
    }
    return true;
}
