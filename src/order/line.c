#include "order/line.h"

#include "order/luck.h"

#include <math.h>
#include <string.h>

enum { LOOK_EVERY = 8, MEMORY = 64, FAR = 40 }; /* tries; costs remembered; places */

static double cost_of(struct wh_order_line *line, const size_t blocks[])
{
    line->tries++;
    return wh_order_time(line->timer, line->tasks, wh_order_tasks(line->job, blocks, line->tasks));
}

struct wh_order_line wh_order_line_new(struct wh_arena *arena, const struct wh_order_job *job,
                                       struct wh_order_timer *timer, const size_t blocks[])
{
    struct wh_order_line line = {.job = job, .timer = timer};
    line.blocks = WH_NEW(arena, job->count, size_t);
    line.trial = WH_NEW(arena, job->count, size_t);
    line.kept = WH_NEW(arena, job->count, size_t);
    line.tasks = WH_NEW(arena, job->problem->task_count, size_t);
    memcpy(line.blocks, blocks, job->count * sizeof blocks[0]);
    line.cost = cost_of(&line, line.blocks);
    return line;
}

static bool goes_before(const struct wh_order_job *job, size_t a, size_t b)
{
    return wh_order_has(&job->before[b * job->words], a);
}

/* trial: the line with the block at `from` taken out and put in at `to`. */
static void move(const struct wh_order_line *line, size_t from, size_t to)
{
    const size_t *old = line->blocks;
    size_t *new = line->trial;
    memcpy(new, old, line->job->count * sizeof old[0]);
    if (to < from) memmove(&new[to + 1], &old[to], (from - to) * sizeof old[0]);
    if (to > from) memmove(&new[from], &old[from + 1], (to - from) * sizeof old[0]);
    new[to] = old[from];
}

/* The furthest places to which precedence lets the block at a place be moved. */
static size_t earliest(const struct wh_order_line *line, size_t at)
{
    size_t to = at;
    while (to > 0 && !goes_before(line->job, line->blocks[to - 1], line->blocks[at])) to--;
    return to;
}

static size_t latest(const struct wh_order_line *line, size_t at)
{
    size_t to = at;
    while (to + 1 < line->job->count && !goes_before(line->job, line->blocks[at], line->blocks[to + 1])) to++;
    return to;
}

static bool take_trial(struct wh_order_line *line, double at_most)
{
    double cost = cost_of(line, line->trial);
    if (!isfinite(cost) || cost > at_most) return false;
    memcpy(line->blocks, line->trial, line->job->count * sizeof line->trial[0]);
    line->cost = cost;
    return true;
}

void wh_order_line_improve(struct wh_order_line *line, double goal, uint64_t most_tries)
{
    size_t n = line->job->count;
    uint64_t stop = line->tries + most_tries;
    for (size_t idle = 0, at = 0; idle < n && n > 0; at = (at + 1) % n) {
        bool better = false;
        size_t end = latest(line, at);
        for (size_t to = earliest(line, at); to <= end && !better; to++) {
            if (line->tries >= stop || line->cost <= goal + WH_ORDER_SLACK) return;
            if (line->budget && line->tries % LOOK_EVERY == 0 && wh_order_is_over(line->budget)) return;
            if (to == at) continue;
            move(line, at, to);
            better = take_trial(line, line->cost - WH_ORDER_SLACK);
        }
        idle = better ? 0 : idle + 1;
    }
}

/* trial: a block at random, moved to a place at random among those that precedence allows. */
static void move_at_random(struct wh_order_line *line, uint64_t *random)
{
    size_t at = wh_order_below(random, line->job->count), least = earliest(line, at), most = latest(line, at);
    if (at > least + FAR) least = at - FAR;
    if (most > at + FAR) most = at + FAR;
    move(line, at, least + wh_order_below(random, most - least + 1));
}

