#include "order/done.h"
#include "order/paths.h"

#include <math.h>
#include <string.h>

enum { PIECE = 1 << 16 };

struct wh_order_states {
    struct wh_arena *arena;
    const struct wh_order_job *job;
    enum wh_order_wait waits;
    size_t largest; /* size of a state */
    WH_LIST(struct wh_order_state *) list;
    WH_LIST(unsigned char *) pieces; /* of memory, used one after the other */
    size_t piece_size, pieces_used, piece_left;
    uint32_t *table;
    size_t table_room;
    struct wh_order_paths paths;
};

static uint32_t *names(const struct wh_order_job *job, const struct wh_order_state *state)
{
    return (uint32_t *)(void *)(uintptr_t)(state->more + job->words);
}

static size_t name_words(size_t rows, size_t ends)
{
    return (rows - 1 + ends + 1) / 2;
}

static double *paths_of(const struct wh_order_job *job, const struct wh_order_state *state)
{
    return (double *)(void *)(uintptr_t)(state->more + job->words + name_words(state->rows, state->ends));
}

static size_t size_of(const struct wh_order_job *job, size_t rows, size_t ends)
{
    return sizeof(struct wh_order_state) +
           (job->words + name_words(rows, ends) + rows * (WH_ORDER_ENDS + ends)) * sizeof(uint64_t);
}

struct wh_order_state *wh_order_state_at(const struct wh_order_states *states, uint32_t number)
{
    return states->list.at[number];
}

uint32_t wh_order_state_count(const struct wh_order_states *states)
{
    return (uint32_t)states->list.count;
}

struct wh_order_state *wh_order_state_spare(struct wh_order_states *states)
{
    return wh_arena_get(states->arena, states->largest);
}

double wh_order_earliest(const struct wh_order_states *states, const struct wh_order_state *state, size_t column)
{
    return paths_of(states->job, state)[column];
}

double wh_order_end(const struct wh_order_states *states, const struct wh_order_state *state)
{
    return wh_order_later(wh_order_earliest(states, state, WH_ORDER_FREE),
                          wh_order_earliest(states, state, WH_ORDER_LATEST));
}

size_t wh_order_source(const struct wh_order_states *states, const struct wh_order_state *state, size_t end)
{
    return names(states->job, state)[state->rows - 1 + end];
}

/* Sets a copy of a state down in memory of its own. */
static struct wh_order_state *set_down(struct wh_order_states *states, const struct wh_order_state *state)
{
    size_t size = size_of(states->job, state->rows, state->ends);
    if (size > states->piece_left) {
        if (states->pieces_used == states->pieces.count)
            *WH_PUSH(states->arena, &states->pieces) = wh_arena_get(states->arena, states->piece_size);
        states->pieces_used++;
        states->piece_left = states->piece_size;
    }
    void *at = states->pieces.at[states->pieces_used - 1] + (states->piece_size - states->piece_left);
    states->piece_left -= size;
    return memcpy(at, state, size);
}

struct wh_order_states *wh_order_states_new(struct wh_arena *arena, const struct wh_order_job *job,
                                            enum wh_order_wait waits)
{
    struct wh_order_states *states = WH_NEW(arena, 1, struct wh_order_states);
    *states = (struct wh_order_states){.arena = arena, .job = job, .waits = waits};
    states->paths = wh_order_paths_new(arena, job, waits == WH_ORDER_WAITS);
    states->largest = size_of(job, job->end_count + 1, job->end_count);
    states->piece_size = states->largest > PIECE ? states->largest : PIECE;
    states->table_room = 1024;
    states->table = WH_NEW(arena, states->table_room, uint32_t);
    *WH_PUSH(arena, &states->list) = NULL; /* number 0 stands for none */
    struct wh_order_state *start = wh_order_state_spare(states);
    start->rows = 1;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) start->value[d] = (int16_t)job->problem->dimensions[d].start;
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
static double change(const struct wh_order_job *job, const uint64_t done[], size_t block, size_t m, int16_t value[])
{
    const struct wh_order_task *task = &job->problem->tasks[job->blocks[block].tasks[m]];
    double cost = 0;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        const struct wh_order_dimension *dimension = &job->problem->dimensions[d];
        int from = value[d], to = task->set_up[d];
        if (to == WH_ORDER_ANY || to == from) continue;
        value[d] = (int16_t)to;
        if (block == job->exit && m == 0 && job->held[d]) return INFINITY;
        if (from == WH_ORDER_ANY) continue;
        cost += dimension->cost[(size_t)from * dimension->values + (size_t)to];
        bool fact = wh_order_done_at(job->problem, job->blocks[block].tasks[m]) < job->problem->done_count;
        for (size_t s = 0; s < dimension->open_set_count && !fact; s++) {
            if (!is_open(job, done, block, m, &dimension->open_sets[s])) return INFINITY;
        }
    }
    return cost;
}

