/* A whole balancing sheet: what is permissible at the bearings, guard band, drilling, the first trial mass. */
#include "check.h"

#include "study/balance_sheet.h"

static const double DEGREE = 3.14159265358979323846 / 180, RPM = 3.14159265358979323846 / 30, G_MM = 1e-6;

/* One plane, one sensor, read as found and with 10 g at 0.1 m; the answer is `wanted` kg m at 0 deg. */
static struct wh_balance_sheet *one_plane(struct wh_arena *arena, double wanted)
{
    struct wh_balance_sheet *s = WH_NEW(arena, 1, struct wh_balance_sheet);
    *s = (struct wh_balance_sheet){.part = "wheel",
                                   .speed = 1500 * RPM,
                                   .stamped = 1600 * RPM,
                                   .service = 1500 * RPM,
                                   .mass = 40,
                                   .grade = 6.3e-3,
                                   .span = NAN,
                                   .centre = NAN,
                                   .runout = NAN,
                                   .runout_limit = NAN,
                                   .amplitude_doubt = NAN,
                                   .amplitude_share = NAN,
                                   .phase_doubt = NAN,
                                   .planes = 1,
                                   .sensors = 1,
                                   .runs = 2};
    s->plane[0] = (struct wh_balance_plane){.id = "plane", .radius = 0.1, .most = 4, .at = NAN};
    s->sensor[0] = (struct wh_balance_sensor){.id = "sensor", .weight = 1};
    for (size_t r = 0; r < 2; r++) {
        s->run[r] = (struct wh_balance_run){.id = r ? "trial" : "found", .speed = NAN};
        s->run[r].reads[0] = (struct wh_balance_reading){wanted * 1e3 - 1 * (double)r, 0, 0}; /* 1 g m does -1 */
    }
    s->fitted[s->fitted_count++] =
        (struct wh_balance_fitted){.run = 1, .off = SIZE_MAX, .mass = 0.01, .fastened = "screwed"};
    return s;
}

ARENA_TEST(permissible_and_guard_band)
{
    struct wh_balance_result *r = WH_NEW(arena, 1, struct wh_balance_result);
    struct wh_balance_sheet *s = one_plane(arena, 3e-3);
    wh_balance_work(arena, s, r);
    check_close(r->allowed, 40 * 6.3e-3 / (1500 * RPM), 0, 1e-12); /* e_per of G 6.3 times the mass */
    check_close(creal(r->correction[0].wanted), 3e-3, 1e-12, 0);
    check_close(r->correction[0].place[0].mass, 0.03, 1e-12, 0);
    check_close(r->correction[0].place[0].pull, 3e-3 * pow(1500 * RPM, 2), 0, 1e-12);
    assert_int_equal(r->next, WH_BALANCE_FIT);
    assert_int_equal(r->residual[0].verdict, WH_BALANCE_NOT_PROVEN); /* nothing says how far it may be off */
    assert_int_equal(r->residual[0].verdict_before, WH_BALANCE_OUTSIDE);
    s->amplitude_doubt = s->phase_doubt = 0.1;
    wh_balance_work(arena, s, r);
    assert_int_equal(r->residual[0].verdict, WH_BALANCE_WITHIN);
    assert_true(r->residual[0].doubt > 0 && r->residual[0].doubt < r->allowed);
    s->amplitude_doubt = 1.2;
    wh_balance_work(arena, s, r);
    assert_true(r->residual[0].doubt > r->allowed);
    assert_int_equal(r->residual[0].verdict, WH_BALANCE_NOT_PROVEN);
    s = one_plane(arena, 1.2e-3);
    s->amplitude_doubt = s->phase_doubt = 0.01;
    wh_balance_work(arena, s, r);
    assert_int_equal(r->next, WH_BALANCE_LEAVE);
    return WH_OK;
}

/* Masses only on hand of 20 g in four holes; then the heavy side is drilled. */
ARENA_TEST(drilling_takes_the_heavy_side)
{
    struct wh_balance_result *r = WH_NEW(arena, 1, struct wh_balance_result);
    struct wh_balance_sheet *s = one_plane(arena, 3e-3);
    s->plane[0].holes = 4;
    s->plane[0].mass[0] = 0.015;
    s->plane[0].mass[1] = 0.03;
    s->plane[0].masses = 2;
    wh_balance_work(arena, s, r);
    assert_true(r->correction[0].places == 1 && r->correction[0].place[0].hole == 1);
    s->plane[0].drilled = true;
    wh_balance_work(arena, s, r);
    assert_int_equal(r->next, WH_BALANCE_REFUSED);
    assert_int_equal(r->refused.at[0].why, WH_WHY_NO_DRILLING);
    s->allows = WH_BALANCE_BY_DRILLING;
    wh_balance_work(arena, s, r);
    assert_int_equal(r->next, WH_BALANCE_FIT);
    assert_true(r->correction[0].places == 1 && r->correction[0].place[0].hole == 3);
    check_close(cabs(r->correction[0].left), 0, 1e-12, 0);
    check_close(cabs(r->after[0]), 0, 1e-9, 0);
    s->plane[0].masses = 0; /* any mass, in the two holes beside: here one of them alone */
    wh_balance_work(arena, s, r);
    assert_true(r->correction[0].places == 1 && r->correction[0].place[0].hole == 3);
    check_close(r->correction[0].place[0].mass, 0.03, 1e-12, 0);
    return WH_OK;
}

