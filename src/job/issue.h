/* issue.h - the plan as issued: a tree that says all a fitter was told, so that a job outlives the program. */
#ifndef WH_JOB_ISSUE_H
#define WH_JOB_ISSUE_H

#include "base/tree.h"
#include "plan/plan.h"

/* The id of a step, the same in every plan of the machine: "off casing", "warm neck-bearing", "check centre". */
const char *wh_job_step_id(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_task *task);

/* Steps with words, names of figures, cautions; checks with limits and gauges; holds, energies, kit. */
struct wh_tree *wh_job_issue(struct wh_arena *arena, const struct wh_plan *plan);

#endif
