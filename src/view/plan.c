#include "view/plan.h"

#include "view/figure.h"

#include <math.h>
#include <string.h>

const char *wh_view_minutes(struct wh_arena *arena, double seconds)
{
    long minutes = lround(seconds / 60);
    if (minutes < 60) return wh_arena_print(arena, "%ld min", minutes);
    return minutes % 60 ? wh_arena_print(arena, "%ld h %ld min", minutes / 60, minutes % 60)
                        : wh_arena_print(arena, "%ld h", minutes / 60);
}

static void add_texts(struct wh_arena *arena, struct wh_tree *map, const char *key, struct wh_words words)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (size_t i = 0; i < words.count; i++) wh_tree_add_text(arena, list, NULL, words.at[i]);
}

static void add_step_figures(struct wh_arena *arena, struct wh_tree *map, const struct wh_plan *plan,
                             const struct wh_step *step)
{
    const struct wh_sheet *sheet = plan->sheet;
    struct wh_tree *list = wh_tree_add_new(arena, map, "figures", WH_TREE_LIST);
    for (size_t i = 0; i < step->figure_count; i++) {
        const struct wh_step_figure *f = &step->figures[i];
        if (f->cell == WH_NONE) continue;
        const struct wh_cell *cell = &sheet->cells[f->cell];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "name", cell->name);
        wh_tree_add_text(arena, item, "title", cell->title ? cell->title : f->figure);
        struct wh_shown shown = wh_view_shown(arena, sheet, f->cell, f->end);
        wh_tree_add_text(arena, item, "value", shown.value);
        wh_tree_add_text(arena, item, "span", shown.span);
        if (shown.remark) wh_tree_add_text(arena, item, "remark", shown.remark);
    }
}

static void add_reading(struct wh_arena *arena, struct wh_tree *map, const struct wh_plan *plan,
                        const struct wh_check *check)
{
    struct wh_tree *item = wh_tree_add_new(arena, map, "reading", WH_TREE_MAP);
    wh_tree_add_text(arena, item, "id", check->id);
    wh_tree_add_text(arena, item, "limits", check->limits ? check->limits : check->expects ? check->expects : "");
    if (check->wear_limit) wh_tree_add_text(arena, item, "wear limit", check->wear_limit);
    if (check->expected) wh_tree_add_text(arena, item, "expected", check->expected);
    if (check->gauge == WH_NONE) return;
    const struct wh_gauge *gauge = &plan->machine->gauges[check->gauge];
    wh_tree_add_text(arena, item, "gauge", gauge->title);
    wh_tree_add_text(
        arena, item, "gauge uncertainty",
        wh_arena_print(arena, "± %s (k = 2)", wh_quantity_print(arena, gauge->uncertainty.best, &gauge->unit, 1)));
}

