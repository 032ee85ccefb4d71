/* The job sheet: a plan as a document for paper/. LOOK: before you start, what you need, taking down, building up,
 * running it; the section with item numbers in the order they come off; bag tags. */
#include "view/figure.h"
#include "view/plan.h"
#include "view/section.h"

#include <math.h>
#include <string.h>

struct sheet_writer {
    struct wh_arena *arena;
    const struct wh_plan *plan;
    size_t *item; /* by thing: its number in the order of coming off */
    struct wh_tree *blocks;
    WH_LIST(const char *) told; /* notices already printed in full */
    const char *place;          /* where the last step was done: said again only when it changes */
};

static struct wh_tree *block(struct sheet_writer *w, const char *is)
{
    struct wh_tree *map = wh_tree_add_new(w->arena, w->blocks, NULL, WH_TREE_MAP);
    wh_tree_add_text(w->arena, map, "is", is);
    return map;
}

static struct wh_tree *list_in(struct sheet_writer *w, struct wh_tree *map, const char *key)
{
    return wh_tree_add_new(w->arena, map, key, WH_TREE_LIST);
}

static void say(struct sheet_writer *w, struct wh_tree *map, const char *key, const char *text)
{
    if (text && *text) wh_tree_add_text(w->arena, map, key, text);
}

static void text_block(struct sheet_writer *w, const char *is, const char *text)
{
    say(w, block(w, is), "text", text);
}

static void start_sheet(struct sheet_writer *w, struct wh_tree *sheets, const char *heading)
{
    struct wh_tree *sheet = wh_tree_add_new(w->arena, sheets, NULL, WH_TREE_MAP);
    wh_tree_add_text(w->arena, sheet, "heading", heading);
    w->blocks = list_in(w, sheet, "blocks");
}

/* A notice is printed in full once; a warning or caution wherever its step stands. */
static bool to_print(struct sheet_writer *w, const struct wh_step_caution *caution)
{
    if (!wh_same(caution->signal, "notice")) return true;
    for (size_t i = 0; i < w->told.count; i++)
        if (wh_same(w->told.at[i], caution->text)) return false;
    *WH_PUSH(w->arena, &w->told) = caution->text;
    return true;
}

static void add_cautions(struct sheet_writer *w, struct wh_tree *map, const struct wh_step *step)
{
    struct wh_tree *list = list_in(w, map, "cautions");
    for (size_t i = 0; i < step->caution_count; i++) {
        if (!to_print(w, &step->cautions[i])) continue;
        struct wh_tree *caution = wh_tree_add_new(w->arena, list, NULL, WH_TREE_MAP);
        say(w, caution, "signal", step->cautions[i].signal);
        say(w, caution, "sign", step->cautions[i].sign);
        say(w, caution, "text", step->cautions[i].text);
    }
}

static void add_figures(struct sheet_writer *w, struct wh_tree *map, const struct wh_step *step)
{
    const struct wh_sheet *sheet = w->plan->sheet;
    struct wh_tree *list = list_in(w, map, "figures");
    for (size_t i = 0; i < step->figure_count; i++) {
        size_t c = step->figures[i].cell;
        if (c == WH_NONE) continue;
        const struct wh_cell *cell = &sheet->cells[c];
        struct wh_shown shown = wh_view_shown(w->arena, sheet, c, step->figures[i].end);
        struct wh_tree *figure = wh_tree_add_new(w->arena, list, NULL, WH_TREE_MAP);
        say(w, figure, "name", cell->title);
        say(w, figure, "value", shown.value);
        say(w, figure, "note",
            wh_arena_print(w->arena, "%s%s%s", shown.span, *shown.span && shown.remark ? "; " : "",
                           shown.remark ? shown.remark : ""));
    }
}

/* The limits without their unit at the end, which stands in a field of its own. */
static const char *bare_limits(struct sheet_writer *w, const struct wh_check *check)
{
    size_t n = strlen(check->limits), unit = check->unit.length;
    bool ends = n > unit && unit > 0 && strncmp(check->limits + n - unit, check->unit.name, unit) == 0;
    while (ends && n - unit > 0 && check->limits[n - unit - 1] == ' ') n--;
    return ends ? wh_arena_slice(w->arena, check->limits, n - unit) : check->limits;
}

