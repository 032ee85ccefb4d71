/* Small random problems against all their orders, timed here by other code than the solver's.
 *
 * order [SEED [CASES]] prints one TAP line a property; a failing case is named by its seed. */
#include "order/order.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TASKS = 8, LINKS = 12, NEEDS = 4, WINDOWS = 3, VALUES = 3, WAYS = 2 };

/* A problem with all it points to. */
struct sample {
    struct wh_order_problem problem;
    struct wh_order_task tasks[TASKS];
    struct wh_order_need needs[NEEDS];
    struct wh_order_way ways[NEEDS][WAYS], sets[WH_ORDER_DIMENSIONS][1];
    size_t lists[NEEDS][WAYS][2], set_lists[WH_ORDER_DIMENSIONS][2];
    struct wh_order_link links[LINKS];
    struct wh_order_window windows[WINDOWS];
    double cost[WH_ORDER_DIMENSIONS][VALUES * VALUES];
};

static uint64_t next_random(uint64_t *seed)
{
    *seed += 0x9E3779B97F4A7C15U;
    uint64_t z = *seed;
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9U;
    z = (z ^ z >> 27) * 0x94D049BB133111EBU;
    return z ^ z >> 31;
}

static size_t below(uint64_t *seed, size_t n)
{
    return (size_t)(next_random(seed) % n);
}

static bool chance(uint64_t *seed, size_t of)
{
    return below(seed, of) == 0;
}

static void make_dimension(struct sample *s, size_t d, uint64_t *seed)
{
    struct wh_order_dimension *dimension = &s->problem.dimensions[d];
    size_t n = 2 + below(seed, VALUES - 1);
    for (size_t i = 0; i < n * n; i++) s->cost[d][i] = (double)(1 + below(seed, 6));
    for (size_t i = 0; i < n; i++) s->cost[d][i * n + i] = 0;
    bool metric = !chance(seed, 6);
    for (size_t k = 0; metric && k < n; k++) {
        for (size_t i = 0; i < n * n; i++) {
            s->cost[d][i] = fmin(s->cost[d][i], s->cost[d][i / n * n + k] + s->cost[d][k * n + i % n]);
        }
    }
    *dimension = (struct wh_order_dimension){.values = n, .cost = s->cost[d], .start = (int)below(seed, n + 1) - 1};
    dimension->shared = chance(seed, 2);
    if (s->problem.window_count == 0 || chance(seed, 2)) return;
    s->sets[d][0] = (struct wh_order_way){s->set_lists[d], 1 + below(seed, 2)};
    for (size_t i = 0; i < 2; i++) s->set_lists[d][i] = below(seed, s->problem.window_count);
    dimension->open_sets = s->sets[d];
    dimension->open_set_count = 1;
}

static void make_tasks(struct sample *s, size_t n, uint64_t *seed)
{
    bool lone = chance(seed, 2);
    for (size_t t = 0; t < n; t++) {
        struct wh_order_task *task = &s->tasks[t];
        *task = (struct wh_order_task){.minutes = (double)below(seed, 8), .crew = 1 + chance(seed, 5)};
        task->wanted = !chance(seed, 3);
        task->alone = lone && chance(seed, 4);
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
            size_t values = s->problem.dimensions[d].values;
            task->set_up[d] = values && !chance(seed, 3) ? (int)below(seed, values) : WH_ORDER_ANY;
        }
    }
}

/* Links mostly lead from a lower to a higher number, so that few make rings. */
static void make_links(struct sample *s, size_t n, uint64_t *seed)
{
    size_t count = below(seed, n + 2);
    for (size_t i = 0; i < count && i < LINKS; i++) {
        size_t a = below(seed, n), b = below(seed, n);
        if (a == b) continue;
        if (a > b && !chance(seed, 30)) {
            size_t c = a;
            a = b;
            b = c;
        }
        struct wh_order_link *link = &s->links[s->problem.link_count++];
        *link = (struct wh_order_link){.first = a, .after = b, .most = INFINITY, .joined = chance(seed, 6)};
        if (chance(seed, 4)) link->least = (double)below(seed, 8);
        if (chance(seed, 6)) link->most = link->least + (double)below(seed, 8);
    }
}

