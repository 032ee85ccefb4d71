/* Spreads by Monte Carlo against closed forms and published results; the same to the last bit by any number of threads.
 */
#include "sheet/spread.h"

#include "check.h"
#include "sheet/ask.h"
#include "sheet/draw.h"

#include <math.h>
#include <string.h>

enum { MANY = 200000 };

static double add(double a, double b, double c, double d)
{
    return a + b + c + d;
}
WH_COLUMNS(4, add)
static double root(double x)
{
    return x >= 0 ? sqrt(x) : NAN;
}
WH_COLUMNS(1, root)

static const struct wh_rule sum_rule = {.name = "trial.sum",
                                        .formula = "s = a + b + c + d",
                                        .in = {{"a", "a", "m", NULL, "a", 0},
                                               {"b", "b", "m", NULL, "b", 0},
                                               {"c", "c", "m", NULL, "c", 0},
                                               {"d", "d", "m", NULL, "d", 0}},
                                        .out = {{"sum", "s", "m", NULL, "sum", 0}},
                                        WH_WORK(4, add)};
static const struct wh_rule root_rule = {.name = "trial.root",
                                         .formula = "y = sqrt(x)",
                                         .in = {{"x", "x", "-0.5..9", NULL, "x", 0}},
                                         .out = {{"root", "y", "1", NULL, "root", 0}},
                                         WH_WORK(1, root)};

static struct wh_sheet *sheet_of(struct wh_arena *arena, const struct wh_rule *rule, const struct wh_value in[])
{
    struct wh_asked *asked = WH_NEW(arena, 1, struct wh_asked);
    *asked = (struct wh_asked){.rule = rule, .inputs = wh_rule_inputs(rule), .results = wh_rule_results(rule)};
    for (size_t i = 0; i < asked->inputs; i++) {
        asked->in[i] = (struct wh_asked_input){.slot = &rule->in[i], .value = in[i], .origin = WH_ORIGIN_GIVEN};
        assert_true(wh_form_read(rule->in[i].range, &asked->in[i].form));
    }
    for (size_t o = 0; o < asked->results; o++) {
        asked->out[o].slot = &rule->out[o];
        assert_true(wh_form_read(rule->out[o].range, &asked->out[o].form));
    }
    return wh_ask_sheet(arena, asked);
}

struct task {
    const struct wh_sheet *sheet;
    struct wh_spread_wish wish;
    struct wh_spread spread;
};

static enum wh_status work(struct wh_arena *arena, void *context)
{
    struct task *task = context;
    wh_sheet_trials(arena, task->sheet, &task->wish, &task->spread);
    return WH_OK;
}

/* The spread of a sheet's last cell, in memory of its own. */
static struct wh_spread spread_with(const struct wh_sheet *sheet, struct wh_spread_wish wish)
{
    size_t cell = sheet->cell_count - 1;
    struct task task = {.sheet = sheet, .wish = wish};
    task.wish.cells = &cell;
    task.wish.count = 1;
    if (wish.threads == 0) task.wish.threads = 1;
    assert_int_equal(wh_arena_run((size_t)32 << 20, work, &task), WH_OK);
    return task.spread;
}

/* JCGM 101:2008, 9.2.2 and table 2: four normal inputs of u = 1, sum 0, u 2.00, interval -3.92..3.92; 9.2.3 and table
 * 3: four rectangular ones, -3.88..3.88 (from memory of the tables; the ends also follow from the closed forms 1.959964
 * times 2 and 2 sqrt(3) (2 - 0.6^(1/4))). */
ARENA_TEST(the_sum_of_four_inputs_is_that_of_gum_supplement_1)
{
    double half = sqrt(3), end = 2 * sqrt(3) * (2 - pow(0.6, 0.25)), se = 2 / sqrt(MANY);
    struct wh_value even[4], bell[4];
    for (size_t i = 0; i < 4; i++) {
        even[i] = wh_between(-half, half);
        bell[i] = wh_normal(0, 1);
    }
    check_close(end, 3.88, 0.005, 0);
    struct wh_spread_wish wish = {.trials = MANY, .seed = 7};
    struct wh_spread flat = spread_with(sheet_of(arena, &sum_rule, even), wish);
    struct wh_spread normal = spread_with(sheet_of(arena, &sum_rule, bell), wish);
    check_close(flat.mean, 0, 4 * se, 0);
    check_close(flat.u, 2, 4 * se, 0);
    check_close(normal.mean, 0, 4 * se, 0);
    check_close(normal.u, 2, 4 * se, 0);
    double end_se = sqrt(0.025 * 0.975 / MANY) / (0.058445 / 2); /* the bell's height at 1.96 standard deviations */
    check_close(normal.low, -2 * 1.959964, 4 * end_se, 0);
    check_close(normal.high, 2 * 1.959964, 4 * end_se, 0);
    check_close(flat.low, -end, 4 * end_se, 0);
    check_close(flat.high, end, 4 * end_se, 0);
    return WH_OK;
}

