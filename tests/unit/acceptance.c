/* The test run's verdict: each way a check can go, and the shipped clarifier's own checks. */
#include "check.h"
#include "job/test_checks.h"

#include <string.h>

static const double VIBRATION[] = {1.2e-3, 2.5e-3, 0.8e-3};

static struct wh_unit unit_of(const char *name)
{
    struct wh_unit unit;
    assert_true(wh_unit_read(name, strlen(name), &unit));
    return unit;
}

static struct wh_test_check vibration(void)
{
    return (struct wh_test_check){.id = "vibration",
                                  .title = "vibration",
                                  .limits = "at most 3.0 mm/s",
                                  .outside = "stop and look",
                                  .has_limits = true,
                                  .least = -INFINITY,
                                  .most = 3e-3,
                                  .stop_at = 7.1e-3,
                                  .unit = unit_of("mm/s"),
                                  .U = 0.2e-3,
                                  .readings = 3,
                                  .places = 1,
                                  .level_within = NAN,
                                  .from_record = WH_RECORD_VELOCITY,
                                  .place = "neck-bearing"};
}

static struct wh_test_judged judge(struct wh_arena *arena, struct wh_test_check check, const struct wh_told *told,
                                   size_t n)
{
    struct wh_test_check *kept = WH_NEW(arena, 1, struct wh_test_check);
    *kept = check;
    return wh_accept_run(arena, kept, 1, told, n, NULL).judged[0];
}

ARENA_TEST(readings_against_limits)
{
    struct wh_test_check check = vibration();
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_OPEN);
    check.values = VIBRATION;
    check.count = 2;
    struct wh_test_judged judged = judge(arena, check, NULL, 0);
    assert_int_equal(judged.outcome, WH_TEST_OPEN);
    assert_non_null(strstr(judged.says, "2 of 3 readings"));
    check.count = 3;
    judged = judge(arena, check, NULL, 0);
    assert_int_equal(judged.outcome, WH_TEST_WITHIN);
    assert_string_equal(judged.says, "vibration: 2.50 mm/s ± 0.20 mm/s, at most 3.0 mm/s: within");
    check.U = 0.6e-3;
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_NOT_PROVEN);
    check.U = 0;
    check.most = 2e-3;
    judged = judge(arena, check, NULL, 0);
    assert_int_equal(judged.outcome, WH_TEST_OUTSIDE);
    assert_string_equal(judged.then, "stop and look");
    check.stop_at = 2.4e-3;
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_STOP);
    check.count = 2; /* what is outside already need not wait for the third */
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_STOP);
    return WH_OK;
}

ARENA_TEST(records_tell_instead_of_readings)
{
    const struct wh_told told[] = {{WH_RECORD_VELOCITY, "foot-bearing", 9e-3, 0, "a.wav"},
                                   {WH_RECORD_VELOCITY, "neck-bearing", 2.0e-3, 0, "b.wav"},
                                   {WH_RECORD_DISPLACEMENT, "neck-bearing", 9e-3, 0, "b.wav"},
                                   {WH_RECORD_VELOCITY, "neck-bearing", 2.9e-3, 0, "c.wav"},
                                   {WH_RECORD_VELOCITY, "neck-bearing", NAN, 0, "d.wav"}};
    struct wh_test_check check = vibration();
    struct wh_test_judged judged = judge(arena, check, told, 5);
    assert_int_equal(judged.outcome, WH_TEST_WITHIN);
    assert_string_equal(judged.says, "vibration: 2.90 mm/s, at most 3.0 mm/s: within (c.wav)");
    check.place = NULL;
    assert_int_equal(judge(arena, check, told, 5).outcome, WH_TEST_STOP);
    check.from_record = WH_RECORD_NONE;
    assert_int_equal(judge(arena, check, told, 5).outcome, WH_TEST_OPEN);
    return WH_OK;
}

/* Two places, rounds of two: what counts is the last round against the one before, place by place. */
ARENA_TEST(temperatures_level_out)
{
    static const double rising[] = {300, 305, 310, 312, 315, 313, 318, 313}, level[] = {300, 305, 318, 320, 319, 315};
    struct wh_test_check check = {.title = "temperature",
                                  .limits = "at most 75 degC",
                                  .has_limits = true,
                                  .least = -INFINITY,
                                  .most = 348.15,
                                  .stop_at = NAN,
                                  .unit = unit_of("degC"),
                                  .U = 2,
                                  .readings = 2,
                                  .places = 2,
                                  .level_within = 2,
                                  .values = rising,
                                  .count = 2,
                                  .outside = "still rising after an hour, stop and look"};
    struct wh_test_judged judged = judge(arena, check, NULL, 0);
    assert_int_equal(judged.outcome, WH_TEST_OPEN);
    assert_non_null(strstr(judged.says, "one more round"));
    check.count = 8;
    judged = judge(arena, check, NULL, 0);
    assert_int_equal(judged.outcome, WH_TEST_OUTSIDE);
    assert_non_null(strstr(judged.says, "still rising, 3.0 K more"));
    check.values = level;
    check.count = 6;
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_WITHIN);
    return WH_OK;
}

