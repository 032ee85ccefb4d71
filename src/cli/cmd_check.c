/* wharve check: reads a machine file and says what is wrong with it. */
#include "cli/cli.h"

#include <math.h>

static void list_parts(struct wh_cli *cli, const struct wh_machine *machine)
{
    static const char *const renewed[] = {"renewed whenever disturbed", "renewed when worn",
                                          "renewed only with the maker"};
    for (size_t t = 0; t < machine->thing_count; t++) {
        const struct wh_thing *thing = &machine->things[t];
        if (thing->section == WH_SECTION_PARTS)
            wh_text_print(&cli->out, "%-20s %-18s %s, %s\n", thing->id, thing->kind->name, thing->title,
                          thing->way_count ? renewed[thing->renew] : "stays");
    }
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    enum wh_status status = wh_cli_machine(cli, &machine, &sheet);
    if (status != WH_OK) return status;
    size_t parts = 0, features = 0, drawn = 0;
    if ((status = wh_machine_check_drawing(cli->arena, machine, &drawn, &cli->errors)) != WH_OK) return status;
    for (size_t t = 0; t < machine->thing_count; t++) {
        parts += machine->things[t].section == WH_SECTION_PARTS;
        features += machine->things[t].section == WH_SECTION_FEATURES;
    }
    if (wh_cli_option(cli, "json")) {
        struct wh_tree *map = wh_tree_new(cli->arena, WH_TREE_MAP);
        wh_tree_add_text(cli->arena, map, "machine", machine->title);
        wh_tree_add_number(cli->arena, map, "parts", (double)parts);
        wh_tree_add_number(cli->arena, map, "checks", (double)machine->check_count);
        wh_tree_add_number(cli->arena, map, "figures", (double)sheet->cell_count);
        wh_cli_json(cli, map);
        return WH_OK;
    }
    wh_text_print(&cli->out,
                  "%s reads well: %s, %zu parts, %zu seats, bores, screw rings and sumps, %zu checks, %zu figures\n",
                  machine->path, machine->title, parts, features, machine->check_count, sheet->cell_count);
    if (wh_cli_option(cli, "list")) list_parts(cli, machine);
    return WH_OK;
}

const struct wh_command wh_command_check = {.name = "check",
                                            .usage = "check FILE [--list]",
                                            .words = "Reads a machine file and names everything that is wrong with it: "
                                                     "file, line, column, and what would be right.\n"
                                                     "Exit status 2 when anything is.",
                                            .example = "wharve check machines/juice-clarifier.yaml --list",
                                            .options = {{"list", NULL, "name the parts"},
                                                        {"set", "NAME=VALUE", "take another value"},
                                                        {"json", NULL, "print JSON"}},
                                            .run = run};
