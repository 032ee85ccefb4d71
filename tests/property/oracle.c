/* Rules that answer a question backwards, against a general library's root finder; life by reliability against its
 * Weibull distribution. Thousands of random inputs inside the ranges. */
#include "base/text.h"
#include "trade/form.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { ROWS = 2000, ENOUGH = 400 };
static const double CLOSE = 1e-8;

/* `back` answers what `forward` does with its input `unknown`; the result of the one is the input `known` of the other.
 */
static const struct pair {
    const char *forward, *unknown, *back, *known;
} pairs[] = {
    {"fit.pressure", "interference", "fit.interference-for-pressure", "pressure"},
    {"fit.reduction", "drive-up", "fit.drive-up-for-reduction", "reduction"},
    {"fit.interference-of-drive-up", "drive-up", "fit.drive-up", "interference"},
    {"bearing.rating-life", "rating", "bearing.required-rating", "wanted-turns"},
    {"bearing.operating-clearance", "clearance", "bearing.clearance-wanted", "operating-clearance"},
    {"thread.torque", "preload", "thread.preload-from-torque", "wrench-setting"},
    {"thread.preload", "utilisation", "thread.utilisation", "preload"},
    {"belt.span-frequency", "strand-pull", "belt.pull-from-frequency", "frequency"},
    {"belt.deflection-force", "strand-pull", "belt.pull-from-deflection", "push"},
    {"belt.strand-pull", "stretch", "belt.stretch-for-pull", "setting-pull"},
    {"belt.spindle-speed", "motor-pulley", "belt.motor-pulley", "spindle-speed"},
    {"belt.spindle-speed", "spindle-pulley", "belt.spindle-pulley", "spindle-speed"},
    {"belt.tight-pull-at-limit", "strand-pull", "belt.rest-pull", "tight-pull"},
};

static unsigned long long state = 88172645463325252ULL;

static double chance(void)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (double)(state >> 11) / 9007199254740992.0;
}

static double drawn(const struct wh_slot *slot)
{
    struct wh_form form;
    wh_form_read(slot->range, &form);
    double most = isfinite(form.most) ? form.most : form.least + 1e4;
    return form.least + (most - form.least) * chance();
}

static size_t place(const struct wh_rule *rule, const char *name)
{
    size_t i = 0;
    while (i < wh_rule_inputs(rule) && strcmp(rule->in[i].name, name) != 0) i++;
    return i;
}

static double worked(const struct wh_rule *rule, const double in[])
{
    const double *columns[WH_RULE_IN];
    double out[WH_RULE_OUT], *to[WH_RULE_OUT];
    for (size_t i = 0; i < WH_RULE_IN; i++) columns[i] = &in[i];
    for (size_t i = 0; i < WH_RULE_OUT; i++) to[i] = &out[i];
    rule->work(1, wh_rule_inputs(rule), columns, to);
    return out[0];
}

struct question {
    const struct wh_rule *rule;
    double in[WH_RULE_IN], wanted;
    size_t unknown;
};

static double missed(double x, void *context)
{
    struct question *question = context;
    question->in[question->unknown] = x;
    return worked(question->rule, question->in) - question->wanted;
}

/* The unknown between low and high, by bisection and interpolation; NAN where it lies in neither half. */
static double solved(struct question *question, double low, double high)
{
    gsl_function function = {missed, question};
    if (!(missed(low, question) * missed(high, question) < 0)) return NAN;
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    gsl_root_fsolver_set(solver, &function, low, high);
    for (int i = 0; i < 200; i++) {
        gsl_root_fsolver_iterate(solver);
        double from = gsl_root_fsolver_x_lower(solver), to = gsl_root_fsolver_x_upper(solver);
        if (gsl_root_test_interval(from, to, 0, 1e-14) == GSL_SUCCESS) break;
    }
    double root = gsl_root_fsolver_root(solver);
    gsl_root_fsolver_free(solver);
    return root;
}

/* As many rows as have an answer, in *compared. */
static bool pair_holds(const struct pair *pair, size_t *compared)
{
    const struct wh_rule *forward = wh_rule_find(pair->forward), *back = wh_rule_find(pair->back);
    struct question question = {.rule = forward, .unknown = place(forward, pair->unknown)};
    *compared = 0;
    for (int row = 0; row < ROWS; row++) {
        double in[WH_RULE_IN] = {0};
        for (size_t i = 0; i < wh_rule_inputs(forward); i++) question.in[i] = drawn(&forward->in[i]);
        double x = question.in[question.unknown];
        question.wanted = worked(forward, question.in);
        double root = solved(&question, x - 0.3 * fabs(x), x + 0.2 * fabs(x));
        if (isnan(root)) continue;
        for (size_t i = 0; i < wh_rule_inputs(back); i++) {
            bool known = strcmp(back->in[i].name, pair->known) == 0;
            in[i] = known ? question.wanted : question.in[place(forward, back->in[i].name)];
        }
        double got = worked(back, in);
        ++*compared;
        if (fabs(got - root) <= CLOSE * fabs(root)) continue;
        printf("# %s gives %.15g, the root of %s is %.15g\n", pair->back, got, pair->forward, root);
        return false;
    }
    return *compared >= ENOUGH;
}

