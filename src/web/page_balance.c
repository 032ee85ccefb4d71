/* Trim balance: what was fitted and read, typed into a form; the verdict stands first. Nothing of it is kept. */
#include "sheet/balance_bind.h"
#include "view/balance.h"
#include "view/figure.h"
#include "view/machine.h"
#include "web/pages.h"

#include <math.h>

enum { RUNS = 12, SPARE = 2, LEAST_ROWS = 3 };

/* A place to type: its name in the form, the line of the sheet that it is, of the whole or of plane 1 or 2. */
static const struct {
    const char *name, *line;
    int plane;
    bool seldom;
    const char *title, *takes;
} places[] = {
    {"speed", "speed", 0, false, "Speed of all runs", "1915 rpm"},
    {"zero", "zero", 0, false, "Where angles begin", "the white mark, at hole 1"},
    {"radius", "radius", 1, false, "Radius of the masses", "250 mm"},
    {"holes", "holes", 1, false, "Holes, evenly round, the first at 0 deg",
     "12; nothing where a mass may sit anywhere"},
    {"masses", "masses", 1, false, "Masses at hand", "5 g; 10 g; 4 x 20 g; nothing for any mass"},
    {"repeats", "repeatability", 0, false, "How well an amplitude repeats", "5 %, or 0.2 mm/s"},
    {"phase-repeats", "phase repeatability", 0, false, "How well a phase repeats", "3 deg"},
    {"taken", "holes taken", 1, true, "Holes that hold something already", "3; 9"},
    {"most", "at most", 1, true, "Masses at most", "4 unless it is said"},
    {"radius-2", "radius", 2, true, "A second plane: its radius",
     "250 mm; a mass then says \"on plane-1\" or \"on plane-2\""},
    {"masses-2", "masses", 2, true, "Masses at hand there", "5 g; 10 g"},
    {"run-out", "run-out", 0, true, "Run-out, turned by hand", "0.02 mm"},
    {"run-out-limit", "run-out limit", 0, true, "Its limit", "0.03 mm"},
    {"natural", "natural frequencies", 0, true, "Natural frequencies, by a push or knock", "31 Hz; 55 Hz"},
};
enum { PLACES = sizeof places / sizeof *places };

static const struct {
    const char *name, *line, *title, *words;
} choices[] = {
    {"turns", "turns", "It turns, seen from the pulley end", "anticlockwise|clockwise"},
    {"angles", "angles", "Places on the rotor are counted", "against turning|with turning"},
    {"phases", "phases", "Phases", "lag|lead|none are read"},
    {"found", NULL, "What the test run found besides",
     "nothing|a bearing|a bent shaft|a resonance|looseness|misalignment|a rub"},
};
enum { CHOICES = sizeof choices / sizeof *choices };

static const char *typed(const struct wh_request *request, const char *name, const char *otherwise)
{
    return wh_form_text(&request->form, name, otherwise);
}

static const char *of_run(const struct wh_request *request, const char *name, size_t run)
{
    return typed(request, wh_arena_print(request->arena, "%s-%zu", name, run), "");
}

/* What the machine says of the part already stands in its place. */
static const char *known(const struct wh_request *request, const struct wh_sheet *figures, size_t thing,
                         const char *name)
{
    static const char *const values[][2] = {
        {"radius", "balance-radius"}, {"holes", "balance-holes"}, {"speed", "speed"}};
    for (size_t i = 0; i < 3; i++) {
        if (!wh_same(values[i][0], name)) continue;
        size_t cell = wh_balance_cell(figures, i < 2 ? thing : 0, values[i][1]);
        if (cell == WH_NONE || isnan(figures->value[cell])) continue;
        return wh_view_value(request->arena, &figures->cells[cell].form, figures->value[cell], figures->u[cell]);
    }
    return "";
}

