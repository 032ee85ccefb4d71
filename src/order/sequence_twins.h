/* sequence_twins.h - tasks of a sequence that nobody can tell apart. */
#ifndef WH_ORDER_SEQUENCE_TWINS_H
#define WH_ORDER_SEQUENCE_TWINS_H

#include "order/sequence.h"

/* The pairs of a problem as closed sets, `words` 64-bit words for each of n tasks; those from the problem's count on
 * are added ends, from and to which nothing costs. */
struct wh_sequence_sets {
    size_t n, words;
    uint64_t *before, *after;
};

/* Of two tasks with the same costs, one of which waits for nothing that the other does not wait for, and holds up all
 * that the other does: that one may as well come first. Such pairs are added, one by one, until there is none.
 * README.md says why. */
void wh_sequence_order_twins(const struct wh_sequence_problem *problem, const struct wh_sequence_sets *sets);

#endif
