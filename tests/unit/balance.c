/* Balance from runs: the printed examples, what cannot be answered, how far off an answer may be, and the choice of
 * masses against every way there is. */
#include "check.h"

#include "study/balance.h"
#include "study/balance_split.h"

#include <stdlib.h>

static const double DEGREE = 3.14159265358979323846 / 180;

static double complex at(double size, double degrees)
{
    return size * cexp(I * degrees * DEGREE);
}

static double degrees(double complex number)
{
    double angle = carg(number) / DEGREE;
    return angle < 0 ? angle + 360 : angle;
}

static struct wh_balance_runs empty(size_t planes, size_t sensors, size_t runs)
{
    struct wh_balance_runs all = {.planes = planes, .sensors = sensors, .runs = runs};
    for (size_t s = 0; s < WH_BALANCE_SENSORS; s++) {
        all.weight[s] = 1;
        for (size_t p = 0; p < WH_BALANCE_PLANES; p++) all.known[s][p] = NAN;
    }
    return all;
}

/* Rao, Mechanical Vibrations, example 9.2, two planes of a turbine rotor: from memory, worked anew. In mil and oz. It
 * prints the angles of the unbalance; masses are added opposite to it. */
static void two_planes(void **state)
{
    (void)state;
    struct wh_balance_runs runs = empty(2, 2, 3);
    struct wh_balance_answer answer;
    runs.reads[0][0] = at(8.5, 60);
    runs.reads[0][1] = at(6.5, 205);
    runs.on[1][0] = at(10, 270);
    runs.reads[1][0] = at(6, 125);
    runs.reads[1][1] = at(4.5, 230);
    runs.on[2][1] = at(12, 180);
    runs.reads[2][0] = at(6, 35);
    runs.reads[2][1] = at(10.5, 160);
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCED);
    check_close(cabs(answer.wanted[0]), 10.056, 0, 1e-4);
    check_close(degrees(-answer.wanted[0]), 145.555, 0, 1e-5);
    check_close(degrees(answer.wanted[0]), 325.5548, 0, 2e-6);
    check_close(cabs(answer.wanted[1]), 5.8774, 0, 1e-4);
    check_close(cabs(answer.effect[0][0]), 0.807112, 0, 2e-6);
    check_close(degrees(answer.effect[0][0]), 287.6435, 0, 2e-6);
    check_close(cabs(answer.effect[1][0]), 0.307912, 0, 2e-6);
    check_close(degrees(answer.effect[1][0]), 76.8562, 0, 2e-6);
    check_close(cabs(answer.effect[0][1]), 0.331313, 0, 2e-6);
    check_close(degrees(answer.effect[1][1]), 302.0988, 0, 2e-6);
    for (size_t s = 0; s < 2; s++) {
        check_close(cabs(wh_balance_reading(&answer, 2, s, answer.wanted)), 0, 1e-12, 0);
        assert_true(isnan(answer.misfit[s]) && answer.freedom[s] == 0);
    }
}

/* Tiwari, lectures on rotor dynamics, example 13.5: a symmetric rotor, so one trial gives all effects (statement read,
 * figures worked from it). In um and kg. */
static void known_effects(void **state)
{
    (void)state;
    struct wh_balance_runs trial = empty(1, 2, 2), runs = empty(2, 2, 1);
    struct wh_balance_answer effects, answer;
    trial.on[1][0] = at(0.3, 30);
    trial.reads[1][0] = at(50, 61);
    trial.reads[1][1] = at(42, 130);
    assert_int_equal(wh_balance_solve(&trial, &effects), WH_BALANCED);
    check_close(cabs(effects.effect[0][0]), 166.6667, 0, 2e-6);
    check_close(degrees(effects.effect[0][0]), 31, 0, 2e-6);
    check_close(cabs(effects.effect[1][0]), 140, 0, 2e-6);
    check_close(degrees(effects.effect[1][0]), 100, 0, 2e-6);
    runs.reads[0][0] = at(30, 230);
    runs.reads[0][1] = at(70, 330);
    runs.known[0][0] = runs.known[1][1] = effects.effect[0][0];
    runs.known[0][1] = runs.known[1][0] = effects.effect[1][0];
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCED);
    check_close(cabs(answer.wanted[0]), 0.3325001, 0, 2e-6);
    check_close(degrees(answer.wanted[0]), 28.92054, 0, 2e-6);
}

