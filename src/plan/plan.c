#include "plan/plan.h"

#include "base/text.h"
#include "plan/builder.h"

#include <math.h>
#include <string.h>

enum wh_status wh_plan_parts(struct wh_arena *arena, const struct wh_machine *machine, const char *ids,
                             struct wh_indices *ret, struct wh_errors *reterr)
{
    struct wh_words words = wh_split(arena, ids, ',');
    size_t *at = WH_NEW(arena, words.count + 1, size_t), before = reterr->count, count;
    for (size_t i = 0; i < words.count; i++) {
        at[i] = wh_machine_thing(machine, words.at[i]);
        if (at[i] != WH_NONE) continue;
        const char **names = wh_machine_ids(arena, machine, &count);
        const char *nearest = wh_nearest(words.at[i], names, count);
        wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0},
                      nearest ? wh_arena_print(arena, "did you mean \"%s\"?", nearest)
                              : "see the parts with wharve check --list",
                      "there is no part \"%s\" in %s", words.at[i], machine->path);
    }
    if (words.count == 0)
        wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, "name parts: --renew neck-bearing,foot-bearing",
                      "no part is named to renew");
    *ret = (struct wh_indices){at, words.count};
    return reterr->count > before ? WH_ERR_INPUT : WH_OK;
}

static enum wh_status check_named(const struct wh_machine *machine, const size_t renew[], size_t n,
                                  struct wh_errors *reterr)
{
    size_t before = reterr->count;
    for (size_t i = 0; i < n; i++) {
        const struct wh_thing *part = &machine->things[renew[i]];
        if (part->way_count == 0 || part->section == WH_SECTION_FIXTURES)
            wh_errors_add(reterr, WH_ERR_INPUT, part->place, NULL, "\"%s\" does not come off: nothing says how",
                          part->id);
        else if (part->renew == WH_RENEW_NEVER)
            wh_errors_add(reterr, WH_ERR_INPUT, part->place, "ask the maker", "\"%s\" is renewed only with the maker",
                          part->id);
    }
    return reterr->count > before ? WH_ERR_INPUT : WH_OK;
}

static double hands(const struct wh_tasks *tasks, const struct wh_order *order)
{
    double sum = 0;
    for (size_t i = 0; i < order->step_count; i++) {
        const struct wh_order_task *task = &tasks->problem.tasks[order->steps[i].task];
        bool shared = tasks->tasks[order->steps[i].task].is == WH_TASK_WASH;
        sum += task->minutes * (shared ? task->crew : 1);
    }
    return sum * 60;
}

/* How often the machine is turned. */
static int turnings(const struct wh_tasks *tasks, const struct wh_order *order)
{
    int count = 0, now = 0;
    for (size_t i = 0; i < order->step_count; i++) {
        int way_up = tasks->problem.tasks[order->steps[i].task].set_up[WH_PLAN_WAY_UP];
        count += way_up >= 0 && way_up != now;
        if (way_up >= 0) now = way_up;
    }
    return count;
}

/* The same job with the way taken out of one part forbidden, the rest in the order of the plan where that costs little;
 * its memory is given back at once. */
struct comparison {
    const struct wh_plan *plan;
    struct wh_plan_ask ask;
    struct wh_job job;
    const struct wh_so_far *so_far;
    struct wh_other_way *other;
};

static enum wh_status compare(struct wh_arena *arena, void *context)
{
    struct comparison *c = context;
    const struct wh_plan *plan = c->plan;
    int *banned = WH_NEW(arena, plan->machine->thing_count, int);
    for (size_t t = 0; t < plan->machine->thing_count; t++) banned[t] = -1;
    banned[c->other->thing] = (int)c->other->way;
    c->job.banned = banned;
    c->job.ask = &c->ask;
    struct wh_so_far so_far = *c->so_far;
    so_far.notes.at = NULL, so_far.notes.count = so_far.notes.room = 0;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tasks *tasks;
    struct wh_order *order = NULL;
    enum wh_status status = wh_tasks_make(arena, &c->job, &so_far, &tasks, &errors);
    if (status == WH_OK) status = wh_order_solve(arena, &tasks->problem, &order, &errors);
    if (status == WH_ERR_INPUT) return WH_OK; /* it cannot be gone: infinite */
    if (status != WH_OK) return status;
    c->other->more = fmax(0, order->least * 60 - plan->least_total);
    c->other->surely = fmax(0, order->bound * 60 - plan->least_total);
    c->other->turnings = turnings(tasks, order);
    c->other->hands = hands(tasks, order) - plan->hands;
    return WH_OK;
}

