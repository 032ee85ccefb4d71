/* verdict.h - a reading against its limits with the gauge it was taken with: the words that are shown and kept. */
#ifndef WH_JOB_VERDICT_H
#define WH_JOB_VERDICT_H

#include "job/workshop.h"

/* The gauge of a reading, from the workshop's register or, failing that, as the machine file knows it. */
struct wh_gauge_used {
    const char *name, *title; /* NULL: by eye or hand */
    double U;                 /* expanded, SI; 0 without a gauge, NaN: not known */
    const char *due;          /* or NULL */
    bool over, registered;    /* over: its calibration is */
};

struct wh_judged {
    enum wh_verdict verdict;
    const char *says;    /* "outside by 0.004 mm" */
    const char *settles; /* what would settle it; NULL: nothing is open */
};

struct wh_gauge_used wh_gauge_for(const struct wh_workshop *workshop, const struct wh_job_check *check,
                                  const char *named, int64_t at);

/* The verdict on n values in SI: the worst of them. A gauge out of calibration proves nothing. */
struct wh_judged wh_judge(struct wh_arena *arena, const struct wh_job_check *check, const double values[], size_t n,
                          const struct wh_gauge_used *gauge, const struct wh_workshop *workshop, int64_t at);

#endif