static const char *gauge_words(struct sheet_writer *w, const struct wh_check *check)
{
    if (check->gauge == WH_NONE) return "";
    const struct wh_gauge *gauge = &w->plan->machine->gauges[check->gauge];
    return wh_arena_print(w->arena, "%s ± %s", gauge->title,
                          wh_quantity_print(w->arena, gauge->uncertainty.best, &gauge->unit, 1));
}

static void add_readings(struct sheet_writer *w, struct wh_tree *map, const struct wh_check *check)
{
    struct wh_tree *list = list_in(w, map, "readings");
    for (int i = 0; i < check->readings; i++) {
        struct wh_tree *reading = wh_tree_add_new(w->arena, list, NULL, WH_TREE_MAP);
        say(w, reading, "title", check->readings > 1 ? wh_arena_print(w->arena, "%d", i + 1) : "read");
        say(w, reading, "limits", check->has_limits ? bare_limits(w, check) : check->expects);
        if (check->has_limits) say(w, reading, "unit", wh_arena_slice(w->arena, check->unit.name, check->unit.length));
        if (i > 0) continue;
        say(w, reading, "gauge", gauge_words(w, check));
        struct wh_text note = {.arena = w->arena};
        if (check->wear_limit) wh_text_print(&note, "wear limit %s", check->wear_limit);
        if (check->expected) wh_text_print(&note, "%sexpected %s", note.count ? "; " : "", check->expected);
        say(w, reading, "note", wh_text_of(&note));
    }
}

static const char *place_words(const struct sheet_writer *w, const struct wh_step *step)
{
    if (step->bench) return "bench";
    return step->way_up == WH_NONE ? "" : w->plan->machine->ways_up[step->way_up].title;
}

static bool is_left_hand(const struct sheet_writer *w, const struct wh_step *step)
{
    size_t t = step->task->thing;
    bool turned = step->task->is == WH_TASK_OFF || step->task->is == WH_TASK_ON;
    return turned && t != WH_NONE && wh_same(wh_thing_words(&w->plan->machine->things[t], "hand"), "left");
}

static void add_step(struct sheet_writer *w, const struct wh_step *step)
{
    const struct wh_machine *machine = w->plan->machine;
    size_t t = step->task->thing;
    if (step->turned_to != WH_NONE) {
        const struct wh_way_up *way = &machine->ways_up[step->turned_to];
        struct wh_tree *turn = block(w, "turn");
        say(w, turn, "text", wh_arena_print(w->arena, "Turn the machine: %s", way->title));
        double minutes = fmax(way->minutes, machine->ways_up[0].minutes);
        for (size_t u = 0; u < machine->way_up_count; u++) minutes = fmax(minutes, machine->ways_up[u].minutes);
        say(w, turn, "minutes", wh_view_minutes(w->arena, minutes));
    }
    if (step->waited > 0) {
        struct wh_tree *wait = block(w, "wait");
        say(w, wait, "text", step->wait_because ? step->wait_because : "waiting");
        say(w, wait, "minutes", wh_view_minutes(w->arena, step->waited));
    }
    struct wh_tree *map = block(w, "step");
    say(w, map, "number", wh_arena_print(w->arena, "%zu", step->number));
    say(w, map, "words", step->what);
    if (t != WH_NONE && w->item[t]) say(w, map, "item", wh_arena_print(w->arena, "%zu", w->item[t]));
    say(w, map, "minutes", wh_view_minutes(w->arena, step->end - step->start));
    const char *place = place_words(w, step);
    if (!wh_same(place, w->place)) say(w, map, "way", place);
    w->place = place;
    if (step->crew > 1) say(w, map, "crew", "two people, or one and a hoist");
    if (is_left_hand(w, step)) say(w, map, "mark", "LH");
    struct wh_tree *with = list_in(w, map, "with");
    struct wh_text text = {.arena = w->arena};
    if (step->tool) wh_tree_add_text(w->arena, with, NULL, step->tool);
    for (size_t i = 0; i < step->needs.count; i++) wh_tree_add_text(w->arena, with, NULL, step->needs.at[i]);
    for (size_t i = 0; i < step->lines.count; i++) wh_text_print(&text, "%s%s", i ? " " : "", step->lines.at[i]);
    say(w, map, "text", wh_text_of(&text));
    add_cautions(w, map, step);
    add_figures(w, map, step);
    if (step->task->is == WH_TASK_CHECK) {
        const struct wh_check *check = &machine->checks[step->task->check];
        add_readings(w, map, check);
        wh_tree_add_truth(w->arena, map, "hold", check->hold);
    }
}