/* The steps still to come, in the order of the plan. */
static struct wh_words ids_ahead(struct wh_arena *arena, const struct wh_plan *plan)
{
    const char **ids = WH_NEW(arena, plan->step_count + 1, const char *);
    for (size_t s = plan->done_count; s < plan->step_count; s++) ids[s - plan->done_count] = plan->steps[s].task->id;
    return (struct wh_words){ids, plan->step_count - plan->done_count};
}

static enum wh_status compare_ways(struct wh_arena *arena, struct wh_plan *plan, const struct wh_job *job,
                                   const struct wh_so_far *so_far)
{
    WH_LIST(struct wh_other_way) others = {0};
    struct wh_plan_ask ask = *job->ask;
    ask.ahead = ids_ahead(arena, plan);
    ask.most_nodes = (ask.most_nodes + 1) / 2;
    for (size_t s = plan->done_count; s < plan->step_count; s++) {
        const struct wh_task *task = plan->steps[s].task;
        bool choice = task->is == WH_TASK_OFF && (plan->asked[task->thing] || plan->also[task->thing]) &&
                      plan->machine->things[task->thing].way_count == 2;
        if (!choice) continue;
        struct wh_other_way *other = WH_PUSH(arena, &others);
        const struct wh_way *ways = plan->machine->things[task->thing].ways;
        *other = (struct wh_other_way){.thing = task->thing,
                                       .way = task->way,
                                       .more = INFINITY,
                                       .hands = INFINITY,
                                       .own = ways[task->way].off + ways[task->way].on,
                                       .other_own = ways[1 - task->way].off + ways[1 - task->way].on};
        struct comparison comparison = {plan, ask, *job, so_far, other};
        enum wh_status status = wh_arena_run(WH_PLAN_MEMORY, compare, &comparison);
        if (status == WH_ERR_LIMIT) others.count--; /* stopped before anything is known */
        if (status != WH_OK && status != WH_ERR_LIMIT) return status;
    }
    plan->others = others.at;
    plan->other_count = others.count;
    return WH_OK;
}

/* What of a job planned anew comes off again: of what went back, what the quickest order takes off. */
struct probe {
    const struct wh_job *job;
    struct wh_so_far *so_far;
    struct wh_errors *errors;
};

/* Of the parts washed all together, those that come off once more against those that came off before. */
static double share_of_washing(const struct wh_job *job, const struct wh_tasks *tasks, const bool off[])
{
    size_t again = 0, before = 0;
    bool washed = false;
    for (size_t i = 0; i < tasks->problem.done_count; i++) {
        const struct wh_task *task = &tasks->tasks[tasks->problem.done[i]];
        washed |= task->is == WH_TASK_WASH;
        before +=
            task->is == WH_TASK_OFF && !job->renewed[task->thing] && isnan(job->machine->things[task->thing].wash);
    }
    for (size_t t = 0; t < job->machine->thing_count; t++)
        again += off[t] && !job->renewed[t] && isnan(job->machine->things[t].wash);
    return washed && again < before ? (double)again / (double)before : 1;
}

static enum wh_status probe(struct wh_arena *arena, void *context)
{
    struct probe *p = context;
    struct wh_tasks *tasks;
    struct wh_order *order;
    struct wh_so_far so_far = *p->so_far;
    enum wh_status status = wh_tasks_make(arena, p->job, &so_far, &tasks, p->errors);
    p->so_far->plain = so_far.plain;
    if (status != WH_OK || so_far.plain) return status;
    if ((status = wh_order_solve(arena, &tasks->problem, &order, p->errors)) != WH_OK) return status;
    bool *off = WH_NEW(arena, p->job->machine->thing_count, bool);
    for (size_t i = tasks->problem.done_count; i < order->step_count; i++) {
        const struct wh_task *task = &tasks->tasks[order->steps[i].task];
        if (task->is == WH_TASK_OFF) off[task->thing] = p->so_far->again = true;
    }
    for (size_t t = 0; t < p->job->machine->thing_count; t++) p->so_far->reopened[t] &= off[t];
    p->so_far->washing = share_of_washing(p->job, tasks, off);
    for (size_t i = 0; i < so_far.notes.count; i++)
        *WH_PUSH(p->errors->arena, &p->so_far->notes) = wh_arena_text(p->errors->arena, so_far.notes.at[i]);
    return WH_OK;
}

