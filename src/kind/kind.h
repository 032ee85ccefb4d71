/* kind.h - what a machine can be made of. Can be read alone.
 *
 * One file a kind (bearing.c, belt.c, …). A kind says which keys a thing of its sort has in a machine file, which rules
 * give its figures, what a designation fills in, which steps taking it off, washing it and fitting it implies, and how
 * it looks in the axial section. A new kind is one file and one line in kinds.c; nothing else changes. */
#ifndef WH_KIND_KIND_H
#define WH_KIND_KIND_H

#include "base/error.h"
#include "base/scene.h"
#include "trade/form.h"

enum {
    WH_KIND_KEYS = 28,
    WH_KIND_RULES = 36,
    WH_KIND_STEPS = 12,
    WH_KIND_WINDOWS = 2,
    WH_STEP_FIGURES = 8,
    WH_STEP_CAUTIONS = 4
};

/* A key of the machine file. `form` is what may be written: a range as in a rule's slot ("3..500 mm", "bearing"), or
 *   "size"         a number with a unit and perhaps a tolerance zone: "45 mm k5"; a given interval: "45.002..45.013 mm"
 *   "thing"        the id of another thing: a role, so that rules can name its values: "seat.diameter"
 *   "text"         words for people
 *   "words a|b|c"  one of these words
 * In the file a key is written with spaces where its name has hyphens. */
struct wh_key {
    const char *name, *form;
    const char *usual; /* taken, and shown as usual, when the file says nothing; NULL: nothing is taken */
    const char *title;
    bool needed;
    size_t many; /* of a value: a list of up to this many */
};

/* A rule, or a study (study/study.h), that gives figures of this kind. */
struct wh_kind_rule {
    const char *rule;
    const char *as;   /* the figure's name, when another than the rule's first result; NULL: the rule's own names */
    const char *with; /* where an input has another name here: "seat.diameter=outside, bore=housing.bore"; or NULL */
    const char *title; /* what a fitter calls the first result here; NULL: as the rule does */
};

enum wh_when { WH_WHEN_STRIP, WH_WHEN_WASH, WH_WHEN_REBUILD };

/* On what condition a step of a kind stands. */
enum wh_only {
    WH_ALWAYS,
    WH_ONLY_RENEWED,
    WH_ONLY_KEPT,
    WH_ONLY_WARM,
    WH_ONLY_COLD,
    WH_ONLY_WITH_KEY,
    WH_ONLY_WITHOUT_KEY
};

/* A step that the kind implies. In its words, {title} is the thing's title, {seat} the title of what plays that role,
 * {designation} a key as written. Steps of one moment stand together, in their sequence, and are never split. */
struct wh_kind_step {
    enum wh_when when;
    enum wh_only only;
    const char *key; /* of WH_ONLY_WITH_KEY: "key" or "key=word" */
    const char *words;
    const char *figures[WH_STEP_FIGURES];   /* of this thing; "most pull-force": the step goes by its upper end */
    const char *cautions[WH_STEP_CAUTIONS]; /* by name, caution.h */
    const char *tool, *consumable;          /* or NULL */
    double minutes;                         /* besides the part's own; 0: none */
    double alone;                           /* it then passes by itself for so long, minutes (warming) */
    double within;                          /* and what follows must come within so long after, minutes; 0: no limit */
    const char *wait;                       /* why it passes: "warming"; or NULL */
};

/* A figure with the window it has to lie in, drawn as a dimension is. Names are figures of the same thing, "most" or
 * "least" before them for the careful end; a limit may be a value, "0 um", or NULL: that side is open. */
struct wh_kind_window {
    const char *figure, *least, *most;
};

/* What `fill` may do: read a key as written, and set values with where they come from. */
struct wh_filling {
    const char *(*written)(void *context, const char *key);
    void (*set)(void *context, const char *name, const char *range, struct wh_value value, const char *source);
    enum wh_status (*complain)(void *context, const char *key, const char *right, const char *says);
    void *context;
    struct wh_arena *arena;
};

