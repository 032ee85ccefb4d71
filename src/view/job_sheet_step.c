/* The steps of the job sheet. */
#include "view/job_sheet.h"

#include "view/figure.h"

#include <math.h>
#include <string.h>

/* A notice is printed in full once; a warning or caution wherever its step stands. */
static bool to_print(struct wh_sheet_writer *w, const struct wh_step_caution *caution)
{
    if (!wh_same(caution->signal, "notice")) return true;
    for (size_t i = 0; i < w->told.count; i++)
        if (wh_same(w->told.at[i], caution->text)) return false;
    *WH_PUSH(w->arena, &w->told) = caution->text;
    return true;
}

static void say_caution(struct wh_sheet_writer *w, struct wh_tree *map, const struct wh_step_caution *caution)
{
    wh_job_sheet_say(w, map, "signal", caution->signal);
    wh_job_sheet_say(w, map, "sign", caution->sign);
    wh_job_sheet_say(w, map, "text", caution->text);
}

static void add_cautions(struct wh_sheet_writer *w, struct wh_tree *map, const struct wh_step *step)
{
    struct wh_tree *list = wh_job_sheet_list(w, map, "cautions");
    for (size_t i = 0; i < step->caution_count; i++) {
        if (!to_print(w, &step->cautions[i])) continue;
        say_caution(w, wh_tree_add_new(w->arena, list, NULL, WH_TREE_MAP), &step->cautions[i]);
    }
}

static void add_figures(struct wh_sheet_writer *w, struct wh_tree *map, const struct wh_step *step)
{
    const struct wh_sheet *sheet = w->plan->sheet;
    struct wh_tree *list = wh_job_sheet_list(w, map, "figures");
    for (size_t i = 0; i < step->figure_count; i++) {
        size_t c = step->figures[i].cell;
        if (c == WH_NONE) continue;
        const struct wh_cell *cell = &sheet->cells[c];
        struct wh_shown shown = wh_view_shown(w->arena, sheet, c, step->figures[i].end);
        struct wh_tree *figure = wh_tree_add_new(w->arena, list, NULL, WH_TREE_MAP);
        wh_job_sheet_say(w, figure, "name", cell->title);
        wh_job_sheet_say(w, figure, "value", shown.value);
        wh_job_sheet_say(w, figure, "note",
                         wh_arena_print(w->arena, "%s%s%s", shown.span, *shown.span && shown.remark ? "; " : "",
                                        shown.remark ? shown.remark : ""));
    }
}

/* The limits without their unit at the end, which stands in a field of its own. */
static const char *bare_limits(struct wh_sheet_writer *w, const struct wh_check *check)
{
    size_t n = strlen(check->limits), unit = check->unit.length;
    bool ends = n > unit && unit > 0 && strncmp(check->limits + n - unit, check->unit.name, unit) == 0;
    while (ends && n - unit > 0 && check->limits[n - unit - 1] == ' ') n--;
    return ends ? wh_arena_slice(w->arena, check->limits, n - unit) : check->limits;
}

static const char *gauge_words(struct wh_sheet_writer *w, const struct wh_check *check)
{
    if (check->gauge == WH_NONE) return "";
    const struct wh_gauge *gauge = &w->plan->machine->gauges[check->gauge];
    return wh_arena_print(w->arena, "%s ± %s", gauge->title,
                          wh_quantity_print(w->arena, gauge->uncertainty.best, &gauge->unit, 1));
}

static void add_readings(struct wh_sheet_writer *w, struct wh_tree *map, const struct wh_check *check)
{
    struct wh_tree *list = wh_job_sheet_list(w, map, "readings");
    for (int i = 0; i < check->readings; i++) {
        struct wh_tree *reading = wh_tree_add_new(w->arena, list, NULL, WH_TREE_MAP);
        wh_job_sheet_say(w, reading, "title", check->readings > 1 ? wh_arena_print(w->arena, "%d", i + 1) : "read");
        wh_job_sheet_say(w, reading, "limits", check->has_limits ? bare_limits(w, check) : check->expects);
        if (check->has_limits)
            wh_job_sheet_say(w, reading, "unit", wh_arena_slice(w->arena, check->unit.name, check->unit.length));
        if (i > 0) continue;
        wh_job_sheet_say(w, reading, "gauge", gauge_words(w, check));
        struct wh_text note = {.arena = w->arena};
        if (check->wear_limit) wh_text_print(&note, "wear limit %s", check->wear_limit);
        if (check->expected) wh_text_print(&note, "%sexpected %s", note.count ? "; " : "", check->expected);
        wh_job_sheet_say(w, reading, "note", wh_text_of(&note));
    }
}

static const char *place_words(const struct wh_sheet_writer *w, const struct wh_step *step)
{
    if (step->bench) return "bench";
    return step->way_up == WH_NONE ? "" : w->plan->machine->ways_up[step->way_up].title;
}

static bool is_left_hand(const struct wh_sheet_writer *w, const struct wh_step *step)
{
    size_t t = step->task->thing;
    bool turned = step->task->is == WH_TASK_OFF || step->task->is == WH_TASK_ON;
    return turned && t != WH_NONE && wh_same(wh_thing_words(&w->plan->machine->things[t], "hand"), "left");
}

