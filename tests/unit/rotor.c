/* Finite elements of a turning rotor: published cases within their rounding, and convergence to closed forms. */
#include "rotor_sample.h"

static const double rpm = 3.14159265358979323846 / 30;

/* A disc with a hole, about its own middle. */
static struct wh_rotor_body disc(double at, double outside, double hole, double thick, double density)
{
    double mass = density * pi / 4 * (outside * outside - hole * hole) * thick;
    double polar = mass * (outside * outside + hole * hole) / 8;
    return (struct wh_rotor_body){at, at, mass, polar, polar / 2 + mass * thick * thick / 12};
}

/* ---- published cases ------------------------------------------------------------------------------------------- */

/* Speed of the shaft in rpm and the n-th whirl there, negative: backward (where the shaft turns). */
struct printed {
    const char *name;
    double turning;
    size_t which;
    double whirl, unit, tolerance;
};

static void check_printed(struct wh_arena *arena, const struct wh_rotor *rotor, const struct printed *rows,
                          size_t count)
{
    struct wh_rotor_model *model = make(arena, rotor);
    for (size_t i = 0; i < count; i++) {
        struct wh_whirl *whirls;
        size_t found = wh_rotor_whirls(arena, model, rows[i].turning * rpm, 8, &whirls);
        assert_true(found >= rows[i].which);
        const struct wh_whirl *whirl = &whirls[rows[i].which - 1];
        print_message("%-14s %.4f, printed %.4f\n", rows[i].name, whirl->speed / rows[i].unit, fabs(rows[i].whirl));
        check_close(whirl->speed / rows[i].unit, fabs(rows[i].whirl), 0, rows[i].tolerance);
        if (rows[i].turning > 0) check_close(whirl->turning, rows[i].whirl > 0 ? 1 : -1, 1e-6, 0);
    }
}

/* Friswell, Penny, Garvey & Lees, Dynamics of Rotating Machines, 2010, example 5.9.1; data and figures from memory. */
ARENA_TEST(two_discs)
{
    const struct wh_rotor_piece shaft = PIECE(0, 1.5, 0.025);
    const struct wh_rotor_body discs[] = {disc(0.5, 0.28, 0.05, 0.07, 7810), disc(1.0, 0.35, 0.05, 0.07, 7810)};
    const struct wh_rotor_support ends[] = {SPRING(0, 1e6), SPRING(1.5, 1e6)};
    const struct wh_rotor rotor = {211e9, 81.2e9, 7810, false, 6, &shaft, 1, discs, 2, ends, 2, NULL, 0};
    const struct printed rows[] = {
        {"FR591-0-1", 0, 1, 86.66, 1, 1e-4},        {"FR591-0-3", 0, 5, 716.78, 1, 1e-4},
        {"FR591-4000-1", 4000, 1, -85.39, 1, 1e-4}, {"FR591-4000-3", 4000, 3, -251.78, 1, 1e-4},
        {"FR591-4000-4", 4000, 4, 294.71, 1, 1e-4}, {"FR591-4000-6", 4000, 6, 827.08, 1, 1e-4}};
    check_printed(arena, &rotor, rows, sizeof rows / sizeof *rows);
    return WH_OK;
}

/* The same book, example 5.9.9, an overhung disc; data from memory, figures worked out from it elsewhere. */
ARENA_TEST(overhung_disc)
{
    const struct wh_rotor_piece shaft = PIECE(0, 1.5, 0.025);
    const struct wh_rotor_body wheel = disc(1.5, 0.35, 0.05, 0.07, 7810);
    const struct wh_rotor_support ends[] = {SPRING(0, 1e7), SPRING(1, 1e7)};
    const struct wh_rotor rotor = {211e9, 81.2e9, 7810, false, 6, &shaft, 1, &wheel, 1, ends, 2, NULL, 0};
    const double hertz = 2 * pi;
    const struct printed rows[] = {
        {"FR599-0-1", 0, 1, 14.3467, hertz, 1e-3},        {"FR599-0-3", 0, 5, 132.1678, hertz, 1e-3},
        {"FR599-4000-1", 4000, 1, -12.1260, hertz, 1e-3}, {"FR599-4000-3", 4000, 3, -90.0802, hertz, 1e-3},
        {"FR599-4000-4", 4000, 4, 100.9415, hertz, 1e-3}, {"FR599-4000-5", 4000, 5, -103.0924, hertz, 1e-3},
        {"FR599-4000-6", 4000, 6, 186.8793, hertz, 1e-3}};
    check_printed(arena, &rotor, rows, sizeof rows / sizeof *rows);
    return WH_OK;
}

