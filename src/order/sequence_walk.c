#include "order/sequence_walk.h"

#include <math.h>
#include <string.h>

enum { PATIENCE = 12, SHUT_EVERY = 25 }; /* sweeps */

/* Of a change of the tolls, where it begins again. */
static const double LEAST_LENGTH = 0.02;

static void set_ranges(struct wh_sequence_walk *walk)
{
    size_t n = walk->model->n;
    for (size_t k = 0; k < n; k++) {
        walk->least[k] = n;
        walk->most[k] = 0;
        for (size_t t = 0; t < n; t++) {
            if (walk->shut[k * n + t]) continue;
            if (walk->least[k] == n) walk->least[k] = t;
            walk->most[k] = t;
        }
    }
    walk->steps = 0;
    for (size_t k = 1; k < n; k++) {
        if (walk->least[k] == n || walk->least[k - 1] == n) continue;
        walk->steps += (walk->most[k] - walk->least[k] + 1) * (walk->most[k - 1] - walk->least[k - 1] + 1);
    }
}

void wh_sequence_walk_make(struct wh_arena *arena, const struct wh_sequence_assignment *assignment,
                           struct wh_sequence_walk *ret)
{
    const struct wh_sequence_model *model = assignment->model;
    size_t n = model->n;
    *ret = (struct wh_sequence_walk){.model = model, .bound = -INFINITY, .length = 1};
    ret->shut = WH_NEW(arena, n * n, bool);
    ret->least = WH_NEW(arena, n, size_t);
    ret->most = WH_NEW(arena, n, size_t);
    ret->toll = WH_NEW(arena, n, double);
    ret->ahead = WH_NEW(arena, n * n, double);
    ret->behind = WH_NEW(arena, n * n, double);
    ret->row = WH_NEW(arena, n, double);
    ret->best = WH_NEW(arena, n, double);
    ret->next = WH_NEW(arena, n, double);
    ret->way = WH_NEW(arena, n, double);
    ret->path = WH_NEW(arena, n, size_t);
    ret->times = WH_NEW(arena, n, size_t);
    for (size_t k = 0; k < n; k++) {
        for (size_t t = 0; t < n; t++) ret->shut[k * n + t] = k < model->early[t] || k > model->late[t];
    }
    for (size_t t = 1; t + 1 < n; t++) ret->best[t] = -assignment->leave[t] - assignment->come[t];
    set_ranges(ret);
}

/* The least of a[i] + b[i]. */
static double least_sum(const double *a, const double *b, size_t count)
{
    double least[4] = {INFINITY, INFINITY, INFINITY, INFINITY};
    size_t i = 0;
    for (; i + 4 <= count; i += 4) {
        for (size_t lane = 0; lane < 4; lane++) {
            double sum = a[i + lane] + b[i + lane];
            least[lane] = sum < least[lane] ? sum : least[lane];
        }
    }
    for (; i < count; i++) least[0] = fmin(least[0], a[i] + b[i]);
    return fmin(fmin(least[0], least[1]), fmin(least[2], least[3]));
}

/* `row` becomes what coming to each task of a place costs from there on. */
static void fill_row(struct wh_sequence_walk *walk, size_t place)
{
    size_t n = walk->model->n;
    for (size_t t = walk->least[place]; t <= walk->most[place] && t < n; t++) {
        walk->row[t] = walk->shut[place * n + t] ? INFINITY : walk->toll[t] + walk->ahead[place * n + t];
    }
}

static void sweep_back(struct wh_sequence_walk *walk)
{
    size_t n = walk->model->n;
    for (size_t i = 0; i < n * n; i++) walk->ahead[i] = INFINITY;
    walk->ahead[n * n - 1] = 0;
    for (size_t k = n - 1; k-- > 0;) {
        size_t least = walk->least[k + 1], most = walk->most[k + 1];
        fill_row(walk, k + 1);
        for (size_t t = walk->least[k]; t <= walk->most[k] && t < n && least < n; t++) {
            if (walk->shut[k * n + t]) continue;
            const double *cost = &walk->model->cost[t * n];
            walk->ahead[k * n + t] = least_sum(cost + least, walk->row + least, most - least + 1);
        }
    }
}

static void sweep_forward(struct wh_sequence_walk *walk)
{
    size_t n = walk->model->n;
    for (size_t i = 0; i < n * n; i++) walk->behind[i] = INFINITY;
    walk->behind[0] = 0;
    for (size_t k = 0; k + 1 < n; k++) {
        double *next = &walk->behind[(k + 1) * n];
        size_t least = walk->least[k + 1], most = walk->most[k + 1];
        for (size_t t = walk->least[k]; t <= walk->most[k] && t < n && least < n; t++) {
            double here = walk->behind[k * n + t];
            const double *cost = &walk->model->cost[t * n];
            if (isinf(here)) continue;
            for (size_t u = least; u <= most; u++) next[u] = here + cost[u] < next[u] ? here + cost[u] : next[u];
        }
        for (size_t u = least; u <= most && u < n; u++) {
            next[u] = walk->shut[(k + 1) * n + u] ? INFINITY : next[u] + walk->toll[u];
        }
    }
}

