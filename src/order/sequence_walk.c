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

static struct wh_sequence_parts make_parts(struct wh_arena *arena, size_t count)
{
    return (struct wh_sequence_parts){WH_NEW(arena, count, double), WH_NEW(arena, count, double),
                                      WH_NEW(arena, count, uint16_t)};
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
    ret->ahead = make_parts(arena, n * n);
    ret->behind = make_parts(arena, n * n);
    ret->back = WH_NEW(arena, n, size_t);
    ret->chain = WH_NEW(arena, n, size_t);
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

struct least {
    double first, other; /* the two least sums */
    size_t at;           /* where the first is */
};

/* Of a[i] + b[i]. */
static struct least least_sums(const double *a, const double *b, size_t count)
{
    double first[4] = {INFINITY, INFINITY, INFINITY, INFINITY}, other[4] = {INFINITY, INFINITY, INFINITY, INFINITY};
    size_t whole = count - count % 4;
    for (size_t i = 0; i < whole; i += 4) {
        for (size_t lane = 0; lane < 4; lane++) {
            double sum = a[i + lane] + b[i + lane], worse = sum < first[lane] ? first[lane] : sum;
            first[lane] = sum < first[lane] ? sum : first[lane];
            other[lane] = worse < other[lane] ? worse : other[lane];
        }
    }
    for (size_t i = whole; i < count; i++) {
        double sum = a[i] + b[i];
        other[0] = fmin(other[0], fmax(first[0], sum));
        first[0] = fmin(first[0], sum);
    }
    struct least least = {INFINITY, INFINITY, 0};
    for (size_t lane = 0; lane < 4; lane++) {
        least.other = fmin(fmin(least.other, other[lane]), fmax(least.first, first[lane]));
        least.first = fmin(least.first, first[lane]);
    }
    while (least.at < count && a[least.at] + b[least.at] > least.first) least.at++;
    return least;
}

static void clear_parts(const struct wh_sequence_walk *walk, struct wh_sequence_parts *parts)
{
    size_t n = walk->model->n;
    for (size_t k = 0; k < n; k++) {
        for (size_t i = k * n + walk->least[k]; i <= k * n + walk->most[k] && i < (k + 1) * n; i++) {
            parts->first[i] = parts->other[i] = INFINITY;
            parts->beside[i] = WH_SEQUENCE_NONE;
        }
    }
}

/* What a part costs to who comes from `task`, and cannot go back to it. */
static double cost_from(const struct wh_sequence_parts *parts, size_t at, size_t task)
{
    return parts->beside[at] == task ? parts->other[at] : parts->first[at];
}

/* `row` becomes what coming to each task of a place costs from there on, from wherever it would not go back to. */
static void fill_row(struct wh_sequence_walk *walk, size_t place)
{
    size_t n = walk->model->n;
    for (size_t t = walk->least[place - 1]; t <= walk->most[place - 1] && t < n; t++) walk->back[t] = n;
    for (size_t t = walk->least[place]; t <= walk->most[place] && t < n; t++) {
        walk->row[t] = walk->shut[place * n + t] ? INFINITY : walk->toll[t] + walk->ahead.first[place * n + t];
        size_t next = walk->ahead.beside[place * n + t];
        if (next == WH_SEQUENCE_NONE || isinf(walk->row[t])) continue;
        walk->chain[t] = walk->back[next];
        walk->back[next] = t;
    }
}

/* Fits the row to who comes from `task`, or undoes it. */
static void turn_row(struct wh_sequence_walk *walk, size_t place, size_t task, bool undo)
{
    size_t n = walk->model->n;
    for (size_t t = walk->back[task]; t < n; t = walk->chain[t]) {
        walk->row[t] = walk->toll[t] + (undo ? walk->ahead.first : walk->ahead.other)[place * n + t];
    }
}

static void sweep_back(struct wh_sequence_walk *walk)
{
    size_t n = walk->model->n;
    clear_parts(walk, &walk->ahead);
    walk->ahead.first[n * n - 1] = 0;
    for (size_t k = n - 1; k-- > 0;) {
        size_t least = walk->least[k + 1], most = walk->most[k + 1];
        fill_row(walk, k + 1);
        for (size_t t = walk->least[k]; t <= walk->most[k] && t < n && least < n; t++) {
            if (walk->shut[k * n + t]) continue;
            turn_row(walk, k + 1, t, false);
            struct least found = least_sums(&walk->model->cost[t * n + least], walk->row + least, most - least + 1);
            turn_row(walk, k + 1, t, true);
            walk->ahead.first[k * n + t] = found.first;
            walk->ahead.other[k * n + t] = found.other;
            if (isfinite(found.first)) walk->ahead.beside[k * n + t] = (uint16_t)(least + found.at);
        }
    }
}

/* A part that ends with `task`, come to from `from`. */
static void come_to(struct wh_sequence_parts *parts, size_t task, double cost, size_t from)
{
    if (cost < parts->first[task]) {
        parts->other[task] = parts->first[task];
        parts->first[task] = cost;
        parts->beside[task] = (uint16_t)from;
    } else if (cost < parts->other[task]) {
        parts->other[task] = cost;
    }
}

static void sweep_forward(struct wh_sequence_walk *walk)
{
    size_t n = walk->model->n;
    clear_parts(walk, &walk->behind);
    walk->behind.first[0] = walk->behind.other[0] = 0;
    for (size_t k = 0; k + 1 < n; k++) {
        size_t least = walk->least[k + 1], most = walk->most[k + 1];
        for (size_t t = walk->least[k]; t <= walk->most[k] && t < n && least < n; t++) {
            size_t at = k * n + t;
            if (isinf(walk->behind.first[at])) continue;
            for (size_t u = least; u <= most; u++) {
                if (walk->shut[(k + 1) * n + u]) continue;
                double cost = cost_from(&walk->behind, at, u) + walk->model->cost[t * n + u] + walk->toll[u];
                come_to(&walk->behind, (k + 1) * n + u, cost, t);
            }
        }
    }
}

/* Follows the cheapest walk; the sum of the squares of how far it is from once at each task. */
static double follow(struct wh_sequence_walk *walk)
{
    size_t n = walk->model->n, from = n;
    memset(walk->times, 0, n * sizeof *walk->times);
    walk->path[0] = 0;
    walk->times[0] = 1;
    for (size_t k = 1; k < n; k++) {
        size_t here = walk->path[k - 1], at = n;
        double least = INFINITY;
        for (size_t t = walk->least[k]; t <= walk->most[k]; t++) {
            if (t == from || walk->shut[k * n + t]) continue;
            double cost = walk->model->cost[here * n + t] + walk->toll[t] + cost_from(&walk->ahead, k * n + t, here);
            if (cost >= least) continue;
            least = cost;
            at = t;
        }
        from = here;
        walk->path[k] = at;
        walk->times[at]++;
    }
    double off = 0;
    for (size_t t = 0; t < n; t++) off += ((double)walk->times[t] - 1) * ((double)walk->times[t] - 1);
    return off;
}

/* The cheapest walk that has a task at a place; what it is beside there, before and after, is not the same. */
static double through(const struct wh_sequence_walk *walk, size_t at)
{
    const struct wh_sequence_parts *ahead = &walk->ahead, *behind = &walk->behind;
    if (ahead->beside[at] != behind->beside[at]) return ahead->first[at] + behind->first[at];
    return fmin(ahead->first[at] + behind->other[at], ahead->other[at] + behind->first[at]);
}

/* Shuts each task at each place where the cheapest walk through it is too dear. */
static void shut_places(struct wh_sequence_walk *walk, const struct wh_sequence_run *run)
{
    size_t n = walk->model->n;
    double cut = wh_sequence_cut(run);
    if (isinf(cut)) return;
    sweep_forward(walk);
    for (size_t i = 0; i < n * n; i++) {
        if (!walk->shut[i]) walk->shut[i] = through(walk, i) - walk->tolls > cut;
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
    return walk->ahead.first[0] - walk->tolls;
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
