/* The job sheet: a plan as a document for paper/. LOOK: before you start, what you need, taking down, building up,
 * running it; the section with item numbers in the order they come off; bag tags. */
#include "view/job_sheet.h"

#include "view/figure.h"
#include "view/machine.h"
#include "view/section.h"

#include <math.h>
#include <string.h>

struct wh_tree *wh_job_sheet_block(struct wh_sheet_writer *w, const char *is)
{
    struct wh_tree *map = wh_tree_add_new(w->arena, w->blocks, NULL, WH_TREE_MAP);
    wh_tree_add_text(w->arena, map, "is", is);
    return map;
}

struct wh_tree *wh_job_sheet_list(struct wh_sheet_writer *w, struct wh_tree *map, const char *key)
{
    return wh_tree_add_new(w->arena, map, key, WH_TREE_LIST);
}

void wh_job_sheet_say(struct wh_sheet_writer *w, struct wh_tree *map, const char *key, const char *text)
{
    if (text && *text) wh_tree_add_text(w->arena, map, key, wh_view_units_text(w->arena, text));
}

void wh_job_sheet_text(struct wh_sheet_writer *w, const char *is, const char *text)
{
    wh_job_sheet_say(w, wh_job_sheet_block(w, is), "text", text);
}

void wh_job_sheet_start(struct wh_sheet_writer *w, struct wh_tree *sheets, const char *heading)
{
    struct wh_tree *sheet = wh_tree_add_new(w->arena, sheets, NULL, WH_TREE_MAP);
    wh_tree_add_text(w->arena, sheet, "heading", heading);
    w->blocks = wh_job_sheet_list(w, sheet, "blocks");
}

static struct wh_tree *table(struct wh_sheet_writer *w, const char *const titles[], const char *const weights[],
                             size_t n)
{
    struct wh_tree *map = wh_job_sheet_block(w, "table"), *columns = wh_job_sheet_list(w, map, "columns");
    for (size_t i = 0; i < n; i++) {
        struct wh_tree *column = wh_tree_add_new(w->arena, columns, NULL, WH_TREE_MAP);
        wh_job_sheet_say(w, column, "title", titles[i]);
        wh_job_sheet_say(w, column, "weight", weights[i]);
    }
    return wh_job_sheet_list(w, map, "rows");
}

static void add_row(struct wh_sheet_writer *w, struct wh_tree *rows, const char *const cells[], size_t n)
{
    struct wh_tree *row = wh_tree_add_new(w->arena, rows, NULL, WH_TREE_LIST);
    for (size_t i = 0; i < n; i++) wh_tree_add_text(w->arena, row, NULL, wh_view_units_text(w->arena, cells[i]));
}

static void before_you_start(struct wh_sheet_writer *w, struct wh_tree *sheets)
{
    const struct wh_machine *machine = w->plan->machine;
    wh_job_sheet_start(w, sheets, "Before you start");
    wh_job_sheet_text(w, "text",
                      wh_arena_print(w->arena, "%s. The order is %s.",
                                     wh_view_work(w->arena, w->plan->total, w->plan->hands, w->plan->fitters),
                                     wh_view_proof(w->arena, w->plan)));
    if (w->plan->done_count > 0)
        wh_job_sheet_text(w, "text",
                          wh_arena_print(w->arena,
                                         "Planned anew in the middle of the job: steps 1 to %zu are done, %s of "
                                         "work is left.",
                                         w->plan->done_count,
                                         wh_view_minutes(w->arena, w->plan->total - w->plan->behind)));
    for (size_t i = 0; i < w->plan->notes.count; i++)
        wh_job_sheet_text(w, "note", wh_arena_print(w->arena, "Mind: %s.", w->plan->notes.at[i]));
    for (size_t i = 0; i < w->plan->other_count; i++) {
        const struct wh_other_way *other = &w->plan->others[i];
        const struct wh_thing *part = &machine->things[other->thing];
        wh_job_sheet_text(w, "text",
                          wh_arena_print(w->arena, "The %s leaves %s; %s %s.", part->title,
                                         part->ways[other->way].title, part->ways[1 - other->way].title,
                                         wh_view_other_way(w->arena, other)));
    }
    wh_job_sheet_text(
        w, "note",
        "The maker's manual, local rules and licensed practice (electrical work, pressure, repair of rotors) come "
        "before this sheet.");
    wh_job_sheet_steps(w, WH_STAGE_BEFORE);
    wh_job_sheet_text(w, "heading", "Energies: off, locked by each fitter, tried");
    static const char *const titles[] = {"Energy", "Off", "To be tried", "Locked by", "Tried by"};
    static const char *const weights[] = {"3", "4", "4", "2", "2"};
    struct wh_tree *rows = table(w, titles, weights, 5);
    for (size_t i = 0; i < machine->energy_count; i++) {
        const char *const cells[] = {machine->energies[i].title, machine->energies[i].off, machine->energies[i].tried,
                                     "", ""};
        add_row(w, rows, cells, 5);
    }
}

