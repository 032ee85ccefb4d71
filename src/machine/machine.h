/* machine.h - a described machine: read from a file once, checked against the kinds, never changed. Can be read alone.
 *
 * Everything that can have figures is a thing: the machine itself, its parts, features of parts (seats, sumps, rings of
 * screws) and fixtures. Times are seconds, like all values in SI. */
#ifndef WH_MACHINE_MACHINE_H
#define WH_MACHINE_MACHINE_H

#include "base/text.h"
#include "kind/kind.h"
#include "study/record_figure.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define WH_NONE SIZE_MAX

/* A value of a thing: given in the file, filled in from a designation, or usual. */
struct wh_given_value {
    const char *name;
    struct wh_form form;
    const struct wh_value *at; /* one value, or the readings of a list */
    size_t count;
    enum wh_origin origin;
    const char *source;  /* "ISO 492, normal class"; NULL for what the file gives itself */
    const char *written; /* as in the file, or NULL */
    const char *follows; /* "spindle.mount-load": this figure's value is taken; then count is 0 */
    struct wh_place place;
};

struct wh_role {
    const char *name;
    size_t thing;
};

struct wh_word {
    const char *key, *text;
};

struct wh_indices {
    const size_t *at;
    size_t count;
};

/* All of several, each of which can be met in one of several ways: "wear-sleeve, spindle or spindle-fork". */
struct wh_conditions {
    const struct wh_indices *at;
    size_t count;
};

/* What of `off first` is worked out from the axial section: nothing, or what stands in the way along the axis. What
 * leaves across the axis is not compared with it either. */
enum wh_drawn { WH_DRAWN_NOT, WH_DRAWN_EITHER, WH_DRAWN_UP, WH_DRAWN_DOWN, WH_DRAWN_ACROSS };

static inline bool wh_is_drawn(enum wh_drawn drawn)
{
    return drawn != WH_DRAWN_NOT && drawn != WH_DRAWN_ACROSS;
}

/* One way out of the machine (and the same way back). */
struct wh_way {
    const char *title;
    struct wh_conditions off_first; /* parts and fixtures: a part is off, a fixture stands */
    struct wh_indices with, off_with, on_with; /* fixtures that must stand: for both, for taking off, for fitting */
    enum wh_drawn drawn;
    size_t way_up;                  /* WH_NONE: as the machine stands */
    bool bench;                     /* done on the bench, not at the frame */
    double off, on;                 /* seconds */
    int crew;
    const char *off_tool, *on_tool; /* or NULL */
    struct wh_place place;
};

enum wh_renew { WH_RENEW_ALWAYS, WH_RENEW_WORN, WH_RENEW_NEVER };
enum wh_section { WH_SECTION_MACHINE, WH_SECTION_PARTS, WH_SECTION_FEATURES, WH_SECTION_FIXTURES };

enum wh_event_is { WH_EVENT_OFF, WH_EVENT_ON, WH_EVENT_CHECK, WH_EVENT_FILL };
/* "off casing", "on casing", "check centre", "fill oil-pot": index of a thing, or of a check. */
struct wh_event {
    enum wh_event_is is;
    size_t index;
};
struct wh_events {
    const struct wh_event *at;
    size_t count;
};

struct wh_thing {
    const char *id, *title;
    const struct wh_kind *kind;
    enum wh_section section;
    struct wh_place place;
    const struct wh_given_value *values;
    size_t value_count;
    const struct wh_role *roles;
    size_t role_count;
    const struct wh_word *words; /* keys of form "text" and "words", as written */
    size_t word_count;

    struct wh_way ways[2];
    size_t way_count;            /* 0: it stays */
    double mass;                 /* kg; NaN: not stated */
    double wash;                 /* seconds, by itself; 0: not at all; NaN: it is washed with the rest */
    enum wh_renew renew;
    struct wh_indices look_when; /* it is looked at whenever one of these is renewed */
    struct wh_indices look_with; /* and these are taken off for the look */
    struct wh_indices disturbed_by; /* it comes off whenever one of these does: a gasket, an O-ring, loose shims */
    struct wh_indices carries;   /* leaves with it what is on it: named in its step */
    struct wh_words off_words, on_words;      /* hand-written lines of the step */
    struct wh_words off_cautions, on_cautions; /* hand-written cautions */
    struct wh_words needs;       /* consumables: "8 g grease, food grade" */
    const char *round;           /* which way round it goes: "lip down, to the grease" */
    double due_after;            /* running time after which it comes round, s; NaN: not stated */
    double due_at_age;           /* calendar time, s; NaN: not stated */
    struct wh_indices due_with;  /* it counts from the job in which all of these were renewed; none: itself */
    size_t by;                   /* the trade that has to be there for it; WH_NONE: none */
    bool stays;                  /* of a fixture: from the strip to the rebuild */
    struct wh_events out_before; /* of a fixture: gone before these */
    struct wh_indices stands_on; /* of a fixture: these are on while it stands */
    const struct wh_ring *rings;
    size_t ring_count;
};

/* When a check is made: in the run before anything is touched, on the way down, washed on the bench, on the way back,
 * on test, on a later visit. */
enum wh_phase { WH_PHASE_RUNNING, WH_PHASE_STRIP, WH_PHASE_WASHED, WH_PHASE_REBUILD, WH_PHASE_TEST, WH_PHASE_LATER };

