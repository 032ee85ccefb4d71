/* wharve gauges: the workshop's register of gauges. */
#include "cli/desk.h"
#include "view/job.h"

#include <string.h>

static enum wh_status take_gauges(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add(arena, map, "gauges", wh_view_gauges(arena, look->workshop, wh_cli_clock(NULL)));
    const char *copy = wh_tree_line(arena, map);
    return wh_tree_read(arena, "gauges", copy, strlen(copy), look->context, &errors);
}

static enum wh_status list(struct wh_cli *cli)
{
    struct wh_desk *desk;
    struct wh_tree *map = NULL;
    struct wh_desk_look look = {.context = &map, .body = take_gauges};
    enum wh_status status = wh_cli_desk(cli, WH_CLI_DESK_READ, &desk);
    if (status == WH_OK) status = wh_desk_workshop(desk, cli->arena, &look, &cli->errors);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "json")) {
        wh_cli_json(cli, map);
        return WH_OK;
    }
    for (const struct wh_tree *g = wh_tree_get(map, "gauges")->first; g; g = g->next)
        wh_text_print(&cli->out, "  %-18s %s, ± %s, %s%s%s\n", wh_tree_text(g, "name", ""),
                      wh_tree_text(g, "title", ""), wh_tree_text(g, "uncertainty", ""),
                      wh_tree_text(g, "calibration", ""), wh_tree_get(g, "due") ? ", due " : "",
                      wh_tree_text(g, "due", ""));
    return WH_OK;
}

static enum wh_status enter(struct wh_cli *cli)
{
    struct wh_desk *desk;
    struct wh_answer answer;
    struct wh_tree *said = wh_tree_new(cli->arena, WH_TREE_MAP);
    wh_tree_add_text(cli->arena, said, "name", cli->words[0]);
    for (size_t i = 1; i < cli->word_count; i++) {
        const char *equals = strchr(cli->words[i], '=');
        if (!equals)
            return wh_cli_error(cli, "write uncertainty=\"0.002 mm\"", "\"%s\" is not name=value", cli->words[i]);
        const char *name = wh_arena_slice(cli->arena, cli->words[i], (size_t)(equals - cli->words[i]));
        if (wh_tree_get(said, name)) return wh_cli_error(cli, NULL, "\"%s\" is given twice", name);
        wh_tree_add_text(cli->arena, said, name, equals + 1);
    }
    struct wh_entry entry = {
        .who = wh_cli_option(cli, "who"), .key = wh_key_new(cli->arena), .kind = "gauge", .said = said, .seen = -1};
    enum wh_status status = wh_cli_desk(cli, WH_CLI_DESK_WRITE, &desk);
    if (status == WH_OK) status = wh_desk_submit(desk, cli->arena, &entry, true, &answer, &cli->errors);
    if (status == WH_OK) wh_text_print(&cli->out, "gauge %s is in the register\n", cli->words[0]);
    return status;
}

static enum wh_status run(struct wh_cli *cli)
{
    return cli->word_count ? enter(cli) : list(cli);
}

const struct wh_command wh_command_gauges = {
    .name = "gauges",
    .usage = "gauges [NAME uncertainty=VALUE [is=GAUGE] [title=TEXT] [due=DAY]] [--who NAME] [--store FILE]",
    .words = "Lists the workshop's gauges, or enters one: its expanded uncertainty (k = 2), the gauge of machine files "
             "that it\n"
             "can stand for, the last day of its calibration. After that day a reading with it proves nothing.",
    .example = "wharve gauges comparator-3 is=comparator uncertainty=\"0.002 mm\" due=2027-01-31 --who Ada",
    .options = {{"who", "NAME", "who enters it"},
                {"store", "FILE", "where the jobs are kept; workshop.db when it is not said"},
                {"json", NULL, "prints JSON"}},
    .run = run};
