/* What pulls at a turning shaft: weights, a belt, its unbalance; and what is no rotor. */
#include "rotor_sample.h"

#include <complex.h>
#include <string.h>

/* How far each of three masses goes down under its own push of 1 N and under all weights. */
static void sags(struct wh_arena *arena, struct wh_rotor rotor, const double at[], const double pull[], size_t count,
                 double own[], double all[])
{
    struct wh_rotor_pull pulls[3];
    double x[16], y[16];
    const double *z;
    for (size_t i = 0; i < count; i++) pulls[i] = (struct wh_rotor_pull){at[i], 0, 0};
    rotor.pulls = pulls;
    rotor.pull_count = count;
    for (size_t push = 0; push <= count; push++) {
        for (size_t i = 0; i < count; i++) pulls[i].x = push == count ? pull[i] : i == push;
        struct wh_rotor_model *model = make(arena, &rotor);
        size_t nodes = wh_rotor_nodes(model, &z);
        wh_rotor_deflection(arena, model, x, y);
        for (size_t i = 0; i < count; i++)
            for (size_t n = 0; n < nodes; n++) {
                if (fabs(z[n] - at[i]) > 1e-9) continue;
                if (push == count) all[i] = x[n];
                if (push == i) own[i] = x[n];
            }
    }
}

/* Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., example 7-5: statement read, coefficients from
 * memory (C1-SH75-05, -06, -08), the exact eigenvalue worked out (C1-SH75-16), Rayleigh's and Dunkerley's speeds from
 * memory (C1-SH75-10, -11). In inches, pounds and seconds. */
ARENA_TEST(two_loads_on_a_shaft)
{
    const struct wh_rotor_piece shaft = PIECE(0, 31, 0.5);
    const double at[] = {7, 20}, weight[] = {35, 55}, g = 386.1;
    const struct wh_rotor_body loads[] = {{7, 7, 35 / g, 0, 1e-9}, {20, 20, 55 / g, 0, 1e-9}};
    const struct wh_rotor_support ends[] = {SPRING(0, 1e12), SPRING(31, 1e12)};
    const struct wh_rotor rotor = {30e6, 12e6, 1e-12, true, 4, &shaft, 1, loads, 2, ends, 2, NULL, 0};
    double own[2], all[2];
    sags(arena, rotor, at, weight, 2, own, all);
    check_close(own[0], 2.061e-4, 0, 4e-4);
    check_close(own[1], 3.534e-4, 0, 4e-4);
    check_close(all[0], 0.01945, 0, 5e-4);
    double above = weight[0] * all[0] + weight[1] * all[1];
    double below = weight[0] * all[0] * all[0] + weight[1] * all[1] * all[1];
    check_close(sqrt(g * above / below), 124.7, 0, 1e-3);
    check_close(sqrt(g / (weight[0] * own[0] + weight[1] * own[1])), 120.3, 0, 6e-4);
    check_close(whirls_of(arena, &rotor, 0, 2)[0].speed, 124.6792, 0, 1e-4);
    return WH_OK;
}

/* Rao, Mechanical Vibrations, ch. 7, from memory: Dunkerley's speed of three equal masses at the quarter points of a
 * shaft, 4.75375 sqrt(E I/(m l^3)) (C1-RAO71a); Rayleigh's of three rotors, 0.028222 sqrt(E I) (C1-RAO72). The speeds
 * of the elements lie above Dunkerley's and below Rayleigh's, as they must. */
