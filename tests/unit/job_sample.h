/* job_sample.h - a small job in memory: the plan as issued of a pump with one bearing, and entries into it. */
#ifndef WH_TESTS_UNIT_JOB_SAMPLE_H
#define WH_TESTS_UNIT_JOB_SAMPLE_H

#include "job/entry.h"

struct sample {
    struct wh_arena *arena;
    struct wh_job job;
    struct wh_workshop workshop;
    int64_t at, seen; /* the clock; -1: the sender has seen everything */
    bool live;
    const char *says; /* of the last refusal */
};

struct sample sample_open(struct wh_arena *arena);
void sample_gauge(struct sample *sample, const char *body);

/* Enters "name=value|name=value" and folds what is accepted. */
enum wh_status sample_enter(struct sample *sample, const char *who, const char *kind, const char *fields,
                            struct wh_accepted *ret);
/* Accepted, or the test fails; refused with these words, or the test fails. */
void sample_take(struct sample *sample, const char *who, const char *kind, const char *fields);
void sample_refuse(struct sample *sample, const char *who, const char *kind, const char *fields, const char *says);

/* Releases all that stands before the first spanner. */
void sample_isolate(struct sample *sample, const char *who);

#endif
