/* What a conflict teaches: going back along the trail to the first single growth of the last level that, with others
 * of lower levels, brought it about. */
#include "order/schedule_prove.h"

#include <stdlib.h>
#include <string.h>

static bool in_hand(const struct wh_prover *prover, int side)
{
    return prover->where[side] >= 0;
}

static int level_of(const struct wh_prover *prover, int side)
{
    return prover->core->trail.at[prover->where[side]].level;
}

/* Takes an atom in hand. Of two atoms of one side the stronger is enough. */
static void take(void *context, struct wh_atom atom)
{
    struct wh_prover *prover = context;
    const struct wh_core *core = prover->core;
    int side = atom.side;
    if (core->root[side] >= atom.least || (in_hand(prover, side) && prover->need[side] >= atom.least)) return;
    if (in_hand(prover, side) && level_of(prover, side) == prover->level) prover->open--;
    prover->need[side] = atom.least;
    prover->where[side] = wh_core_growth_of(core, atom);
    if (level_of(prover, side) == prover->level) prover->open++;
    if (!prover->listed[side]) prover->met[prover->met_count++] = side;
    prover->listed[side] = true;
    wh_worth_raise(prover, atom);
}

/* Back to the level at which the conflict first stands. */
static bool find_level(struct wh_prover *prover)
{
    struct wh_core *core = prover->core;
    int level = 0;
    for (size_t k = 0; k < core->conflict.count; k++) {
        struct wh_atom atom = core->conflict.at[k];
        if (core->root[atom.side] >= atom.least) continue;
        int at = core->trail.at[wh_core_growth_of(core, atom)].level;
        if (at > level) level = at;
    }
    prover->level = level;
    wh_core_return(core, level);
    return level > 0;
}

/* The side whose growth alone is left of the last level. */
static int walk_back(struct wh_prover *prover)
{
    const struct wh_core *core = prover->core;
    prover->open = 0;
    for (size_t k = 0; k < core->conflict.count; k++) take(prover, core->conflict.at[k]);
    for (int g = (int)core->trail.count - 1;; g--) {
        int side = core->trail.at[g].side, least = prover->need[side];
        if (prover->where[side] != g) continue;
        if (prover->open == 1) return side;
        prover->where[side] = -1;
        prover->open--;
        wh_core_explain(core, g, least, take, prover);
    }
}

struct leaning {
    const struct wh_prover *prover;
    int growth;
    bool follows;
};

static void lean(void *context, struct wh_atom atom)
{
    struct leaning *l = context;
    const struct wh_prover *prover = l->prover;
    if (prover->core->root[atom.side] >= atom.least) return;
    bool held =
        in_hand(prover, atom.side) && prover->need[atom.side] >= atom.least && prover->where[atom.side] < l->growth;
    if (!held) l->follows = false;
}

/* Does an atom follow from the others in hand, all of earlier growth? */
static bool follows(const struct wh_prover *prover, int side)
{
    struct leaning l = {prover, prover->where[side], true};
    if (prover->core->trail.at[l.growth].reason == WH_BY_CHOICE) return false;
    wh_core_explain(prover->core, l.growth, prover->need[side], lean, &l);
    return l.follows;
}

static int by_number(const void *a, const void *b)
{
    const int *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

/* How many levels a clause spans. */
static int grade(struct wh_prover *prover, int levels[])
{
    int n = prover->clause_count, different = 0;
    qsort(levels, (size_t)n, sizeof levels[0], by_number);
    for (int k = 0; k < n; k++) different += k == 0 || levels[k] != levels[k - 1];
    return different;
}

/* The clause: what was left alone first, then the latest of the others. Returns the level at which it speaks. */
static int write_clause(struct wh_prover *prover, int last_side, int levels[])
{
    int back = 0;
    prover->clause[0] = wh_atom_opposite((struct wh_atom){last_side, prover->need[last_side]});
    levels[0] = prover->level;
    prover->clause_count = 1;
    for (int k = 0; k < prover->met_count; k++) {
        int side = prover->met[k];
        if (side == last_side || !in_hand(prover, side) || follows(prover, side)) continue;
        int n = prover->clause_count++;
        prover->clause[n] = wh_atom_opposite((struct wh_atom){side, prover->need[side]});
        levels[n] = level_of(prover, side);
        if (levels[n] <= back) continue;
        back = levels[n];
        struct wh_atom kept = prover->clause[1];
        prover->clause[1] = prover->clause[n];
        prover->clause[n] = kept;
        levels[n] = levels[1];
        levels[1] = back;
    }
    return back;
}

bool wh_prover_learn(struct wh_prover *prover)
{
    struct wh_core *core = prover->core;
    if (!find_level(prover)) return false;
    int last_side = walk_back(prover), *levels = prover->met + core->sides;
    int back = write_clause(prover, last_side, levels);
    for (int k = 0; k < prover->met_count; k++) {
        prover->listed[prover->met[k]] = false;
        prover->where[prover->met[k]] = -1;
    }
    prover->met_count = 0;
    wh_core_return(core, back);
    wh_worth_return(prover);
    if (prover->clause_count == 1) return wh_core_raise(core, prover->clause[0], WH_BY_CHOICE, 0);
    int number = wh_core_learn(core, prover->clause, prover->clause_count, grade(prover, levels));
    wh_core_raise(core, prover->clause[0], WH_BY_CLAUSE, number);
    return true;
}
