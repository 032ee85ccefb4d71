/* reliability.c - how long parts last and what to keep for them: Weibull's line in use, replacement by age, spares. */
#include "trade/rule.h"
#include "trade/statistics.h"

#include <math.h>

/* ---- Weibull's line in use ------------------------------------------------------------------------------------- */

static double surviving(double hours, double shape, double life)
{
    return exp(-pow(hours / life, shape));
}
WH_COLUMNS(3, surviving)

static double life_of_share(double share, double shape, double life)
{
    return life * pow(-log1p(-share), 1 / shape);
}
WH_COLUMNS(3, life_of_share)

static double hazard(double hours, double shape, double life)
{
    return shape / life * pow(hours / life, shape - 1);
}
WH_COLUMNS(3, hazard)

static double mean_life(double shape, double life)
{
    return life * exp(wh_log_gamma(1 + 1 / shape));
}
WH_COLUMNS(2, mean_life)

static double surviving_further(double run, double further, double shape, double life)
{
    return exp(pow(run / life, shape) - pow((run + further) / life, shape));
}
WH_COLUMNS(4, surviving_further)

static const char *share_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "a share of many such parts: it says nothing of this one, and never lengthens a stated interval";
}

static double median_rank(double order, double count)
{
    return order <= count ? (order - 0.3) / (count + 0.4) : NAN;
}
WH_COLUMNS(2, median_rank)

static const char *rank_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the order number is above the number of parts" : NULL;
}

/* ---- failures by chance ---------------------------------------------------------------------------------------- */

static void mtbf(const double in[], double out[])
{
    double hours = in[0], failures = floor(in[1]), confidence = in[2];
    out[0] = failures > 0 ? hours / failures : NAN;
    out[1] = hours / wh_poisson_mean(failures, 1 - confidence);
}
WH_MANY(3, 2, mtbf)

static const char *mtbf_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "none has failed: there is no mean, only the bound below" : NULL;
}

static double expected_failures(double items, double hours, double between)
{
    return items * hours / between;
}
WH_COLUMNS(3, expected_failures)

static double stock_suffices(double spares, double expected)
{
    return wh_poisson_at_most(floor(spares), expected);
}
WH_COLUMNS(2, stock_suffices)

/* The least stock that suffices: up to 400 failures expected, ten standard deviations more are always enough. */
static double spares(double expected, double wanted)
{
    double low = -1, high = ceil(expected + 10 * sqrt(expected) + 20);
    for (int step = 0; step < 12; step++) {
        double stock = floor((low + high) / 2);
        *(wh_poisson_at_most(stock, expected) < wanted ? &low : &high) = stock;
    }
    return high;
}
WH_COLUMNS(2, spares)

/* ---- replacement by age ---------------------------------------------------------------------------------------- */

/* Mean hours run until failure or the age `x`, both over the characteristic life. */
static double mean_run(double x, double shape)
{
    return wh_gamma_lower(1 / shape, pow(x, shape)) / shape;
}

/* Cost of an hour where each part costs `planned` at the age and `failing` when it fails before, over life's. */
static double rate(double x, double shape, double ratio)
{
    double reached = exp(-pow(x, shape));
    return (reached + ratio * (1 - reached)) / mean_run(x, shape);
}

static void age_cost(const double in[], double out[])
{
    double age = in[0], shape = in[1], life = in[2], planned = in[3], failing = in[4];
    double whole = exp(wh_log_gamma(1 + 1 / shape));
    out[0] = planned / life * rate(age / life, shape, failing / planned);
    out[1] = failing / (life * whole);
    out[2] = out[0] / out[1];
    out[3] = life * mean_run(age / life, shape);
}
WH_MANY(5, 4, age_cost)

static const char *age_remark(const double in[], const double out[])
{
    (void)in;
    return out[2] >= 1 ? "replacing at this age costs as much as waiting for the failure, or more" : NULL;
}

/* How far the hazard times the mean run, and what has survived, have risen: from 1, for ever where parts wear. */
static double risen(double x, double shape)
{
    return shape * pow(x, shape - 1) * mean_run(x, shape) + exp(-pow(x, shape));
}

