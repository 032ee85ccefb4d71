/* wharve balance: a rotor balanced in its own bearings, from a balancing sheet or from runs on the line. */
#include "base/file.h"
#include "cli/cli.h"
#include "sheet/balance_bind.h"
#include "view/balance.h"

#include <string.h>

/* The figures of the machine that --machine or the sheet names; NULL where none is named. A path in a sheet is taken
 * from where the sheet lies. */
static enum wh_status figures_of(struct wh_cli *cli, const struct wh_tree *tree, const char *sheet_path,
                                 struct wh_sheet **ret)
{
    const char *path = wh_cli_option(cli, "machine"), *named = wh_tree_text(tree, "machine", NULL);
    const char *slash = sheet_path ? strrchr(sheet_path, '/') : NULL;
    struct wh_machine *machine;
    if (!path && named && slash && *named != '/')
        path = wh_arena_print(cli->arena, "%.*s/%s", (int)(slash - sheet_path), sheet_path, named);
    else if (!path)
        path = named;
    *ret = NULL;
    if (!path) return WH_OK;
    enum wh_status status = wh_machine_read(cli->arena, path, &machine, &cli->errors);
    return status == WH_OK ? wh_sheet_make(cli->arena, machine, NULL, 0, ret, &cli->errors) : status;
}

/* The options that are lines of a sheet. */
static const char *const lines[][2] = {{"part", "part"},
                                       {"is", "is"},
                                       {"balancing", "balancing"},
                                       {"turns", "turns"},
                                       {"angles", "angles"},
                                       {"phases", "phases"},
                                       {"speed", "speed"},
                                       {"stamped", "stamped speed"},
                                       {"mass", "mass"},
                                       {"grade", "balance grade"},
                                       {"repeatability", "repeatability"}};

/* "20 g at 90 deg: 6.0 mm/s at 101 deg": a run of one plane; what stands before the colon was fitted. */
static enum wh_status add_run(struct wh_cli *cli, struct wh_tree *tree, const char *text, size_t number)
{
    const char *colon = strchr(text, ':');
    struct wh_words fitted = colon ? wh_split(cli->arena, wh_arena_slice(cli->arena, text, (size_t)(colon - text)), ':')
                                   : (struct wh_words){0};
    if (colon && fitted.count == 0)
        return wh_cli_error(cli, "write \"20 g at 90 deg: 6.0 mm/s at 101 deg\"", "\"%s\" fits nothing", text);
    struct wh_tree *run = wh_balance_item(cli->arena, tree, "runs", wh_arena_print(cli->arena, "%zu", number));
    if (colon) wh_balance_line(cli->arena, run, "fitted", fitted.at[0]);
    if (colon) wh_balance_line(cli->arena, run, "fastened", wh_cli_option(cli, "fastened"));
    wh_balance_line(cli->arena, run, "reads", colon ? colon + 1 : text);
    return WH_OK;
}

static enum wh_status tree_of_line(struct wh_cli *cli, struct wh_tree **ret)
{
    static const char *const of_plane[] = {"radius", "holes", "masses"};
    enum wh_status status = WH_OK;
    *ret = wh_balance_tree(cli->arena);
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        wh_balance_line(cli->arena, *ret, lines[i][1], wh_cli_option(cli, lines[i][0]));
    struct wh_tree *plane = wh_balance_item(cli->arena, *ret, "planes", "plane");
    for (size_t i = 0; i < 3; i++) wh_balance_line(cli->arena, plane, of_plane[i], wh_cli_option(cli, of_plane[i]));
    for (size_t i = 0; i < cli->word_count && status == WH_OK; i++) status = add_run(cli, *ret, cli->words[i], i + 1);
    wh_balance_sensors(cli->arena, *ret);
    return status;
}

/* What a test run found, from `wharve testrun --json`: each finding's part, words and how sure. */
static enum wh_status read_findings(struct wh_cli *cli, struct wh_balance_sheet *sheet)
{
    const char *path = wh_cli_option(cli, "findings");
    struct wh_tree *tree;
    char *bytes;
    size_t size;
    if (!path) return WH_OK;
    enum wh_status status = wh_file_read(cli->arena, path, 4 << 20, &bytes, &size, &cli->errors);
    if (status == WH_OK) status = wh_tree_read(cli->arena, path, bytes, size, &tree, &cli->errors);
    if (status != WH_OK) return status;
    const struct wh_tree *list = wh_tree_get(tree, "findings");
    if (!list || list->is != WH_TREE_LIST)
        return wh_cli_error(cli, "give what wharve testrun --json printed", "%s has no findings", path);
    for (const struct wh_tree *item = list->first; item; item = item->next) {
        if (item->is != WH_TREE_MAP) continue;
        if (sheet->findings == WH_BALANCE_FINDINGS)
            return wh_cli_error(cli, NULL, "%s has more than %d findings", path, WH_BALANCE_FINDINGS);
        sheet->finding[sheet->findings++] = (struct wh_balance_finding){
            wh_tree_text(item, "part", ""), wh_tree_text(item, "says", ""), wh_tree_text(item, "sure", "")};
    }
    return WH_OK;
}