static void make_needs(struct sample *s, size_t n, uint64_t *seed)
{
    size_t count = below(seed, NEEDS + 1);
    for (size_t i = 0; i < count; i++) {
        struct wh_order_need *need = &s->needs[i];
        *need = (struct wh_order_need){below(seed, n), chance(seed, 2), s->ways[i], 1 + below(seed, WAYS)};
        for (size_t w = 0; w < need->way_count; w++) {
            s->ways[i][w] = (struct wh_order_way){s->lists[i][w], 1 + below(seed, 2)};
            for (size_t k = 0; k < 2; k++) s->lists[i][w][k] = below(seed, n);
        }
    }
    s->problem.need_count = count;
}

static void make(struct sample *s, uint64_t seed)
{
    memset(s, 0, sizeof *s);
    size_t n = 2 + below(&seed, TASKS - 1);
    struct wh_order_problem *p = &s->problem;
    *p = (struct wh_order_problem){.tasks = s->tasks,
                                   .task_count = n,
                                   .needs = s->needs,
                                   .links = s->links,
                                   .windows = s->windows,
                                   .fitters = 1,
                                   .keep = (double)below(&seed, 3)};
    p->window_count = below(&seed, WINDOWS + 1);
    size_t dimensions = 1 + below(&seed, WH_ORDER_DIMENSIONS);
    for (size_t d = 0; d < dimensions; d++) make_dimension(s, d, &seed);
    for (size_t d = dimensions; d < WH_ORDER_DIMENSIONS; d++) p->dimensions[d].start = WH_ORDER_ANY;
    make_tasks(s, n, &seed);
    make_links(s, n, &seed);
    make_needs(s, n, &seed);
    for (size_t w = 0; w < p->window_count; w++) {
        s->windows[w] = (struct wh_order_window){below(&seed, n), below(&seed, n)};
        s->tasks[s->windows[w].opens].alone = false;
    }
}

/* All orders of a problem: the choices of ways one by one, of each all sequences. */
struct brute {
    const struct wh_order_problem *problem;
    int way[NEEDS];
    bool chosen[TASKS];
    size_t sequence[TASKS];
    size_t count, place[TASKS];
    double start[TASKS], end[TASKS], least[TASKS];
    double best;
};

static bool is_before(const struct brute *b, size_t t, size_t i)
{
    return b->place[t] < i;
}

static bool is_open(const struct brute *b, const struct wh_order_way *set, size_t i)
{
    for (size_t k = 0; k < set->count; k++) {
        const struct wh_order_window *window = &b->problem->windows[set->tasks[k]];
        if (is_before(b, window->opens, i) && !is_before(b, window->closes, i)) return true;
    }
    return false;
}

/* One fitter works off the sequence, starting nothing before its `least`. */
static double work_off(struct brute *b)
{
    const struct wh_order_problem *p = b->problem;
    double now = 0, last = 0;
    int held[WH_ORDER_DIMENSIONS];
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) held[d] = p->dimensions[d].start;
    for (size_t i = 0; i < b->count; i++) {
        size_t t = b->sequence[i];
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
            int to = p->tasks[t].set_up[d], from = held[d];
            if (to < 0 || to == from) continue;
            held[d] = to;
            if (from < 0) continue;
            now += p->dimensions[d].cost[(size_t)from * p->dimensions[d].values + (size_t)to];
            for (size_t s = 0; s < p->dimensions[d].open_set_count; s++) {
                if (!is_open(b, &p->dimensions[d].open_sets[s], i)) return INFINITY;
            }
        }
        double start = fmax(now, b->least[t]);
        for (size_t k = 0; k < p->link_count; k++) {
            const struct wh_order_link *link = &p->links[k];
            if (link->after == t && b->chosen[link->first]) start = fmax(start, b->end[link->first] + link->least);
        }
        for (size_t k = 0; k < p->need_count; k++) {
            if (p->needs[k].task != t || !p->needs[k].before) continue;
            const struct wh_order_way *way = &p->needs[k].ways[b->way[k]];
            for (size_t m = 0; m < way->count; m++) start = fmax(start, b->end[way->tasks[m]]);
        }
        b->start[t] = start;
        b->end[t] = start + p->tasks[t].minutes;
        now = p->tasks[t].alone ? start : b->end[t];
        last = fmax(last, b->end[t]);
    }
    return last;
}

