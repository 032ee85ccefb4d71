/* parts.h - a job taken apart at the tasks that all others come before or after ("wash", "dirty work ends"). The parts
 * are searched one by one: what is left open in one no longer multiplies what is open in the next. */
#ifndef WH_ORDER_PARTS_H
#define WH_ORDER_PARTS_H

#include "order/part.h"

struct wh_order_parts;

/* chosen_way as for the job. */
struct wh_order_parts *wh_order_parts_new(struct wh_arena *arena, const struct wh_order_job *job,
                                          const int chosen_way[], struct wh_order_book *book);

/* The cheapest order of the whole job, waits included, after so many efforts on each part; and its bound. */
struct wh_order_found wh_order_by_parts(struct wh_order_parts *parts, unsigned efforts);

#endif
