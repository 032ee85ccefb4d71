#include "order/sequence_states.h"

#include "order/sequence_crowd.h"
#include "order/sequence_trail.h"

#include <math.h>
#include <string.h>

/* Room for new partial sequences and for links, in widths; so many links are always had. */
enum { SURPLUS = 3, LINKS = 16, FEW_LINKS = 1 << 20 };

struct search {
    const struct wh_sequence_walk *walk;
    struct wh_sequence_run *run;
    size_t width, place;   /* place: of the sequences in `now` */
    uint64_t *due;         /* of each place the tasks that have to be done by then */
    size_t *first, *words; /* of each place the words of a set that differ within it */
    struct wh_sequence_crowd now, next;
    struct wh_sequence_trail trail;
    double dropped, ceiling; /* least reach dropped; reach from which on more would be dropped too */
    uint64_t *whole, *key;   /* the set at hand; it with one more, only the words that differ */
    size_t *open;            /* tasks that may come next */
    double *cost;            /* of each, with the cheapest to come from */
    uint32_t *from;
    size_t open_count;
};

/* The words before `first` are full in all sets of a place, those after first + words empty. */
static void set_windows(struct search *s)
{
    const struct wh_sequence_walk *walk = s->walk;
    size_t n = walk->model->n, words = walk->model->words, reach = 0;
    for (size_t t = 0; t < n; t++) {
        size_t last = n;
        for (size_t k = n; k-- > 0 && last == n;) last = walk->shut[k * n + t] ? n : k;
        for (size_t k = last < n ? last : 0; k < n; k++) wh_sequence_put(&s->due[k * words], t);
    }
    for (size_t k = 0; k < n; k++) {
        size_t first = 0;
        reach = walk->most[k] > reach ? walk->most[k] : reach;
        while (first < reach / 64 && s->due[k * words + first] == UINT64_MAX) first++;
        s->first[k] = first;
        s->words[k] = reach / 64 + 1 - first;
    }
}

static size_t links_for(size_t n, size_t width)
{
    size_t all = n * width, few = LINKS * width;
    return all <= FEW_LINKS ? all : few > FEW_LINKS ? few : FEW_LINKS;
}

/* The most words of a set that differ within a place: those from the first task that can stand before it or after it
 * to the last. */
static size_t most_words(const struct wh_sequence_walk *walk)
{
    size_t n = walk->model->n, reach = 0, most = 1;
    for (size_t k = 0; k < n; k++) {
        size_t first = n - 1;
        reach = walk->most[k] > reach ? walk->most[k] : reach;
        for (size_t later = k + 1; later < n; later++) first = walk->least[later] < first ? walk->least[later] : first;
        if (reach / 64 >= first / 64) most = reach / 64 - first / 64 + 1 > most ? reach / 64 - first / 64 + 1 : most;
    }
    return most;
}

static size_t bytes_for(const struct wh_sequence_model *m, size_t words, size_t width)
{
    size_t partial = sizeof(struct wh_sequence_partial) + words * 8 + sizeof(double) + sizeof(size_t);
    size_t room = SURPLUS * width + m->n;
    return partial * (width + room) + wh_sequence_crowd_table(room) * sizeof(uint32_t) + width * sizeof(uint32_t) +
           links_for(m->n, width) * sizeof(struct wh_sequence_link) + m->n * (m->words * 8 + 128) + (128 << 10);
}

size_t wh_sequence_states_width(const struct wh_sequence_walk *walk, size_t bytes)
{
    size_t width = 1 << 24, words = most_words(walk);
    while (width && bytes_for(walk->model, words, width) > bytes) width /= 2;
    return width;
}

