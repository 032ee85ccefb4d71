/* state.h - the states a job passes through: which blocks are done, which set-up is held, and the time. States met are
 * remembered; one that is no better than another with the same blocks done and the same set-up is not kept. */
#ifndef WH_ORDER_STATE_H
#define WH_ORDER_STATE_H

#include "order/job.h"

struct wh_order_state {
    double time;         /* the fitter is free */
    double latest;       /* end of the latest task; timed only */
    double rest;         /* minutes of the blocks not done */
    uint32_t from, same; /* state before, other state with the same set and set-up; 0: none */
    uint32_t block;      /* done last */
    uint32_t depth;      /* blocks done */
    int value[WH_ORDER_DIMENSIONS];
    bool beaten;     /* another is at least as good */
    uint64_t more[]; /* the set of blocks done, then the end of each source as a double */
};

struct wh_order_states {
    struct wh_arena *arena;
    const struct wh_order_job *job;
    bool timed;  /* lags between blocks count; otherwise only those inside */
    size_t size; /* of a state */
    uint32_t count;
    WH_LIST(unsigned char *) pieces;
    uint32_t *table;
    size_t table_room;
    double *end; /* working space: of each task of the block being done */
};

/* The first state, number 1, is the start. */
struct wh_order_states *wh_order_states_new(struct wh_arena *arena, const struct wh_order_job *job, bool timed);

struct wh_order_state *wh_order_state_at(const struct wh_order_states *states, uint32_t number);

static inline uint64_t *wh_order_done(struct wh_order_state *state)
{
    return state->more;
}

/* A state in the making, not yet remembered. */
struct wh_order_state *wh_order_state_spare(struct wh_order_states *states);

enum wh_order_follow { WH_ORDER_FOLLOWS, WH_ORDER_SHUT, WH_ORDER_LATE };

/* Works out *to, the state after doing a block whose predecessors are all done. SHUT: a change it needs cannot be made;
 * LATE: a greatest wait would be broken. */
enum wh_order_follow wh_order_follow(struct wh_order_states *states, uint32_t from, size_t block,
                                     struct wh_order_state *to);

/* The same, with the minutes that the fitter has to stand idle for it. */
enum wh_order_follow wh_order_follow_waiting(struct wh_order_states *states, uint32_t from, size_t block,
                                             struct wh_order_state *to, double *ret_waited);

/* Remembers a state; 0 when one as good is known. States that it beats are marked so. */
uint32_t wh_order_remember(struct wh_order_states *states, const struct wh_order_state *state);

/* The blocks in the order in which a state was reached. */
void wh_order_trace(const struct wh_order_states *states, uint32_t number, size_t blocks[]);

/* No change of set-up, and nothing shut, for this block from here? */
bool wh_order_is_free(const struct wh_order_job *job, const struct wh_order_state *state, size_t block);

/* The end of a source. */
double wh_order_end(const struct wh_order_job *job, const struct wh_order_state *state, size_t source);

#endif