/* A grinding wheel, 1200 rpm (statement read in print, figures worked from it): the reading's angle goes against the
 * clock and the trial stands clockwise, so one of them changes its sign. And Rao's problem of it, from memory. */
static void one_plane(void **state)
{
    (void)state;
    struct wh_balance_runs runs = empty(1, 1, 2);
    struct wh_balance_answer answer;
    runs.reads[0][0] = at(0.2, 40);
    runs.on[1][0] = at(0.2, -65);
    runs.reads[1][0] = at(0.5, 150);
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCED);
    check_close(cabs(answer.wanted[0]), 0.066815, 0, 2e-5);
    check_close(degrees(answer.wanted[0]), 346.7, 0, 2e-5);
    runs.reads[0][0] = at(10, 40);
    runs.on[1][0] = at(6, -65);
    runs.reads[1][0] = at(19, 150);
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCED);
    check_close(cabs(answer.wanted[0]), 2.4681, 0, 2e-5);
    check_close(cabs(answer.effect[0][0]) * 6, 24.31, 0, 2e-5);
}

/* Shreve, Balancing Without Phase: the readings are printed, solved there by drawing; its two figures of the trial's
 * effect differ because the readings do not quite agree. One made case, and two runs half a turn apart. */
static void without_phase(void **state)
{
    (void)state;
    const double complex on[] = {at(50, 0), at(50, 120), at(50, 240)}, unit[] = {at(1, 0), at(1, 120), at(1, 240)};
    struct wh_balance_phaseless p;
    assert_true(wh_balance_without_phase(10, 3, on, (double[]){7, 12, 18}, &p));
    check_close(p.by_mean * 50, 8.5049, 0, 1e-4);
    check_close(p.by_swing * 50, 8.064, 0, 1e-4);
    check_close(cabs(p.wanted), 58.79, 0, 1e-4);
    assert_true(isnan(creal(p.other)));
    assert_true(wh_balance_without_phase(5, 3, unit, (double[]){2.410233, 6.261745, 7.548598}, &p));
    check_close(p.by_mean, 3, 0, 1e-5);
    check_close(p.by_swing, 3, 0, 1e-5);
    check_close(degrees(p.wanted), 20, 1e-3, 0); /* the heavy spot is at 200 */
    assert_true(wh_balance_without_phase(3, 2, (double complex[]){1, -1}, (double[]){5, 4}, &p));
    check_close(p.by_mean, 3.39116, 0, 1e-5);
    check_close(cabs(p.wanted), 0.88465, 0, 1e-5);
    check_close(cabs(p.other - conj(p.wanted)), 0, 1e-12, 0);
    const double c = 3.39116 / 3;
    check_close(3 * cabs(1 + c * cexp(I * (3.14159265358979 - carg(p.wanted)))), 5, 1e-4, 0);
    assert_false(wh_balance_without_phase(3, 1, unit, (double[]){5}, &p));
    assert_false(wh_balance_without_phase(3, 2, unit, (double[]){5, 4}, &p));
    assert_false(wh_balance_without_phase(3, 2, (double complex[]){1, -1}, (double[]){3, 3}, &p));
    assert_false(wh_balance_without_phase(10, 3, on, (double[]){10, 10, 10}, &p));
    assert_false(wh_balance_without_phase(10, 3, (double complex[]){1, 1, -1}, (double[]){7, 12, 18}, &p));
}

static void no_answer(void **state)
{
    (void)state;
    struct wh_balance_runs runs = empty(2, 2, 3);
    struct wh_balance_answer answer;
    for (size_t r = 0; r < 3; r++)
        for (size_t s = 0; s < 2; s++) runs.reads[r][s] = at(1 + (double)(r * s), 40 * (double)r);
    runs.on[1][0] = 1;
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCE_NO_TRIAL);
    assert_int_equal(answer.at, 1);
    runs.on[1][1] = 2;
    runs.on[2][0] = 2;
    runs.on[2][1] = 4; /* both planes always loaded alike */
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCE_NOT_APART);
    runs.on[2][1] = 1;
    runs.reads[1][1] = NAN;
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCE_NOT_READ);
    assert_int_equal(answer.at, 1);
    runs.sensors = 1;
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCE_NOT_APART);
}

