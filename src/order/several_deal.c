#include "order/several_deal.h"

#include "order/luck.h"
#include "order/timing_step.h"

#include <math.h>
#include <string.h>

struct wh_order_dealer wh_order_dealer_new(struct wh_arena *arena, const struct wh_order_job *job,
                                           struct wh_order_timer *timer, const double tail[])
{
    struct wh_order_dealer dealer = {.job = job, .timer = timer, .tail = tail};
    dealer.blocks = WH_NEW(arena, job->count, size_t);
    dealer.open = WH_NEW(arena, job->count, size_t);
    dealer.ready = WH_NEW(arena, job->count, size_t);
    dealer.since = WH_NEW(arena, job->count, double);
    return dealer;
}

/* A block that all others are done before may come next. */
static void add_ready(struct wh_order_dealer *dealer, size_t block)
{
    dealer->ready[dealer->ready_count++] = block;
    dealer->since[block] = wh_order_since(dealer->timer, dealer->job->blocks[block].tasks[0]);
}

/* All tasks to come stand behind those dealt out. */
static void begin(struct wh_order_dealer *dealer)
{
    const struct wh_order_job *job = dealer->job;
    struct wh_order_timer *timer = dealer->timer;
    size_t n = timer->problem->task_count;
    timer->leading = timer->problem->fitters;
    for (size_t t = 0; t < n; t++) timer->place[t] = job->chosen[t] ? n : WH_ORDER_NONE;
    memset(timer->least_start, 0, n * sizeof timer->least_start[0]);
    wh_order_begin(timer);
    dealer->ready_count = 0;
    for (size_t b = 0; b < job->count; b++) {
        dealer->open[b] = 0;
        for (size_t w = 0; w < job->words; w++)
            dealer->open[b] += (size_t)__builtin_popcountll(job->before[b * job->words + w]);
        if (dealer->open[b] == 0) add_ready(dealer, b);
    }
}

/* Books the tasks of a block, all by one fitter; false: one of them cannot stand here. */
static bool book(struct wh_order_dealer *dealer, size_t block, size_t *i, double *end)
{
    struct wh_order_timer *timer = dealer->timer;
    int only = -1;
    for (size_t m = 0; m < dealer->job->blocks[block].count; m++) {
        size_t task = dealer->job->blocks[block].tasks[m];
        struct wh_order_step step = wh_order_best_step(timer, task, *i, only, wh_order_since(timer, task));
        if (!isfinite(step.start)) return false;
        timer->place[task] = *i;
        wh_order_book(timer, (*i)++, &step);
        *end = wh_order_later(*end, wh_order_later(step.start, step.end));
        only = step.fitter;
    }
    return true;
}

/* The place in `ready` of the block to deal out next as the i-th task; none: ready_count. */
static size_t choose(const struct wh_order_dealer *dealer, const struct wh_order_deal *deal, size_t i, uint64_t *random)
{
    double least = INFINITY;
    size_t next = dealer->ready_count;
    for (size_t k = 0; k < dealer->ready_count; k++) {
        size_t block = dealer->ready[k], task = dealer->job->blocks[block].tasks[0];
        struct wh_order_step step = wh_order_best_step(dealer->timer, task, i, -1, dealer->since[block]);
        double cost = step.start + deal->lost * (step.change + step.waited) - deal->rest * dealer->tail[task];
        if (deal->luck > 0) cost += deal->luck * wh_order_chance(random);
        if (!(cost < least)) continue;
        least = cost;
        next = k;
    }
    return next;
}

/* Takes a block out of those ready; those behind it may become so. */
static void pass_on(struct wh_order_dealer *dealer, size_t at)
{
    const struct wh_order_job *job = dealer->job;
    size_t *ready = dealer->ready;
    const uint64_t *behind = &job->behind[ready[at] * job->words];
    memmove(&ready[at], &ready[at + 1], (--dealer->ready_count - at) * sizeof ready[0]);
    for (size_t w = 0; w < job->words; w++)
        for (uint64_t left = behind[w]; left; left &= left - 1) {
            size_t block = w * 64 + (size_t)__builtin_ctzll(left);
            if (--dealer->open[block] == 0) add_ready(dealer, block);
        }
}

double wh_order_deal(struct wh_order_dealer *dealer, const struct wh_order_deal *deal, uint64_t *random)
{
    size_t i = 0;
    double end = 0;
    begin(dealer);
    for (size_t n = 0; n < dealer->job->count; n++) {
        size_t next = choose(dealer, deal, i, random);
        if (next == dealer->ready_count || !book(dealer, dealer->ready[next], &i, &end)) return INFINITY;
        dealer->blocks[n] = dealer->ready[next];
        pass_on(dealer, next);
    }
    return end;
}
