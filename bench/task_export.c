/* Writes a machine's job as a task file: task_export MACHINE-FILE PARTS. */
#include "base/file.h"
#include "base/tree.h"
#include "plan/tasks.h"

#include <math.h>
#include <stdio.h>

struct export
{
    const char *path, *parts;
};

static void add_names(struct wh_arena *arena, const struct wh_order_problem *p, struct wh_tree *to,
                      const struct wh_order_way *way)
{
    for (size_t k = 0; k < way->count; k++) wh_tree_add_text(arena, to, NULL, p->tasks[way->tasks[k]].name);
}

static struct wh_tree *list_of(struct wh_arena *arena, struct wh_tree *map, const char *key)
{
    struct wh_tree *list = wh_tree_get(map, key);
    return list ? list : wh_tree_add_new(arena, map, key, WH_TREE_LIST);
}

/* A matrix, or one number a value where a change costs the same from everywhere. */
static void add_costs(struct wh_arena *arena, struct wh_tree *node, const struct wh_order_dimension *dimension)
{
    size_t n = dimension->values;
    const double *cost = dimension->cost;
    bool same = n > 1;
    for (size_t i = 0; i < n * n; i++) {
        size_t to = i % n, other = to == 0 ? n - 1 : 0;
        same &= i / n == to || fabs(cost[i] - cost[other * n + to]) <= 0;
    }
    struct wh_tree *list = wh_tree_add_new(arena, node, same ? "getting" : "matrix", WH_TREE_LIST);
    for (size_t i = 0; i < (same ? n : n * n); i++)
        wh_tree_add_number(arena, list, NULL, same ? cost[(i == 0 ? n - 1 : 0) * n + i] : cost[i]);
}

static void add_set_up(struct wh_arena *arena, struct wh_tree *to, const struct wh_order_dimension *dimension)
{
    size_t n = dimension->values;
    struct wh_tree *node = wh_tree_add_new(arena, to, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, node, "name", dimension->name);
    struct wh_tree *values = wh_tree_add_new(arena, node, "values", WH_TREE_LIST);
    for (size_t v = 0; v < n; v++) wh_tree_add_text(arena, values, NULL, wh_arena_print(arena, "%zu", v));
    if (dimension->start != WH_ORDER_ANY)
        wh_tree_add_text(arena, node, "start", wh_arena_print(arena, "%d", dimension->start));
    add_costs(arena, node, dimension);
    wh_tree_add_truth(arena, node, "shared", dimension->shared);
    struct wh_tree *sets = wh_tree_add_new(arena, node, "needs open", WH_TREE_LIST);
    for (size_t s = 0; s < dimension->open_set_count; s++) {
        struct wh_tree *set = wh_tree_add_new(arena, sets, NULL, WH_TREE_LIST);
        for (size_t k = 0; k < dimension->open_sets[s].count; k++)
            wh_tree_add_text(arena, set, NULL, wh_arena_print(arena, "%zu", dimension->open_sets[s].tasks[k]));
    }
}

static struct wh_tree *add_task(struct wh_arena *arena, struct wh_tree *to, const struct wh_order_problem *p, size_t t)
{
    const struct wh_order_task *task = &p->tasks[t];
    struct wh_tree *node = wh_tree_add_new(arena, to, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, node, "name", task->name);
    wh_tree_add_number(arena, node, "minutes", task->minutes);
    if (!task->wanted) wh_tree_add_truth(arena, node, "wanted", false);
    if (task->alone) wh_tree_add_truth(arena, node, "alone", true);
    if (task->crew > 1) wh_tree_add_number(arena, node, "crew", task->crew);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++)
        if (task->set_up[d] != WH_ORDER_ANY)
            wh_tree_add_text(arena, node, p->dimensions[d].name, wh_arena_print(arena, "%d", task->set_up[d]));
    return node;
}

static void add_need(struct wh_arena *arena, struct wh_tree *node, const struct wh_order_problem *p,
                     const struct wh_order_need *need)
{
    if (need->way_count == 1) {
        add_names(arena, p, list_of(arena, node, need->before ? "after" : "with"), &need->ways[0]);
        return;
    }
    const char *key = need->before ? "after one of" : "with one of";
    if (wh_tree_get(node, key)) node = wh_tree_add_new(arena, list_of(arena, node, "choices"), NULL, WH_TREE_MAP);
    struct wh_tree *ways = wh_tree_add_new(arena, node, key, WH_TREE_LIST);
    for (size_t w = 0; w < need->way_count; w++)
        add_names(arena, p, wh_tree_add_new(arena, ways, NULL, WH_TREE_LIST), &need->ways[w]);
}