ARENA_TEST(three_loads_on_a_shaft)
{
    const double r = 0.02, e = 2e11, bend = e * pi / 4 * pow(r, 4), g = 9.81;
    struct wh_rotor_piece shaft = PIECE(0, 4, 0.02);
    struct wh_rotor_body loads[] = {{1, 1, 7, 0, 1e-9}, {2, 2, 7, 0, 1e-9}, {3, 3, 7, 0, 1e-9}};
    struct wh_rotor_support ends[] = {SPRING(0, 1e13), SPRING(4, 1e13)};
    struct wh_rotor rotor = {e, 8e10, 1e-6, true, 4, &shaft, 1, loads, 3, ends, 2, NULL, 0};
    double own[3], all[3], at[] = {1, 2, 3}, weight[] = {7 * g, 7 * g, 7 * g}, above = 0, below = 0;
    sags(arena, rotor, at, weight, 3, own, all);
    double dunkerley = 1 / sqrt(7 * (own[0] + own[1] + own[2]));
    check_close(dunkerley / sqrt(bend / (7 * 64)), 4.75375, 0, 3e-4);
    assert_true(whirls_of(arena, &rotor, 0, 2)[0].speed > dunkerley);
    const double mass[] = {20, 50, 40}, place[] = {1, 4, 8};
    for (size_t i = 0; i < 3; i++) {
        at[i] = place[i];
        weight[i] = mass[i] * g;
        loads[i] = (struct wh_rotor_body){place[i], place[i], mass[i], 0, 1e-9};
    }
    shaft.to = ends[1].at = 10;
    sags(arena, rotor, at, weight, 3, own, all);
    for (size_t i = 0; i < 3; i++) {
        above += mass[i] * all[i];
        below += mass[i] * all[i] * all[i];
    }
    double rayleigh = sqrt(g * above / below);
    check_close(rayleigh / sqrt(bend), 0.028222, 0, 2e-4);
    assert_true(whirls_of(arena, &rotor, 0, 2)[0].speed < rayleigh);
    return WH_OK;
}

/* ---- bending and unbalance ----------------------------------------------------------------------------------------
 */

/* Budynas & Nisbett, Shigley's Mechanical Engineering Design, table A-9-10, an overhanging load: figures worked out. */
ARENA_TEST(overhanging_pull)
{
    const struct wh_rotor_piece shaft = PIECE(0, 0.55, 0.02);
    const struct wh_rotor_support bearings[] = {SPRING(0, 1e14), SPRING(0.4, 1e14)};
    const struct wh_rotor_pull pull = {0.55, 600, -800}; /* 1000 N across */
    const struct wh_rotor rotor = {207e9, 8e10, 7850, true, 4, &shaft, 1, NULL, 0, bearings, 2, &pull, 1};
    struct wh_rotor_model *model = make(arena, &rotor), *few;
    double x[32], y[32];
    const double *z;
    size_t last = wh_rotor_nodes(model, &z) - 1;
    wh_rotor_deflection(arena, model, x, y);
    check_close(x[last], 0.6 * 0.158578e-3, 0, 1e-5);
    check_close(y[last], -0.8 * 0.158578e-3, 0, 1e-5);
    few = wh_rotor_reduce(arena, model, 8);
    wh_rotor_deflection(arena, few, x, y);
    check_close(x[last], 0.6 * 0.158578e-3, 0, 1e-3);
    return WH_OK;
}

/* A disc in the middle of a shaft. Exercise, undamped: 190 um off, nine tenths of the critical speed, 810 um.
 * Rao, Mechanical Vibrations, ch. 9, problem read: 3.75 MN/m, 60 kg, 2000 um off, 3600 rpm, damping 0.05, on its
 * supports: 3545.2 um. */
