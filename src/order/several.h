/* several.h - several fitters on one job: lists worked off in turn, each task by whoever can begin it first. */
#ifndef WH_ORDER_SEVERAL_H
#define WH_ORDER_SEVERAL_H

#include "order/line.h"
#include "order/ways.h"

struct wh_order_several {
    struct wh_order_line line; /* the quickest order found, of one choice of ways */
    const int *way;            /* that choice */
    double bound;              /* no order, with any choice of ways, takes less */
    uint64_t nodes;
};

/* The quickest order of several fitters. `one` is the line of one fitter with its choice of ways: another choice is
 * taken only when it is quicker. Looks at up to `most` nodes, within the time of
 * the budget. */
struct wh_order_several wh_order_several(struct wh_arena *arena, const struct wh_order_problem *problem,
                                         const struct wh_order_line *one, const int way[], uint64_t most,
                                         struct wh_order_budget *budget);

#endif
