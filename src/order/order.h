/* order.h - finds the cheapest order of tasks that depend on each other. It knows no machine. Can be read alone.
 *
 * A task has minutes and may need a set-up: one value (or none) in each of a few dimensions, such as the tool in hand,
 * the way up of the machine, the place of work. Changing a value costs minutes and may need windows to be open. A task
 * is wanted outright, or because a chosen task needs it; a need can be met in one of several ways, so which tasks are
 * done and in what order is decided together. The cost is the minutes of the chosen tasks, of the changes of set-up,
 * and of waiting; with several fitters, the time to the end. */
#ifndef WH_ORDER_ORDER_H
#define WH_ORDER_ORDER_H

#include "base/error.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { WH_ORDER_DIMENSIONS = 4, WH_ORDER_ANY = -1 };

struct wh_order_task {
    const char *name;
    double minutes;
    int crew;                        /* fitters it takes at once, least 1 */
    int set_up[WH_ORDER_DIMENSIONS]; /* the value it needs in each dimension, WH_ORDER_ANY for none */
    bool wanted;                     /* has to be done; otherwise only when a chosen task needs it */
    bool alone;                      /* passes by itself once started (warming, curing): holds no fitter */
};

/* `task`, once chosen, needs all tasks of one of its ways to be chosen too. before: and done before it. */
struct wh_order_way {
    const size_t *tasks;
    size_t count;
};
struct wh_order_need {
    size_t task;
    bool before;
    const struct wh_order_way *ways;
    size_t way_count;
};

/* When both are chosen, `after` starts at least `least` minutes after `first` has ended, and at most `most` after
 * (INFINITY: no limit). joined: nothing else is done in between by the same fitter. */
struct wh_order_link {
    size_t first, after;
    double least, most;
    bool joined;
};

/* Open from the end of `opens` to the start of `closes`; when `opens` is not chosen it is never open. */
struct wh_order_window {
    size_t opens, closes;
};

/* Of some things there is one (a heater): from the start of `from` to the start of `to` this one is in use, and no
 * other use of it begins. Counts when both are chosen and `to` stands behind `from` in the order. */
struct wh_order_use {
    size_t thing, from, to;
};

/* Of two tasks at most one is done: a part leaves one way or the other. Nothing of the kind binds what is done already.
 */
struct wh_order_rivals {
    size_t one, other;
};

/* The cost of going from one value of a dimension to another, minutes; and what must stand open while it is done. A
 * change needs, for each listed window set, at least one of its windows open ("spindle out or forked"). */
struct wh_order_dimension {
    const char *name;
    size_t values;
    const double *cost;                   /* values x values, row from, column to; the triangle inequality holds */
    int start;                            /* value at the start; WH_ORDER_ANY: the first is free */
    const struct wh_order_way *open_sets; /* each way lists indices of windows */
    size_t open_set_count;
    bool shared; /* one value for the whole job (way up of the machine), not one for each fitter (tool, place) */
};

/* Somebody who looks on while a search runs. */
struct wh_order_now {
    uint64_t nodes;
    double seconds;     /* since it began; 0 without a clock */
    double cost, bound; /* the best order found so far, INFINITY for none; no order costs less than the bound */
};
struct wh_order_watch {
    double (*clock)(void);                                        /* seconds that only go forward; or NULL */
    double most_seconds;                                          /* 0: no limit */
    bool (*go_on)(void *context, const struct wh_order_now *now); /* asked now and then, false: stop; or NULL */
    void *context;
};

/* Why a search came to its end. */
enum wh_order_stop {
    WH_ORDER_CLOSED, /* nothing was left to look at */
    WH_ORDER_NODES,
    WH_ORDER_MEMORY,
    WH_ORDER_SECONDS, /* another run may end elsewhere */
    WH_ORDER_STOPPED  /* the watch said so */
};

struct wh_order_problem {
    const struct wh_order_task *tasks;
    size_t task_count; /* their sequence is the natural order: among equals, and unless another saves `keep` minutes */
    const struct wh_order_need *needs;
    size_t need_count;
    const struct wh_order_link *links;
    size_t link_count;
    const struct wh_order_window *windows;
    size_t window_count;
    const struct wh_order_use *uses;
    size_t use_count;
    const struct wh_order_rivals *rivals;
    size_t rival_count;
    struct wh_order_dimension dimensions[WH_ORDER_DIMENSIONS];
    int fitters;        /* 1..4 */
    double keep;        /* the natural order is kept unless another saves more than this, minutes */
    double enough;      /* the search ends when no order can save more than this, minutes; 0: when the best is proven */
    const size_t *done; /* tasks done already, in this order: every order begins with them, whatever they should have */
    size_t done_count;  /* waited for; what they leave to be done (a need that is not "before") stands */
    uint64_t most_nodes;                /* the search stops here; 0: the usual 2 million, far less for several */
    size_t most_memory;                 /* and where its states take so many bytes; 0: the usual 64 MiB */
    const struct wh_order_watch *watch; /* or NULL */
};

/* A task of the found order: when and by whom (first fitter of its crew). */
struct wh_order_step {
    size_t task;
    double start, end;
    int fitter;
    double change; /* minutes of set-up change before it, within start - (end of the fitter's last) */
    double waited; /* minutes idle before it */
};

struct wh_order {
    struct wh_order_step *steps;
    size_t step_count;
    double cost;         /* of this order */
    double bound;        /* no order can cost less */
    bool proven;         /* cost equals the least possible, or differs only because the natural order was kept */
    bool natural;        /* the natural order was kept */
    double least;        /* cost of the cheapest order found, natural or not */
    double natural_cost; /* of the natural order with the same tasks chosen */
    uint64_t nodes;
    enum wh_order_stop stop;
    const int *chosen_way; /* for each need: the way taken, -1 when its task is not chosen */
};

/* Solves. Errors: WH_ERR_INPUT when no order exists (the error names tasks of a ring that wait for each other, or of a
 * task nobody can reach), WH_ERR_LIMIT when none was found before somebody stopped it or its time was over: at any
 * other limit the best found is given with its bound. */
enum wh_status wh_order_solve(struct wh_arena *arena, const struct wh_order_problem *problem, struct wh_order **ret,
                              struct wh_errors *reterr);

/* Works out the cost of a given sequence of tasks as it stands (for comparison and for tests); INFINITY when it breaks
 * a rule. The same timing as wh_order_solve uses. `way`: of each need the way that has to be met, as in a found order;
 * NULL: any. `ret` may be NULL. */
double wh_order_cost(struct wh_arena *arena, const struct wh_order_problem *problem, const int way[],
                     const size_t sequence[], size_t n, struct wh_order *ret);

#endif