ARENA_TEST(whirl_from_unbalance)
{
    const struct wh_rotor_piece shaft = PIECE(0, 0.5, 0.015);
    const struct wh_rotor_body disc = {0.25, 0.25, 60, 0.3, 0.15};
    double k = 3.75e6, c = 2 * 0.05 * sqrt(k * 60);
    const struct wh_rotor_support stiff[] = {SPRING(0, 1e14), SPRING(0.5, 1e14)};
    const struct wh_rotor_support soft[] = {{0, {{k / 2, 0}, {0, k / 2}}, {{c / 2, 0}, {0, c / 2}}},
                                            {0.5, {{k / 2, 0}, {0, k / 2}}, {{c / 2, 0}, {0, c / 2}}}};
    struct wh_rotor rotor = {2.1e11, 8e10, 1e-3, true, 2, &shaft, 1, &disc, 1, stiff, 2, NULL, 0};
    struct wh_rotor_unbalance off = {0.25, 60 * 190e-6, 0};
    double complex x[8], y[8];
    double bending = 48 * 2.1e11 * pi / 4 * pow(0.015, 4) / pow(0.5, 3);
    assert_true(wh_rotor_response(arena, make(arena, &rotor), 0.9 * sqrt(bending / 60), &off, 1, x, y));
    check_close(cabs(x[1]), 810e-6, 0, 1e-3);
    assert_true(cabs(y[1] + I * x[1]) < 1e-9 * cabs(x[1]));
    rotor.modulus = 1e18;
    rotor.supports = soft;
    off.size = 60 * 2000e-6;
    struct wh_rotor_model *model = make(arena, &rotor), *few = wh_rotor_reduce(arena, model, 4);
    assert_true(wh_rotor_response(arena, model, 3600 * 2 * pi / 60, &off, 1, x, y));
    check_close(cabs(x[1]), 3545.2e-6, 0, 1e-3);
    assert_true(wh_rotor_response(arena, few, 3600 * 2 * pi / 60, &off, 1, x, y));
    check_close(cabs(x[1]), 3545.2e-6, 0, 1e-3);
    return WH_OK;
}

/* ---- what is refused ----------------------------------------------------------------------------------------------
 */

static void check_refused(struct wh_arena *arena, const struct wh_rotor *rotor, enum wh_status status,
                          const char *words)
{
    struct wh_rotor_model *model;
    const char *why = NULL;
    assert_int_equal(wh_rotor_make(arena, rotor, &model, &why), status);
    assert_non_null(strstr(why, words));
}

ARENA_TEST(refusals)
{
    const struct wh_rotor_piece gap[] = {PIECE(0, 0.2, 0.01), PIECE(0.3, 0.5, 0.01)}, hollow = {0, 1, 1, 1, 0, 1};
    const struct wh_rotor_body beside = {0.7, 0.7, 1, 0, 0}, negative = {0.1, 0.1, -1, 0, 0};
    const struct wh_rotor_support ends[] = {SPRING(0, 1e8), SPRING(0.5, 1e8)}, beyond = SPRING(0.9, 1e8);
    struct wh_rotor rotor = {2e11, 8e10, 7850, false, 4, gap, 2, NULL, 0, ends, 2, NULL, 0};
    check_refused(arena, &rotor, WH_ERR_INPUT, "gap");
    rotor.pieces = &hollow;
    rotor.piece_count = 1;
    check_refused(arena, &rotor, WH_ERR_INPUT, "no size");
    rotor.piece_count = 0;
    check_refused(arena, &rotor, WH_ERR_INPUT, "no piece");
    rotor.pieces = gap;
    rotor.piece_count = 1;
    check_refused(arena, &rotor, WH_ERR_INPUT, "beside the shaft");
    rotor.supports = &beyond;
    rotor.support_count = 1;
    check_refused(arena, &rotor, WH_ERR_INPUT, "beside the shaft");
    rotor.supports = ends;
    check_refused(arena, &rotor, WH_ERR_NO_ANSWER, "do not hold");
    rotor.bodies = &beside;
    rotor.body_count = 1;
    check_refused(arena, &rotor, WH_ERR_INPUT, "beside the shaft");
    rotor.bodies = &negative;
    check_refused(arena, &rotor, WH_ERR_INPUT, "mass or inertia");
    rotor.body_count = 0;
    rotor.supports = ends;
    rotor.support_count = 1;
    rotor.elements = 1000;
    check_refused(arena, &rotor, WH_ERR_LIMIT, "more steps");
    rotor.modulus = NAN;
    check_refused(arena, &rotor, WH_ERR_INPUT, "modulus");
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(two_loads_on_a_shaft), cmocka_unit_test(three_loads_on_a_shaft),
                                       cmocka_unit_test(overhanging_pull), cmocka_unit_test(whirl_from_unbalance),
                                       cmocka_unit_test(refusals)};
    return cmocka_run_group_tests_name("rotor loads", tests, NULL, NULL);
}
