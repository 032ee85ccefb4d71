#include "order/part.h"

#include "order/state.h"

#include <math.h>
#include <string.h>

enum { FIRST_NODES = 200, FIRST_WIDTH = 8, SPREAD = 4000, PART_MEMORY = 512 << 20 };

/* With changes weighed a little more, other good orders go on. */
#define LEAN 1.05

static bool same_lags(const struct wh_order_job *a, const struct wh_order_job *b)
{
    bool same = a->lag_count == b->lag_count;
    for (size_t i = 0; same && i < a->lag_count; i++) {
        const struct wh_order_lag *x = &a->lags[i], *y = &b->lags[i];
        same = x->first == y->first && x->after == y->after && fabs(x->least - y->least) <= 0 &&
               (isfinite(x->most) ? fabs(x->most - y->most) <= 0 : !isfinite(y->most));
    }
    return same;
}

/* The same blocks under the same rules, begun and ended alike? Windows that were opened or closed before count, too. */
static bool same_job(const struct wh_order_job *a, const struct wh_order_job *b)
{
    if (a->count != b->count || a->exit != b->exit || !same_lags(a, b)) return false;
    for (size_t i = 0; i < a->count; i++) {
        const struct wh_order_block *x = &a->blocks[i], *y = &b->blocks[i];
        if (x->count != y->count || memcmp(x->tasks, y->tasks, x->count * sizeof x->tasks[0]) != 0) return false;
    }
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        if (a->problem->dimensions[d].start != b->problem->dimensions[d].start || a->held[d] != b->held[d] ||
            a->movable[d] != b->movable[d])
            return false;
        if (a->exit == WH_ORDER_NONE) continue;
        size_t exit = a->blocks[a->exit].tasks[0];
        if (a->problem->tasks[exit].set_up[d] != b->problem->tasks[exit].set_up[d]) return false;
    }
    for (size_t w = 0; w < a->problem->window_count; w++) {
        const struct wh_order_window *window = &a->problem->windows[w];
        if ((a->past && a->past[window->opens]) != (b->past && b->past[window->opens]) ||
            (a->past && a->past[window->closes]) != (b->past && b->past[window->closes]))
            return false;
    }
    return memcmp(a->before, b->before, a->count * a->words * sizeof a->before[0]) == 0;
}

struct wh_order_part *wh_order_part_of(const struct wh_order_book *book, const struct wh_order_job *job)
{
    for (size_t i = 0; i < book->parts.count; i++)
        if (same_job(book->parts.at[i]->job, job)) return book->parts.at[i];
    return NULL;
}

struct wh_order_part *wh_order_part_add(struct wh_order_book *book, const struct wh_order_job *job)
{
    struct wh_order_part *part = WH_NEW(book->arena, 1, struct wh_order_part);
    part->job = job;
    part->cost = INFINITY;
    *WH_PUSH(book->arena, &book->parts) = part;
    return part;
}

/* What an order of a part costs with its waits; INFINITY where a greatest wait is broken. */
static double timed_cost(struct wh_arena *arena, const struct wh_order_job *job, const size_t blocks[])
{
    struct wh_order_states *states = wh_order_states_new(arena, job, WH_ORDER_WAITS);
    struct wh_order_state *to = wh_order_state_spare(states);
    uint32_t at = 1;
    for (size_t i = 0; i < job->count; i++) {
        double waited;
        if (wh_order_follow(states, wh_order_state_at(states, at), blocks[i], to, &waited) != WH_ORDER_FOLLOWS)
            return INFINITY;
        at = wh_order_remember(states, to);
    }
    return wh_order_end(states, wh_order_state_at(states, at));
}

static void keep_cheaper(struct wh_order_found *best, struct wh_order_found found)
{
    if (found.found && (!best->found || found.cost < best->cost)) *best = found;
}

/* Orders made step by step so that nobody stands idle: by the cheapest without waits, by what has most behind it, by
 * the natural order. */
static struct wh_order_found quick_order(struct wh_arena *arena, const struct wh_order_job *job,
                                         const struct wh_order_bound *bound, const size_t loose[])
{
    double *rank = WH_NEW(arena, job->count, double);
    struct wh_order_found best = {.cost = INFINITY};
    for (size_t i = 0; loose && i < job->count; i++) rank[loose[i]] = (double)i;
    if (loose) best = wh_order_soonest(arena, job, rank);
    for (size_t b = 0; b < job->count; b++) rank[b] = -bound->tail[job->blocks[b].tasks[0]];
    keep_cheaper(&best, wh_order_soonest(arena, job, rank));
    for (size_t b = 0; b < job->count; b++) rank[b] = (double)b;
    keep_cheaper(&best, wh_order_soonest(arena, job, rank));
    return best;
}

/* Is the order cheaper than what is known of the part? Then it is kept. */
static void keep(struct wh_order_book *book, struct wh_order_part *part, const struct wh_order_found *found)
{
    if (!found->found || !(found->cost < part->cost - WH_ORDER_SLACK)) return;
    part->cost = found->cost;
    if (!part->blocks) part->blocks = WH_NEW(book->arena, part->job->count, size_t);
    memcpy(part->blocks, found->blocks, part->job->count * sizeof part->blocks[0]);
}

