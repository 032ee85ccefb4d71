/* judge.h - what may be taken for granted in a job: the sure minutes of its blocks, and in which dimensions of set-up
 * the rules of README.md hold. */
#ifndef WH_ORDER_JUDGE_H
#define WH_ORDER_JUDGE_H

#include "order/job.h"

void wh_order_judge(struct wh_arena *arena, struct wh_order_job *job);

#endif