struct wh_gauge {
    const char *id, *title;
    struct wh_value uncertainty; /* expanded, k = 2: best */
    struct wh_unit unit;
};

struct wh_check {
    const char *id, *title;
    size_t of;                  /* thing */
    const char *reads;          /* what is read, in words; or NULL */
    const char *expects;        /* in words, where there are no numbers; or NULL */
    bool has_limits;
    double least, most;         /* SI, infinite on an open side */
    struct wh_unit unit;
    const char *limits, *wear_limit, *expected; /* as written; the latter two or NULL */
    size_t gauge;               /* WH_NONE: by eye or hand */
    const char *sets;           /* "neck-seat.diameter": the reading becomes this value; or NULL */
    const char *judged_by;      /* the rule that makes of the readings what has limits; or NULL: each has */
    const char *outside;        /* what to do, or NULL */
    enum wh_record_figure from_record; /* what a record tells of it */
    size_t at_place;            /* thing at which that is recorded; WH_NONE: the greatest of all places */
    int places;                 /* readings of one round */
    double every;               /* s between its rounds of readings; 0: not said */
    double level_within;        /* SI: the last round is at most so much higher than the one before; NaN: not asked */
    double stop_at;             /* SI: beyond it the machine is stopped at once; NaN: not said */
    enum wh_phase phase;
    struct wh_events after, before, needed_when;
    double minutes;             /* seconds */
    size_t way_up;
    bool bench, hold, power;
    size_t by;                  /* the trade that has to be there for it; WH_NONE: none */
    struct wh_indices with;     /* fixtures */
    const char *tool;
    struct wh_words cautions;
    int crew, readings;
    struct wh_place place;
};

struct wh_energy {
    const char *id, *title, *off, *tried;
};

struct wh_hold {
    const char *id, *title, *text, *tried;
    bool released; /* stands at the end, before power, not before the first spanner */
    bool lasts;    /* it does not lapse at a bump, a test run, a change of shift, a wait */
    double minutes; /* seconds; 0: the usual 5 min */
    struct wh_words cautions;
};

struct wh_wait {
    const char *id, *because;
    struct wh_event after, before;
    double least, most; /* seconds; most may be infinite */
};

struct wh_way_up {
    const char *id, *title;
    double minutes; /* seconds, to turn into it or out of it */
    int crew;
    struct wh_conditions off; /* what must be off (or stand) to turn into or out of it; empty for the first */
    struct wh_words cautions;
};

/* Licensed work: who is called for it, for as long as one step of it follows another. */
struct wh_called {
    const char *id, *title;
    double call; /* seconds that each call costs */
};

struct wh_machine {
    const char *path, *title, *of; /* of: whose it is and what for */
    const char *text;              /* the whole file */
    struct wh_thing *things;       /* the machine itself is the first */
    size_t thing_count;
    struct wh_gauge *gauges;
    size_t gauge_count;
    struct wh_check *checks;
    size_t check_count;
    struct wh_energy *energies;
    size_t energy_count;
    struct wh_hold *holds;
    size_t hold_count;
    struct wh_wait *waits;
    size_t wait_count;
    struct wh_way_up *ways_up;     /* the first is how it stands */
    size_t way_up_count;
    double tool_change, bench_change; /* seconds */
    struct wh_called *trades;
    size_t trade_count;
};

enum { WH_MACHINE_BYTES = 256 * 1024 };

/* Reads and checks a machine file. All errors of sense are added at once, each with its place and line; *ret is set
 * only when there are none. Errors: WH_ERR_FILE, WH_ERR_INPUT, WH_ERR_NOMEM. */
enum wh_status wh_machine_read(struct wh_arena *arena, const char *path, struct wh_machine **ret,
                               struct wh_errors *reterr);

/* The same for a text in memory. */
enum wh_status wh_machine_read_text(struct wh_arena *arena, const char *path, const char *bytes, size_t size,
                                    struct wh_machine **ret, struct wh_errors *reterr);

/* Compares what is declared to be off first with the axial section. Adds an error for each part that stands in the way
 * of another and is not off before it, and for each that the file has the wrong way round. How many parts the section
 * could tell of is left in *ret_compared. */
enum wh_status wh_machine_check_drawing(struct wh_arena *arena, const struct wh_machine *machine, size_t *ret_compared,
                                        struct wh_errors *reterr);

/* The thing with an id, WH_NONE when there is none; of the check, gauge, way up likewise. */
size_t wh_machine_thing(const struct wh_machine *machine, const char *id);
size_t wh_machine_check(const struct wh_machine *machine, const char *id);

/* The thing that plays a role of another, WH_NONE when none does. Every thing has the role "machine". */
size_t wh_thing_role(const struct wh_machine *machine, size_t thing, const char *role);
/* A value or words of a thing by name, NULL when it has none. */
const struct wh_given_value *wh_thing_value(const struct wh_thing *thing, const char *name);
const char *wh_thing_words(const struct wh_thing *thing, const char *key);

/* The ids of all parts, for "did you mean" and for listings. */
const char **wh_machine_ids(struct wh_arena *arena, const struct wh_machine *machine, size_t *ret_count);

#endif