/* A word with a digit first, or with a colon, is a run; a lone one that is neither is a file. */
static bool is_file(const struct wh_cli *cli)
{
    return cli->word_count == 1 && !strstr(cli->words[0], " at ") && !strchr(cli->words[0], ':');
}

static enum wh_status run(struct wh_cli *cli)
{
    struct wh_tree *tree;
    struct wh_sheet *figures;
    struct wh_balance_sheet *sheet = NULL;
    if (cli->word_count == 0)
        return wh_cli_error(cli, "see wharve balance --help", "neither a balancing sheet nor runs are given");
    bool file = is_file(cli);
    enum wh_status status =
        file ? wh_balance_file(cli->arena, cli->words[0], &tree, &cli->errors) : tree_of_line(cli, &tree);
    if (status == WH_OK) status = figures_of(cli, tree, file ? cli->words[0] : NULL, &figures);
    if (status == WH_OK) status = wh_balance_bind(cli->arena, tree, figures, &sheet, &cli->errors);
    if (status == WH_OK) status = read_findings(cli, sheet);
    if (status != WH_OK) return status;
    struct wh_balance_result *result = WH_NEW(cli->arena, 1, struct wh_balance_result);
    wh_balance_work(cli->arena, sheet, result);
    const struct wh_tree *view = wh_view_balance(cli->arena, sheet, result), *plot = wh_tree_get(view, "plot");
    if (wh_cli_option(cli, "json"))
        wh_cli_json(cli, view);
    else
        wh_text_add(&cli->out, wh_view_balance_text(cli->arena, view));
    const char *picture = wh_cli_option(cli, "plot");
    if (picture && plot && (status = wh_cli_picture(cli, plot->scene, picture)) != WH_OK) return status;
    return result->next == WH_BALANCE_REFUSED ? WH_ERR_NO_ANSWER : WH_OK;
}

const struct wh_command wh_command_balance = {
    .name = "balance",
    .usage = "balance SHEET|RUN… [--machine FILE] [--findings FILE] [--plot FILE] [--json]",
    .words =
        "Says where masses go so that a fan wheel or a pulley runs true in its own bearings, and what is then left.\n"
        "A sheet is a file (docs/balancing-sheet.md); or each run is a word, a mass before the colon:\n"
        "\"20 g at 90 deg: 6.0 mm/s at 101 deg\". It refuses what the file does not allow, bowls and their spindles,\n"
        "and what the evidence says is a bearing, a bent shaft or a resonance.",
    .example = "wharve balance machines/balance/dryer-fan-wheel.yaml --plot fan.svg",
    .options = {{"machine", "FILE", "the machine whose part it is"},
                {"part", "ID", "with runs: its part"},
                {"is", "KIND", "with runs and without a machine: wheel or pulley"},
                {"balancing", "HOW", "without a machine: masses, or masses or drilling, as its maker allows"},
                {"turns", "WAY", "with runs: clockwise or anticlockwise, seen from the pulley end"},
                {"angles", "WAY", "with runs: places are counted \"with turning\" or \"against turning\""},
                {"phases", "WAY", "with runs: lead or lag"},
                {"speed", "SPEED", "with runs: the speed they were read at"},
                {"stamped", "SPEED", "without a machine: never run above it"},
                {"radius", "LENGTH", "with runs: where the masses sit"},
                {"holes", "COUNT", "with runs: holes evenly round, the first at 0 deg"},
                {"masses", "LIST", "with runs: the masses at hand, \"5 g; 10 g; 4 x 20 g\""},
                {"fastened", "HOW", "with runs: how trial masses are fastened"},
                {"mass", "MASS", "with runs: of the rotor"},
                {"grade", "GRADE", "with runs: balance grade, \"6.3 mm/s\""},
                {"repeatability", "VALUE", "with runs: \"5 %\" or \"0.2 mm/s\""},
                {"findings", "FILE", "what wharve testrun --json printed"},
                {"plot", "FILE", "draw the planes, .svg or .png"},
                {"json", NULL, "print JSON"}},
    .run = run};
