/* sequence_branch.h - branch and bound over assignments, for problems with few pairs: where an assignment runs in a
 * ring, or comes by two tasks in the wrong order, one of the steps of the ring or of the way between them must go. */
#ifndef WH_ORDER_SEQUENCE_BRANCH_H
#define WH_ORDER_SEQUENCE_BRANCH_H

#include "order/sequence_assign.h"

struct wh_sequence_branching;

/* Begins with a solved assignment; at most so many bytes are used. NULL: they are too few. */
struct wh_sequence_branching *wh_sequence_branch_make(struct wh_arena *arena, struct wh_sequence_run *run,
                                                      struct wh_sequence_assignment *assignment, size_t bytes);

/* Goes on for so many nodes, from the lowest bound down to where it ends and again; offers what it finds and raises the
 * run's bound. True: it is at an end, all settled or no room left. */
bool wh_sequence_branch_on(struct wh_sequence_branching *branching, uint64_t nodes);

#endif
