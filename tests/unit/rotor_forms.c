/* Finite elements of a turning rotor against closed forms: with finer elements the error falls as it should. */
#include "rotor_sample.h"

#include <complex.h>

static const double modulus = 206e9, shear = 206e9 / 2.6, density = 7850;

/* ---- a turning shaft on two ends -------------------------------------------------------------------------------- */

static const double length = 1.2, radius = 0.08, turning = 3000;

/* What is left of the equation of the n-th whirl of a simply supported Timoshenko beam with rotary inertia and
 * gyroscopic effect, its shape sin(n pi z/l): Euler's beam with G without end. */
static double left_over(int n, double w, double shear_modulus)
{
    double k = n * pi / length, area = pi * radius * radius, second = area * radius * radius / 4;
    double turn = density * second * (w * w - 2 * turning * w);
    double bend = modulus * second * k * k - turn, line = density * area * w * w;
    if (isinf(shear_modulus)) return k * k * bend - line;
    double s = wh_rotor_shear_coefficient(modulus / (2 * shear_modulus) - 1, 0) * shear_modulus * area;
    return (s * k * k - line) * (bend + s) - s * s * k * k;
}

/* The root that a guess lies near. */
static double root_near(int n, double w, double shear_modulus)
{
    double low = w * 0.7, high = w * 1.3;
    bool rising = left_over(n, high, shear_modulus) > left_over(n, low, shear_modulus);
    for (int i = 0; i < 200; i++) {
        double middle = (low + high) / 2;
        if ((left_over(n, middle, shear_modulus) > 0) == rising)
            high = middle;
        else
            low = middle;
    }
    return (low + high) / 2;
}

/* The error of the first two forward and backward whirls with more and more elements falls by 2^order at each doubling:
 * 4 where a cubic carries the bending; 2 with shear, which is constant along each element. */
static void check_order(struct wh_arena *arena, bool stiff_in_shear, size_t first, double order, const char *name)
{
    const struct wh_rotor_piece shaft = PIECE(0, length, radius);
    const struct wh_rotor_support ends[] = {SPRING(0, 1e16), SPRING(length, 1e16)};
    double before[4] = {0};
    for (size_t elements = first; elements <= 4 * first; elements *= 2) {
        const struct wh_rotor rotor = {modulus, shear, density, stiff_in_shear, elements, &shaft, 1, NULL,
                                       0,       ends,  2,       NULL,           0};
        const struct wh_whirl *whirls = whirls_of(arena, &rotor, turning, 4);
        for (size_t i = 0; i < 4; i++) {
            double w = whirls[i].turning > 0 ? whirls[i].speed : -whirls[i].speed;
            double exact = root_near(i < 2 ? 1 : 2, w, stiff_in_shear ? INFINITY : shear);
            double error = fabs(w / exact - 1);
            if (elements > first) {
                print_message("%s, whirl %+8.1f rad/s, %2zu elements: error %.2e, order %.2f\n", name, exact, elements,
                              error, log2(before[i] / error));
                check_close(log2(before[i] / error), order, 0.15, 0);
            }
            before[i] = error;
        }
    }
}

ARENA_TEST(order_without_shear)
{
    check_order(arena, true, 4, 4, "Rayleigh beam");
    return WH_OK;
}

ARENA_TEST(order_with_shear)
{
    check_order(arena, false, 8, 2, "Timoshenko beam");
    return WH_OK;
}

/* ---- rigid rotors ----------------------------------------------------------------------------------------------- */

/* Data of Friswell, Penny, Garvey & Lees, Dynamics of Rotating Machines, example 3.5.1, from memory; figures worked out
 * elsewhere from its two degrees of freedom. Negative: backward. */
