/* timing.h - when each task of a given sequence starts. It knows nothing of the search, so that it can check it. */
#ifndef WH_ORDER_TIMING_H
#define WH_ORDER_TIMING_H

#include "order/order.h"

/* Working space for sequences of one problem, used again and again. */
struct wh_order_timer {
    const struct wh_order_problem *problem;
    const int *way;             /* of each need the only one that counts; NULL: whichever is taken */
    size_t *place;              /* of each task in the sequence, or WH_ORDER_NONE */
    double *least_start;        /* of each task: put off so that what follows it comes in time */
    struct wh_order_step *at;   /* of each place of the sequence */
    size_t *links_into, *links; /* of each task: the links that end in it */
    size_t *needs_of, *needs;   /* of each task: its needs */
    unsigned char *shuts;       /* of each task: dimensions, by bit, whose windows it closes */
    bool *uses;                 /* of each task: it begins a use of what there is one of */
    bool *joined;               /* of each task: it follows the one before without a break */
    int leading;                /* so many of the fitters lead a task; the others only lend a hand */
    double fitters[4];          /* free from then on */
    int value[4][WH_ORDER_DIMENSIONS];
    double used[WH_ORDER_DIMENSIONS], changed[WH_ORDER_DIMENSIONS]; /* shared: last use and last change ended */
};

struct wh_order_timer *wh_order_timer_new(struct wh_arena *arena, const struct wh_order_problem *problem);

/* Times a sequence into timer->at: each task is led by whoever can begin it first; where a greatest wait cannot be kept
 * so, one fitter leads them all. The time to the end, or INFINITY when it breaks a rule. */
double wh_order_time(struct wh_order_timer *timer, const size_t sequence[], size_t n);

/* With everything as early as can be: minutes by which greatest waits are broken, or INFINITY for any other rule. */
double wh_order_lateness(struct wh_order_timer *timer, const size_t sequence[], size_t n);

#endif
