/* The energy of a resource: between two times no more can be done than capacity times time (time-table edge-finding,
 * Vilím 2011; explained as by Schutt, Feydy, Stuckey 2013). The rule is written forwards in time; flip = 1 runs it
 * backwards: start' = -(start + duration). */
#include "order/schedule_load.h"

enum { MOST_SKIP = 30, FEW = 16 };

struct view {
    struct wh_core *core;
    struct wh_load *load;
    int flip;
};

static struct wh_atom at_least(const struct view *v, int activity, int start)
{
    return (struct wh_atom){2 * activity + v->flip, start + v->flip * v->core->duration[activity]};
}

static struct wh_atom at_most(const struct view *v, int activity, int start)
{
    return (struct wh_atom){2 * activity + 1 - v->flip, -start - v->flip * v->core->duration[activity]};
}

/* Energy of sure parts before a time, both as seen. */
static int sure_before(const struct view *v, int time)
{
    int sum = 0, total = 0, real = v->flip ? -time : time;
    for (int k = 0; k < v->load->span_count; k++) {
        const struct wh_span *span = &v->load->spans[k];
        int end = span->to < real ? span->to : real;
        if (end > span->from) sum += span->height * (end - span->from);
        total += span->height * (span->to - span->from);
    }
    return v->flip ? total - sum : sum;
}

static void look(const struct view *v)
{
    for (int u = 0; u < v->load->count; u++) {
        struct wh_window *w = &v->load->windows[u];
        int i = v->load->activity[u], duration = v->core->duration[i];
        w->least = v->core->at[2 * i + v->flip] - v->flip * duration;
        w->most = -v->core->at[2 * i + 1 - v->flip] - v->flip * duration;
        w->last = w->most + duration;
        int sure = w->least + duration - w->most;
        w->free = v->load->use[u] * (sure > 0 ? duration - sure : duration);
        w->sure_least = sure_before(v, w->least);
        w->sure_last = sure_before(v, w->last);
    }
}

static void sort(const struct view *v)
{
    for (int k = 1; k < v->load->count; k++) {
        int *least = v->load->by_least, *last = v->load->by_last, u = least[k], to = k;
        const struct wh_window *w = v->load->windows;
        for (; to > 0 && w[least[to - 1]].least > w[u].least; to--) least[to] = least[to - 1];
        least[to] = u;
        for (u = last[k], to = k; to > 0 && w[last[to - 1]].last > w[u].last; to--) last[to] = last[to - 1];
        last[to] = u;
    }
}

/* Time for which u surely runs between two times. */
static int overlap(const struct view *v, int u, int from, int to)
{
    const struct wh_window *w = &v->load->windows[u];
    int duration = v->core->duration[v->load->activity[u]], least = duration;
    if (to - from < least) least = to - from;
    if (w->least + duration - from < least) least = w->least + duration - from;
    if (to - w->most < least) least = to - w->most;
    return least > 0 ? least : 0;
}

static int energy(const struct view *v, int without, int from, int to)
{
    int sum = 0;
    for (int u = 0; u < v->load->count; u++) {
        if (u != without) sum += v->load->use[u] * overlap(v, u, from, to);
    }
    return sum;
}

/* The atoms by which all but `without` need at least `energy` + 1 - spare between two times. */
static void add_energy(const struct view *v, int reason, int without, int from, int to, int spare)
{
    for (int u = 0; u < v->load->count; u++) {
        int time = u == without ? 0 : overlap(v, u, from, to), i = v->load->activity[u];
        if (time == 0) continue;
        int less = spare / v->load->use[u] < time ? spare / v->load->use[u] : time;
        spare -= less * v->load->use[u];
        time -= less;
        if (time == 0) continue;
        wh_core_reason_add(v->core, reason, at_least(v, i, from - v->core->duration[i] + time));
        wh_core_reason_add(v->core, reason, at_most(v, i, to - time));
    }
}

static bool overfull(const struct view *v, int from, int to)
{
    struct wh_core *core = v->core;
    int reason = wh_core_reason_begin(core);
    add_energy(v, reason, -1, from, to, energy(v, -1, from, to) - v->load->capacity * (to - from) - 1);
    core->conflict.count = 0;
    for (int n = 1; n <= core->reasons.at[reason].side; n++)
        *WH_PUSH(core->arena, &core->conflict) = core->reasons.at[reason + n];
    return false;
}

/* Not so much of u fits between two times: it starts later. */
static bool push(const struct view *v, int u, int from, int to)
{
    int i = v->load->activity[u], use = v->load->use[u], duration = v->core->duration[i];
    int needed = energy(v, u, from, to), room = v->load->capacity * (to - from) - needed;
    int too_much = room < 0 ? 1 : room / use + 1; /* time of u */
    if (too_much > duration || too_much > to - from || v->load->windows[u].least < from - duration + too_much)
        return true;
    int reason = wh_core_reason_begin(v->core);
    wh_core_reason_add(v->core, reason, at_least(v, i, from - duration + too_much));
    add_energy(v, reason, u, from, to, needed - (v->load->capacity * (to - from) - use * too_much + 1));
    return wh_core_raise(v->core, at_least(v, i, to - too_much + 1), WH_BY_ATOMS, reason);
}

/* All intervals that end with a latest end and begin with an earliest start. */
static bool sweep(const struct view *v)
{
    const struct wh_load *load = v->load;
    for (int e = load->count - 1; e >= 0; e--) {
        const struct wh_window *end = &load->windows[load->by_last[e]];
        if (e + 1 < load->count && load->windows[load->by_last[e + 1]].last == end->last) continue;
        int free = 0, most_extra = 0, most_of = -1;
        for (int k = load->count - 1; k >= 0; k--) {
            int u = load->by_least[k], duration = v->core->duration[load->activity[u]];
            const struct wh_window *w = &load->windows[u];
            if (w->least >= end->last) continue;
            int room = load->capacity * (end->last - w->least) - (end->sure_last - w->sure_least);
            if (w->last <= end->last) {
                free += w->free;
            } else {
                int until = w->least + duration < end->last ? w->least + duration : end->last;
                int sure = until > w->most ? until - w->most : 0;
                int extra = load->use[u] * (until - w->least - sure);
                if (extra > most_extra) {
                    most_extra = extra;
                    most_of = u;
                }
            }
            if (free > room) return overfull(v, w->least, end->last);
            if (free + most_extra <= room || most_of < 0) continue;
            if (!push(v, most_of, w->least, end->last)) return false;
            return true;
        }
    }
    return true;
}

/* Both ways in time; false: a conflict. */
static bool look_and_sweep(struct wh_core *core, struct wh_load *load)
{
    size_t before = core->trail.count;
    for (int flip = 0; flip < 2 && core->trail.count == before; flip++) {
        struct view v = {core, load, flip};
        look(&v);
        sort(&v);
        if (!sweep(&v)) return false;
    }
    return true;
}

bool wh_energy_settle(struct wh_core *core, struct wh_load *load)
{
    size_t before = core->trail.count;
    if (core->level > 0 && load->skip > 0) {
        load->skip--;
        return true;
    }
    bool fine = look_and_sweep(core, load);
    load->idle = fine && core->trail.count == before ? load->idle + 1 : load->count / FEW;
    load->skip = load->idle < MOST_SKIP ? load->idle : MOST_SKIP;
    return fine;
}