/* The cost is least where `risen` reaches failing/(failing - planned); beyond four lives nearly nothing is left. */
static void replacement_age(const double in[], double out[])
{
    double shape = in[0], life = in[1], ratio = in[3] / in[2], low = 1e-6, high = 4, wanted = ratio / (ratio - 1);
    bool wears = shape > 1 && ratio > 1 && risen(high, shape) > wanted;
    for (int step = 0; step < 60; step++) {
        double x = (low + high) / 2;
        *(risen(x, shape) < wanted ? &low : &high) = x;
    }
    out[0] = wears ? life * low : NAN;
    out[1] = wears ? in[2] / life * rate(low, shape, ratio) : NAN;
    out[2] = wears ? out[1] * life * exp(wh_log_gamma(1 + 1 / shape)) / in[3] : NAN;
}
WH_MANY(4, 3, replacement_age)

static const char *replacement_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "no age pays: these parts do not wear enough for what a failure costs; run to failure"
                         : "computed lives may shorten a stated interval, never lengthen it";
}

/* ---- the rules ------------------------------------------------------------------------------------------------- */

#define HOURS(name, symbol, title)                                                                                     \
    {                                                                                                                  \
        name, symbol, "0..10000000 h", NULL, title                                                                     \
    }
#define SHAPE                                                                                                          \
    {                                                                                                                  \
        "shape", "beta", "0.2..20 1", NULL, "shape of Weibull's line"                                                  \
    }
#define LIFE                                                                                                           \
    {                                                                                                                  \
        "life", "eta", "0.01..10000000 h", NULL, "characteristic life of Weibull's line"                               \
    }
#define EXPECTED                                                                                                       \
    {                                                                                                                  \
        "expected-failures", "m", "0.000001..400 1", NULL, "failures expected until the next delivery"                 \
    }
#define COST(name, symbol, title)                                                                                      \
    {                                                                                                                  \
        name, symbol, "0.01..10000000 1", NULL, title                                                                  \
    }
#define NIST "NIST/SEMATECH e-Handbook of Statistical Methods, "
#define JARDINE "Jardine & Tsang, Maintenance, Replacement and Reliability, 2nd ed., ch. 2"