/* The greatest waits push first tasks back until they hold, or for ever. */
static double timed(struct brute *b)
{
    for (size_t t = 0; t < TASKS; t++) b->least[t] = 0;
    for (int round = 0; round < 40; round++) {
        double cost = work_off(b);
        bool late = false;
        for (size_t k = 0; k < b->problem->link_count && isfinite(cost); k++) {
            const struct wh_order_link *link = &b->problem->links[k];
            if (!b->chosen[link->first] || !b->chosen[link->after]) continue;
            double least = b->start[link->after] - link->most - b->problem->tasks[link->first].minutes;
            if (least <= b->start[link->first] + 1e-9) continue;
            b->least[link->first] = least;
            late = true;
        }
        if (!late) return cost;
    }
    return INFINITY;
}

/* May task t stand at place i, after those placed so far? */
static bool may_stand(const struct brute *b, size_t t, size_t i)
{
    const struct wh_order_problem *p = b->problem;
    for (size_t k = 0; k < p->link_count; k++) {
        const struct wh_order_link *link = &p->links[k];
        if (!b->chosen[link->first] || !b->chosen[link->after]) continue;
        if (link->after == t && !is_before(b, link->first, i)) return false;
        if (link->joined && link->after == t && b->place[link->first] + 1 != i) return false;
        if (link->joined && i > 0 && link->first == b->sequence[i - 1] && link->after != t) return false;
    }
    for (size_t k = 0; k < p->need_count; k++) {
        if (p->needs[k].task != t || !p->needs[k].before) continue;
        const struct wh_order_way *way = &p->needs[k].ways[b->way[k]];
        for (size_t m = 0; m < way->count; m++) {
            if (!is_before(b, way->tasks[m], i)) return false;
        }
    }
    return true;
}

static void all_sequences(struct brute *b, size_t i)
{
    if (i == b->count) {
        b->best = fmin(b->best, timed(b));
        return;
    }
    for (size_t t = 0; t < b->problem->task_count; t++) {
        if (!b->chosen[t] || is_before(b, t, i) || !may_stand(b, t, i)) continue;
        b->sequence[i] = t;
        b->place[t] = i;
        all_sequences(b, i + 1);
        b->place[t] = TASKS;
    }
}

static void all_choices(struct brute *b)
{
    const struct wh_order_problem *p = b->problem;
    for (size_t k = 0; k < p->need_count; k++) {
        const struct wh_order_need *need = &p->needs[k];
        if (!b->chosen[need->task] || b->way[k] >= 0) continue;
        struct brute kept = *b;
        for (size_t w = 0; w < need->way_count; w++) {
            double best = b->best;
            *b = kept;
            b->best = best;
            b->way[k] = (int)w;
            for (size_t m = 0; m < need->ways[w].count; m++) b->chosen[need->ways[w].tasks[m]] = true;
            all_choices(b);
        }
        return;
    }
    b->count = 0;
    for (size_t t = 0; t < p->task_count; t++) b->count += b->chosen[t];
    for (size_t t = 0; t < TASKS; t++) b->place[t] = TASKS;
    all_sequences(b, 0);
}

