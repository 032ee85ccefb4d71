#include "order/sequence_exchange.h"

#include <math.h>
#include <string.h>

static const double HEAT = 2;

enum { NEAR = 20, KICKS = 20, LONGEST_KICK = 7 }; /* stretches of less than 2^7 tasks are kicked */

/* Stretches [low + 1 .. mid] and [mid + 1 .. high] change places. */
struct move {
    uint32_t low, mid, high;
};

struct list {
    uint32_t *at;
    size_t count;
};

struct wh_sequence_exchange {
    struct wh_sequence_run *run;
    size_t n;
    double *cost;                  /* n x n: what each step costs too much */
    uint32_t *task, *place, *room; /* the sequence at hand, where each task stands in it */
    size_t *order;                 /* the same for the run */
    double length, bound;          /* of the sequence at hand; of the assignment */
    struct list *near;             /* of each task the cheapest that may come next */
    struct list *after;            /* of each task those after it with none between */
    uint32_t *queue;               /* tasks whose next may be bettered: a ring */
    bool *queued;
    size_t queue_first, queue_count;
    WH_LIST(struct move) done; /* since the last kept sequence */
    struct wh_arena *arena;
    uint64_t random;
};

static struct list nearest(struct wh_arena *arena, const double cost[], size_t n)
{
    struct list list = {WH_NEW(arena, NEAR, uint32_t), 0};
    for (size_t t = 0; t < n; t++) {
        if (isinf(cost[t]) || (list.count == NEAR && cost[list.at[NEAR - 1]] <= cost[t])) continue;
        size_t at = list.count < NEAR ? list.count++ : NEAR - 1;
        for (; at > 0 && cost[list.at[at - 1]] > cost[t]; at--) list.at[at] = list.at[at - 1];
        list.at[at] = (uint32_t)t;
    }
    return list;
}

static struct list directly_after(struct wh_arena *arena, const struct wh_sequence_model *m, size_t task)
{
    const uint64_t *after = &m->after[task * m->words];
    struct list list = {WH_NEW(arena, m->n, uint32_t), 0};
    for (size_t t = 0; t < m->n; t++) {
        bool direct = wh_sequence_has(after, t);
        for (size_t w = 0; w < m->words && direct; w++) direct = !(after[w] & m->before[t * m->words + w]);
        if (direct) list.at[list.count++] = (uint32_t)t;
    }
    return list;
}

struct wh_sequence_exchange *wh_sequence_exchange_make(struct wh_arena *arena, struct wh_sequence_run *run,
                                                       const struct wh_sequence_assignment *assignment)
{
    const struct wh_sequence_model *m = run->model;
    struct wh_sequence_exchange *x = WH_NEW(arena, 1, struct wh_sequence_exchange);
    *x = (struct wh_sequence_exchange){.run = run, .n = m->n, .arena = arena, .bound = run->bound};
    x->cost = WH_NEW(arena, m->n * m->n, double);
    x->task = WH_NEW(arena, m->n, uint32_t);
    x->place = WH_NEW(arena, m->n, uint32_t);
    x->room = WH_NEW(arena, m->n, uint32_t);
    x->order = WH_NEW(arena, m->n, size_t);
    x->queue = WH_NEW(arena, m->n, uint32_t);
    x->queued = WH_NEW(arena, m->n, bool);
    x->near = WH_NEW(arena, m->n, struct list);
    x->after = WH_NEW(arena, m->n, struct list);
    x->random = run->limits->seed;
    for (size_t i = 0; i < m->n * m->n; i++) {
        x->cost[i] = m->cost[i] - assignment->leave[i / m->n] - assignment->come[i % m->n];
    }
    for (size_t t = 0; t < m->n; t++) {
        x->near[t] = nearest(arena, &x->cost[t * m->n], m->n);
        x->after[t] = directly_after(arena, m, t);
    }
    return x;
}

/* Steele, Lea and Flood's SplitMix generator, 2014. */
static uint64_t draw(struct wh_sequence_exchange *x, uint64_t below)
{
    uint64_t z = x->random += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return ((z ^ (z >> 31)) >> 32) * below >> 32;
}

static void enqueue(struct wh_sequence_exchange *x, uint32_t task)
{
    if (x->queued[task]) return;
    x->queued[task] = true;
    x->queue[(x->queue_first + x->queue_count++) % x->n] = task;
}

static uint32_t dequeue(struct wh_sequence_exchange *x)
{
    uint32_t task = x->queue[x->queue_first];
    x->queue_first = (x->queue_first + 1) % x->n;
    x->queue_count--;
    x->queued[task] = false;
    return task;
}

static double step(const struct wh_sequence_exchange *x, uint32_t from, uint32_t to)
{
    return x->cost[from * x->n + to];
}

/* Has none of the first stretch to come before one of the second? Where a pair of tasks forbids it, one of the pairs
 * with none between does; the sequence keeps them all, so it leads from the one stretch right into the other. */
static bool may_exchange(const struct wh_sequence_exchange *x, struct move move)
{
    for (uint32_t i = move.low + 1; i <= move.mid; i++) {
        const struct list *after = &x->after[x->task[i]];
        for (size_t k = 0; k < after->count; k++) {
            uint32_t place = x->place[after->at[k]];
            if (place > move.mid && place <= move.high) return false;
        }
    }
    return true;
}

static double saving(const struct wh_sequence_exchange *x, struct move m)
{
    const uint32_t *t = x->task;
    double old = step(x, t[m.low], t[m.low + 1]) + step(x, t[m.mid], t[m.mid + 1]) + step(x, t[m.high], t[m.high + 1]);
    return old - step(x, t[m.low], t[m.mid + 1]) - step(x, t[m.high], t[m.low + 1]) - step(x, t[m.mid], t[m.high + 1]);
}

