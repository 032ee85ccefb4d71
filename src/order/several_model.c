#include "order/several_model.h"

#include <math.h>

struct builder {
    struct wh_arena *arena;
    const struct wh_order_job *job;
    struct wh_order_model *model;
    WH_LIST(int) duration;
    WH_LIST(int) use;
    WH_LIST(struct wh_schedule_lag) lags;
    WH_LIST(struct wh_schedule_apart) aparts;
};

static int down(double minutes)
{
    return (int)floor(minutes * WH_ORDER_TICKS + WH_ORDER_SLACK);
}

static int up(double minutes)
{
    return (int)ceil(minutes * WH_ORDER_TICKS - WH_ORDER_SLACK);
}

static size_t add(struct builder *b, double minutes, int fitters)
{
    *WH_PUSH(b->arena, &b->duration) = down(minutes);
    *WH_PUSH(b->arena, &b->use) = fitters;
    return b->duration.count - 1;
}

static void add_lag(struct builder *b, size_t from, size_t to, int wait)
{
    *WH_PUSH(b->arena, &b->lags) = (struct wh_schedule_lag){from, to, wait};
}

/* Minutes for which a task surely holds its fitters: one that passes by itself holds none, but who is bound to what
 * follows stays with it. */
static double held(const struct builder *b, size_t task, int *ret_fitters)
{
    const struct wh_order_problem *p = b->job->problem;
    const struct wh_order_task *t = &p->tasks[task];
    int crew = t->crew < p->fitters ? t->crew : p->fitters;
    double stays = 0;
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_link *link = &p->links[i];
        if (link->first == task && link->joined && b->job->chosen[link->after]) stays = t->minutes + link->least;
    }
    *ret_fitters = t->alone ? stays > 0 : crew;
    return *ret_fitters == 1 ? fmax(stays, t->minutes) : t->minutes;
}

static void add_tasks(struct builder *b)
{
    const struct wh_order_problem *p = b->job->problem;
    size_t *of = b->model->activity_of = WH_NEW(b->arena, p->task_count, size_t);
    for (size_t t = 0; t < p->task_count; t++) {
        int fitters;
        of[t] = WH_ORDER_NONE;
        if (!b->job->chosen[t]) continue;
        double minutes = held(b, t, &fitters);
        of[t] = add(b, minutes, fitters);
    }
}

static void add_links(struct builder *b)
{
    const struct wh_order_problem *p = b->job->problem;
    const size_t *of = b->model->activity_of;
    for (size_t i = 0; i < b->job->edge_count; i++) {
        const struct wh_order_edge *edge = &b->job->edges[i];
        if (isfinite(edge->least)) /* what is done came in its order, whether it had ended or not */
            add_lag(b, of[edge->first], of[edge->after], down(p->tasks[edge->first].minutes + edge->least));
    }
    for (size_t i = 0; i < b->job->lag_count; i++) {
        const struct wh_order_lag *lag = &b->job->lags[i];
        if (isfinite(lag->most))
            add_lag(b, of[lag->after], of[lag->first], -up(p->tasks[lag->first].minutes + lag->most));
    }
}

static bool goes_before(const struct wh_order_job *job, size_t a, size_t b)
{
    size_t x = job->block_of[a], y = job->block_of[b];
    return x == y ? job->member_of[a] < job->member_of[b] : wh_order_has(&job->before[y * job->words], x);
}

/* Until when a task keeps a value that all share, from its start, and then the change to another. */
static int keeps(const struct builder *b, size_t d, size_t task, size_t next)
{
    const struct wh_order_problem *p = b->job->problem;
    const struct wh_order_dimension *dimension = &p->dimensions[d];
    size_t from = (size_t)p->tasks[task].set_up[d], to = (size_t)p->tasks[next].set_up[d];
    double change = b->job->metric[d] ? dimension->cost[from * dimension->values + to] : 0;
    return down((p->tasks[task].alone ? 0 : p->tasks[task].minutes) + change);
}

/* The machine stands one way up at a time: tasks that need another way up do not go with it. */
static void add_shared(struct builder *b, size_t d)
{
    const struct wh_order_problem *p = b->job->problem;
    const size_t *of = b->model->activity_of;
    for (size_t x = 0; x < p->task_count; x++) {
        int value = p->tasks[x].set_up[d];
        if (of[x] == WH_ORDER_NONE || value == WH_ORDER_ANY) continue;
        for (size_t y = x + 1; y < p->task_count; y++) {
            int other = p->tasks[y].set_up[d];
            if (of[y] == WH_ORDER_NONE || other == WH_ORDER_ANY || other == value) continue;
            if (goes_before(b->job, x, y))
                add_lag(b, of[x], of[y], keeps(b, d, x, y));
            else if (goes_before(b->job, y, x))
                add_lag(b, of[y], of[x], keeps(b, d, y, x));
            else
                *WH_PUSH(b->arena, &b->aparts) =
                    (struct wh_schedule_apart){of[x], of[y], keeps(b, d, x, y), keeps(b, d, y, x)};
        }
    }
}

