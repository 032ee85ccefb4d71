/* wharve report: the service report of a job, in words, as JSON and on paper. */
#include "cli/desk.h"
#include "view/job.h"
#include "view/service_report.h"
#include "view/test_run.h"

/* The hash of the job's last entry: what the report was made from. */
static enum wh_status read_stamp(struct wh_cli *cli, struct wh_desk *desk, const struct wh_tree *job, const char **ret)
{
    struct wh_records records;
    double number = wh_tree_number(job, "job", 0), last = wh_tree_number(job, "entries made", 1);
    enum wh_status status =
        wh_desk_since(desk, cli->arena, (int64_t)number, (int64_t)last - 1, 1, &records, &cli->errors);
    if (status == WH_OK) *ret = records.count ? wh_hash_text(cli->arena, &records.at[0].hash) : "";
    return status;
}

/* What is drawn: scenes do not go through JSON. */
static enum wh_status take_drawn(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct wh_report_print *print = look->context;
    print->centres = wh_view_centres(arena, look->job);
    print->run = wh_view_test_run(arena, look->job, print->machine);
    return WH_OK;
}

/* Photos that the entries name, as many as a report may carry; the others stay in the store and are told. */
static enum wh_status read_photos(struct wh_cli *cli, struct wh_desk *desk, const struct wh_tree *job,
                                  struct wh_report_print *print)
{
    enum { MOST = 24 << 20 };
    WH_LIST(struct wh_report_photo) photos = {0};
    const struct wh_tree *entries = wh_tree_get(job, "entries");
    enum wh_status status = WH_OK;
    size_t all = 0, size;
    for (const struct wh_tree *e = entries ? entries->first : NULL; e && status == WH_OK; e = e->next) {
        struct wh_words files = wh_split(cli->arena, wh_tree_text(e, "files", ""), ',');
        for (size_t i = 0; i < files.count && status == WH_OK && all < MOST; i++) {
            struct wh_hash hash;
            struct wh_picture picture;
            char *bytes;
            if (!wh_hash_read(files.at[i], &hash)) continue;
            status = wh_desk_fetch(desk, cli->arena, &hash, &bytes, &size, &cli->errors);
            if (status != WH_OK || (all += size) > MOST || !wh_picture_read(bytes, size, &picture)) continue;
            *WH_PUSH(cli->arena, &photos) = (struct wh_report_photo){files.at[i], picture};
        }
    }
    print->photos = photos.at;
    print->photo_count = photos.count;
    return status;
}

static enum wh_status write_pdf(struct wh_cli *cli, const struct wh_tree *job, const char *path)
{
    struct wh_desk *desk;
    const struct wh_machine *machine;
    const char *paper = wh_cli_option(cli, "paper");
    struct wh_report_print print = {.paper = paper ? paper : "A4", .program = "wharve " WHARVE_VERSION};
    struct wh_desk_look look = {.context = &print, .body = take_drawn};
    int64_t number = (int64_t)wh_tree_number(job, "job", 0);
    enum wh_status status = wh_cli_desk(cli, true, &desk);
    if (status == WH_OK) status = read_stamp(cli, desk, job, &print.stamp);
    if (status == WH_OK) status = wh_desk_machine(desk, cli->arena, number, NULL, &machine, NULL, &cli->errors);
    if (status == WH_OK) status = read_photos(cli, desk, job, &print);
    if (status != WH_OK) return status;
    print.machine = machine;
    status = wh_desk_state(desk, cli->arena, number, &look, &cli->errors);
    if (status != WH_OK) return status;
    status = wh_cli_pdf(cli, wh_view_service_report(cli->arena, job, &print), path);
    if (status == WH_OK) wh_text_print(&cli->out, "%s\n", path);
    return status;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_tree *job;
    const char *path = wh_cli_option(cli, "pdf");
    if (cli->word_count != 1) return wh_cli_error(cli, "wharve report 1", "name one job by its number");
    enum wh_status status = wh_cli_job_tree(cli, 0, &job);
    if (status != WH_OK) return status;
    if (path) return write_pdf(cli, job, path);
    if (wh_cli_option(cli, "json"))
        wh_cli_json(cli, job);
    else
        wh_text_add(&cli->out, wh_view_report_text(cli->arena, job));
    return WH_OK;
}

const struct wh_command wh_command_report = {
    .name = "report",
    .usage = "report JOB [--pdf FILE] [--store FILE] [--json]",
    .words =
        "Prints the service report of a job, or writes it on paper: what brought it in, what was found and done, "
        "parts\n"
        "renewed, readings as found and as left with limits, verdict and gauge, amendments, holds, cautions met, what\n"
        "stays open, who signed. The same job gives the same bytes.",
    .example = "wharve report 1 --pdf out/report.pdf",
    .options = {{"pdf", "FILE.pdf", "writes the report on paper"},
                {"paper", "A4|Letter", "the size of the paper; A4 when it is not said"},
                {"store", "FILE", "where the jobs are kept; workshop.db when it is not said"},
                {"json", NULL, "prints JSON"}},
    .run = run};
