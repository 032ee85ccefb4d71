/* wharve figures: the figures of a machine, with their working; what a changed value changes. */
#include "cli/cli.h"
#include "view/figure.h"

static enum wh_status wanted_thing(struct wh_cli *cli, const struct wh_machine *machine, size_t *ret)
{
    const char *id = wh_cli_option(cli, "of");
    size_t count;
    *ret = id ? wh_machine_thing(machine, id) : WH_NONE;
    if (!id || *ret != WH_NONE) return WH_OK;
    const char **ids = wh_machine_ids(cli->arena, machine, &count);
    const char *nearest = wh_nearest(id, ids, count);
    return wh_cli_error(cli, nearest ? wh_arena_print(cli->arena, "did you mean \"%s\"?", nearest) : NULL,
                        "there is no part \"%s\" in %s", id, machine->path);
}

/* "neck-bearing.clearance-left": the cell; an error says why it is not worked out, or what is near. */
static enum wh_status named_cell(struct wh_cli *cli, const struct wh_sheet *sheet, const char *name, size_t *ret)
{
    const char **names = WH_NEW(cli->arena, sheet->cell_count + 1, const char *);
    *ret = wh_sheet_cell(sheet, name);
    if (*ret != WH_NONE) return WH_OK;
    for (size_t m = 0; m < sheet->missing_count; m++) {
        const struct wh_missing *missing = &sheet->missing[m];
        const char *id = sheet->machine->things[missing->thing].id;
        if (wh_same(wh_arena_print(cli->arena, "%s.%s", id, missing->figure), name))
            return wh_cli_error(cli, NULL, "%s is not worked out: %s", name, missing->why);
    }
    for (size_t c = 0; c < sheet->cell_count; c++) names[c] = sheet->cells[c].name;
    const char *nearest = wh_nearest(name, names, sheet->cell_count);
    return wh_cli_error(cli, nearest ? wh_arena_print(cli->arena, "did you mean \"%s\"?", nearest) : NULL,
                        "there is no figure \"%s\" in %s", name, sheet->machine->path);
}

struct choice {
    size_t *cells, count, thing;
    bool named;
};

/* The figures named on the line; else all of the wanted thing, or of all, thing by thing; by trials the worked out. */
static enum wh_status choose(struct wh_cli *cli, const struct wh_sheet *sheet, struct wh_words named,
                             struct choice *choice)
{
    choice->cells = WH_NEW(cli->arena, sheet->cell_count + named.count + 1, size_t);
    choice->named = named.count > 0;
    bool worked_out = wh_cli_option(cli, "trials") != NULL;
    for (size_t i = 0; i < named.count; i++) {
        enum wh_status status = named_cell(cli, sheet, named.at[i], &choice->cells[choice->count++]);
        if (status != WH_OK) return status;
    }
    for (size_t t = 0; t < sheet->machine->thing_count && !choice->named; t++)
        for (size_t c = 0; c < sheet->cell_count && (choice->thing == WH_NONE || choice->thing == t); c++)
            if (sheet->cells[c].thing == t && !(worked_out && sheet->cells[c].use == WH_NONE))
                choice->cells[choice->count++] = c;
    return WH_OK;
}

/* A value as it is shown, with its limits where only they tell two apart. */
static const char *shown_with(struct wh_cli *cli, const struct wh_sheet *sheet, size_t cell, bool limits)
{
    struct wh_shown shown = wh_view_shown(cli->arena, sheet, cell, WH_END_BEST);
    return limits ? wh_arena_print(cli->arena, "%s (%s)", shown.value, *shown.span ? shown.span : "exact")
                  : shown.value;
}

/* Which figures the settings changed, with the value before and after. */
static enum wh_status print_changed(struct wh_cli *cli, const struct wh_machine *machine, const struct wh_sheet *after)
{
    struct wh_sheet *before;
    enum wh_status status = wh_sheet_make(cli->arena, machine, NULL, 0, &before, &cli->errors);
    if (status != WH_OK) return status;
    struct wh_words changed = wh_sheet_changed(cli->arena, before, after);
    size_t told = 0;
    for (size_t i = 0; i < changed.count; i++) {
        size_t c = wh_sheet_cell(before, changed.at[i]);
        const char *was = c == WH_NONE ? "-" : shown_with(cli, before, c, false);
        const char *now = shown_with(cli, after, wh_sheet_cell(after, changed.at[i]), false);
        if (wh_same(was, now) && c != WH_NONE) { /* only its limits moved */
            was = shown_with(cli, before, c, true);
            now = shown_with(cli, after, wh_sheet_cell(after, changed.at[i]), true);
        }
        if (wh_same(was, now)) continue;
        wh_text_print(&cli->out, "%-44s %-18s now %s\n", changed.at[i], was, now);
        told++;
    }
    if (told == 0) wh_text_add(&cli->out, "nothing changed\n");
    return WH_OK;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct choice choice = {0};
    size_t more = cli->word_count > 1 ? cli->word_count - 1 : 0;
    struct wh_words named = {WH_NEW(cli->arena, more + 1, const char *), more};
    for (size_t i = 0; i < more; i++) named.at[i] = cli->words[i + 1];
    cli->word_count -= more;
    enum wh_status status = wh_cli_machine(cli, &machine, &sheet);
    if (status == WH_OK) status = wanted_thing(cli, machine, &choice.thing);
    if (status == WH_OK) status = choose(cli, sheet, named, &choice);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "changed")) return print_changed(cli, machine, sheet);
    if (wh_cli_option(cli, "trials")) return wh_cli_trials(cli, sheet, choice.cells, choice.count, choice.named);
    bool working = wh_cli_option(cli, "working") != NULL;
    struct wh_tree *figures = choice.named
                                  ? wh_view_named_figures(cli->arena, sheet, choice.cells, choice.count, working)
                                  : wh_view_figures(cli->arena, sheet, choice.thing, working);
    if (wh_cli_option(cli, "json")) {
        wh_cli_json(cli, figures);
    } else {
        wh_text_add(&cli->out, wh_view_figures_text(cli->arena, figures));
    }
    return WH_OK;
}

const struct wh_command wh_command_figures = {
    .name = "figures",
    .usage = "figures FILE [FIGURE…] [--of PART] [--working] [--changed] [--trials COUNT]",
    .words =
        "Prints the figures of a machine, one a line: name, value, from least to most, where it comes from, title.\n"
        "With --trials each uncertain input is drawn anew for each trial: an interval or a tolerance zone evenly, a\n"
        "reading normal with its uncertainty.",
    .example = "wharve figures machines/juice-clarifier.yaml --of neck-bearing --working --set "
               "neck-seat.diameter=\"45.006 mm\"",
    .options = {{"of", "PART", "only those of one part"},
                {"working", NULL, "each with its working in five lines"},
                {"set", "NAME=VALUE", "take another value; may stand several times"},
                {"changed", NULL, "only the figures that --set changed, before and now"},
                WH_CLI_TRIALS_OPTIONS,
                {"json", NULL, "print JSON"}},
    .run = run};