static void add_step(struct wh_arena *arena, struct wh_tree *list, const struct wh_plan *plan,
                     const struct wh_step *step)
{
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    const struct wh_machine *machine = plan->machine;
    wh_tree_add_number(arena, map, "number", (double)step->number);
    wh_tree_add_text(arena, map, "id", step->task->id);
    if (step->number <= plan->done_count) wh_tree_add_truth(arena, map, "done", true);
    wh_tree_add_text(arena, map, "stage", wh_stage_words(step->task->stage));
    wh_tree_add_text(arena, map, "what", step->what);
    if (step->task->thing != WH_NONE) wh_tree_add_text(arena, map, "part", machine->things[step->task->thing].id);
    if (step->turned_to != WH_NONE) wh_tree_add_text(arena, map, "turned", machine->ways_up[step->turned_to].title);
    if (step->call > 0) wh_tree_add_number(arena, map, "call minutes", step->call / 60);
    if (step->waited >= 30) {
        wh_tree_add_text(arena, map, "waits", step->wait_because ? step->wait_because : "waits");
        wh_tree_add_number(arena, map, "waited minutes", step->waited / 60);
    }
    wh_tree_add_number(arena, map, "minutes", (step->end - step->start) / 60);
    wh_tree_add_number(arena, map, "starts at", step->start / 60);
    wh_tree_add_text(arena, map, "place",
                     step->bench               ? "bench"
                     : step->way_up == WH_NONE ? ""
                                               : machine->ways_up[step->way_up].title);
    wh_tree_add_number(arena, map, "crew", step->crew);
    wh_tree_add_number(arena, map, "fitter", step->fitter + 1);
    if (step->together) wh_tree_add_truth(arena, map, "together", true);
    if (step->tool) wh_tree_add_text(arena, map, "tool", step->tool);
    if (step->by) wh_tree_add_text(arena, map, "by", step->by);
    add_texts(arena, map, "lines", step->lines);
    add_texts(arena, map, "needs", step->needs);
    add_step_figures(arena, map, plan, step);
    if (step->task->is == WH_TASK_CHECK) add_reading(arena, map, plan, &machine->checks[step->task->check]);
    struct wh_tree *cautions = wh_tree_add_new(arena, map, "cautions", WH_TREE_LIST);
    for (size_t i = 0; i < step->caution_count; i++) {
        struct wh_tree *caution = wh_tree_add_new(arena, cautions, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, caution, "signal", step->cautions[i].signal);
        wh_tree_add_text(arena, caution, "sign", step->cautions[i].sign);
        wh_tree_add_text(arena, caution, "text", step->cautions[i].text);
    }
}

const char *wh_view_work(struct wh_arena *arena, double total, double hands, int fitters)
{
    const char *whole = wh_view_minutes(arena, total), *steps = wh_view_minutes(arena, hands);
    if (fitters > 1) return wh_arena_print(arena, "%s for %d fitters, %s of steps between them", whole, fitters, steps);
    return wh_arena_print(arena, "%s of work, %s of it hands at the machine", whole, steps);
}

const char *wh_view_proof(struct wh_arena *arena, const struct wh_plan *plan)
{
    double gap = plan->total - plan->bound;
    if (plan->stopped && gap >= 30)
        return wh_arena_print(arena, "stopped by hand, the best found so far: no order can take less than %s",
                              wh_view_minutes(arena, plan->bound));
    if (gap < 30) return "proven: no order is quicker";
    if (gap <= WH_PLAN_KEEP)
        return wh_arena_print(arena, "proven to %s: no order saves the five minutes for which this one would be left",
                              wh_view_minutes(arena, gap));
    return wh_arena_print(arena, "not proven: no order can take less than %s", wh_view_minutes(arena, plan->bound));
}

const char *wh_view_other_way(struct wh_arena *arena, const struct wh_other_way *other)
{
    if (!isfinite(other->more)) return "is not open in this job";
    if (other->more < 60) return "would take about as long";
    const char *most = wh_view_minutes(arena, other->more);
    if (other->more - other->surely < 60) return wh_arena_print(arena, "would take %s more", most);
    if (other->surely < 60) return wh_arena_print(arena, "would take at most %s more", most);
    return wh_arena_print(arena, "would take %s to %s more", wh_view_minutes(arena, other->surely), most);
}

static void add_choices(struct wh_arena *arena, struct wh_tree *map, const struct wh_plan *plan)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "choices", WH_TREE_LIST);
    for (size_t i = 0; i < plan->other_count; i++) {
        const struct wh_other_way *other = &plan->others[i];
        const struct wh_thing *part = &plan->machine->things[other->thing];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "part", part->id);
        wh_tree_add_text(arena, item, "way", part->ways[other->way].title ? part->ways[other->way].title : "one way");
        const struct wh_way *way = &part->ways[1 - other->way];
        wh_tree_add_text(arena, item, "other way", way->title ? way->title : "the other way");
        wh_tree_add_text(arena, item, "other way costs", wh_view_other_way(arena, other));
        wh_tree_add_number(arena, item, "other way minutes more", other->more / 60);
        wh_tree_add_number(arena, item, "other way hands minutes more", other->hands / 60);
    }
}