/* One rectangle from 0 to 1: quantiles, shares and correlation are known without a table. */
ARENA_TEST(one_interval_gives_its_own_shares)
{
    struct wh_value in[4] = {wh_between(0, 1), wh_exact(0), wh_exact(0), wh_exact(0)};
    struct wh_limits limits = {0.1, 0.95};
    struct wh_spread_wish wish = {.trials = MANY, .seed = 3, .limits = &limits, .matters = true};
    struct wh_spread spread = spread_with(sheet_of(arena, &sum_rule, in), wish);
    check_close(spread.u, sqrt(1.0 / 12), 0.001, 0);
    check_close(spread.low, 0.025, 4 * sqrt(0.025 * 0.975 / MANY), 0);
    check_close(spread.high, 0.975, 4 * sqrt(0.025 * 0.975 / MANY), 0);
    check_close(spread.below, 0.1, 4 * sqrt(0.09 / MANY), 0);
    check_close(spread.above, 0.05, 4 * sqrt(0.0475 / MANY), 0);
    assert_int_equal(spread.matter_count, 1);
    assert_int_equal(spread.matters[0].cell, 0);
    check_close(spread.matters[0].rank, 1, 1e-6, 0);
    check_close(spread.none, 0, 0, 0);
    return WH_OK;
}

/* Three inputs of half widths 3, 2 and 1: a rank correlation is near its share of the standard deviation. */
ARENA_TEST(what_matters_most_comes_first)
{
    struct wh_value in[4] = {wh_between(-1, 1), wh_between(-3, 3), wh_exact(1), wh_between(-2, 2)};
    struct wh_spread_wish wish = {.trials = 5000, .seed = 3, .matters = true};
    struct wh_spread spread = spread_with(sheet_of(arena, &sum_rule, in), wish);
    assert_int_equal(spread.matter_count, 3);
    assert_int_equal(spread.matters[0].cell, 1);
    assert_int_equal(spread.matters[1].cell, 3);
    assert_int_equal(spread.matters[2].cell, 0);
    check_close(spread.matters[0].rank, 3 / sqrt(14), 0.05, 0);
    check_close(spread.matters[2].rank, 1 / sqrt(14), 0.05, 0);
    return WH_OK;
}

/* x even from -1 to 1: a quarter is out of the range, a quarter has no root; over the rest the root's mean is 2/3. */
ARENA_TEST(trials_without_an_answer_are_told_and_not_averaged_in)
{
    struct wh_value in[1] = {wh_between(-1, 1)};
    for (size_t trials = 3000; trials <= MANY; trials = trials < MANY ? MANY : trials + 1) {
        struct wh_spread spread =
            spread_with(sheet_of(arena, &root_rule, in), (struct wh_spread_wish){.trials = trials, .seed = 5});
        double se = sqrt(1.0 / (double)trials);
        check_close(spread.none, 0.5, 2 * se, 0);
        check_close(spread.mean, 2.0 / 3, 2 * se, 0);
        check_close(spread.low, sqrt(0.025), 2 * se, 0);
        check_close(spread.high, sqrt(0.975), 2 * se, 0);
    }
    struct wh_value never[1] = {wh_between(-0.5, -0.25)};
    struct wh_spread none =
        spread_with(sheet_of(arena, &root_rule, never), (struct wh_spread_wish){.trials = 1000, .seed = 5});
    check_close(none.none, 1, 0, 0);
    assert_true(isnan(none.mean) && isnan(none.u) && isnan(none.low));
    return WH_OK;
}

/* Windows of bins give the ends that sorting all trials gives, to the width of a bin. */
ARENA_TEST(the_ends_are_those_of_the_sorted_trials)
{
    struct wh_value in[4] = {wh_normal(0, 1), wh_exact(0), wh_exact(0), wh_exact(0)};
    struct wh_sheet *sheet = sheet_of(arena, &sum_rule, in);
    struct wh_spread spread = spread_with(sheet, (struct wh_spread_wish){.trials = MANY, .seed = 11});
    struct wh_draw_layers layers;
    double *drawn = WH_NEW(arena, MANY, double);
    wh_draw_layers(&layers);
    wh_draw_column(&in[0], wh_draw_stream(11, "a"), 0, MANY, &layers, drawn);
    size_t below_low = 0, below_high = 0;
    for (size_t i = 0; i < MANY; i++) {
        below_low += drawn[i] < spread.low;
        below_high += drawn[i] < spread.high;
    }
    check_close((double)below_low / MANY, 0.025, 1.0 / 17000, 0);
    check_close((double)below_high / MANY, 0.975, 1.0 / 17000, 0);
    return WH_OK;
}

