/* run_ask.h - what a machine's description says for its test run: speed, limits of vibration, the table to go by. */
#ifndef WH_JOB_RUN_ASK_H
#define WH_JOB_RUN_ASK_H

#include "sheet/sheet.h"
#include "testrun/zone.h"

/* The machine's speed, rad/s; 0 when nothing says it. */
double wh_run_speed(const struct wh_sheet *sheet);

/* Its limits: `vibration limits` of the machine, else those of its test-run check of a velocity; its table; the power
 * of its largest motor; whether it stands on mounts. */
struct wh_zone_ask wh_run_zone_ask(const struct wh_sheet *sheet);

#endif
