/* Small random problems against all their orders, timed here by other code than the solver's.
 *
 * order [SEED [CASES]] prints one TAP line a property; a failing case is named by its seed. */
#include "order_brute.h"
#include "order_roster.h"
#include "order_sample.h"
#include "order_several.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The same problem with its tasks in another sequence. */
static void shuffle(const struct sample *from, struct sample *to, uint64_t seed)
{
    size_t n = from->problem.task_count, at[TASKS];
    *to = *from;
    for (size_t t = 0; t < n; t++) at[t] = t;
    for (size_t t = n; t-- > 1;) {
        size_t other = sample_below(&seed, t + 1), kept = at[t];
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
    for (size_t u = 0; u < from->problem.use_count; u++) {
        const struct wh_order_use *use = &from->uses[u];
        to->uses[u] = (struct wh_order_use){use->thing, at[use->from], at[use->to]};
    }
    to->problem.uses = to->uses;
    for (size_t i = 0; i < from->problem.rival_count; i++)
        to->rivals[i] = (struct wh_order_rivals){at[from->rivals[i].one], at[from->rivals[i].other]};
    to->problem.rivals = to->rivals;
    to->problem.tasks = to->tasks;
    to->problem.links = to->links;
    to->problem.needs = to->needs;
    to->problem.windows = to->windows;
}

enum property {
    RIGHT,
    BOUNDED,
    ENOUGH,
    STANDS,
    REFUSED,
    NATURAL,
    AGAIN,
    SHUFFLED,
    RESUMED,
    FACTS,
    SEVERAL,
    SEVERAL_BOUNDED,
    HANDS_BOUNDED,
    PROJECT_BOUNDED,
    ROSTER,
    PROPERTIES
};

static const char *const WORDS[PROPERTIES] = {
    [RIGHT] = "a proven cost is the least there is",
    [BOUNDED] = "no bound is above the least cost",
    [ENOUGH] = "the search leaves no more than `enough`",
    [STANDS] = "the order found costs what wh_order_cost says",
    [REFUSED] = "there is an error just when no order exists",
    [NATURAL] = "the natural order is kept unless more than `keep` is saved",
    [AGAIN] = "the same problem gives the same order",
    [SHUFFLED] = "another sequence of the tasks costs the same",
    [RESUMED] = "with the beginning of the order done the rest costs no more, and begins so",
    [FACTS] = "whatever is done already, in any order, stays as it was done",
    [SEVERAL] = "several fitters: it stands, and the bound is not above the cost",
    [SEVERAL_BOUNDED] = "several fitters: no bound is above the least time of all lists",
    [HANDS_BOUNDED] =
        "several fitters: chains and hands ask no more than an order costs, with ways open and tasks done",
    [PROJECT_BOUNDED] = "several fitters: nor does the project",
    [ROSTER] = "several fitters: needs, waits, crews and set-ups are kept by the roster",
};

struct tally {
    uint64_t seed;
    unsigned long cases, feasible, exact, proven, several_proven; /* exact: the best is asked for */
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
    return wh_order_cost(arena, problem, order->chosen_way, sequence, order->step_count, NULL);
}

static struct wh_order *solve(struct wh_arena *arena, const struct wh_order_problem *problem)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_order *order = NULL;
    return wh_order_solve(arena, problem, &order, &errors) == WH_OK ? order : NULL;
}

