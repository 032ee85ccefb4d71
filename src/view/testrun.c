#include "view/testrun.h"

#include "base/quantity.h"
#include "trade/rule.h"
#include "view/finding.h"
#include "view/run.h"

#include <math.h>
#include <string.h>

enum { DIGITS = 3 };

static struct wh_unit unit_of(const char *name)
{
    struct wh_unit unit = {0};
    wh_unit_read(name, strlen(name), &unit);
    return unit;
}

struct wh_tree *wh_view_testrun(struct wh_arena *arena, const struct wh_zone_limits *limits)
{
    static const char *const lists[] = {"records", "figures", "lines", "findings", "doubts"};
    struct wh_tree *run = wh_tree_new(arena, WH_TREE_MAP);
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) wh_tree_add_new(arena, run, lists[i], WH_TREE_LIST);
    if (limits->count == 0) return run;
    struct wh_tree *map = wh_tree_add_new(arena, run, "limits", WH_TREE_MAP);
    struct wh_unit unit = unit_of("mm/s");
    struct wh_tree *at = wh_tree_add_new(arena, map, "at", WH_TREE_LIST);
    for (size_t i = 0; i < limits->count; i++)
        wh_tree_add_text(arena, at, NULL, wh_quantity_print(arena, limits->at[i], &unit, 2));
    wh_tree_add_text(arena, map, "source", limits->source);
    if (limits->doubt) wh_tree_add_text(arena, map, "does not hold", limits->doubt);
    return run;
}

/* ---- a record --------------------------------------------------------------------------------------------------- */

static void add_doubts(struct wh_arena *arena, struct wh_tree *run, const char *path, const struct wh_doubts *doubts)
{
    struct wh_tree *list = wh_tree_get(run, "doubts");
    for (size_t d = 0; d < doubts->count; d++)
        wh_tree_add_text(arena, list, NULL, wh_arena_print(arena, "%s: %s", path, doubts->at[d]));
}

static void add_record(struct wh_arena *arena, struct wh_tree *run, const struct wh_measured *m)
{
    struct wh_tree *map = wh_tree_add_new(arena, wh_tree_get(run, "records"), NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "record", m->record->path);
    wh_tree_add_text(arena, map, "form", m->record->form);
    wh_tree_add_number(arena, map, "seconds", m->seconds);
    wh_tree_add_number(arena, map, "rate", m->record->rate);
    wh_tree_add_number(arena, map, "channels", (double)m->channels);
    if (m->speed > 0) wh_tree_add_number(arena, map, "rpm", m->speed * 30 / WH_PI);
    if (m->speed > 0) wh_tree_add_text(arena, map, "speed", m->tacho ? "by the tacho" : "as stated");
    add_doubts(arena, run, m->record->path, &m->record->doubts);
    add_doubts(arena, run, m->record->path, &m->doubts);
    for (size_t c = 0; c < m->channels; c++) add_doubts(arena, run, m->record->path, &m->channel[c].doubts);
}

static void add_zone(struct wh_arena *arena, struct wh_tree *map, double velocity, const struct wh_zone_limits *limits)
{
    size_t zone = wh_zone_of(limits, velocity);
    if (limits->letters) wh_tree_add_text(arena, map, "zone", wh_arena_slice(arena, limits->letters + zone, 1));
    wh_tree_add_text(arena, map, "judged", limits->words[zone]);
    wh_tree_add_number(arena, map, "step", (double)zone);
}

