/* testrun.h - a test run's records as people read them: verdict first, then the figures, what changed, what is
 * doubtful. */
#ifndef WH_VIEW_TESTRUN_H
#define WH_VIEW_TESTRUN_H

#include "base/tree.h"
#include "testrun/compare.h"
#include "testrun/figures.h"
#include "testrun/zone.h"

/* A new test run: a map with empty lists of `records`, `figures`, `lines`, `findings`, `doubts`. */
struct wh_tree *wh_view_testrun(struct wh_arena *arena, const struct wh_zone_limits *limits);

/* Adds what was measured of one record, each velocity with its place among the limits. */
void wh_view_testrun_add(struct wh_arena *arena, struct wh_tree *run, const struct wh_measured *measured,
                         const struct wh_zone_limits *limits);

/* Adds the comparison with the last record. */
void wh_view_testrun_compared(struct wh_arena *arena, struct wh_tree *run, const struct wh_compared compared[],
                              size_t count);

/* Adds the sentence on the levels, `says`: the worst velocity against the limits. */
void wh_view_testrun_close(struct wh_arena *arena, struct wh_tree *run, const struct wh_zone_limits *limits);

/* As text for a terminal. */
const char *wh_view_testrun_text(struct wh_arena *arena, const struct wh_tree *run);

#endif
