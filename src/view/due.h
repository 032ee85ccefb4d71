/* due.h - what comes round again, as people read it. Can be read alone. */
#ifndef WH_VIEW_DUE_H
#define WH_VIEW_DUE_H

#include "base/tree.h"
#include "job/due.h"

/* A map: "hours" (last known, in words), "lines" (id, title, state, every, when, by, because; what is due now first),
 * "remarks" (left by the last job: says, job, id, title). Only lines in `state` or nearer to now. */
struct wh_tree *wh_view_due(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_due *due,
                            enum wh_due_state state);

/* Why a part is proposed to be renewed, or NULL: it is due now or soon, or the last job left something on it. */
const char *wh_view_proposal(struct wh_arena *arena, const struct wh_due *due, size_t thing);

/* As lines for a terminal. */
const char *wh_view_due_text(struct wh_arena *arena, const struct wh_tree *due);

#endif
