/* Run-up and run-down out of records, against the closed forms they were made from. The fan of machines/dryer-fan.yaml:
 * 1,915 rpm, 1.5 kg m2, 0.5 N m steady, 0.35 with the belts off, 0.00055 N m s2 of air. */
#include "record_file.h"
#include "testrun/run.h"

enum { RATE = 1000 };

static const double TURN = 6.28318530717958647692, RPM = 0.10471975511965978;

struct made {
    double steady, air, inertia, first, lead, tail;
    double resonance; /* rad/s */
    bool tacho;
};

static const struct made fan = {0.5, 0.00055, 1.5, 1915 * 0.10471975511965978, 6, 5, 90, true};

static struct wh_slowing slowing(const struct made *m, double steady)
{
    return (struct wh_slowing){{steady / m->inertia, 0, m->air / m->inertia, m->first}};
}

/* A record of a velocity, and a tacho where wanted: steady, then running down, then still. */
static const char *record_of(struct wh_arena *arena, const struct made *m)
{
    struct wh_slowing s = slowing(m, m->steady);
    double stands = wh_slowing_time(&s, m->first, 0), angle = 0;
    size_t channels = m->tacho ? 2 : 1, n = (size_t)((m->lead + stands + m->tail) * RATE);
    float *x = WH_NEW(arena, n * channels, float);
    unsigned seed = 7;
    for (size_t i = 0; i < n; i++) {
        double t = (double)i / RATE - m->lead, w = t < 0 ? m->first : t < stands ? wh_slowing_speed(&s, t) : 0;
        double r = w / m->resonance, phase = angle / TURN - floor(angle / TURN);
        double swing = r > 0 ? r * r / hypot(1 - r * r, 0.12 * r) : 0, lag = atan2(0.12 * r, 1 - r * r);
        seed = seed * 1103515245u + 12345u;
        double noise = (double)(seed >> 8) / (1 << 24) - 0.5;
        x[i * channels] = (float)(1e-3 * (swing * r * sin(angle - lag) + 0.3 * noise));
        if (m->tacho) x[i * channels + 1] = phase < 0.25 ? 5 : 0;
        angle += w / RATE;
    }
    return wav_of(arena, "run.wav", channels, RATE, x, n * channels);
}

static enum wh_status read_run(struct wh_arena *arena, const char *path, const struct wh_record_ask *how,
                               const struct wh_run_ask *ask, struct wh_run **ret, struct wh_errors *errors)
{
    struct wh_run_record *record;
    *errors = wh_errors_in(arena);
    enum wh_status status = wh_record_open(arena, path, how, &record, errors);
    if (status == WH_OK) status = wh_run_read(arena, record, ask, ret, errors);
    wh_file_remove(path);
    return status;
}

static const struct wh_record_ask with_tacho = {.unit = "m/s, V", .channels = "wheel-bearing across, tacho"},
                                  alone = {.unit = "m/s", .channels = "wheel-bearing across"};

static bool says(const struct wh_doubts *doubts, const char *words)
{
    for (size_t i = 0; i < doubts->count; i++)
        if (strstr(doubts->at[i], words)) return true;
    return false;
}

static struct wh_run_ask ask_of_fan(void)
{
    return (struct wh_run_ask){
        .speed = 1915 * RPM, .stamped = 2200 * RPM, .inertia = 1.5, .steady = 0.5, .free_steady = 0.35, .air = 0.00055};
}

static void check_fan(const struct wh_run *run, double tolerance)
{
    struct wh_slowing on = slowing(&fan, 0.5), off = slowing(&fan, 0.35);
    double stands = wh_slowing_time(&on, fan.first, 0), free_stands = wh_slowing_time(&off, fan.first, 0);
    assert_true(run->down.there && !run->up.there && !run->over_stamped);
    check_close(run->top, fan.first, 0, 2e-3);
    check_close(run->down.stands, stands, 0, tolerance);
    check_close(run->down.expected, stands, 0, 2e-3);
    check_close(run->down.free_stands, free_stands, 0, 2 * tolerance);
    check_close(run->down.steady, 0.5, 2 * run->down.steady_u, 2 * tolerance);
    check_close(run->down.air, 0.00055, 2 * run->down.air_u, 2 * tolerance);
    assert_true(run->down.not_before >= run->down.stands && run->down.not_before < 1.2 * stands);
    assert_true(run->down.free_not_before > run->down.not_before);
    assert_int_equal(run->warnings.count, 0);
}

