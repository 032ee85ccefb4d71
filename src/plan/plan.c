#include "plan/plan.h"

#include "base/text.h"
#include "plan/tasks.h"

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
    for (size_t i = 0; i < order->step_count; i++) sum += tasks->problem.tasks[order->steps[i].task].minutes;
    return sum * 60;
}

/* The same job with the way taken out of one part forbidden; its memory is given back at once. */
struct comparison {
    const struct wh_plan *plan;
    const size_t *named;
    size_t count;
    const struct wh_plan_ask *ask;
    struct wh_other_way *other;
};

static enum wh_status compare(struct wh_arena *arena, void *context)
{
    const struct comparison *c = context;
    const struct wh_plan *plan = c->plan;
    int *banned = WH_NEW(arena, plan->machine->thing_count, int);
    for (size_t t = 0; t < plan->machine->thing_count; t++) banned[t] = -1;
    banned[c->other->thing] = (int)c->other->way;
    struct wh_tasks *tasks =
        wh_tasks_make(arena, plan->machine, plan->sheet, plan->renewed, c->named, c->count, banned, c->ask);
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_order *order = NULL;
    enum wh_status status = wh_order_solve(arena, &tasks->problem, &order, &errors);
    if (status == WH_ERR_INPUT) return WH_OK; /* it cannot be gone: infinite */
    if (status != WH_OK) return status;
    c->other->more = order->cost * 60 - plan->total;
    c->other->hands = hands(tasks, order) - plan->hands;
    return WH_OK;
}

static enum wh_status compare_ways(struct wh_arena *arena, struct wh_plan *plan, const size_t named[], size_t n,
                                   const struct wh_plan_ask *ask)
{
    WH_LIST(struct wh_other_way) others = {0};
    for (size_t s = 0; s < plan->step_count; s++) {
        const struct wh_task *task = plan->steps[s].task;
        bool choice =
            task->is == WH_TASK_OFF && plan->asked[task->thing] && plan->machine->things[task->thing].way_count == 2;
        if (!choice) continue;
        struct wh_other_way *other = WH_PUSH(arena, &others);
        *other = (struct wh_other_way){task->thing, task->way, INFINITY, INFINITY};
        struct comparison comparison = {plan, named, n, ask, other};
        enum wh_status status = wh_arena_run(WH_PLAN_MEMORY, compare, &comparison);
        if (status != WH_OK) return status;
    }
    plan->others = others.at;
    plan->other_count = others.count;
    return WH_OK;
}

enum wh_status wh_plan_make(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_sheet *sheet,
                            const size_t renew[], size_t renew_count, const struct wh_plan_ask *ask,
                            struct wh_plan **ret, struct wh_errors *reterr)
{
    enum wh_status status = check_named(machine, renew, renew_count, reterr);
    if (status != WH_OK) return status;
    struct wh_plan *plan = WH_NEW(arena, 1, struct wh_plan);
    bool *renewed = WH_NEW(arena, machine->thing_count, bool), *off = WH_NEW(arena, machine->thing_count, bool);
    bool *asked = WH_NEW(arena, machine->thing_count, bool);
    for (size_t t = 0; t < machine->thing_count; t++) renewed[t] = machine->things[t].renew == WH_RENEW_ALWAYS;
    for (size_t i = 0; i < renew_count; i++) renewed[renew[i]] = asked[renew[i]] = true;
    *plan = (struct wh_plan){.machine = machine, .sheet = sheet, .asked = asked, .renewed = renewed, .off = off};
    struct wh_tasks *tasks = wh_tasks_make(arena, machine, sheet, renewed, renew, renew_count, NULL, ask);
    struct wh_order *order = NULL;
    if ((status = wh_order_solve(arena, &tasks->problem, &order, reterr)) != WH_OK) return status;
    for (size_t i = 0; i < order->step_count; i++) {
        const struct wh_task *task = &tasks->tasks[order->steps[i].task];
        if (task->is == WH_TASK_OFF) off[task->thing] = true;
    }
    plan->total = order->cost * 60, plan->bound = order->bound * 60;
    plan->hands = hands(tasks, order);
    plan->proven = order->proven, plan->natural = order->natural;
    plan->natural_total = order->natural_cost * 60, plan->least_total = order->least * 60;
    plan->nodes = order->nodes;
    wh_plan_steps(arena, plan, tasks, order);
    wh_plan_kit(arena, plan);
    *ret = plan;
    return compare_ways(arena, plan, renew, renew_count, ask);
}
