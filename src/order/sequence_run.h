/* sequence_run.h - one search for a sequence: the best so far, the bound so far, and when to stop. */
#ifndef WH_ORDER_SEQUENCE_RUN_H
#define WH_ORDER_SEQUENCE_RUN_H

#include "order/sequence_model.h"

struct wh_sequence_run {
    const struct wh_sequence_model *model;
    const struct wh_sequence_limits *limits;
    double started;
    uint64_t nodes, look_at; /* the clock is looked at again from this node on */
    size_t *best;            /* tasks of the model in order; read only when cost is finite */
    double cost, bound;
    bool stopped;
    enum wh_sequence_stop stop;
};

/* Counts nodes; false: stop here. */
bool wh_sequence_spend(struct wh_sequence_run *run, uint64_t nodes);

/* Seconds since the start, 0 without a clock. */
double wh_sequence_seconds(const struct wh_sequence_run *run);

/* Keeps a sequence when it is cheaper than the best. */
void wh_sequence_offer(struct wh_sequence_run *run, const size_t order[]);

/* Raises the bound: to the next sum that costs can have. */
void wh_sequence_raise(struct wh_sequence_run *run, double bound);

/* A partial sequence that cannot end below or at this cost need not be followed. */
double wh_sequence_cut(const struct wh_sequence_run *run);

/* Is the best proven, or that there is none? */
bool wh_sequence_settled(const struct wh_sequence_run *run);

double wh_sequence_length(const struct wh_sequence_model *model, const size_t order[]);

#endif