static void add_list(struct wh_sheet_writer *w, const char *heading, struct wh_words words)
{
    if (words.count == 0) return;
    wh_job_sheet_text(w, "heading", heading);
    struct wh_tree *items = wh_job_sheet_list(w, wh_job_sheet_block(w, "list"), "items");
    for (size_t i = 0; i < words.count; i++) wh_tree_add_text(w->arena, items, NULL, words.at[i]);
}

static void add_consumables(struct wh_sheet_writer *w)
{
    const struct wh_kit *kit = &w->plan->kit;
    wh_job_sheet_text(w, "heading", "Consumables");
    struct wh_tree *items = wh_job_sheet_list(w, wh_job_sheet_block(w, "list"), "items");
    for (size_t i = 0; i < kit->consumable_count; i++) {
        size_t c = kit->consumables[i].cell;
        struct wh_tree *item = wh_tree_add_new(w->arena, items, NULL, WH_TREE_MAP);
        wh_job_sheet_say(w, item, "text", kit->consumables[i].text);
        if (c != WH_NONE)
            wh_job_sheet_say(
                w, item, "amount",
                wh_arena_print(w->arena, "buy %s",
                               wh_view_value(w->arena, &w->plan->sheet->cells[c].form, w->plan->sheet->value[c], 0)));
    }
}

