/* wharve testrun: figures, lines and findings of vibration records. */
#include "base/file.h"
#include "cli/runs.h"
#include "job/run_ask.h"
#include "job/run_expect.h"
#include "job/run_sources.h"
#include "paper/paper.h"
#include "view/finding.h"
#include "view/spectrum_plot.h"
#include "view/run.h"
#include "view/testrun.h"

#include <math.h>

enum { RECORD_MEMORY = 192 << 20, LAST_BYTES = 8 << 20 };

struct testrun {
    struct wh_cli *cli;
    struct wh_record_ask record;
    struct wh_measure_ask ask;
    struct wh_zone_limits limits;
    struct wh_sources sources;
    size_t drawn; /* records whose spectra are drawn */
    struct wh_tree *tree;
    const struct wh_sheet *sheet; /* of the machine, or NULL */
    const struct wh_tree *last;   /* the last result, or NULL */
    const char *path;             /* of the record in hand */
    struct wh_errors errors;      /* of that record, in its own memory, like: */
    struct wh_tree *told;
};

/* ---- what is asked ---------------------------------------------------------------------------------------------- */

static enum wh_status read_value(struct wh_cli *cli, const char *option, const char *text, const char *range,
                                 double *ret)
{
    struct wh_form form;
    struct wh_value value;
    wh_form_read(range, &form);
    enum wh_status status = wh_form_value(&form, option, text, (struct wh_place){0}, &value, &cli->errors);
    if (status == WH_OK) *ret = value.best;
    return status;
}

static enum wh_status read_speed(struct wh_cli *cli, double *ret)
{
    const char *text = wh_cli_option(cli, "speed");
    return text ? read_value(cli, "--speed", text, "1..200000 rpm", ret) : WH_OK;
}

static enum wh_status read_limits(struct wh_cli *cli, struct wh_zone_ask *ask)
{
    struct wh_words words = wh_split(cli->arena, wh_cli_option(cli, "limits") ? wh_cli_option(cli, "limits") : "", ',');
    struct wh_form form;
    struct wh_value value;
    wh_form_read("0..1 m/s", &form);
    if (words.count == 0) return WH_OK;
    if (words.count > 3)
        return wh_cli_error(cli, "write --limits \"2.8 mm/s, 4.5 mm/s, 7.1 mm/s\"", "--limits: more than three");
    for (size_t i = 0; i < words.count; i++) {
        enum wh_status status =
            wh_form_value(&form, "--limits", words.at[i], (struct wh_place){0}, &value, &cli->errors);
        if (status != WH_OK) return status;
        ask->own[i] = value.best;
    }
    ask->own_count = words.count;
    ask->own_source = "as given";
    return WH_OK;
}

static enum wh_status read_machine(struct testrun *run, struct wh_zone_ask *ask)
{
    struct wh_cli *cli = run->cli;
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    const char *path = wh_cli_option(cli, "machine");
    if (!path) return WH_OK;
    enum wh_status status = wh_machine_read(cli->arena, path, &machine, &cli->errors);
    if (status == WH_OK) status = wh_sheet_make(cli->arena, machine, NULL, 0, &sheet, &cli->errors);
    if (status != WH_OK) return status;
    run->sheet = sheet;
    *ask = wh_run_zone_ask(sheet);
    run->ask.speed = wh_run_speed(sheet);
    wh_run_sources(cli->arena, sheet, &run->sources);
    return WH_OK;
}

static enum wh_status read_pulses(struct wh_cli *cli, double *ret)
{
    const char *text = wh_cli_option(cli, "pulses"), *end = text ? wh_number_read(text, ret) : NULL;
    if (!text || (end && *end == '\0' && *ret >= 1 && *ret <= 10000)) return WH_OK;
    return wh_cli_error(cli, "1 to 10000", "--pulses: \"%s\" is no number of pulses a turn", text);
}

/* What may make lines: the machine's own first, then what is named. */
static enum wh_status read_sources(struct testrun *run)
{
    struct wh_cli *cli = run->cli;
    const char *bearing = wh_cli_option(cli, "bearing"), *lines = wh_cli_option(cli, "lines");
    const char *mains = wh_cli_option(cli, "mains");
    enum wh_status status = WH_OK;
    if (bearing) status = wh_sources_add_bearing(cli->arena, &run->sources, bearing, &cli->errors);
    if (lines && status == WH_OK) status = wh_sources_add_lines(cli->arena, &run->sources, lines, &cli->errors);
    if (mains && status == WH_OK) status = read_value(cli, "--mains", mains, "10..1000 Hz", &run->sources.mains);
    return status;
}

