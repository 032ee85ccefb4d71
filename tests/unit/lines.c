/* Chances of lines of noise against printed tables; families and the shaft line in made spectra; false alarms. */
#include "study/family.h"
#include "testrun/sources.h"
#include "check.h"

enum { LINES = 1200, LOOKS = 7, SPECTRA = 400 };

/* Chi-squared with 10 and with 20 degrees of freedom, 5 % and 1 %: R. A. Fisher and F. Yates, Statistical Tables,
 * table IV (as every table of it since). */
static void chances_meet_the_table(void **state)
{
    (void)state;
    check_close(wh_noise_evidence(5, 18.307 / 10), -log(0.05), 0, 1e-4);
    check_close(wh_noise_evidence(5, 23.209 / 10), -log(0.01), 0, 1e-4);
    check_close(wh_noise_evidence(10, 31.410 / 20), -log(0.05), 0, 1e-4);
    check_close(wh_noise_evidence(10, 37.566 / 20), -log(0.01), 0, 1e-4);
    check_close(wh_noise_evidence(1, 3), 3, 1e-12, 0);
    assert_true(wh_noise_evidence(7, 0) < 1e-12 && wh_noise_evidence(7, NAN) < 1e-12);
}

/* R. A. Fisher, Statistical Methods for Research Workers, 4th ed. 1932, section 21.1 (from memory): 0.145, 0.263 and
 * 0.087 make chi-squared 11.42 with 6 degrees of freedom, between 5 and 10 % (12.592 is 5 %, 10.645 is 10 %). */
static void chances_are_put_together(void **state)
{
    (void)state;
    double together = exp(wh_noise_chance(3, -log(0.145) - log(0.263) - log(0.087)));
    assert_true(together > 0.05 && together < 0.10);
    check_close(wh_noise_chance(3, 12.592 / 2), log(0.05), 0, 1e-4);
    check_close(wh_noise_chance(3, 10.645 / 2), log(0.10), 0, 1e-4);
}

/* ---- made spectra ------------------------------------------------------------------------------------------------ */

static unsigned long long seed = 1;

static double uniform(void)
{
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return ((double)(seed >> 11) + 0.5) / 9007199254740992.0;
}

/* Noise of mean one, averaged over LOOKS looks, with lines of a given over-floor power put on. */
static struct wh_spectrum noise(struct wh_arena *arena)
{
    struct wh_spectrum s = {.step = 0.5, .lines = LINES, .bandwidth = 1.5, .averages = LOOKS + 1};
    s.power = WH_NEW(arena, LINES, double);
    for (size_t k = 0; k < LINES; k++)
        for (int i = 0; i < LOOKS; i++) s.power[k] -= log(uniform()) / LOOKS;
    return s;
}

/* A line as a Hann window shows it. */
static void put_line(struct wh_spectrum *s, double frequency, double over)
{
    double at = frequency / s->step;
    for (double k = floor(at) - 1; k <= floor(at) + 2; k++) {
        double off = fabs(k - at), pi = 3.14159265358979323846;
        double w = off < 1e-9 ? 1 : fabs(off - 1) < 1e-9 ? 0.5 : sin(pi * off) / (pi * off) / (1 - off * off);
        s->power[(size_t)k] += over * w * w;
    }
}

ARENA_TEST(family_is_found)
{
    struct wh_spectrum s = noise(arena);
    for (int i = 1; i <= 5; i++) put_line(&s, i * 53.77, 40.0 / i);
    struct wh_ground ground = wh_ground_of(arena, &s, 15);
    wh_ground_leave_out(&ground, 15, 50);
    struct wh_comb comb = wh_comb_plain(53.3, 0.02, 5);
    struct wh_family family = wh_family_find(&ground, &comb, 100);
    check_close(family.frequency, 53.77, 0.06, 0);
    assert_true(family.seen >= 4 && family.chance < -12 && family.whole == 0);
    check_close(family.depth, sqrt(2 * 40 * (1 + 1 / 2.0 + 1 / 3.0 + 1 / 4.0 + 1 / 5.0)) / 100, 0, 0.2);
    return WH_OK;
}

/* Multiples of the turn and of twice the mains are no family of a bearing, however strong; but every third multiple
 * that stands far over the others is. */