ARENA_TEST(rigid_on_two_springs)
{
    const struct wh_rotor_piece shaft = PIECE(0, 0.5, 0.1);
    const struct wh_rotor_body body = {0.25, 0.25, 122.68, 0.6134, 2.8625};
    const struct wh_rotor_support ends[] = {SPRING(0, 1.0e6), SPRING(0.5, 1.3e6)};
    const struct wh_rotor rotor = {1e17, 4e16, 1e-6, false, 2, &shaft, 1, &body, 1, ends, 2, NULL, 0};
    const struct {
        double rpm;
        size_t which;
        double whirl;
    } rows[] = {{0, 1, 135.0817},     {0, 3, 225.2090},      {1000, 1, -134.8913}, {1000, 2, 135.2403},
                {1000, 3, -214.4610}, {10000, 1, -126.4959}, {10000, 2, 135.9806}, {10000, 3, -148.1805}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct wh_whirl *whirls = whirls_of(arena, &rotor, rows[i].rpm * 2 * pi / 60, 4);
        const struct wh_whirl *whirl = &whirls[rows[i].which - 1];
        check_close(whirl->speed, fabs(rows[i].whirl), 0, 5e-5);
        if (rows[i].rpm > 0) check_close(whirl->turning, rows[i].whirl > 0 ? 1 : -1, 1e-6, 0);
    }
    return WH_OK;
}

/* A bowl over the end of its spindle, on a pivot at the foot and a spring at the neck:
 * T w^2 - P v w - k h^2 = 0 about the pivot, with T the tilting inertia there. The sums of the clarifier by hand: it
 * shakes at 680 rpm, and a belt of 739 N at 165 mm moves the neck by 0.466 mm, 0.521 mm at the dial. */
ARENA_TEST(rigid_on_pivot_and_mount)
{
    const double height = 0.34, stiffness = 770e3, middle = 0.525, mass = 62, polar = 1.12, pivot = 18.7, v = 508.7;
    const struct wh_rotor_piece shaft = PIECE(0, 0.42, 0.1);
    const struct wh_rotor_body bowl = {0.42, middle, mass, polar, pivot - mass * middle * middle};
    const struct wh_rotor_support supports[] = {SPRING(0, 1e13), SPRING(height, stiffness)};
    const struct wh_rotor_pull belt[] = {{0.165, 739, 0}, {height, 0, 0}};
    const struct wh_rotor rotor = {1e15, 4e14, 1e-6, true, 1, &shaft, 1, &bowl, 1, supports, 2, belt, 2};
    const struct wh_whirl *whirls = whirls_of(arena, &rotor, v, 2);
    const double *z;
    double x[8], y[8];
    double root = sqrt(polar * v * polar * v + 4 * pivot * stiffness * height * height);
    check_close(whirls[0].speed, (root - polar * v) / (2 * pivot), 0, 2e-6);
    check_close(whirls[0].turning, -1, 1e-6, 0);
    check_close(whirls[1].speed, (root + polar * v) / (2 * pivot), 0, 2e-6);
    check_close(whirls[1].turning, 1, 1e-6, 0);
    struct wh_whirl *criticals;
    assert_true(wh_rotor_criticals(arena, make(arena, &rotor), 2, &criticals) == 2);
    check_close(criticals[0].speed, sqrt(stiffness / (pivot + polar)) * height, 0, 2e-6);
    check_close(criticals[1].speed, sqrt(stiffness / (pivot - polar)) * height, 0, 2e-6);
    check_close(criticals[1].speed * 60 / (2 * pi), 679.5, 0.05, 0);
    struct wh_rotor_model *model = make(arena, &rotor);
    size_t nodes = wh_rotor_nodes(model, &z);
    wh_rotor_deflection(arena, model, x, y);
    for (size_t i = 0; i < nodes; i++)
        if (fabs(z[i] - height) < 1e-9) check_close(x[i] * 1e3, 0.466, 0.0005, 0);
    check_close(x[nodes - 1] / z[nodes - 1] * 0.380 * 1e3, 0.521, 0.0005, 0);
    return WH_OK;
}