ARENA_TEST(words_and_holds)
{
    struct wh_test_check check = {.title = "leaks", .expects = "none", .outside = "stop and mend"};
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_OPEN);
    check.answer = WH_NOT_SO;
    assert_string_equal(judge(arena, check, NULL, 0).then, "stop and mend");
    check.answer = WH_AS_EXPECTED;
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_WITHIN);
    check.hold = true;
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_OPEN);
    check.released = "T. Marsh";
    assert_int_equal(judge(arena, check, NULL, 0).outcome, WH_TEST_WITHIN);
    return WH_OK;
}

ARENA_TEST(one_sentence)
{
    struct wh_test_check checks[2] = {vibration(), {.title = "leaks", .expects = "none", .answer = WH_AS_EXPECTED}};
    struct wh_doubts warnings = {.arena = arena};
    checks[0].values = VIBRATION;
    checks[0].count = 3;
    struct wh_acceptance a = wh_accept_run(arena, checks, 2, NULL, 0, &warnings);
    assert_int_equal(a.outcome, WH_TEST_WITHIN);
    assert_string_equal(a.says, "All 2 checks of the test run are within their limits.");
    wh_doubt(&warnings, "it runs down in 9 min");
    a = wh_accept_run(arena, checks, 2, NULL, 0, &warnings);
    assert_int_equal(a.outcome, WH_TEST_NOT_PROVEN);
    checks[1].answer = WH_NOT_ANSWERED;
    a = wh_accept_run(arena, checks, 2, NULL, 0, NULL);
    assert_string_equal(a.says, "Not done: 1 of 2 checks of the test run are open.");
    checks[1].answer = WH_NOT_SO;
    a = wh_accept_run(arena, checks, 2, NULL, 0, NULL);
    assert_non_null(strstr(a.says, "Not accepted: 1 of 2"));
    checks[0].stop_at = 2e-3;
    a = wh_accept_run(arena, checks, 2, NULL, 0, NULL);
    assert_int_equal(a.outcome, WH_TEST_STOP);
    assert_non_null(strstr(a.says, "Stop:"));
    assert_int_equal(wh_accept_run(arena, checks, 0, NULL, 0, NULL).outcome, WH_TEST_OPEN);
    return WH_OK;
}

static const struct wh_test_check *check_of(const struct wh_test_check *checks, size_t n, const char *id)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(checks[i].id, id) == 0) return &checks[i];
    fail_msg("no check %s", id);
    return NULL;
}

static const char *clarifier;

ARENA_TEST(checks_of_the_clarifier)
{
    struct wh_machine *machine;
    struct wh_errors errors = wh_errors_in(arena);
    size_t n;
    assert_int_equal(wh_machine_read(arena, clarifier, &machine, &errors), WH_OK);
    const struct wh_test_check *checks = wh_test_checks(arena, machine, &n);
    assert_int_equal(n, 11);
    const struct wh_test_check *down = check_of(checks, n, "run-down"), *shakes = check_of(checks, n, "vibration");
    assert_int_equal(down->from_record, WH_RECORD_RUN_DOWN);
    assert_true(down->hold);
    check_close(down->least, 14 * 60, 0, 1e-12);
    assert_string_equal(shakes->place, "neck-bearing");
    check_close(shakes->stop_at, 7.1e-3, 0, 1e-12);
    check_close(check_of(checks, n, "neck-temperature")->level_within, 2, 0, 1e-12);
    struct wh_told told = {WH_RECORD_RUN_DOWN, NULL, 9 * 60, 4, "down.wav"};
    struct wh_test_judged judged = judge(arena, *down, &told, 1);
    assert_int_equal(judged.outcome, WH_TEST_OUTSIDE);
    assert_non_null(strstr(judged.then, "shorter, something drags"));
    told.value = 15.3 * 60;
    judged = judge(arena, *down, &told, 1);
    assert_int_equal(judged.outcome, WH_TEST_OPEN); /* a hold waits for a name */
    return WH_OK;
}

int main(int count, char **words)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(readings_against_limits),
        cmocka_unit_test(records_tell_instead_of_readings),
        cmocka_unit_test(temperatures_level_out),
        cmocka_unit_test(words_and_holds),
        cmocka_unit_test(one_sentence),
        cmocka_unit_test(checks_of_the_clarifier),
    };
    clarifier = count > 1 ? words[1] : "machines/juice-clarifier.yaml";
    return cmocka_run_group_tests(tests, NULL, NULL);
}