/* ISO 1940-1:2003, annex, turbine rotor, from memory: G 2.5, 3600 kg, 3000 rpm, 900 and 1500 mm: 28,600 g mm in all,
 * 17,900 and 10,700 at the bearings. */
ARENA_TEST(shares_of_the_bearings)
{
    struct wh_balance_result *r = WH_NEW(arena, 1, struct wh_balance_result);
    struct wh_balance_sheet *s = one_plane(arena, 3e-3);
    s->planes = s->sensors = 2;
    s->runs = 3;
    s->sensor[1] = s->sensor[0];
    s->speed = s->service = 3000 * RPM;
    s->stamped = 3600 * RPM;
    s->mass = 3600;
    s->grade = 2.5e-3;
    s->span = 2.4;
    s->centre = 0.9;
    s->plane[1] = s->plane[0];
    s->plane[0].at = 0;
    s->plane[1].at = 1.2;
    s->plane[1].id = "middle";
    s->run[2] = s->run[1];
    s->fitted[1] = s->fitted[0];
    s->fitted[1].plane = 1;
    s->fitted[1].run = 2;
    s->fitted_count = 2;
    const double bare[2] = {3, 4};
    for (size_t run = 0; run < 3; run++)
        for (size_t k = 0; k < 2; k++)
            s->run[run].reads[k] = (struct wh_balance_reading){bare[k] - (run == k + 1 ? 1 : 0), 0, 0};
    wh_balance_work(arena, s, r);
    assert_int_equal(r->residuals, 2);
    check_close(r->allowed, 28600 * G_MM, 60 * G_MM, 0);
    check_close(r->residual[0].allowed, 17900 * G_MM, 50 * G_MM, 0);
    check_close(r->residual[1].allowed, 10700 * G_MM, 50 * G_MM, 0);
    check_close(r->residual[0].before, 3e-3 + 2e-3, 1e-9, 0); /* the middle plane counts half at each */
    check_close(r->residual[1].before, 2e-3, 1e-9, 0);
    s->centre = -0.3; /* overhung: the near bearing at most 1.3, the far one at least 0.3 of the whole */
    wh_balance_work(arena, s, r);
    check_close(r->residual[0].allowed, r->allowed * 2.7 / 2.4, 0, 1e-9);
    check_close(r->residual[1].allowed, r->allowed * 0.3, 0, 1e-9);
    s->centre = 2.7;
    wh_balance_work(arena, s, r);
    check_close(r->residual[1].allowed, r->allowed * 2.7 / 2.4, 0, 1e-9);
    s->centre = NAN; /* without the lengths: a like share a plane */
    wh_balance_work(arena, s, r);
    check_close(r->residual[1].allowed, r->allowed / 2, 0, 1e-12);
    check_close(r->residual[1].before, 4e-3, 1e-9, 0);
    return WH_OK;
}

ARENA_TEST(first_trial_mass)
{
    struct wh_balance_result *r = WH_NEW(arena, 1, struct wh_balance_result);
    struct wh_balance_sheet *s = one_plane(arena, 3e-3);
    s->runs = 1;
    s->fitted_count = 0;
    wh_balance_work(arena, s, r);
    assert_int_equal(r->next, WH_BALANCE_TRY);
    check_close(r->trial.pull, 0.1 * 40 * 9.80665, 0, 1e-9);
    s->mass = NAN;
    wh_balance_work(arena, s, r);
    assert_int_equal(r->next, WH_BALANCE_TRY);
    assert_true(isnan(r->trial.mass));
    s->run[0].reads[0].phase = NAN;
    wh_balance_work(arena, s, r);
    assert_true(r->next == WH_BALANCE_TRY && r->phaseless);
    s->allows = WH_BALANCE_MAKERS;
    wh_balance_work(arena, s, r);
    assert_int_equal(r->next, WH_BALANCE_REFUSED);
    assert_true(r->trial.mass <= 0); /* none is proposed */
    return WH_OK;
}

/* An angle counted against the turning goes with a phase that lags; where they differ one is turned round. */
ARENA_TEST(counts_of_angles)
{
    struct wh_balance_result *r = WH_NEW(arena, 1, struct wh_balance_result);
    for (int way = 0; way < 4; way++) {
        struct wh_balance_sheet *s = one_plane(arena, 3e-3);
        bool against = way & 1, lag = way & 2;
        double complex bare = 3 * cexp(I * 50 * DEGREE), effect = 1e3 * cexp(I * 20 * DEGREE); /* with the turning */
        double complex trial = 0.001 * cexp(I * (against ? -70 : 70) * DEGREE), with = bare + effect * trial;
        s->against = against;
        s->lag = lag;
        s->run[0].reads[0] = (struct wh_balance_reading){cabs(bare), (lag ? -1 : 1) * carg(bare), 0};
        s->run[1].reads[0] = (struct wh_balance_reading){cabs(with), (lag ? -1 : 1) * carg(with), 0};
        s->fitted[0].angle = 70 * DEGREE;
        wh_balance_work(arena, s, r);
        double complex wanted = -bare / effect;
        check_close(cabs(r->correction[0].wanted - (against ? conj(wanted) : wanted)), 0, 1e-12, 0);
    }
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(permissible_and_guard_band), cmocka_unit_test(drilling_takes_the_heavy_side),
        cmocka_unit_test(shares_of_the_bearings),     cmocka_unit_test(first_trial_mass),
        cmocka_unit_test(counts_of_angles),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
