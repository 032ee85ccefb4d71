/* line.h - one order of a job, and moving its blocks about. */
#ifndef WH_ORDER_LINE_H
#define WH_ORDER_LINE_H

#include "order/budget.h"
#include "order/job.h"
#include "order/timing.h"

struct wh_order_line {
    const struct wh_order_job *job;
    struct wh_order_timer *timer;
    size_t *blocks;
    double cost;                    /* as timed; INFINITY when it cannot stand as it is */
    size_t *tasks, *trial, *kept;   /* working space */
    uint64_t tries;                 /* orders timed so far */
    struct wh_order_budget *budget; /* whose time it takes; NULL: tries alone are counted */
};

struct wh_order_line wh_order_line_new(struct wh_arena *arena, const struct wh_order_job *job,
                                       struct wh_order_timer *timer, const size_t blocks[]);

/* Moves what must be followed within a time towards what follows it, until all greatest waits are kept, if it can. */
void wh_order_line_hold(struct wh_order_line *line);

/* Moves single blocks while that makes it cheaper; stops at `goal`, or after so many tries. */
void wh_order_line_improve(struct wh_order_line *line, double goal, uint64_t most_tries);

/* Moves blocks at random, for a while also to where it costs more (late acceptance: Burke and Bykov, European J.
 * Operational Research 258, 2017): the cheapest order met stays. `random` moves on and is not 0. */
void wh_order_line_wander(struct wh_order_line *line, uint64_t *random, double goal, uint64_t most_tries);

/* Moves blocks towards the natural order where that costs nothing. */
void wh_order_line_settle(struct wh_order_line *line, uint64_t most_tries);

#endif
