/* Run-up, run-down and the checks of a test run, for wharve testrun. */
#include "cli/runs.h"
#include "job/run_expect.h"
#include "job/test_checks.h"
#include "view/run.h"

#include <math.h>
#include <string.h>

enum { TOLD_MOST = 512 };

struct reading {
    struct wh_cli *cli;
    const struct wh_cli_runs *ask;
    struct wh_run_ask expected;
    double predicted[WH_RUN_PREDICTED_MOST];
    size_t predicted_count;
    struct wh_tree *tree;
    const char *path;
    struct wh_told told[TOLD_MOST];
    size_t told_count;
    struct wh_doubts warnings;
};

bool wh_cli_runs_asked(const struct wh_cli *cli)
{
    return wh_cli_option(cli, "run-down") || wh_cli_option(cli, "run-up") || wh_cli_option(cli, "reading") ||
           wh_cli_option(cli, "accept");
}

/* ---- the records ------------------------------------------------------------------------------------------------ */

static enum wh_status draw(struct reading *r, const struct wh_scene *scene, const char *name)
{
    const char *folder = wh_cli_option(r->cli, "plots");
    if (scene && wh_cli_option(r->cli, "drawings")) wh_view_drawing_add(r->cli->arena, r->tree, scene);
    if (!folder || !scene) return WH_OK;
    return wh_cli_picture(r->cli, scene, wh_arena_print(r->cli->arena, "%s/%s.svg", folder, name));
}

static enum wh_status draw_run(struct reading *r, const struct wh_run *run)
{
    struct wh_arena *arena = r->cli->arena;
    enum wh_status status = draw(r, wh_view_run_down(arena, run), "run-down");
    for (size_t t = 0; t < run->tracks && status == WH_OK; t++)
        status = draw(r, wh_view_run_track(arena, &run->track[t], r->predicted, r->predicted_count),
                      wh_arena_print(arena, "once-a-turn-%zu", t + 1));
    return status;
}

static enum wh_status read_run(struct wh_arena *arena, void *context)
{
    struct reading *r = context;
    struct wh_run_record *record;
    struct wh_run *run;
    bool off = r->expected.drive_off;
    enum wh_status status = wh_record_open(arena, r->path, r->ask->record, &record, &r->cli->errors);
    if (status == WH_OK) status = wh_run_read(arena, record, &r->expected, &run, &r->cli->errors);
    if (status != WH_OK) return status;
    wh_view_run_add(r->cli->arena, r->tree, run, r->predicted, r->predicted_count);
    for (size_t i = 0; i < run->warnings.count; i++) wh_doubt(&r->warnings, "%s", run->warnings.at[i]);
    struct wh_told told[4];
    size_t n = wh_run_told(run, off, told);
    for (size_t i = 0; i < n && r->told_count < TOLD_MOST; i++) {
        told[i].from = r->path;
        r->told[r->told_count++] = told[i];
    }
    return draw_run(r, run);
}

static enum wh_status read_records(struct reading *r)
{
    const char *down = wh_cli_option(r->cli, "run-down"), *up = wh_cli_option(r->cli, "run-up");
    const char *paths[] = {down, wh_same(up, down) ? NULL : up};
    enum wh_status status = WH_OK;
    for (size_t i = 0; i < 2 && status == WH_OK; i++) {
        r->path = paths[i];
        if (r->path) status = wh_arena_run(r->ask->memory, read_run, r);
    }
    if (status == WH_OK && down && !wh_tree_get(r->tree, "run down"))
        status = wh_errors_add(&r->cli->errors, WH_ERR_NO_ANSWER, (struct wh_place){.file = down}, NULL,
                               "there is no run-down in this record");
    if (status == WH_OK && up && !wh_tree_get(r->tree, "run up"))
        status = wh_errors_add(&r->cli->errors, WH_ERR_NO_ANSWER, (struct wh_place){.file = up}, NULL,
                               "there is no run-up in this record");
    return status;
}

/* ---- the checks ------------------------------------------------------------------------------------------------- */