static void add_hold(struct sheet_writer *w, const struct wh_step *step)
{
    struct wh_tree *map = block(w, "hold");
    bool isolate = step->task->is == WH_TASK_ISOLATE;
    const struct wh_hold *hold = isolate ? NULL : &w->plan->machine->holds[step->task->hold];
    say(w, map, "number", wh_arena_print(w->arena, "%zu", step->number));
    say(w, map, "title", step->what);
    say(w, map, "text", isolate ? step->lines.at[0] : hold->text);
    say(w, map, "tried", isolate ? "every line of the table of energies, by each fitter" : hold->tried);
    bool lock = isolate || strstr(hold->id, "lock") || strstr(hold->id, "isolat");
    say(w, map, "lines", lock ? "2" : "1"); /* each fitter has a lock of his own */
    if (lock) say(w, map, "sign", "lock-out");
}

static void add_steps(struct sheet_writer *w, enum wh_stage stage)
{
    for (size_t i = 0; i < w->plan->step_count; i++) {
        const struct wh_step *step = &w->plan->steps[i];
        if (step->task->stage != stage) continue;
        if (step->task->is == WH_TASK_HOLD || step->task->is == WH_TASK_ISOLATE) {
            add_hold(w, step);
        } else if (step->task->is == WH_TASK_CLEAN) {
            text_block(w, "phase",
                       "Dirty work ends here: wipe the bench, change gloves; only then is a new part unwrapped");
        } else {
            add_step(w, step);
        }
    }
}

static struct wh_tree *table(struct sheet_writer *w, const char *const titles[], const char *const weights[], size_t n)
{
    struct wh_tree *map = block(w, "table"), *columns = list_in(w, map, "columns");
    for (size_t i = 0; i < n; i++) {
        struct wh_tree *column = wh_tree_add_new(w->arena, columns, NULL, WH_TREE_MAP);
        say(w, column, "title", titles[i]);
        say(w, column, "weight", weights[i]);
    }
    return list_in(w, map, "rows");
}

static void add_row(struct sheet_writer *w, struct wh_tree *rows, const char *const cells[], size_t n)
{
    struct wh_tree *row = wh_tree_add_new(w->arena, rows, NULL, WH_TREE_LIST);
    for (size_t i = 0; i < n; i++) wh_tree_add_text(w->arena, row, NULL, cells[i]);
}

static void before_you_start(struct sheet_writer *w, struct wh_tree *sheets)
{
    const struct wh_machine *machine = w->plan->machine;
    start_sheet(w, sheets, "Before you start");
    text_block(w, "text",
               wh_arena_print(w->arena, "%s of work for one fitter, %s of it hands at the machine. %s",
                              wh_view_minutes(w->arena, w->plan->total), wh_view_minutes(w->arena, w->plan->hands),
                              w->plan->proven ? "The order is proven: no other saves five minutes."
                                              : "The order is the best found, not proven."));
    for (size_t i = 0; i < w->plan->other_count; i++) {
        const struct wh_other_way *other = &w->plan->others[i];
        const struct wh_thing *part = &machine->things[other->thing];
        const char *cost = !isfinite(other->more) ? "cannot be gone here"
                           : other->more < 60
                               ? "would take about as long"
                               : wh_arena_print(w->arena, "would take %s more", wh_view_minutes(w->arena, other->more));
        text_block(w, "text",
                   wh_arena_print(w->arena, "The %s leaves %s; %s %s.", part->title, part->ways[other->way].title,
                                  part->ways[1 - other->way].title, cost));
    }
    text_block(
        w, "note",
        "The maker's manual, local rules and licensed practice (electrical work, pressure, repair of rotors) come "
        "before this sheet.");
    add_steps(w, WH_STAGE_BEFORE);
    text_block(w, "heading", "Energies: off, locked by each fitter, tried");
    static const char *const titles[] = {"Energy", "Off", "To be tried", "Locked by", "Tried by"};
    static const char *const weights[] = {"3", "4", "4", "2", "2"};
    struct wh_tree *rows = table(w, titles, weights, 5);
    for (size_t i = 0; i < machine->energy_count; i++) {
        const char *const cells[] = {machine->energies[i].title, machine->energies[i].off, machine->energies[i].tried,
                                     "", ""};
        add_row(w, rows, cells, 5);
    }
}