/* Follows the cheapest walk; the sum of the squares of how far it is from once at each task. */
static double follow(struct wh_sequence_walk *walk)
{
    size_t n = walk->model->n;
    memset(walk->times, 0, n * sizeof *walk->times);
    walk->path[0] = 0;
    walk->times[0] = 1;
    for (size_t k = 1; k < n; k++) {
        const double *cost = &walk->model->cost[walk->path[k - 1] * n];
        size_t at = walk->least[k];
        fill_row(walk, k);
        for (size_t t = at; t <= walk->most[k]; t++) {
            if (cost[t] + walk->row[t] < cost[at] + walk->row[at]) at = t;
        }
        walk->path[k] = at;
        walk->times[at]++;
    }
    double off = 0;
    for (size_t t = 0; t < n; t++) off += ((double)walk->times[t] - 1) * ((double)walk->times[t] - 1);
    return off;
}

/* Shuts each task at each place where the cheapest walk through it is too dear. */
static void shut_places(struct wh_sequence_walk *walk, const struct wh_sequence_run *run)
{
    size_t n = walk->model->n;
    double cut = wh_sequence_cut(run);
    if (isinf(cut)) return;
    sweep_forward(walk);
    for (size_t i = 0; i < n * n; i++) {
        if (!walk->shut[i]) walk->shut[i] = walk->behind[i] + walk->ahead[i] - walk->tolls > cut;
    }
    set_ranges(walk);
}

/* Tolls are whole parts of the grain, so that sums of costs and tolls are exact. */
static double whole(const struct wh_sequence_walk *walk, double toll)
{
    double part = walk->model->grain / 1024;
    return part > 0 ? rint(toll / part) * part : toll;
}

static void set_tolls(struct wh_sequence_walk *walk, const double toll[])
{
    size_t n = walk->model->n;
    walk->tolls = 0;
    for (size_t t = 1; t < n; t++) {
        walk->toll[t] = whole(walk, toll[t]);
        walk->tolls += walk->toll[t];
    }
}

static double sweep(struct wh_sequence_walk *walk, struct wh_sequence_run *run)
{
    sweep_back(walk);
    wh_sequence_spend(run, 1 + walk->steps / 256);
    return walk->ahead[0] - walk->tolls;
}

/* Subgradient steps of the length that would reach the best sequence's cost, shortened when they stop to help. */
static void climb(struct wh_sequence_walk *walk, struct wh_sequence_run *run, int sweeps)
{
    size_t n = walk->model->n;
    double *best = walk->best, *way = walk->way, *toll = walk->next;
    memcpy(toll, best, n * sizeof *toll);
    memset(way, 0, n * sizeof *way);
    int idle = 0;
    walk->length = fmax(walk->length, LEAST_LENGTH);
    for (int i = 0; i < sweeps && walk->length > LEAST_LENGTH / 8; i++) {
        if (run->stopped || wh_sequence_settled(run)) return;
        set_tolls(walk, toll);
        double bound = sweep(walk, run);
        if (bound > walk->bound) {
            if (bound > walk->bound + 1e-4 * fabs(bound)) idle = 0;
            walk->bound = bound;
            memcpy(best, walk->toll, n * sizeof *best);
            wh_sequence_raise(run, bound);
        }
        if (isinf(bound)) return;
        if (i % SHUT_EVERY == SHUT_EVERY - 1) shut_places(walk, run);
        double off = follow(walk), goal = isfinite(run->cost) ? run->cost : bound + 0.05 * fabs(bound) + 1;
        if (off <= 0) return;
        if (++idle >= PATIENCE) {
            walk->length /= 2;
            idle = 0;
            memcpy(toll, best, n * sizeof *toll);
        }
        for (size_t t = 1; t < n; t++) {
            way[t] = 0.3 * way[t] + ((double)walk->times[t] - 1);
            toll[t] += walk->length * (goal - bound + 1e-3 * fabs(goal)) / off * way[t];
        }
    }
}

void wh_sequence_walk_improve(struct wh_sequence_walk *walk, struct wh_sequence_run *run, int sweeps)
{
    climb(walk, run, sweeps);
    set_tolls(walk, walk->best);
    walk->bound = sweep(walk, run);
    shut_places(walk, run);
}
