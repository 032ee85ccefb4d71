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

/* Builds the tasks for renewing some parts. banned: by thing, the way (0 or 1) that may not be taken, -1 for none. */
struct wh_tasks *wh_tasks_make(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_sheet *sheet,
                               const bool renewed[], const size_t named[], size_t named_count, const int banned[],
                               const struct wh_plan_ask *ask);

/* Whether a step of a kind stands for this part: renewed or kept, fitted warm or cold, a key as asked. */
bool wh_step_stands(const struct wh_thing *thing, const struct wh_kind_step *step, bool renewed);

/* words.c: {title}, {seat}, {designation} of a template filled in for a thing. */
const char *wh_words_fill(struct wh_arena *arena, const struct wh_machine *machine, size_t thing, const char *template);

/* steps.c: the words, figures and cautions of each task in the found order. */
void wh_plan_steps(struct wh_arena *arena, struct wh_plan *plan, const struct wh_tasks *tasks,
                   const struct wh_order *order);
/* waits.c: why a task has to wait until its start. By task: its end in minutes, NaN where it is not done; its words. */
const char *wh_plan_wait_because(struct wh_arena *arena, const struct wh_tasks *tasks, size_t task, double start,
                                 const double end[], const char *const what[]);
/* kit.c */
void wh_plan_kit(struct wh_arena *arena, struct wh_plan *plan);

#endif
