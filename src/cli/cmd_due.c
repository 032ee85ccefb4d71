/* wharve due: what of a machine comes round again, from its file, its figures and the jobs kept. */
#include "cli/desk.h"
#include "view/due.h"

#include <math.h>

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct wh_desk *desk;
    struct wh_due *due;
    const char *text = wh_cli_option(cli, "hours");
    double hours = wh_due_hours(text);
    if (text && isnan(hours)) return wh_cli_error(cli, "write --hours 11240", "\"%s\" is no number of hours", text);
    enum wh_status status = wh_cli_machine(cli, &machine, &sheet);
    if (status == WH_OK) status = wh_cli_desk(cli, WH_CLI_DESK_READ, &desk);
    if (status == WH_OK)
        status = wh_desk_due(desk, cli->arena, wh_cli_machine_id(cli, machine->path), sheet, hours, wh_cli_clock(NULL),
                             &due, &cli->errors);
    if (status != WH_OK) return status;
    struct wh_tree *view = wh_view_due(cli->arena, machine, due, WH_DUE_NOT_KNOWN);
    if (wh_cli_option(cli, "json"))
        wh_cli_json(cli, view);
    else
        wh_text_add(&cli->out, wh_view_due_text(cli->arena, view));
    return WH_OK;
}

const struct wh_command wh_command_due = {
    .name = "due",
    .usage = "due FILE [--hours HOURS] [--store FILE] [--json]",
    .words = "Says when the parts of a machine come round again: by running hours and by the calendar, from what the\n"
             "machine file says, from figures that may shorten it, and from the jobs in which they were renewed.",
    .example = "wharve due machines/juice-clarifier.yaml --hours 11240",
    .options = {{"hours", "HOURS", "hours run by now; else as the last job told"},
                {"store", "FILE", "where the jobs are kept; workshop.db when it is not said"},
                {"json", NULL, "prints JSON"}},
    .run = run};
