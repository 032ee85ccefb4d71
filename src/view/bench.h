/* bench.h - a job as pages show it at the bench: a step in its five bands, all steps, holds, readings. */
#ifndef WH_VIEW_BENCH_H
#define WH_VIEW_BENCH_H

#include "base/tree.h"
#include "job/entry.h"
#include "job/job.h"
#include "sheet/sheet.h"
#include "view/job.h"

/* What stands over every page of a job: number, title, machine, state in words, "step 14 of 52, 1 h 40 min of work
 * left", last (the seq of its last entry), open remarks. */
struct wh_tree *wh_view_bench_head(struct wh_arena *arena, const struct wh_job *job);

/* A step in its five bands, for `who`: mind (cautions, bars), what (deed, lines, section), with (tool, needs), how much
 * (figures as they stand now, reading), then (the word on the button). `sheet` is of the job's machine. */
struct wh_tree *wh_view_bench_step(struct wh_arena *arena, const struct wh_job *job, const struct wh_job_step *step,
                                   const struct wh_sheet *sheet, const char *who);

/* All steps under their stages, each with its mark and the word beside it. */
struct wh_tree *wh_view_bench_steps(struct wh_arena *arena, const struct wh_job *job);

/* All holds: not yet, released by whom, refused because; what is to be tried. */
struct wh_tree *wh_view_bench_holds(struct wh_arena *arena, const struct wh_job *job, const char *who);

/* All readings: limits, value, gauge, verdict, amendments, decisions; and what is still to be read. */
struct wh_tree *wh_view_bench_readings(struct wh_arena *arena, const struct wh_job *job);

/* Whatever else was entered, newest first. */
struct wh_tree *wh_view_bench_lines(struct wh_arena *arena, const struct wh_job *job);

/* Entries that met another and wait for a person to settle them. */
struct wh_tree *wh_view_bench_contests(struct wh_arena *arena, const struct wh_job *job);

/* The fields of a kind of entry, as places to type. */
struct wh_tree *wh_view_entry_form(struct wh_arena *arena, const struct wh_entry_kind *kind);

#endif
