/* The time-table of a resource: what surely runs at each time, and what that keeps from running. */
#include "order/schedule_load.h"

#include <limits.h>
#include <string.h>

static void list_users(struct wh_core *core, struct wh_load *load, size_t r)
{
    const struct wh_schedule_problem *p = core->problem;
    load->capacity = p->capacity[r];
    for (size_t i = 0; i < p->count; i++) load->count += p->use[i * p->resource_count + r] > 0 && p->duration[i] > 0;
    size_t n = (size_t)load->count, k = 0;
    load->activity = WH_NEW(core->arena, n, int);
    load->use = WH_NEW(core->arena, n, int);
    load->by_most = WH_NEW(core->arena, n, int);
    load->by_end = WH_NEW(core->arena, n, int);
    load->windows = WH_NEW(core->arena, n, struct wh_window);
    load->by_least = WH_NEW(core->arena, n, int);
    load->by_last = WH_NEW(core->arena, n, int);
    load->spans = WH_NEW(core->arena, 2 * n + 1, struct wh_span);
    for (size_t i = 0; i < p->count; i++) {
        if (p->use[i * p->resource_count + r] == 0 || p->duration[i] == 0) continue;
        load->activity[k] = (int)i;
        load->use[k] = p->use[i * p->resource_count + r];
        load->by_most[k] = load->by_end[k] = load->by_least[k] = load->by_last[k] = (int)k;
        k++;
    }
}

void wh_load_begin(struct wh_core *core)
{
    const struct wh_schedule_problem *p = core->problem;
    core->loads = WH_NEW(core->arena, p->resource_count, struct wh_load);
    core->load_count = p->resource_count;
    core->uses_from = WH_NEW(core->arena, (size_t)core->count + 1, int);
    core->uses = WH_NEW(core->arena, p->count * p->resource_count, int);
    for (size_t r = 0; r < p->resource_count; r++) list_users(core, &core->loads[r], r);
    int k = 0;
    for (size_t i = 0; i < p->count; i++) {
        for (size_t r = 0; r < p->resource_count; r++) {
            if (p->use[i * p->resource_count + r] > 0 && p->duration[i] > 0) core->uses[k++] = (int)r;
        }
        core->uses_from[i + 1] = k;
    }
    core->uses_from[core->count] = k;
}

void wh_load_touch(struct wh_core *core, int activity)
{
    for (int k = core->uses_from[activity]; k < core->uses_from[activity + 1]; k++) {
        core->loads[core->uses[k]].touched = core->loads[core->uses[k]].pressed = true;
    }
}

static int most(const struct wh_core *core, const struct wh_load *load, int u)
{
    return wh_core_most(core, load->activity[u]);
}

static int earliest_end(const struct wh_core *core, const struct wh_load *load, int u)
{
    return wh_core_least(core, load->activity[u]) + core->duration[load->activity[u]];
}

/* Runs for sure at a time? */
static bool runs(const struct wh_core *core, const struct wh_load *load, int u, int time)
{
    return most(core, load, u) <= time && time < earliest_end(core, load, u);
}

/* Nearly in order already, since little moves between two calls. */
static void sort(const struct wh_core *core, const struct wh_load *load, int order[],
                 int (*key)(const struct wh_core *, const struct wh_load *, int))
{
    for (int k = 1; k < load->count; k++) {
        int u = order[k], value = key(core, load, u), to = k;
        for (; to > 0 && key(core, load, order[to - 1]) > value; to--) order[to] = order[to - 1];
        order[to] = u;
    }
}

static void add_span(struct wh_load *load, int from, int to, int height)
{
    if (height == 0 || from == to) return;
    load->spans[load->span_count++] = (struct wh_span){from, to, height};
    if (height > load->highest) load->highest = height;
}

/* Lays the time-table anew. */
static void lay(const struct wh_core *core, struct wh_load *load)
{
    sort(core, load, load->by_most, most);
    sort(core, load, load->by_end, earliest_end);
    load->span_count = load->highest = 0;
    int height = 0, now = 0, begin = 0, end = 0;
    for (;;) {
        while (begin < load->count &&
               most(core, load, load->by_most[begin]) >= earliest_end(core, load, load->by_most[begin]))
            begin++;
        while (end < load->count && most(core, load, load->by_end[end]) >= earliest_end(core, load, load->by_end[end]))
            end++;
        if (end == load->count) return;
        int ends = earliest_end(core, load, load->by_end[end]);
        int begins = begin < load->count ? most(core, load, load->by_most[begin]) : INT_MAX;
        int next = ends < begins ? ends : begins;
        add_span(load, now, next, height);
        now = next;
        if (ends <= begins)
            height -= load->use[load->by_end[end++]];
        else
            height += load->use[load->by_most[begin++]];
    }
}

/* The atoms by which u surely runs at a time. */
static void add_running(struct wh_core *core, const struct wh_load *load, int reason, int u, int time)
{
    int i = load->activity[u];
    wh_core_reason_add(core, reason, (struct wh_atom){2 * i, time - core->duration[i] + 1});
    wh_core_reason_add(core, reason, (struct wh_atom){2 * i + 1, -time});
}

