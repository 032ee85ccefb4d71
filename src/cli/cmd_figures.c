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

/* Which figures the settings changed, with the value before and after. */
static enum wh_status print_changed(struct wh_cli *cli, const struct wh_machine *machine, const struct wh_sheet *after)
{
    struct wh_sheet *before;
    enum wh_status status = wh_sheet_make(cli->arena, machine, NULL, 0, &before, &cli->errors);
    if (status != WH_OK) return status;
    struct wh_words changed = wh_sheet_changed(cli->arena, before, after);
    for (size_t i = 0; i < changed.count; i++) {
        size_t was = wh_sheet_cell(before, changed.at[i]), now = wh_sheet_cell(after, changed.at[i]);
        wh_text_print(&cli->out, "%-44s %-18s now %s\n", changed.at[i],
                      was == WH_NONE ? "-" : wh_view_shown(cli->arena, before, was, WH_END_BEST).value,
                      wh_view_shown(cli->arena, after, now, WH_END_BEST).value);
    }
    if (changed.count == 0) wh_text_add(&cli->out, "nothing changed\n");
    return WH_OK;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    size_t thing;
    enum wh_status status = wh_cli_machine(cli, &machine, &sheet);
    if (status == WH_OK) status = wanted_thing(cli, machine, &thing);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "changed")) return print_changed(cli, machine, sheet);
    struct wh_tree *figures = wh_view_figures(cli->arena, sheet, thing, wh_cli_option(cli, "working") != NULL);
    if (wh_cli_option(cli, "json")) {
        wh_cli_json(cli, figures);
    } else {
        wh_text_add(&cli->out, wh_view_figures_text(cli->arena, figures));
    }
    return WH_OK;
}

const struct wh_command wh_command_figures = {
    .name = "figures",
    .usage = "figures FILE [--of PART] [--working] [--changed]",
    .words =
        "Prints the figures of a machine, one a line: name, value, from least to most, where it comes from, title.",
    .example = "wharve figures machines/juice-clarifier.yaml --of neck-bearing --working --set "
               "neck-seat.diameter=\"45.006 mm\"",
    .options = {{"of", "PART", "only those of one part"},
                {"working", NULL, "each with its working in five lines"},
                {"set", "NAME=VALUE", "take another value; may stand several times"},
                {"changed", NULL, "only the figures that --set changed, before and now"},
                {"json", NULL, "print JSON"}},
    .run = run};
