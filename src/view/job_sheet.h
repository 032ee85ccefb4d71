/* job_sheet.h - private to view/: the job sheet while it is written. */
#ifndef WH_VIEW_JOB_SHEET_H
#define WH_VIEW_JOB_SHEET_H

#include "view/plan.h"

struct wh_sheet_writer {
    struct wh_arena *arena;
    const struct wh_plan *plan;
    size_t *item; /* by thing: its number in the order of coming off */
    struct wh_tree *blocks;
    WH_LIST(const char *) told; /* notices already printed in full */
    const char *place;          /* where the last step was done: said again only when it changes */
};

struct wh_tree *wh_job_sheet_block(struct wh_sheet_writer *w, const char *is);

struct wh_tree *wh_job_sheet_list(struct wh_sheet_writer *w, struct wh_tree *map, const char *key);

void wh_job_sheet_say(struct wh_sheet_writer *w, struct wh_tree *map, const char *key, const char *text);

void wh_job_sheet_text(struct wh_sheet_writer *w, const char *is, const char *text);

void wh_job_sheet_start(struct wh_sheet_writer *w, struct wh_tree *sheets, const char *heading);

/* All steps of a stage, their holds and phases among them: job_sheet_step.c. */
void wh_job_sheet_steps(struct wh_sheet_writer *w, enum wh_stage stage);

#endif
