#include "task_file.h"

#include "base/quantity.h"
#include "base/tree.h"

#include <math.h>
#include <string.h>

enum { MOST_TASKS = 20000, MOST_VALUES = 1000 };

/* One thing done: a task, or the mark behind which one of several ways lies. */
struct entry {
    const struct wh_tree *node;
    const char *name;
};

struct reading {
    struct wh_arena *arena;
    struct wh_errors *errors;
    WH_LIST(struct entry) entries; /* of each task of the problem */
    WH_LIST(struct wh_order_task) tasks;
    WH_LIST(struct wh_order_need) needs;
    WH_LIST(struct wh_order_link) links;
    WH_LIST(struct wh_order_window) windows;
    WH_LIST(struct wh_order_use) uses;
    WH_LIST(struct wh_order_rivals) rivals;
    WH_LIST(const char *) names, window_names, things;
    const char *set_ups[WH_ORDER_DIMENSIONS];
    const char **values[WH_ORDER_DIMENSIONS];
    struct wh_order_dimension dimensions[WH_ORDER_DIMENSIONS];
    size_t set_up_count;
};

static void refuse(struct reading *r, const struct wh_tree *at, const char *right, const char *says)
{
    wh_errors_add(r->errors, WH_ERR_INPUT, at->place, right, "%s", says);
}

/* Keys that stand in a map and are none of those known. */
static void check_keys(struct reading *r, const struct wh_tree *map, const char *const known[], size_t n,
                       size_t set_ups)
{
    if (map->is != WH_TREE_MAP) {
        refuse(r, map, "a map in braces", "this is no map");
        return;
    }
    for (const struct wh_tree *node = map->first; node; node = node->next) {
        bool good = false;
        for (size_t i = 0; i < n; i++) good |= wh_same(node->key, known[i]);
        for (size_t d = 0; d < set_ups; d++) good |= wh_same(node->key, r->set_ups[d]);
        if (good) continue;
        const char *nearest = wh_nearest(node->key, known, n);
        wh_errors_add(r->errors, WH_ERR_INPUT, wh_tree_key_place(node),
                      nearest ? wh_arena_print(r->arena, "did you mean \"%s\"?", nearest) : "see docs/task-file.md",
                      "\"%s\" is not known here", node->key);
    }
}
#define CHECK_KEYS(r, map, set_ups, ...)                                                                               \
    check_keys((r), (map), (const char *const[]){__VA_ARGS__},                                                         \
               sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *), (set_ups))

/* A number of at least 0; `otherwise` when the key is missing. */
static double number(struct reading *r, const struct wh_tree *map, const char *key, double otherwise)
{
    const struct wh_tree *node = wh_tree_get(map, key);
    double value = wh_tree_number(map, key, NAN);
    if (!node) return otherwise;
    if (isfinite(value) && value >= 0) return value;
    refuse(r, node, "a number, 0 or more", wh_arena_print(r->arena, "\"%s\" is no such number", key));
    return 0;
}

static bool truth(struct reading *r, const struct wh_tree *map, const char *key)
{
    const struct wh_tree *node = wh_tree_get(map, key);
    if (!node) return false;
    if (node->is != WH_TREE_TRUTH) refuse(r, node, "true or false", wh_arena_print(r->arena, "\"%s\" is neither", key));
    return wh_same(node->text, "true");
}

static const char *word(struct reading *r, const struct wh_tree *map, const char *key)
{
    const struct wh_tree *node = wh_tree_get(map, key);
    if (node && node->is == WH_TREE_TEXT && *node->text) return node->text;
    refuse(r, node ? node : map, "a text in quotes", wh_arena_print(r->arena, "\"%s\" is missing or no text", key));
    return "";
}

/* The nodes of a list; none when the key is missing. */
static const struct wh_tree *list(struct reading *r, const struct wh_tree *map, const char *key)
{
    const struct wh_tree *node = wh_tree_get(map, key);
    if (!node) return NULL;
    if (node->is == WH_TREE_LIST) return node->first;
    refuse(r, node, "a list in square brackets", wh_arena_print(r->arena, "\"%s\" is no list", key));
    return NULL;
}

