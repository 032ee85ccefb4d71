#include "job/run_ask.h"

#include <math.h>

static double value_of(const struct wh_sheet *sheet, size_t thing, const char *name)
{
    size_t cell = wh_sheet_figure(sheet, thing, name);
    return cell == WH_NONE ? NAN : sheet->value[cell];
}

double wh_run_speed(const struct wh_sheet *sheet)
{
    const struct wh_given_value *given = wh_thing_value(&sheet->machine->things[0], "speed");
    size_t cell = given && given->follows ? wh_sheet_cell(sheet, given->follows) : WH_NONE;
    double speed = cell == WH_NONE ? value_of(sheet, 0, "speed") : sheet->value[cell];
    return isfinite(speed) ? speed : 0;
}

static bool is_velocity(const struct wh_unit *unit)
{
    struct wh_unit velocity;
    wh_unit_read("m/s", 3, &velocity);
    return wh_dimension_same(unit->dimension, velocity.dimension);
}

/* The check of the test run that has a greatest velocity. */
static void take_check(const struct wh_machine *machine, struct wh_zone_ask *ask)
{
    for (size_t c = 0; c < machine->check_count && ask->own_count == 0; c++) {
        const struct wh_check *check = &machine->checks[c];
        if (check->phase != WH_PHASE_TEST || !check->has_limits || !is_velocity(&check->unit) || !isfinite(check->most))
            continue;
        ask->own[ask->own_count++] = check->most;
        ask->own_source = check->title;
    }
}

static const char *written(const struct wh_thing *thing, const char *key)
{
    const struct wh_given_value *value = wh_thing_value(thing, key);
    return value ? value->written : NULL;
}

struct wh_zone_ask wh_run_zone_ask(const struct wh_sheet *sheet)
{
    const struct wh_machine *machine = sheet->machine;
    const struct wh_thing *whole = &machine->things[0];
    const struct wh_given_value *limits = wh_thing_value(whole, "vibration-limits");
    struct wh_zone_ask ask = {.power = NAN, .table = written(whole, "fan-category")};
    if (!ask.table) ask.table = written(whole, "vibration-group");
    for (size_t i = 0; limits && i < limits->count && i < 3; i++) ask.own[ask.own_count++] = limits->at[i].best;
    if (ask.own_count) ask.own_source = "machine file";
    take_check(machine, &ask);
    for (size_t t = 0; t < machine->thing_count; t++) {
        const char *kind = machine->things[t].kind->name;
        double power = wh_same(kind, "motor") ? value_of(sheet, t, "power") : NAN;
        ask.power = fmax(ask.power, power); /* the greater number, whichever is one */
        ask.soft = ask.soft || wh_same(kind, "mount");
    }
    return ask;
}
