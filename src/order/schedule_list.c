#include "order/schedule_list.h"

#include <stdlib.h>
#include <string.h>

static void lay_arcs(struct wh_arena *arena, struct wh_lister *l, int way)
{
    const struct wh_schedule_problem *p = l->problem;
    int *of = WH_NEW(arena, (size_t)l->count + 1, int), *at = WH_NEW(arena, (size_t)l->count + 1, int);
    struct wh_list_arc *arcs = WH_NEW(arena, p->lag_count, struct wh_list_arc);
    for (size_t k = 0; k < p->lag_count; k++) of[(way ? p->lags[k].from : p->lags[k].to) + 1]++;
    for (int i = 0; i < l->count; i++) of[i + 1] += of[i];
    memcpy(at, of, ((size_t)l->count + 1) * sizeof of[0]);
    for (size_t k = 0; k < p->lag_count; k++) {
        const struct wh_schedule_lag *lag = &p->lags[k];
        int backwards = lag->wait + p->duration[lag->to] - p->duration[lag->from];
        if (way)
            arcs[at[lag->from]++] = (struct wh_list_arc){(int)lag->to, backwards};
        else
            arcs[at[lag->to]++] = (struct wh_list_arc){(int)lag->from, lag->wait};
    }
    l->arcs[way] = arcs;
    l->arcs_of[way] = of;
}

static uint64_t field(const struct wh_lister *l, int r, uint64_t value)
{
    return value << (r % (64 / l->bits) * l->bits);
}

/* Each resource in a field of its own, with a bit above that a subtraction may borrow from. */
static bool pack(struct wh_arena *arena, struct wh_lister *l)
{
    const struct wh_schedule_problem *p = l->problem;
    l->bits = 16;
    for (size_t r = 0; r < p->resource_count; r++) {
        if (p->capacity[r] >= 1 << 15) l->bits = 32;
    }
    int each = 64 / l->bits;
    l->words = ((int)p->resource_count + each - 1) / each;
    l->guard = WH_NEW(arena, (size_t)l->words, uint64_t);
    l->full = WH_NEW(arena, (size_t)l->words, uint64_t);
    l->use = WH_NEW(arena, (size_t)(l->words * l->count), uint64_t);
    for (int r = 0; r < (int)p->resource_count; r++) {
        l->guard[r / each] |= field(l, r, (uint64_t)1 << (l->bits - 1));
        l->full[r / each] |= field(l, r, (uint64_t)p->capacity[r]);
        for (int i = 0; i < l->count; i++) {
            int use = p->duration[i] ? p->use[(size_t)i * p->resource_count + (size_t)r] : 0;
            if (use > p->capacity[r]) return false;
            l->use[i * l->words + r / each] |= field(l, r, (uint64_t)use);
        }
    }
    return true;
}

/* Puts all that has to stand before i, then i, at the end of `order`; false: a ring. */
static bool visit(struct wh_lister *l, int i, int way, int *count, char state[])
{
    if (state[i]) return state[i] == 2;
    state[i] = 1;
    for (int k = l->arcs_of[way][i]; k < l->arcs_of[way][i + 1]; k++) {
        if (!visit(l, l->arcs[way][k].from, way, count, state)) return false;
    }
    state[i] = 2;
    l->order[(*count)++] = i;
    return true;
}

/* Tails by lags alone, and the longest that a schedule of a list can be. */
static bool measure(struct wh_arena *arena, struct wh_lister *l)
{
    const struct wh_schedule_problem *p = l->problem;
    char *state = WH_NEW(arena, (size_t)l->count, char);
    int count = 0;
    for (int i = 0; i < l->count; i++) {
        if (!visit(l, i, 1, &count, state)) return false;
    }
    for (int n = 0; n < l->count; n++) {
        int i = l->order[n];
        l->tail[i] = p->duration[i];
        for (int k = l->arcs_of[1][i]; k < l->arcs_of[1][i + 1]; k++) {
            const struct wh_list_arc *arc = &l->arcs[1][k];
            int tail = l->tail[arc->from] + arc->wait - p->duration[arc->from] + p->duration[i];
            if (tail > l->tail[i]) l->tail[i] = tail;
        }
    }
    for (int i = 0; i < l->count; i++) l->horizon += p->duration[i];
    for (size_t k = 0; k < p->lag_count; k++) {
        int beyond = abs(p->lags[k].wait);
        int spared = p->duration[p->lags[k].wait >= 0 ? p->lags[k].from : p->lags[k].to];
        l->horizon += beyond > spared ? beyond - spared : 0;
    }
    return true;
}

