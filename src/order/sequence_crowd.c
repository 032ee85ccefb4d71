#include "order/sequence_crowd.h"

#include <math.h>
#include <string.h>

enum { LEAST_TABLE = 64 };

static const uint32_t NONE = UINT32_MAX;

size_t wh_sequence_crowd_table(size_t room)
{
    size_t size = LEAST_TABLE;
    while (size < 2 * room) size *= 2;
    return size;
}

void wh_sequence_crowd_make(struct wh_arena *arena, size_t room, size_t words, bool table,
                            struct wh_sequence_crowd *ret)
{
    *ret = (struct wh_sequence_crowd){.room = room};
    ret->at = WH_NEW(arena, room, struct wh_sequence_partial);
    ret->sets = WH_NEW(arena, room * words, uint64_t);
    ret->tolls = WH_NEW(arena, room, double);
    ret->start = WH_NEW(arena, room + 1, size_t);
    if (table) ret->table = WH_NEW(arena, wh_sequence_crowd_table(room), uint32_t);
}

void wh_sequence_crowd_clear(struct wh_sequence_crowd *crowd, size_t words)
{
    crowd->count = crowd->set_count = 0;
    crowd->words = words;
    crowd->table_size = LEAST_TABLE;
    if (crowd->table) memset(crowd->table, 0xff, crowd->table_size * sizeof *crowd->table);
}

static uint64_t hash_of(const uint64_t *set, size_t words)
{
    uint64_t hash = 0;
    for (size_t w = 0; w < words; w++) {
        hash = (hash ^ set[w]) * UINT64_C(0x9e3779b97f4a7c15);
        hash ^= hash >> 29;
    }
    return hash * UINT64_C(0xbf58476d1ce4e5b9) >> 20;
}

/* Where a set stands in the table, or would stand. */
static uint32_t *look_up(const struct wh_sequence_crowd *crowd, const uint64_t *set)
{
    size_t mask = crowd->table_size - 1, words = crowd->words;
    for (size_t i = hash_of(set, words) & mask;; i = (i + 1) & mask) {
        uint32_t at = crowd->table[i];
        if (at == NONE) return &crowd->table[i];
        const uint64_t *other = &crowd->sets[at * words];
        size_t w = 0;
        while (w < words && other[w] == set[w]) w++;
        if (w == words) return &crowd->table[i];
    }
}

/* Enters all sets into an empty table that is at most half full then. */
static void enter_all(struct wh_sequence_crowd *crowd)
{
    crowd->table_size = wh_sequence_crowd_table(crowd->set_count);
    memset(crowd->table, 0xff, crowd->table_size * sizeof *crowd->table);
    for (size_t s = 0; s < crowd->set_count; s++) *look_up(crowd, &crowd->sets[s * crowd->words]) = (uint32_t)s;
}

uint32_t wh_sequence_crowd_set(struct wh_sequence_crowd *crowd, const uint64_t *set, double tolls)
{
    uint32_t *at = look_up(crowd, set);
    if (*at != NONE) return *at;
    *at = (uint32_t)crowd->set_count++;
    memcpy(&crowd->sets[*at * crowd->words], set, crowd->words * sizeof *set);
    crowd->tolls[*at] = tolls;
    if (2 * crowd->set_count > crowd->table_size) enter_all(crowd);
    return (uint32_t)crowd->set_count - 1;
}

/* Among equals the one made first is kept. */
static bool is_better(const struct wh_sequence_partial *a, const struct wh_sequence_partial *b)
{
    if (a->reach < b->reach || a->reach > b->reach) return a->reach < b->reach;
    return a->from != b->from ? a->from < b->from : a->task < b->task;
}

/* Brings the `keep` best to the front. */
static void select_best(struct wh_sequence_partial *at, size_t count, size_t keep)
{
    ptrdiff_t low = 0, high = (ptrdiff_t)count - 1, wanted = (ptrdiff_t)keep;
    while (low < high) {
        struct wh_sequence_partial pivot = at[wanted];
        ptrdiff_t i = low, j = high;
        while (i <= j) {
            while (is_better(&at[i], &pivot)) i++;
            while (is_better(&pivot, &at[j])) j--;
            if (i > j) break;
            struct wh_sequence_partial other = at[i];
            at[i++] = at[j];
            at[j--] = other;
        }
        if (j < wanted) low = i;
        if (wanted < i) high = j;
    }
}

/* Drops sets without a partial sequence and enters the others anew. */
static void drop_sets(struct wh_sequence_crowd *crowd)
{
    size_t words = crowd->words, kept = 0;
    uint32_t *moved = crowd->table; /* longer than there are sets */
    memset(moved, 0xff, crowd->set_count * sizeof *moved);
    for (size_t i = 0; i < crowd->count; i++) moved[crowd->at[i].set] = 0;
    for (size_t s = 0; s < crowd->set_count; s++) {
        if (moved[s] == NONE) continue;
        memmove(&crowd->sets[kept * words], &crowd->sets[s * words], words * sizeof *crowd->sets);
        crowd->tolls[kept] = crowd->tolls[s];
        moved[s] = (uint32_t)kept++;
    }
    for (size_t i = 0; i < crowd->count; i++) crowd->at[i].set = moved[crowd->at[i].set];
    crowd->set_count = kept;
    enter_all(crowd);
}

double wh_sequence_crowd_thin(struct wh_sequence_crowd *crowd, size_t keep)
{
    double dropped = INFINITY;
    if (crowd->count <= keep) return dropped;
    select_best(crowd->at, crowd->count, keep);
    for (size_t i = keep; i < crowd->count; i++) dropped = fmin(dropped, crowd->at[i].reach);
    crowd->count = keep;
    drop_sets(crowd);
    return dropped;
}

void wh_sequence_crowd_settle(const struct wh_sequence_crowd *crowd, struct wh_sequence_crowd *to)
{
    to->count = crowd->count;
    to->set_count = crowd->set_count;
    to->words = crowd->words;
    memcpy(to->sets, crowd->sets, crowd->set_count * crowd->words * sizeof *to->sets);
    memcpy(to->tolls, crowd->tolls, crowd->set_count * sizeof *to->tolls);
    memset(to->start, 0, (crowd->set_count + 1) * sizeof *to->start);
    for (size_t i = 0; i < crowd->count; i++) to->start[crowd->at[i].set]++;
    for (size_t s = 1; s <= crowd->set_count; s++) to->start[s] += to->start[s - 1];
    for (size_t i = crowd->count; i-- > 0;) to->at[--to->start[crowd->at[i].set]] = crowd->at[i];
}
