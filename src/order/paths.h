/* paths.h - the paths of a state while a task is added to it: private to the states. state.h says what they are. */
#ifndef WH_ORDER_PATHS_H
#define WH_ORDER_PATHS_H

#include "order/state.h"

/* Rows and columns of ends go by the number of their source. */
struct wh_order_paths {
    const struct wh_order_job *job;
    bool timed;
    size_t width; /* of a row */
    double *at;   /* row 0, then one a source */
    size_t *rows; /* sources with a row, rising */
    size_t row_count;
    size_t *ends; /* sources with a column, rising */
    size_t end_count;
    double *start; /* from each row to the start of the task being added */
    double *back;  /* from that start to each column */
};

struct wh_order_paths wh_order_paths_new(struct wh_arena *arena, const struct wh_order_job *job, bool timed);

/* The row of the start of the job, 0, or of the source rows[i - 1]. */
static inline double *wh_order_row(const struct wh_order_paths *p, size_t i)
{
    return &p->at[(i == 0 ? 0 : p->rows[i - 1] + 1) * p->width];
}

/* Adds a task that follows the last after so many minutes of change; the minutes of standing idle before it. False:
 * it must come too late after something. */
bool wh_order_paths_add(struct wh_order_paths *p, size_t task, double change, double *ret_waited);

/* Leaves out the rows and ends that nothing to come asks for; false: something must come too late. */
bool wh_order_paths_tidy(struct wh_order_paths *p, const uint64_t done[]);

#endif
