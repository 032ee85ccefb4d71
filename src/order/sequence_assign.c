#include "order/sequence_assign.h"

#include <math.h>
#include <string.h>

static const size_t NOBODY = WH_SEQUENCE_NOBODY;

/* Looks from a task for nearer ways to those not reached; the nearest of these, NOBODY when there is none. */
static size_t look_on(struct wh_sequence_assignment *a, size_t task, size_t by, double far)
{
    size_t n = a->model->n, nearest = NOBODY;
    const double *cost = &a->cost[task * n];
    double so_far = far - a->leave[task], least = INFINITY;
    for (size_t c = 1; c < n; c++) {
        if (a->reached[c]) continue;
        double way = so_far + cost[c] - a->come[c];
        if (way < a->least[c]) {
            a->least[c] = way;
            a->before[c] = by;
        }
        if (a->least[c] < least) {
            least = a->least[c];
            nearest = c;
        }
    }
    return nearest;
}

/* Column 0, the start, stands for the task without a next while a path grows. */
double wh_sequence_assign_again(struct wh_sequence_assignment *a, size_t task, double most)
{
    size_t n = a->model->n, column = 0;
    double far = 0;
    for (size_t c = 1; c < n; c++) a->least[c] = INFINITY;
    memcpy(a->reached, a->held, n * sizeof *a->reached);
    a->from[0] = task;
    a->least[0] = 0;
    while (a->from[column] != NOBODY) {
        a->reached[column] = true;
        column = look_on(a, a->from[column], column, far);
        if (column == NOBODY || a->least[column] > most) return INFINITY;
        far = a->least[column];
    }
    for (size_t c = 0; c < n; c++) {
        if (!a->reached[c] || a->held[c]) continue;
        a->leave[a->from[c]] += far - a->least[c];
        a->come[c] -= far - a->least[c];
    }
    while (column != 0) {
        size_t before = a->before[column];
        a->from[column] = a->from[before];
        a->next[a->from[column]] = column;
        column = before;
    }
    return far;
}

static void make(struct wh_arena *arena, const struct wh_sequence_model *model, struct wh_sequence_assignment *ret)
{
    size_t n = model->n;
    *ret = (struct wh_sequence_assignment){.model = model};
    ret->cost = WH_NEW(arena, n * n, double);
    memcpy(ret->cost, model->cost, n * n * sizeof *ret->cost);
    ret->leave = WH_NEW(arena, n, double);
    ret->come = WH_NEW(arena, n, double);
    ret->next = WH_NEW(arena, n, size_t);
    ret->from = WH_NEW(arena, n, size_t);
    ret->held = WH_NEW(arena, n, bool);
    ret->least = WH_NEW(arena, n, double);
    ret->before = WH_NEW(arena, n, size_t);
    ret->reached = WH_NEW(arena, n, bool);
    ret->ring = WH_NEW(arena, n, size_t);
    ret->joined = WH_NEW(arena, n, size_t);
    ret->done = WH_NEW(arena, model->words, uint64_t);
    for (size_t c = 0; c < n; c++) ret->from[c] = NOBODY;
}

double wh_sequence_assign(struct wh_arena *arena, const struct wh_sequence_model *model,
                          struct wh_sequence_assignment *ret)
{
    size_t n = model->n;
    double sum = 0;
    make(arena, model, ret);
    for (size_t task = 0; task + 1 < n; task++) {
        if (isinf(wh_sequence_assign_again(ret, task, INFINITY))) return INFINITY;
    }
    for (size_t task = 0; task + 1 < n; task++) sum += model->cost[task * n + ret->next[task]];
    return sum;
}

size_t wh_sequence_rings(const struct wh_sequence_assignment *assignment, const size_t next[], size_t ring[])
{
    size_t n = assignment->model->n, count = 0;
    for (size_t t = 0; t < n; t++) ring[t] = NOBODY;
    for (size_t t = 0; t < n; t++) {
        if (ring[t] != NOBODY) continue;
        for (size_t at = t; ring[at] == NOBODY; at = next[at]) {
            ring[at] = count;
            if (at == n - 1) break;
        }
        count++;
    }
    return count;
}

/* The cheapest exchange of the nexts of two tasks of different rings, made. False: none is allowed. */
static bool join_two(const struct wh_sequence_assignment *assignment, size_t next[], const size_t ring[])
{
    size_t n = assignment->model->n, best_a = 0, best_b = 0;
    double best = INFINITY;
    const double *cost = assignment->cost;
    for (size_t a = 0; a + 1 < n; a++) {
        double here = cost[a * n + next[a]];
        for (size_t b = a + 1; b + 1 < n; b++) {
            if (ring[a] == ring[b]) continue;
            double more = cost[a * n + next[b]] - here + cost[b * n + next[a]] - cost[b * n + next[b]];
            if (!(more < best)) continue;
            best = more;
            best_a = a;
            best_b = b;
        }
    }
    size_t other = next[best_a];
    next[best_a] = next[best_b];
    next[best_b] = other;
    return isfinite(best);
}

static bool is_ready(const struct wh_sequence_model *model, const uint64_t done[], size_t task)
{
    const uint64_t *before = &model->before[task * model->words];
    for (size_t w = 0; w < model->words; w++) {
        if (before[w] & ~done[w]) return false;
    }
    return !wh_sequence_has(done, task);
}

/* Always the first task of the joined order that may come next. */
static void bring_in_order(const struct wh_sequence_model *model, const size_t joined[], uint64_t done[],
                           size_t order[])
{
    size_t n = model->n, first = 0;
    memset(done, 0, model->words * sizeof *done);
    for (size_t k = 0; k < n; k++) {
        size_t i = first;
        while (!is_ready(model, done, joined[i])) i++;
        order[k] = joined[i];
        wh_sequence_put(done, joined[i]);
        while (first < n && wh_sequence_has(done, joined[first])) first++;
    }
}

/* The path from the start, then what is left in rings, the end last. */
static void read_path(const size_t next[], const size_t ring[], size_t n, size_t joined[])
{
    size_t count = 0;
    for (size_t t = 0; t != n - 1; t = next[t]) joined[count++] = t;
    for (size_t t = 0; t + 1 < n; t++) {
        if (ring[t] != 0) joined[count++] = t;
    }
    joined[count] = n - 1;
}

void wh_sequence_patch(struct wh_sequence_assignment *assignment, size_t order[])
{
    size_t n = assignment->model->n, *next = assignment->joined;
    size_t *ring = assignment->ring, *path = assignment->before;
    memcpy(next, assignment->next, n * sizeof *next);
    while (wh_sequence_rings(assignment, next, ring) > 1) {
        if (!join_two(assignment, next, ring)) break;
    }
    read_path(next, ring, n, path);
    bring_in_order(assignment->model, path, assignment->done, order);
}
