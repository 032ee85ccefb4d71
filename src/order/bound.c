#include "order/bound.h"

#include <math.h>
#include <string.h>

/* Going from value + 1 `from` (0: none yet) through a block: the cost, and the value + 1 after it. */
static double through(const struct wh_order_job *job, size_t d, size_t block, size_t *value)
{
    const struct wh_order_dimension *dimension = &job->problem->dimensions[d];
    double cost = 0;
    for (size_t m = 0; m < job->blocks[block].count; m++) {
        int need = job->problem->tasks[job->blocks[block].tasks[m]].set_up[d];
        if (need == WH_ORDER_ANY) continue;
        size_t to = (size_t)need + 1;
        if (*value != 0 && *value != to) cost += dimension->cost[(*value - 1) * dimension->values + to - 1];
        *value = to;
    }
    return cost;
}

/* Every chain of blocks that wait for each other passes their values in turn; what else is done in between makes it no
 * cheaper where the triangle inequality holds, and so a chain that leaves out none of its links is the dearest. */
static void find_paths(struct wh_order_bound *bound, size_t d)
{
    const struct wh_order_job *job = bound->job;
    size_t width = job->problem->dimensions[d].values + 1;
    for (size_t n = job->count; n-- > 0;) {
        size_t block = job->sorted[n], count = job->next_from[block + 1] - job->next_from[block];
        const size_t *next = &job->next[job->next_from[block]];
        for (size_t from = 0; from < width; from++) {
            size_t value = from;
            double cost = through(job, d, block, &value), rest = 0;
            for (size_t i = 0; i < count; i++) {
                double path = bound->path[d][next[i] * width + value];
                if (path > rest) rest = path;
            }
            bound->path[d][block * width + from] = cost + rest;
        }
    }
}

static void find_uses(struct wh_order_bound *bound, size_t d)
{
    const struct wh_order_job *job = bound->job;
    const struct wh_order_dimension *dimension = &job->problem->dimensions[d];
    for (size_t b = 0; b < job->count; b++) {
        for (size_t m = 0; m < job->blocks[b].count; m++) {
            int need = job->problem->tasks[job->blocks[b].tasks[m]].set_up[d];
            if (need != WH_ORDER_ANY) wh_order_put(&bound->uses[d][(size_t)need * job->words], b);
        }
    }
    for (size_t to = 0; to < dimension->values; to++) {
        double least = INFINITY;
        for (size_t from = 0; from < dimension->values; from++) {
            if (from != to) least = fmin(least, dimension->cost[from * dimension->values + to]);
        }
        bound->nearest[d][to] = dimension->values > 1 ? least : 0;
    }
}

uint16_t *wh_order_turns(const struct wh_order_bound *bound, size_t d, size_t block, bool held)
{
    return &bound->turns[d][(2 * block + held) * bound->job->problem->dimensions[d].values];
}

static void raise_to(uint16_t most[], const uint16_t other[], size_t values)
{
    for (size_t v = 0; v < values; v++) most[v] = other[v] > most[v] ? other[v] : most[v];
}

int wh_order_left_held(const struct wh_order_job *job, size_t d, size_t block)
{
    int value = WH_ORDER_ANY;
    for (size_t m = 0; m < job->blocks[block].count; m++) {
        int need = job->problem->tasks[job->blocks[block].tasks[m]].set_up[d];
        if (need != WH_ORDER_ANY) value = need;
    }
    return value;
}

/* How often a value has to be changed to along the chain that asks for it most, which begins with a block: every other
 * value between two of its uses parts them. */
static void find_turns(struct wh_order_bound *bound, size_t d)
{
    const struct wh_order_job *job = bound->job;
    size_t values = job->problem->dimensions[d].values;
    for (size_t n = job->count; n-- > 0;) {
        size_t block = job->sorted[n], count = job->next_from[block + 1] - job->next_from[block];
        const size_t *next = &job->next[job->next_from[block]];
        int left = wh_order_left_held(job, d, block);
        for (size_t held = 0; held < 2; held++) {
            uint16_t *turns = wh_order_turns(bound, d, block, held), holding = 0;
            for (size_t i = 0; i < count; i++) {
                raise_to(turns, wh_order_turns(bound, d, next[i], left == WH_ORDER_ANY && held), values);
                uint16_t other = left == WH_ORDER_ANY ? 0 : wh_order_turns(bound, d, next[i], true)[left];
                if (other > holding) holding = other;
            }
            if (left != WH_ORDER_ANY) turns[left] = holding;
            int now = WH_ORDER_ANY;
            for (size_t m = 0; m < job->blocks[block].count; m++) {
                int need = job->problem->tasks[job->blocks[block].tasks[m]].set_up[d];
                if (need == WH_ORDER_ANY) continue;
                if (now == WH_ORDER_ANY ? !held : now != need) turns[need]++;
                now = need;
            }
        }
    }
}

