/* state.h - the states a job passes through: which blocks are done, which set-up is held, and the times still open.
 *
 * A state stands for all timings of the orders that lead to it, not only for the earliest: a task that must be followed
 * within a time may have to be put off. So it holds longest paths: from the start of the job, and from the end of each
 * task that something must still follow within a time, to the moment at which the fitter is free, to the end of the
 * latest task, and to the ends that are still waited for. States met are remembered; one all of whose timings another
 * with the same blocks done and the same set-up allows as well, or earlier, is not kept. */
#ifndef WH_ORDER_STATE_H
#define WH_ORDER_STATE_H

#include "order/job.h"

/* Columns of the paths, before those of the ends waited for; row 0 leads from the start of the job. */
enum { WH_ORDER_FREE, WH_ORDER_LATEST, WH_ORDER_ENDS };

struct wh_order_state {
    double rest;                        /* minutes of the blocks not done */
    uint32_t from, same;                /* state before, other state with the same set and set-up; 0: none */
    uint32_t block;                     /* done last */
    uint32_t depth;                     /* blocks done */
    int16_t value[WH_ORDER_DIMENSIONS]; /* held, or WH_ORDER_ANY */
    uint16_t rows, ends;                /* of the paths; ends: columns beyond the first two */
    bool beaten;                        /* another is at least as good */
    uint64_t more[];                    /* the set of blocks done, the sources of the rows and ends, the paths */
};

struct wh_order_states;

/* Lags between blocks count; only those inside do; or of all states with the same blocks done and the same set-up only
 * the first is remembered, whatever its times. */
enum wh_order_wait { WH_ORDER_WAITS, WH_ORDER_LOOSE, WH_ORDER_NO_TIME };

/* The first state, number 1, is the start. */
struct wh_order_states *wh_order_states_new(struct wh_arena *arena, const struct wh_order_job *job,
                                            enum wh_order_wait waits);

struct wh_order_state *wh_order_state_at(const struct wh_order_states *states, uint32_t number);

uint32_t wh_order_state_count(const struct wh_order_states *states);

static inline uint64_t *wh_order_done(struct wh_order_state *state)
{
    return state->more;
}

/* A state in the making, not yet remembered. */
struct wh_order_state *wh_order_state_spare(struct wh_order_states *states);

/* The earliest moment of a column: the fitter is free, the latest task has ended. */
double wh_order_earliest(const struct wh_order_states *states, const struct wh_order_state *state, size_t column);

/* The earliest moment at which the fitter is free and all has ended. */
double wh_order_end(const struct wh_order_states *states, const struct wh_order_state *state);

/* What is waited for: of an end its source, and its earliest time. */
size_t wh_order_source(const struct wh_order_states *states, const struct wh_order_state *state, size_t end);

enum wh_order_follow { WH_ORDER_FOLLOWS, WH_ORDER_SHUT, WH_ORDER_LATE };

/* Works out *to, the state after doing a block whose predecessors are all done, and the minutes that the fitter has to
 * stand idle for it. SHUT: a change it needs cannot be made; LATE: a greatest wait would be broken, or must be. */
enum wh_order_follow wh_order_follow(struct wh_order_states *states, const struct wh_order_state *from, size_t block,
                                     struct wh_order_state *to, double *ret_waited);

/* Remembers a state come to from another; 0 when one as good is known. States that it beats are marked so. */
uint32_t wh_order_remember(struct wh_order_states *states, const struct wh_order_state *state);

/* Forgets all states, the first too; the memory is used again. */
void wh_order_forget(struct wh_order_states *states);

/* The blocks in the order in which a state was reached. */
void wh_order_trace(const struct wh_order_states *states, uint32_t number, size_t blocks[]);

/* Lists the blocks that can begin from a state: not done, and all before them done; how many. */
size_t wh_order_ready(const struct wh_order_job *job, const struct wh_order_state *state, size_t ready[]);

/* No change of set-up for this block from here, in dimensions in which it may be done early? */
bool wh_order_is_free(const struct wh_order_job *job, const struct wh_order_state *state, size_t block);

/* No set-up at all? */
bool wh_order_is_bare(const struct wh_order_job *job, size_t block);

#endif