/* The place of a name among those known; 0 and an error when it is not there. */
static size_t find(struct reading *r, const struct wh_tree *node, const char *const known[], size_t n, const char *what)
{
    for (size_t i = 0; i < n && node->is == WH_TREE_TEXT; i++)
        if (known[i] && wh_same(known[i], node->text)) return i;
    const char *nearest = node->is == WH_TREE_TEXT ? wh_nearest(node->text, known, n) : NULL;
    refuse(r, node, nearest ? wh_arena_print(r->arena, "did you mean \"%s\"?", nearest) : NULL,
           wh_arena_print(r->arena, "%s is no %s", node->text ? node->text : "this", what));
    return 0;
}

static size_t task_named(struct reading *r, const struct wh_tree *node)
{
    return find(r, node, r->names.at, r->names.count, "task");
}

static size_t task_at(struct reading *r, const struct wh_tree *map, const char *key)
{
    const struct wh_tree *node = wh_tree_get(map, key);
    if (node) return task_named(r, node);
    refuse(r, map, "the name of a task", wh_arena_print(r->arena, "\"%s\" is missing", key));
    return 0;
}

static double *numbers(struct reading *r, const struct wh_tree *map, const char *key, size_t n)
{
    double *at = WH_NEW(r->arena, n + 1, double);
    size_t count = 0;
    const struct wh_tree *first = list(r, map, key);
    for (const struct wh_tree *node = first; node; node = node->next, count++) {
        double value;
        const char *end = node->is == WH_TREE_NUMBER && node->text ? wh_number_read(node->text, &value) : NULL;
        if (!end || *end || value < 0) refuse(r, node, "a number, 0 or more", "this is no number of minutes");
        if (end && !*end && count < n) at[count] = value;
    }
    if (first && count != n)
        refuse(r, wh_tree_get(map, key), wh_arena_print(r->arena, "%zu numbers, one for each value", n),
               wh_arena_print(r->arena, "\"%s\" has %zu", key, count));
    return at;
}

/* The minutes of each change: the same for all, or what leaving the one and getting the other take, or a matrix. */
static double *read_costs(struct reading *r, const struct wh_tree *node, size_t n)
{
    double *cost = WH_NEW(r->arena, n * n + 1, double), all = number(r, node, "change", 0);
    const double *leaving = numbers(r, node, "leaving", n), *getting = numbers(r, node, "getting", n);
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) cost[i * n + j] = i == j ? 0 : all + leaving[i] + getting[j];
    const struct wh_tree *matrix = wh_tree_get(node, "matrix");
    if (!matrix) return cost;
    double *given = numbers(r, node, "matrix", n * n);
    for (size_t i = 0; i < n * n; i++) cost[i] += i % (n + 1) ? given[i] : 0;
    return cost;
}

static void read_set_up(struct reading *r, const struct wh_tree *node)
{
    size_t d = r->set_up_count, n = 0;
    CHECK_KEYS(r, node, 0, "name", "values", "start", "change", "leaving", "getting", "matrix", "shared", "needs open");
    if (d == WH_ORDER_DIMENSIONS) {
        refuse(r, node, "at most 3", "there are too many set-ups");
        return;
    }
    r->set_ups[d] = word(r, node, "name");
    r->values[d] = WH_NEW(r->arena, MOST_VALUES, const char *);
    for (const struct wh_tree *value = list(r, node, "values"); value; value = value->next) {
        if (value->is != WH_TREE_TEXT) refuse(r, value, "a text in quotes", "this is no name of a value");
        if (n < MOST_VALUES) r->values[d][n++] = value->text ? value->text : "";
    }
    if (n == 0) refuse(r, node, "\"values\": [\"none\", \"13 mm socket\"]", "a set-up has values");
    const struct wh_tree *start = wh_tree_get(node, "start");
    r->dimensions[d] = (struct wh_order_dimension){.name = r->set_ups[d],
                                                   .values = n,
                                                   .cost = read_costs(r, node, n),
                                                   .start = WH_ORDER_ANY,
                                                   .shared = truth(r, node, "shared")};
    if (start) r->dimensions[d].start = (int)find(r, start, r->values[d], n, "value of this set-up");
    r->set_up_count++;
}

