/* parts.h - a job taken apart at the tasks that all others come before or after ("wash", "dirty work ends"). The parts
 * are searched one by one: what is left open in one no longer multiplies what is open in the next. */
#ifndef WH_ORDER_PARTS_H
#define WH_ORDER_PARTS_H

#include "order/search.h"

/* The cheapest order of a whole job that costs less than `cutoff`, waits included. Same promises as wh_order_cheapest.
 * *nodes counts up to `most`; chosen_way as for the job. */
struct wh_order_found wh_order_by_parts(struct wh_arena *arena, const struct wh_order_job *job, const int chosen_way[],
                                        double cutoff, uint64_t *nodes, uint64_t most);

#endif