static double chance(void)
{
    static unsigned long long state = 88172645463325252ULL;
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (double)(state >> 11) / 9007199254740992.0;
}

/* Normal, by the sum of twelve. */
static double normal(void)
{
    double sum = -6;
    for (int i = 0; i < 12; i++) sum += chance();
    return sum;
}

/* Made readings with noise of a known size, many times: the answers scatter as they say. */
static void doubt_is_as_stated(void **state)
{
    (void)state;
    enum { TIMES = 4000 };
    const double noise = 0.05;
    const double complex bare = at(5, 60), effect = at(0.4, 200), wanted = -bare / effect;
    double sum = 0, stated = 0, reading = 0, said = 0;
    struct wh_balance_runs runs = empty(1, 1, 4);
    struct wh_balance_answer answer;
    struct wh_balance_doubt doubt;
    const double complex on[] = {0, at(6, 90), at(6, 210), at(6, 330)}, chosen[] = {wanted};
    for (int t = 0; t < TIMES; t++) {
        for (size_t r = 0; r < 4; r++) {
            runs.on[r][0] = on[r];
            runs.reads[r][0] = bare + effect * on[r] + noise * (normal() + I * normal());
            runs.along[r][0] = runs.across[r][0] = noise;
        }
        assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCED);
        sum += pow(cabs(answer.wanted[0] - wanted), 2);
        reading += pow(cabs(wh_balance_reading(&answer, 1, 0, chosen)), 2);
        if (t % 40) continue;
        wh_balance_doubt(&runs, &answer, chosen, &doubt);
        stated += (pow(doubt.size[0], 2) + pow(doubt.angle[0] * cabs(answer.wanted[0]), 2)) / pow(doubt.raised, 2);
        said += 2 * pow(doubt.reading[0], 2) / pow(doubt.raised, 2);
    }
    check_close(sqrt(stated / (TIMES / 40)), sqrt(sum / TIMES), 0, 0.05);
    check_close(sqrt(said / (TIMES / 40)), sqrt(reading / TIMES), 0, 0.05);
}

/* Where nothing is stated only runs to spare can tell; stated uncertainties that the runs belie are raised. */
static void doubt_without_statement(void **state)
{
    (void)state;
    struct wh_balance_runs runs = empty(1, 1, 2);
    struct wh_balance_answer answer;
    struct wh_balance_doubt doubt;
    const double complex chosen[] = {0};
    runs.reads[0][0] = 5;
    runs.on[1][0] = 1;
    runs.reads[1][0] = 4;
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCED);
    wh_balance_doubt(&runs, &answer, chosen, &doubt);
    assert_true(isnan(doubt.factor) && isnan(doubt.most[0]) && isnan(doubt.reading[0]));
    runs.runs = 3;
    runs.reads[2][0] = 5.4;
    assert_int_equal(wh_balance_solve(&runs, &answer), WH_BALANCED);
    assert_int_equal(answer.freedom[0], 2);
    check_close(answer.misfit[0], 0.2, 1e-12, 0); /* 5.2 between 5 and 5.4: 0.2 and 0.2, over the root of 2 */
    wh_balance_doubt(&runs, &answer, chosen, &doubt);
    check_close(doubt.factor, 4.302653, 1e-5, 0); /* Student's t, 95 %, 2 degrees of freedom: tables */
    check_close(doubt.reading[0], 0.2 / sqrt(2), 1e-9, 0);
    for (size_t r = 0; r < 3; r++) runs.along[r][0] = runs.across[r][0] = 0.02;
    wh_balance_doubt(&runs, &answer, chosen, &doubt);
    check_close(doubt.factor, 2, 0, 0);
    check_close(doubt.raised, 10, 1e-9, 0);
}

/* Every way, without any wit. */
static void all_ways(const struct wh_split *split, size_t hole, size_t used, size_t stock[], double complex made,
                     double left[])
{
    if (hole == split->places) {
        left[used] = fmin(left[used], cabs(split->wanted - made));
        return;
    }
    all_ways(split, hole + 1, used, stock, made, left);
    for (size_t m = 0; m < split->masses && used < split->most; m++) {
        if (split->stock[m] > 0 && stock[m] == split->stock[m]) continue;
        stock[m]++;
        all_ways(split, hole + 1, used + 1, stock, made + split->mass[m] * split->arm[hole], left);
        stock[m]--;
    }
}