static void what_you_need(struct wh_sheet_writer *w, struct wh_tree *sheets)
{
    const struct wh_kit *kit = &w->plan->kit;
    wh_job_sheet_start(w, sheets, "What you need");
    wh_job_sheet_text(w, "text", "Nothing is stripped until this lies on the bench and the labels are read.");
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
static const char *clock_of(struct wh_sheet_writer *w, double seconds)
{
    long minutes = lround(seconds / 60);
    return wh_arena_print(w->arena, "%ld:%02ld", minutes / 60, minutes % 60);
}

/* As on a shift roster: a column for each fitter, time running down; a wait stands with its reason. */
static void roster(struct wh_sheet_writer *w, struct wh_tree *sheets)
{
    static const char *const titles[] = {"From", "Fitter 1", "Fitter 2", "Fitter 3", "Fitter 4"};
    static const char *const weights[] = {"1", "5", "5", "5", "5"};
    size_t columns = (size_t)fitters_of(w->plan) + 1;
    if (columns <= 2) return;
    wh_job_sheet_start(w, sheets, "Who does what");
    wh_job_sheet_text(
        w, "note", "Hours and minutes from the start of the work. A step that takes all hands stands with \"(all)\".");
    struct wh_tree *rows = table(w, titles, weights, columns);
    for (size_t i = 0; i < w->plan->step_count; i++) {
        const struct wh_step *step = &w->plan->steps[i];
        const char *cells[5] = {clock_of(w, step->start), "", "", "", ""};
        struct wh_text text = {.arena = w->arena};
        if (step->task->stage == WH_STAGE_LATER || step->number <= w->plan->done_count) continue;
        if (step->waited >= 30)
            wh_text_print(&text, "· · · %s, %s · · · ", step->wait_because ? step->wait_because : "waits for the other",
                          wh_view_minutes(w->arena, step->waited));
        wh_text_print(&text, "%zu %s%s", step->number, step->what, step->together ? " (all)" : "");
        cells[step->fitter + 1] = wh_text_of(&text);
        add_row(w, rows, cells, columns);
    }
}

static void section_drawing(struct wh_sheet_writer *w, struct wh_tree *sheets)
{
    const struct wh_machine *machine = w->plan->machine;
    struct wh_section_ask ask = {.part = WH_NONE, .number = w->item};
    wh_job_sheet_start(w, sheets, "Section");
    struct wh_tree *map = wh_job_sheet_block(w, "drawing"),
                   *scene = wh_tree_add_new(w->arena, map, "scene", WH_TREE_SCENE);
    scene->scene = wh_view_section(w->arena, machine, &ask);
    scene->text = scene->scene->title;
    wh_job_sheet_say(w, map, "caption", "Axial section; item numbers in the order in which the parts come off.");
    struct wh_tree *key = wh_job_sheet_list(w, map, "key");
    for (size_t n = 1; n <= machine->thing_count; n++)
        for (size_t t = 0; t < machine->thing_count; t++) {
            if (w->item[t] != n) continue;
            struct wh_tree *item = wh_tree_add_new(w->arena, key, NULL, WH_TREE_MAP);
            wh_job_sheet_say(w, item, "number", wh_arena_print(w->arena, "%zu", n));
            wh_job_sheet_say(w, item, "text", machine->things[t].title);
        }
}

static void bag_tags(struct wh_sheet_writer *w, struct wh_tree *sheets)
{
    if (w->plan->kit.tag_count == 0) return;
    wh_job_sheet_start(w, sheets, "Bag tags");
    wh_job_sheet_text(w, "text", "One bag, one ring of screws: like heads of other lengths are the commonest mistake.");
    struct wh_tree *items = wh_job_sheet_list(w, wh_job_sheet_block(w, "tags"), "items");
    for (size_t i = 0; i < w->plan->kit.tag_count; i++) {
        struct wh_tree *item = wh_tree_add_new(w->arena, items, NULL, WH_TREE_MAP);
        wh_job_sheet_say(w, item, "number", wh_arena_print(w->arena, "%zu", i + 1));
        wh_job_sheet_say(w, item, "title", w->plan->kit.tags[i].title);
        wh_job_sheet_say(w, item, "text", w->plan->kit.tags[i].detail);
    }
}

static void sign(struct wh_sheet_writer *w)
{
    static const char *const roles[][2] = {
        {"Fitter", "did the work as written and as noted"},
        {"Charge hand", "looked at the readings and at what was decided"},
        {"Customer", "received it, knows what stays open, until when and with what limit"}};
    struct wh_tree *lines = wh_job_sheet_list(w, wh_job_sheet_block(w, "signatures"), "lines");
    for (size_t i = 0; i < 3; i++) {
        struct wh_tree *line = wh_tree_add_new(w->arena, lines, NULL, WH_TREE_MAP);
        wh_job_sheet_say(w, line, "role", roles[i][0]);
        wh_job_sheet_say(w, line, "text", roles[i][1]);
    }
}

static void number_parts(struct wh_sheet_writer *w)
{
    size_t n = 0;
    w->item = WH_NEW(w->arena, w->plan->machine->thing_count, size_t);
    for (size_t i = 0; i < w->plan->step_count; i++) {
        const struct wh_task *task = w->plan->steps[i].task;
        if (task->is == WH_TASK_OFF && w->item[task->thing] == 0 &&
            w->plan->machine->things[task->thing].section == WH_SECTION_PARTS)
            w->item[task->thing] = ++n;
    }
}

static const char *job_words(struct wh_sheet_writer *w)
{
    struct wh_text text = {.arena = w->arena};
    for (size_t i = 0; i < w->plan->kit.part_count; i++)
        if (w->plan->kit.parts[i].named)
            wh_text_print(&text, "%s%s", text.count ? ", " : "renew ", w->plan->kit.parts[i].title);
    return wh_text_of(&text);
}

/* The steps of a stage under its own name, where any are to be done. */
static void stage(struct wh_sheet_writer *w, struct wh_tree *sheets, enum wh_stage stage, const char *title)
{
    bool any = false;
    for (size_t i = w->plan->done_count; i < w->plan->step_count; i++) any |= w->plan->steps[i].task->stage == stage;
    if (!any) return;
    wh_job_sheet_start(w, sheets, title);
    wh_job_sheet_steps(w, stage);
}

struct wh_tree *wh_view_job_sheet(struct wh_arena *arena, const struct wh_plan *plan,
                                  const struct wh_sheet_print *print)
{
    struct wh_sheet_writer w = {.arena = arena, .plan = plan};
    struct wh_tree *document = wh_tree_new(arena, WH_TREE_MAP);
    number_parts(&w);
    wh_job_sheet_say(&w, document, "paper", print->paper);
    wh_job_sheet_say(&w, document, "title", "Job sheet");
    wh_job_sheet_say(&w, document, "machine", plan->machine->title);
    wh_job_sheet_say(&w, document, "job", job_words(&w));
    wh_job_sheet_say(&w, document, "date", print->date);
    wh_job_sheet_say(&w, document, "maker", print->program);
    struct wh_tree *sheets = wh_job_sheet_list(&w, document, "sheets");
    before_you_start(&w, sheets);
    what_you_need(&w, sheets);
    roster(&w, sheets);
    stage(&w, sheets, WH_STAGE_DOWN, "Taking down");
    stage(&w, sheets, WH_STAGE_BENCH, "On the bench");
    stage(&w, sheets, WH_STAGE_UP, "Building up");
    wh_job_sheet_start(&w, sheets, "Running it");
    wh_job_sheet_steps(&w, WH_STAGE_RUN);
    wh_job_sheet_text(&w, "heading", "Come back");
    wh_job_sheet_steps(&w, WH_STAGE_LATER);
    sign(&w);
    section_drawing(&w, sheets);
    bag_tags(&w, sheets);
    return document;
}
