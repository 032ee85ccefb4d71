/* wharve report: the service report of a job. */
#include "cli/desk.h"
#include "view/job.h"

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_tree *job;
    if (cli->word_count != 1) return wh_cli_error(cli, "wharve report 1", "name one job by its number");
    enum wh_status status = wh_cli_job_tree(cli, 0, &job);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "json"))
        wh_cli_json(cli, job);
    else
        wh_text_add(&cli->out, wh_view_report_text(cli->arena, job));
    return WH_OK;
}

const struct wh_command wh_command_report = {
    .name = "report",
    .usage = "report JOB [--store FILE] [--json]",
    .words =
        "Prints the service report of a job: what brought it in, what was found and done, parts renewed, readings as\n"
        "found and as left with limits, verdict and gauge, amendments, holds, cautions met, what stays open, who "
        "signed.",
    .example = "wharve report 1",
    .options = {{"store", "FILE", "where the jobs are kept; workshop.db when it is not said"},
                {"json", NULL, "prints JSON"}},
    .run = run};