static void add_figure(struct wh_arena *arena, struct wh_tree *run, const struct wh_measured *m,
                       const struct wh_run_figure *figure, const struct wh_zone_limits *limits)
{
    struct wh_tree *map = wh_tree_add_new(arena, wh_tree_get(run, "figures"), NULL, WH_TREE_MAP);
    struct wh_unit unit = unit_of(figure->unit);
    wh_tree_add_text(arena, map, "name", figure->name);
    wh_tree_add_text(arena, map, "title", figure->title);
    wh_tree_add_text(arena, map, "channel", figure->of->name);
    wh_tree_add_text(arena, map, "place", figure->of->place);
    wh_tree_add_text(arena, map, "direction", figure->of->direction);
    wh_tree_add_text(arena, map, "record", m->record->path);
    wh_tree_add_number(arena, map, "value", figure->value / unit.factor);
    wh_tree_add_text(arena, map, "unit", figure->unit);
    wh_tree_add_text(arena, map, "shown", wh_quantity_print(arena, figure->value, &unit, DIGITS));
    if (figure->high > 0) wh_tree_add_number(arena, map, "low", figure->low);
    if (figure->high > 0) wh_tree_add_number(arena, map, "high", figure->high);
    if (limits->count && wh_same(figure->name, "velocity")) add_zone(arena, map, figure->value, limits);
}

void wh_view_testrun_add(struct wh_arena *arena, struct wh_tree *run, const struct wh_measured *measured,
                         const struct wh_zone_limits *limits)
{
    size_t count;
    const struct wh_run_figure *figures = wh_run_figures(arena, measured, &count);
    add_record(arena, run, measured);
    for (size_t f = 0; f < count; f++) add_figure(arena, run, measured, &figures[f], limits);
}

/* ---- the last record, the verdict ------------------------------------------------------------------------------- */

void wh_view_testrun_compared(struct wh_arena *arena, struct wh_tree *run, const struct wh_compared compared[],
                              size_t count)
{
    struct wh_tree *list = wh_tree_add_new(arena, run, "compared", WH_TREE_LIST);
    for (size_t i = 0; i < count; i++) {
        const struct wh_compared *c = &compared[i];
        struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, map, "name", c->name);
        wh_tree_add_text(arena, map, "place", c->place);
        wh_tree_add_text(arena, map, "direction", c->direction);
        wh_tree_add_number(arena, map, "before", c->before);
        wh_tree_add_number(arena, map, "now", c->now);
        wh_tree_add_text(arena, map, "unit", c->unit);
        wh_tree_add_truth(arena, map, "matters", c->matters);
        wh_tree_add_text(arena, map, "says", c->says);
    }
}

/* The velocity that stands worst. */
static const struct wh_tree *worst(const struct wh_tree *figures)
{
    const struct wh_tree *worst = NULL;
    for (const struct wh_tree *f = figures->first; f; f = f->next)
        if (wh_same(wh_tree_text(f, "name", ""), "velocity") &&
            (!worst || wh_tree_number(f, "value", 0) > wh_tree_number(worst, "value", 0)))
            worst = f;
    return worst;
}

void wh_view_testrun_close(struct wh_arena *arena, struct wh_tree *run, const struct wh_zone_limits *limits)
{
    const struct wh_tree *figure = worst(wh_tree_get(run, "figures"));
    const char *says;
    if (!figure)
        says = "The levels cannot be judged: no unit is known.";
    else if (limits->count == 0)
        says = wh_arena_print(arena, "At most %s at %s; no limits are known to judge it by.",
                              wh_tree_text(figure, "shown", ""), wh_tree_text(figure, "channel", ""));
    else
        says = wh_arena_print(arena, "At most %s at %s: %s, by %s.", wh_tree_text(figure, "shown", ""),
                              wh_tree_text(figure, "channel", ""), wh_tree_text(figure, "judged", ""), limits->source);
    wh_tree_add_text(arena, run, "says", says);
}

/* ---- as text ---------------------------------------------------------------------------------------------------- */

