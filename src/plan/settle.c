/* An order that saves more than five minutes need not leave the usual one everywhere: what of it saves little goes back
 * to where a fitter expects it, as long as all of that together costs less than the five minutes. */
#include "order/done.h"
#include "order/timing.h"
#include "plan/builder.h"

#include <math.h>
#include <string.h>

enum { MOST_TRIES = 20000, MOST_PLACES = 16 };

struct settler {
    struct wh_order_timer *timer;
    const struct wh_order_problem *problem;
    size_t n, first; /* of tasks; the first that is not done */
    size_t *sequence, *trial;
    double cost, most; /* minutes: now; a move never leads above it */
    size_t tries;
};

/* How often the place of work changes, and who is called. */
static size_t walks(const struct settler *s, const size_t sequence[])
{
    static const int dimensions[] = {WH_PLAN_PLACE, WH_PLAN_TRADE};
    size_t count = 0;
    for (size_t k = 0; k < sizeof dimensions / sizeof *dimensions; k++)
        for (size_t i = 0, now = WH_NONE; i < s->n; i++) {
            int value = s->problem->tasks[sequence[i]].set_up[dimensions[k]];
            if (value == WH_ORDER_ANY) continue;
            count += now != (size_t)value;
            now = (size_t)value;
        }
    return count;
}

/* Puts the task at `from` to the place `to`, if that costs at most `more` minutes more and nobody walks more. */
static bool move(struct settler *s, size_t from, size_t to, double more)
{
    memcpy(s->trial, s->sequence, s->n * sizeof *s->trial);
    if (to < from)
        memmove(s->trial + to + 1, s->trial + to, (from - to) * sizeof *s->trial);
    else
        memmove(s->trial + from, s->trial + from + 1, (to - from) * sizeof *s->trial);
    s->trial[to] = s->sequence[from];
    s->tries++;
    if (walks(s, s->trial) > walks(s, s->sequence)) return false;
    double cost = wh_order_time(s->timer, s->trial, s->n);
    if (!(cost <= fmin(s->cost + more, s->most))) return false;
    memcpy(s->sequence, s->trial, s->n * sizeof *s->trial);
    s->cost = cost;
    return true;
}

/* The place of work of the task at i; of one that has none, that of the task before it. */
static int place_at(const struct settler *s, size_t i)
{
    int place = s->problem->tasks[s->sequence[i]].set_up[WH_PLAN_PLACE];
    return place != WH_ORDER_ANY || i == s->first ? place : place_at(s, i - 1);
}

static size_t end_of_run(const struct settler *s, size_t from)
{
    size_t to = from + 1;
    while (to < s->n && place_at(s, to) == place_at(s, from)) to++;
    return to;
}

/* The tasks from `first` up to `middle` and those from there up to `end` change places, if nobody walks more and it
 * costs no more. */
static bool exchange(struct settler *s, size_t first, size_t middle, size_t end)
{
    size_t *to = s->trial, bytes = sizeof *s->trial;
    memcpy(to, s->sequence, s->n * bytes);
    memcpy(to + first, s->sequence + middle, (end - middle) * bytes);
    memcpy(to + first + end - middle, s->sequence + first, (middle - first) * bytes);
    s->tries++;
    if (walks(s, to) >= walks(s, s->sequence)) return false;
    double cost = wh_order_time(s->timer, to, s->n);
    if (!(cost <= s->cost + 1e-6)) return false;
    memcpy(s->sequence, to, s->n * bytes);
    s->cost = cost;
    return true;
}

/* Of four turns of frame and bench the middle two change places where nothing forbids it: that saves two walks. */
static bool gather(struct settler *s)
{
    for (size_t a = s->first; a < s->n; a = end_of_run(s, a)) {
        size_t b = end_of_run(s, a), c = b < s->n ? end_of_run(s, b) : s->n, d = c < s->n ? end_of_run(s, c) : s->n;
        if (c < d && s->tries < MOST_TRIES && exchange(s, b, c, d)) return true;
        if (c < d && s->tries < MOST_TRIES && exchange(s, a, b, c)) return true;
    }
    return false;
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

/* One that stands right before lower numbers goes behind them. */
static bool move_later(struct settler *s, size_t from, double more)
{
    size_t to = from;
    while (to + 1 < s->n && s->sequence[to + 1] < s->sequence[from]) to++;
    for (size_t places = 0; to > from && places < MOST_PLACES && s->tries < MOST_TRIES; to--, places++)
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
                        .problem = problem,
                        .n = n,
                        .first = problem->done_count,
                        .sequence = WH_NEW(arena, n + 1, size_t),
                        .trial = WH_NEW(arena, n + 1, size_t),
                        .cost = order->cost,
                        .most = order->bound + problem->keep};
    s.timer->way = wh_order_ways_left(arena, problem, order->chosen_way);
    for (size_t i = 0; i < n; i++) s.sequence[i] = order->steps[i].task;
    while (gather(&s)) continue;
    order->least = fmin(order->least, s.cost);
    for (size_t a = 0; a < sizeof allowed / sizeof *allowed; a++)
        for (bool again = true; again;) {
            again = false;
            for (size_t i = s.first + 1; i < n; i++) again |= move_earlier(&s, i, allowed[a]);
            for (size_t i = n; i-- > s.first;) again |= move_later(&s, i, allowed[a]);
            again &= s.tries < MOST_TRIES;
        }
    double cost = wh_order_time(s.timer, s.sequence, n);
    if (!isfinite(cost)) return;
    order->cost = cost;
    order->steps = s.timer->at;
}