static void unpack(struct wh_order_states *states, const struct wh_order_state *state)
{
    struct wh_order_paths *p = &states->paths;
    const uint32_t *name = names(states->job, state);
    const double *from = paths_of(states->job, state);
    p->row_count = (size_t)state->rows - 1;
    p->end_count = state->ends;
    for (size_t i = 0; i < p->row_count; i++) p->rows[i] = name[i];
    for (size_t i = 0; i < p->end_count; i++) p->ends[i] = name[p->row_count + i];
    for (size_t r = 0; r <= p->row_count; r++) {
        double *row = wh_order_row(p, r);
        row[WH_ORDER_FREE] = *from++;
        row[WH_ORDER_LATEST] = *from++;
        for (size_t i = 0; i < p->end_count; i++) row[WH_ORDER_ENDS + p->ends[i]] = *from++;
    }
}

static void pack(const struct wh_order_states *states, struct wh_order_state *state)
{
    const struct wh_order_paths *p = &states->paths;
    state->rows = (uint16_t)(p->row_count + 1);
    state->ends = (uint16_t)p->end_count;
    uint32_t *name = names(states->job, state);
    if ((p->row_count + p->end_count) % 2 > 0) name[p->row_count + p->end_count] = 0;
    for (size_t i = 0; i < p->row_count; i++) name[i] = (uint32_t)p->rows[i];
    for (size_t i = 0; i < p->end_count; i++) name[p->row_count + i] = (uint32_t)p->ends[i];
    double *to = paths_of(states->job, state);
    for (size_t r = 0; r <= p->row_count; r++) {
        const double *row = wh_order_row(p, r);
        *to++ = row[WH_ORDER_FREE];
        *to++ = row[WH_ORDER_LATEST];
        for (size_t i = 0; i < p->end_count; i++) *to++ = row[WH_ORDER_ENDS + p->ends[i]];
    }
}

/* Is what there is one of in another use when member m of a block begins to use it? */
static bool is_in_use(const struct wh_order_job *job, const uint64_t done[], size_t block, size_t m)
{
    const struct wh_order_problem *p = job->problem;
    for (size_t u = 0; u < p->use_count; u++) {
        if (p->uses[u].from != job->blocks[block].tasks[m]) continue;
        for (size_t k = 0; k < p->use_count; k++) {
            const struct wh_order_use *other = &p->uses[k];
            bool binds = job->chosen[other->to] && job->chosen[p->uses[u].to];
            if (k == u || other->thing != p->uses[u].thing || !binds) continue;
            if (is_done(job, done, block, m, other->from) && !is_done(job, done, block, m, other->to)) return true;
        }
    }
    return false;
}

