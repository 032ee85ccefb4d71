/* A step as the bench shows it, in five bands: mind, what, with, how much, then. */
#include "view/bench.h"

#include "view/dimension.h"
#include "view/figure.h"
#include "view/machine.h"
#include "view/section.h"

#include <math.h>

static void add_some(struct wh_arena *arena, struct wh_tree *map, const char *key, const char *text)
{
    if (text && *text) wh_tree_add_text(arena, map, key, text);
}

/* Copies a list of the plan as issued. */
static void add_issued(struct wh_arena *arena, struct wh_tree *map, const struct wh_job_step *step, const char *key)
{
    const struct wh_tree *issued = wh_tree_get(step->issued, key);
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (const struct wh_tree *item = issued ? issued->first : NULL; item; item = item->next) {
        if (item->is != WH_TREE_MAP) {
            wh_tree_add_text(arena, list, NULL, item->text);
            continue;
        }
        struct wh_tree *copy = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        for (const struct wh_tree *field = item->first; field; field = field->next)
            wh_tree_add_text(arena, copy, field->key, field->text);
    }
}

static void add_mind(struct wh_arena *arena, struct wh_tree *map, const struct wh_job *job,
                     const struct wh_job_step *step, const char *who)
{
    struct wh_tree *bars = wh_tree_add_new(arena, map, "bars", WH_TREE_LIST);
    struct wh_words words = step->mark < WH_MARK_DONE ? wh_job_bars(arena, job, step, who) : (struct wh_words){0};
    for (size_t i = 0; i < words.count; i++) wh_tree_add_text(arena, bars, NULL, words.at[i]);
    add_issued(arena, map, step, "cautions");
}

/* What is off by now: the parts whose last step that was done took them off. */
static bool *gone_by_now(struct wh_arena *arena, const struct wh_job *job, const struct wh_machine *machine)
{
    bool *gone = WH_NEW(arena, machine->thing_count, bool);
    for (size_t s = 0; s < job->steps.count; s++) {
        const struct wh_job_step *step = &job->steps.at[s];
        size_t thing = step->part && step->mark == WH_MARK_DONE ? wh_machine_thing(machine, step->part) : WH_NONE;
        if (thing == WH_NONE) continue;
        if (wh_same(step->is, "off")) gone[thing] = true;
        if (wh_same(step->is, "on")) gone[thing] = false;
    }
    return gone;
}

static void add_section(struct wh_arena *arena, struct wh_tree *map, const struct wh_job *job,
                        const struct wh_job_step *step, const struct wh_machine *machine)
{
    size_t part = step->part ? wh_machine_thing(machine, step->part) : WH_NONE;
    if (part == WH_NONE || machine->things[part].ring_count == 0) return;
    bool *gone = gone_by_now(arena, job, machine);
    gone[part] = false;
    struct wh_section_ask ask = {.part = part, .gone = gone};
    wh_view_add_scene(arena, map, "section", wh_view_section(arena, machine, &ask));
}

static enum wh_end end_of(const struct wh_tree *figure)
{
    const char *end = wh_tree_text(figure, "end", "");
    return wh_same(end, "least") ? WH_END_LEAST : wh_same(end, "most") ? WH_END_MOST : WH_END_BEST;
}

/* A time of up to an hour can be watched on the screen. */
static void add_seconds(struct wh_arena *arena, struct wh_tree *item, const struct wh_sheet *sheet, size_t cell,
                        enum wh_end end)
{
    static const struct wh_unit second = {1, 0, {{0, 0, 1}}, "s", 1};
    double seconds = end == WH_END_LEAST  ? sheet->least[cell]
                     : end == WH_END_MOST ? sheet->most[cell]
                                          : sheet->value[cell];
    const struct wh_form *form = &sheet->cells[cell].form;
    if (form->vocabulary || !wh_dimension_same(form->unit.dimension, second.dimension)) return;
    if (seconds >= 1 && seconds <= 3600)
        wh_tree_add_text(arena, item, "seconds", wh_arena_print(arena, "%.0f", floor(seconds)));
}

static void add_figures(struct wh_arena *arena, struct wh_tree *map, const struct wh_job_step *step,
                        const struct wh_sheet *sheet)
{
    const struct wh_tree *issued = wh_tree_get(step->issued, "figures");
    struct wh_tree *list = wh_tree_add_new(arena, map, "figures", WH_TREE_LIST);
    for (const struct wh_tree *f = issued ? issued->first : NULL; f; f = f->next) {
        size_t cell = wh_sheet_cell(sheet, wh_tree_text(f, "name", ""));
        if (cell == WH_NONE) continue;
        struct wh_shown shown = wh_view_shown(arena, sheet, cell, end_of(f));
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "name", sheet->cells[cell].name);
        wh_tree_add_text(arena, item, "title", sheet->cells[cell].title ? sheet->cells[cell].title : "");
        wh_tree_add_text(arena, item, "value", shown.value);
        wh_tree_add_text(arena, item, "span", shown.span);
        add_some(arena, item, "remark", shown.remark);
        add_seconds(arena, item, sheet, cell, end_of(f));
        wh_view_add_scene(arena, item, "drawn", wh_view_window(arena, sheet, cell));
        wh_tree_add(arena, item, "working", wh_view_working(arena, sheet, cell));
    }
}

