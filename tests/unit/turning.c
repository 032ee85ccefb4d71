/* What turns, made ready for a study from a machine file: by its drawing, by what is placed on it; worked once a
 * change. */
#include "sheet/turning.h"
#include "check.h"
#include "sheet/course.h"

#include <string.h>

static const char *const head = "format: 1\nmachine:\n  title: Trial\n  speed: 1000 rpm\n  stamped speed: 1500 rpm\n"
                                "parts:\n";
/* A shaft 40 mm thick and 1 m long, a solid wheel of 200 mm and 50 mm, a cone. */
static const char *const shaft =
    "  - id: axle\n    is: shaft\n    mass: 9.86 kg\n    section: r 0..20, z 0..1000 mm\n"
    "  - id: disc\n    is: wheel\n    outside: 200 mm\n    mass: 12 kg\n    section: r 0..100, z 475..525 mm\n"
    "  - id: cone\n    is: wheel\n    outside: 80 mm\n    mass: 3 kg\n    section: r 0..40 to 0..0, z 900..990 mm\n"
    "features:\n";
#define SUPPORT(id, z, k) "  - id: " id "\n    is: support\n    of: axle\n    height: " z "\n    stiffness: " k "\n"
#define BODY(id, more) "  - id: " id "\n    is: body\n    of: axle\n" more
#define HELD SUPPORT("low", "0 mm", "20..22 kN/mm") SUPPORT("high", "1000 mm", "20 kN/mm")
#define WHEEL BODY("wheel", "    part: disc\n")
#define PLACED                                                                                                         \
    HELD WHEEL BODY("tip", "    part: cone\n") BODY("bob", "    mass: 1 kg\n    height: 1200 mm\n    held at: 990 "    \
                                                           "mm\n")

static struct wh_sheet *sheet_of(struct wh_arena *arena, const char *about, const char *set)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_machine *machine;
    struct wh_sheet *sheet = NULL;
    struct wh_setting setting = {"high.stiffness", set, WH_ORIGIN_SET};
    const char *text = wh_arena_print(arena, "%s%s%s", head, shaft, about);
    if (wh_machine_read_text(arena, "trial.yaml", text, strlen(text), &machine, &errors) != WH_OK ||
        wh_sheet_make(arena, machine, &setting, set ? 1 : 0, &sheet, &errors) != WH_OK)
        fail_msg("%s", wh_errors_text(arena, &errors));
    return sheet;
}

static size_t cell(const struct wh_sheet *sheet, const char *name)
{
    size_t found = wh_sheet_cell(sheet, name);
    if (found == WH_NONE) fail_msg("there is no %s", name);
    return found;
}

static double first_critical(const struct wh_sheet *sheet)
{
    return sheet->value[cell(sheet, "axle.first-critical")];
}

/* A cylinder: m r^2/2 and m (3 r^2 + l^2)/12; a cone: 3 m r^2/10, its middle at a quarter, 3 m (4 r^2 + h^2)/80. */
ARENA_TEST(bodies_by_their_drawing)
{
    const struct wh_sheet *sheet = sheet_of(arena, PLACED, NULL);
    const struct wh_use *use = wh_sheet_whirling(sheet, wh_machine_thing(sheet->machine, "axle"));
    const struct wh_rotor *rotor = wh_sheet_rotor(arena, sheet, use);
    assert_int_equal(rotor->piece_count, 1);
    assert_int_equal(rotor->body_count, 3);
    assert_int_equal(rotor->support_count, 2);
    check_close(rotor->bodies[0].middle, 0.5, 1e-12, 0);
    check_close(rotor->bodies[0].polar, 12 * 0.01 / 2, 0, 1e-12);
    check_close(rotor->bodies[0].tilting, 12 * (3 * 0.01 + 0.0025) / 12, 0, 1e-12);
    check_close(rotor->bodies[1].middle, 0.9 + 0.09 / 4, 1e-12, 0);
    check_close(rotor->bodies[1].polar, 0.3 * 3 * 0.0016, 0, 1e-12);
    check_close(rotor->bodies[1].tilting, 3. * 3 * (4 * 0.0016 + 0.0081) / 80, 0, 1e-12);
    check_close(rotor->bodies[2].held, 0.99, 1e-12, 0);
    check_close(rotor->bodies[2].middle, 1.2, 1e-12, 0);
    check_close(rotor->modulus, 206e9, 0, 1e-12);
    check_close(rotor->supports[1].stiffness[1][1], 20e6, 0, 1e-12);
    return WH_OK;
}

/* A softer end lowers the first critical speed. What a study found is kept until one of its inputs changes. */
ARENA_TEST(worked_once_for_a_change)
{
    struct wh_sheet *sheet = sheet_of(arena, HELD WHEEL, NULL), *soft = sheet_of(arena, HELD WHEEL, "0.1 kN/mm");
    double first = first_critical(sheet);
    assert_true(first > 1.2 * first_critical(soft));
    struct wh_use *use = &sheet->uses[sheet->cells[cell(sheet, "axle.first-critical")].use];
    use->seen[use->inputs] = 7; /* what it found */
    wh_sheet_settle(sheet);
    check_close(first_critical(sheet), 7, 0, 0);
    use->seen[0] = 0; /* as if it had been worked at another speed */
    wh_sheet_settle(sheet);
    check_close(first_critical(sheet), first, 0, 0);
    return WH_OK;
}

/* One stiffness is uncertain: the study stands still in a spread, and has no uncertainty of its own. */
ARENA_TEST(stands_still_in_a_spread)
{
    const struct wh_sheet *sheet = sheet_of(arena, PLACED, NULL);
    size_t first = cell(sheet, "axle.first-critical"), separation = cell(sheet, "axle.separation-above");
    check_close(sheet->u[first], 0, 0, 0);
    check_close(sheet->least[separation], sheet->most[separation], 0, 0);
    assert_int_equal(wh_course_make(arena, sheet, &separation, 1, 1)->use_count, 0);
    return WH_OK;
}

static void check_missing(struct wh_arena *arena, const char *about, const char *words)
{
    const struct wh_sheet *sheet = sheet_of(arena, about, NULL);
    for (size_t m = 0; m < sheet->missing_count; m++)
        if (wh_same(sheet->missing[m].figure, "first-critical")) {
            if (!strstr(sheet->missing[m].why, words)) fail_msg("%s", sheet->missing[m].why);
            return;
        }
    fail_msg("it is worked out without: %s", words);
}

ARENA_TEST(what_is_missing_is_said)
{
    check_missing(arena, WHEEL, "it needs supports");
    check_missing(arena, HELD BODY("bob", "    height: 1 mm\n"), "bob needs a mass");
    check_missing(arena, HELD BODY("bob", "    mass: 1 kg\n"), "bob needs a height");
    const char *many = HELD;
    for (int i = 0; i < 20; i++)
        many =
            wh_arena_print(arena, "%s  - id: bob-%d\n    is: body\n    of: axle\n    mass: 1 kg\n    height: %d mm\n",
                           many, i, 10 * i);
    check_missing(arena, many, "more bodies and supports");
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bodies_by_their_drawing), cmocka_unit_test(worked_once_for_a_change),
        cmocka_unit_test(stands_still_in_a_spread), cmocka_unit_test(what_is_missing_is_said)};
    return cmocka_run_group_tests_name("what turns", tests, NULL, NULL);
}
