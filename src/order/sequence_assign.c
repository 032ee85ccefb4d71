#include "order/sequence_assign.h"

#include <math.h>
#include <string.h>

/* Column 0 stands for the row that has no next yet; columns 1.. are the tasks one can come to. */
struct growth {
    const struct wh_sequence_model *model;
    double *leave, *come, *least;
    size_t *from, *before; /* the row a column is given to; the column before it on the path */
    bool *reached;
};

static const size_t NOBODY = SIZE_MAX;

/* Looks from a row for nearer ways to columns that are not reached; the nearest of these, NOBODY when there is none. */
static size_t look_on(struct growth *g, size_t row, size_t column, double so_far)
{
    size_t n = g->model->n, nearest = NOBODY;
    const double *cost = &g->model->cost[row * n];
    for (size_t c = 1; c < n; c++) {
        if (g->reached[c]) continue;
        double way = so_far + cost[c] - g->leave[row] - g->come[c];
        if (way < g->least[c]) {
            g->least[c] = way;
            g->before[c] = column;
        }
        if (nearest == NOBODY || g->least[c] < g->least[nearest]) nearest = c;
    }
    return nearest == NOBODY || isinf(g->least[nearest]) ? NOBODY : nearest;
}

/* Gives `row` a next; others may have to change theirs. False: there is none. */
static bool grow(struct growth *g, size_t row)
{
    size_t n = g->model->n, column = 0;
    double far = 0;
    for (size_t c = 0; c < n; c++) {
        g->least[c] = INFINITY;
        g->reached[c] = false;
    }
    g->from[0] = row;
    g->least[0] = 0;
    while (g->from[column] != NOBODY) {
        g->reached[column] = true;
        column = look_on(g, g->from[column], column, far);
        if (column == NOBODY) return false;
        far = g->least[column];
    }
    for (size_t c = 0; c < n; c++) {
        if (!g->reached[c]) continue;
        g->leave[g->from[c]] += far - g->least[c];
        g->come[c] -= far - g->least[c];
    }
    while (column != 0) {
        size_t before = g->before[column];
        g->from[column] = g->from[before];
        column = before;
    }
    return true;
}

void wh_sequence_assign(struct wh_arena *arena, const struct wh_sequence_model *model,
                        struct wh_sequence_assignment *ret)
{
    size_t n = model->n;
    struct growth g = {model, WH_NEW(arena, n, double), WH_NEW(arena, n, double), WH_NEW(arena, n, double),
                       WH_NEW(arena, n, size_t), WH_NEW(arena, n, size_t), WH_NEW(arena, n, bool)};
    *ret = (struct wh_sequence_assignment){0, WH_NEW(arena, n, size_t), g.leave, g.come};
    for (size_t c = 0; c < n; c++) g.from[c] = NOBODY;
    for (size_t row = 0; row + 1 < n; row++) {
        if (grow(&g, row)) continue;
        ret->bound = INFINITY;
        return;
    }
    for (size_t c = 1; c < n; c++) {
        ret->next[g.from[c]] = c;
        ret->bound += model->cost[g.from[c] * n + c];
    }
}

/* Which ring each task is in; that of the start, which runs to the end, is 0. How many there are. */
static size_t find_rings(const struct wh_sequence_model *model, const size_t next[], size_t ring[])
{
    size_t n = model->n, count = 0;
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
static bool join_two(const struct wh_sequence_model *model, size_t next[], const size_t ring[])
{
    size_t n = model->n, best_a = 0, best_b = 0;
    double best = INFINITY;
    const double *cost = model->cost;
    for (size_t a = 0; a + 1 < n; a++) {
        for (size_t b = a + 1; b + 1 < n; b++) {
            if (ring[a] == ring[b]) continue;
            double more = cost[a * n + next[b]] + cost[b * n + next[a]] - cost[a * n + next[a]] - cost[b * n + next[b]];
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

/* Always the first task of the joined order that may come next; those of rings left over come at the end. */
static void bring_in_order(struct wh_arena *arena, const struct wh_sequence_model *model, const size_t next[],
                           const size_t ring[], size_t order[])
{
    size_t n = model->n, count = 0;
    size_t *joined = WH_NEW(arena, n, size_t);
    uint64_t *done = WH_NEW(arena, model->words, uint64_t);
    for (size_t t = 0; t != n - 1; t = next[t]) joined[count++] = t;
    for (size_t t = 0; t + 1 < n; t++) {
        if (ring[t] != 0) joined[count++] = t;
    }
    joined[count] = n - 1;
    for (size_t k = 0; k < n; k++) {
        for (size_t i = 0; i < n; i++) {
            size_t t = joined[i];
            uint64_t missing = 0;
            for (size_t w = 0; w < model->words; w++) missing |= model->before[t * model->words + w] & ~done[w];
            if (missing || wh_sequence_has(done, t)) continue;
            order[k] = t;
            wh_sequence_put(done, t);
            break;
        }
    }
}

void wh_sequence_patch(struct wh_arena *arena, const struct wh_sequence_model *model,
                       const struct wh_sequence_assignment *assignment, size_t order[])
{
    size_t n = model->n;
    size_t *next = WH_NEW(arena, n, size_t), *ring = WH_NEW(arena, n, size_t);
    memcpy(next, assignment->next, n * sizeof *next);
    while (find_rings(model, next, ring) > 1) {
        if (!join_two(model, next, ring)) break;
    }
    bring_in_order(arena, model, next, ring, order);
}