/* Of what runs at a time besides `without`, as few as fill the resource to more than `room`. */
static void add_filling(struct wh_core *core, const struct wh_load *load, int reason, int without, int time, int room)
{
    int over = -room - 1;
    for (int u = 0; u < load->count; u++) {
        if (u != without && runs(core, load, u, time)) over += load->use[u];
    }
    for (int u = 0; u < load->count; u++) {
        if (u == without || !runs(core, load, u, time)) continue;
        if (load->use[u] <= over)
            over -= load->use[u];
        else
            add_running(core, load, reason, u, time);
    }
}

static bool overloaded(struct wh_core *core, const struct wh_load *load)
{
    if (load->highest <= load->capacity) return false;
    int k = 0;
    while (load->spans[k].height <= load->capacity) k++;
    int reason = wh_core_reason_begin(core);
    add_filling(core, load, reason, -1, (load->spans[k].from + load->spans[k].to - 1) / 2, load->capacity);
    core->conflict.count = 0;
    for (int n = 1; n <= core->reasons.at[reason].side; n++)
        *WH_PUSH(core->arena, &core->conflict) = core->reasons.at[reason + n];
    return true;
}

/* Keeps u from running at a time, from the left: it starts later. */
static bool push_behind(struct wh_core *core, const struct wh_load *load, int u, int time)
{
    int i = load->activity[u], reason = wh_core_reason_begin(core);
    wh_core_reason_add(core, reason, (struct wh_atom){2 * i, time - core->duration[i] + 1});
    add_filling(core, load, reason, u, time, load->capacity - load->use[u]);
    return wh_core_raise(core, (struct wh_atom){2 * i, time + 1}, WH_BY_ATOMS, reason);
}

/* From the right: it starts early enough to end before. */
static bool push_before(struct wh_core *core, const struct wh_load *load, int u, int time)
{
    int i = load->activity[u], reason = wh_core_reason_begin(core);
    wh_core_reason_add(core, reason, (struct wh_atom){2 * i + 1, -time});
    add_filling(core, load, reason, u, time, load->capacity - load->use[u]);
    return wh_core_raise(core, (struct wh_atom){2 * i + 1, core->duration[i] - time}, WH_BY_ATOMS, reason);
}

/* Is u part of this span's sure load? */
static bool is_in(const struct wh_core *core, const struct wh_load *load, int u, const struct wh_span *span)
{
    return most(core, load, u) <= span->from && span->to <= earliest_end(core, load, u);
}

/* The sure load as it was laid: bounds that move meanwhile only add to it. */
static bool later(struct wh_core *core, const struct wh_load *load, int u)
{
    int i = load->activity[u], least_use = load->capacity - load->use[u];
    for (int k = 0; k < load->span_count; k++) {
        const struct wh_span *span = &load->spans[k];
        int start = wh_core_least(core, i);
        if (span->to <= start || span->height <= least_use) continue;
        if (span->from >= start + core->duration[i]) return true;
        if (is_in(core, load, u, span)) continue;
        for (; start < span->to; start = wh_core_least(core, i)) {
            int end = start + core->duration[i];
            if (!push_behind(core, load, u, (end < span->to ? end : span->to) - 1)) return false;
        }
    }
    return true;
}

static bool earlier(struct wh_core *core, const struct wh_load *load, int u)
{
    int i = load->activity[u], least_use = load->capacity - load->use[u];
    for (int k = load->span_count - 1; k >= 0; k--) {
        const struct wh_span *span = &load->spans[k];
        int start = wh_core_most(core, i);
        if (span->from >= start + core->duration[i] || span->height <= least_use) continue;
        if (span->to <= start) return true;
        if (is_in(core, load, u, span)) continue;
        for (; start + core->duration[i] > span->from; start = wh_core_most(core, i)) {
            if (!push_before(core, load, u, start > span->from ? start : span->from)) return false;
        }
    }
    return true;
}

static bool settle(struct wh_core *core, struct wh_load *load)
{
    lay(core, load);
    if (overloaded(core, load)) return false;
    for (int u = 0; u < load->count; u++) {
        int i = load->activity[u];
        if (wh_core_least(core, i) == wh_core_most(core, i) || load->highest + load->use[u] <= load->capacity) continue;
        if (!later(core, load, u) || !earlier(core, load, u)) return false;
    }
    return true;
}

/* A time-table laid further up may be wrong now; it is laid again before its energy is looked at. */
void wh_load_return(struct wh_core *core)
{
    for (size_t r = 0; r < core->load_count; r++) core->loads[r].touched |= core->loads[r].pressed;
}

/* One resource after the other with a rule, until one has moved something. */
static bool in_turn(struct wh_core *core, bool energy, bool (*rule)(struct wh_core *core, struct wh_load *load))
{
    size_t before = core->trail.count;
    for (size_t r = 0; r < core->load_count && core->trail.count == before; r++) {
        bool *due = energy ? &core->loads[r].pressed : &core->loads[r].touched;
        if (!*due) continue;
        *due = false;
        if (!rule(core, &core->loads[r])) return false;
    }
    return true;
}

bool wh_load_settle(struct wh_core *core, bool *ret_any)
{
    size_t before = core->trail.count;
    *ret_any = false;
    if (!in_turn(core, false, settle)) return false;
    if (core->trail.count == before && !in_turn(core, true, wh_energy_settle)) return false;
    *ret_any = core->trail.count > before;
    return true;
}