static void add_list(struct sheet_writer *w, const char *heading, struct wh_words words)
{
    if (words.count == 0) return;
    text_block(w, "heading", heading);
    struct wh_tree *items = list_in(w, block(w, "list"), "items");
    for (size_t i = 0; i < words.count; i++) wh_tree_add_text(w->arena, items, NULL, words.at[i]);
}

static void add_consumables(struct sheet_writer *w)
{
    const struct wh_kit *kit = &w->plan->kit;
    text_block(w, "heading", "Consumables");
    struct wh_tree *items = list_in(w, block(w, "list"), "items");
    for (size_t i = 0; i < kit->consumable_count; i++) {
        size_t c = kit->consumables[i].cell;
        struct wh_tree *item = wh_tree_add_new(w->arena, items, NULL, WH_TREE_MAP);
        say(w, item, "text", kit->consumables[i].text);
        if (c != WH_NONE)
            say(w, item, "amount",
                wh_arena_print(w->arena, "buy %s",
                               wh_view_value(w->arena, &w->plan->sheet->cells[c].form, w->plan->sheet->value[c], 0)));
    }
}

static void what_you_need(struct sheet_writer *w, struct wh_tree *sheets)
{
    const struct wh_kit *kit = &w->plan->kit;
    start_sheet(w, sheets, "What you need");
    text_block(w, "text", "Nothing is stripped until this lies on the bench and the labels are read.");
    static const char *const titles[] = {"Renew", "Designation", "Why", "Batch or serial"};
    static const char *const weights[] = {"4", "5", "4", "3"};
    struct wh_tree *rows = table(w, titles, weights, 4);
    for (size_t i = 0; i < kit->part_count; i++) {
        const char *const cells[] = {kit->parts[i].title, kit->parts[i].detail,
                                     kit->parts[i].named ? "asked for" : "whenever disturbed", ""};
        add_row(w, rows, cells, 4);
    }
    add_consumables(w);
    add_list(w, "Tools", kit->tools);
    add_list(w, "Gauges, in calibration", kit->gauges);
}

static int fitters_of(const struct wh_plan *plan)
{
    int most = 0;
    for (size_t i = 0; i < plan->step_count; i++) most = plan->steps[i].fitter > most ? plan->steps[i].fitter : most;
    return most + 1;
}

/* "1:05": hours and minutes from the start of the work. */
static const char *clock_of(struct sheet_writer *w, double seconds)
{
    long minutes = lround(seconds / 60);
    return wh_arena_print(w->arena, "%ld:%02ld", minutes / 60, minutes % 60);
}

/* As on a shift roster: a column for each fitter, time running down; a wait stands with its reason. */
static void roster(struct sheet_writer *w, struct wh_tree *sheets)
{
    static const char *const titles[] = {"From", "Fitter 1", "Fitter 2", "Fitter 3", "Fitter 4"};
    static const char *const weights[] = {"1", "5", "5", "5", "5"};
    size_t columns = (size_t)fitters_of(w->plan) + 1;
    if (columns <= 2) return;
    start_sheet(w, sheets, "Who does what");
    text_block(
        w, "note",
        "Hours and minutes from the start of the work. A step that takes two people takes the other fitter too.");
    struct wh_tree *rows = table(w, titles, weights, columns);
    for (size_t i = 0; i < w->plan->step_count; i++) {
        const struct wh_step *step = &w->plan->steps[i];
        const char *cells[5] = {clock_of(w, step->start), "", "", "", ""};
        struct wh_text text = {.arena = w->arena};
        if (step->task->stage == WH_STAGE_LATER) continue;
        if (step->waited > 0)
            wh_text_print(&text, "· · · %s, %s · · · ", step->wait_because ? step->wait_because : "waits for the other",
                          wh_view_minutes(w->arena, step->waited));
        wh_text_print(&text, "%zu %s%s", step->number, step->what, step->crew > 1 ? " (both)" : "");
        cells[step->fitter + 1] = wh_text_of(&text);
        add_row(w, rows, cells, columns);
    }
}