static void add_task(struct reading *r, const struct wh_tree *node, const char *name, bool wanted)
{
    struct wh_order_task *task = WH_PUSH(r->arena, &r->tasks);
    *task = (struct wh_order_task){.name = name, .crew = 1, .wanted = wanted};
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) task->set_up[d] = WH_ORDER_ANY;
    *WH_PUSH(r->arena, &r->entries) = (struct entry){node, name};
    *WH_PUSH(r->arena, &r->names) = name;
}

static void fill_task(struct reading *r, size_t t)
{
    const struct wh_tree *node = r->entries.at[t].node;
    struct wh_order_task *task = &r->tasks.at[t];
    double crew = number(r, node, "crew", 1);
    task->minutes = number(r, node, "minutes", 0) + number(r, node, "price", 0);
    task->alone = truth(r, node, "alone");
    task->crew = crew >= 1 && crew <= 4 ? (int)crew : 1;
    if (crew < 1 || crew > 4 || crew > floor(crew)) refuse(r, node, "1 to 4", "no such crew");
    for (size_t d = 0; d < r->set_up_count; d++) {
        const struct wh_tree *value = wh_tree_get(node, r->set_ups[d]);
        if (value) task->set_up[d] = (int)find(r, value, r->values[d], r->dimensions[d].values, r->set_ups[d]);
    }
}

/* A need of a task: each of the listed ways is a list of tasks. */
static void add_need(struct reading *r, size_t task, bool before, const struct wh_order_way *ways, size_t count)
{
    *WH_PUSH(r->arena, &r->needs) = (struct wh_order_need){task, before, ways, count};
}

static struct wh_order_way read_way(struct reading *r, const struct wh_tree *node)
{
    WH_LIST(size_t) tasks = {0};
    if (node->is == WH_TREE_LIST) {
        for (const struct wh_tree *name = node->first; name; name = name->next)
            *WH_PUSH(r->arena, &tasks) = task_named(r, name);
    } else {
        *WH_PUSH(r->arena, &tasks) = task_named(r, node);
    }
    return (struct wh_order_way){tasks.at, tasks.count};
}

static void read_needs(struct reading *r, size_t task, const struct wh_tree *node, bool before)
{
    const char *all = before ? "after" : "with", *one = before ? "after one of" : "with one of";
    for (const struct wh_tree *name = list(r, node, all); name; name = name->next) {
        struct wh_order_way *way = WH_NEW(r->arena, 1, struct wh_order_way);
        *way = read_way(r, name);
        add_need(r, task, before, way, 1);
    }
    WH_LIST(struct wh_order_way) ways = {0};
    const struct wh_tree *first = list(r, node, one);
    for (const struct wh_tree *way = first; way; way = way->next) *WH_PUSH(r->arena, &ways) = read_way(r, way);
    if (wh_tree_get(node, one) && !first) refuse(r, wh_tree_get(node, one), "at least one way", "no way is named");
    if (first) add_need(r, task, before, ways.at, ways.count);
}

static void read_all_needs(struct reading *r, size_t task)
{
    const struct wh_tree *node = r->entries.at[task].node;
    read_needs(r, task, node, true);
    read_needs(r, task, node, false);
    for (const struct wh_tree *choice = list(r, node, "choices"); choice; choice = choice->next) {
        CHECK_KEYS(r, choice, 0, "after one of", "with one of");
        read_needs(r, task, choice, true);
        read_needs(r, task, choice, false);
    }
}