static double cheapest(const struct wh_order_problem *problem)
{
    struct brute b = {.problem = problem, .best = INFINITY};
    for (size_t k = 0; k < NEEDS; k++) b.way[k] = -1;
    for (size_t t = 0; t < problem->task_count; t++) b.chosen[t] = problem->tasks[t].wanted;
    all_choices(&b);
    return b.best;
}

/* The same problem with its tasks in another sequence. */
static void shuffle(const struct sample *from, struct sample *to, uint64_t seed)
{
    size_t n = from->problem.task_count, at[TASKS];
    *to = *from;
    for (size_t t = 0; t < n; t++) at[t] = t;
    for (size_t t = n; t-- > 1;) {
        size_t other = below(&seed, t + 1), kept = at[t];
        at[t] = at[other];
        at[other] = kept;
    }
    for (size_t t = 0; t < n; t++) to->tasks[at[t]] = from->tasks[t];
    for (size_t i = 0; i < LINKS; i++) {
        to->links[i].first = at[from->links[i].first];
        to->links[i].after = at[from->links[i].after];
    }
    for (size_t i = 0; i < from->problem.need_count; i++) {
        to->needs[i].task = at[from->needs[i].task];
        to->needs[i].ways = to->ways[i];
        for (size_t w = 0; w < WAYS; w++) {
            for (size_t k = 0; k < 2; k++) to->lists[i][w][k] = at[from->lists[i][w][k]];
            to->ways[i][w].tasks = to->lists[i][w];
        }
    }
    for (size_t w = 0; w < from->problem.window_count; w++) {
        to->windows[w] = (struct wh_order_window){at[from->windows[w].opens], at[from->windows[w].closes]};
    }
    to->problem.tasks = to->tasks;
    to->problem.links = to->links;
    to->problem.needs = to->needs;
    to->problem.windows = to->windows;
}

enum property { RIGHT, BOUNDED, STANDS, REFUSED, NATURAL, AGAIN, SHUFFLED, SEVERAL, PROPERTIES };

static const char *const WORDS[PROPERTIES] = {
    [RIGHT] = "a proven cost is the least there is",
    [BOUNDED] = "no bound is above the least cost",
    [STANDS] = "the order found costs what wh_order_cost says",
    [REFUSED] = "there is an error just when no order exists",
    [NATURAL] = "the natural order is kept unless more than `keep` is saved",
    [AGAIN] = "the same problem gives the same order",
    [SHUFFLED] = "another sequence of the tasks costs the same",
    [SEVERAL] = "several fitters: it stands, and the bound is not above the cost",
};

struct tally {
    uint64_t seed;
    unsigned long cases, feasible, proven, several_proven;
    unsigned long failed[PROPERTIES];
};

static void hold(struct tally *tally, enum property property, bool good, double a, double b)
{
    if (good) return;
    if (tally->failed[property]++ < 3)
        printf("# seed %llu: %s: %g, %g\n", (unsigned long long)tally->seed, WORDS[property], a, b);
}

static bool same(double a, double b)
{
    return fabs(a - b) <= 1e-6 || (isinf(a) && isinf(b));
}

static double cost_of(struct wh_arena *arena, const struct wh_order_problem *problem, const struct wh_order *order)
{
    size_t sequence[TASKS];
    for (size_t i = 0; i < order->step_count; i++) sequence[i] = order->steps[i].task;
    return wh_order_cost(arena, problem, sequence, order->step_count, NULL);
}

static struct wh_order *solve(struct wh_arena *arena, const struct wh_order_problem *problem)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_order *order = NULL;
    return wh_order_solve(arena, problem, &order, &errors) == WH_OK ? order : NULL;
}