/* A ring of revolution in the axial section: radii at its lower and upper end. */
struct wh_ring {
    double low, high;            /* heights z */
    double inner_low, outer_low; /* radii at z = low */
    double inner_high, outer_high;
};

/* How a kind is lined in the section: by turns with its neighbours, not cut at all (shafts, ISO 128), as rubber, solid.
 */
enum wh_lining { WH_LINING_BY_TURNS, WH_LINING_UNCUT, WH_LINING_RUBBER, WH_LINING_SOLID };

/* Who may balance it in place: nobody, its maker alone (a bowl part and what carries it), or whoever its file lets (fan
 * wheels and pulleys, their key `balancing`). */
enum wh_balancing { WH_BALANCING_NONE, WH_BALANCING_MAKERS, WH_BALANCING_BY_FILE };

struct wh_kind {
    const char *name;  /* the word after "is:" */
    const char *title; /* what it is, for the handbook */
    bool part;         /* can be taken off and fitted; false: a feature of a part (a seat, a sump, a ring of screws) */
    bool fastens;      /* it holds the part under its key `holds`: undone and tightened with it */
    bool laid;         /* it lies loose until the part that disturbs it closes it: a flat gasket */
    bool yields;       /* it springs or stretches past what is in its way: a retaining ring, an O-ring */
    enum wh_lining lining;
    enum wh_balancing balancing;
    bool wiped;         /* it is not washed with the rest: a switch, a belt, a motor */
    const char *off_verb, *on_verb; /* of its steps' names; NULL: "take off", "fit" */
    const char *by;     /* the trade that parts and joins its leads: "electrician"; or NULL */
    const char *detail; /* how a kit list names one: "{inside} x {outside} x {width}, {rubber}"; or NULL */
    struct wh_key keys[WH_KIND_KEYS];
    struct wh_kind_rule rules[WH_KIND_RULES];
    struct wh_kind_step steps[WH_KIND_STEPS];
    struct wh_kind_window windows[WH_KIND_WINDOWS];
    enum wh_status (*fill)(struct wh_filling *filling);
    /* Draws one ring on the right side of the axis (x = radius, y = height, mm); NULL: a plain hatched outline. */
    void (*outline)(struct wh_scene *scene, const struct wh_ring *ring, enum wh_pen pen, enum wh_fill fill);
};

extern const struct wh_kind *const wh_kinds[];
extern const size_t wh_kind_count;
const struct wh_kind *wh_kind_find(const char *name);
const struct wh_key *wh_kind_key(const struct wh_kind *kind, const char *name);
/* The rule itself; of a study its name, slots and words. NULL: there is none of that name. */
const struct wh_rule *wh_kind_rule(const struct wh_kind_rule *bound);
size_t wh_kind_keys(const struct wh_kind *kind);
size_t wh_kind_rules(const struct wh_kind *kind);
size_t wh_kind_steps(const struct wh_kind *kind);

/* A caution that steps name. signal is a signal word of ISO 3864-2, sign one of our drawn signs. */
struct wh_caution {
    const char *name, *signal, *sign, *text;
};
const struct wh_caution *wh_caution_find(const char *name);

/* The keys of a part that may be balanced in place. */
#define WH_BALANCING_KEYS                                                                                              \
    {"balancing", "words not allowed|masses|masses or drilling", "not allowed", "how its maker lets it be balanced",   \
     false, 0},                                                                                                        \
        {"balance-radius", "0.1..10000 mm", NULL, "radius of its balance masses", false, 0},                           \
    {                                                                                                                  \
        "balance-holes", "2..32 1", NULL, "holes for balance masses, evenly round", false, 0                           \
    }

/* Draws the plain hatched outline of a ring. */
void wh_outline_plain(struct wh_scene *scene, const struct wh_ring *ring, enum wh_pen pen, enum wh_fill fill);

#endif
