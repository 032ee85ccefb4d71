/* The gathered tasks as a problem for the solver: dimensions of set-up, windows, the natural order. */
#include "plan/builder.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

struct placed {
    double natural;
    size_t task;
};

/* n x n costs of changing a value: what leaving the one and getting the other take. */
static const double *costs(struct wh_builder *b, size_t n, const double leaving[], const double getting[])
{
    double *cost = WH_NEW(b->arena, n * n + 1, double);
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) cost[i * n + j] = i == j ? 0 : leaving[i] + getting[j];
    return cost;
}

/* The windows that keep each condition of the other ways up. */
static void turning_windows(struct wh_builder *b, struct wh_order_dimension *dimension)
{
    WH_LIST(struct wh_order_way) sets = {0};
    for (size_t u = 1; u < b->machine->way_up_count; u++)
        for (size_t i = 0; i < b->machine->ways_up[u].off.count; i++) {
            const struct wh_indices *any = &b->machine->ways_up[u].off.at[i];
            WH_LIST(size_t) set = {0};
            for (size_t j = 0; j < any->count; j++) {
                size_t thing = any->at[j], drain = wh_build_drain_of(b, thing);
                for (size_t x = 0; x < b->windows.count; x++) {
                    size_t opens = b->windows.at[x].opens;
                    const struct wh_task *task = &b->tasks.at[opens];
                    bool drains = drain != WH_NONE && b->windows.at[x].closes == b->fill[thing];
                    bool parts = drain == WH_NONE && task->thing == thing;
                    if (drains || parts) *WH_PUSH(b->arena, &set) = x;
                }
            }
            *WH_PUSH(b->arena, &sets) = (struct wh_order_way){set.at, set.count};
        }
    dimension->open_sets = sets.at;
    dimension->open_set_count = sets.count;
}

void wh_build_part_windows(struct wh_builder *b)
{
    for (size_t p = 0; p < b->machine->thing_count; p++)
        for (size_t w = 0; w < 2; w++)
            if (b->off[p][w] != WH_NONE)
                *WH_PUSH(b->arena, &b->windows) = (struct wh_order_window){b->off[p][w], b->on_first[p][w]};
    for (size_t p = 0; p < b->machine->thing_count; p++)
        if (b->off[p][0] != WH_NONE && b->off[p][1] != WH_NONE)
            *WH_PUSH(b->arena, &b->rivals) = (struct wh_order_rivals){b->off[p][0], b->off[p][1]};
}

void wh_build_dimensions(struct wh_builder *b, struct wh_order_problem *problem)
{
    const struct wh_machine *machine = b->machine;
    double *turn = WH_NEW(b->arena, machine->way_up_count, double),
           *nothing = WH_NEW(b->arena, b->tools.count + machine->trade_count + 2, double),
           *call = WH_NEW(b->arena, machine->trade_count + 1, double);
    double *tool = WH_NEW(b->arena, b->tools.count, double),
           bench[2] = {machine->bench_change / 60, machine->bench_change / 60};
    for (size_t u = 1; u < machine->way_up_count; u++) turn[u] = machine->ways_up[u].minutes / 60;
    for (size_t t = 1; t < b->tools.count; t++) tool[t] = machine->tool_change / 60;
    problem->dimensions[WH_PLAN_TOOL] = (struct wh_order_dimension){
        .name = "tool", .values = b->tools.count, .cost = costs(b, b->tools.count, nothing, tool), .start = 0};
    problem->dimensions[WH_PLAN_WAY_UP] =
        (struct wh_order_dimension){.name = "way up",
                                    .values = machine->way_up_count,
                                    .cost = costs(b, machine->way_up_count, turn, turn),
                                    .start = 0,
                                    .shared = true};
    problem->dimensions[WH_PLAN_PLACE] = (struct wh_order_dimension){
        .name = "place", .values = 2, .cost = costs(b, 2, nothing, bench), .start = WH_PLAN_AT_FRAME};
    for (size_t t = 0; t < machine->trade_count; t++) call[1 + t] = machine->trades[t].call / 60;
    problem->dimensions[WH_PLAN_TRADE] =
        (struct wh_order_dimension){.name = "trade",
                                    .values = machine->trade_count + 1,
                                    .cost = costs(b, machine->trade_count + 1, nothing, call),
                                    .start = WH_PLAN_NO_TRADE};
    turning_windows(b, &problem->dimensions[WH_PLAN_WAY_UP]);
}