static const struct wh_rule rules[] = {
    {.name = "reliability.surviving",
     .formula = "R = exp(-(t/eta)^beta)",
     .source = NIST "8.1.6.2",
     .in = {HOURS("hours", "t", "hours run"), SHAPE, LIFE},
     .out = {{"surviving", "R", "%", NULL, "share still running"}},
     WH_WORK(3, surviving),
     .remark = share_remark},
    {.name = "reliability.life-of-share",
     .formula = "t = eta (-ln(1 - p))^(1/beta)",
     .source = NIST "8.1.6.2",
     .in = {{"failing-share", "p", "0.01..99.9 %", "10 %", "share that fails before it"}, SHAPE, LIFE},
     .out = {{"life-of-share", "t", "h", NULL, "life that all but this share reach"}},
     WH_WORK(3, life_of_share),
     .remark = share_remark},
    {.name = "reliability.hazard",
     .formula = "h = beta (t/eta)^(beta - 1)/eta",
     .source = NIST "8.1.6.2",
     .in = {{"hours", "t", "0.001..10000000 h", NULL, "hours run"}, SHAPE, LIFE},
     .out = {{"hazard", "h", "1/h", NULL, "failures an hour among those still running"}},
     WH_WORK(3, hazard)},
    {.name = "reliability.mean-life",
     .formula = "eta times the gamma function of 1 + 1/beta",
     .source = NIST "8.1.6.2",
     .in = {SHAPE, LIFE},
     .out = {{"mean-life", "m", "h", NULL, "mean life"}},
     WH_WORK(2, mean_life)},
    {.name = "reliability.surviving-further",
     .formula = "R = exp((T/eta)^beta - ((T + t)/eta)^beta)",
     .source = NIST "8.1.6.2; conditional on having run so far",
     .in = {HOURS("run", "T", "hours run so far"), HOURS("further", "t", "hours more"), SHAPE, LIFE},
     .out = {{"surviving-further", "R", "%", NULL, "share of those that run now which still run then"}},
     WH_WORK(4, surviving_further),
     .remark = share_remark},
    {.name = "reliability.median-rank",
     .formula = "F = (i - 0.3)/(n + 0.4)",
     .source = "Benard's approximation",
     .in = {{"order", "i", "1..1000 1", NULL, "order number of the failure"},
            {"count", "n", "1..1000 1", NULL, "number of parts"}},
     .out = {{"median-rank", "F", "%", NULL, "share that has failed, as plotted"}},
     WH_WORK(2, median_rank),
     .remark = rank_remark},

    {.name = "reliability.mtbf",
     .formula = "hours over failures; the bound by the Poisson mean that makes so few just so likely",
     .source = NIST "8.4.5.1",
     .in = {{"run-hours", "T", "0.01..1000000000 h", NULL, "hours of all together"},
            {"failures", "r", "0..1000 1", NULL, "failures in them"},
            {"confidence", "C", "50..99.9 %", "90 %", "confidence of the bound, one side"}},
     .out = {{"mtbf", "M", "h", NULL, "mean hours between failures"},
             {"mtbf-least", "M1", "h", NULL, "at least this many, with that confidence"}},
     WH_WORK(3, mtbf),
     .remark = mtbf_remark},
    {.name = "reliability.expected-failures",
     .formula = "m = n t/M",
     .source = "definition",
     .in = {{"items", "n", "1..100000 1", NULL, "parts in use"},
            HOURS("hours", "t", "hours of each until the next delivery"),
            {"mtbf", "M", "0.01..1000000000 h", NULL, "mean hours between failures"}},
     .out = {{"expected-failures", "m", "1", NULL, "failures expected"}},
     WH_WORK(3, expected_failures)},
    {.name = "reliability.stock-suffices",
     .formula = "sum of Poisson's probabilities of 0 to s failures",
     .source = NIST "1.3.6.6.19",
     .in = {{"stock", "s", "0..1000 1", NULL, "spares in stock"}, EXPECTED},
     .out = {{"stock-suffices", "P", "%", NULL, "probability that they suffice"}},
     WH_WORK(2, stock_suffices)},
    {.name = "reliability.spares",
     .formula = "least stock whose sum of Poisson's probabilities reaches the one wanted",
     .source = NIST "1.3.6.6.19",
     .in = {EXPECTED, {"wanted", "P", "1..99.99 %", "95 %", "probability that they suffice"}},
     .out = {{"spares", "s", "1", NULL, "spares to keep"}},
     WH_WORK(2, spares)},

    {.name = "reliability.age-cost",
     .formula = "cost of a replacement over mean hours run: (Cp R + Cf (1 - R)) over the integral of R up to the age",
     .source = JARDINE,
     .in = {{"age", "T", "0.01..10000000 h", NULL, "age at which it is replaced"},
            SHAPE,
            LIFE,
            COST("planned-cost", "Cp", "cost of a planned replacement"),
            COST("failure-cost", "Cf", "cost of a failure")},
     .out = {{"age-cost", "C", "1/h", NULL, "cost an hour"},
             {"run-to-failure-cost", "C0", "1/h", NULL, "cost an hour without"},
             {"cost-share", "c", "%", NULL, "one over the other"},
             {"mean-run", "t", "h", NULL, "mean hours of a part"}},
     WH_WORK(5, age_cost),
     .remark = age_remark},
    {.name = "reliability.replacement-age",
     .formula = "age at which the cost an hour is least, by halving",
     .source = JARDINE,
     .in = {SHAPE, LIFE, COST("planned-cost", "Cp", "cost of a planned replacement"),
            COST("failure-cost", "Cf", "cost of a failure")},
     .out = {{"replacement-age", "T", "h", NULL, "age at which to replace"},
             {"age-cost", "C", "1/h", NULL, "cost an hour"},
             {"cost-share", "c", "%", NULL, "of the cost of running to failure"}},
     WH_WORK(4, replacement_age),
     .remark = replacement_remark},
};

const struct wh_subject wh_reliability = WH_SUBJECT("reliability", "Lives of parts, spares", rules);