/* Without waits between blocks: cheaper than it can be done. */
static void search_loose(struct wh_arena *arena, struct wh_order_book *book, struct wh_order_part *part,
                         const struct wh_order_how *how)
{
    struct wh_order_found loose = wh_order_cheapest(arena, part->job, how, book->budget);
    if (!loose.found && loose.stopped && part->efforts == 0) {
        double bound = loose.bound;
        loose = wh_order_abreast(arena, part->job, how, FIRST_WIDTH, book->budget);
        loose.bound = fmax(bound, loose.bound);
        loose.stopped = true;
    }
    part->bound = fmax(part->bound, loose.bound);
    part->loose_closed = !loose.stopped;
    if (!loose.found) return;
    loose.cost = timed_cost(arena, part->job, loose.blocks);
    loose.found = isfinite(loose.cost);
    keep(book, part, &loose);
    if (part->efforts > 0 || part->cost <= part->bound + WH_ORDER_SLACK) return;
    struct wh_order_found quick = quick_order(arena, part->job, how->bound, loose.blocks);
    keep(book, part, &quick);
}

/* With waits: first a good order, then the cheapest. */
static void search_tight(struct wh_arena *arena, struct wh_order_book *book, struct wh_order_part *part,
                         struct wh_order_how *how, size_t width)
{
    how->timed = true;
    how->cutoff = part->cost;
    for (how->lean = 1; how->lean < LEAN + 0.01; how->lean += LEAN - 1) {
        struct wh_order_found abreast = wh_order_abreast(arena, part->job, how, width, book->budget);
        keep(book, part, &abreast);
        part->bound = fmax(part->bound, fmin(abreast.bound, part->cost));
        how->cutoff = part->cost;
    }
    if (part->cost <= part->bound + WH_ORDER_SLACK) return;
    how->cutoff = part->cost;
    struct wh_order_found tight = wh_order_cheapest(arena, part->job, how, book->budget);
    keep(book, part, &tight);
    part->bound = fmax(part->bound, tight.bound);
}

/* Each search has memory of its own, given back at once; when it cannot be had, neither can the rest. */
struct search_of_part {
    struct wh_order_book *book;
    struct wh_order_part *part;
};

/* README.md, parts: is the value that has to be held at the end left behind for good by some block? */
static bool ends_elsewhere(const struct wh_order_job *job, const struct wh_order_bound *costs, size_t d)
{
    int value = job->problem->tasks[job->blocks[job->exit].tasks[0]].set_up[d];
    const uint64_t *uses = &costs->uses[d][(size_t)value * job->words];
    for (size_t b = 0; b < job->count; b++) {
        int left = wh_order_left_held(job, d, b);
        bool behind = left != WH_ORDER_ANY && left != value;
        for (size_t w = 0; w < job->words && behind; w++) {
            uint64_t others = uses[w];
            if (job->exit / 64 == w) others &= ~((uint64_t)1 << job->exit % 64);
            behind = !(others & ~job->before[b * job->words + w]);
        }
        if (behind) return true;
    }
    return false;
}

static enum wh_status look_at_part(struct wh_arena *arena, void *context)
{
    struct wh_order_part *part = ((const struct search_of_part *)context)->part;
    struct wh_order_how how = {.timed = true, .bound = wh_order_bound_new(arena, part->job)};
    part->bound = wh_order_at_least(arena, part->job, &how);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++)
        if (part->job->held[d] && ends_elsewhere(part->job, how.bound, d)) part->bound = INFINITY;
    return WH_OK;
}

static enum wh_status search_part(struct wh_arena *arena, void *context)
{
    const struct search_of_part *search = context;
    struct wh_order_part *part = search->part;
    if (!part->costs) part->costs = wh_order_bound_new(search->book->arena, part->job);
    size_t most_width = 1 + SPREAD / part->job->count, width = (size_t)FIRST_WIDTH << part->efforts;
    struct wh_order_how how = {
        .cutoff = INFINITY, .most = (uint64_t)FIRST_NODES << 2 * part->efforts, .bound = part->costs};
    if (!part->loose_closed) search_loose(arena, search->book, part, &how);
    if (isfinite(part->bound) && part->cost > part->bound + WH_ORDER_SLACK)
        search_tight(arena, search->book, part, &how, width < most_width ? width : most_width);
    return WH_OK;
}

bool wh_order_part_search(struct wh_order_book *book, struct wh_order_part *part, unsigned efforts)
{
    struct search_of_part search = {book, part};
    if (!part->looked_at && wh_arena_run(PART_MEMORY, look_at_part, &search) != WH_OK) wh_arena_give_up(book->arena);
    part->looked_at = true;
    unsigned before = part->efforts;
    while (part->efforts < efforts && !wh_order_part_closed(part) && book->budget->stop == WH_ORDER_CLOSED) {
        if (wh_arena_run(PART_MEMORY, search_part, &search) != WH_OK) wh_arena_give_up(book->arena);
        part->efforts++;
    }
    return part->efforts > before;
}