static void print_record(struct wh_text *text, const struct wh_tree *record)
{
    double rpm = wh_tree_number(record, "rpm", 0);
    wh_text_print(text, "\n%s: %s, %.4g s at %g samples a second, %g channel%s", wh_tree_text(record, "record", ""),
                  wh_tree_text(record, "form", ""), wh_tree_number(record, "seconds", 0),
                  wh_tree_number(record, "rate", 0), wh_tree_number(record, "channels", 0),
                  wh_tree_number(record, "channels", 0) > 1 ? "s" : "");
    if (rpm > 0) wh_text_print(text, ", %.0f rpm %s", rpm, wh_tree_text(record, "speed", ""));
    wh_text_add(text, "\n");
}

static void print_figure(struct wh_text *text, const struct wh_tree *figure, const char **channel)
{
    const char *name = wh_tree_text(figure, "channel", ""), *judged = wh_tree_text(figure, "judged", NULL);
    double high = wh_tree_number(figure, "high", 0);
    if (!wh_same(name, *channel)) wh_text_print(text, "  %s\n", name);
    *channel = name;
    const char *band =
        high > 0 ? wh_arena_print(text->arena, ", %g to %g Hz", wh_tree_number(figure, "low", 0), high) : "";
    wh_text_print(text, "    %-45s %12s%s%s\n",
                  wh_arena_print(text->arena, "%s%s", wh_tree_text(figure, "title", ""), band),
                  wh_tree_text(figure, "shown", ""), judged ? "  " : "", judged ? judged : "");
}

static void print_compared(struct wh_text *text, const struct wh_tree *list)
{
    size_t told = 0;
    if (!list) return;
    wh_text_add(text, "\nSince the last record:\n");
    for (const struct wh_tree *c = list->first; c; c = c->next) {
        const struct wh_tree *matters = wh_tree_get(c, "matters");
        if (!matters || !wh_same(matters->text, "true")) continue;
        told++;
        wh_text_print(text, "  %s%s%s%s%s: %.3g, was %.3g%s%s: %s\n", wh_tree_text(c, "place", ""),
                      *wh_tree_text(c, "direction", "") ? " " : "", wh_tree_text(c, "direction", ""),
                      *wh_tree_text(c, "place", "") ? ", " : "", wh_tree_text(c, "name", ""),
                      wh_tree_number(c, "now", 0), wh_tree_number(c, "before", 0),
                      *wh_tree_text(c, "unit", "") ? " " : "", wh_tree_text(c, "unit", ""),
                      wh_tree_text(c, "says", ""));
    }
    if (list->count == 0)
        wh_text_add(text, "  nothing in it can be compared: other places, bands or units\n");
    else if (told == 0)
        wh_text_print(text, "  %zu figures compared, none changed by what matters\n", (size_t)list->count);
}

const char *wh_view_testrun_text(struct wh_arena *arena, const struct wh_tree *run)
{
    struct wh_text text = {.arena = arena};
    const char *channel = NULL;
    const struct wh_tree *limits = wh_tree_get(run, "limits"), *doubts = wh_tree_get(run, "doubts");
    wh_view_findings_text(&text, run);
    if (wh_tree_get(run, "says")) wh_text_print(&text, "%s\n", wh_tree_text(run, "says", ""));
    if (wh_tree_get(limits, "does not hold"))
        wh_text_print(&text, "That table does not hold here: %s.\n", wh_tree_text(limits, "does not hold", ""));
    for (const struct wh_tree *r = wh_tree_get(run, "records")->first; r; r = r->next) {
        print_record(&text, r);
        channel = NULL;
        for (const struct wh_tree *f = wh_tree_get(run, "figures")->first; f; f = f->next)
            if (wh_same(wh_tree_text(f, "record", ""), wh_tree_text(r, "record", ""))) print_figure(&text, f, &channel);
    }
    wh_view_lines_text(&text, run);
    wh_view_run_text(&text, run);
    print_compared(&text, wh_tree_get(run, "compared"));
    if (doubts->count) wh_text_add(&text, "\nDoubtful:\n");
    for (const struct wh_tree *d = doubts->first; d; d = d->next) wh_text_print(&text, "  %s\n", d->text);
    return text.at;
}