/* The mark of a task with ways stands behind whichever is taken. */
static void read_ways(struct reading *r, size_t mark, size_t first, size_t count)
{
    struct wh_order_way *ways = WH_NEW(r->arena, count, struct wh_order_way);
    size_t *tasks = WH_NEW(r->arena, count, size_t);
    for (size_t i = 0; i < count; i++) {
        tasks[i] = first + i;
        ways[i] = (struct wh_order_way){&tasks[i], 1};
    }
    add_need(r, mark, true, ways, count);
    for (size_t i = 0; i < count; i++)
        for (size_t k = i + 1; k < count; k++)
            *WH_PUSH(r->arena, &r->rivals) = (struct wh_order_rivals){tasks[i], tasks[k]};
}

static void name_tasks(struct reading *r, const struct wh_tree *root)
{
    for (const struct wh_tree *node = list(r, root, "tasks"); node; node = node->next) {
        const char *name = node->is == WH_TREE_MAP ? word(r, node, "name") : "";
        CHECK_KEYS(r, node, r->set_up_count, "name", "minutes", "price", "crew", "alone", "wanted", "after",
                   "after one of", "with", "with one of", "choices", "ways");
        if (r->tasks.count > MOST_TASKS) return;
        const struct wh_tree *wanted = wh_tree_get(node, "wanted");
        size_t mark = r->tasks.count;
        for (size_t i = 0; i < mark; i++)
            if (wh_same(r->names.at[i], name)) refuse(r, node, "a name of its own", "another task has this name");
        add_task(r, node, name, !wanted || truth(r, node, "wanted"));
        for (const struct wh_tree *way = list(r, node, "ways"); way; way = way->next) {
            CHECK_KEYS(r, way, r->set_up_count, "name", "minutes", "price", "crew", "alone", "after", "after one of",
                       "with", "with one of", "choices");
            add_task(r, way, wh_arena_print(r->arena, "%s: %s", name, word(r, way, "name")), false);
        }
        if (wh_tree_get(node, "ways")) read_ways(r, mark, mark + 1, r->tasks.count - mark - 1);
    }
}

static void read_wait(struct reading *r, const struct wh_tree *node)
{
    CHECK_KEYS(r, node, 0, "from", "to", "least", "most", "joined");
    struct wh_order_link link = {.first = task_at(r, node, "from"),
                                 .after = task_at(r, node, "to"),
                                 .least = number(r, node, "least", 0),
                                 .most = number(r, node, "most", INFINITY),
                                 .joined = truth(r, node, "joined")};
    if (link.most < link.least) refuse(r, node, "least <= most", "the greatest wait is less than the least");
    *WH_PUSH(r->arena, &r->links) = link;
}

static void read_window(struct reading *r, const struct wh_tree *node)
{
    CHECK_KEYS(r, node, 0, "name", "from", "to");
    *WH_PUSH(r->arena, &r->window_names) = word(r, node, "name");
    *WH_PUSH(r->arena, &r->windows) = (struct wh_order_window){task_at(r, node, "from"), task_at(r, node, "to")};
}

static void read_use(struct reading *r, const struct wh_tree *node)
{
    CHECK_KEYS(r, node, 0, "thing", "from", "to");
    const char *thing = word(r, node, "thing");
    size_t at = 0;
    while (at < r->things.count && !wh_same(r->things.at[at], thing)) at++;
    if (at == r->things.count) *WH_PUSH(r->arena, &r->things) = thing;
    *WH_PUSH(r->arena, &r->uses) = (struct wh_order_use){at, task_at(r, node, "from"), task_at(r, node, "to")};
}

static void read_rivals(struct reading *r, const struct wh_tree *node)
{
    const struct wh_tree *one = node->is == WH_TREE_LIST ? node->first : NULL;
    if (one && one->next && !one->next->next)
        *WH_PUSH(r->arena, &r->rivals) = (struct wh_order_rivals){task_named(r, one), task_named(r, one->next)};
    else
        refuse(r, node, "[\"off, upward\", \"off, downward\"]", "rivals are two tasks");
}

