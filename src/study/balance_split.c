#include "study/balance_split.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

enum { WAYS = 1 << 19, LEAF = 8 };

/* One way of filling half of the holes: what it makes, and four bits a hole: which mass, from 1; 0 for none. */
struct way {
    double x, y;
    uint64_t filled;
};

struct box {
    double left, right, bottom, top;
};

/* All ways with the same number of masses, sorted into a tree: the middle one of a span parts it, boxes bound both. */
struct ways {
    struct way *at;
    struct box *box; /* of the span whose middle it is */
    size_t count, room;
};

struct search {
    const struct wh_split *split;
    size_t half[2], first[2]; /* holes of each half: how many, and from which on */
    struct ways ways[2][WH_SPLIT_MOST + 1];
    struct way found[WH_SPLIT_MOST + 1][2];
    double left[WH_SPLIT_MOST + 1]; /* least distance found so far, by masses in all */
};

/* Ways of choosing k of n holes with m masses each. */
static double ways_of(size_t n, size_t k, size_t m)
{
    double ways = 1;
    for (size_t i = 0; i < k; i++) ways *= (double)(n - i) / (double)(i + 1) * (double)m;
    return k <= n ? ways : 0;
}

/* Lists all ways from a hole on. */
static void list(struct search *s, size_t h, size_t hole, size_t used, struct way way)
{
    const struct wh_split *split = s->split;
    if (hole == s->half[h]) {
        struct ways *ways = &s->ways[h][used];
        ways->at[ways->count++] = way;
        return;
    }
    list(s, h, hole + 1, used, way);
    double complex arm = split->arm[s->first[h] + hole];
    for (size_t m = 0; m < split->masses && used < split->most; m++) {
        double complex made = split->mass[m] * arm;
        struct way more = {way.x + creal(made), way.y + cimag(made), way.filled | (uint64_t)(m + 1) << (4 * hole)};
        list(s, h, hole + 1, used + 1, more);
    }
}

static int by_x(const void *a, const void *b)
{
    double first = ((const struct way *)a)->x, second = ((const struct way *)b)->x;
    return (first > second) - (first < second);
}

static int by_y(const void *a, const void *b)
{
    double first = ((const struct way *)a)->y, second = ((const struct way *)b)->y;
    return (first > second) - (first < second);
}

/* Sorts the span from..to into a tree. */
static void grow(struct ways *ways, size_t from, size_t to)
{
    if (from >= to) return;
    struct box box = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (size_t i = from; i < to; i++) {
        box.left = fmin(box.left, ways->at[i].x);
        box.right = fmax(box.right, ways->at[i].x);
        box.bottom = fmin(box.bottom, ways->at[i].y);
        box.top = fmax(box.top, ways->at[i].y);
    }
    size_t middle = from + (to - from) / 2;
    ways->box[middle] = box;
    if (to - from <= LEAF) return;
    qsort(ways->at + from, to - from, sizeof *ways->at, box.right - box.left > box.top - box.bottom ? by_x : by_y);
    grow(ways, from, middle);
    grow(ways, middle + 1, to);
}

static double away(const struct box *box, double x, double y)
{
    return hypot(fmax(0, fmax(box->left - x, x - box->right)), fmax(0, fmax(box->bottom - y, y - box->top)));
}

/* Are there enough of each mass for both halves together? */
static bool in_stock(const struct wh_split *split, uint64_t a, uint64_t b)
{
    size_t used[WH_SPLIT_MASSES + 1] = {0};
    for (; a; a >>= 4) used[a & 15]++;
    for (; b; b >>= 4) used[b & 15]++;
    for (size_t m = 0; m < split->masses; m++)
        if (split->stock[m] > 0 && used[m + 1] > split->stock[m]) return false;
    return true;
}

static void try(struct search *s, const struct way *a, const struct way *b, double x, double y, size_t used)
{
    double left = hypot(b->x - x, b->y - y);
    if (left >= s->left[used] || !in_stock(s->split, a->filled, b->filled)) return;
    s->left[used] = left;
    s->found[used][0] = *a;
    s->found[used][1] = *b;
}

