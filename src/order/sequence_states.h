/* sequence_states.h - the search over sets: at each place, of all partial sequences with the same set of tasks and the
 * same last one only the cheapest is followed, and none that its bound rules out.
 *
 * With room for all of them this is dynamic programming and proves its result; with less it keeps the `width` most
 * promising at each place (beam search), and what it dropped still gives a bound. */
#ifndef WH_ORDER_SEQUENCE_STATES_H
#define WH_ORDER_SEQUENCE_STATES_H

#include "order/sequence_walk.h"

/* The greatest width whose search fits into so many bytes; 0: none. */
size_t wh_sequence_states_width(const struct wh_sequence_walk *walk, size_t bytes);

/* Searches; offers what it finds to the run and raises its bound. True: nothing was dropped. */
bool wh_sequence_states_search(struct wh_arena *arena, const struct wh_sequence_walk *walk, struct wh_sequence_run *run,
                               size_t width);

#endif
