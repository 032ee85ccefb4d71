#include "order/schedule.h"

#include <limits.h>

static const char *check_numbers(const struct wh_schedule_problem *p, long long *sum)
{
    for (size_t i = 0; i < p->count; i++) {
        if (p->duration[i] < 0) return "a duration is below 0";
        *sum += p->duration[i];
    }
    for (size_t r = 0; r < p->resource_count; r++) {
        if (p->capacity[r] < 0 || p->capacity[r] > INT_MAX / 4) return "a capacity is below 0, or very large";
    }
    for (size_t k = 0; k < p->count * p->resource_count; k++) {
        if (p->use[k] < 0 || p->use[k] > INT_MAX / 4) return "a use of a resource is below 0, or very large";
    }
    return NULL;
}

const char *wh_schedule_sound(const struct wh_schedule_problem *p)
{
    long long sum = 0;
    const char *why = check_numbers(p, &sum);
    if (why) return why;
    if (p->count > 1 << 20) return "more than a million activities";
    for (size_t k = 0; k < p->lag_count; k++) {
        if (p->lags[k].from >= p->count || p->lags[k].to >= p->count)
            return "a lag names an activity that is not there";
        sum += p->lags[k].wait < 0 ? -(long long)p->lags[k].wait : p->lags[k].wait;
    }
    for (size_t k = 0; k < p->apart_count; k++) {
        const struct wh_schedule_apart *apart = &p->aparts[k];
        if (apart->a >= p->count || apart->b >= p->count || apart->a == apart->b) return "a pair held apart is none";
        if (apart->first < 0 || apart->last < 0) return "a wait of a pair held apart is below 0";
        if (apart->first > 1 << 24 || apart->last > 1 << 24) return "a wait of a pair held apart is too large";
    }
    return sum < 1 << 28 ? NULL : "durations and waits are too large";
}

/* The load only grows where an activity starts, so it is enough to look there. */
static bool load_is_kept(const struct wh_schedule_problem *p, const int start[], size_t at, size_t r)
{
    long long load = 0;
    for (size_t i = 0; i < p->count; i++) {
        bool runs = start[i] <= start[at] && start[at] < start[i] + p->duration[i];
        if (runs) load += p->use[i * p->resource_count + r];
    }
    return load <= p->capacity[r];
}

const char *wh_schedule_check(struct wh_arena *arena, const struct wh_schedule_problem *p, const int start[],
                              int *ret_makespan)
{
    int makespan = 0;
    for (size_t k = 0; k < p->lag_count; k++) {
        const struct wh_schedule_lag *lag = &p->lags[k];
        if (start[lag->to] - start[lag->from] >= lag->wait) continue;
        return wh_arena_print(arena, "activity %zu starts %d after activity %zu, not at least %d", lag->to,
                              start[lag->to] - start[lag->from], lag->from, lag->wait);
    }
    for (size_t k = 0; k < p->apart_count; k++) {
        const struct wh_schedule_apart *apart = &p->aparts[k];
        int behind = start[apart->b] - start[apart->a];
        if (behind >= apart->first || -behind >= apart->last) continue;
        return wh_arena_print(arena, "activities %zu and %zu are not held apart", apart->a, apart->b);
    }
    for (size_t i = 0; i < p->count; i++) {
        if (start[i] < 0) return wh_arena_print(arena, "activity %zu starts before 0", i);
        if (start[i] + p->duration[i] > makespan) makespan = start[i] + p->duration[i];
        for (size_t r = 0; r < p->resource_count; r++) {
            if (load_is_kept(p, start, i, r)) continue;
            return wh_arena_print(arena, "resource %zu is overloaded at %d", r, start[i]);
        }
    }
    if (ret_makespan) *ret_makespan = makespan;
    return NULL;
}
