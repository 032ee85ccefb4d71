/* schedule_core.h - the bounds of all starts, what follows from them, and why: the ground of the proof search.
 *
 * Each start has two *sides*: side 2i stands for "start i is at least", side 2i + 1 for "minus start i is at least", so
 * that both only ever grow and every rule is written once. An *atom* says that a side has come to a value; its opposite
 * is an atom of the other side. Every growth is noted on a trail with its reason, so that it can be taken back and
 * explained. The end of the whole schedule is one more activity of no length behind all others. */
#ifndef WH_ORDER_SCHEDULE_CORE_H
#define WH_ORDER_SCHEDULE_CORE_H

#include "order/schedule.h"

struct wh_atom {
    int side, least; /* at[side] >= least */
};

static inline struct wh_atom wh_atom_opposite(struct wh_atom atom)
{
    return (struct wh_atom){atom.side ^ 1, 1 - atom.least};
}

enum wh_reason { WH_BY_CHOICE, WH_BY_LAG, WH_BY_CLAUSE, WH_BY_ATOMS };

/* One growth of a side. */
struct wh_growth {
    int side, was, now;
    int before; /* the growth of the same side before this one, or -1 */
    int level;  /* choices made up to here */
    enum wh_reason reason;
    int of; /* the arc, the clause, or the place in `reasons` */
};

/* at[to] >= at[from] + wait */
struct wh_arc {
    int from, to, wait;
};

/* A learnt clause: at least one of its atoms holds. The first two are watched. */
struct wh_clause {
    int first, count; /* in `atoms` */
    int grade;        /* levels met in it when it was learnt: fewer are better */
    float worth;      /* how often it was of use lately */
};

struct wh_core {
    struct wh_arena *arena;
    const struct wh_schedule_problem *problem;
    int count; /* of activities, with the end */
    int sides;
    int *duration;
    int *at, *root, *base; /* of each side: now, with no choice made, and as it was at first */
    int *newest;           /* of each side: its newest growth, or -1 */
    int level;
    WH_LIST(struct wh_growth) trail;
    WH_LIST(int) levels;             /* of each level: length of the trail when it began */
    WH_LIST(struct wh_atom) reasons; /* each: a count in `side`, then so many atoms */
    WH_LIST(size_t) reason_levels;
    size_t looked_at; /* growths whose consequences are drawn */

    struct wh_arc *arcs; /* sorted by from */
    int *arcs_from;      /* of side s: arcs[arcs_from[s]] up to arcs[arcs_from[s + 1]] */

    WH_LIST(struct wh_clause) clauses;
    WH_LIST(struct wh_atom) atoms;
    WH_LIST(int) next; /* of watch 2c + w of clause c: the next in its chain, or -1 */
    int shift;         /* 2^shift values share a chain */
    int *chain_of;     /* of each side: its first chain */
    int *chains;       /* first watch of each chain, or -1 */

    int *aparts_from, *aparts; /* of each activity: the pairs it is one of; not of the end */

    struct wh_load *loads; /* of each resource, see schedule_load.c */
    size_t load_count;
    int *uses_from, *uses; /* of each activity: the loads it bears on */

    WH_LIST(struct wh_atom) conflict; /* atoms that hold together and cannot */
};

/* Starts as wide as the lags allow inside 0..horizon. NULL: the lags alone cannot be kept. */
struct wh_core *wh_core_new(struct wh_arena *arena, const struct wh_schedule_problem *problem, int horizon);

static inline bool wh_core_holds(const struct wh_core *core, struct wh_atom atom)
{
    return core->at[atom.side] >= atom.least;
}
static inline int wh_core_least(const struct wh_core *core, int activity)
{
    return core->at[2 * activity];
}
static inline int wh_core_most(const struct wh_core *core, int activity)
{
    return -core->at[2 * activity + 1];
}

/* Raises a side; false: a conflict, told in core->conflict. */
bool wh_core_raise(struct wh_core *core, struct wh_atom atom, enum wh_reason reason, int of);

/* Notes atoms as a reason for wh_core_raise, one by one. */
int wh_core_reason_begin(struct wh_core *core);
void wh_core_reason_add(struct wh_core *core, int reason, struct wh_atom atom);

/* Draws all consequences; false: a conflict. */
bool wh_core_settle(struct wh_core *core);

/* A new level with one more choice. */
void wh_core_choose(struct wh_core *core, struct wh_atom atom);

/* Takes back all levels above this one. */
void wh_core_return(struct wh_core *core, int level);

/* Calls note(context, atom) for atoms that together are why growth g came to at least `least`. */
void wh_core_explain(const struct wh_core *core, int growth, int least,
                     void (*note)(void *context, struct wh_atom atom), void *context);

/* The growth by which an atom that holds, and is not of the root, came to hold. */
int wh_core_growth_of(const struct wh_core *core, struct wh_atom atom);

/* Adds a clause of atoms, its watches first; how many clauses there are is its number + 1. */
int wh_core_learn(struct wh_core *core, const struct wh_atom atoms[], int count, int grade);

/* Forgets the worse half of what was learnt. Only with no choice made. */
void wh_core_forget(struct wh_core *core);

/* What is held apart (schedule_apart.c): what follows for an activity whose bounds have moved. */
void wh_apart_begin(struct wh_core *core);
bool wh_apart_follow(struct wh_core *core, int activity);

/* The time-tables of the resources (schedule_load.c). */
void wh_load_begin(struct wh_core *core);
void wh_load_touch(struct wh_core *core, int activity);
void wh_load_return(struct wh_core *core);
bool wh_load_settle(struct wh_core *core, bool *ret_any);

#endif
