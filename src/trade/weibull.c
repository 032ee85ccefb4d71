/* weibull.c - lives of parts from a list of hours: Weibull's line by maximum likelihood and by median ranks.
 *
 * The list begins with the lives of the failed parts; the rest still run, or were taken out whole, at these hours. */
#include "trade/rule.h"
#include "trade/statistics.h"

#include <math.h>

enum { PARTS = WH_RULE_COLUMNS };

/* One row of a list: its lives over the longest, so that no power overflows. */
struct lives {
    size_t count, failed;
    double longest, share[PARTS];
};

/* False: the number of failed parts is not one that the list can have. */
static bool gather(size_t k, const double *const in[], size_t i, double failed, struct lives *ret)
{
    ret->count = k;
    ret->longest = 0;
    for (size_t c = 0; c < k; c++) ret->longest = fmax(ret->longest, in[c][i]);
    for (size_t c = 0; c < k; c++) ret->share[c] = in[c][i] / ret->longest;
    ret->failed = (size_t)fmin(failed, PARTS);
    return ret->failed <= k && !(floor(failed) < failed);
}

/* ---- maximum likelihood ---------------------------------------------------------------------------------------- */

/* Rises with the shape, and is nothing at the likeliest one. */
static double slope(const struct lives *lives, double shape)
{
    double sum = 0, weighted = 0, logs = 0;
    for (size_t c = 0; c < lives->count; c++) {
        double power = pow(lives->share[c], shape), l = log(lives->share[c]);
        sum += power;
        weighted += power * l;
        if (c < lives->failed) logs += l;
    }
    return weighted / sum - 1 / shape - logs / (double)lives->failed;
}

static const double least_shape = 0.05, most_shape = 100;

struct line {
    double shape, life;
};

/* Halving on the scale of orders of magnitude; NaN where the likeliest shape lies beyond any sense. */
static struct line likeliest(const struct lives *lives)
{
    double low = least_shape, high = most_shape, sum = 0;
    if (!(slope(lives, low) < 0 && slope(lives, high) > 0)) return (struct line){NAN, NAN};
    for (int step = 0; step < 60; step++) {
        double shape = sqrt(low * high);
        *(slope(lives, shape) < 0 ? &low : &high) = shape;
    }
    double shape = sqrt(low * high);
    for (size_t c = 0; c < lives->count; c++) sum += pow(lives->share[c], shape);
    return (struct line){shape, lives->longest * pow(sum / (double)lives->failed, 1 / shape)};
}

static double life_at(struct line line, double share)
{
    return line.life * pow(-log1p(-share), 1 / line.shape);
}

/* The list is the last input: `first` inputs stand before it. */
static struct line fit(size_t k, size_t first, const double *const in[], size_t i, struct lives *lives)
{
    bool good = gather(k - first, in + first, i, in[0][i], lives);
    return good ? likeliest(lives) : (struct line){NAN, NAN};
}

static void weibull_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    struct lives lives;
    for (size_t i = 0; i < n; i++) {
        struct line line = fit(k, 1, in, i, &lives);
        out[0][i] = line.shape;
        out[1][i] = line.life;
        out[2][i] = life_at(line, 0.1);
        out[3][i] = line.life * exp(wh_log_gamma(1 + 1 / line.shape));
    }
}

/* Variance of the logarithm of the life at w = ln(-ln(1 - share)), from the observed information of the line in ln t.
 */
static double log_variance(const struct lives *lives, struct line line, double w)
{
    double first = 0, second = 0, r = (double)lives->failed;
    for (size_t c = 0; c < lives->count; c++) {
        double z = line.shape * log(lives->share[c] * lives->longest / line.life), power = exp(z);
        first += z * power;
        second += z * z * power;
    }
    double determinant = r * (r + second) - first * first;
    return (r + second - 2 * w * first + w * w * r) / (determinant * line.shape * line.shape);
}

static void b_life_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    struct lives lives;
    for (size_t i = 0; i < n; i++) {
        double share = in[1][i], confidence = in[2][i];
        struct line line = fit(k, 3, in, i, &lives);
        double life = life_at(line, share), w = log(-log1p(-share));
        double span = wh_normal_quantile((1 + confidence) / 2) * sqrt(log_variance(&lives, line, w));
        out[0][i] = life;
        out[1][i] = life * exp(-span);
        out[2][i] = life * exp(span);
    }
}

/* ---- median ranks ---------------------------------------------------------------------------------------------- */

/* Sorted by hours; of equal ones the failed first, as they come in the list. */
static void sort(const struct lives *lives, double share[], bool failed[])
{
    for (size_t c = 0; c < lives->count; c++) {
        size_t at = c;
        for (; at > 0 && share[at - 1] > lives->share[c]; at--) {
            share[at] = share[at - 1];
            failed[at] = failed[at - 1];
        }
        share[at] = lives->share[c];
        failed[at] = c < lives->failed;
    }
}

/* The straight line of ln t on ln(-ln(1 - rank)): each failed part has its order number after those that still ran. */
static void rank_line(const struct lives *lives, double out[])
{
    double share[PARTS], sum_x = 0, sum_y = 0, xx = 0, yy = 0, xy = 0, order = 0;
    bool failed[PARTS];
    double n = (double)lives->count, r = (double)lives->failed;
    sort(lives, share, failed);
    for (size_t c = 0; c < lives->count; c++) {
        if (!failed[c]) continue;
        order += (n + 1 - order) / (1 + n - (double)c);
        double x = log(-log1p(-(order - 0.3) / (n + 0.4))), y = log(share[c]);
        sum_x += x;
        sum_y += y;
        xx += x * x;
        yy += y * y;
        xy += x * y;
    }
    double across = xy - sum_x * sum_y / r, along = xx - sum_x * sum_x / r, up = yy - sum_y * sum_y / r;
    double steep = across / along;
    bool good = steep > 1 / most_shape && steep < 1 / least_shape;
    out[0] = good ? 1 / steep : NAN;
    out[1] = good ? lives->longest * exp((sum_y - steep * sum_x) / r) : NAN;
    out[2] = good ? life_at((struct line){out[0], out[1]}, 0.1) : NAN;
    out[3] = good ? across * across / (along * up) : NAN;
}