/* The vibrations that the other records told, back in SI. */
static void take_figures(struct reading *r)
{
    const struct wh_tree *list = wh_tree_get(r->tree, "figures");
    for (const struct wh_tree *f = list ? list->first : NULL; f && r->told_count < TOLD_MOST; f = f->next) {
        const char *place, *name = wh_tree_text(f, "name", ""), *unit = wh_tree_text(f, "unit", "");
        enum wh_record_figure is = wh_record_figure_read(r->cli->arena, name, &place);
        struct wh_unit shown;
        if (!wh_record_figure_has_place(is) || !wh_unit_read(unit, strlen(unit), &shown)) continue;
        r->told[r->told_count++] =
            (struct wh_told){is, wh_tree_text(f, "place", NULL), wh_tree_number(f, "value", NAN) * shown.factor, 0,
                             wh_tree_text(f, "record", NULL)};
    }
}

static enum wh_status take_values(struct wh_cli *cli, struct wh_test_check *check, const char *text)
{
    struct wh_words words = wh_split(cli->arena, text, ';');
    double *values = WH_NEW(cli->arena, words.count + 1, double);
    for (size_t i = 0; i < words.count; i++) {
        struct wh_value value;
        enum wh_misread misread = wh_value_read(words.at[i], &check->unit, &value, NULL);
        if (misread != WH_READ_WELL)
            return wh_cli_error(cli, NULL, "--reading %s: %s", check->id,
                                wh_misread_words(cli->arena, misread, words.at[i], &check->unit));
        values[i] = value.best;
    }
    check->values = values;
    check->count = words.count;
    return WH_OK;
}

static enum wh_status take_reading(struct wh_cli *cli, struct wh_test_check checks[], size_t count, const char *text)
{
    const char *equals = strchr(text, '='),
               *id = equals ? wh_arena_slice(cli->arena, text, (size_t)(equals - text)) : text;
    struct wh_test_check *check = NULL;
    for (size_t i = 0; i < count; i++)
        if (wh_same(checks[i].id, id)) check = &checks[i];
    if (!equals) return wh_cli_error(cli, "write --reading \"neck-temperature=61 degC\"", "--reading: \"%s\"", text);
    if (!check) return wh_cli_error(cli, NULL, "--reading: the test run has no check \"%s\"", id);
    if (check->has_limits) return take_values(cli, check, equals + 1);
    bool so = wh_same(equals + 1, "as expected");
    if (!so && !wh_same(equals + 1, "not so"))
        return wh_cli_error(cli, "as expected, or not so", "--reading %s: \"%s\"", id, equals + 1);
    check->answer = so ? WH_AS_EXPECTED : WH_NOT_SO;
    return WH_OK;
}

static enum wh_status accept(struct reading *r)
{
    struct wh_cli *cli = r->cli;
    size_t count;
    if (!wh_cli_option(cli, "accept") && !wh_cli_option(cli, "reading")) return WH_OK;
    if (!r->ask->sheet) return wh_cli_error(cli, "name it with --machine", "the checks stand in the machine file");
    struct wh_test_check *checks = wh_test_checks(cli->arena, r->ask->sheet->machine, &count);
    for (size_t i = 0; i < cli->option_count; i++) {
        if (!wh_same(cli->options[i].key, "reading")) continue;
        enum wh_status status = take_reading(cli, checks, count, cli->options[i].text);
        if (status != WH_OK) return status;
    }
    struct wh_acceptance acceptance = wh_accept_run(cli->arena, checks, count, r->told, r->told_count, &r->warnings);
    wh_view_acceptance_add(cli->arena, r->tree, &acceptance);
    return WH_OK;
}

enum wh_status wh_cli_runs(struct wh_cli *cli, const struct wh_cli_runs *ask, struct wh_tree *tree)
{
    struct reading *r = WH_NEW(cli->arena, 1, struct reading);
    *r = (struct reading){.cli = cli, .ask = ask, .tree = tree, .warnings = {.arena = cli->arena}};
    if (ask->sheet) r->expected = wh_run_expected(ask->sheet);
    if (ask->sheet) r->predicted_count = wh_run_predicted(ask->sheet, r->predicted);
    if (ask->speed > 0) r->expected.speed = ask->speed;
    r->expected.pulses = ask->pulses;
    r->expected.drive_off = wh_cli_option(cli, "drive-off") != NULL;
    r->expected.last = wh_view_run_down_was(ask->last);
    enum wh_status status = read_records(r);
    if (status != WH_OK) return status;
    take_figures(r);
    wh_view_told_add(cli->arena, tree, r->told, r->told_count);
    return accept(r);
}