ARENA_TEST(choice_of_masses)
{
    for (int t = 0; t < 300; t++) {
        struct wh_split split = {.places = 1 + (size_t)(chance() * 8), .masses = 1 + (size_t)(chance() * 3)};
        struct wh_split_choice best[WH_SPLIT_MOST + 1];
        double left[WH_SPLIT_MOST + 1], ways;
        split.most = (size_t)(chance() * 5);
        split.wanted = at(chance() * 0.01, chance() * 360);
        for (size_t i = 0; i < split.places; i++)
            split.arm[i] = at(0.25, 360 * (double)i / (double)split.places + 7 * (t % 3));
        for (size_t m = 0; m < split.masses; m++) {
            split.mass[m] = 0.002 + 0.02 * chance();
            split.stock[m] = t % 2 ? (size_t)(chance() * 3) : 0;
        }
        for (size_t k = 0; k <= split.most; k++) left[k] = INFINITY;
        all_ways(&split, 0, 0, (size_t[WH_SPLIT_MASSES]){0}, 0, left);
        assert_true(wh_split_best(arena, &split, best, &ways) && ways >= 1);
        for (size_t k = 0; k <= split.most; k++) {
            assert_true(isinf(left[k]) == isinf(best[k].left));
            if (isinf(left[k])) continue;
            check_close(best[k].left, left[k], 1e-15, 1e-12);
            double complex made = 0;
            for (size_t i = 0; i < split.places; i++)
                if (best[k].mass[i] >= 0) made += split.mass[best[k].mass[i]] * split.arm[i];
            check_close(cabs(made - best[k].made), 0, 1e-15, 0);
        }
    }
    return WH_OK;
}

/* Shreve, Balancing Weights: 1.925 oz wanted at 250 degrees, holes at 240 and 280, shares 1.4974 and 0.5200 oz by the
 * law of sines: with just these at hand among others nothing is left. */
ARENA_TEST(choice_known)
{
    struct wh_split split = {.places = 2, .masses = 4, .most = 2, .mass = {0.5200, 1.0, 1.4974, 2.0}};
    struct wh_split_choice best[WH_SPLIT_MOST + 1];
    double ways;
    split.arm[0] = at(1, 240);
    split.arm[1] = at(1, 280);
    split.wanted = at(1.925, 250);
    assert_true(wh_split_best(arena, &split, best, &ways));
    check_close(ways, 1 + 2 * 4 + 16, 0, 0);
    assert_true(best[2].left < 1e-4 && best[2].mass[0] == 2 && best[2].mass[1] == 0);
    assert_ptr_equal(wh_split_choose(best, 2, 1e-3), &best[2]);
    assert_ptr_equal(wh_split_choose(best, 2, 3), &best[0]);
    assert_ptr_equal(wh_split_choose(best, 2, 0), &best[2]);
    return WH_OK;
}

/* Out of reach all of it goes the right way; more ways than can be covered are refused, not guessed at. */
ARENA_TEST(choice_out_of_reach)
{
    struct wh_split split = {.places = 18, .masses = 4, .most = 3, .mass = {0.5, 1.0, 1.5, 2.0}};
    struct wh_split_choice best[WH_SPLIT_MOST + 1];
    double ways;
    for (size_t i = 0; i < 18; i++) split.arm[i] = at(1, 20 * (double)i);
    split.wanted = at(100, 260);
    assert_true(wh_split_best(arena, &split, best, &ways));
    check_close(ways, 1 + 18 * 4 + 153 * 16 + 816 * 64, 1e-6, 0);
    assert_true(best[3].mass[13] == 3 && best[3].mass[12] == 3 && best[3].mass[14] == 3);
    split.most = 12;
    split.places = 32;
    assert_false(wh_split_best(arena, &split, best, &ways));
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_planes),          cmocka_unit_test(known_effects),
        cmocka_unit_test(one_plane),           cmocka_unit_test(without_phase),
        cmocka_unit_test(no_answer),           cmocka_unit_test(doubt_is_as_stated),
        cmocka_unit_test(choice_of_masses),    cmocka_unit_test(choice_known),
        cmocka_unit_test(choice_out_of_reach), cmocka_unit_test(doubt_without_statement),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