/* ---- the classic stepped rotor --------------------------------------------------------------------------------- */

/* Nelson & McVaugh, J. Eng. Ind. 98 (1976), table 1, from memory: z, outside and inside radius, cm. */
static const double stations[][3] = {{0, 0.51, 0},     {1.27, 1.02, 0},     {5.08, 0.76, 0},     {7.62, 2.03, 0},
                                     {8.89, 2.03, 0},  {10.16, 3.30, 0},    {10.67, 3.30, 1.52}, {11.43, 2.54, 1.78},
                                     {12.70, 2.54, 0}, {13.46, 1.27, 0},    {16.51, 1.27, 0},    {19.05, 1.52, 0},
                                     {22.86, 1.52, 0}, {26.67, 1.27, 0},    {28.70, 1.27, 0},    {30.48, 3.81, 0},
                                     {31.50, 2.03, 0}, {34.54, 2.03, 1.52}, {35.50, 0, 0}};
enum { SEGMENTS = sizeof stations / sizeof *stations - 1 };

static void check_criticals(struct wh_arena *arena, bool stiff_in_shear, const struct printed *rows, size_t count)
{
    struct wh_rotor_piece pieces[SEGMENTS];
    for (size_t i = 0; i < SEGMENTS; i++) {
        double outer = stations[i][1] / 100, inner = stations[i][2] / 100;
        pieces[i] = (struct wh_rotor_piece){stations[i][0] / 100, stations[i + 1][0] / 100, outer, outer, inner, inner};
    }
    const struct wh_rotor_body wheel = {0.0889, 0.0889, 1.401, 0.0020, 0.00136};
    const struct wh_rotor_support supports[] = {SPRING(0.1651, 4.378e7), SPRING(0.2870, 4.378e7)};
    const struct wh_rotor rotor = {2.078e11, 2.078e11 / 2.6, 7806, stiff_in_shear, 1, pieces, SEGMENTS, &wheel,
                                   1,        supports,       2,    NULL,           0};
    struct wh_whirl *whirls;
    struct wh_rotor_model *model = make(arena, &rotor);
    size_t found = wh_rotor_criticals(arena, model, 8, &whirls);
    const double *z;
    assert_int_equal(wh_rotor_nodes(model, &z), SEGMENTS + 1);
    for (size_t i = 0; i < count; i++) {
        size_t seen = 0, at = 0;
        for (; at < found; at++)
            if (whirls[at].turning * rows[i].whirl > 0 && ++seen == rows[i].which) break;
        assert_true(at < found);
        print_message("%-8s %.1f rpm, printed %.1f\n", rows[i].name, whirls[at].speed / rpm, fabs(rows[i].whirl));
        check_close(whirls[at].speed / rpm, fabs(rows[i].whirl), 0, rows[i].tolerance);
    }
}

ARENA_TEST(classic_rotor_without_shear)
{
    const struct printed rows[] = {{"NM-B1", 0, 1, -15470, 1, 0.002},
                                   {"NM-F1", 0, 1, 17159, 1, 0.002},
                                   {"NM-F2", 0, 2, 49983, 1, 0.005},
                                   {"NM-B3", 0, 3, -64752, 1, 0.008}};
    check_criticals(arena, true, rows, sizeof rows / sizeof *rows);
    return WH_OK;
}

/* Figures worked out elsewhere from the same table. */
ARENA_TEST(classic_rotor_with_shear)
{
    const struct printed rows[] = {{"NMT-B1", 0, 1, -15370.4, 1, 0.001},
                                   {"NMT-F1", 0, 1, 16999.3, 1, 0.001},
                                   {"NMT-B2", 0, 2, -46508.6, 1, 0.001},
                                   {"NMT-F3", 0, 3, 94695.6, 1, 0.001}};
    check_criticals(arena, false, rows, sizeof rows / sizeof *rows);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(two_discs), cmocka_unit_test(overhung_disc),
                                       cmocka_unit_test(classic_rotor_without_shear),
                                       cmocka_unit_test(classic_rotor_with_shear)};
    return cmocka_run_group_tests_name("rotor", tests, NULL, NULL);
}
