#include "job/issue.h"

#include "base/text.h"

#include <math.h>

static const char *is_word(enum wh_task_is is)
{
    static const char *const words[] = {
        [WH_TASK_CHECK] = "check",     [WH_TASK_HOLD] = "hold",        [WH_TASK_OFF] = "off",
        [WH_TASK_WASH] = "wash",       [WH_TASK_CLEAN] = "clean",      [WH_TASK_ON] = "on",
        [WH_TASK_FIXTURE_ON] = "set",  [WH_TASK_FIXTURE_OFF] = "take", [WH_TASK_FILL] = "fill",
        [WH_TASK_ISOLATE] = "isolate", [WH_TASK_WHOLE] = "whole",
    };
    return words[is];
}

static void add_words(struct wh_arena *arena, struct wh_tree *map, const char *key, struct wh_words words)
{
    if (words.count == 0) return;
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (size_t i = 0; i < words.count; i++) wh_tree_add_text(arena, list, NULL, words.at[i]);
}

static void add_some(struct wh_arena *arena, struct wh_tree *map, const char *key, const char *text)
{
    if (text && *text) wh_tree_add_text(arena, map, key, text);
}

static void add_true(struct wh_arena *arena, struct wh_tree *map, const char *key, bool truth)
{
    if (truth) wh_tree_add_truth(arena, map, key, true);
}

/* The names of the figures, with the end that the step goes by. */
static void add_figures(struct wh_arena *arena, struct wh_tree *map, const struct wh_plan *plan,
                        const struct wh_step *step)
{
    struct wh_tree *list = NULL;
    for (size_t i = 0; i < step->figure_count; i++) {
        const struct wh_step_figure *f = &step->figures[i];
        if (f->cell == WH_NONE) continue;
        if (!list) list = wh_tree_add_new(arena, map, "figures", WH_TREE_LIST);
        struct wh_tree *figure = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, figure, "name", plan->sheet->cells[f->cell].name);
        if (f->end != WH_END_BEST) wh_tree_add_text(arena, figure, "end", f->end == WH_END_LEAST ? "least" : "most");
    }
}

static void add_cautions(struct wh_arena *arena, struct wh_tree *map, const struct wh_step *step)
{
    if (step->caution_count == 0) return;
    struct wh_tree *list = wh_tree_add_new(arena, map, "cautions", WH_TREE_LIST);
    for (size_t i = 0; i < step->caution_count; i++) {
        struct wh_tree *caution = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        add_some(arena, caution, "signal", step->cautions[i].signal);
        add_some(arena, caution, "sign", step->cautions[i].sign);
        add_some(arena, caution, "text", step->cautions[i].text);
    }
}

static void add_step(struct wh_arena *arena, struct wh_tree *steps, const struct wh_plan *plan,
                     const struct wh_step *step)
{
    const struct wh_machine *machine = plan->machine;
    const struct wh_task *task = step->task;
    struct wh_tree *map = wh_tree_add_new(arena, steps, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "id", task->id);
    wh_tree_add_text(arena, map, "is", is_word(task->is));
    wh_tree_add_text(arena, map, "stage", wh_stage_words(task->stage));
    wh_tree_add_text(arena, map, "what", step->what);
    if (task->thing != WH_NONE) wh_tree_add_text(arena, map, "part", machine->things[task->thing].id);
    if (task->is == WH_TASK_CHECK) wh_tree_add_text(arena, map, "check", machine->checks[task->check].id);
    if (task->is == WH_TASK_HOLD) wh_tree_add_text(arena, map, "hold", machine->holds[task->hold].id);
    wh_tree_add_number(arena, map, "minutes", round((step->end - step->start) / 6) / 10);
    add_true(arena, map, "power", task->is == WH_TASK_CHECK && machine->checks[task->check].power);
    add_true(arena, map, "bench", step->bench);
    if (step->way_up != WH_NONE) wh_tree_add_text(arena, map, "place", machine->ways_up[step->way_up].title);
    if (step->turned_to != WH_NONE) wh_tree_add_text(arena, map, "turned", machine->ways_up[step->turned_to].title);
    if (step->waited > 0) wh_tree_add_text(arena, map, "waits", step->wait_because ? step->wait_because : "waits");
    if (step->waited > 0) wh_tree_add_number(arena, map, "waited", round(step->waited / 6) / 10);
    if (step->crew > 1) wh_tree_add_number(arena, map, "crew", step->crew);
    if (step->fitter > 0) wh_tree_add_number(arena, map, "fitter", step->fitter + 1);
    add_some(arena, map, "by", step->by);
    add_true(arena, map, "call", step->call > 0);
    add_some(arena, map, "tool", step->tool);
    add_words(arena, map, "lines", step->lines);
    add_words(arena, map, "needs", step->needs);
    add_figures(arena, map, plan, step);
    add_cautions(arena, map, step);
}

