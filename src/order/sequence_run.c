#include "order/sequence_run.h"

#include <math.h>
#include <string.h>

enum { LOOK_EVERY = 256 }; /* nodes */

/* Sums of costs that are multiples of nothing are equal when they differ by less than this part of their size. */
static const double SAME = 1e-10;

double wh_sequence_seconds(const struct wh_sequence_run *run)
{
    return run->limits->clock ? run->limits->clock() - run->started : 0;
}

static void stop_for(struct wh_sequence_run *run, enum wh_sequence_stop why)
{
    run->stopped = true;
    run->stop = why;
}

static bool caller_goes_on(const struct wh_sequence_run *run, double seconds)
{
    if (!run->limits->go_on) return true;
    struct wh_sequence_news news = {run->cost, run->bound, run->nodes, seconds};
    return run->limits->go_on(run->limits->context, &news);
}

bool wh_sequence_spend(struct wh_sequence_run *run, uint64_t nodes)
{
    if (run->stopped) return false;
    run->nodes += nodes;
    if (run->limits->nodes && run->nodes >= run->limits->nodes) stop_for(run, WH_SEQUENCE_NODES);
    if (run->stopped || run->nodes < run->look_at) return !run->stopped;
    run->look_at = run->nodes + LOOK_EVERY;
    double seconds = wh_sequence_seconds(run);
    if (run->limits->seconds > 0 && seconds >= run->limits->seconds) {
        stop_for(run, WH_SEQUENCE_SECONDS);
    } else if (!caller_goes_on(run, seconds)) {
        stop_for(run, WH_SEQUENCE_CALLER);
    }
    return !run->stopped;
}

double wh_sequence_length(const struct wh_sequence_model *model, const size_t order[])
{
    double length = 0;
    for (size_t i = 1; i < model->n; i++) length += model->cost[order[i - 1] * model->n + order[i]];
    return length;
}

void wh_sequence_offer(struct wh_sequence_run *run, const size_t order[])
{
    double cost = wh_sequence_length(run->model, order);
    if (cost >= run->cost) return;
    run->cost = cost;
    memcpy(run->best, order, run->model->n * sizeof *order);
}

static double slack(double cost)
{
    return SAME * fmax(1, fabs(cost));
}

void wh_sequence_raise(struct wh_sequence_run *run, double bound)
{
    double grain = run->model->grain;
    if (grain > 0 && isfinite(bound)) bound = ceil(bound / grain - 1e-6) * grain;
    run->bound = fmin(fmax(run->bound, bound), run->cost);
}

double wh_sequence_cut(const struct wh_sequence_run *run)
{
    double grain = run->model->grain;
    return isinf(run->cost) ? INFINITY : run->cost - (grain > 0 ? grain * (1 - 1e-6) : slack(run->cost));
}

bool wh_sequence_settled(const struct wh_sequence_run *run)
{
    return isinf(run->cost) ? run->bound >= run->cost : run->bound > wh_sequence_cut(run);
}
