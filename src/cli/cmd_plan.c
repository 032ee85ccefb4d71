/* wharve plan: from the parts to renew to the steps of the job, and its papers. */
#include "cli/cli.h"
#include "cli/progress.h"
#include "plan/plan.h"
#include "view/plan.h"
#include "view/section.h"
#include "view/why.h"

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

/* Adds a step of the plan by its number. */
static enum wh_status add_numbered(struct wh_cli *cli, const struct wh_plan *plan, const char *text, double number,
                                   struct wh_words *to)
{
    if (number < 1 || number > (double)plan->step_count || number > floor(number))
        return wh_cli_error(cli, NULL, "--done: \"%s\" is no step of 1 to %zu", text, plan->step_count);
    to->at[to->count++] = plan->steps[(size_t)number - 1].task->id;
    return WH_OK;
}

/* "1-14, 16, off sight-glass": numbers of the plan as it was, or ids. */
static enum wh_status done_of(struct wh_cli *cli, const struct wh_plan *plan, const char *text, struct wh_words *ret)
{
    struct wh_words pieces = wh_split(cli->arena, text, ',');
    *ret = (struct wh_words){WH_NEW(cli->arena, pieces.count * (plan->step_count + 1) + 1, const char *), 0};
    for (size_t i = 0; i < pieces.count; i++) {
        double first, last;
        const char *rest = wh_number_read(pieces.at[i], &first);
        bool numbered = rest && (!*rest || *rest == '-'),
             way = wh_starts(pieces.at[i], "other way") || wh_starts(pieces.at[i], "way back");
        if (way && i > 0) { /* the comma is a part of the id */
            ret->at[ret->count - 1] = wh_arena_print(cli->arena, "%s, %s", ret->at[ret->count - 1], pieces.at[i]);
            continue;
        }
        if (!numbered) {
            ret->at[ret->count++] = pieces.at[i];
            continue;
        }
        last = first;
        const char *end = *rest == '-' ? wh_number_read(rest + 1, &last) : rest;
        if (!end || *end || last < first)
            return wh_cli_error(cli, "write 1-14", "--done: \"%s\" is no run of steps", pieces.at[i]);
        for (double n = first; n <= last; n++) {
            enum wh_status status = add_numbered(cli, plan, pieces.at[i], n, ret);
            if (status != WH_OK) return status;
        }
    }
    return WH_OK;
}

static struct wh_words steps_ahead(struct wh_cli *cli, const struct wh_plan *plan, struct wh_words done)
{
    struct wh_words ahead = {WH_NEW(cli->arena, plan->step_count + 1, const char *), 0};
    for (size_t s = 0; s < plan->step_count; s++) {
        bool is_done = false;
        for (size_t i = 0; i < done.count; i++) is_done |= wh_same(done.at[i], plan->steps[s].task->id);
        if (!is_done) ahead.at[ahead.count++] = plan->steps[s].task->id;
    }
    return ahead;
}

/* Parts found already off, as steps done before all others. */
static struct wh_words add_off(struct wh_cli *cli, const struct wh_machine *machine, struct wh_indices off,
                               struct wh_words done)
{
    struct wh_words all = {WH_NEW(cli->arena, off.count + done.count + 1, const char *), 0};
    for (size_t i = 0; i < off.count; i++)
        all.at[all.count++] = wh_arena_print(cli->arena, "off %s", machine->things[off.at[i]].id);
    for (size_t i = 0; i < done.count; i++) all.at[all.count++] = done.at[i];
    return all;
}

struct asked {
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct wh_indices renew;
    struct wh_plan_ask ask;
};

