/* schedule.h - the shortest schedule of activities that share resources and wait for each other. It knows no machine
 * and nothing of the rest of this folder. Can be read alone.
 *
 * The resource-constrained project scheduling problem with general time lags: each activity has a duration and uses so
 * much of each renewable resource while it runs; a lag holds the start of one activity at least so long after (or, with
 * a negative wait, at most so long after) the start of another; some are held apart, in one order or the other. Wanted
 * is the least time to the end of all. Times are whole numbers of whatever unit the caller likes. README.md says how it
 * works and why its proofs hold. */
#ifndef WH_ORDER_SCHEDULE_H
#define WH_ORDER_SCHEDULE_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* start of `to` >= start of `from` + wait. wait < 0: `from` starts at most -wait after `to`: a greatest wait. */
struct wh_schedule_lag {
    size_t from, to;
    int wait;
};

/* Two activities that do not go together (the machine stands one way up for the one, another way for the other): the
 * start of b is at least `first` after that of a, or the start of a at least `last` after that of b. */
struct wh_schedule_apart {
    size_t a, b;
    int first, last;
};

struct wh_schedule_problem {
    size_t count;        /* of activities */
    const int *duration; /* each, 0 or more */
    size_t resource_count;
    const int *capacity; /* of each resource, 0 or more */
    const int *use;      /* [activity * resource_count + resource], 0 or more */
    const struct wh_schedule_lag *lags;
    size_t lag_count;
    const struct wh_schedule_apart *aparts;
    size_t apart_count;
};

/* What is known so far, for a progress line. */
struct wh_schedule_so_far {
    bool found;
    int makespan; /* of the best schedule, when found */
    int bound;
    uint64_t nodes;
};

/* When to stop. All zero: never before the proof. */
struct wh_schedule_limits {
    uint64_t nodes;        /* decisions of the search and schedules generated; 0: no limit */
    double seconds;        /* by the clock; 0: no limit */
    double (*clock)(void); /* seconds since anything; NULL: no clock is read and the result hangs on nodes alone */
    size_t bytes;          /* of memory; 0: 256 MiB. What has been learnt is forgotten before this is passed */
    bool (*stop)(void *context, const struct wh_schedule_so_far *so_far); /* asked now and then; NULL: never */
    void *context;
};

enum wh_schedule_end { WH_SCHEDULE_DONE, WH_SCHEDULE_NODES, WH_SCHEDULE_SECONDS, WH_SCHEDULE_ASKED };

struct wh_schedule {
    bool found;
    int *start;   /* of each activity, when found */
    int makespan; /* when found */
    int bound;    /* no schedule is shorter */
    bool proven;  /* found: makespan equals bound; not found: no schedule exists */
    uint64_t nodes;
    enum wh_schedule_end end; /* why it stopped */
};

/* Solves. The problem's numbers must be as said above and all sums of durations and waits below 2^28 (see
 * wh_schedule_sound). Deterministic unless stopped by the clock or by `stop`. */
struct wh_schedule wh_schedule_solve(struct wh_arena *arena, const struct wh_schedule_problem *problem,
                                     const struct wh_schedule_limits *limits);

/* NULL when a problem's numbers can be worked with, else what is wrong. */
const char *wh_schedule_sound(const struct wh_schedule_problem *problem);

/* Holds a schedule against the problem, written apart from the search: NULL when every lag and every resource is kept,
 * else what is broken. *ret_makespan may be NULL. */
const char *wh_schedule_check(struct wh_arena *arena, const struct wh_schedule_problem *problem, const int start[],
                              int *ret_makespan);

#endif
