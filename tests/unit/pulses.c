/* Pulses to turns: made pulse trains whose speed is known in closed form. */
#include "check.h"
#include "study/pulses.h"

enum { RATE = 20000 };

static const double TURN = 6.28318530717958647692;

/* Angle of a shaft that starts at 20 turns a second and loses half a turn a second each second. */
static double turns_at(double t)
{
    return 20 * t - t * t / 4;
}

static double speed_at(double t)
{
    return TURN * (20 - t / 2);
}

/* A pulse of a fifth of the pitch, with noise; `height` shrinks with the speed as a coil's does. */
static void make(double *x, size_t n, double per_turn, double noise)
{
    unsigned seed = 1;
    for (size_t i = 0; i < n; i++) {
        double t = (double)i / RATE, pulses = turns_at(t) * per_turn, phase = pulses - floor(pulses);
        seed = seed * 1103515245u + 12345u;
        double random = (double)(seed >> 8) / (1 << 24) - 0.5;
        x[i] = 3 + speed_at(t) / 30 * (phase < 0.2 ? sin(phase / 0.2 * TURN / 2) : 0) + noise * random;
    }
}

static struct wh_speed_trace read_trace(struct wh_arena *arena, const double *x, size_t n, size_t block,
                                        size_t per_turn)
{
    struct wh_pulses *pulses = wh_pulses_open(arena, RATE);
    const double *times;
    size_t count;
    struct wh_speed_trace trace = {0};
    for (size_t i = 0; i < n; i += block) wh_pulses_add(pulses, n - i < block ? n - i : block, x + i);
    assert_int_equal(wh_pulses_close(pulses, &times, &count), WH_OK);
    assert_int_equal(wh_pulses_turns(arena, count, times, per_turn, &trace), WH_OK);
    return trace;
}

ARENA_TEST(slowing_shaft)
{
    size_t n = 20 * RATE;
    double *x = WH_NEW(arena, n, double);
    for (size_t per_turn = 1; per_turn <= 6; per_turn += 5) {
        make(x, n, (double)per_turn, 0.1);
        struct wh_speed_trace trace = read_trace(arena, x, n, n, per_turn),
                              cut = read_trace(arena, x, n, 777, per_turn);
        assert_true(trace.count >= 296 && trace.count <= 300);
        assert_int_equal(trace.missing + trace.doubled + trace.gaps, 0);
        assert_int_equal(trace.count, cut.count);
        for (size_t i = 0; i < trace.count; i++) {
            check_close(trace.speed[i], speed_at(trace.time[i]), 0, 3e-3);
            check_close(trace.time[i], cut.time[i], 0, 0);
        }
        /* The level is that of the last four seconds, so shrinking pulses are taken up to 1/100 of a turn late. */
        for (double t = 1; t < 19; t += 0.137)
            check_close(wh_trace_angle(&trace, t) - wh_trace_angle(&trace, 1), TURN * (turns_at(t) - turns_at(1)), 0.06,
                        0);
    }
    return WH_OK;
}

/* Exact pulse times with one lost, two lost, one doubled, and twenty lost. */
ARENA_TEST(lost_and_doubled)
{
    double times[2000];
    size_t n = 0;
    for (int i = 0; i < 1900; i++) {
        bool lost = i == 300 || i == 500 || i == 501 || (i >= 1700 && i < 1720);
        if (!lost) times[n++] = i * 0.01;
        if (i == 900) times[n++] = i * 0.01 + 0.001;
    }
    struct wh_speed_trace trace;
    assert_int_equal(wh_pulses_turns(arena, n, times, 4, &trace), WH_OK);
    assert_int_equal(trace.missing, 3);
    assert_int_equal(trace.doubled, 1);
    assert_int_equal(trace.gaps, 1);
    assert_int_equal(trace.count, 1699 / 4);
    for (size_t i = 0; i < trace.count; i++) check_close(trace.speed[i], TURN / 0.04, 0, 1e-9);
    assert_true(isnan(wh_trace_angle(&trace, -1)) && isnan(wh_trace_angle(&trace, 18)));
    assert_int_equal(wh_pulses_turns(arena, 3, times, 1, &trace), WH_ERR_NO_ANSWER);
    assert_int_equal(wh_pulses_turns(arena, 0, times, 1, &trace), WH_ERR_NO_ANSWER);
    return WH_OK;
}

/* Up for 10 s, 30 s at speed with a dip that is no run-down, down for 40 s, and two stray points. */
ARENA_TEST(parts_of_a_run)
{
    double time[800], speed[800];
    for (int i = 0; i < 800; i++) {
        double t = time[i] = i / 10.0;
        speed[i] = t < 10 ? 1 + 30 * t : t < 40 ? 300 : 300 - 7 * (t - 40);
        if (t >= 20 && t < 22) speed[i] = 280;
    }
    speed[250] = 500;
    speed[600] = 290;
    struct wh_speed_trace trace = {.count = 800, .time = time, .speed = speed, .step = 0.1, .resolution = 0.1}, part;
    check_close(wh_trace_top(arena, &trace), 300, 0, 1e-12);
    assert_int_equal(wh_trace_fall(arena, &trace, &part), WH_OK);
    assert_true(part.time[0] > 40 && part.time[0] < 41 && part.count > 380);
    check_close(part.speed[part.count - 1], speed[799], 0, 1e-12);
    for (size_t i = 0; i < part.count; i++) check_close(part.speed[i], 300 - 7 * (part.time[i] - 40), 1e-9, 0);
    assert_int_equal(wh_trace_rise(arena, &trace, &part), WH_OK);
    assert_true(part.time[0] <= 0.1 && part.time[part.count - 1] < 10 && part.time[part.count - 1] > 9.5);
    struct wh_speed_trace few = wh_trace_thinned(arena, &part, 10);
    assert_int_equal(few.count, 10);
    for (size_t i = 0; i < few.count; i++) check_close(few.speed[i], 1 + 30 * few.time[i], 0, 1e-9);
    trace.count = 399;
    assert_int_equal(wh_trace_fall(arena, &trace, &part), WH_ERR_NO_ANSWER);
    trace.count = 0;
    assert_int_equal(wh_trace_fall(arena, &trace, &part), WH_ERR_NO_ANSWER);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(slowing_shaft), cmocka_unit_test(lost_and_doubled),
                                       cmocka_unit_test(parts_of_a_run)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
