/* When parts come round again, by running hours and by the calendar, from what jobs tell. */
#include "job/due.h"

#include "check.h"

#include <string.h>

static const char file[] = "format: 1\nmachine:\n  title: Trial\n  speed: 1000 rpm\n  due after: 1200 h\n"
                           "  due at age: 2 years\n  due with: near, far\nparts:\n"
                           "  - id: near\n    is: plate\n    off: 1 min\n    on: 1 min\n    due after: 1000 h\n"
                           "  - id: far\n    is: plate\n    off: 1 min\n    on: 1 min\n    due at age: 6 years\n"
                           "  - id: lid\n    is: plate\n    off: 1 min\n    on: 1 min\n";

static const double HOUR = 3600;
static const int64_t DAY = 86400000;

static struct wh_sheet *sheet_of(struct wh_arena *arena)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    assert_int_equal(wh_machine_read_text(arena, "trial.yaml", file, strlen(file), &machine, &errors), WH_OK);
    assert_int_equal(wh_sheet_make(arena, machine, NULL, 0, &sheet, &errors), WH_OK);
    return sheet;
}

static struct wh_words words(struct wh_arena *arena, const char *text)
{
    return wh_split(arena, text, ';');
}

/* The state of each line, "machine now, near later …". */
static const char *states(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_due *due)
{
    struct wh_text text = {.arena = arena};
    for (size_t i = 0; i < due->lines.count; i++)
        wh_text_print(&text, "%s%s %s", i ? ", " : "", sheet->machine->things[due->lines.at[i].thing].id,
                      wh_due_words(due->lines.at[i].state));
    return wh_text_of(&text);
}

ARENA_TEST(what_no_job_renewed_is_not_known_until_its_hours_are_over)
{
    struct wh_sheet *sheet = sheet_of(arena);
    const struct wh_due_job one = {.job = 1, .at = 0, .hours = 900 * HOUR}, two = {.job = 2, .hours = 1100 * HOUR};
    assert_string_equal(states(arena, sheet, wh_due_make(arena, sheet, NULL, 0, NAN, DAY)),
                        "machine not known, near not known, far not known");
    assert_string_equal(states(arena, sheet, wh_due_make(arena, sheet, &one, 1, NAN, DAY)),
                        "machine not known, near not known, far not known");
    assert_string_equal(states(arena, sheet, wh_due_make(arena, sheet, &two, 1, NAN, DAY)),
                        "machine not known, near now, far not known");
    return WH_OK;
}

ARENA_TEST(hours_and_calendar_count_from_the_renewal_whichever_is_nearer)
{
    struct wh_sheet *sheet = sheet_of(arena);
    const struct wh_due_job jobs[] = {
        {.job = 3, .at = 0, .hours = 500 * HOUR, .renewed = words(arena, "near;far")},
        {.job = 4, .at = 300 * DAY, .hours = 1300 * HOUR, .renewed = words(arena, "near")}};
    /* 1600 h: the machine has run 1100 of 1200 since both were renewed, the near part 300 of 1000 */
    struct wh_due *due = wh_due_make(arena, sheet, jobs, 2, 1600 * HOUR, 400 * DAY);
    assert_string_equal(states(arena, sheet, due), "machine soon, near later, far later");
    assert_int_equal(due->lines.at[0].job, 3);
    assert_int_equal(due->lines.at[1].job, 4);
    check_close(due->lines.at[0].hours_left, 100 * HOUR, 1e-6, 0);
    check_close(due->lines.at[1].hours_left, 700 * HOUR, 1e-6, 0);
    /* by the calendar alone: two Julian years are 730.5 days */
    assert_string_equal(states(arena, sheet, wh_due_make(arena, sheet, jobs, 2, 1600 * HOUR, 730 * DAY)),
                        "machine soon, near later, far later");
    assert_string_equal(states(arena, sheet, wh_due_make(arena, sheet, jobs, 2, 1600 * HOUR, 731 * DAY)),
                        "machine now, near later, far later");
    /* exactly at the end it is due */
    assert_string_equal(states(arena, sheet, wh_due_make(arena, sheet, jobs, 2, 2300 * HOUR, 400 * DAY)),
                        "machine now, near now, far later");
    /* the meter was not read: hours are not known, the calendar goes on */
    const struct wh_due_job blank = {.job = 5, .at = 0, .hours = NAN, .renewed = words(arena, "near;far")};
    assert_string_equal(states(arena, sheet, wh_due_make(arena, sheet, &blank, 1, NAN, DAY)),
                        "machine later, near not known, far later");
    return WH_OK;
}

ARENA_TEST(remarks_are_those_of_the_last_job)
{
    struct wh_sheet *sheet = sheet_of(arena);
    const struct wh_due_job jobs[] = {{.job = 3, .hours = NAN, .remarks = words(arena, "near|gap: outside by 1 mm")},
                                      {.job = 4, .hours = NAN, .remarks = words(arena, "lid|found: bent;gone|x: y")}};
    struct wh_due *due = wh_due_make(arena, sheet, jobs, 2, NAN, DAY);
    assert_int_equal(due->remarks.count, 2);
    assert_string_equal(due->remarks.at[0].says, "found: bent");
    assert_string_equal(sheet->machine->things[due->remarks.at[0].thing].id, "lid");
    assert_int_equal(due->remarks.at[1].thing, WH_NONE);
    return WH_OK;
}

static void test_hours(void **state)
{
    static const struct {
        const char *text;
        double hours; /* below 0: not read */
    } cases[] = {{"11240", 11240},
                 {"11 240", 11240},
                 {"11,240 h", 11240},
                 {"1'011'240", 1011240},
                 {"11240.5", 11240.5},
                 {"11240,5", 11240.5},
                 {"0", 0},
                 {"600 hours", 600},
                 {"", -1},
                 {"-3", -1},
                 {"about 600", -1},
                 {"600 km", -1},
                 {"1 2", -1}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        double seconds = wh_due_hours(cases[i].text);
        if (cases[i].hours < 0)
            assert_true(isnan(seconds));
        else
            check_close(seconds, cases[i].hours * HOUR, 1e-9, 1e-12);
    }
    assert_true(isnan(wh_due_hours(NULL)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_no_job_renewed_is_not_known_until_its_hours_are_over),
                                       cmocka_unit_test(hours_and_calendar_count_from_the_renewal_whichever_is_nearer),
                                       cmocka_unit_test(remarks_are_those_of_the_last_job),
                                       cmocka_unit_test(test_hours)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
