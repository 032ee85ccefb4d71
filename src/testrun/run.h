/* run.h - what a record says of a run-up and a run-down, and how that compares with the machine and with last time.
 * Can be read alone.
 *
 * The speed comes from a speed channel, else from a tacho, else from the vibration itself. Every time to standstill is
 * said as "not before ..., then look": it never frees anything, and nothing may be opened on it. */
#ifndef WH_TESTRUN_RUN_H
#define WH_TESTRUN_RUN_H

#include "study/order_track.h"
#include "study/rundown.h"
#include "testrun/record.h"

/* A run-down as it was, for comparison: kept in the result of an earlier record. speed 0: there is none. */
struct wh_run_down_was {
    struct wh_slowing slowing;
    double speed, time, u; /* from this speed it took so long, s, and the standard uncertainty */
};

/* What is known of the machine; 0 is not known. */
struct wh_run_ask {
    double speed;                       /* rad/s, as stated: needed where the record has neither speed nor tacho */
    double stamped;                     /* rad/s, stamped greatest speed */
    double full_speed;                  /* rad/s at which it should run by its pulleys and slip; 0: not known */
    double pulses;                      /* of the tacho a turn; 0: one */
    double inertia;                     /* kg m2 of what turns, at this shaft */
    double steady, free_steady, air;    /* N m; N m with the drive off; N m s2 */
    bool drive_off;                     /* this run-down was made with the belt off */
    double run_up_least, run_up_most;   /* s, expected */
    double current_least, current_most; /* A, expected while it runs up */
    struct wh_run_down_was last;
};

enum wh_speed_from { WH_FROM_CHANNEL, WH_FROM_TACHO, WH_FROM_VIBRATION };

struct wh_run_down {
    bool there;                   /* false: nothing below is known */
    struct wh_speed_trace points; /* those fitted */
    struct wh_run_down_fit fit;
    double from, to;         /* rad/s: highest and lowest speed read */
    double seconds;          /* between them */
    double stands, stands_u; /* s from full speed to standstill and standard uncertainty; infinite: not told */
    double not_before;       /* s: stands + 2 u, rounded up; infinite: not told */
    double free_stands, free_not_before; /* the same with the drive off; 0: not known */
    double steady, steady_u, air, air_u; /* N m, N m s2; 0: the inertia is not known */
    double expected;                     /* s by the machine's own drags; 0: not known */
};

struct wh_run_up {
    bool there;
    struct wh_speed_trace points;
    double seconds;          /* from rest to speed */
    double torque, torque_u; /* N m at this shaft that speeds it up, from a quarter to three quarters; 0: not known */
    double current;          /* A, r.m.s. in the same stretch; NaN: no channel */
    double even;             /* greatest change of the current in it, as a share; NaN */
};

/* The once-a-turn of a channel, and the resonances it passed. */
struct wh_run_track {
    const struct wh_record_channel *channel;
    struct wh_order_track track; /* phase NULL without a tacho */
    struct wh_resonance resonance[WH_RESONANCES_MOST];
    size_t resonances;
};

struct wh_run {
    const struct wh_run_record *record;
    enum wh_speed_from from;
    struct wh_speed_trace trace;
    double top; /* rad/s */
    bool over_stamped;
    bool drive_off; /* made with the belt off, as was said */
    struct wh_run_down down;
    struct wh_run_up up;
    struct wh_run_track *track;
    size_t tracks;
    struct wh_doubts doubts;   /* what is odd about the reading */
    struct wh_doubts warnings; /* what a fitter has to look at: speed, rubbing, a slipping belt */
};

/* Reads a whole record, in pieces. Errors: those of wh_record_read; WH_ERR_INPUT: neither speed channel, tacho nor
 * stated speed; a stated speed above the stamped one; WH_ERR_NO_ANSWER: no run-up and no run-down in it. */
enum wh_status wh_run_read(struct wh_arena *arena, struct wh_run_record *record, const struct wh_run_ask *ask,
                           struct wh_run **ret, struct wh_errors *reterr);

/* Refuses a stated speed above the stamped one, both rad/s; stamped 0: not known. Errors: WH_ERR_INPUT. */
enum wh_status wh_run_refuse(struct wh_arena *arena, const char *path, double speed, double stamped,
                             struct wh_errors *reterr);

/* A time as it is said, rounded up so that it is never too early: "15.4 min", "95 s". */
const char *wh_run_time(struct wh_arena *arena, double seconds);

/* "not before 15.4 min after the drive is off, then look: ..." */
const char *wh_not_before(struct wh_arena *arena, double seconds);

#endif