static void add_check(struct wh_arena *arena, struct wh_tree *map, const struct wh_job *job,
                      const struct wh_job_step *step)
{
    const struct wh_job_check *check = step->check ? wh_job_check(job, step->check) : NULL;
    if (!check) return;
    const struct wh_job_reading *reading = wh_job_read(job, check->id);
    struct wh_tree *item = wh_tree_add_new(arena, map, "reading", WH_TREE_MAP);
    wh_tree_add_text(arena, item, "check", check->id);
    wh_tree_add_text(arena, item, "title", check->title);
    wh_tree_add_text(arena, item, "when", check->when);
    add_some(arena, item, "limits", check->limits);
    add_some(arena, item, "expects", check->expects);
    add_some(arena, item, "reads", check->reads);
    add_some(arena, item, "outside", check->outside);
    add_some(arena, item, "gauge", check->gauge);
    add_some(arena, item, "gauge title", check->gauge_title);
    add_some(arena, item, "wear limit", wh_tree_text(check->issued, "wear limit", NULL));
    add_some(arena, item, "expected", wh_tree_text(check->issued, "expected", NULL));
    wh_tree_add_truth(arena, item, "in numbers", check->has_limits);
    if (check->has_limits) {
        wh_tree_add_text(arena, item, "unit", wh_arena_slice(arena, check->unit.name, check->unit.length));
        wh_tree_add_text(arena, item, "many", check->readings > 1 ? wh_arena_print(arena, "%d", check->readings) : "");
    }
    wh_view_add_scene(arena, item, "drawn", wh_view_reading_drawn(arena, check, reading));
    if (!reading) return;
    wh_tree_add_text(arena, item, "value", reading->value);
    wh_tree_add_text(arena, item, "verdict", wh_verdict_words(reading->verdict));
    add_some(arena, item, "says", reading->says);
    add_some(arena, item, "settles", reading->settles);
}

/* The word on the wide button names the deed. */
static const char *deed_of(struct wh_arena *arena, const struct wh_job_step *step, const struct wh_machine *machine)
{
    static const struct {
        const char *is, *words;
    } deeds[] = {{"off", "The %s is off"},       {"on", "The %s is home"},     {"set", "The %s stands"},
                 {"take", "The %s is away"},     {"fill", "The %s is filled"}, {"wash", "The %s is washed"},
                 {"check", "The check is made"}, {"clean", "All is clean"},    {"isolate", "It is isolated again"},
                 {"whole", "Everything is back"}};
    size_t thing = step->part ? wh_machine_thing(machine, step->part) : WH_NONE;
    const char *title = thing == WH_NONE ? "part" : machine->things[thing].title;
    if (wh_starts(step->id, "warm ")) return wh_arena_print(arena, "The %s is warm", title);
    for (size_t i = 0; i < sizeof deeds / sizeof *deeds; i++) {
        if (!wh_same(deeds[i].is, step->is)) continue;
        struct wh_words around = wh_split(arena, deeds[i].words, '%');
        if (around.count < 2) return deeds[i].words;
        return wh_arena_print(arena, "%s %s%s", around.at[0], title, around.at[1] + 1);
    }
    return "It is done";
}

struct wh_tree *wh_view_bench_step(struct wh_arena *arena, const struct wh_job *job, const struct wh_job_step *step,
                                   const struct wh_sheet *sheet, const char *who)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "id", step->id);
    wh_tree_add_text(arena, map, "is", step->is);
    wh_tree_add_text(arena, map, "what", step->what);
    wh_tree_add_text(arena, map, "stage", step->stage);
    wh_tree_add_text(arena, map, "mark", wh_view_mark(step->mark));
    add_some(arena, map, "by", step->mark ? step->who : NULL);
    add_some(arena, map, "hold", step->hold);
    add_some(arena, map, "part", step->part);
    add_some(arena, map, "place", step->bench ? "bench" : wh_tree_text(step->issued, "place", NULL));
    add_some(arena, map, "turned", wh_tree_text(step->issued, "turned", NULL));
    add_some(arena, map, "waits", wh_tree_text(step->issued, "waits", NULL));
    add_some(arena, map, "crew", wh_tree_text(step->issued, "crew", NULL));
    const char *trade = wh_tree_text(step->issued, "by", NULL), *tool = wh_tree_text(step->issued, "tool", NULL);
    add_some(arena, map, "call", wh_tree_get(step->issued, "call") ? trade : NULL);
    add_some(arena, map, "trade", trade);
    add_some(arena, map, "tool", tool);
    if (trade || tool || wh_tree_get(step->issued, "needs")) wh_tree_add_truth(arena, map, "with", true);
    add_mind(arena, map, job, step, who);
    add_issued(arena, map, step, "lines");
    add_section(arena, map, job, step, sheet->machine);
    add_issued(arena, map, step, "needs");
    add_figures(arena, map, step, sheet);
    add_check(arena, map, job, step);
    const struct wh_job_check *check = step->check ? wh_job_check(job, step->check) : NULL;
    wh_tree_add_truth(arena, map, "ready", !check || check->unmeasured || wh_job_read(job, check->id));
    wh_tree_add_text(arena, map, "deed", deed_of(arena, step, sheet->machine));
    wh_view_units(arena, map);
    return map;
}