/* Plans anew from what is done, found and off; the plan as it was is kept where it can be. */
static enum wh_status plan_anew(struct wh_cli *cli, struct asked *asked, struct wh_plan **plan)
{
    const char *done = wh_cli_option(cli, "done"), *also = wh_cli_option(cli, "also"), *off = wh_cli_option(cli, "off");
    struct wh_indices already = {0};
    enum wh_status status = WH_OK;
    if (!done && !also && !off) return WH_OK;
    if (done) status = done_of(cli, *plan, done, &asked->ask.done);
    if (also && status == WH_OK)
        status = wh_plan_parts(cli->arena, asked->machine, also, &asked->ask.also, &cli->errors);
    if (off && status == WH_OK) status = wh_plan_parts(cli->arena, asked->machine, off, &already, &cli->errors);
    if (status != WH_OK) return status;
    asked->ask.done = add_off(cli, asked->machine, already, asked->ask.done);
    asked->ask.ahead = steps_ahead(cli, *plan, asked->ask.done);
    return wh_plan_make(cli->arena, asked->machine, asked->sheet, asked->renew.at, asked->renew.count, &asked->ask,
                        plan, &cli->errors);
}

static enum wh_status make_plan(struct wh_cli *cli, struct wh_plan **ret)
{
    struct asked asked = {0};
    double fitters = 1, nodes = WH_PLAN_NODES;
    const char *named = wh_cli_option(cli, "renew");
    enum wh_status status = wh_cli_machine(cli, &asked.machine, &asked.sheet);
    if (status == WH_OK) status = whole_option(cli, "fitters", 1, 1, 4, &fitters);
    if (status == WH_OK) status = whole_option(cli, "nodes", WH_PLAN_NODES, 1, 1e9, &nodes);
    if (status == WH_OK)
        status = wh_plan_parts(cli->arena, asked.machine, named ? named : "", &asked.renew, &cli->errors);
    if (status != WH_OK) return status;
    struct wh_cli_progress progress;
    struct wh_order_watch watch = wh_cli_progress_begin(&progress, wh_cli_option(cli, "progress"));
    asked.ask = (struct wh_plan_ask){.fitters = (int)fitters, .most_nodes = (uint64_t)nodes, .watch = &watch};
    status = wh_plan_make(cli->arena, asked.machine, asked.sheet, asked.renew.at, asked.renew.count, &asked.ask, ret,
                          &cli->errors);
    if (status == WH_OK) status = plan_anew(cli, &asked, ret);
    wh_cli_progress_end(&progress);
    return status;
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

/* Instead of the plan: why a step stands where it stands, which minutes matter. */
static enum wh_status explain(struct wh_cli *cli, const struct wh_plan *plan)
{
    const char *asked = wh_cli_option(cli, "why");
    struct wh_tree *tree = NULL;
    enum wh_status status = WH_OK;
    if (asked)
        status = wh_view_why(cli->arena, plan, asked, &tree, &cli->errors);
    else
        tree = wh_view_matters(cli->arena, plan);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "json"))
        wh_cli_json(cli, tree);
    else
        wh_text_add(&cli->out, wh_view_why_text(cli->arena, tree));
    return WH_OK;
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_plan *plan;
    enum wh_status status = make_plan(cli, &plan);
    if (status != WH_OK) return status;
    if (wh_cli_option(cli, "why") || wh_cli_option(cli, "matters")) return explain(cli, plan);
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
                {"done", "STEPS", "plan anew from these on: 1-14, or their ids; in the order in which they were done"},
                {"also", "PARTS", "parts found to be renewed too"},
                {"off", "PARTS", "parts found already off"},
                {"why", "PART|STEP", "why its steps stand where they stand, and what another place would cost"},
                {"matters", NULL, "which minutes matter: what may take longer, what would turn the choice of a way"},
                {"fitters", "1..4", "how many work on it"},
                {"nodes", "N", "how many states the search for the order may look at: more proves more"},
                {"progress", NULL, "say on standard error how far a long search is; a terminal is told anyway"},
                {"set", "NAME=VALUE", "take another value: neck-seat.diameter=\"45.006 mm\""},
                {"sheet", "FILE.pdf", "write the job sheet"},
                {"paper", "A4|Letter", "its paper"},
                {"date", "YYYY-MM-DD", "the date on it, today when not given"},
                {"section", "FILE.svg|.png", "write the section drawing"},
                {"json", NULL, "print JSON"}},
    .run = run};
