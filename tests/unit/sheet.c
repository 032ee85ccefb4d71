/* Sheets of tiny machines: where each value comes from, what is missing and why, limits and uncertainties by hand. */
#include "base/text.h"
#include "check.h"
#include "sheet/sheet.h"

#include <string.h>

#define HEAD "format: 1\nmachine:\n  title: Trial\n  speed: 1000 +- 20 rpm\n"
#define MOUNT(more)                                                                                                    \
    "parts:\n  - id: rubber\n    is: mount\n    inner: 50 mm\n    outer: 80 mm\n    width: 20 mm\n"                    \
    "    height: 200 mm\n" more
#define SPINDLE(more)                                                                                                  \
    "  - id: spindle\n    is: spindle\n    mount: rubber\n    push force: 50 N\n    dial height: 300 mm\n" more
#define SLEEVE(bore, more)                                                                                             \
    "parts:\n  - id: sleeve\n    is: sleeve\n    seat: land\n    bore: " bore "\n    outside: 40 mm\n"                 \
    "    width: 20 mm\n" more "features:\n  - id: land\n    is: seat\n"
#define BEARING "parts:\n  - id: ball\n    is: bearing\n    designation: 6205\n"

static enum wh_status try(struct wh_arena *arena, const char *text, const struct wh_setting settings[], size_t n,
                          struct wh_sheet **ret, struct wh_errors *errors)
{
    struct wh_machine *machine;
    enum wh_status status = wh_machine_read_text(arena, "trial.yaml", text, strlen(text), &machine, errors);
    if (status != WH_OK) fail_msg("%s", wh_errors_text(arena, errors));
    return wh_sheet_make(arena, machine, settings, n, ret, errors);
}

/* The sheet with one value set, or none. */
static struct wh_sheet *sheet(struct wh_arena *arena, const char *text, const char *name, const char *value)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_setting setting = {name, value, WH_ORIGIN_SET};
    struct wh_sheet *made = NULL;
    if (try(arena, text, &setting, name ? 1 : 0, &made, &errors) != WH_OK)
        fail_msg("%s", wh_errors_text(arena, &errors));
    return made;
}

static size_t cell(const struct wh_sheet *made, const char *name)
{
    size_t found = wh_sheet_cell(made, name);
    if (found == WH_NONE) fail_msg("there is no cell %s", name);
    return found;
}

static double value(const struct wh_sheet *made, const char *name)
{
    return made->value[cell(made, name)];
}

static void check_origin(const struct wh_sheet *made, const char *name, enum wh_origin origin)
{
    size_t c = cell(made, name);
    if (made->cells[c].origin != origin) fail_msg("%s: origin %d, not %d", name, made->cells[c].origin, origin);
    assert_true((made->cells[c].use != WH_NONE) == (origin == WH_ORIGIN_COMPUTED));
}

/* Set goes before given, given before worked out; what hangs on it follows: d = 2 P (z/h)^2 / k. */
ARENA_TEST(set_goes_before_given_before_own_figure)
{
    const char *plain = HEAD MOUNT("    hardness: 50 1\n") SPINDLE("");
    const char *given = HEAD MOUNT("    hardness: 50 1\n    mount stiffness: 250 N/mm\n") SPINDLE("");
    struct wh_sheet *worked = sheet(arena, plain, NULL, NULL), *stated = sheet(arena, given, NULL, NULL);
    struct wh_sheet *set = sheet(arena, given, "rubber.mount-stiffness", "500 N/mm");
    double travel = 2 * 50 * 1.5 * 1.5;
    check_origin(worked, "rubber.mount-stiffness", WH_ORIGIN_COMPUTED);
    check_origin(stated, "rubber.mount-stiffness", WH_ORIGIN_GIVEN);
    check_origin(set, "rubber.mount-stiffness", WH_ORIGIN_SET);
    check_close(value(worked, "spindle.push-deflection"), travel / value(worked, "rubber.mount-stiffness"), 0, 1e-12);
    check_close(value(stated, "spindle.push-deflection"), travel / 250e3, 0, 1e-12);
    check_close(value(set, "spindle.push-deflection"), travel / 500e3, 0, 1e-12);
    struct wh_sheet *of_figure = sheet(arena, plain, "rubber.mount-stiffness", "500 N/mm"); /* a figure is set, too */
    check_close(value(of_figure, "spindle.push-deflection"), travel / 500e3, 0, 1e-12);
    return WH_OK;
}

/* A figure goes before a usual value, a neighbour's value by its role before the usual one, and that where there is
 * nothing else. */