/* Looks through the span from..to for a way nearer to x, y than what is found. */
static void look(struct search *s, const struct ways *ways, size_t from, size_t to, const struct way *a, double x,
                 double y, size_t used)
{
    if (from >= to) return;
    size_t middle = from + (to - from) / 2;
    if (away(&ways->box[middle], x, y) >= s->left[used]) return;
    if (to - from <= LEAF) {
        for (size_t i = from; i < to; i++) try(s, a, &ways->at[i], x, y, used);
        return;
    }
    try(s, a, &ways->at[middle], x, y, used);
    look(s, ways, from, middle, a, x, y, used);
    look(s, ways, middle + 1, to, a, x, y, used);
}

/* Room for all ways of both halves. False: there are too many. */
static bool open(struct wh_arena *arena, struct search *s, double *ret_ways)
{
    const struct wh_split *split = s->split;
    double count[2][WH_SPLIT_MOST + 1], sum = 0;
    *ret_ways = 0;
    for (size_t k = 0; k <= split->most; k++) {
        *ret_ways += ways_of(split->places, k, split->masses);
        for (size_t h = 0; h < 2; h++) sum += count[h][k] = ways_of(s->half[h], k, split->masses);
    }
    if (sum > WAYS) return false;
    for (size_t k = 0; k <= split->most; k++)
        for (size_t h = 0; h < 2; h++) {
            s->ways[h][k].at = WH_NEW(arena, (size_t)(count[h][k] + 0.5), struct way);
            s->ways[h][k].box = h == 1 ? WH_NEW(arena, (size_t)(count[h][k] + 0.5), struct box) : NULL;
        }
    return true;
}

static void take(const struct search *s, size_t used, struct wh_split_choice *ret)
{
    *ret = (struct wh_split_choice){.left = s->left[used], .used = used};
    for (size_t i = 0; i < WH_SPLIT_PLACES; i++) ret->mass[i] = -1;
    if (isinf(ret->left)) return;
    for (size_t h = 0; h < 2; h++)
        for (size_t i = 0; i < s->half[h]; i++) {
            size_t m = s->found[used][h].filled >> (4 * i) & 15, hole = s->first[h] + i;
            if (m == 0) continue;
            ret->mass[hole] = (int)m - 1;
            ret->made += s->split->mass[m - 1] * s->split->arm[hole];
        }
    ret->left = cabs(s->split->wanted - ret->made);
}

bool wh_split_best(struct wh_arena *arena, const struct wh_split *split, struct wh_split_choice ret[], double *ret_ways)
{
    struct search *s = WH_NEW(arena, 1, struct search);
    s->split = split;
    s->half[0] = split->places / 2;
    s->half[1] = split->places - s->half[0];
    s->first[1] = s->half[0];
    if (!open(arena, s, ret_ways)) return false;
    for (size_t h = 0; h < 2; h++) list(s, h, 0, 0, (struct way){0});
    for (size_t k = 0; k <= split->most; k++) {
        s->left[k] = INFINITY;
        grow(&s->ways[1][k], 0, s->ways[1][k].count);
    }
    for (size_t i = 0; i <= split->most; i++)
        for (size_t w = 0; w < s->ways[0][i].count; w++) {
            const struct way *a = &s->ways[0][i].at[w];
            double x = creal(split->wanted) - a->x, y = cimag(split->wanted) - a->y;
            for (size_t k = 0; i + k <= split->most; k++)
                look(s, &s->ways[1][k], 0, s->ways[1][k].count, a, x, y, i + k);
        }
    for (size_t k = 0; k <= split->most; k++) take(s, k, &ret[k]);
    return true;
}

const struct wh_split_choice *wh_split_choose(const struct wh_split_choice best[], size_t most, double enough)
{
    const struct wh_split_choice *least = &best[0];
    for (size_t k = 0; k <= most; k++) {
        if (best[k].left <= enough) return &best[k];
        if (best[k].left < least->left) least = &best[k];
    }
    return least;
}