ARENA_TEST(turning_is_left_out)
{
    struct wh_spectrum s = noise(arena), t = noise(arena);
    for (int i = 1; i <= 30; i++) put_line(&s, i * 17.5, 300);
    for (int i = 1; i <= 4; i++) put_line(&s, i * 100.0, 300);
    for (int i = 1; i <= 30; i++) put_line(&t, i * 17.5, i % 3 ? 20 : 600);
    struct wh_ground ground = wh_ground_of(arena, &s, 13);
    wh_ground_leave_out(&ground, 17.5, 50);
    struct wh_comb comb = wh_comb_plain(52.4, 0.02, 5), mains = wh_comb_plain(99.5, 0.02, 4);
    assert_true(wh_family_find(&ground, &comb, 100).seen <= 1);
    assert_true(wh_family_find(&ground, &mains, 100).seen <= 1);
    ground = wh_ground_of(arena, &t, 13);
    wh_ground_leave_out(&ground, 17.5, 50);
    struct wh_family family = wh_family_find(&ground, &comb, 100);
    assert_true(family.seen >= 4 && family.whole == family.seen);
    return WH_OK;
}

ARENA_TEST(shaft_is_found)
{
    double score;
    struct wh_spectrum s = noise(arena);
    for (int i = 1; i <= 4; i++) put_line(&s, i * 17.341, 500.0 / (i * i));
    put_line(&s, 15.9, 60);
    put_line(&s, 50, 3000);
    struct wh_ground ground = wh_ground_of(arena, &s, 13);
    check_close(wh_shaft_line(&ground, 1, 16.667, 0.08, 50, &score), 17.341, 0.02, 0);
    assert_true(score > 2);
    check_close(wh_shaft_line(&ground, 1, 30, 0.001, 50, &score), 30, 1e-9, 0);
    return WH_OK;
}

/* Of spectra of mere noise no more families pass a chance of 1 in 100 than 1 in 100 allows (five standard errors). */
static enum wh_status noise_makes_no_family(struct wh_arena *arena, void *context)
{
    size_t *alarms = context;
    struct wh_spectrum s = noise(arena);
    struct wh_ground ground = wh_ground_of(arena, &s, 15);
    struct wh_comb comb = wh_comb_plain(20 + 70 * uniform(), 0.02, 5);
    *alarms += wh_family_find(&ground, &comb, 100).chance < -2;
    return WH_OK;
}

enum { ARENA = 4 << 20 };

static void noise_alone(void **state)
{
    (void)state;
    size_t alarms = 0;
    for (int i = 0; i < SPECTRA; i++) assert_int_equal(wh_arena_run(ARENA, noise_makes_no_family, &alarms), WH_OK);
    assert_true(alarms <= SPECTRA / 100 + 10);
}

/* ---- sources ----------------------------------------------------------------------------------------------------- */

ARENA_TEST(sources)
{
    struct wh_sources s = wh_sources_usual();
    struct wh_errors errors = wh_errors_in(arena);
    assert_int_equal(wh_sources_add_bearing(arena, &s, "6205-2RS", &errors), WH_OK);
    check_close(s.bearings.at[0].order[WH_LINE_OUTER], 3.5848, 5e-5, 0);
    check_close(s.bearings.at[0].order[WH_LINE_INNER], 5.4152, 5e-5, 0);
    check_close(s.bearings.at[0].order[WH_LINE_ROLLER], 4.7135, 1e-4, 0);
    check_close(s.bearings.at[0].order[WH_LINE_CAGE], 0.39828, 5e-5, 0);
    assert_int_equal(wh_sources_add_lines(arena, &s, "outer=3.05, cage = 0.38", &errors), WH_ERR_INPUT);
    assert_int_equal(wh_sources_add_lines(arena, &s, "outer=3.05, cage=0.38", &errors), WH_OK);
    assert_int_equal(s.bearings.count, 2);
    assert_true(isnan(s.bearings.at[1].order[WH_LINE_INNER]));
    const char *const wrong[] = {"",           "outer",     "outer=", "outer=x",
                                 "outer=0.01", "outer=101", "ring=3", "outer=3;inner=5"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        assert_int_equal(wh_sources_add_lines(arena, &s, wrong[i], &errors), WH_ERR_INPUT);
    assert_int_equal(wh_sources_add_bearing(arena, &s, "9999", &errors), WH_ERR_INPUT);
    assert_int_equal(s.bearings.count, 2);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(chances_meet_the_table),
                                       cmocka_unit_test(chances_are_put_together),
                                       cmocka_unit_test(family_is_found),
                                       cmocka_unit_test(turning_is_left_out),
                                       cmocka_unit_test(shaft_is_found),
                                       cmocka_unit_test(noise_alone),
                                       cmocka_unit_test(sources)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
