/* Pairs of activities that are held apart: as soon as one order cannot be, the other one holds. */
#include "order/schedule_core.h"

void wh_apart_begin(struct wh_core *core)
{
    const struct wh_schedule_problem *p = core->problem;
    core->aparts_from = WH_NEW(core->arena, (size_t)core->count + 1, int);
    core->aparts = WH_NEW(core->arena, 2 * p->apart_count, int);
    int *from = core->aparts_from, *at = WH_NEW(core->arena, (size_t)core->count + 1, int);
    for (size_t k = 0; k < p->apart_count; k++) {
        from[p->aparts[k].a + 1]++;
        from[p->aparts[k].b + 1]++;
    }
    for (int i = 0; i < core->count; i++) from[i + 1] += from[i];
    for (int i = 0; i < core->count; i++) at[i] = from[i];
    for (size_t k = 0; k < p->apart_count; k++) {
        core->aparts[at[p->aparts[k].a]++] = (int)k;
        core->aparts[at[p->aparts[k].b]++] = (int)k;
    }
}

/* The reason, but for one atom more, why `late` does not come so long behind `early`: it would have to be later than it
 * can. */
static int reason(struct wh_core *core, int early, int late, int wait)
{
    int least = wh_core_least(core, early), of = wh_core_reason_begin(core);
    wh_core_reason_add(core, of, (struct wh_atom){2 * early, least});
    wh_core_reason_add(core, of, (struct wh_atom){2 * late + 1, 1 - least - wait});
    return of;
}

/* Where b cannot start `wait` after a, a starts `other` after b. */
static bool decide(struct wh_core *core, int a, int b, int wait, int other)
{
    if (wh_core_least(core, a) + wait <= wh_core_most(core, b)) return true;
    struct wh_atom later = {2 * a, wh_core_least(core, b) + other};
    struct wh_atom earlier = {2 * b + 1, other - wh_core_most(core, a)};
    if (!wh_core_holds(core, later)) {
        int of = reason(core, a, b, wait);
        wh_core_reason_add(core, of, (struct wh_atom){2 * b, wh_core_least(core, b)});
        if (!wh_core_raise(core, later, WH_BY_ATOMS, of)) return false;
    }
    if (wh_core_holds(core, earlier)) return true;
    int of = reason(core, a, b, wait);
    wh_core_reason_add(core, of, (struct wh_atom){2 * a + 1, -wh_core_most(core, a)});
    return wh_core_raise(core, earlier, WH_BY_ATOMS, of);
}

bool wh_apart_follow(struct wh_core *core, int activity)
{
    for (int k = core->aparts_from[activity]; k < core->aparts_from[activity + 1]; k++) {
        const struct wh_schedule_apart *apart = &core->problem->aparts[core->aparts[k]];
        int a = (int)apart->a, b = (int)apart->b;
        if (!decide(core, a, b, apart->first, apart->last) || !decide(core, b, a, apart->last, apart->first))
            return false;
    }
    return true;
}
