#include "order/schedule.h"

#include "order/schedule_breed.h"
#include "order/schedule_prove.h"

#include <string.h>

enum {
    LISTS = 8 /* activities for which a list more is tried for each conflict */,
    FIRST_SLICE = 20,
    SLICE = 500,
    BYTES_AN_ATOM = 64 /* with its clause, its watches and room to grow */
};
#define USUAL_BYTES ((size_t)256 << 20)

struct solver {
    struct wh_arena *arena;
    const struct wh_schedule_problem *problem;
    const struct wh_schedule_limits *limits;
    struct wh_schedule *schedule;
    struct wh_breed *breed; /* NULL: lags form rings, lists are of no use */
    struct wh_core *core;
    struct wh_prover *prover;
    double began;
    uint64_t lists; /* schedules of lists counted */
};

static uint64_t nodes(const struct solver *s)
{
    return (s->breed ? s->breed->lister->generated : 0) + (s->prover ? s->prover->choices : 0);
}

/* Asked all the time: may it go on? */
static bool go_on(void *context)
{
    struct solver *s = context;
    const struct wh_schedule_limits *l = s->limits;
    struct wh_schedule *found = s->schedule;
    found->nodes = nodes(s);
    if (found->end != WH_SCHEDULE_DONE) return false;
    if (l->nodes && found->nodes >= l->nodes) found->end = WH_SCHEDULE_NODES;
    if (l->clock && l->seconds > 0 && l->clock() - s->began >= l->seconds) found->end = WH_SCHEDULE_SECONDS;
    struct wh_schedule_so_far so_far = {found->found, found->makespan, found->bound, found->nodes};
    if (l->stop && l->stop(l->context, &so_far)) found->end = WH_SCHEDULE_ASKED;
    return found->end == WH_SCHEDULE_DONE;
}

static bool closed(const struct solver *s)
{
    return s->schedule->proven || (s->schedule->found && s->schedule->bound >= s->schedule->makespan);
}

static void keep(struct solver *s, const int start[], int makespan)
{
    struct wh_schedule *best = s->schedule;
    if (best->found && makespan >= best->makespan) return;
    if (!best->start) best->start = WH_NEW(s->arena, s->problem->count, int);
    memcpy(best->start, start, s->problem->count * sizeof start[0]);
    best->found = true;
    best->makespan = makespan;
    if (!s->prover) return;
    memcpy(s->prover->best, start, s->problem->count * sizeof start[0]);
    s->prover->best[s->problem->count] = makespan;
    s->prover->found = true;
}

static void breed_on(struct solver *s, uint64_t schedules)
{
    uint64_t last = s->breed->lister->generated + schedules;
    while (!closed(s) && s->breed->lister->generated < last && go_on(s)) {
        wh_breed_on(s->breed, 100, s->schedule->bound);
        keep(s, s->breed->best, s->breed->best_makespan);
    }
}

/* Only what is shorter than the best is looked for from now on. */
static bool tighten(struct solver *s)
{
    if (!s->schedule->found) return true;
    return wh_core_raise(s->core, (struct wh_atom){s->core->sides - 1, 1 - s->schedule->makespan}, WH_BY_CHOICE, 0);
}

/* One search; the bound, the best, or the proof are noted. */
static void prove(struct solver *s, int target, uint64_t conflicts)
{
    struct wh_schedule *best = s->schedule;
    enum wh_proved proved = tighten(s) ? wh_prover_search(s->prover, target, conflicts, go_on, s) : WH_PROVED_NONE;
    if (proved == WH_PROVED_NONE) {
        best->proven = true;
        if (best->found) best->bound = best->makespan;
        return;
    }
    int least = s->core->root[s->core->sides - 2];
    if (proved == WH_PROVED_FOUND) {
        keep(s, s->prover->best, s->prover->best[s->core->count - 1]);
        if (s->breed) wh_breed_take(s->breed, best->start);
    }
    if (least > best->bound) best->bound = least;
}

/* From above: can the best be beaten? */
static void beat(struct solver *s, uint64_t conflicts)
{
    const struct wh_schedule *best = s->schedule;
    prove(s, best->found ? best->makespan - 1 : wh_core_most(s->core, s->core->count - 1), conflicts);
}

