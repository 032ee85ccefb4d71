/* order.h - what `order` asks of each form of file: read it, solve it, say what came out. */
#ifndef WH_BENCH_ORDER_H
#define WH_BENCH_ORDER_H

#include "base/error.h"

#include <stdbool.h>
#include <stdint.h>

struct order_limits {
    double seconds;
    size_t bytes;          /* 0: the solver's usual */
    uint64_t nodes;        /* 0: none */
    double (*clock)(void); /* processor time of this process, s */
};

/* What one file gives: INFINITY found: nothing was. */
struct order_outcome {
    double found, bound;
    bool proven;
    double seconds; /* of the solver, without reading the file */
    uint64_t nodes;
};

/* Reads the text of a file and solves it. Errors: WH_ERR_INPUT with the place in the file, and the solver's own. */
typedef enum wh_status order_solve(struct wh_arena *arena, const char *path, const char *text,
                                   const struct order_limits *limits, struct order_outcome *ret,
                                   struct wh_errors *reterr);

order_solve order_solve_sop;     /* sequential ordering, TSPLIB */
order_solve order_solve_project; /* project scheduling, PSPLIB */
order_solve order_solve_lagged;  /* the same with time lags, ProGen/max */
order_solve order_solve_json;    /* the solver's own task file */

#endif