static void make(struct wh_arena *arena, struct search *s)
{
    size_t n = s->walk->model->n, words = s->walk->model->words, most = most_words(s->walk);
    s->due = WH_NEW(arena, n * words, uint64_t);
    s->first = WH_NEW(arena, n, size_t);
    s->words = WH_NEW(arena, n, size_t);
    s->whole = WH_NEW(arena, words, uint64_t);
    s->key = WH_NEW(arena, words, uint64_t);
    s->open = WH_NEW(arena, n, size_t);
    s->cost = WH_NEW(arena, n, double);
    s->from = WH_NEW(arena, n, uint32_t);
    set_windows(s);
    wh_sequence_crowd_make(arena, s->width, most, false, &s->now);
    wh_sequence_crowd_make(arena, SURPLUS * s->width + n, most, true, &s->next);
    wh_sequence_trail_make(arena, links_for(n, s->width), n, s->width, &s->trail);
}

/* Spreads a set of the place over all words. */
static void open_set(struct search *s, size_t set)
{
    size_t words = s->walk->model->words, first = s->first[s->place], count = s->words[s->place];
    memset(s->whole, 0xff, first * sizeof *s->whole);
    memcpy(s->whole + first, &s->now.sets[set * count], count * sizeof *s->whole);
    memset(s->whole + first + count, 0, (words - first - count) * sizeof *s->whole);
}

/* How many tasks that have to be done by the next place are still to do; *ret: one of them. */
static size_t count_due(const struct search *s, size_t *ret)
{
    size_t words = s->walk->model->words, count = 0;
    const uint64_t *due = &s->due[(s->place + 1) * words];
    for (size_t w = s->first[s->place]; w < words; w++) {
        uint64_t missing = due[w] & ~s->whole[w];
        if (!missing) continue;
        count += (size_t)__builtin_popcountll(missing);
        *ret = 64 * w + (size_t)__builtin_ctzll(missing);
    }
    return count;
}

static bool is_ready(const struct search *s, size_t task)
{
    const uint64_t *before = &s->walk->model->before[task * s->walk->model->words];
    for (size_t w = s->first[s->place]; w <= task / 64; w++) {
        if (before[w] & ~s->whole[w]) return false;
    }
    return true;
}

/* Lists the tasks that may follow the set: one that is due, if there is one; two cannot both come next. */
static void list_open(struct search *s)
{
    const struct wh_sequence_walk *walk = s->walk;
    size_t n = walk->model->n, next = s->place + 1, least = walk->least[next], most = walk->most[next], task = 0;
    size_t due = count_due(s, &task);
    s->open_count = 0;
    if (due > 1) return;
    if (due == 1) least = most = task;
    for (size_t t = least; t <= most; t++) {
        if (walk->shut[next * n + t] || wh_sequence_has(s->whole, t) || !is_ready(s, t)) continue;
        s->cost[s->open_count] = INFINITY;
        s->open[s->open_count++] = t;
    }
}

/* Of each open task the cheapest of the set's partial sequences to come from. */
static void find_cheapest(struct search *s, size_t set)
{
    size_t n = s->walk->model->n;
    for (size_t i = s->now.start[set]; i < s->now.start[set + 1]; i++) {
        const double *cost = &s->walk->model->cost[s->now.at[i].task * n];
        double so_far = s->now.at[i].cost;
        for (size_t k = 0; k < s->open_count; k++) {
            double sum = so_far + cost[s->open[k]];
            if (sum >= s->cost[k]) continue;
            s->cost[k] = sum;
            s->from[k] = (uint32_t)i;
        }
    }
}

static void drop(struct search *s, double reach)
{
    s->dropped = fmin(s->dropped, reach);
}

static void thin(struct search *s)
{
    if (s->next.count <= s->width) return;
    drop(s, wh_sequence_crowd_thin(&s->next, s->width));
    s->ceiling = -INFINITY;
    for (size_t i = 0; i < s->next.count; i++) s->ceiling = fmax(s->ceiling, s->next.at[i].reach);
}