/* "needs open": lists of windows, of each one has to stand open. A name may stand for several windows. */
static void read_open_sets(struct reading *r, const struct wh_tree *node, struct wh_order_dimension *dimension)
{
    WH_LIST(struct wh_order_way) sets = {0};
    for (const struct wh_tree *any = list(r, node, "needs open"); any; any = any->next) {
        WH_LIST(size_t) set = {0};
        for (const struct wh_tree *name = any->first; name; name = name->next) {
            size_t first = find(r, name, r->window_names.at, r->window_names.count, "window");
            for (size_t w = first; w < r->window_names.count; w++)
                if (wh_same(r->window_names.at[w], name->text)) *WH_PUSH(r->arena, &set) = w;
        }
        *WH_PUSH(r->arena, &sets) = (struct wh_order_way){set.at, set.count};
    }
    dimension->open_sets = sets.at;
    dimension->open_set_count = sets.count;
}

static void read_all(struct reading *r, const struct wh_tree *root, struct wh_order_problem *ret)
{
    CHECK_KEYS(r, root, 0, "format", "name", "from", "fitters", "keep", "set-ups", "tasks", "waits", "open",
               "one at a time", "rivals", "done", "proven");
    if (!(fabs(wh_tree_number(root, "format", 0) - 1) <= 0))
        refuse(r, root, "\"format\": 1", "this is not the form that this program reads");
    for (const struct wh_tree *node = list(r, root, "set-ups"); node; node = node->next) read_set_up(r, node);
    name_tasks(r, root);
    if (r->tasks.count == 0) {
        refuse(r, root, "\"tasks\": [...]", "there are no tasks");
        return;
    }
    for (size_t t = 0; t < r->tasks.count; t++) {
        if (wh_tree_get(r->entries.at[t].node, "ways")) continue;
        fill_task(r, t);
        read_all_needs(r, t);
    }
    for (const struct wh_tree *node = list(r, root, "waits"); node; node = node->next) read_wait(r, node);
    for (const struct wh_tree *node = list(r, root, "open"); node; node = node->next) read_window(r, node);
    for (const struct wh_tree *node = list(r, root, "one at a time"); node; node = node->next) read_use(r, node);
    for (const struct wh_tree *node = list(r, root, "rivals"); node; node = node->next) read_rivals(r, node);
    size_t d = 0;
    for (const struct wh_tree *node = list(r, root, "set-ups"); node && d < r->set_up_count; node = node->next)
        read_open_sets(r, node, &r->dimensions[d++]);
    WH_LIST(size_t) done = {0};
    for (const struct wh_tree *node = list(r, root, "done"); node; node = node->next)
        *WH_PUSH(r->arena, &done) = task_named(r, node);
    *ret = (struct wh_order_problem){.tasks = r->tasks.at,
                                     .task_count = r->tasks.count,
                                     .needs = r->needs.at,
                                     .need_count = r->needs.count,
                                     .links = r->links.at,
                                     .link_count = r->links.count,
                                     .windows = r->windows.at,
                                     .window_count = r->windows.count,
                                     .uses = r->uses.at,
                                     .use_count = r->uses.count,
                                     .rivals = r->rivals.at,
                                     .rival_count = r->rivals.count,
                                     .done = done.at,
                                     .done_count = done.count,
                                     .fitters = (int)fmin(number(r, root, "fitters", 1), 9),
                                     .keep = number(r, root, "keep", 0)};
    memcpy(ret->dimensions, r->dimensions, sizeof r->dimensions);
    for (; d < WH_ORDER_DIMENSIONS; d++) ret->dimensions[d].start = WH_ORDER_ANY;
}

enum wh_status task_file_read(struct wh_arena *arena, const char *path, const char *text, size_t size,
                              struct wh_order_problem *ret, struct wh_errors *reterr)
{
    struct wh_tree *root;
    size_t already = reterr->count;
    wh_errors_show(reterr, path, text);
    enum wh_status status = wh_tree_read(arena, path, text, size, &root, reterr);
    if (status != WH_OK) return status;
    struct reading *r = WH_NEW(arena, 1, struct reading);
    r->arena = arena;
    r->errors = reterr;
    read_all(r, root, ret);
    return reterr->count > already ? WH_ERR_INPUT : WH_OK;
}