ARENA_TEST(figures_and_roles_go_before_usual)
{
    const char *text = HEAD SLEEVE("30 mm H7", "") "    diameter: 30 mm n6\n    temperature: 35 degC\n";
    struct wh_sheet *made = sheet(arena, text, NULL, NULL);
    check_origin(made, "sleeve.fit-friction", WH_ORIGIN_USUAL);
    check_origin(made, "sleeve.spare", WH_ORIGIN_USUAL);
    check_origin(made, "sleeve.interference", WH_ORIGIN_COMPUTED);
    check_origin(made, "land.diameter", WH_ORIGIN_TABLE);
    check_origin(made, "land.temperature", WH_ORIGIN_GIVEN);
    assert_int_equal(wh_sheet_cell(made, "sleeve.seat-temperature"), WH_NONE); /* the role's, not the usual one */
    check_origin(sheet(arena, text, "sleeve.fit-friction", "0.15"), "sleeve.fit-friction", WH_ORIGIN_SET);
    struct wh_sheet *ball = sheet(arena, HEAD BEARING, NULL, NULL);
    check_origin(ball, "ball.cage", WH_ORIGIN_USUAL);
    check_origin(ball, "ball.rating", WH_ORIGIN_TABLE);
    ball = sheet(arena, HEAD BEARING "    rating: 15 kN\n", NULL, NULL);
    check_origin(ball, "ball.rating", WH_ORIGIN_GIVEN);
    check_close(value(ball, "ball.rating"), 15e3, 0, 1e-12);
    return WH_OK;
}

static const char *why(const struct wh_sheet *made, const char *id, const char *figure)
{
    for (size_t m = 0; m < made->missing_count; m++)
        if (made->missing[m].thing == wh_machine_thing(made->machine, id) &&
            strcmp(made->missing[m].figure, figure) == 0)
            return made->missing[m].why;
    fail_msg("%s.%s is not missing", id, figure);
    return "";
}

static void check_why(const struct wh_sheet *made, const char *id, const char *figure, const char *words)
{
    if (!strstr(why(made, id, figure), words)) fail_msg("%s.%s: %s", id, figure, why(made, id, figure));
    assert_int_equal(wh_sheet_figure(made, wh_machine_thing(made->machine, id), figure), WH_NONE);
}

ARENA_TEST(what_is_missing_says_why)
{
    struct wh_sheet *made = sheet(arena, HEAD MOUNT("") SPINDLE(""), NULL, NULL);
    check_why(made, "rubber", "shear-modulus", "it needs hardness (Shore A hardness)");
    check_why(made, "rubber", "mount-stiffness", "it needs shear-modulus (shear modulus of the rubber): shear-modulus");
    check_why(made, "spindle", "push-deflection", "it needs mount.mount-stiffness");
    check_why(made, "spindle", "push-deflection", "mount-stiffness is not worked out either");
    check_why(made, "spindle", "mount-load", "no \"belt\" is named");
    made = sheet(arena, HEAD SLEEVE("30 mm H7", "    ceiling: as sleeve.warmed-to\n") "    diameter: 30 mm n6\n", NULL,
                 NULL);
    check_why(made, "sleeve", "warmed-to", "it waits for itself");
    made = sheet(arena, HEAD SLEEVE("30 mm H7", "    spare: as sleeve.heat-margin\n") "    diameter: 30 mm n6\n", NULL,
                 NULL); /* it shall follow that figure: the usual value is not taken instead */
    check_why(made, "sleeve", "mounting-temperature", "heat-margin is not worked out either");
    assert_int_equal(wh_sheet_cell(made, "sleeve.spare"), WH_NONE);
    return WH_OK;
}

static double limits_of(const struct wh_sheet *made, const char *figure, double *ret_most)
{
    size_t c = cell(made, figure);
    *ret_most = made->most[c];
    return made->least[c];
}

/* F = mu p pi d b rises in the grip and in the friction: its limits are at the corners, never below nothing. */
ARENA_TEST(limits_stand_at_the_corners)
{
    const char *text = HEAD SLEEVE("30.000..30.010 mm", "") "    diameter: 30.011..30.031 mm\n";
    const struct wh_setting low[] = {{"land.diameter", "30.011 mm", WH_ORIGIN_SET},
                                     {"sleeve.bore", "30.010 mm", WH_ORIGIN_SET},
                                     {"sleeve.fit-friction", "0.12", WH_ORIGIN_SET}};
    const struct wh_setting high[] = {{"land.diameter", "30.031 mm", WH_ORIGIN_SET},
                                      {"sleeve.bore", "30.000 mm", WH_ORIGIN_SET},
                                      {"sleeve.fit-friction", "0.20", WH_ORIGIN_SET}};
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_sheet *made = sheet(arena, text, NULL, NULL), *at_low, *at_high;
    assert_int_equal(try(arena, text, low, 3, &at_low, &errors), WH_OK);
    assert_int_equal(try(arena, text, high, 3, &at_high, &errors), WH_OK);
    double most, least = limits_of(made, "sleeve.pull-force", &most);
    check_close(least, value(at_low, "sleeve.pull-force"), 0, 1e-9);
    check_close(most, value(at_high, "sleeve.pull-force"), 0, 1e-9);
    assert_true(least > 0 && most / least > 40); /* 31/1 of grip and 20/12 of friction: a sum would go below nothing */
    check_close(most / least, 31.0 * 20 / 12, 0, 1e-9);
    text = HEAD SLEEVE("30.000..30.010 mm", "") "    diameter: 29.990..30.010 mm\n"; /* loose to tight */
    least = limits_of(sheet(arena, text, NULL, NULL), "sleeve.pull-force", &most);
    check_close(least, 0, 1e-9, 0);
    assert_true(most > 0);
    return WH_OK;
}