/* From below: can the bound be reached? */
static void raise(struct solver *s, uint64_t conflicts)
{
    uint64_t last = s->prover->conflicts + conflicts;
    while (!closed(s) && s->prover->conflicts < last && s->schedule->end == WH_SCHEDULE_DONE)
        prove(s, s->schedule->bound, last - s->prover->conflicts);
}

/* In turns: from below, whether the bound can be reached; from above, whether the best can be beaten; and breeding. */
static void search(struct solver *s)
{
    struct wh_schedule *best = s->schedule;
    if (!best->found) {
        raise(s, FIRST_SLICE);
        if (!closed(s) && go_on(s)) beat(s, SLICE);
    }
    for (uint64_t slice = SLICE; !closed(s) && go_on(s); slice += slice / 4) {
        raise(s, slice);
        uint64_t last = s->prover->conflicts + slice;
        while (!closed(s) && s->prover->conflicts < last && best->end == WH_SCHEDULE_DONE)
            beat(s, last - s->prover->conflicts);
        if (s->breed) breed_on(s, slice * (1 + s->problem->count / LISTS));
    }
}

/* Long enough for some shortest schedule, if there is any: each activity, one after the other, with the longest wait
 * behind it. */
static int horizon_of(const struct wh_schedule_problem *p, struct wh_arena *arena)
{
    int *most = WH_NEW(arena, p->count, int), sum = 0;
    memcpy(most, p->duration, p->count * sizeof most[0]);
    for (size_t k = 0; k < p->lag_count; k++) {
        if (p->lags[k].wait > most[p->lags[k].from]) most[p->lags[k].from] = p->lags[k].wait;
    }
    for (size_t k = 0; k < p->apart_count; k++) {
        const struct wh_schedule_apart *apart = &p->aparts[k];
        if (apart->first > most[apart->a]) most[apart->a] = apart->first;
        if (apart->last > most[apart->b]) most[apart->b] = apart->last;
    }
    for (size_t i = 0; i < p->count; i++) sum += most[i];
    return sum;
}

static bool fits_alone(const struct wh_schedule_problem *p)
{
    for (size_t i = 0; i < p->count; i++) {
        for (size_t r = 0; r < p->resource_count; r++) {
            if (p->duration[i] > 0 && p->use[i * p->resource_count + r] > p->capacity[r]) return false;
        }
    }
    return true;
}

static void solve(struct solver *s)
{
    struct wh_schedule *best = s->schedule;
    int horizon = horizon_of(s->problem, s->arena);
    size_t bytes = s->limits->bytes ? s->limits->bytes : USUAL_BYTES;
    struct wh_lister *lister = s->problem->apart_count ? NULL : wh_lister_new(s->arena, s->problem, bytes / 4);
    struct wh_core *loose = wh_core_new(s->arena, s->problem, horizon);
    if (!loose) {
        best->proven = true;
        return;
    }
    best->bound = wh_core_least(loose, loose->count - 1);
    if (lister) {
        s->breed = wh_breed_new(s->arena, lister);
        keep(s, s->breed->best, s->breed->best_makespan);
        breed_on(s, s->problem->count * s->problem->count);
        horizon = best->makespan;
    }
    if (closed(s)) return;
    s->core = wh_core_new(s->arena, s->problem, horizon);
    s->prover = wh_prover_new(s->arena, s->core, bytes / BYTES_AN_ATOM);
    if (best->found) {
        memcpy(s->prover->best, best->start, s->problem->count * sizeof best->start[0]);
        s->prover->best[s->problem->count] = best->makespan;
        s->prover->found = true;
    }
    search(s);
}

struct wh_schedule wh_schedule_solve(struct wh_arena *arena, const struct wh_schedule_problem *problem,
                                     const struct wh_schedule_limits *limits)
{
    struct wh_schedule schedule = {0};
    struct solver s = {.arena = arena, .problem = problem, .limits = limits, .schedule = &schedule};
    if (problem->count == 0) {
        schedule.found = schedule.proven = true;
        schedule.start = WH_NEW(arena, 1, int);
        schedule.end = WH_SCHEDULE_DONE;
        return schedule;
    }
    if (limits->clock) s.began = limits->clock();
    if (fits_alone(problem))
        solve(&s);
    else
        schedule.proven = true;
    schedule.nodes = nodes(&s);
    if (schedule.found && schedule.bound >= schedule.makespan) schedule.proven = true;
    if (schedule.proven) schedule.end = WH_SCHEDULE_DONE;
    return schedule;
}
