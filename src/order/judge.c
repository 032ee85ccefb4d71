#include "order/judge.h"

#include <math.h>

/* The most that getting a task's set-up can take; `held`: values known to be held, NULL for none. */
static double dearest_change(const struct wh_order_problem *problem, size_t task, const int held[])
{
    double sum = 0;
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        const struct wh_order_dimension *dimension = &problem->dimensions[d];
        int to = problem->tasks[task].set_up[d];
        double most = 0;
        for (size_t from = 0; to != WH_ORDER_ANY && from < dimension->values; from++) {
            bool may_hold = from != (size_t)to && (!held || held[d] == WH_ORDER_ANY || held[d] == (int)from);
            if (may_hold) most = fmax(most, dimension->cost[from * dimension->values + (size_t)to]);
        }
        sum += most;
    }
    return sum;
}

/* A change of set-up inside a block may fall into a wait inside it; what no change can fill is sure. */
static void weigh(const struct wh_order_job *job, struct wh_order_block *block, double end[])
{
    double now = 0, idle = 0, fill = 0, sure = 0, work = 0;
    for (size_t m = 0; m < block->count; m++) {
        size_t t = block->tasks[m];
        const struct wh_order_task *task = &job->problem->tasks[t];
        double ready = now;
        for (size_t i = job->lags_into[t]; i < job->lags_into[t + 1]; i++) {
            if (job->lags[i].inside) ready = fmax(ready, end[job->lags[i].first] + job->lags[i].least);
        }
        if (m > 0) fill += dearest_change(job->problem, t, NULL);
        idle += ready - now;
        sure = fmax(sure, idle - fill);
        end[t] = ready + task->minutes;
        now = task->alone ? ready : end[t];
        work += task->alone ? 0 : task->minutes;
    }
    block->minutes = work + sure;
    block->waits = idle > 0 && fill > 0;
}

static bool is_metric(const struct wh_order_dimension *dimension)
{
    size_t n = dimension->values;
    for (size_t a = 0; a < n; a++) {
        for (size_t b = 0; b < n; b++) {
            for (size_t c = 0; c < n; c++) {
                double direct = a == c ? 0 : dimension->cost[a * n + c];
                if (a == b || b == c) continue;
                if (direct > dimension->cost[a * n + b] + dimension->cost[b * n + c] + WH_ORDER_SLACK) return false;
            }
        }
    }
    return true;
}

static bool is_plain(const struct wh_order_dimension *dimension)
{
    size_t n = dimension->values;
    if (dimension->open_set_count > 0) return false;
    for (size_t to = 0; to < n; to++)
        for (size_t from = 0; from < n; from++) {
            size_t other = to == 0 ? n - 1 : 0;
            double gap = from == to || n < 2 ? 0 : dimension->cost[from * n + to] - dimension->cost[other * n + to];
            if (gap > WH_ORDER_SLACK || gap < -WH_ORDER_SLACK) return false;
        }
    return true;
}

/* The values a block is known to hold once its first `count` members are done. */
static void held_after(const struct wh_order_job *job, const struct wh_order_block *block, size_t count, int held[])
{
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        held[d] = WH_ORDER_ANY;
        for (size_t m = 0; m < count; m++) {
            int value = job->problem->tasks[block->tasks[m]].set_up[d];
            if (value != WH_ORDER_ANY) held[d] = value;
        }
    }
}

/* The latest start of a member after the end of an earlier one of its block, whatever is held when the block begins;
 * INFINITY where something before that one is waited for. end[]: working space. */
static double latest_start(const struct wh_order_job *job, const struct wh_order_block *block, size_t first,
                           size_t after, double end[])
{
    const struct wh_order_task *tasks = job->problem->tasks;
    double now = tasks[block->tasks[first]].alone ? -tasks[block->tasks[first]].minutes : 0, start = 0;
    end[block->tasks[first]] = 0;
    for (size_t m = first + 1; m <= after; m++) {
        size_t t = block->tasks[m];
        int held[WH_ORDER_DIMENSIONS];
        held_after(job, block, m, held);
        start = now + dearest_change(job->problem, t, held);
        for (size_t i = job->lags_into[t]; i < job->lags_into[t + 1]; i++) {
            const struct wh_order_lag *lag = &job->lags[i];
            if (!lag->inside || job->member_of[lag->first] < first) return INFINITY;
            start = fmax(start, end[lag->first] + lag->least);
        }
        end[t] = start + tasks[t].minutes;
        now = tasks[t].alone ? start : end[t];
    }
    return start;
}

/* Does a member between these need a value in a dimension that the block does not bring along itself? */
static bool brings_change(const struct wh_order_job *job, const struct wh_order_block *block, size_t first,
                          size_t after, size_t d)
{
    for (size_t m = 0; m <= after; m++) {
        bool needs = job->problem->tasks[block->tasks[m]].set_up[d] != WH_ORDER_ANY;
        if (needs) return m > first;
    }
    return false;
}

/* README.md: inside a block a change must not make the next member come too late, whatever is held before. */
static bool is_tight(const struct wh_order_job *job, size_t d, double end[])
{
    for (size_t i = 0; i < job->lag_count; i++) {
        const struct wh_order_lag *lag = &job->lags[i];
        if (!lag->inside || !isfinite(lag->most)) continue;
        const struct wh_order_block *block = &job->blocks[job->block_of[lag->first]];
        size_t first = job->member_of[lag->first], after = job->member_of[lag->after];
        if (brings_change(job, block, first, after, d) && latest_start(job, block, first, after, end) > lag->most)
            return true;
    }
    return false;
}

/* README.md says why a dimension must be metric, and its windows closed by tasks that need a value in it. */
static void judge_dimension(struct wh_order_job *job, size_t d, double end[])
{
    const struct wh_order_dimension *dimension = &job->problem->dimensions[d];
    job->plain[d] = is_plain(dimension); /* and then metric too */
    job->metric[d] = job->plain[d] || is_metric(dimension);
    job->movable[d] = job->metric[d] && !is_tight(job, d, end);
    for (size_t s = 0; s < dimension->open_set_count; s++) {
        for (size_t k = 0; k < dimension->open_sets[s].count; k++) {
            size_t closes = job->problem->windows[dimension->open_sets[s].tasks[k]].closes;
            if (!job->chosen[closes] || job->problem->tasks[closes].set_up[d] != WH_ORDER_ANY) continue;
            job->movable[d] = false;
        }
    }
}

void wh_order_judge(struct wh_arena *arena, struct wh_order_job *job)
{
    double *end = WH_NEW(arena, job->problem->task_count, double);
    for (size_t i = 0; i < job->count; i++) weigh(job, &job->blocks[i], end);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) judge_dimension(job, d, end);
}
