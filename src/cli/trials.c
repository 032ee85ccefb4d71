/* The options --trials, --seed, --threads and --limits, alike for figures of a machine and for one rule. */
#include "cli/cli.h"
#include "view/spread.h"

#include <math.h>
#include <string.h>
#include <unistd.h>

/* A whole number of an option, `otherwise` where it is not given. */
static enum wh_status read_whole(struct wh_cli *cli, const char *name, double least, double most, double otherwise,
                                 double *ret)
{
    const char *text = wh_cli_option(cli, name);
    *ret = otherwise;
    if (!text) return WH_OK;
    const char *end = wh_number_read(text, ret);
    if (!end || *end || *ret < least || *ret > most || floor(*ret) < *ret)
        return wh_cli_error(cli, NULL, "--%s: \"%s\" is no whole number from %.0f to %.0f", name, text, least, most);
    return WH_OK;
}

static double processors(void)
{
    long count = sysconf(_SC_NPROCESSORS_ONLN);
    return count < 1 ? 1 : count > WH_SPREAD_THREADS ? WH_SPREAD_THREADS : (double)count;
}

/* Limits of the checks whose reading becomes the value of a wished cell. */
static void take_checks(const struct wh_sheet *sheet, const struct wh_spread_wish *wish, struct wh_limits limits[])
{
    for (size_t f = 0; f < wish->count; f++) {
        limits[f] = (struct wh_limits){-INFINITY, INFINITY};
        for (size_t c = 0; sheet->machine && c < sheet->machine->check_count; c++) {
            const struct wh_check *check = &sheet->machine->checks[c];
            if (check->has_limits && check->sets && wh_same(check->sets, sheet->cells[wish->cells[f]].name))
                limits[f] = (struct wh_limits){check->least, check->most};
        }
    }
}

static enum wh_status no_limits(struct wh_cli *cli, const char *text, const struct wh_form *form)
{
    return wh_cli_error(cli, "write least..most with a unit, one side may be left out: \"0..20 um\", \"5.. um\"",
                        "--limits: \"%s\" are no limits of %s", text,
                        wh_dimension_words(cli->arena, form->unit.dimension));
}

/* "neck-bearing.clearance-left=0..20 um"; of a rule without the name: its first result. */
static enum wh_status take_limits(struct wh_cli *cli, const struct wh_sheet *sheet, const struct wh_spread_wish *wish,
                                  const char *text, struct wh_limits limits[])
{
    const char *equals = strchr(text, '='), *range = equals ? equals + 1 : text;
    const char *name = wh_arena_slice(cli->arena, text, equals ? (size_t)(equals - text) : 0);
    size_t f = 0;
    struct wh_form read;
    while (equals && f < wish->count && !wh_same(sheet->cells[wish->cells[f]].name, name)) f++;
    if (f == wish->count || (!equals && sheet->machine))
        return wh_cli_error(cli, "write --limits NAME=LEAST..MOST", "--limits: \"%s\" is none of the figures asked for",
                            equals ? name : text);
    const struct wh_form *form = &sheet->cells[wish->cells[f]].form;
    if (!wh_form_read(range, &read) || read.vocabulary ||
        !wh_dimension_same(read.unit.dimension, form->unit.dimension) ||
        (read.unit.offset > 0 && form->unit.offset <= 0) || (!isfinite(read.least) && !isfinite(read.most)))
        return no_limits(cli, range, form);
    limits[f] = (struct wh_limits){read.least, read.most};
    return WH_OK;
}

static enum wh_status read_limits(struct wh_cli *cli, const struct wh_sheet *sheet, struct wh_spread_wish *wish)
{
    struct wh_limits *limits = WH_NEW(cli->arena, wish->count + 1, struct wh_limits);
    take_checks(sheet, wish, limits);
    wish->limits = limits;
    for (size_t i = 0; i < cli->option_count; i++) {
        if (!wh_same(cli->options[i].key, "limits")) continue;
        enum wh_status status = take_limits(cli, sheet, wish, cli->options[i].text, limits);
        if (status != WH_OK) return status;
    }
    return WH_OK;
}

enum wh_status wh_cli_trials(struct wh_cli *cli, const struct wh_sheet *sheet, const size_t cells[], size_t count,
                             bool steady)
{
    double trials, seed, threads;
    struct wh_spread_wish wish = {.cells = cells, .count = count, .matters = true};
    enum wh_status status = read_whole(cli, "trials", 2, WH_SPREAD_TRIALS, 0, &trials);
    if (status == WH_OK) status = read_whole(cli, "seed", 0, 0x1p53, 1, &seed);
    if (status == WH_OK) status = read_whole(cli, "threads", 1, WH_SPREAD_THREADS, processors(), &threads);
    if (status == WH_OK) status = read_limits(cli, sheet, &wish);
    if (status != WH_OK) return status;
    wish.trials = (size_t)trials;
    wish.seed = (uint64_t)seed;
    wish.threads = (size_t)threads;
    struct wh_spread *spreads = WH_NEW(cli->arena, count + 1, struct wh_spread);
    wh_sheet_trials(cli->arena, sheet, &wish, spreads);
    struct wh_tree *tree = wh_view_spreads(cli->arena, sheet, &wish, spreads, steady);
    if (wh_cli_option(cli, "json"))
        wh_cli_json(cli, tree);
    else
        wh_text_add(&cli->out, wh_view_spreads_text(cli->arena, tree));
    return WH_OK;
}
