/* An order that saves more than five minutes need not leave the usual one everywhere: what of it saves little goes back
 * to where a fitter expects it, as long as all of that together costs less than the five minutes. */
#include "order/done.h"
#include "order/timing.h"
#include "plan/tasks.h"

#include <math.h>
#include <string.h>

enum { MOST_TRIES = 20000, MOST_PLACES = 16 };

struct settler {
    struct wh_order_timer *timer;
    size_t n, first; /* of tasks; the first that is not done */
    size_t *sequence, *trial;
    double cost, most; /* minutes: now; a move never leads above it */
    size_t tries;
};

/* Puts the task at `from` before the one at `to`, if that costs at most `more` minutes more. */
static bool move(struct settler *s, size_t from, size_t to, double more)
{
    memcpy(s->trial, s->sequence, s->n * sizeof *s->trial);
    memmove(s->trial + to + 1, s->trial + to, (from - to) * sizeof *s->trial);
    s->trial[to] = s->sequence[from];
    s->tries++;
    double cost = wh_order_time(s->timer, s->trial, s->n);
    if (!(cost <= fmin(s->cost + more, s->most))) return false;
    memcpy(s->sequence, s->trial, s->n * sizeof *s->trial);
    s->cost = cost;
    return true;
}

/* The tasks are numbered in the usual order: one that stands right behind higher numbers goes before them. */
static bool move_earlier(struct settler *s, size_t from, double more)
{
    size_t to = from;
    while (to > s->first && s->sequence[to - 1] > s->sequence[from]) to--;
    for (size_t places = 0; to < from && places < MOST_PLACES && s->tries < MOST_TRIES; to++, places++)
        if (move(s, from, to, more)) return true;
    return false;
}

void wh_plan_settle(struct wh_arena *arena, const struct wh_tasks *tasks, struct wh_order *order)
{
    static const double allowed[] = {1e-6, 0.3, 0.6, 1.2, 2.5};
    const struct wh_order_problem *problem = &tasks->problem;
    size_t n = order->step_count;
    if (order->natural || problem->fitters > 1) return;
    struct settler s = {.timer = wh_order_timer_new(arena, wh_order_after_done(arena, problem)),
                        .n = n,
                        .first = problem->done_count,
                        .sequence = WH_NEW(arena, n + 1, size_t),
                        .trial = WH_NEW(arena, n + 1, size_t),
                        .cost = order->cost,
                        .most = order->bound + problem->keep};
    s.timer->way = wh_order_ways_left(arena, problem, order->chosen_way);
    for (size_t i = 0; i < n; i++) s.sequence[i] = order->steps[i].task;
    for (size_t a = 0; a < sizeof allowed / sizeof *allowed; a++)
        for (bool again = true; again;) {
            again = false;
            for (size_t i = s.first + 1; i < n; i++) again |= move_earlier(&s, i, allowed[a]);
            again &= s.tries < MOST_TRIES;
        }
    double cost = wh_order_time(s.timer, s.sequence, n);
    if (!isfinite(cost)) return;
    order->cost = cost;
    order->steps = s.timer->at;
}