static void weibull_ranks_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    struct lives lives;
    for (size_t i = 0; i < n; i++) {
        double row[4] = {NAN, NAN, NAN, NAN};
        if (gather(k - 1, in + 1, i, in[0][i], &lives)) rank_line(&lives, row);
        for (size_t o = 0; o < 4; o++) out[o][i] = row[o];
    }
}

/* With the shape known from parts like these; without a failure as if the next hour brought the first. */
static void weibull_known_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    struct lives lives;
    for (size_t i = 0; i < n; i++) {
        double shape = in[1][i], sum = 0;
        bool good = gather(k - 2, in + 2, i, in[0][i], &lives);
        for (size_t c = 0; c < lives.count; c++) sum += pow(lives.share[c], shape);
        struct line line = {shape, lives.longest * pow(sum / fmax(1, (double)lives.failed), 1 / shape)};
        out[0][i] = good ? line.life : NAN;
        out[1][i] = good ? life_at(line, 0.1) : NAN;
    }
}

static const char *list_remark(const double in[], const double out[])
{
    if (isnan(out[0]))
        return "no line: at least two failed parts of different lives, the failed ones first in the list";
    return in[0] < 5 ? "fewer than five failed parts: the line may still turn a long way" : NULL;
}

static const char *known_remark(const double in[], const double out[])
{
    if (isnan(out[0])) return "more failed parts are stated than the list has";
    return in[0] < 1 ? "none has failed: the life is at least this, as if the next hour brought the first failure"
                     : NULL;
}

/* ---- the rules ------------------------------------------------------------------------------------------------- */

#define FAILED(least)                                                                                                  \
    {                                                                                                                  \
        "failed", "r", least "..28 1", NULL, "how many have failed: the first so many of the list"                     \
    }
#define HOURS(room)                                                                                                    \
    {                                                                                                                  \
        "hours", "t_i", "0.01..10000000 h", NULL, "hours of each: the failed first, then those still running",         \
            .many = room                                                                                               \
    }
#define SHAPE_RESULT                                                                                                   \
    {                                                                                                                  \
        "shape", "beta", "1", NULL, "shape: below 1 early failures, 1 by chance, above 1 wear"                         \
    }
#define LIFE_RESULT                                                                                                    \
    {                                                                                                                  \
        "life", "eta", "h", NULL, "characteristic life: 63 % have failed"                                              \
    }
#define B10_RESULT                                                                                                     \
    {                                                                                                                  \
        "b10", "B10", "h", NULL, "life that nine of ten reach"                                                         \
    }

static const struct wh_rule rules[] = {
    {.name = "reliability.weibull-shape",
     .formula = "likeliest shape and life, those still running counted with them",
     .source = "NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.2: maximum likelihood",
     .in = {FAILED("2"), HOURS(30)},
     .out = {SHAPE_RESULT, LIFE_RESULT, B10_RESULT, {"mean-life", "m", "h", NULL, "mean life"}},
     .arity = 2,
     .work = weibull_columns,
     .remark = list_remark},
    {.name = "reliability.b-life",
     .formula = "likeliest line; the interval from the observed information in ln t",
     .source = "Meeker & Escobar, Statistical Methods for Reliability Data, 1998, ch. 8: normal approximation",
     .in = {FAILED("2"),
            {"failing-share", "p", "0.1..50 %", "10 %", "share that fails before it"},
            {"confidence", "C", "50..99.9 %", "90 %", "confidence of the interval, both sides"},
            HOURS(28)},
     .out = {{"b-life", "B", "h", NULL, "life that all but this share reach"},
             {"b-life-least", "B1", "h", NULL, "lower end of its interval"},
             {"b-life-most", "B2", "h", NULL, "upper end of its interval"}},
     .arity = 4,
     .work = b_life_columns,
     .remark = list_remark},
    {.name = "reliability.weibull-ranks",
     .formula =
         "straight line of ln t on ln(-ln(1 - F)), F the median rank of the order number among those still running",
     .source =
         "Abernethy, The New Weibull Handbook: Benard's median ranks, Johnson's order numbers, regression of time "
         "on rank; from memory",
     .in = {FAILED("2"), HOURS(30)},
     .out = {{"weibull-ranks", "beta", "1", NULL, "shape: below 1 early failures, 1 by chance, above 1 wear"},
             LIFE_RESULT,
             B10_RESULT,
             {"fit", "r2", "1", NULL, "how straight the points lie: 1 is a line"}},
     .arity = 2,
     .work = weibull_ranks_columns,
     .remark = list_remark},
    {.name = "reliability.weibull-known",
     .formula = "root of the mean power of the lives over those that failed, the shape being known",
     .source = "Abernethy, The New Weibull Handbook, one parameter known; from memory",
     .in = {FAILED("0"), {"shape", "beta", "0.2..20 1", NULL, "shape of parts like these"}, HOURS(29)},
     .out = {{"weibull-known", "eta", "h", NULL, "characteristic life: 63 % have failed"}, B10_RESULT},
     .arity = 3,
     .work = weibull_known_columns,
     .remark = known_remark},
};

const struct wh_subject wh_weibull = WH_SUBJECT("reliability", "Lives from records", rules);