ARENA_TEST(every_value_lies_within_its_limits)
{
    const char *text = HEAD SLEEVE("30 mm H7", "    ceiling: 200 degC\n") "    diameter: 30 mm n6\n";
    struct wh_sheet *made = sheet(arena, text, NULL, NULL);
    assert_int_equal(made->use_count, 7);
    for (size_t c = 0; c < made->cell_count; c++) {
        if (isnan(made->value[c])) fail_msg("%s has no answer", made->cells[c].name);
        double slack = 1e-12 * fabs(made->value[c]);
        if (!(made->least[c] <= made->value[c] + slack && made->value[c] <= made->most[c] + slack))
            fail_msg("%s: %g is not in %g..%g", made->cells[c].name, made->value[c], made->least[c], made->most[c]);
    }
    return WH_OK;
}

/* delta = d - b: u^2 = (12 um)^2/12 + (6 um/2)^2 = 21 um^2. E = J w^2/2: dE/dJ = w^2/2, dE/dw = J w. */
ARENA_TEST(uncertainty_is_the_first_order_one)
{
    const char *text = HEAD SLEEVE("30.000 +- 0.006 mm", "") "    diameter: 30.010..30.022 mm\n";
    struct wh_sheet *made = sheet(arena, text, NULL, NULL);
    check_close(made->u[cell(made, "sleeve.interference")], sqrt(21) * 1e-6, 0, 1e-6);
    made = sheet(arena, HEAD MOUNT("") SPINDLE("    inertia: 2 +- 0.2 kg m2\n"), NULL, NULL);
    double rpm = 2 * acos(-1) / 60, w = 1000 * rpm;
    double by_inertia = w * w / 2 * 0.1, by_speed = 2 * w * 10 * rpm;
    check_close(value(made, "spindle.kinetic-energy"), w * w, 0, 1e-12);
    check_close(made->u[cell(made, "spindle.kinetic-energy")], hypot(by_inertia, by_speed), 0, 1e-9);
    return WH_OK;
}

/* r = 1 - w/s with s following w: one cell, so that nothing is uncertain about their share. */
ARENA_TEST(what_hangs_on_one_value_moves_together)
{
    const char *text = HEAD "  stamped speed: as machine.speed\n" MOUNT("") SPINDLE("");
    struct wh_sheet *made = sheet(arena, text, NULL, NULL);
    size_t c = cell(made, "spindle.speed-reserve");
    check_close(made->value[c], 0, 1e-15, 0);
    check_close(made->u[c], 0, 1e-15, 0);
    text = HEAD "  stamped speed: 1000 +- 20 rpm\n" MOUNT("") SPINDLE("");
    made = sheet(arena, text, NULL, NULL);
    check_close(made->u[cell(made, "spindle.speed-reserve")], 0.01 * sqrt(2), 0, 1e-3); /* each 1 % */
    return WH_OK;
}

ARENA_TEST(nothing_is_uncertain_when_all_is_exact)
{
    const char *text = HEAD MOUNT("    hardness: 50 1\n") SPINDLE("    inertia: 2 kg m2\n");
    struct wh_sheet *made = sheet(arena, text, "machine.speed", "1000 rpm");
    assert_true(made->use_count >= 4);
    for (size_t c = 0; c < made->cell_count; c++) {
        check_close(made->u[c], 0, 0, 0);
        check_close(made->least[c], made->value[c], 0, 0);
        check_close(made->most[c], made->value[c], 0, 0);
    }
    return WH_OK;
}

static bool names(struct wh_words words, const char *name)
{
    for (size_t i = 0; i < words.count; i++)
        if (strcmp(words.at[i], name) == 0) return true;
    return false;
}

