/* task_file.h - the solver's own file: tasks, what they need, waits, set-ups, as JSON. docs/task-file.md says how it is
 * written. */
#ifndef WH_BENCH_TASK_FILE_H
#define WH_BENCH_TASK_FILE_H

#include "order/order.h"

/* Reads a problem. Errors: WH_ERR_INPUT with the place of each mistake. */
enum wh_status task_file_read(struct wh_arena *arena, const char *path, const char *text, size_t size,
                              struct wh_order_problem *ret, struct wh_errors *reterr);

#endif