/* A mass on stiffnesses with cross terms: x and y apart, then k +- i q, which drives one whirl and brakes the other. */
ARENA_TEST(cross_terms_and_damping)
{
    const struct wh_rotor_piece shaft = PIECE(0, 0.2, 0.1);
    const struct wh_rotor_body body = {0.1, 0.1, 10, 1e-9, 1e3};
    const double k = 1e6, q = 1e5, c = 400;
    struct wh_rotor_support ends[] = {{0, {{k, 0}, {0, 4 * k}}, {{0}}}, {0.2, {{k, 0}, {0, 4 * k}}, {{0}}}};
    const struct wh_rotor rotor = {1e15, 4e14, 1e-6, false, 2, &shaft, 1, &body, 1, ends, 2, NULL, 0};
    struct wh_whirl *whirls;
    assert_true(wh_rotor_whirls(arena, make(arena, &rotor), 10, 4, &whirls) == 4);
    check_close(whirls[2].speed, sqrt(2 * k / 10), 0, 1e-6);
    check_close(whirls[3].speed, sqrt(8 * k / 10), 0, 1e-6);
    check_close(whirls[3].turning, 0, 1e-6, 0);
    for (int i = 0; i < 2; i++) ends[i] = (struct wh_rotor_support){i * 0.2, {{k, q}, {-q, k}}, {{c, 0}, {0, c}}};
    assert_true(wh_rotor_whirls(arena, make(arena, &rotor), 10, 4, &whirls) == 4);
    for (int i = 2; i < 4; i++) {
        double side = whirls[i].turning > 0 ? -1 : 1;
        double complex l = (-2 * c + csqrt(4 * c * c - 40 * (2 * k + I * side * 2 * q))) / 20;
        if (cimag(l) < 0) l = (-2 * c - csqrt(4 * c * c - 40 * (2 * k + I * side * 2 * q))) / 20;
        check_close(whirls[i].speed, cimag(l), 0, 1e-6);
        check_close(whirls[i].damping, -creal(l) / cabs(l), 1e-7, 1e-5);
    }
    return WH_OK;
}

/* ---- flexible shafts without mass -------------------------------------------------------------------------------- */

/* C1-TIW85: Tiwari, Rotor systems (NPTEL 112103024), example 8.5: data read, figure worked out: 29.4479 rad/s. */
ARENA_TEST(disc_between_ends)
{
    const struct wh_rotor_piece shaft = PIECE(0, 1, 0.005);
    const struct wh_rotor_body disc = {0.75, 0.75, 10, 0.04, 0.02};
    const struct wh_rotor_support ends[] = {SPRING(0, 1e13), SPRING(1, 1e13)};
    const struct wh_rotor rotor = {2.1e11, 8e10, 1e-3, true, 4, &shaft, 1, &disc, 1, ends, 2, NULL, 0};
    check_close(whirls_of(arena, &rotor, 0, 2)[0].speed, 29.4479, 0, 1e-4);
    return WH_OK;
}

/* C1-GYR: Tiwari, Rotor systems (NPTEL 112103024), module 5, text to fig. 5.31: 0.74 and 2.73 at rest; turning: worked
 * out from its two degrees of freedom. Speeds in units of sqrt(3EI/(m l^3)). */
ARENA_TEST(disc_on_a_cantilever)
{
    const double l = 0.5, r = 0.01, e = 2e11, mass = 5, tilting = mass * l * l / 3;
    const double unit = sqrt(3 * e * pi / 4 * pow(r, 4) / (mass * l * l * l));
    const struct wh_rotor_piece pieces[] = {PIECE(-0.2, 0, 1.0), PIECE(0, l, r)};
    const struct wh_rotor_body disc = {l, l, mass, 2 * tilting, tilting};
    const struct wh_rotor_support root[] = {SPRING(-0.2, 1e15), SPRING(0, 1e15)};
    const struct wh_rotor rotor = {e, 8e10, 1e-6, true, 4, pieces, 2, &disc, 1, root, 2, NULL, 0};
    check_close(whirls_of(arena, &rotor, 0, 4)[0].speed / unit, 0.74, 0, 0.012);
    check_close(whirls_of(arena, &rotor, 0, 4)[2].speed / unit, 2.73, 0, 0.002);
    const struct wh_whirl *whirls = whirls_of(arena, &rotor, unit, 4);
    const double printed[] = {NAN, 1.25259, -2.41036};
    for (size_t i = 1; i < 3; i++) {
        check_close(whirls[i].speed / unit, fabs(printed[i]), 0, 2e-5);
        check_close(whirls[i].turning, printed[i] > 0 ? 1 : -1, 1e-6, 0);
    }
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(order_without_shear),     cmocka_unit_test(order_with_shear),
        cmocka_unit_test(rigid_on_two_springs),    cmocka_unit_test(rigid_on_pivot_and_mount),
        cmocka_unit_test(cross_terms_and_damping), cmocka_unit_test(disc_between_ends),
        cmocka_unit_test(disc_on_a_cantilever)};
    return cmocka_run_group_tests_name("rotor closed forms", tests, NULL, NULL);
}
