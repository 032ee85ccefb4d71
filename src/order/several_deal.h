/* several_deal.h - a list made by dealing blocks out: each time the block that costs the fitters least now and leaves
 * least behind it, led by whoever can begin it first. */
#ifndef WH_ORDER_SEVERAL_DEAL_H
#define WH_ORDER_SEVERAL_DEAL_H

#include "order/job.h"
#include "order/timing.h"

struct wh_order_dealer {
    const struct wh_order_job *job;
    struct wh_order_timer *timer;
    const double *tail; /* of each task: least time from its start to the end of all */
    size_t *blocks;     /* the list */
    /* working space: */
    size_t *open;               /* of each block: those before it not dealt out yet */
    size_t *ready, ready_count; /* blocks that may come next */
    double *since;              /* of each of them: from when on */
};

/* What counts for how much beside a minute of delay. */
struct wh_order_deal {
    double lost; /* a minute in which a fitter changes or waits */
    double rest; /* a minute of what follows the block */
    double luck; /* chance, up to so many minutes */
};

struct wh_order_dealer wh_order_dealer_new(struct wh_arena *arena, const struct wh_order_job *job,
                                           struct wh_order_timer *timer, const double tail[]);

/* Deals all blocks out into dealer->blocks. When the last ends, greatest waits left aside; INFINITY: it came to a place
 * where none could follow. `random` moves on and is not 0. */
double wh_order_deal(struct wh_order_dealer *dealer, const struct wh_order_deal *deal, uint64_t *random);

#endif
