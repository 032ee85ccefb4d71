/* The runs of a balancing sheet: what was fitted, what was read. */
#include "machine/balance_reader.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A run as written. */
struct run_written {
    const char *id, *fastened;
    struct wh_words fitted, reads, off;
    bool stays;
    double speed;
};
#define RUN(name, is, member)                                                                                          \
    {                                                                                                                  \
        name, is, offsetof(struct run_written, member), NULL, NULL, false                                              \
    }
static const struct wh_field run_fields[] = {
    {"id", WH_FIELD_TEXT, offsetof(struct run_written, id), NULL, NULL, true},
    RUN("fitted", WH_FIELD_TEXTS, fitted),
    RUN("fastened", WH_FIELD_TEXT, fastened),
    RUN("stays", WH_FIELD_YES, stays),
    RUN("taken off", WH_FIELD_TEXTS, off),
    {"speed", WH_FIELD_QUANTITY, offsetof(struct run_written, speed), "1..200000 rpm", NULL, false},
    {"reads", WH_FIELD_TEXTS, offsetof(struct run_written, reads), NULL, NULL, true},
};

const char *wh_balance_cut(struct wh_balance_reader *b, const char **text, const char *word)
{
    const char *at = strstr(*text, word);
    if (!at) return NULL;
    const char *rest = wh_arena_text(b->reader.arena, at + strlen(word));
    *text = wh_arena_slice(b->reader.arena, *text, (size_t)(at - *text));
    return rest;
}

size_t wh_balance_hole_named(struct wh_balance_reader *b, const struct wh_tree *node, const char *text,
                             const struct wh_balance_plane *plane)
{
    double hole = wh_balance_quantity(b, node, "1..32 1", text);
    if (isnan(hole)) return 0;
    if (hole > (double)plane->holes || hole - floor(hole) > 0) {
        wh_read_error(&b->reader, node, "count the holes of the plane under \"holes\"", "plane %s has no hole %s",
                      plane->id, text);
        return 0;
    }
    return (size_t)hole;
}

/* "20 g at 90 deg", "20 g in hole 4", with "on PLANE" where there is more than one. */
static void read_fitted(struct wh_balance_reader *b, const struct wh_tree *node, const char *text, size_t run,
                        const struct run_written *written)
{
    struct wh_balance_sheet *sheet = b->sheet;
    const char *whole = text, *on = wh_balance_cut(b, &text, " on ");
    const char *at = wh_balance_cut(b, &text, " at "), *in = at ? NULL : wh_balance_cut(b, &text, " in hole ");
    struct wh_balance_fitted f = {.run = run, .off = SIZE_MAX, .stays = written->stays, .fastened = written->fastened};
    if ((!at && !in) || (!on && sheet->planes > 1)) {
        wh_read_error(&b->reader, node,
                      "write \"20 g at 90 deg\" or \"20 g in hole 4\", and \"on PLANE\" where there "
                      "are several planes",
                      "\"%s\" does not say where the mass sits", whole);
        return;
    }
    f.plane = on ? wh_balance_plane_named(b, node, on) : 0;
    if (f.plane == WH_NONE) return;
    f.mass = wh_balance_quantity(b, node, "0.001..1000000 g", text);
    if (in) f.hole = wh_balance_hole_named(b, node, in, &sheet->plane[f.plane]);
    if (in && f.hole == 0) return;
    f.angle = in ? wh_balance_hole(&sheet->plane[f.plane], f.hole) : wh_balance_quantity(b, node, "-360..720 deg", at);
    if (isnan(f.mass) || isnan(f.angle)) return;
    if (sheet->fitted_count == WH_BALANCE_FITTED) {
        wh_read_error(&b->reader, node, NULL, "more than %d masses", WH_BALANCE_FITTED);
        return;
    }
    sheet->fitted[sheet->fitted_count++] = f;
}

/* The unit of a sensor is that of its first reading: of a length, a speed or an acceleration. */
static bool unit_fits(struct wh_balance_sensor *sensor, const struct wh_unit *unit)
{
    static const struct wh_dimension kinds[] = {{{1}}, {{1, 0, -1}}, {{1, 0, -2}}};
    if (sensor->unit.length > 0) return wh_dimension_same(sensor->unit.dimension, unit->dimension);
    for (size_t k = 0; k < 3; k++)
        if (wh_dimension_same(kinds[k], unit->dimension)) {
            sensor->unit = *unit;
            return true;
        }
    return false;
}

