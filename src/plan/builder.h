/* builder.h - private to plan/: the tasks of a job while they are gathered and bound. */
#ifndef WH_PLAN_BUILDER_H
#define WH_PLAN_BUILDER_H

#include "plan/tasks.h"

#include <math.h>

/* The dimensions of a set-up. */
enum { WH_PLAN_TOOL, WH_PLAN_WAY_UP, WH_PLAN_PLACE, WH_PLAN_TRADE };
enum { WH_PLAN_AT_FRAME, WH_PLAN_ON_BENCH };
enum { WH_PLAN_NO_TRADE }; /* whoever was called has gone again; then the trades of the machine */
enum { WH_PLAN_DOWN, WH_PLAN_UP, WH_PLAN_PHASES };

/* The natural order: places of the stages, and of the parts within them in the sequence of the file (going up, in the
 * opposite one). */
#define WH_AT_RUNNING 0.0
#define WH_AT_HOLDS 100.0
#define WH_AT_DOWN 1000.0
#define WH_AT_WASH 30000.0
#define WH_AT_BENCH 40000.0
#define WH_AT_CLEAN 50000.0
#define WH_AT_UP 100000.0
#define WH_AT_FILL 150000.0
#define WH_AT_POWER 160000.0
#define WH_AT_TEST 200000.0
#define WH_AT_LATER 300000.0
#define WH_PER_PART 8.0

struct wh_builder {
    struct wh_arena *arena;
    const struct wh_machine *machine;
    const struct wh_sheet *sheet;
    const bool *renewed;
    const int *banned;
    const struct wh_plan_ask *ask;
    int fitters;
    uint64_t most_nodes;
    struct wh_so_far *so_far;
    WH_LIST(size_t) done; /* tasks */
    WH_LIST(struct wh_task) tasks;
    WH_LIST(struct wh_order_task) orders;
    WH_LIST(struct wh_order_need) needs;
    WH_LIST(struct wh_order_link) links;
    WH_LIST(const char *) because;
    WH_LIST(struct wh_order_window) windows;
    WH_LIST(struct wh_order_use) uses;      /* of a heater: one thing at a time, for it has one temperature */
    WH_LIST(struct wh_order_rivals) rivals; /* a part leaves one way */
    WH_LIST(const char *) tools;
    /* Tasks by thing; of parts by way. WH_NONE where there is none. */
    size_t (*off)[2], (*on_first)[2], (*on_last)[2];
    size_t (*fixture_on)[WH_PLAN_PHASES], (*fixture_off)[WH_PLAN_PHASES];
    size_t (*fixture_user)[WH_PLAN_PHASES]; /* the last task that uses it */
    size_t *fill, *check;
    size_t *turnable;                          /* by way up */
    size_t down, clean, last_hold, first_test; /* marks */
};

struct wh_set_up {
    const char *tool;
    size_t way_up;
    bool bench;
    int crew;
    int trade; /* that has to be there: WH_PLAN_NO_TRADE or, from 1 on, one of the machine's; or WH_ORDER_ANY */
};

/* `name` becomes its id: no two tasks have the same. */
size_t wh_build_task(struct wh_builder *b, struct wh_task task, const char *name, double seconds,
                     struct wh_set_up set_up);

/* A task that is always done: all tools are laid back for it. */
size_t wh_build_mark(struct wh_builder *b, struct wh_task task, const char *name, double seconds, bool bench);

void wh_build_link(struct wh_builder *b, size_t first, size_t after, double least, double most, const char *because);

void wh_build_before(struct wh_builder *b, size_t first, size_t after);

/* `task` needs one of these tasks; nothing is added when the list is empty. */
void wh_build_need(struct wh_builder *b, size_t task, bool before, const size_t alternatives[], size_t n);

bool wh_build_is_fixture(const struct wh_builder *b, size_t thing);

/* A sump stands in a condition for its oil being out: the part that drains it. */
size_t wh_build_drain_of(const struct wh_builder *b, size_t thing);

/* The tasks in which an event happens, at most 2; `ends`: the last piece of fitting rather than the first. */
static inline int wh_build_trade(size_t by)
{
    return by == WH_NONE ? WH_PLAN_NO_TRADE : 1 + (int)by;
}

size_t wh_build_event_tasks(const struct wh_builder *b, struct wh_event event, bool ends, size_t to[2]);

/* A task is done while a fixture stands. */
void wh_build_use_fixture(struct wh_builder *b, size_t task, size_t f, int phase);

void wh_build_need_off(struct wh_builder *b, size_t task, const struct wh_conditions *conditions, int phase);

/* What is set for one task alone is set right before it and taken away right after: nothing hangs or stands on a prop
 * while the fitter walks off. What is laid in loose goes in right before what closes it. */
void wh_build_join(struct wh_builder *b);

/* What must be off for the machine to stand in another way up: met once, whatever is then done so. */
void wh_build_bind_way_up(struct wh_builder *b, size_t task, size_t way_up, int phase);

void wh_build_bind(struct wh_builder *b);

/* checks.c: when each check is made. */
void wh_build_bind_checks(struct wh_builder *b);

/* A part that another disturbs comes off with it, by whichever way. */
void wh_build_bind_disturbed(struct wh_builder *b);

/* A part to renew comes off, and with it what is looked at whenever it is renewed; not what went back already (by
 * thing, or NULL). */
void wh_build_want(struct wh_builder *b, size_t named, const bool *back);

/* so_far.c: what is wanted of the job; what is done of it stands first, and what that asks for still stands. */
enum wh_status wh_build_so_far(struct wh_builder *b, const struct wh_job *job, struct wh_errors *reterr);

/* refit.c: a part that is off goes on again, as the `times`th time, for a fixture that stands on it; it comes off again
 * when something that goes on before it is due. The task of that fitting. */
size_t wh_build_refit(struct wh_builder *b, size_t part, size_t way, size_t times, bool for_a_while);

/* "on casing again", "on casing again 2": what was done so many times before. */
const char *wh_build_again(const struct wh_builder *b, const char *id, size_t times);

/* A part that came off in the frame may go on on the bench, where what it leaves with comes off, too. */
void wh_build_either_way(struct wh_builder *b, const bool is_done[]);

/* Fixtures that stand as the job is planned anew. */
void wh_build_free(struct wh_builder *b, const bool is_done[]);

/* Fixtures that are not to be set on the way in. */
void wh_build_without(struct wh_builder *b);

/* keep.c: the task of an id, WH_NONE when there is none; the natural order of a job planned anew. */
size_t wh_build_find(const struct wh_builder *b, const char *id);
void wh_build_keep_order(struct wh_builder *b);

/* Between the tasks of each part: windows while it is off, and that it leaves one way only. */
void wh_build_part_windows(struct wh_builder *b);

void wh_build_dimensions(struct wh_builder *b, struct wh_order_problem *problem);

/* Puts the tasks into their natural order and everything that names them after them. */
struct wh_tasks *wh_build_sorted(struct wh_builder *b);

#endif