ARENA_TEST(fan_with_a_tacho)
{
    struct wh_run_ask ask = ask_of_fan();
    struct wh_run *run;
    struct wh_errors errors;
    assert_int_equal(read_run(arena, record_of(arena, &fan), &with_tacho, &ask, &run, &errors), WH_OK);
    assert_int_equal(run->from, WH_FROM_TACHO);
    check_fan(run, 0.01);
    assert_int_equal(run->tracks, 1);
    assert_int_equal(run->track[0].resonances, 1);
    check_close(run->track[0].resonance[0].speed, 90, 0, 0.01);
    check_close(run->track[0].resonance[0].damping, 0.06, 0, 0.15);
    assert_true(run->track[0].resonance[0].turned);
    return WH_OK;
}

ARENA_TEST(fan_by_its_vibration_alone)
{
    struct made quiet = fan;
    struct wh_run_ask ask = ask_of_fan();
    struct wh_run *run;
    struct wh_errors errors;
    quiet.tacho = false;
    assert_int_equal(read_run(arena, record_of(arena, &quiet), &alone, &ask, &run, &errors), WH_OK);
    assert_int_equal(run->from, WH_FROM_VIBRATION);
    check_fan(run, 0.03);
    assert_int_equal(run->tracks, 1);
    assert_null(run->track[0].track.phase);
    ask.speed = 0;
    assert_int_equal(read_run(arena, record_of(arena, &quiet), &alone, &ask, &run, &errors), WH_ERR_INPUT);
    assert_non_null(strstr(wh_errors_text(arena, &errors), "no speed and no tacho"));
    return WH_OK;
}

/* Twenty seconds up, evenly, by the vibration alone. */
ARENA_TEST(run_up_by_vibration_alone)
{
    size_t n = 45 * RATE;
    float *x = WH_NEW(arena, n, float);
    struct wh_run_ask ask = {.speed = 1900 * RPM, .inertia = 2};
    struct wh_run *run;
    struct wh_errors errors;
    double angle = 0;
    unsigned seed = 3;
    for (size_t i = 0; i < n; i++) {
        double t = (double)i / RATE - 5, w = t < 0 ? 0 : fmin(200, 10 * t);
        seed = seed * 1103515245u + 12345u;
        x[i] = (float)(1e-3 * (w / 200 * cos(angle) + 0.2 * ((double)(seed >> 8) / (1 << 24) - 0.5)));
        angle += w / RATE;
    }
    assert_int_equal(read_run(arena, wav_of(arena, "run.wav", 1, RATE, x, n), &alone, &ask, &run, &errors), WH_OK);
    assert_true(run->up.there && !run->down.there);
    check_close(run->top, 200, 0, 2e-3);
    check_close(run->up.seconds, 0.985 * 20, 0.6, 0);
    check_close(run->up.torque, 20, 0, 0.03);
    return WH_OK;
}

/* Half as much steady drag again as last time: shorter, and which drag. By its own drags it should take longer too. */
ARENA_TEST(shorter_than_last_time)
{
    struct made rubs = fan;
    struct wh_run_ask ask = ask_of_fan();
    struct wh_run *run;
    struct wh_errors errors;
    rubs.steady = 0.75;
    ask.last = (struct wh_run_down_was){slowing(&fan, 0.5), fan.first, 128.6, 0.5};
    assert_int_equal(read_run(arena, record_of(arena, &rubs), &with_tacho, &ask, &run, &errors), WH_OK);
    assert_int_equal(run->warnings.count, 2);
    assert_true(says(&run->warnings, "something drags"));
    assert_true(says(&run->warnings, "its steady drag has grown"));
    ask.last = (struct wh_run_down_was){slowing(&fan, 0.76), fan.first, 98, 0.5};
    ask.steady = 0;
    assert_int_equal(read_run(arena, record_of(arena, &rubs), &with_tacho, &ask, &run, &errors), WH_OK);
    assert_int_equal(run->warnings.count, 0);
    ask.last = (struct wh_run_down_was){slowing(&fan, 1.2), fan.first, 70, 0.5};
    assert_int_equal(read_run(arena, record_of(arena, &rubs), &with_tacho, &ask, &run, &errors), WH_OK);
    assert_true(says(&run->warnings, "the belt slips or is off"));
    return WH_OK;
}

ARENA_TEST(above_the_stamped_speed)
{
    struct wh_run_ask ask = ask_of_fan();
    struct wh_run *run;
    struct wh_errors errors;
    ask.stamped = 1800 * RPM;
    assert_int_equal(read_run(arena, record_of(arena, &fan), &with_tacho, &ask, &run, &errors), WH_ERR_INPUT);
    assert_non_null(strstr(wh_errors_text(arena, &errors), "1,915 rpm is above the stamped 1,800 rpm"));
    ask.speed = 0;
    assert_int_equal(read_run(arena, record_of(arena, &fan), &with_tacho, &ask, &run, &errors), WH_OK);
    assert_true(run->over_stamped && says(&run->warnings, "not to be run"));
    ask = ask_of_fan();
    ask.speed = 957 * RPM;
    ask.stamped = 0;
    assert_int_equal(read_run(arena, record_of(arena, &fan), &with_tacho, &ask, &run, &errors), WH_OK);
    assert_true(says(&run->doubts, "2 times as much"));
    return WH_OK;
}