static double all_behind(const struct wh_order_bound *bound, size_t block)
{
    const struct wh_order_job *job = bound->job;
    double sum = 0;
    for (size_t w = 0; w < job->words; w++)
        for (uint64_t left = job->behind[block * job->words + w]; left; left &= left - 1)
            sum += job->blocks[w * 64 + (size_t)__builtin_ctzll(left)].minutes;
    return sum;
}

/* From the last block back: a task's own minutes, then whatever takes longest of what follows. One fitter does all the
 * work behind it, one task after another. */
static void find_tails(struct wh_order_bound *bound)
{
    const struct wh_order_job *job = bound->job;
    const struct wh_order_task *tasks = job->problem->tasks;
    for (size_t n = job->count; n-- > 0;) {
        size_t b = job->sorted[n];
        double rest = all_behind(bound, b);
        for (size_t next = 0; next < job->count; next++) {
            if (wh_order_has(&job->behind[b * job->words], next))
                rest = fmax(rest, bound->tail[job->blocks[next].tasks[0]]);
        }
        for (size_t m = job->blocks[b].count; m-- > 0;) {
            size_t t = job->blocks[b].tasks[m];
            bound->tail[t] = fmax(tasks[t].minutes, (tasks[t].alone ? 0 : tasks[t].minutes) + rest);
            for (size_t i = 0; i < job->lag_count; i++) {
                const struct wh_order_lag *lag = &job->lags[i];
                double with = tasks[t].minutes + lag->least + bound->tail[lag->after];
                if (lag->first == t) bound->tail[t] = fmax(bound->tail[t], with);
            }
            rest = bound->tail[t];
        }
    }
}

struct wh_order_bound *wh_order_bound_new(struct wh_arena *arena, const struct wh_order_job *job)
{
    struct wh_order_bound *bound = WH_NEW(arena, 1, struct wh_order_bound);
    size_t most = 0;
    bound->job = job;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        size_t values = job->problem->dimensions[d].values;
        bound->uses[d] = WH_NEW(arena, values * job->words, uint64_t);
        bound->nearest[d] = WH_NEW(arena, values, double);
        find_uses(bound, d);
        bound->turns[d] = WH_NEW(arena, 2 * values * job->count, uint16_t);
        find_turns(bound, d);
        if (values > most) most = values;
        if (!job->metric[d]) continue;
        bound->path[d] = WH_NEW(arena, job->count * (values + 1), double);
        if (values > 1) find_paths(bound, d);
    }
    bound->most = WH_NEW(arena, most, uint16_t);
    bound->tail = WH_NEW(arena, job->problem->task_count, double);
    find_tails(bound);
    return bound;
}

/* Each value is changed to as often as some chain asks for it; where none is held yet the first change is free, so the
 * dearest is left out. */
static double each_value(const struct wh_order_bound *bound, size_t d, int value, const size_t ready[],
                         size_t ready_count)
{
    size_t values = bound->job->problem->dimensions[d].values;
    uint16_t *most = bound->most, held = 0;
    double sum = 0, dearest = 0;
    memset(most, 0, values * sizeof *most);
    for (size_t i = 0; i < ready_count; i++) {
        raise_to(most, wh_order_turns(bound, d, ready[i], false), values);
        uint16_t holding = value == WH_ORDER_ANY ? 0 : wh_order_turns(bound, d, ready[i], true)[value];
        if (holding > held) held = holding;
    }
    if (value != WH_ORDER_ANY) most[value] = held;
    for (size_t v = 0; v < values; v++) {
        sum += most[v] * bound->nearest[d][v];
        if (most[v] > 0 && bound->nearest[d][v] > dearest) dearest = bound->nearest[d][v];
    }
    return value == WH_ORDER_ANY ? sum - dearest : sum;
}

double wh_order_path(const struct wh_order_bound *bound, size_t d, size_t block, int held)
{
    size_t width = bound->job->problem->dimensions[d].values + 1;
    if (!bound->job->metric[d] || width == 1) return 0;
    return bound->path[d][block * width + (size_t)(held + 1)];
}

double wh_order_bound_changes(const struct wh_order_bound *bound, const int16_t value[], const size_t ready[],
                              size_t ready_count)
{
    double sum = 0;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        if (bound->job->problem->dimensions[d].values == 0) continue;
        double most = each_value(bound, d, value[d], ready, ready_count);
        for (size_t i = 0; i < ready_count && bound->job->metric[d]; i++) {
            most = wh_order_later(most, wh_order_path(bound, d, ready[i], value[d]));
        }
        sum += most;
    }
    return sum;
}

double wh_order_bound_work(const struct wh_order_bound *bound, const uint64_t set[], const uint64_t done[])
{
    double sum = 0;
    for (size_t w = 0; w < bound->job->words; w++)
        for (uint64_t left = set[w] & ~done[w]; left; left &= left - 1)
            sum += bound->job->blocks[w * 64 + (size_t)__builtin_ctzll(left)].minutes;
    return sum;
}