/* Of a number with an open side there is none. */
static void add_limit(struct wh_arena *arena, struct wh_tree *map, const char *key, double limit)
{
    if (isfinite(limit)) wh_tree_add_number(arena, map, key, limit);
}

/* The parts that may not come off before the check is made. */
static void add_before(struct wh_arena *arena, struct wh_tree *map, const struct wh_machine *machine,
                       const struct wh_check *check)
{
    struct wh_tree *list = NULL;
    if (check->phase != WH_PHASE_STRIP && check->phase != WH_PHASE_RUNNING) return;
    for (size_t e = 0; e < check->before.count; e++) {
        if (check->before.at[e].is != WH_EVENT_OFF) continue;
        if (!list) list = wh_tree_add_new(arena, map, "before off", WH_TREE_LIST);
        wh_tree_add_text(arena, list, NULL, machine->things[check->before.at[e].index].id);
    }
}

static void add_check(struct wh_arena *arena, struct wh_tree *checks, const struct wh_machine *machine,
                      const struct wh_check *check)
{
    struct wh_tree *map = wh_tree_add_new(arena, checks, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "id", check->id);
    wh_tree_add_text(arena, map, "title", check->title);
    wh_tree_add_text(arena, map, "of", machine->things[check->of].id);
    wh_tree_add_text(arena, map, "when", check->phase <= WH_PHASE_WASHED ? "as found" : "as left");
    add_some(arena, map, "reads", check->reads);
    add_some(arena, map, "limits", check->limits);
    add_some(arena, map, "wear limit", check->wear_limit);
    add_some(arena, map, "expects", check->expects);
    add_some(arena, map, "expected", check->expected);
    add_some(arena, map, "outside", check->outside);
    add_some(arena, map, "sets", check->sets);
    add_some(arena, map, "judged by", check->judged_by);
    if (check->has_limits) {
        add_limit(arena, map, "least", check->least);
        add_limit(arena, map, "most", check->most);
        wh_tree_add_text(arena, map, "unit", wh_arena_slice(arena, check->unit.name, check->unit.length));
    }
    if (check->gauge != WH_NONE) wh_tree_add_text(arena, map, "gauge", machine->gauges[check->gauge].id);
    if (check->readings > 1) wh_tree_add_number(arena, map, "readings", check->readings);
    add_true(arena, map, "hold", check->hold);
    add_before(arena, map, machine, check);
}

static void add_checks(struct wh_arena *arena, struct wh_tree *map, const struct wh_plan *plan)
{
    struct wh_tree *checks = wh_tree_add_new(arena, map, "checks", WH_TREE_LIST);
    for (size_t s = 0; s < plan->step_count; s++)
        if (plan->steps[s].task->is == WH_TASK_CHECK)
            add_check(arena, checks, plan->machine, &plan->machine->checks[plan->steps[s].task->check]);
}

