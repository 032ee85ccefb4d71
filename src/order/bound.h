/* bound.h - what the rest of a job costs at least. */
#ifndef WH_ORDER_BOUND_H
#define WH_ORDER_BOUND_H

#include "order/job.h"

struct wh_order_bound {
    const struct wh_order_job *job;
    double *path[WH_ORDER_DIMENSIONS];    /* [block][value + 1]: changes along the dearest chain that begins with it */
    uint64_t *uses[WH_ORDER_DIMENSIONS];  /* [value]: the blocks that need it */
    uint16_t *turns[WH_ORDER_DIMENSIONS]; /* [block][held before][value]: changes to it along a chain */
    uint16_t *most;                       /* [value]: working space */
    double *nearest[WH_ORDER_DIMENSIONS]; /* [value]: the least that a change to it costs */
    double *tail;                         /* of each task: from its start to the end of all that depends on it */
};

struct wh_order_bound *wh_order_bound_new(struct wh_arena *arena, const struct wh_order_job *job);

/* [value]: how often each is changed to along the chain that begins with a block and asks for it most; `held`: the
 * value is held before it. */
uint16_t *wh_order_turns(const struct wh_order_bound *bound, size_t d, size_t block, bool held);

/* What changes cost along the dearest chain that begins with a block; 0 where the triangle inequality does not hold. */
double wh_order_path(const struct wh_order_bound *bound, size_t d, size_t block, int held);

/* The value held after a block; WH_ORDER_ANY: as before it. */
int wh_order_left_held(const struct wh_order_job *job, size_t d, size_t block);

/* Changes of set-up still to come, with these values held; `ready`: the blocks free to begin. */
double wh_order_bound_changes(const struct wh_order_bound *bound, const int16_t value[], const size_t ready[],
                              size_t ready_count);

/* Minutes of blocks in `set` that are not in `done`. */
double wh_order_bound_work(const struct wh_order_bound *bound, const uint64_t set[], const uint64_t done[]);

#endif
