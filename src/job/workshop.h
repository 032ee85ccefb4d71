/* workshop.h - the workshop's own chain, job 0: its gauges, its people, and which jobs were opened and signed. */
#ifndef WH_JOB_WORKSHOP_H
#define WH_JOB_WORKSHOP_H

#include "job/job.h"

struct wh_workshop_gauge {
    const char *name;        /* as it is marked: "comparator-3" */
    const char *is;          /* the gauge of machine files that it can stand for: "comparator"; or its own name */
    const char *title;       /* "comparator set on gauge blocks, no. 3" */
    const char *uncertainty; /* as written, expanded (k = 2): "0.002 mm" */
    double U;                /* SI */
    struct wh_unit unit;
    const char *due; /* YYYY-MM-DD: the last day of its calibration; NULL: none given */
    int64_t seq;
};

struct wh_workshop_person {
    const char *name;
    const char *role; /* "reader", "fitter", "charge hand"; "gone": signs in no more */
    const char *hash; /* of the PIN or pass phrase */
};

struct wh_workshop_job {
    int64_t job, opened, signs; /* seq of the entries in this chain; signs: how many times it was signed */
    int64_t reached;            /* entries of that job when it was last signed */
    const char *hash;           /* of the last of these */
};

struct wh_workshop {
    int64_t seq;
    WH_LIST(struct wh_workshop_gauge) gauges;
    WH_LIST(struct wh_workshop_person) people;
    WH_LIST(struct wh_workshop_job) jobs;
};

enum wh_status wh_workshop_fold(struct wh_arena *arena, struct wh_workshop *workshop, const struct wh_event_in *event,
                                struct wh_errors *reterr);

/* The gauge of that name, else the first that can stand for it; NULL: not in the register. */
const struct wh_workshop_gauge *wh_workshop_gauge(const struct wh_workshop *workshop, const char *name);

/* The person of that name who may sign in, NULL for none; how many may. */
const struct wh_workshop_person *wh_workshop_person(const struct wh_workshop *workshop, const char *name);
size_t wh_workshop_people(const struct wh_workshop *workshop);

/* Is its calibration over on the day of `at`? */
bool wh_gauge_over(const struct wh_workshop_gauge *gauge, int64_t at);

/* The day of a clock, YYYY-MM-DD in UTC. */
const char *wh_day(struct wh_arena *arena, int64_t at);

#endif
