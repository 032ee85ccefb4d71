/* Amplitude and phase through a resonance, against the closed form of a damped mass on a spring driven by unbalance
 * (S. S. Rao, Mechanical Vibrations, rotating unbalance), standing at each speed and truly swept. */
#include "check.h"
#include "study/order_track.h"

static const double TURN = 6.28318530717958647692;

enum { RATE = 4000 };

struct shaft {
    double top, slope; /* rad/s and rad/s2: w = top - slope t */
    double natural, damping;
};

static double angle_of(const struct shaft *s, double t)
{
    return s->top * t - s->slope * t * t / 2;
}

/* Closed form: amplitude over eccentricity, and lag. */
static double amplitude_at(const struct shaft *s, double speed)
{
    double r = speed / s->natural;
    return r * r / hypot(1 - r * r, 2 * s->damping * r);
}

static double lag_at(const struct shaft *s, double speed)
{
    double r = speed / s->natural;
    return atan2(2 * s->damping * r, 1 - r * r);
}

/* Marks at whole turns: the quadratic solved. */
static struct wh_speed_trace marks_of(struct wh_arena *arena, const struct shaft *s, double seconds)
{
    size_t turns = (size_t)(angle_of(s, seconds) / TURN);
    double *mark = WH_NEW(arena, turns + 1, double), *time = WH_NEW(arena, turns, double);
    double *speed = WH_NEW(arena, turns, double);
    for (size_t k = 0; k <= turns; k++)
        mark[k] = 2 * (double)k * TURN / (s->top + sqrt(s->top * s->top - 2 * s->slope * (double)k * TURN));
    for (size_t k = 0; k < turns; k++) {
        time[k] = (mark[k] + mark[k + 1]) / 2;
        speed[k] = TURN / (mark[k + 1] - mark[k]);
    }
    return (struct wh_speed_trace){.count = turns, .time = time, .speed = speed, .marks = turns + 1, .mark = mark};
}

static struct wh_thin *kept(struct wh_arena *arena, const double *x, size_t n)
{
    struct wh_thin *thin = wh_thin_open(arena, RATE, 800);
    wh_thin_add(thin, n, x);
    wh_thin_close(thin);
    return thin;
}

/* A shaft that stands at each speed: twice the once-a-turn, a line that stands still and a steady part beside it. */
ARENA_TEST(standing_at_each_speed)
{
    struct shaft s = {320, 1.6, 110, 0.06};
    size_t n = 180 * RATE;
    double *x = WH_NEW(arena, n, double);
    for (size_t i = 0; i < n; i++) {
        double t = (double)i / RATE, angle = angle_of(&s, t), speed = s.top - s.slope * t;
        x[i] = amplitude_at(&s, speed) * cos(angle - lag_at(&s, speed)) + 0.5 * cos(2 * angle) +
               0.2 * cos(37 * TURN * t) + 3;
    }
    struct wh_speed_trace trace = marks_of(arena, &s, 179);
    struct wh_order_track track;
    struct wh_resonance found[WH_RESONANCES_MOST];
    assert_int_equal(wh_order_track(arena, kept(arena, x, n), &trace, 400, &track), WH_OK);
    assert_true(track.count > 390);
    double away = track.phase[0] - lag_at(&s, track.speed[0]);
    assert_true(fabs(away - TURN * round(away / TURN)) < 0.02);
    for (size_t i = 0; i < track.count; i++) {
        bool met = fabs(track.speed[i] / TURN - 37) < 4;
        if (met) continue;
        check_close(track.amplitude[i], amplitude_at(&s, track.speed[i]), 0.01, 0.02);
        check_close(track.phase[i] - away, lag_at(&s, track.speed[i]), 0.06, 0);
    }
    assert_int_equal(wh_resonances(arena, &track, 0, found), 1);
    check_close(found[0].speed, 110, 0, 2e-3);
    check_close(found[0].damping, 0.06, 0, 0.05);
    check_close(found[0].amplitude, 1 / (2 * 0.06 * sqrt(1 - 0.06 * 0.06)), 0, 0.02);
    check_close(found[0].at, 110 / sqrt(1 - 2 * 0.06 * 0.06), 0, 0.01);
    assert_true(found[0].turned && !found[0].hurried);
    return WH_OK;
}

/* The equation of motion integrated while the shaft slows: x'' + 2 z n x' + n^2 x = e (w^2 cos + w' sin). */
static double acceleration(const struct shaft *s, double t, double x, double v)
{
    double w = s->top - s->slope * t, angle = angle_of(s, t);
    return w * w * cos(angle) - s->slope * sin(angle) - 2 * s->damping * s->natural * v - s->natural * s->natural * x;
}

static void swing(const struct shaft *s, double *velocity, size_t n)
{
    double h = 1.0 / RATE, x = 0, v = 0;
    for (size_t i = 0; i < n; i++) {
        double t = (double)i * h;
        velocity[i] = v;
        double k1 = acceleration(s, t, x, v), v2 = v + h / 2 * k1, k2 = acceleration(s, t + h / 2, x + h / 2 * v, v2);
        double v3 = v + h / 2 * k2, k3 = acceleration(s, t + h / 2, x + h / 2 * v2, v3), v4 = v + h * k3;
        double k4 = acceleration(s, t + h, x + h * v3, v4);
        x += h / 6 * (v + 2 * v2 + 2 * v3 + v4);
        v += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
    }
}

/* Slowly swept, velocity recorded: the natural frequency as it is. In a hurry: said so. */
ARENA_TEST(truly_swept)
{
    struct shaft slow = {320, 1.6, 140, 0.05}, quick = {320, 60, 140, 0.01};
    size_t n = 180 * RATE;
    double *v = WH_NEW(arena, n, double);
    struct wh_order_track track;
    struct wh_resonance found[WH_RESONANCES_MOST];
    swing(&slow, v, n);
    struct wh_speed_trace trace = marks_of(arena, &slow, 179);
    assert_int_equal(wh_order_track(arena, kept(arena, v, n), &trace, 400, &track), WH_OK);
    assert_int_equal(wh_resonances(arena, &track, 1, found), 1);
    check_close(found[0].speed, 140, 0, 5e-3);
    check_close(found[0].damping, 0.05, 0, 0.1);
    assert_true(found[0].turned && !found[0].hurried);
    swing(&quick, v, 5 * RATE);
    trace = marks_of(arena, &quick, 4.9);
    assert_int_equal(wh_order_track(arena, kept(arena, v, 5 * RATE), &trace, 400, &track), WH_OK);
    size_t count = wh_resonances(arena, &track, 1, found);
    assert_true(count == 0 || found[0].hurried);
    return WH_OK;
}

ARENA_TEST(too_few_turns)
{
    struct shaft s = {320, 1.6, 140, 0.05};
    double x[RATE / 4] = {0};
    struct wh_speed_trace trace = marks_of(arena, &s, 0.2);
    struct wh_order_track track;
    assert_int_equal(wh_order_track(arena, kept(arena, x, RATE / 4), &trace, 100, &track), WH_ERR_NO_ANSWER);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(standing_at_each_speed), cmocka_unit_test(truly_swept),
                                       cmocka_unit_test(too_few_turns)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