static void add(struct search *s, size_t k, double tolls, double reach)
{
    size_t task = s->open[k], next = s->place + 1, first = s->first[next], count = s->words[next];
    memcpy(s->key, s->whole + first, count * sizeof *s->key);
    if (task / 64 >= first) s->key[task / 64 - first] |= UINT64_C(1) << (task % 64);
    uint32_t set = wh_sequence_crowd_set(&s->next, s->key, tolls);
    s->next.at[s->next.count++] = (struct wh_sequence_partial){s->cost[k], reach, set, s->from[k], (uint32_t)task};
}

/* What the cheapest walk on from a task of the next place costs that does not at once come by a task done. */
static double cost_ahead(const struct search *s, size_t task)
{
    size_t at = (s->place + 1) * s->walk->model->n + task, beside = s->walk->ahead.beside[at];
    bool done = beside != WH_SEQUENCE_NONE && wh_sequence_has(s->whole, beside);
    return done ? s->walk->ahead.other[at] : s->walk->ahead.first[at];
}

/* Continues all partial sequences of one set. */
static void continue_set(struct search *s, size_t set, double cut)
{
    const struct wh_sequence_walk *walk = s->walk;
    open_set(s, set);
    list_open(s);
    find_cheapest(s, set);
    for (size_t k = 0; k < s->open_count; k++) {
        size_t task = s->open[k];
        double tolls = s->now.tolls[set] + walk->toll[task];
        double reach = s->cost[k] + cost_ahead(s, task) - (walk->tolls - tolls);
        if (!(reach <= cut) || isinf(reach)) continue;
        if (reach >= s->ceiling) {
            drop(s, reach);
            continue;
        }
        add(s, k, tolls, reach);
    }
    if (s->next.count >= SURPLUS * s->width) thin(s);
}

/* Continues all of a place. False: stopped, by the run or for want of room for links. */
static bool advance(struct search *s)
{
    double cut = wh_sequence_cut(s->run);
    s->ceiling = INFINITY;
    wh_sequence_crowd_clear(&s->next, s->words[s->place + 1]);
    for (size_t set = 0; set < s->now.set_count; set++) {
        if (!wh_sequence_spend(s->run, s->now.start[set + 1] - s->now.start[set])) return false;
        continue_set(s, set, cut);
    }
    thin(s);
    wh_sequence_crowd_settle(&s->next, &s->now);
    struct wh_sequence_link *link = wh_sequence_trail_add(&s->trail, s->now.count);
    for (size_t i = 0; link && i < s->now.count; i++) {
        link[i] = (struct wh_sequence_link){s->now.at[i].from, (uint16_t)s->now.at[i].task, true};
    }
    s->place++;
    return link != NULL;
}

static void begin(struct search *s)
{
    size_t words = s->words[0];
    wh_sequence_crowd_clear(&s->next, words);
    memset(s->key, 0, words * sizeof *s->key);
    if (s->first[0] == 0) s->key[0] = 1;
    uint32_t set = wh_sequence_crowd_set(&s->next, s->key, 0);
    s->next.at[s->next.count++] = (struct wh_sequence_partial){0, 0, set, 0, 0};
    wh_sequence_crowd_settle(&s->next, &s->now);
    *wh_sequence_trail_add(&s->trail, 1) = (struct wh_sequence_link){0, 0, true};
}

bool wh_sequence_states_search(struct wh_arena *arena, const struct wh_sequence_walk *walk, struct wh_sequence_run *run,
                               size_t width)
{
    struct search s = {.walk = walk, .run = run, .width = width, .dropped = INFINITY};
    size_t n = walk->model->n;
    make(arena, &s);
    begin(&s);
    while (s.place + 1 < n && s.now.count) {
        if (!advance(&s)) return false;
    }
    if (s.now.count) {
        size_t *order = WH_NEW(arena, n, size_t);
        wh_sequence_trail_read(&s.trail, 0, order);
        wh_sequence_offer(run, order);
    }
    wh_sequence_raise(run, s.dropped);
    return isinf(s.dropped);
}
