/* sequence_assign.h - a bound from assignment: every task but the end is given a next, every task but the start is
 * given to one; rings are not forbidden, nor is any order over more than one step.
 *
 * Its prices make all steps cost zero or more and those it takes zero, with the same differences between sequences:
 * what a step costs then is what it costs too much. */
#ifndef WH_ORDER_SEQUENCE_ASSIGN_H
#define WH_ORDER_SEQUENCE_ASSIGN_H

#include "order/sequence_run.h"

struct wh_sequence_assignment {
    double bound;      /* INFINITY: there is no assignment, hence no sequence */
    size_t *next;      /* of each task but the last */
    double *leave, *come; /* the price of leaving a task and of coming to it: n each */
};

/* Solves, by shortest augmenting paths (Kuhn 1955; Tomizawa 1971; Jonker and Volgenant 1987). */
void wh_sequence_assign(struct wh_arena *arena, const struct wh_sequence_model *model,
                        struct wh_sequence_assignment *ret);

/* Joins the rings of the assignment, each time by the cheapest exchange of two steps (Karp 1979), and brings the
 * tasks into an order that is allowed, as near to the joined one as their pairs let them. `order` is of n tasks. */
void wh_sequence_patch(struct wh_arena *arena, const struct wh_sequence_model *model,
                       const struct wh_sequence_assignment *assignment, size_t order[]);

#endif
