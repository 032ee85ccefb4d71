/* acceptance.h - has the machine of a job proven itself? The checks of its test run against the job's readings and the
 * records entered. Can be read alone. Pure. */
#ifndef WH_JOB_ACCEPTANCE_H
#define WH_JOB_ACCEPTANCE_H

#include "job/job.h"
#include "job/test_checks.h"

/* machine: as it was when the job was opened. Records and readings as left count; the last reading of a check wins. */
struct wh_acceptance wh_job_acceptance(struct wh_arena *arena, const struct wh_job *job,
                                       const struct wh_machine *machine);

#endif