static enum wh_status read_ask(struct testrun *run)
{
    struct wh_cli *cli = run->cli;
    struct wh_zone_ask zone = {.power = NAN};
    run->sources = wh_sources_usual();
    enum wh_status status = read_machine(run, &zone);
    if (status == WH_OK) status = read_speed(cli, &run->ask.speed);
    if (status == WH_OK && run->sheet && cli->word_count > 0)
        status =
            wh_run_refuse(cli->arena, cli->words[0], run->ask.speed, wh_run_expected(run->sheet).stamped, &cli->errors);
    if (status == WH_OK) status = read_pulses(cli, &run->ask.pulses);
    if (status == WH_OK) status = read_limits(cli, &zone);
    if (wh_cli_option(cli, "table")) {
        zone.table = wh_cli_option(cli, "table");
        if (!wh_cli_option(cli, "limits")) zone.own_count = 0;
    }
    if (status == WH_OK) status = read_sources(run);
    if (status == WH_OK) status = wh_zone_choose(cli->arena, &zone, &run->limits, &cli->errors);
    if (status == WH_OK && run->limits.count > 0) {
        run->sources.limit = run->limits.at[run->limits.count > 1];
        run->sources.limit_from = run->limits.source;
    }
    run->record = (struct wh_record_ask){.rate = wh_cli_option(cli, "rate"),
                                         .full_scale = wh_cli_option(cli, "full-scale"),
                                         .unit = wh_cli_option(cli, "unit"),
                                         .sensitivity = wh_cli_option(cli, "sensitivity"),
                                         .channels = wh_cli_option(cli, "channels")};
    return status;
}

/* ---- the records ------------------------------------------------------------------------------------------------ */

static enum wh_status draw(struct testrun *run, struct wh_arena *arena, const struct wh_scene *scene, const char *name)
{
    struct wh_text svg = {.arena = arena};
    if (scene && wh_cli_option(run->cli, "drawings")) wh_view_drawing_add(arena, run->told, scene);
    if (!scene || !wh_cli_option(run->cli, "plots")) return WH_OK;
    const char *path = wh_arena_print(arena, "%s/%s.svg", wh_cli_option(run->cli, "plots"), name);
    enum wh_status status = wh_paper_svg(arena, scene, &svg);
    return status == WH_OK ? wh_file_write(arena, path, svg.at, svg.count, &run->errors) : status;
}

/* The spectra with their named lines. */
static enum wh_status draw_reading(struct testrun *run, struct wh_arena *arena, const struct wh_measured *measured,
                                   const struct wh_reading *reading)
{
    enum wh_status status = WH_OK;
    if (!wh_cli_option(run->cli, "plots") && !wh_cli_option(run->cli, "drawings")) return WH_OK;
    run->drawn++;
    for (size_t c = 0; c < measured->channels && status == WH_OK; c++)
        status = draw(run, arena, wh_view_velocity_spectrum(arena, measured, reading, c),
                      wh_arena_print(arena, "spectrum-%zu-%zu", run->drawn, c + 1));
    if (status != WH_OK) return status;
    return draw(run, arena, wh_view_envelope(arena, measured, reading),
                wh_arena_print(arena, "envelope-%zu", run->drawn));
}

/* One record, in memory of its own: what is told of it stands in run->told, what is wrong in run->errors. */
static enum wh_status measure_record(struct wh_arena *arena, void *context)
{
    struct testrun *run = context;
    struct wh_run_record *record;
    struct wh_measured *measured;
    run->errors = wh_errors_in(arena);
    run->told = wh_view_testrun(arena, &run->limits);
    enum wh_status status = wh_record_open(arena, run->path, &run->record, &record, &run->errors);
    if (status == WH_OK) status = wh_measure(arena, record, &run->ask, &measured, &run->errors);
    if (status != WH_OK) return status;
    const struct wh_reading *reading = wh_findings(arena, measured, &run->sources);
    wh_view_testrun_add(arena, run->told, measured, &run->limits);
    wh_view_findings_add(arena, run->told, record->path, reading);
    return draw_reading(run, arena, measured, reading);
}

/* Takes over what was told of a record, before its memory is given back. */
static enum wh_status take_told(struct wh_arena *arena, void *context)
{
    struct testrun *run = context;
    for (const struct wh_error *e = run->errors.first; e; e = e->next) {
        struct wh_place place = {run->path, e->place.line, e->place.column};
        const char *right = e->right ? wh_arena_text(arena, e->right) : NULL;
        wh_errors_add(&run->cli->errors, e->status, place, right, "%s", e->says);
    }
    for (const struct wh_tree *list = run->told->first; list; list = list->next) {
        struct wh_tree *to = wh_tree_get(run->tree, list->key);
        if (!to) to = wh_tree_add_new(arena, run->tree, list->key, list->is);
        for (const struct wh_tree *item = list->first; item && list->is == WH_TREE_LIST; item = item->next)
            wh_tree_add(arena, to, NULL, wh_tree_copy(arena, item));
    }
    return WH_OK;
}