static int by_place(const void *a, const void *b)
{
    const struct placed *x = a, *y = b;
    if (x->natural < y->natural || x->natural > y->natural) return x->natural < y->natural ? -1 : 1;
    return x->task < y->task ? -1 : x->task > y->task;
}

struct wh_tasks *wh_build_sorted(struct wh_builder *b)
{
    size_t n = b->tasks.count, *now = WH_NEW(b->arena, n + 1, size_t);
    struct placed *placed = WH_NEW(b->arena, n + 1, struct placed);
    struct wh_tasks *tasks = WH_NEW(b->arena, 1, struct wh_tasks);
    struct wh_order_task *orders = WH_NEW(b->arena, n + 1, struct wh_order_task);
    tasks->tasks = WH_NEW(b->arena, n + 1, struct wh_task);
    tasks->count = n;
    for (size_t t = 0; t < n; t++) placed[t] = (struct placed){b->tasks.at[t].natural, t};
    qsort(placed, n, sizeof *placed, by_place);
    for (size_t t = 0; t < n; t++) {
        now[placed[t].task] = t;
        tasks->tasks[t] = b->tasks.at[placed[t].task];
        orders[t] = b->orders.at[placed[t].task];
    }
    for (size_t i = 0; i < b->needs.count; i++) {
        struct wh_order_need *need = &b->needs.at[i];
        need->task = now[need->task];
        for (size_t w = 0; w < need->way_count; w++)
            for (size_t j = 0; j < need->ways[w].count; j++)
                ((size_t *)need->ways[w].tasks)[j] = now[need->ways[w].tasks[j]];
    }
    for (size_t i = 0; i < b->links.count; i++) {
        b->links.at[i].first = now[b->links.at[i].first];
        b->links.at[i].after = now[b->links.at[i].after];
    }
    for (size_t i = 0; i < b->windows.count; i++)
        b->windows.at[i] = (struct wh_order_window){now[b->windows.at[i].opens], now[b->windows.at[i].closes]};
    for (size_t i = 0; i < b->done.count; i++) b->done.at[i] = now[b->done.at[i]];
    for (size_t i = 0; i < b->uses.count; i++) {
        b->uses.at[i].from = now[b->uses.at[i].from];
        b->uses.at[i].to = now[b->uses.at[i].to];
    }
    for (size_t i = 0; i < b->rivals.count; i++)
        b->rivals.at[i] = (struct wh_order_rivals){now[b->rivals.at[i].one], now[b->rivals.at[i].other]};
    tasks->problem = (struct wh_order_problem){.tasks = orders,
                                               .task_count = n,
                                               .needs = b->needs.at,
                                               .need_count = b->needs.count,
                                               .links = b->links.at,
                                               .link_count = b->links.count,
                                               .windows = b->windows.at,
                                               .window_count = b->windows.count,
                                               .uses = b->uses.at,
                                               .use_count = b->uses.count,
                                               .rivals = b->rivals.at,
                                               .rival_count = b->rivals.count,
                                               .fitters = b->fitters,
                                               .keep = WH_PLAN_KEEP / 60,
                                               .enough = WH_PLAN_ENOUGH / 60,
                                               .done = b->done.at,
                                               .done_count = b->done.count,
                                               .most_nodes = b->most_nodes,
                                               .watch = b->ask->watch};
    tasks->link_because = b->because.at;
    tasks->tools = b->tools.at;
    return tasks;
}
