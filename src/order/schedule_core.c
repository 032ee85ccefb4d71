#include "order/schedule_core.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_CHAINS = 1 << 18 };

static int by_from(const void *a, const void *b)
{
    const struct wh_arc *x = a, *y = b;
    return x->from != y->from ? (x->from > y->from) - (x->from < y->from) : (x->to > y->to) - (x->to < y->to);
}

/* Each lag moves later starts of one and, seen from the end, earlier starts of the other. */
static void lay_arcs(struct wh_core *core)
{
    const struct wh_schedule_problem *p = core->problem;
    size_t count = 2 * (p->lag_count + p->count), k = 0;
    int end = core->count - 1;
    core->arcs = WH_NEW(core->arena, count, struct wh_arc);
    for (size_t i = 0; i < p->lag_count; i++) {
        int from = (int)p->lags[i].from, to = (int)p->lags[i].to, wait = p->lags[i].wait;
        core->arcs[k++] = (struct wh_arc){2 * from, 2 * to, wait};
        core->arcs[k++] = (struct wh_arc){2 * to + 1, 2 * from + 1, wait};
    }
    for (int i = 0; i < end; i++) {
        core->arcs[k++] = (struct wh_arc){2 * i, 2 * end, core->duration[i]};
        core->arcs[k++] = (struct wh_arc){2 * end + 1, 2 * i + 1, core->duration[i]};
    }
    qsort(core->arcs, count, sizeof core->arcs[0], by_from);
    core->arcs_from = WH_NEW(core->arena, (size_t)core->sides + 1, int);
    for (size_t i = 0; i < count; i++) core->arcs_from[core->arcs[i].from + 1]++;
    for (int s = 0; s < core->sides; s++) core->arcs_from[s + 1] += core->arcs_from[s];
}

/* Lags to the fixed point. They cannot all be kept when a start is pushed beyond its latest. */
static bool settle_lags(struct wh_core *core)
{
    for (bool more = true; more;) {
        more = false;
        for (int k = 0; k < core->arcs_from[core->sides]; k++) {
            const struct wh_arc *arc = &core->arcs[k];
            int value = core->at[arc->from] + arc->wait;
            if (value <= core->at[arc->to]) continue;
            core->at[arc->to] = value;
            if (value + core->at[arc->to ^ 1] > 0) return false;
            more = true;
        }
    }
    return true;
}

/* One chain of watches for 2^shift values of a side. */
static void lay_chains(struct wh_core *core)
{
    long long width = 0;
    for (int i = 0; i < core->count; i++) width += 2LL * (wh_core_most(core, i) - wh_core_least(core, i) + 2);
    while ((width >> core->shift) + 2 * core->sides > MOST_CHAINS && core->shift < 24) core->shift++;
    core->chain_of = WH_NEW(core->arena, (size_t)core->sides + 1, int);
    for (int s = 0; s < core->sides; s++) {
        int values = -core->at[s ^ 1] - core->at[s] + 2;
        core->chain_of[s + 1] = core->chain_of[s] + (values >> core->shift) + 1;
    }
    core->chains = WH_NEW(core->arena, (size_t)core->chain_of[core->sides], int);
    for (int c = 0; c < core->chain_of[core->sides]; c++) core->chains[c] = -1;
}

struct wh_core *wh_core_new(struct wh_arena *arena, const struct wh_schedule_problem *problem, int horizon)
{
    struct wh_core *core = WH_NEW(arena, 1, struct wh_core);
    *core = (struct wh_core){.arena = arena, .problem = problem, .count = (int)problem->count + 1};
    core->sides = 2 * core->count;
    core->duration = WH_NEW(arena, (size_t)core->count, int);
    memcpy(core->duration, problem->duration, problem->count * sizeof core->duration[0]);
    core->at = WH_NEW(arena, (size_t)core->sides, int);
    core->root = WH_NEW(arena, (size_t)core->sides, int);
    core->base = WH_NEW(arena, (size_t)core->sides, int);
    core->newest = WH_NEW(arena, (size_t)core->sides, int);
    for (int s = 0; s < core->sides; s++) {
        core->at[s] = s % 2 ? -horizon : 0;
        core->newest[s] = -1;
    }
    lay_arcs(core);
    if (!settle_lags(core)) return NULL;
    memcpy(core->root, core->at, (size_t)core->sides * sizeof core->at[0]);
    memcpy(core->base, core->at, (size_t)core->sides * sizeof core->at[0]);
    lay_chains(core);
    wh_apart_begin(core);
    wh_load_begin(core);
    for (int i = 0; i < core->count; i++) wh_load_touch(core, i);
    for (int i = 0; i < core->count; i++) {
        if (!wh_apart_follow(core, i)) return NULL;
    }
    return core;
}

static void note_conflict(void *context, struct wh_atom atom)
{
    struct wh_core *core = context;
    *WH_PUSH(core->arena, &core->conflict) = atom;
}