static enum wh_status read_record(struct testrun *run)
{
    struct wh_arena *own = wh_arena_new(RECORD_MEMORY);
    if (!own) wh_arena_give_up(run->cli->arena);
    run->errors = (struct wh_errors){0};
    enum wh_status status = wh_arena_within(own, measure_record, run);
    enum wh_status told = status == WH_ERR_NOMEM ? status : wh_arena_within(run->cli->arena, take_told, run);
    wh_arena_free(own);
    return told == WH_OK ? status : told;
}

static enum wh_status compare_last(struct testrun *run)
{
    struct wh_cli *cli = run->cli;
    const char *path = wh_cli_option(cli, "last");
    char *bytes;
    size_t size, count;
    struct wh_tree *last = NULL;
    struct wh_compared *compared;
    double step = run->limits.count > 0 ? run->limits.at[run->limits.count > 1] * 1e3 / 4 : NAN;
    if (!path) return WH_OK;
    enum wh_status status = wh_file_read(cli->arena, path, LAST_BYTES, &bytes, &size, &cli->errors);
    if (status == WH_OK) status = wh_tree_read(cli->arena, path, bytes, size, &last, &cli->errors);
    if (status == WH_OK) run->last = last;
    if (status == WH_OK && cli->word_count > 0)
        status = wh_compare(cli->arena, last, run->tree, step, &compared, &count, &cli->errors);
    if (status == WH_OK && cli->word_count > 0) wh_view_testrun_compared(cli->arena, run->tree, compared, count);
    return status;
}

static enum wh_status read_runs(struct testrun *run)
{
    struct wh_cli_runs ask = {.sheet = run->sheet,
                              .record = &run->record,
                              .speed = run->ask.speed,
                              .pulses = run->ask.pulses,
                              .last = run->last,
                              .memory = RECORD_MEMORY};
    return wh_cli_runs(run->cli, &ask, run->tree);
}

static enum wh_status run(struct wh_cli *cli)
{
    struct testrun run = {.cli = cli};
    if (cli->word_count == 0 && !wh_cli_runs_asked(cli))
        return wh_cli_error(cli, "name one or more, for example record.wav", "no record is named");
    enum wh_status status = read_ask(&run);
    if (status != WH_OK) return status;
    run.tree = wh_view_testrun(cli->arena, &run.limits);
    for (size_t r = 0; r < cli->word_count && status == WH_OK; r++) {
        run.path = cli->words[r];
        status = read_record(&run);
    }
    if (status == WH_OK) status = compare_last(&run);
    if (status == WH_OK) status = read_runs(&run);
    if (status != WH_OK) return status;
    if (cli->word_count > 0) wh_view_testrun_close(cli->arena, run.tree, &run.limits);
    if (wh_cli_option(cli, "json"))
        wh_cli_json(cli, run.tree);
    else
        wh_text_add(&cli->out, wh_view_testrun_text(cli->arena, run.tree));
    return WH_OK;
}

const struct wh_command wh_command_testrun = {
    .name = "testrun",
    .usage = "testrun RECORD… [--machine FILE] [--speed SPEED] [--unit UNIT] [--last FILE]",
    .words = "Reads vibration records (WAV, CSV, universal files) and says what they show: levels against the\n"
             "machine's own limits, or those of a published table; which lines stand out and what makes them; what\n"
             "changed since its last record; what is doubtful about the record. Run-up and run-down are read too.",
    .example = "wharve testrun neck.wav --machine machines/juice-clarifier.yaml --full-scale \"50 m/s2\"",
    .options = {{"machine", "FILE", "the machine it was taken at: its speed and limits"},
                {"speed", "SPEED", "of the spindle, \"4860 rpm\""},
                {"bearing", "NAME", "a bearing on it, \"6205\""},
                {"lines", "ORDERS",
                 "a bearing by its lines, times a turn: outer=3.585,inner=5.415,roller=4.714,cage=0.398"},
                {"mains", "FREQUENCY", "of the mains, 50 Hz when it is not said"},
                {"table", "TABLE", "limits of a published table: group-2-rigid, class-1, pump-1-small, BV-3-rigid …"},
                {"limits", "LIMITS", "the machine's own: \"2.8 mm/s, 4.5 mm/s, 7.1 mm/s\", good up to, alarm, stop"},
                {"last", "FILE", "the machine's last record, as --json printed it"},
                {"channels", "NAMES", "\"neck across, neck along, tacho\": a place, then across, up or along"},
                {"unit", "UNITS", "of the numbers, one for all or one each: m/s2, g, mm/s, um, V"},
                {"full-scale", "VALUES", "of WAV: \"50 m/s2\" or \"10 V\""},
                {"sensitivity", "VALUES", "of the sensor, for volts: \"100 mV/g\""},
                {"rate", "RATE", "samples a second, \"25.6 kHz\", where the file does not say"},
                {"pulses", "COUNT", "of the tacho a turn; 1 when it is not said"},
                WH_CLI_RUNS_OPTIONS,
                {"json", NULL, "print JSON"}},
    .run = run};
