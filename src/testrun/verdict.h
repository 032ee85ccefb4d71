/* verdict.h - has the machine proven itself? The checks of its test run against figures of records and readings: a
 * verdict with its reasons. Pure: everything it needs is passed in. Can be read alone.
 *
 * It says what the checks say and no more: never that a machine is safe, and nothing may be opened on it. */
#ifndef WH_TESTRUN_VERDICT_H
#define WH_TESTRUN_VERDICT_H

#include "base/quantity.h"
#include "study/record_figure.h"
#include "testrun/run.h"

/* What a record told, in SI. */
struct wh_told {
    enum wh_record_figure is;
    const char *place; /* of a vibration; NULL otherwise */
    double value, U;   /* U: expanded uncertainty, k = 2; 0: not known */
    const char *from;  /* the record, for the reason */
};

/* A figure in words, for what is asked without numbers: "leaks: none". */
enum wh_test_answer { WH_NOT_ANSWERED, WH_AS_EXPECTED, WH_NOT_SO };

struct wh_test_check {
    const char *id, *title, *limits, *expects, *outside; /* as written; NULL: none */
    bool has_limits, hold;                               /* hold: a person releases it by name */
    double least, most, stop_at;                         /* SI, infinite on an open side; stop_at NaN: none */
    struct wh_unit unit;
    double U;                /* of its gauge, expanded; 0: none */
    size_t readings, places; /* wanted; of one round */
    double level_within;     /* SI; NaN: not asked */
    enum wh_record_figure from_record;
    const char *place; /* NULL: the greatest of all */

    const double *values; /* readings so far, SI, round after round */
    size_t count;
    enum wh_test_answer answer;
    const char *released; /* who released it; NULL: nobody yet */
};

/* From the best to the worst. */
enum wh_outcome { WH_TEST_WITHIN, WH_TEST_NOT_PROVEN, WH_TEST_OPEN, WH_TEST_OUTSIDE, WH_TEST_STOP };

struct wh_test_judged {
    const struct wh_test_check *check;
    enum wh_outcome outcome;
    double value;     /* the one that decided; NaN: none */
    const char *says; /* "vibration: 3.4 mm/s, at most 3.0 mm/s: outside by 0.4 mm/s (neck.wav)" */
    const char *then; /* what to do, or NULL */
};

struct wh_acceptance {
    enum wh_outcome outcome; /* the worst */
    const char *says;        /* one sentence */
    struct wh_test_judged *judged;
    size_t count;
};

/* Judges every check by its readings, by what records told of it, or by both (the worse counts). Within: all that it
 * asks for is there and proven; not proven: a bar lies across a limit; open: something is still to be read, answered or
 * released. warnings: of the runs, each makes at best "not proven"; may be NULL. */
struct wh_acceptance wh_accept_run(struct wh_arena *arena, const struct wh_test_check checks[], size_t count,
                                   const struct wh_told told[], size_t told_count, const struct wh_doubts *warnings);

/* What a run-up and a run-down tell, at most 4; how many. A run-down with the drive off tells no standstill time of the
 * machine as it runs. */
size_t wh_run_told(const struct wh_run *run, bool drive_off, struct wh_told ret[4]);

/* "within", "not proven", "open", "outside", "stop". */
const char *wh_outcome_words(enum wh_outcome outcome);

#endif
