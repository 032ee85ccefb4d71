/* job.h - a job is what was entered, in order, and nothing else. Can be read alone.
 *
 * An entry is an event: who, what kind, and a body that is a tree. The state of a job is folded from its events and
 * never stored. Everything here is pure: no clock, no file, no solver; the desk brings events in and out of the store.
 * Old bodies are read for ever: a kind may get new fields, never lose or change one (`v` counts their form). */
#ifndef WH_JOB_JOB_H
#define WH_JOB_JOB_H

#include "base/quantity.h"
#include "base/tree.h"
#include "trade/conformity.h"

#include <stdbool.h>
#include <stdint.h>

enum { WH_JOB_FORM = 1 }; /* of bodies written now */

/* An event as it is stored. job 0 is the workshop's own chain. */
struct wh_event_in {
    int64_t job, seq, at; /* at: milliseconds since 1970, as the clock said */
    const char *who, *key, *kind, *body;
    size_t size;
};

enum wh_mark { WH_MARK_TO_DO, WH_MARK_IN_HAND, WH_MARK_DONE, WH_MARK_LEFT_OUT };

struct wh_job_step {
    const char *id;    /* stable over every re-planning: "off casing", "check centre" */
    const char *is;    /* "off", "on", "check", "hold", "isolate" … */
    const char *stage; /* "before you start", "taking down" … */
    const char *what;
    const char *part, *check, *hold; /* ids, or NULL */
    double minutes;
    bool power, bench;
    const struct wh_tree *issued; /* all of it as it was issued */
    enum wh_mark mark;
    bool gone;           /* no longer in the plan; kept because something was entered */
    int64_t touched;     /* seq of the last entry about it, 0 for none */
    const char *who;     /* who did it */
    const char *manner;  /* "in another order", "already off"; or NULL */
    const char *because; /* why it was left out; or NULL */
    double actual;       /* minutes as entered; NaN: not said */
};

/* A check of the plan as issued: what is read, and what it has to be. */
struct wh_job_check {
    const char *id, *title, *of, *when;                    /* when: "as found" or "as left" */
    const char *limits, *expects, *outside, *reads, *sets; /* as written; or NULL */
    const char *judged_by; /* the rule that makes of the readings what has limits; or NULL: each reading has */
    bool has_limits, hold;
    double least, most; /* SI, infinite on an open side */
    struct wh_unit unit;
    const char *gauge, *gauge_title; /* id; or NULL */
    double uncertainty;              /* of the gauge named, expanded, SI */
    int readings;
    const char *unmeasured; /* why it could not be measured; or NULL */
    int64_t touched;
    const struct wh_tree *issued;
};

struct wh_job_amendment {
    int64_t seq;
    const char *who, *value, *because;
};

struct wh_job_reading {
    int64_t seq, at;
    const char *who, *check, *first; /* first: the value as first entered; it stays */
    const char *value;               /* as it stands, after the amendments */
    const char *when, *gauge;
    enum wh_verdict verdict;
    const char *says;                 /* the verdict as it was shown, with its reason */
    const char *settles;              /* the gauge that would settle it; or NULL */
    const char *decided, *decided_by; /* what the charge hand decided; or NULL */
    const struct wh_tree *body;
    WH_LIST(struct wh_job_amendment) amendments;
};

/* A release of a hold by one person. It holds until it lapses. */
struct wh_job_release {
    int64_t seq, lapsed; /* lapsed: seq of the entry by which it lapsed; 0: it holds */
    const char *who, *tried, *lock;
};

struct wh_job_hold {
    const char *id, *title, *tried, *text; /* tried: what has to be tried */
    bool energy;                           /* one of the machine's energies: each fitter has a lock of their own */
    bool power;                            /* stands before power comes back */
    bool lasts;                            /* does not lapse */
    const char *refused, *refused_by;      /* why it was refused last, after the last release; or NULL */
    int64_t touched;
    WH_LIST(struct wh_job_release) releases;
};

/* Anything else that was entered, for the papers: found, renewed, condition, photo, note, used … */
struct wh_job_line {
    int64_t seq, at;
    const char *who, *kind;
    const struct wh_tree *body;
};

/* An entry that met another: kept, shown to both, settled by a person. */
struct wh_job_contest {
    int64_t seq, against;
    const char *who, *kind, *why;
    const struct wh_tree *entry;
    const char *settled, *settled_by; /* "first" or "second"; NULL: open */
};

enum wh_job_state {
    WH_JOB_PLANNED,
    WH_JOB_ON_BENCH,
    WH_JOB_WAITING,
    WH_JOB_ON_TEST,
    WH_JOB_HANDED_BACK,
    WH_JOB_PUT_AWAY
};
const char *wh_job_state_words(enum wh_job_state state);

struct wh_job {
    int64_t number, seq; /* seq of the last event folded; 0: nothing yet */
    int64_t opened_at, changed_at;
    const char *machine, *machine_title, *file; /* id by file name, title, hash of the machine file as it was */
    const char *title, *brought, *hours;        /* brought: what brought it in */
    struct wh_words renew;                      /* ids asked for */
    const struct wh_tree *plan;                 /* as issued last */
    int64_t planned;                            /* seq of the event that issued it */
    int64_t replan;                             /* seq of the last entry that asks for a new plan; 0: none waits */
    const char *replan_because;
    WH_LIST(struct wh_job_step) steps;
    WH_LIST(struct wh_job_check) checks;
    WH_LIST(struct wh_job_hold) holds;
    WH_LIST(struct wh_job_reading) readings;
    WH_LIST(struct wh_job_line) lines;
    WH_LIST(struct wh_job_contest) contests;
    WH_LIST(const char *) files; /* hashes of kept files that entries name */
    const char *waiting;         /* for what; or NULL */
    bool tested, handed;
    const char *signed_by[3]; /* fitter, charge hand, customer; or NULL */
};

enum { WH_SIGN_FITTER, WH_SIGN_CHARGE_HAND, WH_SIGN_CUSTOMER, WH_SIGNS };

/* Adds one event to the state. Events come in order. Errors: WH_ERR_INPUT for a body that cannot be read. */
enum wh_status wh_job_fold(struct wh_arena *arena, struct wh_job *job, const struct wh_event_in *event,
                           struct wh_errors *reterr);

enum wh_job_state wh_job_state(const struct wh_job *job);

/* By id; NULL when there is none. A reading by its seq. */
struct wh_job_step *wh_job_step(const struct wh_job *job, const char *id);
struct wh_job_check *wh_job_check(const struct wh_job *job, const char *id);
struct wh_job_hold *wh_job_hold(const struct wh_job *job, const char *id);
struct wh_job_reading *wh_job_reading(const struct wh_job *job, int64_t seq);
/* The last reading of a check, NULL for none. */
struct wh_job_reading *wh_job_read(const struct wh_job *job, const char *check);

/* The step that comes next: in hand, else the first to do; NULL: all done. */
const struct wh_job_step *wh_job_next(const struct wh_job *job);

/* What keeps `who` from a step now, in words, one a line: holds not released, readings that come first. Count 0:
 * nothing.
 */
struct wh_words wh_job_bars(struct wh_arena *arena, const struct wh_job *job, const struct wh_job_step *step,
                            const char *who);

/* Is the hold released, by `who` where it is an energy (NULL: by anybody)? */
bool wh_job_released(const struct wh_job_hold *hold, const char *who);

/* Remarks that are open: readings outside or not proven and undecided, contests, refused holds, steps left out. */
struct wh_words wh_job_open(struct wh_arena *arena, const struct wh_job *job);

#endif