static void section_drawing(struct sheet_writer *w, struct wh_tree *sheets)
{
    const struct wh_machine *machine = w->plan->machine;
    struct wh_section_ask ask = {.part = WH_NONE, .number = w->item};
    start_sheet(w, sheets, "Section");
    struct wh_tree *map = block(w, "drawing"), *scene = wh_tree_add_new(w->arena, map, "scene", WH_TREE_SCENE);
    scene->scene = wh_view_section(w->arena, machine, &ask);
    scene->text = scene->scene->title;
    say(w, map, "caption", "Axial section; item numbers in the order in which the parts come off.");
    struct wh_tree *key = list_in(w, map, "key");
    for (size_t n = 1; n <= machine->thing_count; n++)
        for (size_t t = 0; t < machine->thing_count; t++) {
            if (w->item[t] != n) continue;
            struct wh_tree *item = wh_tree_add_new(w->arena, key, NULL, WH_TREE_MAP);
            say(w, item, "number", wh_arena_print(w->arena, "%zu", n));
            say(w, item, "text", machine->things[t].title);
        }
}

static void bag_tags(struct sheet_writer *w, struct wh_tree *sheets)
{
    if (w->plan->kit.tag_count == 0) return;
    start_sheet(w, sheets, "Bag tags");
    text_block(w, "text", "One bag, one ring of screws: like heads of other lengths are the commonest mistake.");
    struct wh_tree *items = list_in(w, block(w, "tags"), "items");
    for (size_t i = 0; i < w->plan->kit.tag_count; i++) {
        struct wh_tree *item = wh_tree_add_new(w->arena, items, NULL, WH_TREE_MAP);
        say(w, item, "number", wh_arena_print(w->arena, "%zu", i + 1));
        say(w, item, "title", w->plan->kit.tags[i].title);
        say(w, item, "text", w->plan->kit.tags[i].detail);
    }
}

static void sign(struct sheet_writer *w)
{
    static const char *const roles[][2] = {
        {"Fitter", "did the work as written and as noted"},
        {"Charge hand", "looked at the readings and at what was decided"},
        {"Customer", "received it, knows what stays open, until when and with what limit"}};
    struct wh_tree *lines = list_in(w, block(w, "signatures"), "lines");
    for (size_t i = 0; i < 3; i++) {
        struct wh_tree *line = wh_tree_add_new(w->arena, lines, NULL, WH_TREE_MAP);
        say(w, line, "role", roles[i][0]);
        say(w, line, "text", roles[i][1]);
    }
}

static void number_parts(struct sheet_writer *w)
{
    size_t n = 0;
    w->item = WH_NEW(w->arena, w->plan->machine->thing_count, size_t);
    for (size_t i = 0; i < w->plan->step_count; i++) {
        const struct wh_task *task = w->plan->steps[i].task;
        if (task->is == WH_TASK_OFF && w->plan->machine->things[task->thing].section == WH_SECTION_PARTS)
            w->item[task->thing] = ++n;
    }
}

static const char *job_words(struct sheet_writer *w)
{
    struct wh_text text = {.arena = w->arena};
    for (size_t i = 0; i < w->plan->kit.part_count; i++)
        if (w->plan->kit.parts[i].named)
            wh_text_print(&text, "%s%s", text.count ? ", " : "renew ", w->plan->kit.parts[i].title);
    return wh_text_of(&text);
}

struct wh_tree *wh_view_job_sheet(struct wh_arena *arena, const struct wh_plan *plan,
                                  const struct wh_sheet_print *print)
{
    struct sheet_writer w = {.arena = arena, .plan = plan};
    struct wh_tree *document = wh_tree_new(arena, WH_TREE_MAP);
    number_parts(&w);
    say(&w, document, "paper", print->paper);
    say(&w, document, "title", "Job sheet");
    say(&w, document, "machine", plan->machine->title);
    say(&w, document, "job", job_words(&w));
    say(&w, document, "date", print->date);
    say(&w, document, "maker", print->program);
    struct wh_tree *sheets = list_in(&w, document, "sheets");
    before_you_start(&w, sheets);
    what_you_need(&w, sheets);
    roster(&w, sheets);
    start_sheet(&w, sheets, "Taking down");
    add_steps(&w, WH_STAGE_DOWN);
    text_block(&w, "heading", "On the bench");
    add_steps(&w, WH_STAGE_BENCH);
    text_block(&w, "heading", "Building up");
    add_steps(&w, WH_STAGE_UP);
    text_block(&w, "heading", "Running it");
    add_steps(&w, WH_STAGE_RUN);
    text_block(&w, "heading", "Come back");
    add_steps(&w, WH_STAGE_LATER);
    sign(&w);
    section_drawing(&w, sheets);
    bag_tags(&w, sheets);
    return document;
}
