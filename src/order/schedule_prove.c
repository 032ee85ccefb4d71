#include "order/schedule_prove.h"

#include <string.h>

enum { RESTART = 100, CLAUSES = 4000, ASK = 16 };

struct wh_prover *wh_prover_new(struct wh_arena *arena, struct wh_core *core, size_t most_atoms)
{
    struct wh_prover *prover = WH_NEW(arena, 1, struct wh_prover);
    size_t sides = (size_t)core->sides;
    *prover = (struct wh_prover){.core = core, .by_time = true, .most_atoms = most_atoms};
    prover->best = WH_NEW(arena, (size_t)core->count, int);
    prover->need = WH_NEW(arena, sides, int);
    prover->where = WH_NEW(arena, sides, int);
    prover->listed = WH_NEW(arena, sides, bool);
    prover->met = WH_NEW(arena, 2 * sides, int);
    prover->clause = WH_NEW(arena, sides + 1, struct wh_atom);
    for (size_t s = 0; s < sides; s++) prover->where[s] = -1;
    wh_worth_begin(prover);
    return prover;
}

/* The earliest start not yet settled begins as early as it can. side -1: all are settled. */
static struct wh_atom earliest(const struct wh_core *core)
{
    int best = -1;
    for (int i = 0; i < core->count; i++) {
        if (wh_core_least(core, i) == wh_core_most(core, i)) continue;
        if (best < 0 || wh_core_least(core, i) < wh_core_least(core, best) ||
            (wh_core_least(core, i) == wh_core_least(core, best) && wh_core_most(core, i) < wh_core_most(core, best)))
            best = i;
    }
    return best < 0 ? (struct wh_atom){-1, 0} : (struct wh_atom){2 * best + 1, -wh_core_least(core, best)};
}

/* As the best schedule has it where there is one, else early. */
static struct wh_atom next_choice(struct wh_prover *prover)
{
    if (prover->by_time) return earliest(prover->core);
    struct wh_atom atom = wh_worth_take(prover);
    if (atom.side < 0) return earliest(prover->core);
    bool late = prover->found && prover->best[atom.side / 2] >= atom.least;
    return late ? atom : wh_atom_opposite(atom);
}

static void keep(struct wh_prover *prover)
{
    for (int i = 0; i < prover->core->count; i++) prover->best[i] = wh_core_least(prover->core, i);
    prover->found = true;
}

/* 1 1 2 1 1 2 4 …: the lengths of runs between fresh beginnings (Luby, Sinclair, Zuckerman 1993). */
static uint64_t luby(uint64_t run)
{
    for (uint64_t k = 1;; k++) {
        if (run == ((uint64_t)1 << k) - 1) return (uint64_t)1 << (k - 1);
        if (run < ((uint64_t)1 << k) - 1) return luby(run - ((uint64_t)1 << (k - 1)) + 1);
    }
}

static void begin_again(struct wh_prover *prover, uint64_t most_clauses)
{
    wh_core_return(prover->core, 0);
    wh_worth_return(prover);
    if (prover->core->clauses.count > most_clauses || prover->core->atoms.count > prover->most_atoms)
        wh_core_forget(prover->core);
}

/* Opens the next level; false: all is settled. */
static bool choose(struct wh_prover *prover, int target)
{
    struct wh_core *core = prover->core;
    int end = core->count - 1;
    prover->choices++;
    if (core->level == 0 && wh_core_most(core, end) > target) {
        wh_core_choose(core, (struct wh_atom){2 * end + 1, -target});
        return true;
    }
    struct wh_atom atom = next_choice(prover);
    if (atom.side < 0) return false;
    wh_core_choose(core, atom);
    return true;
}

static enum wh_proved stop(struct wh_prover *prover, enum wh_proved proved)
{
    wh_core_return(prover->core, 0);
    wh_worth_return(prover);
    return proved;
}

enum wh_proved wh_prover_search(struct wh_prover *prover, int target, uint64_t conflicts, bool (*go_on)(void *context),
                                void *context)
{
    struct wh_core *core = prover->core;
    uint64_t last = prover->conflicts + conflicts, run = 1, again = prover->conflicts + RESTART;
    uint64_t most_clauses = CLAUSES + prover->conflicts / 20;
    for (;;) {
        if (!wh_core_settle(core)) {
            prover->conflicts++;
            if (core->level == 0 || !wh_prover_learn(prover)) return stop(prover, WH_PROVED_NONE);
            prover->step *= 1.0F / 0.95F;
            continue;
        }
        if (core->level == 0 && wh_core_least(core, core->count - 1) > target) return WH_PROVED_ABOVE;
        if (prover->conflicts >= last) return stop(prover, WH_PROVED_STOPPED);
        if (prover->choices % ASK == 0 && !go_on(context)) return stop(prover, WH_PROVED_STOPPED);
        if (prover->conflicts >= again || core->atoms.count > prover->most_atoms) {
            begin_again(prover, most_clauses);
            again = prover->conflicts + RESTART * luby(++run);
            prover->by_time = false;
            continue;
        }
        if (choose(prover, target)) continue;
        keep(prover);
        return stop(prover, WH_PROVED_FOUND);
    }
}