static void add_holds(struct wh_arena *arena, struct wh_tree *map, const struct wh_machine *machine)
{
    struct wh_tree *energies = wh_tree_add_new(arena, map, "energies", WH_TREE_LIST);
    for (size_t i = 0; i < machine->energy_count; i++) {
        struct wh_tree *energy = wh_tree_add_new(arena, energies, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, energy, "id", machine->energies[i].id);
        wh_tree_add_text(arena, energy, "title", machine->energies[i].title);
        add_some(arena, energy, "off", machine->energies[i].off);
        add_some(arena, energy, "tried", machine->energies[i].tried);
    }
    struct wh_tree *holds = wh_tree_add_new(arena, map, "holds", WH_TREE_LIST);
    for (size_t i = 0; i < machine->hold_count; i++) {
        struct wh_tree *hold = wh_tree_add_new(arena, holds, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, hold, "id", machine->holds[i].id);
        wh_tree_add_text(arena, hold, "title", machine->holds[i].title);
        add_some(arena, hold, "text", machine->holds[i].text);
        add_some(arena, hold, "tried", machine->holds[i].tried);
        add_true(arena, hold, "power", machine->holds[i].released);
        add_true(arena, hold, "lasts", machine->holds[i].lasts);
    }
}

static void add_gauges(struct wh_arena *arena, struct wh_tree *map, const struct wh_machine *machine)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "gauges", WH_TREE_LIST);
    for (size_t i = 0; i < machine->gauge_count; i++) {
        const struct wh_gauge *gauge = &machine->gauges[i];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "id", gauge->id);
        wh_tree_add_text(arena, item, "title", gauge->title);
        wh_tree_add_number(arena, item, "uncertainty", gauge->uncertainty.best);
        wh_tree_add_text(arena, item, "unit", wh_arena_slice(arena, gauge->unit.name, gauge->unit.length));
    }
}

static void add_kit(struct wh_arena *arena, struct wh_tree *map, const struct wh_plan *plan)
{
    struct wh_tree *kit = wh_tree_add_new(arena, map, "kit", WH_TREE_MAP),
                   *parts = wh_tree_add_new(arena, kit, "parts", WH_TREE_LIST);
    for (size_t i = 0; i < plan->kit.part_count; i++) {
        struct wh_tree *part = wh_tree_add_new(arena, parts, NULL, WH_TREE_MAP);
        if (plan->kit.parts[i].thing != WH_NONE)
            wh_tree_add_text(arena, part, "part", plan->machine->things[plan->kit.parts[i].thing].id);
        wh_tree_add_text(arena, part, "title", plan->kit.parts[i].title);
        add_some(arena, part, "designation", plan->kit.parts[i].detail);
        add_true(arena, part, "asked", plan->kit.parts[i].named);
    }
    add_words(arena, kit, "tools", plan->kit.tools);
    add_words(arena, kit, "gauges", plan->kit.gauges);
}

/* All that can be named, so that an entry about a part is checked against the machine as it was. */
static void add_parts(struct wh_arena *arena, struct wh_tree *map, const struct wh_machine *machine)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "parts", WH_TREE_LIST);
    for (size_t i = 0; i < machine->thing_count; i++) {
        struct wh_tree *part = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, part, "id", machine->things[i].id);
        wh_tree_add_text(arena, part, "title", machine->things[i].title);
    }
}

struct wh_tree *wh_job_issue(struct wh_arena *arena, const struct wh_plan *plan)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "machine", plan->machine->title);
    wh_tree_add_number(arena, map, "minutes", round(plan->total / 6) / 10);
    struct wh_tree *steps = wh_tree_add_new(arena, map, "steps", WH_TREE_LIST);
    for (size_t s = 0; s < plan->step_count; s++) add_step(arena, steps, plan, &plan->steps[s]);
    add_checks(arena, map, plan);
    add_holds(arena, map, plan->machine);
    add_gauges(arena, map, plan->machine);
    add_parts(arena, map, plan->machine);
    add_kit(arena, map, plan);
    add_words(arena, map, "notes", plan->notes);
    return map;
}
