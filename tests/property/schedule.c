/* Small random projects with least and greatest waits against all their schedules, tried one by one.
 *
 * schedule [SEED [CASES]] prints one TAP line a property; a failing case is named by its seed. */
#include "order/schedule.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

enum { ACTIVITIES = 6, RESOURCES = 2, LAGS = 10, APARTS = 3, FAR = 1000 };

struct sample {
    struct wh_schedule_problem problem;
    int duration[ACTIVITIES], capacity[RESOURCES], use[ACTIVITIES * RESOURCES];
    struct wh_schedule_lag lags[LAGS + 1];
    struct wh_schedule_apart aparts[APARTS];
};

static int below(uint64_t *seed, int n)
{
    *seed = *seed * 6364136223846793005U + 1442695040888963407U;
    return (int)((*seed >> 33) % (uint64_t)n);
}

/* Half of them have lags that form rings; of the others, some have a ring that binds nothing, so that lists cannot be
 * used and the proof search stands alone. */
static void make(struct sample *s, uint64_t seed)
{
    uint64_t r = seed * 2654435761U + 12345;
    for (int k = 0; k < 5; k++) below(&r, 2);
    size_t n = 1 + (size_t)below(&r, ACTIVITIES), resources = (size_t)below(&r, RESOURCES + 1);
    bool rings = below(&r, 2), slack_ring = n > 1 && below(&r, 2);
    for (size_t k = 0; k < resources; k++) s->capacity[k] = 1 + below(&r, 4);
    for (size_t i = 0; i < n; i++) {
        s->duration[i] = below(&r, 5);
        for (size_t k = 0; k < resources; k++) s->use[i * resources + k] = below(&r, 3) ? below(&r, 4) : 0;
    }
    size_t lags = n > 1 ? (size_t)below(&r, LAGS) : 0;
    for (size_t k = 0; k < lags; k++) {
        size_t a = (size_t)below(&r, (int)n), b = (size_t)below(&r, (int)n);
        if (!rings && a > b) {
            size_t kept = a;
            a = b;
            b = kept;
        }
        if (a == b) b = (a + 1) % n;
        int wait = a < b ? below(&r, 3) ? s->duration[a] : below(&r, 6) : -below(&r, 9);
        s->lags[k] = (struct wh_schedule_lag){a, b, !rings && a > b ? 0 : wait};
        if (!rings && a > b) k--, lags--;
    }
    if (slack_ring) {
        s->lags[lags++] = (struct wh_schedule_lag){0, 1, -FAR};
        if (lags <= LAGS) s->lags[lags++] = (struct wh_schedule_lag){1, 0, -FAR};
    }
    size_t aparts = n > 1 && below(&r, 2) ? 1 + (size_t)below(&r, APARTS) : 0;
    for (size_t k = 0; k < aparts; k++) {
        size_t a = (size_t)below(&r, (int)n), b = (a + 1 + (size_t)below(&r, (int)n - 1)) % n;
        s->aparts[k] = (struct wh_schedule_apart){a, b, s->duration[a] + below(&r, 3), s->duration[b] + below(&r, 3)};
    }
    s->problem =
        (struct wh_schedule_problem){n, s->duration, resources, s->capacity, s->use, s->lags, lags, s->aparts, aparts};
}

struct brute {
    const struct wh_schedule_problem *p;
    int start[ACTIVITIES];
    int best;
};

static bool stands(const struct brute *b, size_t i)
{
    const struct wh_schedule_problem *p = b->p;
    for (size_t k = 0; k < p->lag_count; k++) {
        const struct wh_schedule_lag *lag = &p->lags[k];
        if (lag->from <= i && lag->to <= i && b->start[lag->to] < b->start[lag->from] + lag->wait) return false;
    }
    for (size_t k = 0; k < p->apart_count; k++) {
        const struct wh_schedule_apart *apart = &p->aparts[k];
        if (apart->a > i || apart->b > i) continue;
        int behind = b->start[apart->b] - b->start[apart->a];
        if (behind < apart->first && -behind < apart->last) return false;
    }
    for (size_t r = 0; r < p->resource_count; r++) {
        for (int t = b->start[i]; t < b->start[i] + p->duration[i]; t++) {
            int load = 0;
            for (size_t j = 0; j <= i; j++) {
                if (b->start[j] <= t && t < b->start[j] + p->duration[j]) load += p->use[j * p->resource_count + r];
            }
            if (load > p->capacity[r]) return false;
        }
    }
    return true;
}

/* All schedules shorter than the best so far. */
static void try_all(struct brute *b, size_t i, int end)
{
    if (i == b->p->count) {
        b->best = end;
        return;
    }
    for (int t = 0; t + b->p->duration[i] < b->best && end < b->best; t++) {
        int to = t + b->p->duration[i];
        b->start[i] = t;
        if (stands(b, i)) try_all(b, i + 1, to > end ? to : end);
    }
}