static void add_step(struct wh_sheet_writer *w, const struct wh_step *step)
{
    const struct wh_machine *machine = w->plan->machine;
    size_t t = step->task->thing;
    if (step->turned_to != WH_NONE) {
        const struct wh_way_up *way = &machine->ways_up[step->turned_to];
        struct wh_tree *turn = wh_job_sheet_block(w, "turn");
        wh_job_sheet_say(w, turn, "text", wh_arena_print(w->arena, "Turn the machine: %s", way->title));
        double minutes = fmax(way->minutes, machine->ways_up[0].minutes);
        for (size_t u = 0; u < machine->way_up_count; u++) minutes = fmax(minutes, machine->ways_up[u].minutes);
        wh_job_sheet_say(w, turn, "minutes", wh_view_minutes(w->arena, minutes));
    }
    if (step->waited >= 30) {
        struct wh_tree *wait = wh_job_sheet_block(w, "wait");
        wh_job_sheet_say(w, wait, "text", step->wait_because ? step->wait_because : "waiting");
        wh_job_sheet_say(w, wait, "minutes", wh_view_minutes(w->arena, step->waited));
    }
    if (step->call > 0) {
        struct wh_tree *call = wh_job_sheet_block(w, "wait");
        wh_job_sheet_say(w, call, "text", wh_arena_print(w->arena, "call the %s", step->by));
        wh_job_sheet_say(w, call, "minutes", wh_view_minutes(w->arena, step->call));
    }
    struct wh_tree *map = wh_job_sheet_block(w, "step");
    wh_job_sheet_say(w, map, "number", wh_arena_print(w->arena, "%zu", step->number));
    wh_job_sheet_say(w, map, "words", step->what);
    if (t != WH_NONE && w->item[t]) wh_job_sheet_say(w, map, "item", wh_arena_print(w->arena, "%zu", w->item[t]));
    wh_job_sheet_say(w, map, "minutes", wh_view_minutes(w->arena, step->end - step->start));
    const char *place = place_words(w, step);
    if (!wh_same(place, w->place)) wh_job_sheet_say(w, map, "way", place);
    w->place = place;
    if (step->crew > 1) wh_job_sheet_say(w, map, "crew", "two people, or one and a hoist");
    if (is_left_hand(w, step)) wh_job_sheet_say(w, map, "mark", "LH");
    struct wh_tree *with = wh_job_sheet_list(w, map, "with");
    struct wh_text text = {.arena = w->arena};
    if (step->by) wh_tree_add_text(w->arena, with, NULL, step->by);
    if (step->tool) wh_tree_add_text(w->arena, with, NULL, step->tool);
    for (size_t i = 0; i < step->needs.count; i++) wh_tree_add_text(w->arena, with, NULL, step->needs.at[i]);
    for (size_t i = 0; i < step->lines.count; i++) wh_text_print(&text, "%s%s", i ? " " : "", step->lines.at[i]);
    wh_job_sheet_say(w, map, "text", wh_text_of(&text));
    add_cautions(w, map, step);
    add_figures(w, map, step);
    if (step->task->is == WH_TASK_CHECK) {
        const struct wh_check *check = &machine->checks[step->task->check];
        add_readings(w, map, check);
        wh_tree_add_truth(w->arena, map, "hold", check->hold);
    }
}

static void add_hold(struct wh_sheet_writer *w, const struct wh_step *step)
{
    for (size_t i = 0; i < step->caution_count; i++)
        say_caution(w, wh_job_sheet_block(w, "caution"), &step->cautions[i]);
    struct wh_tree *map = wh_job_sheet_block(w, "hold");
    bool isolate = step->task->is == WH_TASK_ISOLATE;
    const struct wh_hold *hold = isolate ? NULL : &w->plan->machine->holds[step->task->hold];
    wh_job_sheet_say(w, map, "number", wh_arena_print(w->arena, "%zu", step->number));
    wh_job_sheet_say(w, map, "title", step->what);
    wh_job_sheet_say(w, map, "text", isolate ? step->lines.at[0] : hold->text);
    wh_job_sheet_say(w, map, "tried", isolate ? "every line of the table of energies, by each fitter" : hold->tried);
    bool lock = isolate || strstr(hold->id, "lock") || strstr(hold->id, "isolat");
    wh_job_sheet_say(w, map, "lines", lock ? "2" : "1"); /* each fitter has a lock of his own */
    if (lock) wh_job_sheet_say(w, map, "sign", "lock-out");
}

void wh_job_sheet_steps(struct wh_sheet_writer *w, enum wh_stage stage)
{
    for (size_t i = 0; i < w->plan->step_count; i++) {
        const struct wh_step *step = &w->plan->steps[i];
        if (step->task->stage != stage || step->number <= w->plan->done_count) continue;
        if (step->task->is == WH_TASK_HOLD || step->task->is == WH_TASK_ISOLATE) {
            add_hold(w, step);
        } else if (step->task->is == WH_TASK_CLEAN) {
            wh_job_sheet_text(w, "phase",
                              "Dirty work ends here: wipe the bench, change gloves; only then is a new part unwrapped");
        } else {
            add_step(w, step);
        }
    }
}
