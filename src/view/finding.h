/* finding.h - the reading of a record as people read it: what was found first, what it rests on, then the lines. */
#ifndef WH_VIEW_FINDING_H
#define WH_VIEW_FINDING_H

#include "base/tree.h"
#include "testrun/finding.h"

/* Adds the reading of one record to a test run's lists `findings` and `lines`, and its sentence and the shaft's to the
 * list `read`. */
void wh_view_findings_add(struct wh_arena *arena, struct wh_tree *run, const char *record,
                          const struct wh_reading *reading);

/* What was found in each record, as text: a sentence each, its evidence below. */
void wh_view_findings_text(struct wh_text *text, const struct wh_tree *run);

/* The named lines, strongest first, as text. */
void wh_view_lines_text(struct wh_text *text, const struct wh_tree *run);

#endif