static bool near(const char *what, double got, double want)
{
    if (fabs(got - want) <= CLOSE * fabs(want)) return true;
    printf("# %s gives %.15g, wanted %.15g\n", what, got, want);
    return false;
}

static void draw_all(const struct wh_rule *rule, double in[])
{
    for (size_t i = 0; i < wh_rule_inputs(rule); i++) in[i] = drawn(&rule->in[i]);
}

/* What a share R reaches, in rated lives: the distribution with three parameters. */
static bool weibull_life_holds(void)
{
    const struct wh_rule *rule = wh_rule_find("bearing.weibull-life"), *rated = wh_rule_find("bearing.life-at-speed");
    double in[WH_RULE_IN];
    for (int row = 0; row < ROWS; row++) {
        draw_all(rule, in);
        double reached = in[4] + gsl_cdf_weibull_Qinv(in[3], in[5] - in[4], in[6]);
        double life = worked(rated, (const double[WH_RULE_IN]){in[0], in[1], in[2], in[7]});
        if (!near(rule->name, worked(rule, in), life * reached)) return false;
    }
    return true;
}

/* All of n bearings reach L by R: each by its n-th root, the distribution with two parameters. */
static bool reliable_rating_holds(void)
{
    const struct wh_rule *rule = wh_rule_find("bearing.reliable-rating");
    const struct wh_rule *rating = wh_rule_find("bearing.required-rating");
    double in[WH_RULE_IN];
    for (int row = 0; row < ROWS; row++) {
        draw_all(rule, in);
        double each = gsl_cdf_weibull_Qinv(pow(in[2], 1 / in[3]), 1, in[4]);
        double turns = in[1] * gsl_cdf_weibull_Qinv(0.9, 1, in[4]) / each;
        double want = worked(rating, (const double[WH_RULE_IN]){in[0], turns, in[5]});
        if (!near(rule->name, worked(rule, in), want)) return false;
    }
    return true;
}

struct drive {
    double length, large, small;
};

static double series_missed(double centres, void *context)
{
    const struct drive *drive = context;
    double step = drive->large - drive->small;
    return 2 * centres + WH_PI / 2 * (drive->large + drive->small) + step * step / (4 * centres) - drive->length;
}

/* Centres of a belt length: the larger root of the usual series. */
static bool centres_hold(void)
{
    const struct wh_rule *rule = wh_rule_find("belt.centres");
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    bool held = true;
    for (int row = 0; row < ROWS && held; row++) {
        double in[WH_RULE_IN];
        draw_all(rule, in);
        struct drive drive = {in[0], fmax(in[1], in[2]), fmin(in[1], in[2])};
        gsl_function function = {series_missed, &drive};
        double got = worked(rule, (const double[WH_RULE_IN]){drive.length, drive.large, drive.small});
        double low = (drive.large - drive.small) / sqrt(8) * (1 + 1e-9), high = drive.length;
        if (isnan(got) || low <= 0 || !(series_missed(low, &drive) * series_missed(high, &drive) < 0)) continue;
        gsl_root_fsolver_set(solver, &function, low, high);
        for (int i = 0; i < 200; i++) gsl_root_fsolver_iterate(solver);
        held = near(rule->name, got, gsl_root_fsolver_root(solver));
    }
    gsl_root_fsolver_free(solver);
    return held;
}

int main(void)
{
    enum { PAIRS = sizeof pairs / sizeof pairs[0] };
    size_t compared;
    gsl_set_error_handler_off();
    printf("1..%d\n", PAIRS + 3);
    for (size_t i = 0; i < PAIRS; i++) {
        bool held = pair_holds(&pairs[i], &compared);
        printf("%sok %zu - %s is the root of %s, %zu times\n", held ? "" : "not ", i + 1, pairs[i].back,
               pairs[i].forward, compared);
    }
    printf("%sok %d - life by reliability\n", weibull_life_holds() ? "" : "not ", PAIRS + 1);
    printf("%sok %d - rating by reliability\n", reliable_rating_holds() ? "" : "not ", PAIRS + 2);
    printf("%sok %d - centres of a belt length\n", centres_hold() ? "" : "not ", PAIRS + 3);
    return 0;
}