static void exchange(struct wh_sequence_exchange *x, struct move move)
{
    uint32_t *at = x->task + move.low + 1;
    size_t first = move.mid - move.low, second = move.high - move.mid;
    memcpy(x->room, at, first * sizeof *at);
    memmove(at, at + first, second * sizeof *at);
    memcpy(at + second, x->room, first * sizeof *at);
    for (uint32_t i = move.low + 1; i <= move.high; i++) x->place[x->task[i]] = i;
}

static void take(struct wh_sequence_exchange *x, struct move move, double saved)
{
    uint32_t join = move.low + move.high - move.mid;
    exchange(x, move);
    x->length -= saved;
    *WH_PUSH(x->arena, &x->done) = move;
    uint32_t ends[] = {move.low, move.low + 1, join, join + 1, move.high, move.high + 1};
    for (size_t k = 0; k < 6; k++) enqueue(x, x->task[ends[k]]);
}

/* The three places in rising order, when they are so in a ring. */
static bool in_ring(uint32_t a, uint32_t b, uint32_t c, struct move *ret)
{
    if (a < b && b < c) {
        *ret = (struct move){a, b, c};
    } else if (b < c && c < a) {
        *ret = (struct move){b, c, a};
    } else if (c < a && a < b) {
        *ret = (struct move){c, a, b};
    } else {
        return false;
    }
    return true;
}

/* Looks for an exchange that gives `task` a cheaper next: its new next's former neighbour gets a new next too, so that
 * the saving so far stays positive, and whoever stood before that one closes the ring. */
static bool better_next(struct wh_sequence_exchange *x, uint32_t task)
{
    const double little = 1e-9;
    uint32_t a = x->place[task];
    if (a + 1 >= x->n) return false;
    double first = step(x, task, x->task[a + 1]);
    for (size_t i = 0; i < x->near[task].count; i++) {
        uint32_t next = x->near[task].at[i], b = x->place[next] - 1, left = x->task[b];
        double one = first - step(x, task, next);
        if (one <= little) break;
        one += step(x, left, next);
        for (size_t k = 0; k < x->near[left].count; k++) {
            uint32_t second = x->near[left].at[k], c = x->place[second] - 1;
            struct move move;
            double two = one - step(x, left, second);
            if (two <= little) break;
            if (!in_ring(a, b, c, &move)) continue;
            double saved = two + step(x, x->task[c], second) - step(x, x->task[c], x->task[a + 1]);
            if (saved <= little || !may_exchange(x, move)) continue;
            take(x, move, saved);
            return true;
        }
    }
    return false;
}

static void descend(struct wh_sequence_exchange *x)
{
    while (x->queue_count) {
        uint32_t task = dequeue(x);
        while (better_next(x, task)) continue;
    }
}

/* Exchanges two neighbouring stretches at random, more often short than long. */
static bool exchange_any(struct wh_sequence_exchange *x)
{
    for (int i = 0; i < KICKS; i++) {
        uint64_t longest = UINT64_C(1) << draw(x, LONGEST_KICK);
        struct move move = {.low = (uint32_t)draw(x, x->n - 3)};
        move.mid = move.low + 1 + (uint32_t)draw(x, longest);
        move.high = move.mid + 1 + (uint32_t)draw(x, longest);
        if (move.high + 1 >= x->n) continue;
        double saved = saving(x, move);
        if (!isfinite(saved) || !may_exchange(x, move)) continue;
        take(x, move, saved);
        return true;
    }
    return false;
}

/* Twice: what one exchange changes, the descent would often change back. */
static bool kick(struct wh_sequence_exchange *x)
{
    bool first = exchange_any(x);
    return exchange_any(x) || first;
}

static void take_back(struct wh_sequence_exchange *x, double length)
{
    while (x->done.count) {
        struct move m = x->done.at[--x->done.count];
        exchange(x, (struct move){m.low, m.low + m.high - m.mid, m.high});
    }
    x->length = length;
}

static void offer(struct wh_sequence_exchange *x)
{
    if (x->length >= x->run->cost) return;
    for (size_t i = 0; i < x->n; i++) x->order[i] = x->task[i];
    wh_sequence_offer(x->run, x->order);
}

static void begin(struct wh_sequence_exchange *x)
{
    for (uint32_t i = 0; i < x->n; i++) {
        x->task[i] = (uint32_t)x->run->best[i];
        x->place[x->task[i]] = i;
        enqueue(x, x->task[i]);
    }
    x->length = x->run->cost;
    x->done.count = 0;
}

/* Accepts a longer sequence by chance, the less so the longer it is and the later (simulated annealing over local
 * optima: Martin, Otto and Felten 1991). `heat`: how much longer is usual. */
static bool accept(struct wh_sequence_exchange *x, double length, double heat)
{
    if (x->length <= length) return true;
    double chance = ((double)draw(x, UINT32_MAX) + 1) / 4294967296.0;
    return x->length < length - heat * log(chance);
}

void wh_sequence_exchange_improve(struct wh_sequence_exchange *x, uint64_t trials)
{
    if (x->n < 4) return;
    begin(x);
    descend(x);
    offer(x);
    double heat = HEAT * fmax(0, x->length - x->bound) / (double)x->n;
    for (uint64_t i = 0; i < trials && !wh_sequence_settled(x->run) && wh_sequence_spend(x->run, 1); i++) {
        double length = x->length;
        x->done.count = 0;
        if (!kick(x)) continue;
        descend(x);
        if (accept(x, length, heat * (double)(trials - i) / (double)trials)) {
            offer(x);
        } else {
            take_back(x, length);
        }
    }
}
