/* job.h - one choice of ways made ready for the search: its tasks joined into blocks, and what waits for what.
 *
 * A block is a run of tasks that is never split; most are a single task. Sets are bit sets of blocks, `words` words
 * each. Blocks stand in the natural order of their first tasks. */
#ifndef WH_ORDER_JOB_H
#define WH_ORDER_JOB_H

#include "order/order.h"

/* Minutes below this are rounding. */
#define WH_ORDER_SLACK 1e-6

#define WH_ORDER_NONE ((size_t)-1)

struct wh_order_block {
    const size_t *tasks;
    size_t count;
    double minutes; /* that surely hold the fitter: of its tasks, and the idle ones inside that no change can fill */
    bool waits;     /* the fitter may have to wait inside it */
    bool closes;    /* it closes a window, or begins a use */
    bool uses;      /* it begins a use of what there is one of */
};

/* A link that may cost waiting: between blocks or, `inside`, within one. */
struct wh_order_lag {
    size_t first, after; /* tasks */
    double least, most;
    bool inside;
};

/* Of two chosen tasks: `after` starts at least `least` minutes after the end of `first`. */
struct wh_order_edge {
    size_t first, after;
    double least;
};

struct wh_order_job {
    const struct wh_order_problem *problem;
    const bool *chosen;
    const bool *past;               /* tasks done before it begins, where it is a part of a job; or NULL */
    size_t exit;                    /* the block that ends a part; WH_ORDER_NONE for a whole job */
    bool held[WH_ORDER_DIMENSIONS]; /* no change is made for the exit: it is only done where the value is held */
    size_t count;                   /* of blocks */
    size_t words;
    struct wh_order_block *blocks;
    size_t *block_of;   /* of each task, WH_ORDER_NONE when it is not chosen */
    size_t *member_of;  /* its place in its block */
    uint64_t *before;   /* of each block: all that have to be done before it */
    uint64_t *behind;   /* of each block: all that have to be done after it */
    size_t *next_from;  /* what waits for block b itself, and not only for one that waits for it: ... */
    const size_t *next; /* ... next[next_from[b]] up to next_from[b + 1]; it holds all behind b with none in between */
    const size_t *sorted; /* blocks, each after those before it */
    const struct wh_order_edge *edges;
    size_t edge_count;
    struct wh_order_lag *lags;
    size_t lag_count;
    size_t *lags_into;              /* of task t: lags[lags_into[t]] up to lags[lags_into[t + 1]] */
    size_t *sources;                /* tasks whose end is waited for in another block, or that pass alone; then ... */
    size_t source_count, end_count; /* ... up to end_count those waited for only in their own */
    size_t *source_of;              /* of each task, WH_ORDER_NONE for none */
    size_t *lags_from, *from;       /* of source s: lags[from[lags_from[s]]] up to lags_from[s + 1] */
    bool *limited, *limited_inside; /* of each: something must follow it within a time, in another block, in its own */
    bool metric[WH_ORDER_DIMENSIONS];  /* the triangle inequality holds */
    bool plain[WH_ORDER_DIMENSIONS];   /* a change costs the same from wherever it is made, and no window bears on it */
    bool movable[WH_ORDER_DIMENSIONS]; /* a task that needs a value in it may be done early: see README.md */
};

/* The greater of two numbers, neither of them NaN: quicker than asking for fmax. */
static inline double wh_order_later(double a, double b)
{
    return a > b ? a : b;
}

static inline bool wh_order_has(const uint64_t set[], size_t b)
{
    return set[b / 64] >> (b % 64) & 1;
}

static inline void wh_order_put(uint64_t set[], size_t b)
{
    set[b / 64] |= (uint64_t)1 << (b % 64);
}

/* All of `part` in `whole`? */
static inline bool wh_order_within(size_t words, const uint64_t part[], const uint64_t whole[])
{
    for (size_t w = 0; w < words; w++) {
        if (part[w] & ~whole[w]) return false;
    }
    return true;
}

/* The name of a task for a person. */
const char *wh_order_name(struct wh_arena *arena, const struct wh_order_problem *problem, size_t task);

/* Checks the numbers of a problem: indices, signs, values. */
enum wh_status wh_order_check(const struct wh_order_problem *problem, struct wh_errors *reterr);

/* The blocks of chosen tasks under the chosen ways. NULL when they wait for each other; *ret_why then says how. `past`
 * may be NULL. */
struct wh_order_job *wh_order_job_new(struct wh_arena *arena, const struct wh_order_problem *problem,
                                      const bool chosen[], const bool past[], const int chosen_way[],
                                      const char **ret_why);

/* The tasks of blocks in order, written to tasks[]; how many. */
size_t wh_order_tasks(const struct wh_order_job *job, const size_t blocks[], size_t tasks[]);

#endif
