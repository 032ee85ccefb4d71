/* run.h - a run-up and a run-down as people read them: the warning first, the time as "not before ..., then look". */
#ifndef WH_VIEW_RUN_H
#define WH_VIEW_RUN_H

#include "base/scene.h"
#include "base/tree.h"
#include "testrun/verdict.h"

/* Adds `run down` and `run up`, as far as the record has them, and the record's doubts to `doubts`. predicted: speeds
 * at which the machine's figures say that it shakes. */
void wh_view_run_add(struct wh_arena *arena, struct wh_tree *tree, const struct wh_run *run, const double predicted[],
                     size_t count);

/* Adds `acceptance`: the sentence, and each check with its outcome and reason, the worst first. */
void wh_view_acceptance_add(struct wh_arena *arena, struct wh_tree *tree, const struct wh_acceptance *acceptance);

/* Adds `told`, what records told in SI: "is", "place", "value", "U", "from". */
void wh_view_told_add(struct wh_arena *arena, struct wh_tree *tree, const struct wh_told told[], size_t count);

/* Adds a drawing to the list `drawings`, to be kept with the result. */
void wh_view_drawing_add(struct wh_arena *arena, struct wh_tree *tree, const struct wh_scene *scene);

/* What of these stands in the tree, as text for a terminal. */
void wh_view_run_text(struct wh_text *text, const struct wh_tree *tree);

/* The run-down that an earlier result holds, for comparison; speed 0: it holds none. */
struct wh_run_down_was wh_view_run_down_was(const struct wh_tree *tree);

/* Speed against time: readings, the fit on to standstill, one flag there. NULL without a run-down. */
struct wh_scene *wh_view_run_down(struct wh_arena *arena, const struct wh_run *run);

/* Amplitude and phase of the once-a-turn of a channel against speed; resonances passed and predicted. */
struct wh_scene *wh_view_run_track(struct wh_arena *arena, const struct wh_run_track *track, const double predicted[],
                                   size_t count);

#endif
