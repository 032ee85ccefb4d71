/* job.h - a job as it stands, for pages, papers, the terminal and JSON: steps with their marks, holds, readings with
 * verdicts and amendments, what was found and renewed, what is open. Can be read alone. */
#ifndef WH_VIEW_JOB_H
#define WH_VIEW_JOB_H

#include "base/scene.h"
#include "base/tree.h"
#include "job/job.h"
#include "job/workshop.h"

/* The word of a mark: "to do", "in hand", "done", "left out". */
const char *wh_view_mark(enum wh_mark mark);

/* A clock as people read it, UTC: "2025-11-25 14:05". */
const char *wh_view_clock(struct wh_arena *arena, int64_t at);

/* The whole job: a map. */
struct wh_tree *wh_view_job(struct wh_arena *arena, const struct wh_job *job);

/* One reading: check, value, limits, gauge, verdict, amendments, decision: a map. */
struct wh_tree *wh_view_job_reading(struct wh_arena *arena, const struct wh_job *job,
                                    const struct wh_job_reading *reading);

/* A reading against its limits as a drawing, or round the spindle; NULL where there are no numbers. `reading` NULL: the
 * limits alone. */
struct wh_scene *wh_view_reading_drawn(struct wh_arena *arena, const struct wh_job_check *check,
                                       const struct wh_job_reading *reading);

/* Readings all round the spindle, each a map of "text" and "scene": the centre plots of a report. */
struct wh_tree *wh_view_centres(struct wh_arena *arena, const struct wh_job *job);

/* For a terminal: where it stands and what is open; with `all` every step too. */
const char *wh_view_job_text(struct wh_arena *arena, const struct wh_tree *job, bool all);

/* As a service report: what brought it in, found and done, parts renewed, readings, holds, open remarks, signatures. */
const char *wh_view_report_text(struct wh_arena *arena, const struct wh_tree *job);

/* The gauges of the workshop; due on the day of `at` or before is told. */
struct wh_tree *wh_view_gauges(struct wh_arena *arena, const struct wh_workshop *workshop, int64_t at);

#endif