/* One more than the longest that some shortest schedule can be. */
static int too_long(const struct wh_schedule_problem *p)
{
    int sum = 1;
    for (size_t i = 0; i < p->count; i++) {
        int most = p->duration[i];
        for (size_t k = 0; k < p->lag_count; k++) {
            if (p->lags[k].from == i && p->lags[k].wait > most) most = p->lags[k].wait;
        }
        for (size_t k = 0; k < p->apart_count; k++) {
            const struct wh_schedule_apart *apart = &p->aparts[k];
            if (apart->a == i && apart->first > most) most = apart->first;
            if (apart->b == i && apart->last > most) most = apart->last;
        }
        sum += most;
    }
    return sum;
}

enum property { RIGHT, STANDS, PROVEN, BOUNDED, AGAIN, STOPS, PROPERTIES };

static const char *const WORDS[PROPERTIES] = {
    [RIGHT] = "the makespan is the least there is, and none is found just where there is none",
    [STANDS] = "the schedule found keeps every lag and every resource",
    [PROVEN] = "without a limit all is proven",
    [BOUNDED] = "stopped early, the bound is not above the least makespan",
    [AGAIN] = "the same problem gives the same schedule after the same nodes",
    [STOPS] = "it stops when asked",
};

struct tally {
    uint64_t seed;
    unsigned long cases, feasible;
    unsigned long failed[PROPERTIES];
};

static void hold(struct tally *tally, enum property property, bool good, int a, int b)
{
    if (good) return;
    if (tally->failed[property]++ < 3) printf("# seed %" PRIu64 ": %s: %d, %d\n", tally->seed, WORDS[property], a, b);
}

static bool at_once(void *context, const struct wh_schedule_so_far *so_far)
{
    (void)context;
    (void)so_far;
    return true;
}

static void check_stops(struct wh_arena *arena, struct tally *tally, const struct sample *s, int least)
{
    struct wh_schedule_limits few = {.nodes = 1 + tally->seed % 40}, asked = {.stop = at_once};
    struct wh_schedule stopped = wh_schedule_solve(arena, &s->problem, &few);
    hold(tally, BOUNDED, stopped.bound <= least, stopped.bound, least);
    stopped = wh_schedule_solve(arena, &s->problem, &asked);
    hold(tally, STOPS, stopped.proven || stopped.end == WH_SCHEDULE_ASKED, (int)stopped.end, stopped.bound);
    hold(tally, BOUNDED, stopped.bound <= least, stopped.bound, least);
}

static enum wh_status one_case(struct wh_arena *arena, void *context)
{
    struct tally *tally = context;
    struct sample s;
    make(&s, tally->seed);
    struct brute b = {.p = &s.problem, .best = too_long(&s.problem)};
    int none = b.best, makespan = 0;
    try_all(&b, 0, 0);
    struct wh_schedule_limits limits = {0};
    const char *unsound = wh_schedule_sound(&s.problem);
    if (unsound) printf("# seed %" PRIu64 ": %s\n", tally->seed, unsound);
    struct wh_schedule found = wh_schedule_solve(arena, &s.problem, &limits);
    tally->cases++;
    tally->feasible += b.best < none;
    hold(tally, PROVEN, found.proven, found.makespan, found.bound);
    hold(tally, RIGHT, found.found == (b.best < none) && (!found.found || found.makespan == b.best), found.makespan,
         b.best);
    if (found.found) {
        const char *why = wh_schedule_check(arena, &s.problem, found.start, &makespan);
        hold(tally, STANDS, !why && makespan == found.makespan, makespan, found.makespan);
    }
    struct wh_schedule again = wh_schedule_solve(arena, &s.problem, &limits);
    bool alike = again.nodes == found.nodes && again.found == found.found;
    for (size_t i = 0; alike && found.found && i < s.problem.count; i++) alike = again.start[i] == found.start[i];
    hold(tally, AGAIN, alike, (int)again.nodes, (int)found.nodes);
    if (b.best < none) check_stops(arena, tally, &s, b.best);
    return WH_OK;
}

int main(int argc, char **argv)
{
    uint64_t seed = argc > 1 ? strtoull(argv[1], NULL, 10) : 1;
    unsigned long cases = argc > 2 ? strtoul(argv[2], NULL, 10) : 3000;
    struct tally tally = {.seed = seed};
    for (unsigned long i = 0; i < cases; i++, tally.seed++) {
        enum wh_status status = wh_arena_run((size_t)256 << 20, one_case, &tally);
        if (status) printf("# seed %" PRIu64 ": %s\n", tally.seed, wh_status_words(status));
        tally.failed[RIGHT] += status != WH_OK;
    }
    printf("# seeds %" PRIu64 " to %" PRIu64 ": %lu cases, %lu with a schedule\n", seed, tally.seed - 1, tally.cases,
           tally.feasible);
    unsigned long failed = 0;
    for (int p = 0; p < PROPERTIES; p++) {
        failed += tally.failed[p];
        printf("%s %d - %s\n", tally.failed[p] ? "not ok" : "ok", p + 1, WORDS[p]);
        if (tally.failed[p]) printf("# failed %lu times\n", tally.failed[p]);
    }
    bool mixed = tally.feasible > cases / 3 && tally.feasible < cases;
    printf("%s %d - many cases have a schedule, some have none\n1..%d\n", mixed ? "ok" : "not ok", PROPERTIES + 1,
           PROPERTIES + 1);
    return failed == 0 && mixed ? 0 : 1;
}
