#include "order/several_bound.h"

#include "order/ways.h"

#include <math.h>
#include <string.h>

/* The least of what a need left open asks for stands as a task of its own, which has no number in the problem. */
struct link {
    size_t first, after; /* numbers */
    double least;
};

/* Heads and tails of tasks. All that comes before a task is done before it: from the soonest start among any of these,
 * their work takes at least so long when it is shared out evenly. So does all that comes behind. */
struct hands {
    struct wh_arena *arena;
    const struct wh_order_job *job;
    const int *way;
    const bool *own;
    size_t count, words;
    size_t *number;  /* of each task */
    double *minutes; /* [number], each after those before it */
    double *work;    /* [number]: of all its crew */
    WH_LIST(struct link) links;
    uint64_t *before, *behind; /* [number]: sets of numbers */
    double *head, *tail;       /* [number]: least start; least time from its end to the end of all */
    size_t *by_head, *by_tail; /* numbers, greatest first */
};

static void add_link(struct hands *h, size_t first, size_t after, double least)
{
    *WH_PUSH(h->arena, &h->links) = (struct link){first, after, least};
}

/* Does something follow a task without a break by the same fitter? */
static bool is_stayed_with(const struct hands *h, size_t t)
{
    const struct wh_order_problem *p = h->job->problem;
    for (size_t i = 0; i < p->link_count; i++)
        if (p->links[i].joined && p->links[i].first == t && h->job->chosen[p->links[i].after]) return true;
    return false;
}

/* What passes by itself holds nobody, but who is bound to what follows it stays with it. */
static double work_of(const struct hands *h, size_t t)
{
    const struct wh_order_task *task = &h->job->problem->tasks[t];
    int fitters = h->job->problem->fitters;
    if (task->alone) return is_stayed_with(h, t) ? task->minutes : 0;
    return task->minutes * (task->crew < fitters ? task->crew : fitters);
}

/* Is a task before another by a need of one way? */
static bool is_asked_before(const struct wh_order_problem *p, size_t first, size_t task)
{
    for (size_t i = 0; i < p->need_count; i++) {
        const struct wh_order_need *need = &p->needs[i];
        if (need->task != task || !need->before || need->way_count != 1) continue;
        for (size_t k = 0; k < need->ways[0].count; k++)
            if (need->ways[0].tasks[k] == first) return true;
    }
    return false;
}

/* Before all that any way of a need adds by itself? No way may add nothing. */
static bool is_before_all(const struct hands *h, size_t first, const struct wh_order_need *need)
{
    for (size_t w = 0; w < need->way_count; w++) {
        bool adds = false;
        for (size_t k = 0; k < need->ways[w].count; k++) {
            size_t t = need->ways[w].tasks[k];
            if (h->own[t] && !is_asked_before(h->job->problem, first, t)) return false;
            adds |= h->own[t];
        }
        if (!adds) return false;
    }
    return true;
}

/* Least work and longest task that a way adds; a way may name a task twice. */
static void weigh_way(const struct hands *h, const struct wh_order_way *way, double *work, double *minutes)
{
    *work = *minutes = 0;
    for (size_t k = 0; k < way->count; k++) {
        size_t t = way->tasks[k], first = 0;
        while (way->tasks[first] != t) first++;
        if (first < k || !h->own[t] || h->job->chosen[t]) continue;
        *work += work_of(h, t);
        *minutes = wh_order_later(*minutes, h->job->problem->tasks[t].minutes);
    }
}

/* What a need left open adds at least: it takes the next number. */
static void add_open(struct hands *h, const struct wh_order_need *need)
{
    const struct wh_order_way *first = &need->ways[0];
    double work, minutes;
    h->work[h->count] = h->minutes[h->count] = INFINITY;
    for (size_t w = 0; w < need->way_count; w++) {
        weigh_way(h, &need->ways[w], &work, &minutes);
        h->work[h->count] = fmin(h->work[h->count], work);
        h->minutes[h->count] = fmin(h->minutes[h->count], minutes);
    }
    if (first->count == 0 || !h->own[first->tasks[0]]) return;
    for (size_t i = 0; i < h->job->problem->need_count; i++) {
        const struct wh_order_need *asks = &h->job->problem->needs[i];
        if (asks->task != first->tasks[0] || !asks->before || asks->way_count != 1) continue;
        for (size_t k = 0; k < asks->ways[0].count; k++) {
            size_t t = asks->ways[0].tasks[k];
            if (h->job->chosen[t] && is_before_all(h, t, need)) add_link(h, h->number[t], h->count, 0);
        }
    }
}