void wh_order_line_wander(struct wh_order_line *line, uint64_t *random, double goal, uint64_t most_tries)
{
    size_t n = line->job->count;
    double best = line->cost, before[MEMORY];
    uint64_t stop = line->tries + most_tries;
    if (!isfinite(best) || n == 0) return;
    for (size_t i = 0; i < MEMORY; i++) before[i] = best;
    memcpy(line->kept, line->blocks, n * sizeof line->kept[0]);
    while (line->tries < stop && best > goal + WH_ORDER_SLACK) {
        double *late = &before[line->tries % MEMORY];
        if (line->budget && line->tries % LOOK_EVERY == 0 && wh_order_is_over(line->budget)) break;
        move_at_random(line, random);
        take_trial(line, wh_order_later(line->cost, *late) + WH_ORDER_SLACK);
        if (line->cost < *late) *late = line->cost;
        if (!(line->cost < best - WH_ORDER_SLACK)) continue;
        best = line->cost;
        memcpy(line->kept, line->blocks, n * sizeof line->kept[0]);
    }
    memcpy(line->blocks, line->kept, n * sizeof line->kept[0]);
    line->cost = cost_of(line, line->blocks);
}

void wh_order_line_settle(struct wh_order_line *line, uint64_t most_tries)
{
    size_t n = line->job->count;
    uint64_t stop = line->tries + most_tries;
    for (size_t to = 0; to < n; to++) {
        for (size_t block = 0; block < line->blocks[to]; block++) {
            size_t from = to;
            while (from < n && line->blocks[from] != block) from++;
            if (from == n || earliest(line, from) > to) continue;
            if (line->tries >= stop) return;
            move(line, from, to);
            if (take_trial(line, line->cost + WH_ORDER_SLACK)) break;
        }
    }
}

/* trial: between two places, the first `count` blocks that do not depend on the block at `from` go before it. */
static void draw_near(const struct wh_order_line *line, size_t from, size_t to, size_t count)
{
    const struct wh_order_job *job = line->job;
    memcpy(line->trial, line->blocks, job->count * sizeof line->trial[0]);
    size_t put = from, passed = 0;
    for (size_t i = from + 1; i < to && passed < count; i++) {
        if (goes_before(job, line->blocks[from], line->blocks[i])) continue;
        line->trial[put++] = line->blocks[i];
        passed++;
    }
    passed = 0;
    for (size_t i = from; i < to; i++) {
        bool stays = i == from || goes_before(job, line->blocks[from], line->blocks[i]);
        if (stays || passed++ >= count) line->trial[put++] = line->blocks[i];
    }
}

static double lateness(struct wh_order_line *line, const size_t blocks[])
{
    line->tries++;
    return wh_order_lateness(line->timer, line->tasks, wh_order_tasks(line->job, blocks, line->tasks));
}

static size_t place_of(const struct wh_order_line *line, size_t task)
{
    size_t at = 0;
    while (line->blocks[at] != line->job->block_of[task]) at++;
    return at;
}

static bool hold(struct wh_order_line *line, const struct wh_order_lag *lag, double *late)
{
    size_t from = place_of(line, lag->first), to = place_of(line, lag->after);
    for (size_t count = 1; from + count < to; count++) {
        draw_near(line, from, to, count);
        double now = lateness(line, line->trial);
        if (!(now < *late - WH_ORDER_SLACK)) continue;
        *late = now;
        memcpy(line->blocks, line->trial, line->job->count * sizeof line->trial[0]);
        return true;
    }
    return false;
}

void wh_order_line_hold(struct wh_order_line *line)
{
    const struct wh_order_job *job = line->job;
    double late = isfinite(line->cost) ? 0 : lateness(line, line->blocks);
    for (bool better = true; better && late > 0;) {
        better = false;
        for (size_t i = 0; i < job->lag_count && !better; i++) {
            if (!job->lags[i].inside && isfinite(job->lags[i].most)) better = hold(line, &job->lags[i], &late);
        }
    }
    line->cost = cost_of(line, line->blocks);
}