/* The newest growth passes its opposite: why it came so far, and that opposite, cannot both be. */
static bool clash(struct wh_core *core, int side)
{
    struct wh_atom against = {side ^ 1, core->at[side ^ 1]};
    core->conflict.count = 0;
    note_conflict(core, against);
    wh_core_explain(core, core->newest[side], wh_atom_opposite(against).least, note_conflict, core);
    return false;
}

bool wh_core_raise(struct wh_core *core, struct wh_atom atom, enum wh_reason reason, int of)
{
    int was = core->at[atom.side];
    if (atom.least <= was) return true;
    *WH_PUSH(core->arena, &core->trail) = (struct wh_growth){.side = atom.side,
                                                             .was = was,
                                                             .now = atom.least,
                                                             .before = core->newest[atom.side],
                                                             .level = core->level,
                                                             .reason = reason,
                                                             .of = of};
    core->newest[atom.side] = (int)core->trail.count - 1;
    core->at[atom.side] = atom.least;
    if (core->level == 0) core->root[atom.side] = atom.least;
    if (atom.least + core->at[atom.side ^ 1] > 0) return clash(core, atom.side);
    return true;
}

int wh_core_reason_begin(struct wh_core *core)
{
    *WH_PUSH(core->arena, &core->reasons) = (struct wh_atom){0, 0};
    return (int)core->reasons.count - 1;
}

void wh_core_reason_add(struct wh_core *core, int reason, struct wh_atom atom)
{
    if (core->root[atom.side] >= atom.least) return;
    *WH_PUSH(core->arena, &core->reasons) = atom;
    core->reasons.at[reason].side++;
}

static bool follow_arcs(struct wh_core *core, int side)
{
    int value = core->at[side];
    for (int k = core->arcs_from[side]; k < core->arcs_from[side + 1]; k++) {
        const struct wh_arc *arc = &core->arcs[k];
        if (value + arc->wait <= core->at[arc->to]) continue;
        if (!wh_core_raise(core, (struct wh_atom){arc->to, value + arc->wait}, WH_BY_LAG, k)) return false;
    }
    return true;
}

/* The chain in which a watch on an atom hangs: of the opposite, which makes it false. */
static int *chain_for(const struct wh_core *core, struct wh_atom watched)
{
    struct wh_atom against = wh_atom_opposite(watched);
    int first = core->chain_of[against.side], last = core->chain_of[against.side + 1] - 1;
    int chain = first + ((against.least - core->base[against.side]) >> core->shift);
    return &core->chains[chain < first ? first : chain > last ? last : chain];
}

static void hang(struct wh_core *core, int clause, int w)
{
    int *chain = chain_for(core, core->atoms.at[core->clauses.at[clause].first + w]);
    core->next.at[2 * clause + w] = *chain;
    *chain = 2 * clause + w;
}

static bool is_false(const struct wh_core *core, struct wh_atom atom)
{
    return wh_core_holds(core, wh_atom_opposite(atom));
}

/* A watched atom has become false. Moves the watch to another atom, or draws the last one. *ret_moved: it hangs
 * elsewhere now. */
static bool wake(struct wh_core *core, int watch, bool *ret_moved)
{
    struct wh_clause *clause = &core->clauses.at[watch / 2];
    struct wh_atom *atoms = &core->atoms.at[clause->first];
    int w = watch % 2;
    *ret_moved = false;
    if (!is_false(core, atoms[w]) || wh_core_holds(core, atoms[1 - w])) return true;
    for (int k = 2; k < clause->count; k++) {
        if (is_false(core, atoms[k])) continue;
        struct wh_atom kept = atoms[w];
        atoms[w] = atoms[k];
        atoms[k] = kept;
        *ret_moved = true;
        return true;
    }
    if (!is_false(core, atoms[1 - w])) return wh_core_raise(core, atoms[1 - w], WH_BY_CLAUSE, watch / 2);
    core->conflict.count = 0;
    for (int k = 0; k < clause->count; k++) *WH_PUSH(core->arena, &core->conflict) = wh_atom_opposite(atoms[k]);
    clause->worth += 1;
    return false;
}

static bool follow_clauses(struct wh_core *core, int side, int was, int now)
{
    int first = core->chain_of[side], base = core->base[side];
    for (int c = first + ((was + 1 - base) >> core->shift); c <= first + ((now - base) >> core->shift); c++) {
        for (int *hook = &core->chains[c]; *hook >= 0;) {
            int watch = *hook;
            bool moved;
            if (!wake(core, watch, &moved)) return false;
            if (!moved) {
                hook = &core->next.at[watch];
                continue;
            }
            *hook = core->next.at[watch];
            hang(core, watch / 2, watch % 2);
        }
    }
    return true;
}

static bool follow_trail(struct wh_core *core)
{
    while (core->looked_at < core->trail.count) {
        struct wh_growth growth = core->trail.at[core->looked_at++];
        wh_load_touch(core, growth.side / 2);
        if (!follow_arcs(core, growth.side) || !wh_apart_follow(core, growth.side / 2)) return false;
        if (!follow_clauses(core, growth.side, growth.was, growth.now)) return false;
    }
    return true;
}

