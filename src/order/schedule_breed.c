#include "order/schedule_breed.h"

#include <string.h>

enum { HERD = 40, IDLE = 60 };

/* xorshift64* (Vigna 2016). */
static uint32_t chance(struct wh_breed *b, uint32_t below)
{
    b->random ^= b->random >> 12;
    b->random ^= b->random << 25;
    b->random ^= b->random >> 27;
    return (uint32_t)(((b->random * 0x2545F4914F6CDD1DU >> 32) * below) >> 32);
}

static void keep_best(struct wh_breed *b, const int start[], int makespan)
{
    if (makespan >= b->best_makespan) return;
    b->best_makespan = makespan;
    memcpy(b->best, start, (size_t)b->lister->count * sizeof start[0]);
}

/* Generated and justified until that gains nothing. */
static int raise(struct wh_breed *b, int list[], int start[])
{
    int makespan = wh_list_forwards(b->lister, list, start);
    for (int last = makespan + 1; makespan < last;) {
        last = makespan;
        makespan = wh_list_justify(b->lister, list, start, makespan);
    }
    keep_best(b, start, makespan);
    return makespan;
}

/* A list by latest start, some of it left to chance. */
static void random_list(struct wh_breed *b, int list[], uint32_t looseness)
{
    int *key = b->lister->key;
    for (int i = 0; i < b->lister->count; i++) {
        list[i] = i;
        key[i] = (int)chance(b, looseness + 1) - b->lister->tail[i];
    }
    wh_list_sort(list, b->lister->count, key);
}

static void new_herd(struct wh_breed *b)
{
    int longest = 1;
    for (int i = 0; i < b->lister->count; i++) {
        if (b->lister->tail[i] > longest) longest = b->lister->tail[i];
    }
    for (int h = 0; h < b->size; h++) {
        random_list(b, b->list[h], (uint32_t)(longest * h / b->size));
        b->makespan[h] = raise(b, b->list[h], b->start[h]);
    }
    b->idle = 0;
}

struct wh_breed *wh_breed_new(struct wh_arena *arena, struct wh_lister *lister)
{
    struct wh_breed *b = WH_NEW(arena, 1, struct wh_breed);
    size_t n = (size_t)lister->count;
    *b = (struct wh_breed){.lister = lister, .random = 88172645463325252U, .size = HERD};
    b->best_makespan = lister->horizon + 1;
    b->list = WH_NEW(arena, HERD, int *);
    b->start = WH_NEW(arena, HERD, int *);
    b->makespan = WH_NEW(arena, HERD, int);
    b->child = WH_NEW(arena, n, int);
    b->child_start = WH_NEW(arena, n, int);
    b->best = WH_NEW(arena, n, int);
    for (int h = 0; h < HERD; h++) {
        b->list[h] = WH_NEW(arena, n, int);
        b->start[h] = WH_NEW(arena, n, int);
    }
    new_herd(b);
    return b;
}

/* The middle of the child's list is the mother's, what is before and behind the father's order. */
static void cross(struct wh_breed *b, const int mother[], const int father[])
{
    int n = b->lister->count, from = (int)chance(b, (uint32_t)n), span = n / 4 + (int)chance(b, (uint32_t)(n / 2 + 1));
    bool *taken = b->lister->placed;
    int to = from + span > n ? n : from + span, k = 0;
    memset(taken, 0, (size_t)n * sizeof taken[0]);
    for (int i = from; i < to; i++) taken[mother[i]] = true;
    for (int i = 0; i < n; i++) {
        if (k == from) {
            memcpy(&b->child[k], &mother[from], (size_t)(to - from) * sizeof mother[0]);
            k += to - from;
        }
        if (!taken[father[i]]) b->child[k++] = father[i];
    }
    if (k == from) memcpy(&b->child[k], &mother[from], (size_t)(to - from) * sizeof mother[0]);
}

static void mutate(struct wh_breed *b)
{
    int n = b->lister->count;
    for (int i = 0; i + 1 < n; i++) {
        if (chance(b, 100) >= 3) continue;
        int far = i + 1 + (int)chance(b, 5), kept = b->child[i];
        if (far >= n) far = n - 1;
        b->child[i] = b->child[far];
        b->child[far] = kept;
    }
}

static int pick(struct wh_breed *b)
{
    int x = (int)chance(b, (uint32_t)b->size), y = (int)chance(b, (uint32_t)b->size);
    return b->makespan[x] <= b->makespan[y] ? x : y;
}

static bool is_there(const struct wh_breed *b, const int start[], int makespan)
{
    for (int h = 0; h < b->size; h++) {
        if (b->makespan[h] == makespan && memcmp(b->start[h], start, (size_t)b->lister->count * sizeof start[0]) == 0)
            return true;
    }
    return false;
}

/* A child takes the place of the worst of a few. */
static void settle(struct wh_breed *b, int makespan)
{
    int worst = (int)chance(b, (uint32_t)b->size);
    for (int k = 0; k < 4; k++) {
        int h = (int)chance(b, (uint32_t)b->size);
        if (b->makespan[h] > b->makespan[worst]) worst = h;
    }
    b->idle++;
    if (makespan > b->makespan[worst] || is_there(b, b->child_start, makespan)) return;
    if (makespan < b->makespan[worst]) b->idle = 0;
    size_t bytes = (size_t)b->lister->count * sizeof b->child[0];
    memcpy(b->list[worst], b->child, bytes);
    memcpy(b->start[worst], b->child_start, bytes);
    b->makespan[worst] = makespan;
}

void wh_breed_on(struct wh_breed *b, uint64_t schedules, int enough)
{
    uint64_t last = b->lister->generated + schedules;
    while (b->lister->generated < last && b->best_makespan > enough) {
        if (b->idle > (uint64_t)(IDLE * b->size)) {
            new_herd(b);
            continue;
        }
        int mother = pick(b), father = pick(b);
        cross(b, b->list[mother], b->list[father]);
        mutate(b);
        settle(b, raise(b, b->child, b->child_start));
    }
}

void wh_breed_take(struct wh_breed *b, const int start[])
{
    int worst = 0;
    for (int h = 1; h < b->size; h++) {
        if (b->makespan[h] > b->makespan[worst]) worst = h;
    }
    for (int i = 0; i < b->lister->count; i++) b->list[worst][i] = i;
    wh_list_sort(b->list[worst], b->lister->count, start);
    b->makespan[worst] = raise(b, b->list[worst], b->start[worst]);
}