/* Speed and current as a logger writes them: at rest 5 s, 10 N m more than the drag for 4,858 rpm of 1.12 kg m2. */
ARENA_TEST(run_up_of_a_speed_channel)
{
    struct wh_text csv = {.arena = arena};
    struct wh_run_ask ask = {
        .inertia = 1.12, .run_up_least = 50, .run_up_most = 70, .current_least = 10, .current_most = 11.5};
    struct wh_run *run;
    struct wh_errors errors;
    double seconds = 1.12 * 508.7 / 10;
    wh_text_add(&csv, "time [s];speed [rpm];current [A]\n");
    for (int i = 0; i < 200 * 10; i++) {
        double t = i / 10.0 - 5, w = t < 0 ? 0 : t < seconds ? 508.7 * t / seconds : 508.7;
        wh_text_print(&csv, "%.1f;%.1f;%.2f\n", i / 10.0, w / RPM, t < 0 ? 0 : t < seconds ? 12.0 : 3.3);
    }
    const char *path = file_of(arena, "run.csv", wh_text_of(&csv), csv.count);
    assert_int_equal(read_run(arena, path, &(struct wh_record_ask){0}, &ask, &run, &errors), WH_OK);
    assert_true(run->up.there && !run->down.there && run->from == WH_FROM_CHANNEL);
    check_close(run->up.seconds, 0.985 * seconds, 0, 0.01);
    check_close(run->up.torque, 10, 0, 0.01);
    check_close(run->up.current, 12, 0, 0.01);
    assert_true(run->up.even < 0.01);
    assert_int_equal(run->warnings.count, 1);
    assert_true(says(&run->warnings, "12.0 A while it ran up, at most 11.5 A"));
    ask = (struct wh_run_ask){.full_speed = 5000 * RPM, .run_up_least = 60, .current_least = 13};
    path = file_of(arena, "run.csv", wh_text_of(&csv), csv.count);
    assert_int_equal(read_run(arena, path, &(struct wh_record_ask){0}, &ask, &run, &errors), WH_OK);
    assert_int_equal(run->warnings.count, 3);
    assert_true(says(&run->warnings, "2.8 % less than its pulleys give: the belt slips"));
    assert_true(says(&run->warnings, "at least 60 s is expected"));
    assert_true(says(&run->warnings, "at least 13.0 A is expected"));
    return WH_OK;
}

ARENA_TEST(steady_running_is_neither)
{
    struct wh_text csv = {.arena = arena};
    struct wh_run_ask ask = {0};
    struct wh_run *run;
    struct wh_errors errors;
    wh_text_add(&csv, "time [s];speed [rpm]\n");
    for (int i = 0; i < 300; i++) wh_text_print(&csv, "%.1f;%.1f\n", i / 10.0, 4858.0 + i % 3);
    const char *path = file_of(arena, "run.csv", wh_text_of(&csv), csv.count);
    assert_int_equal(read_run(arena, path, &(struct wh_record_ask){0}, &ask, &run, &errors), WH_ERR_NO_ANSWER);
    assert_non_null(strstr(wh_errors_text(arena, &errors), "no run-up and no run-down"));
    return WH_OK;
}

/* Never early: rounded up, and no time at all where none is told. */
ARENA_TEST(words_of_a_time)
{
    assert_string_equal(wh_run_time(arena, 94.2), "95 s");
    assert_string_equal(wh_run_time(arena, 95), "95 s");
    assert_string_equal(wh_run_time(arena, 917.6), "15.3 min");
    assert_string_equal(wh_run_time(arena, 918.1), "15.4 min");
    assert_non_null(strstr(wh_not_before(arena, 918), "not before 15.3 min after the drive is off, then look"));
    assert_null(strstr(wh_not_before(arena, INFINITY), "not before"));
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fan_with_a_tacho),          cmocka_unit_test(fan_by_its_vibration_alone),
        cmocka_unit_test(run_up_by_vibration_alone), cmocka_unit_test(shorter_than_last_time),
        cmocka_unit_test(above_the_stamped_speed),   cmocka_unit_test(run_up_of_a_speed_channel),
        cmocka_unit_test(steady_running_is_neither), cmocka_unit_test(words_of_a_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
