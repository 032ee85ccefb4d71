/* wharve plan: from the parts to renew to the steps of the job, and its papers. */
#include "cli/cli.h"
#include "plan/plan.h"
#include "view/plan.h"
#include "view/section.h"

#include <math.h>

/* A whole number of an option between two limits, or what is usual when it is not given. */
static enum wh_status whole_option(struct wh_cli *cli, const char *name, double usual, double least, double most,
                                   double *ret)
{
    const char *text = wh_cli_option(cli, name);
    const char *rest = text ? wh_number_read(text, ret) : "";
    if (!text) *ret = usual;
    if (rest && !*rest && *ret >= least && *ret <= most && *ret <= floor(*ret)) return WH_OK;
    return wh_cli_error(cli, NULL, "--%s: \"%s\" is no whole number from %.0f to %.0f", name, text, least, most);
}

static enum wh_status make_plan(struct wh_cli *cli, struct wh_plan **ret)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct wh_indices renew;
    double fitters = 1, nodes = WH_PLAN_NODES;
    const char *named = wh_cli_option(cli, "renew");
    enum wh_status status = wh_cli_machine(cli, &machine, &sheet);
    if (status == WH_OK) status = whole_option(cli, "fitters", 1, 1, 4, &fitters);
    if (status == WH_OK) status = whole_option(cli, "nodes", WH_PLAN_NODES, 1, 1e9, &nodes);
    if (status == WH_OK) status = wh_plan_parts(cli->arena, machine, named ? named : "", &renew, &cli->errors);
    if (status != WH_OK) return status;
    struct wh_plan_ask ask = {(int)fitters, (uint64_t)nodes};
    return wh_plan_make(cli->arena, machine, sheet, renew.at, renew.count, &ask, ret, &cli->errors);
}

static enum wh_status print_papers(struct wh_cli *cli, const struct wh_plan *plan)
{
    const char *sheet = wh_cli_option(cli, "sheet"), *section = wh_cli_option(cli, "section");
    const char *paper = wh_cli_option(cli, "paper"), *date = wh_cli_option(cli, "date");
    enum wh_status status = WH_OK;
    if (paper && !wh_same(paper, "A4") && !wh_same(paper, "Letter"))
        return wh_cli_error(cli, "write A4 or Letter", "--paper: \"%s\" is no paper this program prints on", paper);
    if (sheet) {
        struct wh_sheet_print print = {paper ? paper : "A4", date ? date : cli->today, "wharve " WHARVE_VERSION};
        status = wh_cli_pdf(cli, wh_view_job_sheet(cli->arena, plan, &print), sheet);
    }
    if (section && status == WH_OK) {
        struct wh_section_ask ask = {.part = WH_NONE};
        status = wh_cli_picture(cli, wh_view_section(cli->arena, plan->machine, &ask), section);
    }
    if (status != WH_OK || wh_cli_option(cli, "json")) return status;
    if (sheet) wh_text_print(&cli->out, "\nThe job sheet lies in %s\n", sheet);
    if (section) wh_text_print(&cli->out, "The section lies in %s\n", section);
    return status;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_plan *plan;
    enum wh_status status = make_plan(cli, &plan);
    if (status != WH_OK) return status;
    struct wh_tree *tree = wh_view_plan(cli->arena, plan);
    if (wh_cli_option(cli, "json")) {
        wh_cli_json(cli, tree);
    } else {
        wh_text_add(&cli->out, wh_view_plan_text(cli->arena, tree, cli->bold));
    }
    return print_papers(cli, plan);
}

const struct wh_command wh_command_plan = {
    .name = "plan",
    .usage = "plan FILE --renew PART,PART…",
    .words = "Works out the way in to the parts to renew and the way back: steps, figures, cautions, holds, kit.",
    .example = "wharve plan machines/juice-clarifier.yaml --renew neck-bearing,foot-bearing --sheet out/job-sheet.pdf",
    .options = {{"renew", "PARTS", "the parts to renew, parted by commas"},
                {"fitters", "1..4", "how many work on it"},
                {"nodes", "N", "how many states the search for the order may look at: more proves more"},
                {"set", "NAME=VALUE", "take another value: neck-seat.diameter=\"45.006 mm\""},
                {"sheet", "FILE.pdf", "write the job sheet"},
                {"paper", "A4|Letter", "its paper"},
                {"date", "YYYY-MM-DD", "the date on it, today when not given"},
                {"section", "FILE.svg|.png", "write the section drawing"},
                {"json", NULL, "print JSON"}},
    .run = run};
