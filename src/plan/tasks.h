/* tasks.h - private to plan/: the tasks of a job and what binds them, as a problem for the ordering solver. */
#ifndef WH_PLAN_TASKS_H
#define WH_PLAN_TASKS_H

#include "plan/plan.h"

struct wh_tasks {
    struct wh_task *tasks; /* in the sequence of the problem's */
    size_t count;
    struct wh_order_problem problem;
    const char **link_because; /* of each link of the problem, or NULL */
    const char **tools;        /* by tool value of the solver */
};

/* What has to be undone of a job that is planned anew. */
struct wh_so_far {
    bool probing;   /* it is not known yet: whatever went back is taken as free to come off again */
    bool plain;     /* found out: nothing went back, the way in is not over: nothing can have to be undone */
    bool again;     /* parts come off although dirty work was over: it ends a second time */
    double washing; /* then: the share of the washing that is due once more, by the number of parts; 0: not known */
    bool *reopened; /* by thing: it went back and comes off again */
    size_t *refit;  /* by thing: it is off, and goes on again for this fixture that stands on it; 0: it does not */
    bool *without;  /* by thing: of fixtures, this one is not set on the way in */
    WH_LIST(const char *) notes;
};

struct wh_job {
    const struct wh_machine *machine;
    const struct wh_sheet *sheet;
    const bool *renewed;
    const size_t *named; /* parts to renew */
    size_t named_count;
    const int *banned; /* by thing, the way (0 or 1) that may not be taken, -1 for none; or NULL */
    const struct wh_plan_ask *ask;
};

/* Builds the tasks for a job. Errors: WH_ERR_INPUT for a done step that it does not have. */
enum wh_status wh_tasks_make(struct wh_arena *arena, const struct wh_job *job, struct wh_so_far *so_far,
                             struct wh_tasks **ret, struct wh_errors *reterr);

/* solve.c: the tasks of a job and the quickest order of them found. The plan so far keeps its ways out, too, unless
 * others save five minutes. *so_far is brought up to what has to be undone. Errors: of wh_tasks_make and
 * wh_order_solve. */
enum wh_status wh_plan_solve(struct wh_arena *arena, struct wh_job *job, struct wh_so_far *so_far,
                             struct wh_tasks **ret_tasks, struct wh_order **ret, struct wh_errors *reterr);

/* Whether a step of a kind stands for this part: renewed or kept, fitted warm or cold, a key as asked. */
bool wh_step_stands(const struct wh_thing *thing, const struct wh_kind_step *step, bool renewed);

/* words.c: {title}, {seat}, {designation} of a template filled in for a thing. */
const char *wh_words_fill(struct wh_arena *arena, const struct wh_machine *machine, size_t thing, const char *template);

/* steps.c: the words, figures and cautions of each task in the found order. */
void wh_plan_steps(struct wh_arena *arena, struct wh_plan *plan, const struct wh_tasks *tasks,
                   const struct wh_order *order);
/* settle.c: moves what saves little back to where the usual order has it, while that costs less than WH_PLAN_KEEP. */
void wh_plan_settle(struct wh_arena *arena, const struct wh_tasks *tasks, struct wh_order *order);

/* waits.c: why a task has to wait until its start. By task: its end in minutes, NaN where it is not done; its words. */
const char *wh_plan_wait_because(struct wh_arena *arena, const struct wh_tasks *tasks, size_t task, double start,
                                 const double end[], const char *const what[]);
/* kit.c */
void wh_plan_kit(struct wh_arena *arena, struct wh_plan *plan);

#endif