static const char *kit_reason(const struct wh_plan *plan, size_t thing)
{
    return plan->asked[thing] ? "asked for" : plan->also[thing] ? "found on the way" : "renewed whenever disturbed";
}

static void add_kit(struct wh_arena *arena, struct wh_tree *map, const struct wh_plan *plan)
{
    const struct wh_kit *kit = &plan->kit;
    struct wh_tree *to = wh_tree_add_new(arena, map, "kit", WH_TREE_MAP),
                   *parts = wh_tree_add_new(arena, to, "parts", WH_TREE_LIST);
    for (size_t i = 0; i < kit->part_count; i++) {
        struct wh_tree *item = wh_tree_add_new(arena, parts, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "part", plan->machine->things[kit->parts[i].thing].id);
        wh_tree_add_text(arena, item, "title", kit->parts[i].title);
        wh_tree_add_text(arena, item, "designation", kit->parts[i].detail);
        wh_tree_add_text(arena, item, "because", kit_reason(plan, kit->parts[i].thing));
    }
    struct wh_tree *consumables = wh_tree_add_new(arena, to, "consumables", WH_TREE_LIST);
    for (size_t i = 0; i < kit->consumable_count; i++) {
        size_t c = kit->consumables[i].cell;
        const char *amount =
            c == WH_NONE ? NULL : wh_view_value(arena, &plan->sheet->cells[c].form, plan->sheet->value[c], 0);
        wh_tree_add_text(arena, consumables, NULL,
                         amount ? wh_arena_print(arena, "%s: buy %s", kit->consumables[i].text, amount)
                                : kit->consumables[i].text);
    }
    add_texts(arena, to, "tools", kit->tools);
    add_texts(arena, to, "gauges", kit->gauges);
    struct wh_tree *tags = wh_tree_add_new(arena, to, "bag tags", WH_TREE_LIST);
    for (size_t i = 0; i < kit->tag_count; i++)
        wh_tree_add_text(arena, tags, NULL, wh_arena_print(arena, "%s: %s", kit->tags[i].title, kit->tags[i].detail));
}

static void add_energies(struct wh_arena *arena, struct wh_tree *map, const struct wh_machine *machine)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "energies", WH_TREE_LIST);
    for (size_t i = 0; i < machine->energy_count; i++) {
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "energy", machine->energies[i].title);
        wh_tree_add_text(arena, item, "off", machine->energies[i].off);
        wh_tree_add_text(arena, item, "tried", machine->energies[i].tried);
    }
}

struct wh_tree *wh_view_plan(struct wh_arena *arena, const struct wh_plan *plan)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "machine", plan->machine->title);
    wh_tree_add_number(arena, map, "minutes", plan->total / 60);
    wh_tree_add_number(arena, map, "hands minutes", plan->hands / 60);
    wh_tree_add_number(arena, map, "fitters", plan->fitters);
    wh_tree_add_number(arena, map, "least possible minutes", plan->bound / 60);
    wh_tree_add_truth(arena, map, "proven", plan->proven);
    wh_tree_add_text(arena, map, "proof", wh_view_proof(arena, plan));
    if (plan->stopped) wh_tree_add_truth(arena, map, "stopped", true);
    wh_tree_add_truth(arena, map, "usual order kept", plan->natural);
    wh_tree_add_number(arena, map, "usual order minutes", plan->natural_total / 60);
    wh_tree_add_number(arena, map, "quickest order minutes", plan->least_total / 60);
    wh_tree_add_number(arena, map, "nodes", (double)plan->nodes);
    wh_tree_add_number(arena, map, "steps done", (double)plan->done_count);
    wh_tree_add_number(arena, map, "minutes left", (plan->total - plan->behind) / 60);
    add_texts(arena, map, "notes", plan->notes);
    add_choices(arena, map, plan);
    add_kit(arena, map, plan);
    add_energies(arena, map, plan->machine);
    struct wh_tree *steps = wh_tree_add_new(arena, map, "steps", WH_TREE_LIST);
    for (size_t i = 0; i < plan->step_count; i++) add_step(arena, steps, plan, &plan->steps[i]);
    return map;
}