/* By its own choice, by a part of it, and with its beginning done. */
static void check_several_bounds(struct wh_arena *arena, struct tally *tally, const struct sample *sample,
                                 const struct wh_order *order)
{
    uint64_t seed = tally->seed ^ 0xB0;
    struct wh_order_problem problem = sample->problem;
    size_t done[TASKS];
    for (size_t i = 0; i < order->step_count; i++) done[i] = order->steps[i].task;
    problem.done = done;
    for (int round = 0; round < 3; round++) {
        struct several_bounds bounds = several_bounds(arena, &problem, order, round ? seed : 0);
        double cost = cost_of(arena, &problem, order);
        hold(tally, HANDS_BOUNDED, bounds.hands <= cost + 1e-6, bounds.hands, cost);
        hold(tally, PROJECT_BOUNDED, bounds.project <= cost + 1e-6, bounds.project, cost);
        if (round == 1) problem.done_count = sample_below(&seed, order->step_count + 1);
    }
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
    const char *broken = roster_broken(&sample->problem, order);
    if (broken) printf("# seed %llu: %s\n", (unsigned long long)tally->seed, broken);
    hold(tally, ROSTER, !broken, order->cost, NAN);
    check_several_bounds(arena, tally, sample, order);
    if (tally->seed % 4 > 0) return; /* all lists take their time */
    double least = brute_cheapest(&sample->problem, wh_order_timer_new(arena, &sample->problem));
    hold(tally, SEVERAL_BOUNDED, order->bound <= least + 1e-6, order->bound, least);
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

static bool begins_with(const struct wh_order *order, const size_t done[], size_t n)
{
    bool begins = order->step_count >= n;
    for (size_t i = 0; begins && i < n; i++) begins = order->steps[i].task == done[i];
    return begins;
}

/* Goes on from a beginning of the order found, and from some tasks that somebody did in any order. */
static void check_resumed(struct wh_arena *arena, struct tally *tally, const struct sample *sample,
                          const struct wh_order *order)
{
    uint64_t seed = tally->seed ^ 0x5EED;
    struct wh_order_problem left = sample->problem;
    size_t done[TASKS] = {0};
    left.done = done;
    left.done_count = sample_below(&seed, order->step_count + 1);
    for (size_t i = 0; i < left.done_count; i++) done[i] = order->steps[i].task;
    const struct wh_order *rest = solve(arena, &left);
    hold(tally, RESUMED,
         rest && begins_with(rest, done, left.done_count) && rest->least <= order->cost + left.enough + 1e-6,
         order->cost, rest ? rest->least : NAN);
    hold(tally, RESUMED, !rest || same(cost_of(arena, &left, rest), rest->cost), order->cost, rest ? rest->cost : NAN);
    for (size_t t = 0; t < TASKS; t++) done[t] = t;
    left.done_count = sample_below(&seed, left.task_count + 1);
    for (size_t i = 0; i < left.done_count; i++) {
        size_t other = i + sample_below(&seed, left.task_count - i), kept = done[i];
        done[i] = done[other];
        done[other] = kept;
    }
    rest = solve(arena, &left);
    if (!rest) return;
    hold(tally, FACTS, begins_with(rest, done, left.done_count), order->cost, rest->cost);
    hold(tally, FACTS, same(cost_of(arena, &left, rest), rest->cost), order->cost, rest->cost);
}

static enum wh_status one_case(struct wh_arena *arena, void *context)
{
    struct tally *tally = context;
    struct sample sample;
    sample_make(&sample, tally->seed);
    struct wh_order *order = solve(arena, &sample.problem);
    double least = brute_cheapest(&sample.problem, NULL);
    hold(tally, REFUSED, (order != NULL) == isfinite(least), least, order ? order->cost : NAN);
    tally->cases++;
    if (!order) return WH_OK;
    tally->feasible++;
    tally->exact += !(sample.problem.enough > 0);
    tally->proven += order->proven && !(sample.problem.enough > 0);
    double cost = cost_of(arena, &sample.problem, order);
    hold(tally, RIGHT, !order->proven || same(order->least, least), order->least, least);
    hold(tally, BOUNDED, order->bound <= least + 1e-6, order->bound, least);
    hold(tally, ENOUGH, order->stop != WH_ORDER_CLOSED || order->least - order->bound <= sample.problem.enough + 1e-6,
         order->least, order->bound);
    hold(tally, STANDS, same(cost, order->cost), cost, order->cost);
    bool keeps = order->natural_cost <= order->least + sample.problem.keep + 1e-6;
    hold(tally, NATURAL, order->natural == keeps, order->natural_cost, order->least);
    hold(tally, NATURAL, same(order->cost, keeps ? order->natural_cost : order->least), order->cost, order->least);
    check_again(arena, tally, &sample, order);
    check_resumed(arena, tally, &sample, order);
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
    unsigned long failed = 0;
    for (int p = 0; p < PROPERTIES; p++) {
        failed += tally.failed[p];
        printf("%s %d - %s\n", tally.failed[p] ? "not ok" : "ok", p + 1, WORDS[p]);
        if (tally.failed[p]) printf("# failed %lu times\n", tally.failed[p]);
    }
    bool mostly = tally.feasible > cases / 3 && tally.proven * 100 >= tally.exact * 97;
    printf("%s %d - most cases have an order, and nearly all are proven\n", mostly ? "ok" : "not ok", PROPERTIES + 1);
    printf("1..%d\n", PROPERTIES + 1);
    return failed == 0 && mostly ? 0 : 1;
}
