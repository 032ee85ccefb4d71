/* run_expect.h - what a machine's figures expect of its run-up and run-down. */
#ifndef WH_JOB_RUN_EXPECT_H
#define WH_JOB_RUN_EXPECT_H

#include "sheet/sheet.h"
#include "testrun/run.h"

/* Speed, stamped speed, inertia, drags with the drive on and off, and the time to speed, from the machine and the
 * spindle or shaft that has them; the current of the start from the motor. What is not known stays 0. The time to speed
 * may be a fifth off, the current a tenth (common practice). */
struct wh_run_ask wh_run_expected(const struct wh_sheet *sheet);

enum { WH_RUN_PREDICTED_MOST = 4 };

/* The speeds, rad/s, at which its figures say that it shakes, rising; how many. */
size_t wh_run_predicted(const struct wh_sheet *sheet, double ret[WH_RUN_PREDICTED_MOST]);

#endif
