/* why.h - why the steps of a plan stand where they stand, and which minutes matter, as people read it. */
#ifndef WH_VIEW_WHY_H
#define WH_VIEW_WHY_H

#include "base/tree.h"
#include "plan/plan.h"

/* The steps of a part, or the one step of an id or a number: what each waits for, what waits for it, what another place
 * would cost. Errors: WH_ERR_INPUT when the plan has no such part or step. */
enum wh_status wh_view_why(struct wh_arena *arena, const struct wh_plan *plan, const char *asked, struct wh_tree **ret,
                           struct wh_errors *reterr);

/* Which minutes matter: steps that may take longer before the whole does; what would have to change for another way
 * out to be quicker. */
struct wh_tree *wh_view_matters(struct wh_arena *arena, const struct wh_plan *plan);

/* Either as text for a terminal. */
const char *wh_view_why_text(struct wh_arena *arena, const struct wh_tree *why);

#endif
