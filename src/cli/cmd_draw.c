/* wharve draw: the axial section of a machine. */
#include "cli/cli.h"
#include "view/section.h"

static enum wh_status read_gone(struct wh_cli *cli, const struct wh_machine *machine, bool *gone)
{
    const char *off = wh_cli_option(cli, "off");
    struct wh_words ids = wh_split(cli->arena, off ? off : "", ',');
    for (size_t i = 0; i < ids.count; i++) {
        size_t thing = wh_machine_thing(machine, ids.at[i]);
        if (thing == WH_NONE) return wh_cli_error(cli, NULL, "--off: there is no part \"%s\"", ids.at[i]);
        gone[thing] = true;
    }
    return WH_OK;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_machine *machine;
    const char *path = wh_cli_option(cli, "to"), *part = wh_cli_option(cli, "part");
    enum wh_status status = wh_cli_machine(cli, &machine, NULL);
    if (status != WH_OK) return status;
    if (!path) return wh_cli_error(cli, "write --to section.svg", "nothing says where the drawing goes");
    bool *gone = WH_NEW(cli->arena, machine->thing_count, bool);
    struct wh_section_ask ask = {.part = part ? wh_machine_thing(machine, part) : WH_NONE, .gone = gone};
    if (part && ask.part == WH_NONE) return wh_cli_error(cli, NULL, "--part: there is no part \"%s\"", part);
    if ((status = read_gone(cli, machine, gone)) != WH_OK) return status;
    status = wh_cli_picture(cli, wh_view_section(cli->arena, machine, &ask), path);
    if (status == WH_OK) wh_text_print(&cli->out, "The section lies in %s\n", path);
    return status;
}

const struct wh_command wh_command_draw = {
    .name = "draw",
    .usage = "draw FILE --to FILE.svg [--part PART] [--off PARTS]",
    .words = "Draws the axial section: the part in question wide and hatched, parts already off as long-dash "
             "double-dot lines.",
    .example =
        "wharve draw machines/juice-clarifier.yaml --part neck-bearing --off lock-ring,bowl-top --to out/section.svg",
    .options = {{"to", "FILE.svg|.png", "where the drawing goes"},
                {"part", "PART", "the part in question"},
                {"off", "PARTS", "parts already off"}},
    .run = run};