ARENA_TEST(changed_figures_are_named_and_no_others)
{
    const char *text = HEAD MOUNT("    hardness: 50 1\n") SPINDLE("    inertia: 2 kg m2\n");
    struct wh_sheet *before = sheet(arena, text, NULL, NULL), *after = sheet(arena, text, "rubber.hardness", "60");
    struct wh_words changed = wh_sheet_changed(arena, before, after);
    assert_true(names(changed, "rubber.hardness") && names(changed, "rubber.shear-modulus"));
    assert_true(names(changed, "rubber.mount-stiffness") && names(changed, "spindle.push-deflection"));
    assert_int_equal(changed.count, 4);
    assert_int_equal(wh_sheet_changed(arena, before, sheet(arena, text, "rubber.hardness", "50")).count, 0);
    changed = wh_sheet_changed(arena, before, sheet(arena, text, "machine.speed", "1000 rpm")); /* only its limits */
    assert_true(names(changed, "machine.speed") && names(changed, "spindle.kinetic-energy"));
    return WH_OK;
}

struct refused {
    const char *text, *name, *value, *says;
};

#define FITTED HEAD SLEEVE("30 mm H7", "") "    diameter: 30 mm n6\n"
static const struct refused settings[] = {
    {FITTED, "sleeve.colour", "30 mm", "\"sleeve.colour\" is no value of this machine"},
    {FITTED, "slevee.bore", "30 mm", "\"slevee.bore\" is no value of this machine"},
    {FITTED, "sleeve", "30 mm", "\"sleeve\" is no value of this machine"},
    {FITTED, "sleeve.bore", "30", "bare number"},
    {FITTED, "sleeve.bore", "30 kg", "wrong kind of unit"},
    {FITTED, "sleeve.bore", "-3 mm", "out of range"},
    {FITTED, "sleeve.bore", "thirty mm", "thirty"},
    {FITTED, "sleeve.fitted", "cold", "is no value of this machine"},
    {HEAD BEARING, "ball.designation", "6206", "cannot be set"},
};

ARENA_TEST(settings_that_are_none_are_refused)
{
    for (size_t i = 0; i < sizeof settings / sizeof *settings; i++) {
        struct wh_errors errors = wh_errors_in(arena);
        struct wh_setting setting = {settings[i].name, settings[i].value, WH_ORIGIN_SET};
        struct wh_sheet *none = NULL;
        assert_int_equal(try(arena, settings[i].text, &setting, 1, &none, &errors), WH_ERR_INPUT);
        assert_null(none);
        assert_int_equal(errors.count, 1);
        if (!strstr(wh_errors_text(arena, &errors), settings[i].says))
            fail_msg("%s=\"%s\" says: %s", settings[i].name, settings[i].value, wh_errors_text(arena, &errors));
    }
    return WH_OK;
}

/* A value that follows a figure of another kind, of no part, or that no part of its kind can have. */
static const struct refused following[] = {
    {HEAD SLEEVE("30 mm H7", "    ceiling: as land.diameter\n") "    diameter: 30 mm n6\n", NULL, NULL,
     "ceiling: \"land.diameter\" is"},
    {HEAD SLEEVE("30 mm H7", "    spare: as collar.bore\n") "    diameter: 30 mm n6\n", NULL, NULL,
     "there is no figure \"collar.bore\""},
    {HEAD SLEEVE("30 mm H7", "    spare: as sleeve.colour\n") "    diameter: 30 mm n6\n", NULL, NULL,
     "there is no figure \"sleeve.colour\""},
};

ARENA_TEST(values_that_follow_nothing_are_refused)
{
    for (size_t i = 0; i < sizeof following / sizeof *following; i++) {
        struct wh_errors errors = wh_errors_in(arena);
        struct wh_sheet *none = NULL;
        if (try(arena, following[i].text, NULL, 0, &none, &errors) == WH_OK) fail_msg("taken: %s", following[i].text);
        if (!strstr(wh_errors_text(arena, &errors), following[i].says)) fail_msg("%s", wh_errors_text(arena, &errors));
    }
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(set_goes_before_given_before_own_figure),
        cmocka_unit_test(figures_and_roles_go_before_usual),
        cmocka_unit_test(what_is_missing_says_why),
        cmocka_unit_test(limits_stand_at_the_corners),
        cmocka_unit_test(every_value_lies_within_its_limits),
        cmocka_unit_test(uncertainty_is_the_first_order_one),
        cmocka_unit_test(what_hangs_on_one_value_moves_together),
        cmocka_unit_test(nothing_is_uncertain_when_all_is_exact),
        cmocka_unit_test(changed_figures_are_named_and_no_others),
        cmocka_unit_test(settings_that_are_none_are_refused),
        cmocka_unit_test(values_that_follow_nothing_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
