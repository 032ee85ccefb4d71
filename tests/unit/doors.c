/* A wrong value says the same by every door: wharve work and the reference tables (sheet/ask), a value set on the
 * command line (sheet/bind), a machine file (machine/part). The linker puts __wrap_wh_form_value before the one check,
 * so that each door is seen to call it. */
#include "base/text.h"
#include "check.h"
#include "sheet/ask.h"
#include "sheet/sheet.h"

#include <string.h>

enum wh_status __real_wh_form_value(const struct wh_form *form, const char *name, const char *text,
                                    struct wh_place place, struct wh_value *ret, struct wh_errors *reterr);
enum wh_status __wrap_wh_form_value(const struct wh_form *form, const char *name, const char *text,
                                    struct wh_place place, struct wh_value *ret, struct wh_errors *reterr);

static const char *looked_for; /* the wrong text */
static int seen;               /* how often the check was asked about it */

enum wh_status __wrap_wh_form_value(const struct wh_form *form, const char *name, const char *text,
                                    struct wh_place place, struct wh_value *ret, struct wh_errors *reterr)
{
    seen += strcmp(text, looked_for) == 0;
    return __real_wh_form_value(form, name, text, place, ret, reterr);
}

static const char *by_rule(struct wh_arena *arena, const char *text)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_asked asked;
    struct wh_given given[] = {
        {"inner", text, {0}}, {"outer", "80 mm", {0}}, {"width", "20 mm", {0}}, {"shear-modulus", "1 N/mm2", {0}}};
    assert_int_not_equal(wh_ask(arena, wh_rule_find("spindle.mount-stiffness"), given, 4, &asked, &errors), WH_OK);
    assert_int_equal(errors.count, 1);
    return errors.first->says;
}

static struct wh_machine *machine(struct wh_arena *arena, const char *inner, struct wh_errors *errors)
{
    struct wh_machine *made = NULL;
    const char *text = wh_arena_print(arena,
                                      "format: 1\nmachine:\n  title: Trial\n  speed: 1000 rpm\nparts:\n  - id: rubber\n"
                                      "    is: mount\n    inner: %s\n    outer: 80 mm\n    width: 20 mm\n"
                                      "    height: 200 mm\n    hardness: 50 1\n",
                                      inner);
    enum wh_status status = wh_machine_read_text(arena, "trial.yaml", text, strlen(text), &made, errors);
    assert_int_equal(status == WH_OK, errors->count == 0);
    return made;
}

static const char *by_file(struct wh_arena *arena, const char *text)
{
    struct wh_errors errors = wh_errors_in(arena);
    machine(arena, text, &errors);
    if (errors.count != 1) fail_msg("%s", wh_errors_text(arena, &errors));
    assert_int_equal(errors.first->place.line, 8);
    return errors.first->says;
}

static const char *by_setting(struct wh_arena *arena, const char *text)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_setting setting = {"rubber.inner", text, WH_ORIGIN_SET};
    struct wh_sheet *made;
    struct wh_machine *good = machine(arena, "50 mm", &errors);
    assert_int_not_equal(wh_sheet_make(arena, good, &setting, 1, &made, &errors), WH_OK);
    assert_int_equal(errors.count, 1);
    assert_true(wh_starts(errors.first->says, "rubber."));
    return errors.first->says + strlen("rubber.");
}

/* What a door says of a wrong inside diameter of a rubber ring, and that it asked the check. */
static const char *said(const char *(*door)(struct wh_arena *, const char *), struct wh_arena *arena, const char *text)
{
    looked_for = text;
    seen = 0;
    const char *says = door(arena, text);
    if (seen != 1) fail_msg("\"%s\": the check is asked %d times", text, seen);
    return says;
}

ARENA_TEST(every_door_says_the_same)
{
    static const char *const wrong[] = {"1 mm",        "9000 mm",    "nan mm",  "inf mm",   "50 kg",
                                        "50",          "50 furlong", "",        "50 mm mm", "50..40 mm",
                                        "40..9000 mm", "1e999 mm",   "fifty mm"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        const char *rule = said(by_rule, arena, wrong[i]);
        assert_string_equal(said(by_setting, arena, wrong[i]), rule);
        if (*wrong[i]) assert_string_equal(said(by_file, arena, wrong[i]), rule); /* YAML has nothing for nothing */
    }
    return WH_OK;
}

/* A value that a figure is worked from may come from another figure: the range of the slot is looked at there too. */
ARENA_TEST(a_worked_out_value_is_checked_like_a_given_one)
{
    assert_true(wh_form_between(5e-3, 5e-3, 2));
    assert_true(wh_form_between(5e-3 * (1 - 1e-13), 5e-3, 2));
    assert_false(wh_form_between(5e-3 * (1 - 1e-9), 5e-3, 2));
    assert_false(wh_form_between(2 * (1 + 1e-9), 5e-3, 2));
    assert_false(wh_form_between(NAN, -INFINITY, INFINITY));
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_door_says_the_same),
                                       cmocka_unit_test(a_worked_out_value_is_checked_like_a_given_one)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