/* Least time of a use: until what ends it can begin. */
static int lasts(const struct builder *b, const struct wh_order_use *use)
{
    double least = 0;
    for (size_t i = 0; i < b->job->edge_count; i++) {
        const struct wh_order_edge *edge = &b->job->edges[i];
        if (edge->first == use->from && edge->after == use->to)
            least = fmax(least, b->job->problem->tasks[use->from].minutes + edge->least);
    }
    return down(least);
}

/* Of what there is one of, one use comes after the other. */
static void add_uses(struct builder *b)
{
    const struct wh_order_problem *p = b->job->problem;
    const size_t *of = b->model->activity_of;
    for (size_t u = 0; u < p->use_count; u++) {
        const struct wh_order_use *x = &p->uses[u];
        for (size_t k = u + 1; k < p->use_count; k++) {
            const struct wh_order_use *y = &p->uses[k];
            bool counts = b->job->chosen[x->from] && b->job->chosen[x->to] && b->job->chosen[y->from] &&
                          b->job->chosen[y->to] && x->from != y->from;
            if (x->thing != y->thing || !counts) continue;
            *WH_PUSH(b->arena, &b->aparts) =
                (struct wh_schedule_apart){of[x->from], of[y->from], lasts(b, x), lasts(b, y)};
        }
    }
}

/* Of the tasks that need a value not held at the start, the one that comes before all the others; or none. */
static size_t first_of(const struct builder *b, size_t d, int value)
{
    const struct wh_order_problem *p = b->job->problem;
    size_t first = WH_ORDER_NONE;
    for (size_t t = 0; t < p->task_count; t++) {
        if (b->job->chosen[t] && p->tasks[t].set_up[d] == value &&
            (first == WH_ORDER_NONE || goes_before(b->job, t, first)))
            first = t;
    }
    for (size_t t = 0; t < p->task_count && first != WH_ORDER_NONE; t++) {
        bool other = b->job->chosen[t] && p->tasks[t].set_up[d] == value && t != first;
        if (other && !goes_before(b->job, first, t)) first = WH_ORDER_NONE;
    }
    return first;
}

/* Does a fitter stay idle before a task, bound to it by what he did last? He may fetch then. */
static bool is_waited_for(const struct builder *b, size_t task)
{
    const struct wh_order_problem *p = b->job->problem;
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_link *link = &p->links[i];
        bool idle = link->least > 0 || p->tasks[link->first].alone;
        if (link->after == task && link->joined && idle && b->job->chosen[link->first]) return true;
    }
    return false;
}

/* Who is first to need a tool has to fetch it: work of one fitter before the task. */
static void add_fetching(struct builder *b, size_t d)
{
    const struct wh_order_dimension *dimension = &b->job->problem->dimensions[d];
    for (size_t value = 0; value < dimension->values && dimension->start != WH_ORDER_ANY; value++) {
        size_t task = (int)value == dimension->start ? WH_ORDER_NONE : first_of(b, d, (int)value);
        double least = INFINITY;
        for (size_t from = 0; from < dimension->values; from++) {
            if (from != value) least = fmin(least, dimension->cost[from * dimension->values + value]);
        }
        if (task == WH_ORDER_NONE || !isfinite(least) || down(least) == 0) continue;
        size_t fetching = add(b, least, dimension->shared || is_waited_for(b, task) ? 0 : 1);
        add_lag(b, fetching, b->model->activity_of[task], down(least));
    }
}

struct wh_order_model *wh_order_model_new(struct wh_arena *arena, const struct wh_order_job *job)
{
    struct wh_order_model *model = WH_NEW(arena, 1, struct wh_order_model);
    struct builder b = {.arena = arena, .job = job, .model = model};
    int *fitters = WH_NEW(arena, 1, int);
    *fitters = job->problem->fitters;
    add_tasks(&b);
    add_links(&b);
    add_uses(&b);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        if (job->problem->dimensions[d].shared) add_shared(&b, d);
        add_fetching(&b, d);
    }
    model->project = (struct wh_schedule_problem){b.duration.count, b.duration.at, 1,           fitters,       b.use.at,
                                                  b.lags.at,        b.lags.count,  b.aparts.at, b.aparts.count};
    return model;
}
