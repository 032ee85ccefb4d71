#include "order/several_bound.h"

#include <math.h>
#include <string.h>

/* Heads and tails of tasks. All that comes before a task is done before it: from the soonest start among any of these,
 * their work takes at least so long when it is shared out evenly. So does all that comes behind. */
struct hands {
    const struct wh_order_job *job;
    size_t count, words;
    size_t *task;              /* [number]: chosen tasks, each after those before it */
    size_t *number;            /* of each task */
    double *minutes;           /* [number] */
    double *work;              /* [number]: of all its crew */
    uint64_t *before, *behind; /* [number]: sets of numbers */
    double *head, *tail;       /* [number]: least start; least time from its end to the end of all */
    size_t *by_head, *by_tail; /* numbers, greatest first */
};

static void number_tasks(struct hands *h)
{
    const struct wh_order_job *job = h->job;
    const struct wh_order_problem *p = job->problem;
    for (size_t i = 0; i < job->count; i++) {
        const struct wh_order_block *block = &job->blocks[job->sorted[i]];
        for (size_t m = 0; m < block->count; m++) {
            const struct wh_order_task *task = &p->tasks[block->tasks[m]];
            h->number[block->tasks[m]] = h->count;
            h->minutes[h->count] = task->minutes;
            h->work[h->count] = task->alone ? 0 : task->minutes * (task->crew < p->fitters ? task->crew : p->fitters);
            h->task[h->count++] = block->tasks[m];
        }
    }
}

static void add_set(const struct hands *h, uint64_t to[], const uint64_t set[])
{
    for (size_t w = 0; w < h->words; w++) to[w] |= set[w];
}

/* Puts a number into a list that is sorted by value, greatest first. */
static void insert(size_t list[], size_t count, size_t number, const double value[])
{
    for (; count > 0 && value[list[count - 1]] < value[number]; count--) list[count] = list[count - 1];
    list[count] = number;
}

/* Edges by the number of their later task, or of their earlier one. */
static size_t *edges_by(struct wh_arena *arena, const struct hands *h, bool later, size_t **ret_from)
{
    const struct wh_order_job *job = h->job;
    size_t *from = WH_NEW(arena, h->count + 2, size_t), *edges = WH_NEW(arena, job->edge_count + 1, size_t);
    for (size_t pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < job->edge_count; i++) {
            size_t n = h->number[later ? job->edges[i].after : job->edges[i].first];
            if (!isfinite(job->edges[i].least))
                continue; /* what is done came in this order, whether it had ended or not */
            if (pass == 0)
                from[n + 2]++;
            else
                edges[from[n + 1]++] = i;
        }
        for (size_t n = 0; n < h->count && pass == 0; n++) from[n + 2] += from[n + 1];
    }
    *ret_from = from;
    return edges;
}

static void find_heads(struct wh_arena *arena, struct hands *h)
{
    size_t *from, *edges = edges_by(arena, h, true, &from);
    for (size_t n = 0; n < h->count; n++) {
        uint64_t *before = &h->before[n * h->words];
        for (size_t i = from[n]; i < from[n + 1]; i++) {
            const struct wh_order_edge *edge = &h->job->edges[edges[i]];
            size_t first = h->number[edge->first];
            wh_order_put(before, first);
            add_set(h, before, &h->before[first * h->words]);
            h->head[n] = wh_order_later(h->head[n], h->head[first] + h->minutes[first] + edge->least);
        }
        double work = 0;
        for (size_t i = 0; i < n; i++) {
            size_t other = h->by_head[i];
            if (!wh_order_has(before, other)) continue;
            work += h->work[other];
            h->head[n] = wh_order_later(h->head[n], h->head[other] + work / h->job->problem->fitters);
        }
        insert(h->by_head, n, n, h->head);
    }
}

static void find_tails(struct wh_arena *arena, struct hands *h)
{
    size_t *from, *edges = edges_by(arena, h, false, &from);
    for (size_t n = h->count; n-- > 0;) {
        uint64_t *behind = &h->behind[n * h->words];
        for (size_t i = from[n]; i < from[n + 1]; i++) {
            const struct wh_order_edge *edge = &h->job->edges[edges[i]];
            size_t after = h->number[edge->after];
            wh_order_put(behind, after);
            add_set(h, behind, &h->behind[after * h->words]);
            h->tail[n] = wh_order_later(h->tail[n], edge->least + h->minutes[after] + h->tail[after]);
        }
        double work = 0;
        for (size_t i = 0; i + n + 1 < h->count; i++) {
            size_t other = h->by_tail[i];
            if (!wh_order_has(behind, other)) continue;
            work += h->work[other];
            h->tail[n] = wh_order_later(h->tail[n], h->tail[other] + work / h->job->problem->fitters);
        }
        insert(h->by_tail, h->count - 1 - n, n, h->tail);
    }
}

/* All that begins no sooner than some time and leaves at least some time behind it is done in between. */
static double longest(const struct hands *h)
{
    double most = 0;
    for (size_t n = 0; n < h->count; n++) {
        double work = 0;
        most = wh_order_later(most, h->head[n] + h->minutes[n] + h->tail[n]);
        for (size_t i = 0; i < h->count; i++) {
            size_t other = h->by_tail[i];
            if (h->head[other] < h->head[n]) continue;
            work += h->work[other];
            most = wh_order_later(most, h->head[n] + work / h->job->problem->fitters + h->tail[other]);
        }
    }
    return most;
}

double wh_order_hands_bound(struct wh_arena *arena, const struct wh_order_job *job)
{
    size_t n = job->problem->task_count;
    struct hands h = {.job = job};
    h.task = WH_NEW(arena, n, size_t);
    h.number = WH_NEW(arena, n, size_t);
    h.minutes = WH_NEW(arena, n, double);
    h.work = WH_NEW(arena, n, double);
    number_tasks(&h);
    h.words = h.count / 64 + 1;
    h.before = WH_NEW(arena, h.count * h.words, uint64_t);
    h.behind = WH_NEW(arena, h.count * h.words, uint64_t);
    h.head = WH_NEW(arena, h.count, double);
    h.tail = WH_NEW(arena, h.count, double);
    h.by_head = WH_NEW(arena, h.count, size_t);
    h.by_tail = WH_NEW(arena, h.count, size_t);
    find_heads(arena, &h);
    find_tails(arena, &h);
    return longest(&h);
}