static struct wh_tree *tree_of(struct wh_arena *arena, const struct wh_order_problem *p)
{
    struct wh_tree *root = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_number(arena, root, "format", 1);
    wh_tree_add_number(arena, root, "fitters", p->fitters);
    wh_tree_add_number(arena, root, "keep", p->keep);
    struct wh_tree *set_ups = wh_tree_add_new(arena, root, "set-ups", WH_TREE_LIST);
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) add_set_up(arena, set_ups, &p->dimensions[d]);
    struct wh_tree *tasks = wh_tree_add_new(arena, root, "tasks", WH_TREE_LIST);
    for (size_t t = 0; t < p->task_count; t++) {
        struct wh_tree *node = add_task(arena, tasks, p, t);
        for (size_t i = 0; i < p->need_count; i++)
            if (p->needs[i].task == t) add_need(arena, node, p, &p->needs[i]);
    }
    struct wh_tree *waits = wh_tree_add_new(arena, root, "waits", WH_TREE_LIST);
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_link *link = &p->links[i];
        struct wh_tree *node = wh_tree_add_new(arena, waits, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, node, "from", p->tasks[link->first].name);
        wh_tree_add_text(arena, node, "to", p->tasks[link->after].name);
        if (link->least > 0) wh_tree_add_number(arena, node, "least", link->least);
        if (isfinite(link->most)) wh_tree_add_number(arena, node, "most", link->most);
        if (link->joined) wh_tree_add_truth(arena, node, "joined", true);
    }
    struct wh_tree *windows = wh_tree_add_new(arena, root, "open", WH_TREE_LIST);
    for (size_t w = 0; w < p->window_count; w++) {
        struct wh_tree *node = wh_tree_add_new(arena, windows, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, node, "name", wh_arena_print(arena, "%zu", w));
        wh_tree_add_text(arena, node, "from", p->tasks[p->windows[w].opens].name);
        wh_tree_add_text(arena, node, "to", p->tasks[p->windows[w].closes].name);
    }
    struct wh_tree *uses = wh_tree_add_new(arena, root, "one at a time", WH_TREE_LIST);
    for (size_t u = 0; u < p->use_count; u++) {
        struct wh_tree *node = wh_tree_add_new(arena, uses, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, node, "thing", wh_arena_print(arena, "%zu", p->uses[u].thing));
        wh_tree_add_text(arena, node, "from", p->tasks[p->uses[u].from].name);
        wh_tree_add_text(arena, node, "to", p->tasks[p->uses[u].to].name);
    }
    struct wh_tree *rivals = wh_tree_add_new(arena, root, "rivals", WH_TREE_LIST);
    for (size_t i = 0; i < p->rival_count; i++) {
        struct wh_tree *node = wh_tree_add_new(arena, rivals, NULL, WH_TREE_LIST);
        wh_tree_add_text(arena, node, NULL, p->tasks[p->rivals[i].one].name);
        wh_tree_add_text(arena, node, NULL, p->tasks[p->rivals[i].other].name);
    }
    return root;
}

/* A line for each thing of each list. */
static void print(struct wh_arena *arena, const struct wh_tree *root)
{
    for (const struct wh_tree *node = root->first; node; node = node->next) {
        printf("%s\"%s\": ", node == root->first ? "{\n" : ",\n", node->key);
        if (node->is != WH_TREE_LIST) {
            fputs(node->text, stdout);
            continue;
        }
        for (const struct wh_tree *each = node->first; each; each = each->next)
            printf("%s\n  %s", each == node->first ? "[" : ",", wh_tree_line(arena, each));
        fputs(node->first ? "\n]" : "[]", stdout);
    }
    fputs("\n}\n", stdout);
}

static enum wh_status export_job(struct wh_arena *arena, void *context)
{
    const struct export *export = context;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct wh_indices parts;
    enum wh_status status = wh_machine_read(arena, export->path, &machine, &errors);
    if (status == WH_OK) status = wh_sheet_make(arena, machine, NULL, 0, &sheet, &errors);
    if (status == WH_OK) status = wh_plan_parts(arena, machine, export->parts, &parts, &errors);
    if (status == WH_OK) {
        struct wh_plan_ask ask = {.fitters = 1};
        bool *renewed = WH_NEW(arena, machine->thing_count, bool);
        for (size_t t = 0; t < machine->thing_count; t++) renewed[t] = machine->things[t].renew == WH_RENEW_ALWAYS;
        for (size_t i = 0; i < parts.count; i++) renewed[parts.at[i]] = true;
        struct wh_job job = {machine, sheet, renewed, parts.at, parts.count, NULL, &ask};
        struct wh_so_far so_far = {.plain = true, .reopened = WH_NEW(arena, machine->thing_count, bool)};
        struct wh_tasks *tasks;
        status = wh_tasks_make(arena, &job, &so_far, &tasks, &errors);
        if (status != WH_OK) return status;
        print(arena, tree_of(arena, &tasks->problem));
    }
    if (errors.count) fputs(wh_errors_text(arena, &errors), stderr);
    return status;
}

int main(int argc, char **argv)
{
    if (argc != 3) {
        fputs("usage: task_export MACHINE-FILE PARTS\n", stderr);
        return 2;
    }
    struct export export = {argv[1], argv[2]};
    return wh_status_exit(wh_arena_run((size_t)256 << 20, export_job, &export));
}
