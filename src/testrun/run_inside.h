/* run_inside.h - the pieces of run.h's reading among themselves. */
#ifndef WH_TESTRUN_RUN_INSIDE_H
#define WH_TESTRUN_RUN_INSIDE_H

#include "testrun/run.h"

/* Fills run->down from the trace; warns. */
void wh_run_down_read(struct wh_arena *arena, struct wh_run *run, const struct wh_run_ask *ask);

/* Fills run->up from the trace and the kept current (NULL: none); warns. */
void wh_run_up_read(struct wh_arena *arena, struct wh_run *run, const struct wh_run_ask *ask,
                    const struct wh_thin *current);

/* "4,858 rpm" */
const char *wh_rpm_words(struct wh_arena *arena, double speed);

#endif