/* "5.2 mm/s at 63 deg", "5.2 mm/s at 60..66 deg" where the phase wandered, "5.2 mm/s" without phase, "-". */
static void read_reading(struct wh_balance_reader *b, const struct wh_tree *node, const char *text,
                         struct wh_balance_sensor *sensor, struct wh_balance_reading *ret)
{
    struct wh_value value, phase;
    struct wh_unit unit;
    struct wh_form form;
    if (wh_same(text, "-")) return;
    const char *whole = text, *at = wh_balance_cut(b, &text, " at ");
    if (wh_value_read(text, NULL, &value, &unit) != WH_READ_WELL || !unit_fits(sensor, &unit) || !(value.best >= 0)) {
        wh_read_error(&b->reader, node, "write the amplitude at once a turn, and its phase: \"5.2 mm/s at 63 deg\"",
                      "\"%s\" is no reading of sensor %s", whole, sensor->id);
        return;
    }
    ret->amplitude = value.best;
    if (!at) return;
    wh_form_read("-360..720 deg", &form);
    if (wh_form_value(&form, "phase", at, node->place, &phase, b->reader.errors) != WH_OK) return;
    ret->phase = phase.best;
    ret->phase_width = phase.shape == WH_EXACT ? 0 : phase.most - phase.least;
}

/* The masses of these runs come off before this one. */
static void take_off(struct wh_balance_reader *b, const struct wh_tree *node, const struct run_written *written,
                     size_t run)
{
    struct wh_balance_sheet *sheet = b->sheet;
    for (size_t i = 0; i < written->off.count; i++) {
        bool known = false;
        for (size_t f = 0; f < sheet->fitted_count; f++) {
            struct wh_balance_fitted *fitted = &sheet->fitted[f];
            if (!wh_same(sheet->run[fitted->run].id, written->off.at[i]) || !fitted->stays) continue;
            known = true;
            fitted->off = run;
        }
        if (!known)
            wh_read_error(&b->reader, node, "name a run above whose masses stay", "no mass of a run \"%s\" is on here",
                          written->off.at[i]);
    }
}

static const struct wh_tree *key_of(const struct wh_tree *item, const char *key)
{
    const struct wh_tree *node = wh_tree_get(item, key);
    return node ? node : item;
}

static void read_run(struct wh_balance_reader *b, const struct wh_tree *item)
{
    struct wh_balance_sheet *sheet = b->sheet;
    struct run_written written = {.speed = NAN};
    size_t r = sheet->runs;
    wh_read_fields(&b->reader, item, run_fields, sizeof run_fields / sizeof *run_fields, &written, NULL);
    if (r == WH_BALANCE_RUNS) {
        wh_read_error(&b->reader, item, NULL, "more than %d runs", WH_BALANCE_RUNS);
        return;
    }
    struct wh_balance_run *run = &sheet->run[sheet->runs++];
    *run = (struct wh_balance_run){.id = written.id ? written.id : "?", .speed = written.speed};
    for (size_t s = 0; s < WH_BALANCE_SENSORS; s++) run->reads[s] = (struct wh_balance_reading){NAN, NAN, 0};
    take_off(b, key_of(item, "taken off"), &written, r);
    for (size_t i = 0; i < written.fitted.count; i++)
        read_fitted(b, key_of(item, "fitted"), written.fitted.at[i], r, &written);
    if (written.reads.count != sheet->sensors)
        wh_read_error(&b->reader, key_of(item, "reads"),
                      "one reading a sensor in their order, parted by \";\"; \"-\" "
                      "for none",
                      "%zu readings for %zu sensors", written.reads.count, sheet->sensors);
    for (size_t s = 0; s < written.reads.count && s < sheet->sensors; s++)
        read_reading(b, key_of(item, "reads"), written.reads.at[s], &sheet->sensor[s], &run->reads[s]);
}

void wh_balance_read_runs(struct wh_balance_reader *b, const struct wh_tree *tree)
{
    const struct wh_tree *list = wh_read_list(&b->reader, tree, "runs");
    for (const struct wh_tree *item = list ? list->first : NULL; item; item = item->next) read_run(b, item);
    if (list && b->sheet->runs == 0) wh_read_error(&b->reader, list, NULL, "there is no run");
}
