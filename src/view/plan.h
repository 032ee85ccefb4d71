/* plan.h - a plan as people read it: text, JSON and the job sheet. */
#ifndef WH_VIEW_PLAN_H
#define WH_VIEW_PLAN_H

#include "base/tree.h"
#include "plan/plan.h"

/* The plan as a map: summary, choices, kit, energies, steps. */
struct wh_tree *wh_view_plan(struct wh_arena *arena, const struct wh_plan *plan);

/* The same as text for a terminal. bold: marks headings with terminal codes. */
const char *wh_view_plan_text(struct wh_arena *arena, const struct wh_tree *plan, bool bold);

struct wh_sheet_print {
    const char *paper;   /* "A4" or "Letter" */
    const char *date;    /* YYYY-MM-DD */
    const char *program; /* "wharve 0.1.0" */
};

/* The job sheet as a document for paper/. */
struct wh_tree *wh_view_job_sheet(struct wh_arena *arena, const struct wh_plan *plan,
                                  const struct wh_sheet_print *print);

/* How far the order is proven, in words. */
const char *wh_view_proof(struct wh_arena *arena, const struct wh_plan *plan);

/* "11 h 20 min of work, 10 h 29 min of it hands at the machine"; of several fitters "8 h 15 min for 2 fitters, 10 h 29
 * min of steps between them". Seconds. */
const char *wh_view_work(struct wh_arena *arena, double total, double hands, int fitters);

/* "is not open in this job", "would take 36 min more", "would take at most 2 h more": what the other way costs. */
const char *wh_view_other_way(struct wh_arena *arena, const struct wh_other_way *other);

/* "2 h 40 min", "12 min". */
const char *wh_view_minutes(struct wh_arena *arena, double seconds);

#endif
