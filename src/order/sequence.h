/* sequence.h - finds the cheapest sequence of tasks when each step costs what its pair of neighbours costs, and some
 * tasks must come before others (the sequential ordering problem). It knows no machine. Can be read alone; README.md
 * here says how it works and why its proofs hold.
 *
 * The result hangs on the problem, the seed and the limit of nodes alone. A limit in seconds is a safety net: a result
 * that it cut short says so. */
#ifndef WH_ORDER_SEQUENCE_H
#define WH_ORDER_SEQUENCE_H

#include "base/error.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { WH_SEQUENCE_MOST = 2000, WH_SEQUENCE_FREE = -1 };

struct wh_sequence_pair {
    size_t first, after;
};

struct wh_sequence_problem {
    size_t count;                          /* tasks, 1..WH_SEQUENCE_MOST */
    const double *cost;                    /* count x count, row from, column to: of `to` directly after `from`;
                                              INFINITY: not allowed. The diagonal is not read. */
    const struct wh_sequence_pair *before; /* anywhere before, not only directly */
    size_t before_count;
    int start, end; /* the task it has to begin and to end with, or WH_SEQUENCE_FREE */
};

enum wh_sequence_stop {
    WH_SEQUENCE_PROVEN,  /* nothing is cheaper */
    WH_SEQUENCE_NODES,   /* the limit of nodes was reached */
    WH_SEQUENCE_MEMORY,  /* the next, wider search would not fit, and the local search had its share */
    WH_SEQUENCE_SECONDS, /* the limit of seconds was reached: another run may end elsewhere */
    WH_SEQUENCE_CALLER   /* the caller's `go_on` said no */
};

/* How far a search has come. */
struct wh_sequence_news {
    double cost, bound; /* INFINITY: no sequence yet */
    uint64_t nodes;
    double seconds; /* since the start, 0 without a clock */
};

struct wh_sequence_limits {
    uint64_t nodes;                                                    /* 0: none */
    double seconds;                                                    /* 0: none; needs a clock */
    size_t bytes;                                                      /* of memory at once; 0: the usual 512 MiB */
    double (*clock)(void);                                             /* seconds since any fixed time; NULL: none */
    uint64_t seed;                                                     /* of the random numbers of the local search */
    bool (*go_on)(void *context, const struct wh_sequence_news *news); /* called now and then; NULL: never */
    void *context;
};

struct wh_sequence {
    size_t *tasks; /* all `count` of them in the order found; NULL: none was found before the stop */
    double cost;   /* of it; INFINITY without */
    double bound;  /* no sequence costs less */
    enum wh_sequence_stop stop;
    uint64_t nodes; /* partial sequences looked at, sweeps over the relaxation and trials of the local search */
};

/* Solves; the result is in the arena, the search has memory of its own. Errors: WH_ERR_INPUT (a cost is not a number,
 * a task is not there, tasks wait for each other in a ring, no sequence is allowed), WH_ERR_NOMEM (the limit of bytes
 * does not hold the problem itself). */
enum wh_status wh_sequence_solve(struct wh_arena *arena, const struct wh_sequence_problem *problem,
                                 const struct wh_sequence_limits *limits, struct wh_sequence *ret,
                                 struct wh_errors *reterr);

/* The cost of a sequence of all tasks; INFINITY when it breaks a rule. */
double wh_sequence_cost(const struct wh_sequence_problem *problem, const size_t tasks[]);

#endif