ARENA_TEST(any_number_of_threads_gives_the_same_bits)
{
    struct wh_value in[4] = {wh_normal(1, 1), wh_between(0, 3), wh_normal(2, 0.1), wh_between(-1, 1)};
    struct wh_sheet *sheet = sheet_of(arena, &sum_rule, in);
    for (size_t trials = 2; trials < 70000; trials = trials * 5 + 3) {
        struct wh_spread one = spread_with(sheet, (struct wh_spread_wish){.trials = trials, .seed = 1});
        for (size_t threads = 2; threads <= WH_SPREAD_THREADS; threads *= 4) {
            struct wh_spread more =
                spread_with(sheet, (struct wh_spread_wish){.trials = trials, .seed = 1, .threads = threads});
            assert_memory_equal(&one.mean, &more.mean, sizeof one.mean);
            assert_memory_equal(&one.u, &more.u, sizeof one.u);
            assert_memory_equal(&one.low, &more.low, sizeof one.low);
            assert_memory_equal(&one.high, &more.high, sizeof one.high);
        }
        struct wh_spread other = spread_with(sheet, (struct wh_spread_wish){.trials = trials, .seed = 2});
        assert_true(other.mean < one.mean || other.mean > one.mean);
    }
    return WH_OK;
}

/* The bell curve's layers: share of draws in each of 40 cells against the distribution, by chi square. */
ARENA_TEST(normal_draws_follow_the_bell_curve)
{
    enum { CELLS = 40, DRAWS = 1000000 };
    struct wh_value bell = wh_normal(0, 1);
    struct wh_draw_layers layers;
    double *drawn = WH_NEW(arena, DRAWS, double), chi2 = 0;
    size_t seen[CELLS] = {0}, far = 0;
    wh_draw_layers(&layers);
    wh_draw_column(&bell, wh_draw_stream(1, "bell"), 0, DRAWS, &layers, drawn);
    for (size_t i = 0; i < DRAWS; i++) {
        double below = erfc(-drawn[i] / sqrt(2)) / 2;
        seen[(size_t)fmin(below * CELLS, CELLS - 1)]++;
        far += fabs(drawn[i]) > 3.5;
    }
    for (size_t c = 0; c < CELLS; c++) {
        double want = (double)DRAWS / CELLS, off = (double)seen[c] - want;
        chi2 += off * off / want;
    }
    assert_true(chi2 < 80);                              /* 39 degrees of freedom: exceeded once in 10,000 seeds */
    check_close((double)far, 465.3, 4 * sqrt(465.3), 0); /* beyond the last layer */
    return WH_OK;
}

/* A stream goes on from where a block ended, and two names share no values. */
ARENA_TEST(a_draw_hangs_on_seed_name_and_trial_alone)
{
    struct wh_value even = wh_between(0, 1);
    struct wh_draw_layers layers;
    double whole[100], part[40], other[100];
    (void)arena;
    wh_draw_layers(&layers);
    wh_draw_column(&even, wh_draw_stream(1, "x"), 0, 100, &layers, whole);
    wh_draw_column(&even, wh_draw_stream(1, "x"), 60, 40, &layers, part);
    wh_draw_column(&even, wh_draw_stream(1, "y"), 0, 100, &layers, other);
    assert_memory_equal(whole + 60, part, sizeof part);
    for (size_t i = 0; i < 100; i++) assert_true(whole[i] < other[i] || whole[i] > other[i]);
    return WH_OK;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sum_of_four_inputs_is_that_of_gum_supplement_1),
        cmocka_unit_test(one_interval_gives_its_own_shares),
        cmocka_unit_test(what_matters_most_comes_first),
        cmocka_unit_test(trials_without_an_answer_are_told_and_not_averaged_in),
        cmocka_unit_test(the_ends_are_those_of_the_sorted_trials),
        cmocka_unit_test(any_number_of_threads_gives_the_same_bits),
        cmocka_unit_test(normal_draws_follow_the_bell_curve),
        cmocka_unit_test(a_draw_hangs_on_seed_name_and_trial_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