enum wh_order_follow wh_order_follow(struct wh_order_states *states, const struct wh_order_state *from, size_t block,
                                     struct wh_order_state *to, double *ret_waited)
{
    const struct wh_order_job *job = states->job;
    memcpy(to, from, sizeof *to + job->words * sizeof to->more[0]);
    unpack(states, from);
    *ret_waited = 0;
    for (size_t m = 0; m < job->blocks[block].count; m++) {
        if (job->blocks[block].uses && is_in_use(job, from->more, block, m)) return WH_ORDER_SHUT;
        double minutes = change(job, from->more, block, m, to->value), waited;
        if (!isfinite(minutes)) return WH_ORDER_SHUT;
        if (!wh_order_paths_add(&states->paths, job->blocks[block].tasks[m], minutes, &waited)) return WH_ORDER_LATE;
        *ret_waited += waited;
    }
    wh_order_put(to->more, block);
    if (!wh_order_paths_tidy(&states->paths, to->more)) return WH_ORDER_LATE;
    pack(states, to);
    to->block = (uint32_t)block;
    to->depth++;
    to->rest -= job->blocks[block].minutes;
    to->beaten = false;
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

static bool is_no_later(const double a[], const double b[], size_t rows, size_t a_width, size_t a_column,
                        size_t b_width, size_t b_column)
{
    for (size_t r = 0; r < rows; r++)
        if (a[r * a_width + a_column] > b[r * b_width + b_column] + WH_ORDER_SLACK) return false;
    return true;
}

/* Every timing of what is still to do that b allows, a allows too: no path of a is longer. The rows are the same, they
 * hang on the blocks done alone; an end that a state does not name holds nothing up. */
static bool beats(const struct wh_order_states *states, const struct wh_order_state *a, const struct wh_order_state *b)
{
    if (states->waits == WH_ORDER_NO_TIME) return true;
    const struct wh_order_job *job = states->job;
    const double *x = paths_of(job, a), *y = paths_of(job, b);
    size_t rows = a->rows, wide = (size_t)WH_ORDER_ENDS + a->ends, other = (size_t)WH_ORDER_ENDS + b->ends;
    for (size_t c = 0; c < WH_ORDER_ENDS; c++)
        if (!is_no_later(x, y, rows, wide, c, other, c)) return false;
    const uint32_t *of_a = names(job, a) + rows - 1, *of_b = names(job, b) + rows - 1;
    for (size_t i = 0, j = 0; i < a->ends; i++) {
        while (j < b->ends && of_b[j] < of_a[i]) j++;
        if (j == b->ends || of_b[j] != of_a[i]) return false;
        if (!is_no_later(x, y, rows, wide, WH_ORDER_ENDS + i, other, WH_ORDER_ENDS + j)) return false;
    }
    return true;
}

uint32_t wh_order_remember(struct wh_order_states *states, const struct wh_order_state *state)
{
    uint32_t *first = find(states, state);
    for (uint32_t at = *first; at; at = wh_order_state_at(states, at)->same) {
        struct wh_order_state *known = wh_order_state_at(states, at);
        if (known->beaten) continue;
        if (beats(states, known, state)) return 0;
        if (beats(states, state, known)) known->beaten = true;
    }
    uint32_t number = (uint32_t)states->list.count;
    struct wh_order_state *kept = set_down(states, state);
    *WH_PUSH(states->arena, &states->list) = kept;
    kept->same = *first;
    *first = number;
    if (number > states->table_room / 2) widen(states);
    return number;
}

void wh_order_forget(struct wh_order_states *states)
{
    states->list.count = 1;
    states->pieces_used = states->piece_left = 0;
    memset(states->table, 0, states->table_room * sizeof states->table[0]);
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

bool wh_order_is_bare(const struct wh_order_job *job, size_t block)
{
    for (size_t m = 0; m < job->blocks[block].count; m++)
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++)
            if (job->problem->tasks[job->blocks[block].tasks[m]].set_up[d] != WH_ORDER_ANY) return false;
    return true;
}

size_t wh_order_ready(const struct wh_order_job *job, const struct wh_order_state *state, size_t ready[])
{
    size_t count = 0;
    for (size_t w = 0; w < job->words; w++) {
        for (uint64_t left = ~state->more[w]; left; left &= left - 1) {
            size_t b = w * 64 + (size_t)__builtin_ctzll(left);
            if (b < job->count && wh_order_within(job->words, &job->before[b * job->words], state->more))
                ready[count++] = b;
        }
    }
    return count;
}
