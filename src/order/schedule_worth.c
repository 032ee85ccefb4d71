/* Which bounds took part in conflicts lately: the search decides these first. */
#include "order/schedule_prove.h"

enum { MOST_BOUNDS = 1 << 18 };

void wh_worth_begin(struct wh_prover *prover)
{
    const struct wh_core *core = prover->core;
    long long width = 0;
    for (int i = 0; i < core->count; i++) width += wh_core_most(core, i) - wh_core_least(core, i) + 2;
    while ((width >> prover->shift) + 2LL * core->count > MOST_BOUNDS && prover->shift < 24) prover->shift++;
    prover->worth_of = WH_NEW(core->arena, (size_t)core->count + 1, int);
    for (int i = 0; i < core->count; i++) {
        int values = wh_core_most(core, i) - wh_core_least(core, i) + 2;
        prover->worth_of[i + 1] = prover->worth_of[i] + (values >> prover->shift) + 1;
    }
    size_t count = (size_t)prover->worth_of[core->count];
    prover->worth = WH_NEW(core->arena, count, float);
    prover->heap = WH_NEW(core->arena, count, int);
    prover->place = WH_NEW(core->arena, count, int);
    prover->activity_of = WH_NEW(core->arena, count, int);
    prover->step = 1;
    for (int i = 0; i < core->count; i++) {
        for (int b = prover->worth_of[i]; b < prover->worth_of[i + 1]; b++) {
            prover->activity_of[b] = i;
            prover->place[b] = -1;
        }
    }
}

static void put(struct wh_prover *prover, int at, int bound)
{
    prover->heap[at] = bound;
    prover->place[bound] = at;
}

static void rise(struct wh_prover *prover, int at)
{
    int bound = prover->heap[at];
    for (; at > 0 && prover->worth[prover->heap[(at - 1) / 2]] < prover->worth[bound]; at = (at - 1) / 2) {
        put(prover, at, prover->heap[(at - 1) / 2]);
    }
    put(prover, at, bound);
}

static void sink(struct wh_prover *prover, int at)
{
    int bound = prover->heap[at];
    for (int child; (child = 2 * at + 1) < prover->heap_count; at = child) {
        if (child + 1 < prover->heap_count &&
            prover->worth[prover->heap[child + 1]] > prover->worth[prover->heap[child]])
            child++;
        if (prover->worth[prover->heap[child]] <= prover->worth[bound]) break;
        put(prover, at, prover->heap[child]);
    }
    put(prover, at, bound);
}

static void add(struct wh_prover *prover, int bound)
{
    if (prover->place[bound] >= 0) return;
    put(prover, prover->heap_count++, bound);
    rise(prover, prover->heap_count - 1);
}

static void rescale(struct wh_prover *prover)
{
    for (int b = 0; b < prover->worth_of[prover->core->count]; b++) prover->worth[b] *= 1e-20F;
    prover->step *= 1e-20F;
}

void wh_worth_raise(struct wh_prover *prover, struct wh_atom atom)
{
    int i = atom.side / 2, least = atom.side % 2 ? 1 - atom.least : atom.least;
    int bound = prover->worth_of[i] + ((least - prover->core->base[2 * i]) >> prover->shift);
    prover->worth[bound] += prover->step;
    if (prover->worth[bound] > 1e20F) rescale(prover);
    if (prover->place[bound] >= 0)
        rise(prover, prover->place[bound]);
    else
        add(prover, bound);
}

void wh_worth_return(struct wh_prover *prover)
{
    while (prover->taken.count > 0 && prover->taken.at[prover->taken.count - 1].trail > prover->core->trail.count) {
        add(prover, prover->taken.at[--prover->taken.count].bound);
    }
}

struct wh_atom wh_worth_take(struct wh_prover *prover)
{
    const struct wh_core *core = prover->core;
    while (prover->heap_count > 0) {
        int bound = prover->heap[0], i = prover->activity_of[bound];
        int value = core->base[2 * i] + ((bound - prover->worth_of[i]) << prover->shift);
        int least = wh_core_least(core, i), most = wh_core_most(core, i), last = value + (1 << prover->shift) - 1;
        if (value <= least && last > least) value = least + 1; /* a bound of several values, cut into */
        if (value > least && value <= most) return (struct wh_atom){2 * i, value};
        prover->place[bound] = -1;
        int last_bound = prover->heap[--prover->heap_count];
        if (prover->heap_count > 0) {
            put(prover, 0, last_bound);
            sink(prover, 0);
        }
        WH_PUSH(core->arena, &prover->taken);
        prover->taken.at[prover->taken.count - 1].bound = bound;
        prover->taken.at[prover->taken.count - 1].trail = core->trail.count;
    }
    return (struct wh_atom){-1, 0};
}