static void check_several(struct wh_arena *arena, struct tally *tally, struct sample *sample)
{
    sample->problem.fitters = 2 + (int)(tally->seed % 3);
    struct wh_order *order = solve(arena, &sample->problem);
    if (!order) return;
    double cost = cost_of(arena, &sample->problem, order);
    hold(tally, SEVERAL, same(cost, order->cost), cost, order->cost);
    hold(tally, SEVERAL, order->bound <= order->least + 1e-6 && order->least <= order->cost + 1e-6, order->bound,
         order->cost);
    tally->several_proven += order->proven;
}

static void check_again(struct wh_arena *arena, struct tally *tally, const struct sample *sample,
                        const struct wh_order *order)
{
    const struct wh_order *again = solve(arena, &sample->problem);
    bool alike = again && again->step_count == order->step_count && again->nodes == order->nodes;
    for (size_t i = 0; alike && i < order->step_count; i++) alike = again->steps[i].task == order->steps[i].task;
    hold(tally, AGAIN, alike, order->cost, again ? again->cost : NAN);
    struct sample shuffled;
    shuffle(sample, &shuffled, tally->seed);
    const struct wh_order *other = solve(arena, &shuffled.problem);
    bool unproven = other && !(other->proven && order->proven);
    hold(tally, SHUFFLED, other && (unproven || same(other->least, order->least)), order->least,
         other ? other->least : NAN);
}

static enum wh_status one_case(struct wh_arena *arena, void *context)
{
    struct tally *tally = context;
    struct sample sample;
    make(&sample, tally->seed);
    struct wh_order *order = solve(arena, &sample.problem);
    double least = cheapest(&sample.problem);
    hold(tally, REFUSED, (order != NULL) == isfinite(least), least, order ? order->cost : NAN);
    tally->cases++;
    if (!order) return WH_OK;
    tally->feasible++;
    tally->proven += order->proven;
    double cost = cost_of(arena, &sample.problem, order);
    hold(tally, RIGHT, !order->proven || same(order->least, least), order->least, least);
    hold(tally, BOUNDED, order->bound <= least + 1e-6, order->bound, least);
    hold(tally, STANDS, same(cost, order->cost), cost, order->cost);
    bool keeps = order->natural_cost <= order->least + sample.problem.keep + 1e-6;
    hold(tally, NATURAL, order->natural == keeps, order->natural_cost, order->least);
    hold(tally, NATURAL, same(order->cost, keeps ? order->natural_cost : order->least), order->cost, order->least);
    check_again(arena, tally, &sample, order);
    check_several(arena, tally, &sample);
    return WH_OK;
}

int main(int argc, char **argv)
{
    uint64_t seed = argc > 1 ? strtoull(argv[1], NULL, 10) : 1;
    unsigned long cases = argc > 2 ? strtoul(argv[2], NULL, 10) : 4000;
    struct tally tally = {.seed = seed};
    for (unsigned long i = 0; i < cases; i++, tally.seed++) {
        enum wh_status status = wh_arena_run((size_t)256 << 20, one_case, &tally);
        if (status) printf("# seed %llu: %s\n", (unsigned long long)tally.seed, wh_status_words(status));
        tally.failed[REFUSED] += status != WH_OK;
    }
    printf("# seeds %llu to %llu: %lu cases, %lu with an order, %lu proven, %lu proven for several fitters\n",
           (unsigned long long)seed, (unsigned long long)tally.seed - 1, tally.cases, tally.feasible, tally.proven,
           tally.several_proven);
    for (int p = 0; p < PROPERTIES; p++) {
        printf("%s %d - %s\n", tally.failed[p] ? "not ok" : "ok", p + 1, WORDS[p]);
        if (tally.failed[p]) printf("# failed %lu times\n", tally.failed[p]);
    }
    bool mostly = tally.feasible > cases / 3 && tally.proven * 100 >= tally.feasible * 97;
    printf("%s %d - most cases have an order, and nearly all are proven\n", mostly ? "ok" : "not ok", PROPERTIES + 1);
    printf("1..%d\n", PROPERTIES + 1);
    return 0;
}
