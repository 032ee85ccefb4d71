#include "view/test_run.h"

#include "base/scene_tree.h"
#include "job/acceptance.h"
#include "view/dimension.h"
#include "view/job.h"
#include "view/machine.h"
#include "view/run.h"

#include <math.h>

enum { MOST_NAMED = 12 };

static const struct wh_tree *first_of(const struct wh_tree *map, const char *key)
{
    const struct wh_tree *list = wh_tree_get(map, key);
    return list ? list->first : NULL;
}

static void add_some(struct wh_arena *arena, struct wh_tree *map, const char *key, const char *text)
{
    if (text && *text) wh_tree_add_text(arena, map, key, text);
}

struct wh_tree *wh_view_run_sentences(struct wh_arena *arena, const struct wh_tree *run)
{
    static const char *const parts[][2] = {{"run down", "says"}, {"run down", "drive off"}, {"run up", "says"}};
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    for (const struct wh_tree *read = first_of(run, "read"); read; read = read->next)
        add_some(arena, list, NULL, wh_tree_text(read, "says", NULL));
    add_some(arena, list, NULL, wh_tree_text(run, "says", NULL));
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        add_some(arena, list, NULL, wh_tree_text(wh_tree_get(run, parts[i][0]), parts[i][1], NULL));
    return list;
}

/* The texts of a list, or of a key of its maps. */
static void add_texts(struct wh_arena *arena, struct wh_tree *list, const struct wh_tree *from, const char *key)
{
    for (const struct wh_tree *item = from ? from->first : NULL; item; item = item->next)
        add_some(arena, list, NULL, key ? wh_tree_text(item, key, NULL) : item->text);
}

struct wh_tree *wh_view_run_warnings(struct wh_arena *arena, const struct wh_tree *run)
{
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    add_texts(arena, list, wh_tree_get(wh_tree_get(run, "run down"), "warnings"), NULL);
    add_texts(arena, list, wh_tree_get(wh_tree_get(run, "run up"), "warnings"), NULL);
    return list;
}

static void add_findings(struct wh_arena *arena, struct wh_tree *item, const struct wh_tree *run)
{
    static const char *const keys[] = {"part", "place", "says", "evidence", "sure"};
    struct wh_tree *list = wh_tree_add_new(arena, item, "findings", WH_TREE_LIST);
    for (const struct wh_tree *finding = first_of(run, "findings"); finding; finding = finding->next) {
        struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
            add_some(arena, map, keys[i], wh_tree_text(finding, keys[i], NULL));
    }
}

static void add_drawings(struct wh_arena *arena, struct wh_tree *item, const struct wh_tree *run)
{
    struct wh_tree *list = wh_tree_add_new(arena, item, "drawings", WH_TREE_LIST);
    for (const struct wh_tree *kept = first_of(run, "drawings"); kept; kept = kept->next) {
        struct wh_scene *scene = wh_scene_of_tree(arena, kept);
        struct wh_tree *map = scene ? wh_tree_add_new(arena, list, NULL, WH_TREE_MAP) : NULL;
        if (map) wh_tree_add_text(arena, map, "text", scene->title);
        if (map) wh_view_add_scene(arena, map, "scene", scene);
    }
}

static void add_figures(struct wh_arena *arena, struct wh_tree *item, const struct wh_tree *run)
{
    struct wh_tree *list = wh_tree_add_new(arena, item, "figures", WH_TREE_LIST);
    for (const struct wh_tree *figure = first_of(run, "figures"); figure; figure = figure->next) {
        struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        add_some(arena, map, "channel", wh_tree_text(figure, "channel", NULL));
        add_some(arena, map, "title", wh_tree_text(figure, "title", NULL));
        add_some(arena, map, "shown", wh_tree_text(figure, "shown", NULL));
        add_some(arena, map, "judged", wh_tree_text(figure, "judged", NULL));
    }
}

/* The strongest lines that have a name. */
static void add_named(struct wh_arena *arena, struct wh_tree *item, const struct wh_tree *run)
{
    struct wh_tree *list = wh_tree_add_new(arena, item, "named", WH_TREE_LIST);
    for (const struct wh_tree *line = first_of(run, "lines"); line && list->count < MOST_NAMED; line = line->next) {
        const char *name = wh_tree_text(line, "name", "");
        if (wh_same(name, "not named")) continue;
        struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, map, "name", name);
        wh_tree_add_text(arena, map, "frequency",
                         wh_arena_print(arena, "%.1f Hz", wh_tree_number(line, "frequency", 0)));
        wh_tree_add_text(arena, map, "order",
                         wh_arena_print(arena, "%.3g times a turn", wh_tree_number(line, "order", 0)));
        add_some(arena, map, "of", wh_tree_text(line, "of", NULL));
        add_some(arena, map, "place", wh_tree_text(line, "place", NULL));
    }
}

static void add_record(struct wh_arena *arena, struct wh_tree *list, const struct wh_job_line *line)
{
    static const char *const keys[] = {"name", "what", "when", "speed"};
    const struct wh_tree *run = wh_tree_get(line->body, "run");
    struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, item, "entry", wh_arena_print(arena, "%lld", (long long)line->seq));
    wh_tree_add_text(arena, item, "who", line->who);
    wh_tree_add_text(arena, item, "at", wh_view_clock(arena, line->at));
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        add_some(arena, item, keys[i], wh_tree_text(line->body, keys[i], NULL));
    wh_tree_add(arena, item, "sentences", wh_view_run_sentences(arena, run));
    add_findings(arena, item, run);
    wh_tree_add(arena, item, "warnings", wh_view_run_warnings(arena, run));
    add_texts(arena, wh_tree_add_new(arena, item, "changed", WH_TREE_LIST), wh_tree_get(run, "compared"), "says");
    add_drawings(arena, item, run);
    add_figures(arena, item, run);
    add_named(arena, item, run);
    add_texts(arena, wh_tree_add_new(arena, item, "doubts", WH_TREE_LIST), wh_tree_get(run, "doubts"), NULL);
}

struct wh_tree *wh_view_test_run(struct wh_arena *arena, const struct wh_job *job, const struct wh_machine *machine)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    struct wh_acceptance acceptance = wh_job_acceptance(arena, job, machine);
    wh_view_acceptance_add(arena, map, &acceptance);
    struct wh_tree *records = wh_tree_add_new(arena, map, "records", WH_TREE_LIST);
    for (size_t i = job->lines.count; i > 0; i--)
        if (wh_same(job->lines.at[i - 1].kind, "record")) add_record(arena, records, &job->lines.at[i - 1]);
    wh_view_units(arena, map);
    return map;
}
