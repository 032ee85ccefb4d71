/* issue.h - the plan as issued: a tree that says all a fitter was told, so that a job outlives the program. */
#ifndef WH_JOB_ISSUE_H
#define WH_JOB_ISSUE_H

#include "base/tree.h"
#include "plan/plan.h"

/* Steps with words, names of figures, cautions; checks with limits and gauges; holds, energies, kit. */
struct wh_tree *wh_job_issue(struct wh_arena *arena, const struct wh_plan *plan);

#endif
