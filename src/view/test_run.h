/* test_run.h - the test run of a job as people read it: the verdict first, then each record's sentence, what it rests
 * on, its drawings; figures last. Can be read alone. */
#ifndef WH_VIEW_TEST_RUN_H
#define WH_VIEW_TEST_RUN_H

#include "job/job.h"
#include "machine/machine.h"

/* What a record says, one sentence each: what was found or that nothing was, the levels, the run. NULL: none. */
struct wh_tree *wh_view_run_sentences(struct wh_arena *arena, const struct wh_tree *run);

/* What a fitter has to look at: rubbing, a slipping belt, a speed too high. NULL: none. */
struct wh_tree *wh_view_run_warnings(struct wh_arena *arena, const struct wh_tree *run);

/* A map: `acceptance` (outcome, says, checks, each with outcome, says, then), `records`, the newest first, each with
 * entry, name, what, when, who, at, sentences, findings, warnings, changed, drawings (scenes), figures, named, doubts.
 */
struct wh_tree *wh_view_test_run(struct wh_arena *arena, const struct wh_job *job, const struct wh_machine *machine);

#endif
