/* sequence_exchange.h - betters a sequence by exchanging two neighbouring stretches of it, each kept as it runs (the
 * 3-exchange that keeps paths), from many random small changes on. */
#ifndef WH_ORDER_SEQUENCE_EXCHANGE_H
#define WH_ORDER_SEQUENCE_EXCHANGE_H

#include "order/sequence_assign.h"

struct wh_sequence_exchange;

/* Looks at steps by what they cost too much for the prices of the assignment. */
struct wh_sequence_exchange *wh_sequence_exchange_make(struct wh_arena *arena, struct wh_sequence_run *run,
                                                       const struct wh_sequence_assignment *assignment);

/* Goes on from the run's best sequence for so many trials, and offers what it finds. The run must have one. */
void wh_sequence_exchange_improve(struct wh_sequence_exchange *exchange, uint64_t trials);

#endif
