/* run_sources.h - what of a machine's description may make lines in its vibration: its bearings with the orders of
 * their lines, its belt and motor. */
#ifndef WH_JOB_RUN_SOURCES_H
#define WH_JOB_RUN_SOURCES_H

#include "sheet/sheet.h"
#include "testrun/sources.h"

/* Adds them; orders are of the machine's own speed. Nothing is added where no speed is known. */
void wh_run_sources(struct wh_arena *arena, const struct wh_sheet *sheet, struct wh_sources *sources);

#endif
