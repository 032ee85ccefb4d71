/* sequence_model.h - a sequencing problem made ready for the search: what follows from it is worked out once.
 *
 * A free start or end becomes a task of no cost. Tasks are numbered anew by the middle of the places they can take, so
 * that the first is the start, the last the end, and those that compete for a place are near each other. */
#ifndef WH_ORDER_SEQUENCE_MODEL_H
#define WH_ORDER_SEQUENCE_MODEL_H

#include "order/sequence.h"

struct wh_sequence_model {
    size_t n, words;          /* tasks; 64-bit words of a set of tasks */
    double *cost;             /* n x n, row from; INFINITY where the step can be in no sequence */
    uint64_t *before, *after; /* of each task the set of all that come before it, after it */
    size_t *early, *late;     /* the first and last place it can take */
    size_t *task;             /* the caller's number; `count` or more: an end added here */
    double grain;             /* all sums of costs are multiples of it; 0: of nothing */
};

enum wh_status wh_sequence_model_make(struct wh_arena *arena, const struct wh_sequence_problem *problem,
                                      struct wh_sequence_model *ret, struct wh_errors *reterr);

static inline bool wh_sequence_has(const uint64_t *set, size_t task)
{
    return (set[task / 64] >> (task % 64)) & 1;
}

static inline void wh_sequence_put(uint64_t *set, size_t task)
{
    set[task / 64] |= UINT64_C(1) << (task % 64);
}

#endif