static enum wh_status look_back(struct wh_arena *arena, const struct wh_job *job, struct wh_so_far *so_far,
                                struct wh_errors *reterr)
{
    *so_far = (struct wh_so_far){.probing = true, .reopened = WH_NEW(arena, job->machine->thing_count, bool)};
    struct probe context = {job, so_far, reterr};
    enum wh_status status = job->ask->done.count > 0 ? wh_arena_run(WH_PLAN_MEMORY, probe, &context) : WH_OK;
    so_far->probing = false;
    return status;
}

static void note_parts(struct wh_arena *arena, struct wh_plan *plan, const struct wh_job *job)
{
    size_t n = plan->machine->thing_count;
    bool *renewed = WH_NEW(arena, n, bool), *asked = WH_NEW(arena, n, bool), *also = WH_NEW(arena, n, bool);
    for (size_t t = 0; t < n; t++) renewed[t] = plan->machine->things[t].renew == WH_RENEW_ALWAYS;
    for (size_t i = 0; i < job->named_count; i++) renewed[job->named[i]] = asked[job->named[i]] = true;
    for (size_t i = 0; i < job->ask->also.count; i++) renewed[job->ask->also.at[i]] = also[job->ask->also.at[i]] = true;
    plan->renewed = renewed, plan->asked = asked, plan->also = also;
}

/* What comes off, what is behind, what was washed. */
static void note_order(struct wh_arena *arena, struct wh_plan *plan, const struct wh_tasks *tasks,
                       const struct wh_order *order)
{
    bool *off = WH_NEW(arena, plan->machine->thing_count, bool),
         *washed = WH_NEW(arena, plan->machine->thing_count, bool);
    for (size_t i = 0; i < order->step_count; i++) {
        const struct wh_task *task = &tasks->tasks[order->steps[i].task];
        bool done = i < tasks->problem.done_count;
        if (task->is == WH_TASK_OFF) off[task->thing] = true, washed[task->thing] = false;
        if (done && task->is != WH_TASK_MARK) plan->done_count++;
        if (done) plan->behind = order->steps[i].end * 60;
        for (size_t t = 0; task->is == WH_TASK_CLEAN && done && t < plan->machine->thing_count; t++) washed[t] = off[t];
    }
    plan->off = off, plan->washed = washed;
    plan->total = order->cost * 60, plan->bound = order->bound * 60;
    plan->hands = hands(tasks, order);
    plan->fitters = tasks->problem.fitters;
    plan->stopped = order->stop == WH_ORDER_STOPPED;
    plan->proven = order->proven, plan->natural = order->natural;
    plan->natural_total = order->natural_cost * 60, plan->least_total = order->least * 60;
    plan->nodes = order->nodes;
    plan->turnings = turnings(tasks, order);
    plan->tasks = tasks, plan->order = order;
}

enum wh_status wh_plan_make(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_sheet *sheet,
                            const size_t renew[], size_t renew_count, const struct wh_plan_ask *ask,
                            struct wh_plan **ret, struct wh_errors *reterr)
{
    enum wh_status status = check_named(machine, renew, renew_count, reterr);
    if (check_named(machine, ask->also.at, ask->also.count, reterr) != WH_OK || status != WH_OK) return WH_ERR_INPUT;
    struct wh_plan *plan = WH_NEW(arena, 1, struct wh_plan);
    struct wh_job job = {.machine = machine, .sheet = sheet, .named = renew, .named_count = renew_count, .ask = ask};
    struct wh_so_far so_far;
    struct wh_tasks *tasks;
    struct wh_order *order = NULL;
    *plan = (struct wh_plan){.machine = machine, .sheet = sheet};
    note_parts(arena, plan, &job);
    job.renewed = plan->renewed;
    if ((status = look_back(arena, &job, &so_far, reterr)) != WH_OK) return status;
    if ((status = wh_plan_solve(arena, &job, &so_far, &tasks, &order, reterr)) != WH_OK) return status;
    wh_plan_settle(arena, tasks, order);
    plan->notes = (struct wh_words){so_far.notes.at, so_far.notes.count};
    note_order(arena, plan, tasks, order);
    wh_plan_steps(arena, plan, tasks, order);
    wh_plan_kit(arena, plan);
    *ret = plan;
    return plan->stopped ? WH_OK : compare_ways(arena, plan, &job, &so_far);
}
