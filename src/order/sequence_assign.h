/* sequence_assign.h - a bound from assignment: every task but the end is given a next, every task but the start is
 * given to one; rings are not forbidden, nor is any order over more than one step.
 *
 * Its prices make all steps cost zero or more and those it takes zero, with the same differences between sequences:
 * what a step costs then is what it costs too much. */
#ifndef WH_ORDER_SEQUENCE_ASSIGN_H
#define WH_ORDER_SEQUENCE_ASSIGN_H

#include "order/sequence_run.h"

/* No task. */
#define WH_SEQUENCE_NOBODY SIZE_MAX

struct wh_sequence_assignment {
    const struct wh_sequence_model *model;
    double *cost;         /* of each step; may be made INFINITY for a while */
    double *leave, *come; /* the price of leaving a task and of coming to it */
    size_t *next, *from;  /* of each task but the last; of each but the first */
    bool *held;           /* its step from `from` stays as it is */
    double *least;        /* room for the growth of paths */
    size_t *before;
    bool *reached;
    size_t *ring, *joined; /* room for joining rings */
    uint64_t *done;
};

/* Solves, by shortest augmenting paths (Kuhn 1955; Tomizawa 1971). The cost; INFINITY: there is none, hence no
 * sequence. */
double wh_sequence_assign(struct wh_arena *arena, const struct wh_sequence_model *model,
                          struct wh_sequence_assignment *ret);

/* Gives a task that has lost its next another one, others may change theirs. What it costs more; INFINITY: more than
 * `most`, or it cannot be, and nothing is changed. */
double wh_sequence_assign_again(struct wh_sequence_assignment *assignment, size_t task, double most);

/* Which ring each task is in; that of the start, which runs to the end, is 0. How many there are. */
size_t wh_sequence_rings(const struct wh_sequence_assignment *assignment, const size_t next[], size_t ring[]);

/* Joins the rings, each time by the cheapest exchange of two steps (Karp 1979), and brings the n tasks into an order
 * that is allowed, as near to the joined one as they let themselves. */
void wh_sequence_patch(struct wh_sequence_assignment *assignment, size_t order[]);

#endif