static void number_task(struct hands *h, size_t t)
{
    const struct wh_order_problem *p = h->job->problem;
    size_t from = h->count;
    for (size_t i = 0; i < p->need_count; i++) {
        if (p->needs[i].task != t || !p->needs[i].before || h->way[i] >= 0) continue;
        add_open(h, &p->needs[i]);
        h->count++;
    }
    for (size_t n = from; n < h->count; n++) add_link(h, n, h->count, 0);
    h->number[t] = h->count;
    h->minutes[h->count] = p->tasks[t].minutes;
    h->work[h->count++] = work_of(h, t);
}

static void number_tasks(struct hands *h)
{
    const struct wh_order_job *job = h->job;
    for (size_t i = 0; i < job->count; i++) {
        const struct wh_order_block *block = &job->blocks[job->sorted[i]];
        for (size_t m = 0; m < block->count; m++) number_task(h, block->tasks[m]);
    }
    for (size_t i = 0; i < job->edge_count; i++) {
        const struct wh_order_edge *edge = &job->edges[i];
        if (isfinite(edge->least)) /* what is done came in its order, whether it had ended or not */
            add_link(h, h->number[edge->first], h->number[edge->after], edge->least);
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

/* Links by the number of their later task, or of their earlier one: of number n from[n] up to from[n + 1]. */
static const struct link *sorted_by(const struct hands *h, bool later, size_t **ret_from)
{
    size_t *from = WH_NEW(h->arena, h->count + 2, size_t);
    struct link *links = WH_NEW(h->arena, h->links.count, struct link);
    for (size_t i = 0; i < h->links.count; i++) from[(later ? h->links.at[i].after : h->links.at[i].first) + 2]++;
    for (size_t n = 0; n < h->count; n++) from[n + 2] += from[n + 1];
    for (size_t i = 0; i < h->links.count; i++)
        links[from[(later ? h->links.at[i].after : h->links.at[i].first) + 1]++] = h->links.at[i];
    *ret_from = from;
    return links;
}

static void find_heads(struct hands *h)
{
    size_t *from;
    const struct link *links = sorted_by(h, true, &from);
    for (size_t n = 0; n < h->count; n++) {
        uint64_t *before = &h->before[n * h->words];
        for (size_t i = from[n]; i < from[n + 1]; i++) {
            size_t first = links[i].first;
            wh_order_put(before, first);
            add_set(h, before, &h->before[first * h->words]);
            h->head[n] = wh_order_later(h->head[n], h->head[first] + h->minutes[first] + links[i].least);
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

static void find_tails(struct hands *h)
{
    size_t *from;
    const struct link *links = sorted_by(h, false, &from);
    for (size_t n = h->count; n-- > 0;) {
        uint64_t *behind = &h->behind[n * h->words];
        for (size_t i = from[n]; i < from[n + 1]; i++) {
            size_t after = links[i].after;
            wh_order_put(behind, after);
            add_set(h, behind, &h->behind[after * h->words]);
            h->tail[n] = wh_order_later(h->tail[n], links[i].least + h->minutes[after] + h->tail[after]);
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

double wh_order_hands_bound(struct wh_arena *arena, const struct wh_order_job *job, const int way[])
{
    size_t most = job->problem->task_count + job->problem->need_count;
    struct hands h = {.arena = arena, .job = job, .way = way, .own = wh_order_own_tasks(arena, job->problem)};
    h.number = WH_NEW(arena, job->problem->task_count, size_t);
    h.minutes = WH_NEW(arena, most, double);
    h.work = WH_NEW(arena, most, double);
    number_tasks(&h);
    h.words = h.count / 64 + 1;
    h.before = WH_NEW(arena, h.count * h.words, uint64_t);
    h.behind = WH_NEW(arena, h.count * h.words, uint64_t);
    h.head = WH_NEW(arena, h.count, double);
    h.tail = WH_NEW(arena, h.count, double);
    h.by_head = WH_NEW(arena, h.count, size_t);
    h.by_tail = WH_NEW(arena, h.count, size_t);
    find_heads(&h);
    find_tails(&h);
    return longest(&h);
}
