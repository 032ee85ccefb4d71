/* Adds tasks, links and needs. */
#include "plan/builder.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

/* At a mark all tools are laid back: it is the first value of the dimension, got to from any tool for nothing. */
static int tool_value(struct wh_builder *b, const char *tool)
{
    if (b->tools.count == 0) *WH_PUSH(b->arena, &b->tools) = NULL;
    if (!tool || wh_same(tool, "by hand")) return WH_ORDER_ANY;
    for (size_t t = 1; t < b->tools.count; t++)
        if (wh_same(b->tools.at[t], tool)) return (int)t;
    *WH_PUSH(b->arena, &b->tools) = tool;
    return (int)b->tools.count - 1;
}

size_t wh_build_task(struct wh_builder *b, struct wh_task task, const char *name, double seconds,
                     struct wh_set_up set_up)
{
    bool hangs = set_up.crew > 1 && !set_up.bench; /* all stand clear of the frame while a load hangs over it */
    int way = set_up.bench ? WH_ORDER_ANY : set_up.way_up == WH_NONE ? 0 : (int)set_up.way_up;
    struct wh_order_task order = {
        .name = name, .minutes = seconds / 60, .crew = hangs || set_up.crew > b->fitters ? b->fitters : set_up.crew};
    order.set_up[WH_PLAN_TOOL] = tool_value(b, set_up.tool);
    order.set_up[WH_PLAN_WAY_UP] = way;
    order.set_up[WH_PLAN_PLACE] = set_up.bench ? WH_PLAN_ON_BENCH : WH_PLAN_AT_FRAME;
    order.set_up[WH_PLAN_TRADE] = set_up.trade;
    task.id = name;
    *WH_PUSH(b->arena, &b->tasks) = task;
    *WH_PUSH(b->arena, &b->orders) = order;
    return b->tasks.count - 1;
}

size_t wh_build_mark(struct wh_builder *b, struct wh_task task, const char *name, double seconds, bool bench)
{
    size_t t =
        wh_build_task(b, task, name, seconds, (struct wh_set_up){.bench = bench, .crew = 1, .trade = WH_ORDER_ANY});
    b->orders.at[t].set_up[WH_PLAN_TOOL] = 0;
    b->orders.at[t].set_up[WH_PLAN_WAY_UP] = WH_ORDER_ANY;
    b->orders.at[t].wanted = true;
    return t;
}

void wh_build_link(struct wh_builder *b, size_t first, size_t after, double least, double most, const char *because)
{
    if (first == WH_NONE || after == WH_NONE || first == after) return;
    *WH_PUSH(b->arena, &b->links) =
        (struct wh_order_link){.first = first, .after = after, .least = least / 60, .most = most / 60};
    *WH_PUSH(b->arena, &b->because) = because;
}

void wh_build_before(struct wh_builder *b, size_t first, size_t after)
{
    wh_build_link(b, first, after, 0, INFINITY, NULL);
}

void wh_build_need(struct wh_builder *b, size_t task, bool before, const size_t alternatives[], size_t n)
{
    if (n == 0) return;
    struct wh_order_way *ways = WH_NEW(b->arena, n, struct wh_order_way);
    size_t *tasks = WH_NEW(b->arena, n, size_t);
    for (size_t i = 0; i < n; i++) {
        tasks[i] = alternatives[i];
        ways[i] = (struct wh_order_way){&tasks[i], 1};
    }
    *WH_PUSH(b->arena, &b->needs) = (struct wh_order_need){task, before, ways, n};
}

bool wh_build_is_fixture(const struct wh_builder *b, size_t thing)
{
    return b->machine->things[thing].section == WH_SECTION_FIXTURES;
}

size_t wh_build_drain_of(const struct wh_builder *b, size_t thing)
{
    return wh_thing_role(b->machine, thing, "drained-by");
}
