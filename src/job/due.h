/* due.h - when parts come round again: what the machine file says, what its figures say, what the jobs kept say.
 * Can be read alone. Pure: the day and the hours run are given.
 *
 * A figure may shorten what the machine file says, never lengthen it. What was never renewed in a job kept here is told
 * as not known: nothing is taken for new. */
#ifndef WH_JOB_DUE_H
#define WH_JOB_DUE_H

#include "job/job.h"
#include "sheet/sheet.h"

/* What one job tells. */
struct wh_due_job {
    int64_t job, at;         /* at: opened, milliseconds since 1970 */
    double hours;            /* run when it was opened, s; NaN: not said */
    struct wh_words renewed; /* ids of the parts that were */
    struct wh_words remarks; /* "neck-seat|seat diameter: outside by 0.004 mm": of the thing before the bar */
};

/* Reads what counts from a folded job; texts are copied. */
struct wh_due_job wh_due_job(struct wh_arena *arena, const struct wh_job *job);

/* Hours run as people write them: "11 240", "11,240 h", "11240.5"; in seconds; NaN: no number. */
double wh_due_hours(const char *text);

/* "1200 h", of seconds. */
const char *wh_due_hours_words(struct wh_arena *arena, double seconds);

enum wh_due_state { WH_DUE_NOT_KNOWN, WH_DUE_LATER, WH_DUE_SOON, WH_DUE_NOW };
const char *wh_due_words(enum wh_due_state state); /* "not known", "later", "soon", "now" */

struct wh_due_line {
    size_t thing;
    enum wh_due_state state;
    double after;        /* running time between renewals, s; NaN: none */
    double age;          /* calendar time, s; NaN: none */
    const char *by;      /* what says so: "machine file", "hours to fresh grease" */
    int64_t job, since;  /* renewed last in this job, at this time; job 0: in none kept here */
    double hours_left;   /* running time until then, s; NaN: not known */
    int64_t day;         /* the day by the calendar, milliseconds since 1970; 0: none */
    const char *because; /* in words, with the figures */
};

/* Left by the last job: a reading outside or not proven, something found. */
struct wh_due_remark {
    size_t thing; /* WH_NONE: of no thing of this machine file */
    int64_t job;
    const char *says;
};

struct wh_due {
    WH_LIST(struct wh_due_line) lines; /* in the order of the machine file */
    WH_LIST(struct wh_due_remark) remarks;
    double hours;     /* last known */
    int64_t hours_at; /* when they were told; 0: never */
};

/* jobs: oldest first. hours: run by now, s; NaN: as the last job told. SOON: less than a tenth of the interval is left.
 */
struct wh_due *wh_due_make(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_due_job jobs[],
                           size_t count, double hours, int64_t now);

#endif