struct wh_lister *wh_lister_new(struct wh_arena *arena, const struct wh_schedule_problem *problem, size_t bytes)
{
    struct wh_lister *l = WH_NEW(arena, 1, struct wh_lister);
    size_t n = problem->count;
    *l = (struct wh_lister){.problem = problem, .count = (int)n};
    l->tail = WH_NEW(arena, n, int);
    l->start = WH_NEW(arena, n, int);
    l->order = WH_NEW(arena, n, int);
    l->key = WH_NEW(arena, n, int);
    l->placed = WH_NEW(arena, n, bool);
    lay_arcs(arena, l, 0);
    lay_arcs(arena, l, 1);
    if (!pack(arena, l) || !measure(arena, l)) return NULL;
    if ((size_t)l->horizon >= bytes / sizeof l->free[0] / (size_t)(l->words + 1)) return NULL;
    l->free = WH_NEW(arena, (size_t)(l->horizon + 1) * (size_t)l->words, uint64_t);
    return l;
}

static bool fits(const struct wh_lister *l, const uint64_t free[], const uint64_t use[])
{
    for (int w = 0; w < l->words; w++) {
        if ((((free[w] | l->guard[w]) - use[w]) & l->guard[w]) != l->guard[w]) return false;
    }
    return true;
}

/* The first time from `start` at which activity i fits for its whole duration; it is booked. */
static int book(struct wh_lister *l, int i, int start)
{
    const uint64_t *use = &l->use[i * l->words];
    int duration = l->problem->duration[i];
    for (int t = start + duration - 1; t >= start;) {
        if (fits(l, &l->free[t * l->words], use)) {
            t--;
        } else {
            start = t + 1;
            t = start + duration - 1;
        }
    }
    for (int t = start; t < start + duration; t++) {
        for (int w = 0; w < l->words; w++) l->free[t * l->words + w] -= use[w];
    }
    return start;
}

static void place(struct wh_lister *l, int way, int i, int start[])
{
    int earliest = 0;
    for (int k = l->arcs_of[way][i]; k < l->arcs_of[way][i + 1]; k++) {
        const struct wh_list_arc *arc = &l->arcs[way][k];
        if (!l->placed[arc->from]) place(l, way, arc->from, start);
        if (start[arc->from] + arc->wait > earliest) earliest = start[arc->from] + arc->wait;
    }
    start[i] = book(l, i, earliest);
    l->placed[i] = true;
}

/* One serial generation; backwards, start[] are times from the end. */
static int generate(struct wh_lister *l, int way, const int list[], int start[])
{
    int makespan = 0;
    memset(l->placed, 0, (size_t)l->count * sizeof l->placed[0]);
    for (int t = 0; t <= l->horizon; t++) {
        for (int w = 0; w < l->words; w++) l->free[t * l->words + w] = l->full[w];
    }
    for (int n = 0; n < l->count; n++) {
        if (!l->placed[list[n]]) place(l, way, list[n], start);
    }
    for (int i = 0; i < l->count; i++) {
        int end = start[i] + l->problem->duration[i];
        if (end > makespan) makespan = end;
    }
    l->generated++;
    return makespan;
}

int wh_list_forwards(struct wh_lister *lister, const int list[], int start[])
{
    return generate(lister, 0, list, start);
}

void wh_list_sort(int list[], int count, const int key[])
{
    for (int n = 1; n < count; n++) {
        int i = list[n], to = n;
        for (; to > 0 && key[list[to - 1]] > key[i]; to--) list[to] = list[to - 1];
        list[to] = i;
    }
}

int wh_list_justify(struct wh_lister *l, int list[], int start[], int makespan)
{
    const int *duration = l->problem->duration;
    for (int i = 0; i < l->count; i++) l->key[i] = makespan - start[i] - duration[i];
    wh_list_sort(list, l->count, l->key);
    int back = generate(l, 1, list, l->start);
    for (int i = 0; i < l->count; i++) l->key[i] = back - l->start[i] - duration[i];
    wh_list_sort(list, l->count, l->key);
    makespan = generate(l, 0, list, start);
    wh_list_sort(list, l->count, start);
    return makespan;
}