bool wh_core_settle(struct wh_core *core)
{
    for (bool more = true; more;) {
        if (!follow_trail(core)) return false;
        if (!wh_load_settle(core, &more)) return false;
    }
    if (core->level > 0) return true;
    /* what holds without a choice needs no reason any more */
    for (size_t i = 0; i < core->trail.count; i++) core->newest[core->trail.at[i].side] = -1;
    core->trail.count = core->looked_at = core->reasons.count = 0;
    return true;
}

void wh_core_choose(struct wh_core *core, struct wh_atom atom)
{
    *WH_PUSH(core->arena, &core->levels) = (int)core->trail.count;
    *WH_PUSH(core->arena, &core->reason_levels) = core->reasons.count;
    core->level++;
    wh_core_raise(core, atom, WH_BY_CHOICE, 0);
}

void wh_core_return(struct wh_core *core, int level)
{
    if (level >= core->level) return;
    size_t keep = (size_t)core->levels.at[level];
    while (core->trail.count > keep) {
        const struct wh_growth *growth = &core->trail.at[--core->trail.count];
        core->at[growth->side] = growth->was;
        core->newest[growth->side] = growth->before;
    }
    core->reasons.count = core->reason_levels.at[level];
    core->levels.count = core->reason_levels.count = (size_t)level;
    core->looked_at = keep;
    core->level = level;
    wh_load_return(core);
}

int wh_core_growth_of(const struct wh_core *core, struct wh_atom atom)
{
    int g = core->newest[atom.side];
    while (core->trail.at[g].was >= atom.least) g = core->trail.at[g].before;
    return g;
}

void wh_core_explain(const struct wh_core *core, int growth, int least,
                     void (*note)(void *context, struct wh_atom atom), void *context)
{
    const struct wh_growth *g = &core->trail.at[growth];
    if (g->reason == WH_BY_LAG) {
        const struct wh_arc *arc = &core->arcs[g->of];
        note(context, (struct wh_atom){arc->from, least - arc->wait});
    } else if (g->reason == WH_BY_ATOMS) {
        const struct wh_atom *reason = &core->reasons.at[g->of];
        for (int k = 1; k <= reason[0].side; k++) note(context, reason[k]);
    } else if (g->reason == WH_BY_CLAUSE) {
        struct wh_clause *clause = &core->clauses.at[g->of];
        const struct wh_atom *atoms = &core->atoms.at[clause->first];
        clause->worth += 1;
        for (int k = 0; k < clause->count; k++) {
            if (atoms[k].side != g->side) note(context, wh_atom_opposite(atoms[k]));
        }
    }
}

int wh_core_learn(struct wh_core *core, const struct wh_atom atoms[], int count, int grade)
{
    int number = (int)core->clauses.count;
    *WH_PUSH(core->arena, &core->clauses) =
        (struct wh_clause){.first = (int)core->atoms.count, .count = count, .grade = grade, .worth = 1};
    for (int k = 0; k < count; k++) *WH_PUSH(core->arena, &core->atoms) = atoms[k];
    *WH_PUSH(core->arena, &core->next) = -1;
    *WH_PUSH(core->arena, &core->next) = -1;
    hang(core, number, 0);
    hang(core, number, 1);
    return number;
}

static int by_merit(const void *a, const void *b)
{
    const struct wh_clause *x = a, *y = b;
    if (x->worth > y->worth || x->worth < y->worth) return x->worth > y->worth ? -1 : 1;
    return x->grade != y->grade ? (x->grade > y->grade) - (x->grade < y->grade)
                                : (x->first > y->first) - (x->first < y->first);
}

static int by_first(const void *a, const void *b)
{
    const struct wh_clause *x = a, *y = b;
    return (x->first > y->first) - (x->first < y->first);
}

/* A clause without what the root has made false; false: it holds or speaks at the root already and is not needed. */
static bool shorten(struct wh_core *core, struct wh_clause *clause, int to)
{
    int count = 0;
    for (int k = 0; k < clause->count; k++) {
        struct wh_atom atom = core->atoms.at[clause->first + k];
        if (wh_core_holds(core, atom)) return false;
        if (!is_false(core, atom)) core->atoms.at[to + count++] = atom;
    }
    clause->first = to;
    clause->count = count;
    clause->worth /= 2;
    return count >= 2;
}

void wh_core_forget(struct wh_core *core)
{
    size_t count = core->clauses.count, kept = 0;
    int to = 0;
    qsort(core->clauses.at, count, sizeof core->clauses.at[0], by_merit);
    qsort(core->clauses.at, count / 2, sizeof core->clauses.at[0], by_first);
    for (size_t c = 0; c < count / 2; c++) {
        struct wh_clause clause = core->clauses.at[c];
        if (!shorten(core, &clause, to)) continue;
        core->clauses.at[kept++] = clause;
        to += clause.count;
    }
    core->clauses.count = kept;
    core->atoms.count = (size_t)to;
    core->next.count = 2 * kept;
    for (int c = 0; c < core->chain_of[core->sides]; c++) core->chains[c] = -1;
    for (size_t c = 0; c < kept; c++) {
        hang(core, (int)c, 0);
        hang(core, (int)c, 1);
    }
}