/* Those that are seldom needed stand apart, folded. */
static void add_places(const struct wh_request *request, const struct wh_sheet *figures, size_t thing, bool seldom,
                       struct wh_tree *page)
{
    struct wh_tree *list = wh_tree_add_new(request->arena, page, seldom ? "seldom" : "places", WH_TREE_LIST);
    for (size_t i = 0; i < PLACES; i++) {
        if (places[i].seldom != seldom) continue;
        struct wh_tree *item = wh_tree_add_new(request->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(request->arena, item, "name", places[i].name);
        wh_tree_add_text(request->arena, item, "title", places[i].title);
        wh_tree_add_text(request->arena, item, "takes", places[i].takes);
        wh_tree_add_text(request->arena, item, "typed",
                         typed(request, places[i].name, known(request, figures, thing, places[i].name)));
    }
}

static void add_choices(const struct wh_request *request, struct wh_tree *page)
{
    struct wh_tree *list = wh_tree_add_new(request->arena, page, "choices", WH_TREE_LIST);
    for (size_t i = 0; i < CHOICES; i++) {
        struct wh_tree *item = wh_tree_add_new(request->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(request->arena, item, "name", choices[i].name);
        wh_tree_add_text(request->arena, item, "title", choices[i].title);
        struct wh_tree *options = wh_tree_add_new(request->arena, item, "options", WH_TREE_LIST);
        struct wh_words words = wh_split(request->arena, choices[i].words, '|');
        for (size_t w = 0; w < words.count; w++) {
            struct wh_tree *option = wh_tree_add_new(request->arena, options, NULL, WH_TREE_MAP);
            wh_tree_add_text(request->arena, option, "words", words.at[w]);
            wh_tree_add_truth(request->arena, option, "chosen",
                              wh_same(typed(request, choices[i].name, ""), words.at[w]));
        }
    }
}

/* As many rows as runs were typed, and two to go on. */
static void add_runs(const struct wh_request *request, struct wh_tree *page)
{
    struct wh_tree *list = wh_tree_add_new(request->arena, page, "runs", WH_TREE_LIST);
    size_t rows = 0;
    for (size_t r = 1; r <= RUNS; r++)
        if (*of_run(request, "reads", r)) rows = r;
    rows = rows + SPARE < LEAST_ROWS ? LEAST_ROWS : rows + SPARE > RUNS ? RUNS : rows + SPARE;
    for (size_t r = 1; r <= rows; r++) {
        struct wh_tree *item = wh_tree_add_new(request->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(request->arena, item, "number", wh_arena_print(request->arena, "%zu", r));
        wh_tree_add_truth(request->arena, item, "bare", r == 1);
        wh_tree_add_text(request->arena, item, "fitted", of_run(request, "fitted", r));
        wh_tree_add_text(request->arena, item, "fastened", of_run(request, "fastened", r));
        wh_tree_add_text(request->arena, item, "reads", of_run(request, "reads", r));
        wh_tree_add_truth(request->arena, item, "stays", *of_run(request, "stays", r) != 0);
    }
}

/* The sheet that the form is. */
static struct wh_tree *sheet_of(const struct wh_request *request, const char *part)
{
    struct wh_arena *arena = request->arena;
    struct wh_tree *tree = wh_balance_tree(arena), *plane[3] = {tree};
    wh_balance_line(arena, tree, "part", part);
    plane[1] = wh_balance_item(arena, tree, "planes", "plane-1");
    if (*typed(request, "radius-2", "")) plane[2] = wh_balance_item(arena, tree, "planes", "plane-2");
    for (size_t i = 0; i < PLACES; i++)
        if (plane[places[i].plane])
            wh_balance_line(arena, plane[places[i].plane], places[i].line, typed(request, places[i].name, ""));
    for (size_t i = 0; i < CHOICES; i++)
        if (choices[i].line && !wh_same(typed(request, choices[i].name, ""), "none are read"))
            wh_balance_line(arena, tree, choices[i].line, typed(request, choices[i].name, ""));
    for (size_t r = 1; r <= RUNS; r++) {
        if (!*of_run(request, "reads", r)) continue;
        struct wh_tree *run = wh_balance_item(arena, tree, "runs", wh_arena_print(arena, "%zu", r));
        wh_balance_line(arena, run, "fitted", of_run(request, "fitted", r));
        wh_balance_line(arena, run, "fastened", of_run(request, "fastened", r));
        wh_balance_line(arena, run, "reads", of_run(request, "reads", r));
        if (*of_run(request, "stays", r)) wh_balance_line(arena, run, "stays", "yes");
    }
    wh_balance_sensors(arena, tree);
    return tree;
}

/* Works the form; the answer, or what is wrong with it, goes into the page. */
static void work(const struct wh_request *request, const struct wh_shelf *shelf, const char *part, struct wh_tree *page,
                 struct wh_reply *reply)
{
    struct wh_errors errors = wh_errors_in(request->arena);
    struct wh_balance_sheet *sheet;
    const char *found = typed(request, "found", "nothing");
    if (wh_balance_bind(request->arena, sheet_of(request, part), shelf->sheet, &sheet, &errors) != WH_OK) {
        reply->code = 422;
        wh_tree_add_text(request->arena, page, "wrong", wh_errors_text(request->arena, &errors));
        return;
    }
    if (!wh_same(found, "nothing")) sheet->finding[sheet->findings++] = (struct wh_balance_finding){found, found, ""};
    struct wh_balance_result *result = WH_NEW(request->arena, 1, struct wh_balance_result);
    wh_balance_work(request->arena, sheet, result);
    struct wh_tree *answer = wh_view_balance(request->arena, sheet, result);
    wh_view_units(request->arena, answer);
    wh_tree_add(request->arena, page, "answer", answer);
}

/* A part whose kind or file forbids it: its reason instead of a form. */
static bool forbidden(const struct wh_request *request, const struct wh_shelf *shelf, size_t thing,
                      struct wh_tree *page)
{
    static const enum wh_balance_why whys[] = {[WH_BALANCE_NOT_ALLOWED] = WH_WHY_NOT_ALLOWED,
                                               [WH_BALANCE_MAKERS] = WH_WHY_MAKERS,
                                               [WH_BALANCE_MAKERS_SHAFT] = WH_WHY_MAKERS_SHAFT,
                                               [WH_BALANCE_NO_ROTOR] = WH_WHY_NO_ROTOR};
    enum wh_balance_allows allows = wh_balance_allowed(shelf->machine, thing);
    if (allows < WH_BALANCE_NOT_ALLOWED) return false;
    struct wh_balance_reason reason = {.why = whys[allows], .name = shelf->machine->things[thing].title};
    const char *right;
    wh_tree_add_text(request->arena, page, "forbidden", wh_view_balance_reason(request->arena, &reason, &right));
    wh_tree_add_text(request->arena, page, "right", right);
    return true;
}

void wh_page_balance(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const struct wh_shelf *shelf = wh_house_machine(house, request->held[0]);
    size_t thing = shelf ? wh_machine_thing(shelf->machine, request->held[1]) : WH_NONE;
    if (thing == WH_NONE) {
        wh_page_wrong(house, request, 404, "There is no such part of a machine here.", NULL, reply);
        return;
    }
    const struct wh_thing *part = &shelf->machine->things[thing];
    struct wh_tree *page = wh_page_new(house, request, wh_arena_print(request->arena, "Trim balance: %s", part->title));
    wh_tree_add_text(request->arena, page, "machine id", shelf->id);
    wh_tree_add_text(request->arena, page, "machine", shelf->machine->title);
    wh_tree_add_text(request->arena, page, "part id", part->id);
    if (!forbidden(request, shelf, thing, page)) {
        if (wh_same(request->method, "POST")) work(request, shelf, part->id, page, reply);
        add_choices(request, page);
        add_places(request, shelf->sheet, thing, false, page);
        add_places(request, shelf->sheet, thing, true, page);
        add_runs(request, page);
    }
    wh_page_fill(house, request, "balance", page, reply);
}
