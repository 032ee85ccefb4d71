/* Running down in closed form against printed cases and cases worked by hand. The fit is tried in property/run_down.py.
 */
#include "check.h"
#include "study/rundown.h"

static const double RPM = 0.10471975511965978;

static struct wh_slowing slowing(double inertia, double steady, double air, double speed)
{
    return (struct wh_slowing){{steady / inertia, 0, air / inertia, speed}};
}

/* Verma, Concepts of Physics, rotational mechanics, exercise: J 5 kg m2 from 60 rad/s stands after 5 min; 1.0 N m. */
static void steady_drag_of_a_textbook(void **state)
{
    (void)state;
    struct wh_slowing s = slowing(5, 1.0, 0, 60);
    check_close(wh_slowing_time(&s, 60, 0), 300, 0, 1e-12);
    check_close(wh_slowing_speed(&s, 150), 30, 0, 1e-12);
}

/* Christensen, Physics 121, sample problem of angular kinematics: 900 rev/min losing 5 rev/min a second: 180 s. */
static void steady_drag_of_a_lecture(void **state)
{
    (void)state;
    struct wh_slowing s = {{5 * RPM, 0, 0, 900 * RPM}};
    check_close(wh_slowing_time(&s, 900 * RPM, 0), 180, 0, 1e-12);
    check_close(wh_slowing_speed(&s, 60), 600 * RPM, 0, 1e-12);
}

/* Hand: J 0.8 kg m2, 2 N m and 8.10569e-5 N m s2 from 3000 rev/min; the difference of two arctangents. */
static void steady_and_air(void **state)
{
    (void)state;
    struct wh_slowing s = slowing(0.8, 2, 8.10569e-5, 3000 * RPM);
    check_close(wh_slowing_time(&s, 3000 * RPM, 0), 69.56421, 0, 2e-5);
    check_close(wh_slowing_time(&s, 3000 * RPM, 1500 * RPM), 20.21618, 0, 2e-5);
    check_close(wh_slowing_speed(&s, 20.21618), 1500 * RPM, 0, 2e-5);
}

/* Drag in step with the speed: as many turns again after the speed has halved (exercise, printed answer); and by hand
 * the time to half speed is ln 2 of the time constant, and it never stands. */
static void viscous_alone(void **state)
{
    (void)state;
    struct wh_slowing s = {{0, 0.02, 0, 100}};
    check_close(wh_slowing_time(&s, 100, 50), log(2) / 0.02, 0, 1e-12);
    check_close(wh_slowing_speed(&s, log(2) / 0.02), 50, 0, 1e-12);
    assert_true(isinf(wh_slowing_time(&s, 100, 0)));
}

/* Hand, by partial fractions: 2 + 3 w + w^2 = (w + 1)(w + 2), from 4 to 1: ln(5/6 . 3/2). */
static void three_drags(void **state)
{
    (void)state;
    struct wh_slowing s = {{2, 3, 1, 4}};
    double time = log(5.0 / 6 * 3 / 2);
    check_close(wh_slowing_time(&s, 4, 1), time, 0, 1e-12);
    check_close(wh_slowing_speed(&s, time), 1, 0, 1e-12);
    assert_true(wh_slowing_time(&s, 1, 4) <= 0);
}

/* Hand, the juice clarifier: 4858 rpm, 1.12 kg m2, air 5.11e-6 N m s2; with the belt on, with it off, with a rub. */
static void clarifier(void **state)
{
    (void)state;
    static const double steady[] = {0.35, 0.20, 0.70}, minutes[] = {15.3, 22, 9}, printed[] = {0.05, 0.5, 0.5};
    for (int i = 0; i < 3; i++) {
        struct wh_slowing s = slowing(1.12, steady[i], 5.11e-6, 508.7);
        check_close(wh_slowing_time(&s, 508.7, 0) / 60, minutes[i], printed[i], 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steady_drag_of_a_textbook),
        cmocka_unit_test(steady_drag_of_a_lecture),
        cmocka_unit_test(steady_and_air),
        cmocka_unit_test(viscous_alone),
        cmocka_unit_test(three_drags),
        cmocka_unit_test(clarifier),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
