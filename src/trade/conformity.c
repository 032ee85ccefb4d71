/* conformity.c - readings against limits, with the gauge's uncertainty: verdicts, guard bands, uncertainty budgets. */
#include "trade/conformity.h"
#include "trade/rule.h"
#include "trade/statistics.h"
#include "trade/words.h"

#include <math.h>

/* ---- verdicts -------------------------------------------------------------------------------------------------- */

/* Limits are compared to one part in 10^9, so that 1.55 - 0.05 reads as 1.50 like on paper. */
enum wh_verdict wh_conformity_verdict(double reading, double U, double least, double most)
{
    double hair = 1e-9 * (fabs(reading) + fabs(U));
    if (reading + U < least - hair || reading - U > most + hair) return WH_OUTSIDE;
    return reading - U >= least - hair && reading + U <= most + hair ? WH_WITHIN : WH_NOT_PROVEN;
}

double wh_conformity_gauge_needed(double reading, double least, double most)
{
    return fabs(fmin(reading - least, most - reading));
}

const char *wh_verdict_words(enum wh_verdict verdict)
{
    return verdict == WH_WITHIN ? "within" : verdict == WH_OUTSIDE ? "outside" : "not proven";
}

static double verdict(double reading, double U, double least, double most)
{
    return least <= most ? (double)wh_conformity_verdict(reading, U, least, most) : NAN;
}
WH_COLUMNS(4, verdict)

static double verdict_least(double reading, double U, double least)
{
    return wh_conformity_verdict(reading, U, least, INFINITY);
}
WH_COLUMNS(3, verdict_least)

static double verdict_most(double reading, double U, double most)
{
    return wh_conformity_verdict(reading, U, -INFINITY, most);
}
WH_COLUMNS(3, verdict_most)

static void alike(const double in[], double out[])
{
    out[1] = fabs(in[0] - in[1]);
    out[2] = sqrt(2) * in[2];
    out[0] = verdict_most(out[1], out[2], in[3]);
}
WH_MANY(4, 3, alike)

static double gauge_needed(double reading, double least, double most)
{
    return least <= most ? wh_conformity_gauge_needed(reading, least, most) : NAN;
}
WH_COLUMNS(3, gauge_needed)

static const char *verdict_remark(const double in[], const double out[])
{
    (void)in;
    if (isnan(out[0])) return "the least is above the most: the limits are mixed up";
    if (out[0] > 0.5) return "within: proven, the whole uncertainty lies inside the limits";
    return out[0] < -0.5 ? "outside: proven, the whole uncertainty lies beyond a limit"
                         : "not proven: the gauge is too coarse to decide here; a finer one would settle it";
}

static const char *gauge_remark(const double in[], const double out[])
{
    if (isnan(out[0])) return verdict_remark(in, out);
    return out[0] > 0 ? "a gauge of smaller uncertainty settles this reading"
                      : "the reading lies on the limit itself: no gauge settles it";
}

/* ---- decisions ------------------------------------------------------------------------------------------------- */

static const char *const state_words[] = {"new", "used"};
WH_WORDS(state, state_words)

/* A new part has to be proven within; a used one is scrapped only when it is proven outside. */
static double decision(double reading, double U, double least, double most, double state)
{
    double judged = verdict(reading, U, least, most);
    return state < 0.5 && judged < 0.5 ? -1 : judged;
}
WH_COLUMNS(5, decision)

static const char *decision_remark(const double in[], const double out[])
{
    if (isnan(out[0])) return verdict_remark(in, out);
    if (out[0] > 0.5) return "fit it: proven within";
    if (in[4] < 0.5) return "do not fit it: a new part has to be proven within; a finer gauge or another part";
    return out[0] < -0.5 ? "scrap it: proven outside"
                         : "not proven: whether it runs on is decided by name, or by a finer gauge";
}

/* The gauges of a workshop's wall, the coarsest first, and what each is good for (k = 2). */
static const char *const gauge_words[] = {"steel-rule", "caliper",    "depth-gauge", "feeler-gauge",
                                          "dial-gauge", "bore-gauge", "micrometer",  "comparator"};
WH_WORDS(gauge, gauge_words)
enum { GAUGES = sizeof gauge_words / sizeof gauge_words[0] };
static const double gauge_uncertainties[GAUGES] = {0.3e-3,  0.05e-3,  0.05e-3,  0.02e-3,
                                                   0.01e-3, 0.005e-3, 0.003e-3, 0.002e-3};

static double gauge_uncertainty(double gauge)
{
    return gauge_uncertainties[(size_t)gauge];
}
WH_COLUMNS(1, gauge_uncertainty)

static double gauge_that_settles(double needed)
{
    for (size_t g = 0; g < GAUGES; g++)
        if (gauge_uncertainties[g] <= needed * (1 + 1e-9)) return (double)g;
    return NAN;
}
WH_COLUMNS(1, gauge_that_settles)

static const char *usual_gauge_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "none of a workshop's gauges: a measuring room"
                         : "a usual figure: the gauge's own record goes before it";
}

/* ---- guard bands ----------------------------------------------------------------------------------------------- */

static void acceptance_least(const double in[], double out[])
{
    double least = in[0], most = in[1], guard = in[2];
    bool room = least + guard <= most - guard;
    out[0] = room ? least + guard : NAN;
    out[1] = room ? most - guard : NAN;
    out[2] = least - guard;
    out[3] = most + guard;
}
WH_MANY(3, 4, acceptance_least)

static double guard_factor(double probability)
{
    return wh_normal_quantile(probability);
}
WH_COLUMNS(1, guard_factor)

static const char *acceptance_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the guard bands meet: no reading of this gauge could prove the limits kept" : NULL;
}

static double guard(double u, double factor)
{
    return factor * u;
}
WH_COLUMNS(2, guard)

static double probability(double reading, double u, double least, double most)
{
    return least <= most ? wh_normal_below((most - reading) / u) - wh_normal_below((least - reading) / u) : NAN;
}
WH_COLUMNS(4, probability)

static const char *probability_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the least is above the most: the limits are mixed up" : NULL;
}

static double probability_least(double reading, double u, double least)
{
    return wh_normal_below((reading - least) / u);
}
WH_COLUMNS(3, probability_least)

static double probability_most(double reading, double u, double most)
{
    return wh_normal_below((most - reading) / u);
}
WH_COLUMNS(3, probability_most)

/* ---- the table ------------------------------------------------------------------------------------------------- */

#define READING                                                                                                        \
    {                                                                                                                  \
        "reading", "y", "any", NULL, "reading"                                                                         \
    }
#define EXPANDED                                                                                                       \
    {                                                                                                                  \
        "uncertainty", "U", "0.. any difference", NULL, "expanded uncertainty of the gauge, k = 2"                     \
    }
#define STANDARD                                                                                                       \
    {                                                                                                                  \
        "standard-uncertainty", "u", "0.000000001.. any difference", NULL, "standard uncertainty"                      \
    }
#define LEAST                                                                                                          \
    {                                                                                                                  \
        "least", "L", "any", NULL, "least that is allowed"                                                             \
    }
#define MOST                                                                                                           \
    {                                                                                                                  \
        "most", "M", "any", NULL, "most that is allowed"                                                               \
    }
static const struct wh_rule rules[] = {
    {.name = "conformity.verdict",
     .formula = "v = if(y + U < L, -1, if(y - U > M, -1, if(y - U < L, 0, if(y + U > M, 0, 1))))",
     .source = "ISO 14253-1, with U for the guard band",
     .in = {READING, EXPANDED, LEAST, MOST},
     .out = {{"verdict", "v", "1", NULL, "1 within, 0 not proven, -1 outside"}},
     WH_WORK(4, verdict),
     .remark = verdict_remark},
    {.name = "conformity.verdict-least",
     .formula = "v = if(y + U < L, -1, if(y - U < L, 0, 1))",
     .source = "ISO 14253-1, with U for the guard band",
     .in = {READING, EXPANDED, LEAST},
     .out = {{"verdict-least", "v", "1", NULL, "1 within, 0 not proven, -1 outside"}},
     WH_WORK(3, verdict_least),
     .remark = verdict_remark},
    {.name = "conformity.verdict-most",
     .formula = "v = if(y - U > M, -1, if(y + U > M, 0, 1))",
     .source = "ISO 14253-1, with U for the guard band",
     .in = {READING, EXPANDED, MOST},
     .out = {{"verdict-most", "v", "1", NULL, "1 within, 0 not proven, -1 outside"}},
     WH_WORK(3, verdict_most),
     .remark = verdict_remark},
    {.name = "conformity.alike",
     .formula = "d = abs(a - b); V = sqrt(2) U; v = if(d - V > M, -1, if(d + V > M, 0, 1))",
     .source = "ISO 14253-1; uncertainty of a difference by JCGM 100:2008, 5.1.2, from memory",
     .in = {{"one-side", "a", "any", NULL, "reading on one side"},
            {"other-side", "b", "any", NULL, "reading on the other"},
            EXPANDED,
            {"most", "M", "0.. any difference", NULL, "difference that is allowed"}},
     .out = {{"alike", "v", "1", NULL, "1 within, 0 not proven, -1 outside"},
             {"difference", "d", "any difference", NULL, "difference of the two"},
             {"difference-uncertainty", "V", "any difference", NULL, "expanded uncertainty of the difference"}},
     WH_WORK(4, alike),
     .remark = verdict_remark},
    {.name = "conformity.gauge-needed",
     .formula = "U = abs(min(y - L, M - y))",
     .source = "ISO 14253-1 turned round",
     .in = {READING, LEAST, MOST},
     .out = {{"gauge-needed", "U", "any difference", NULL,
              "expanded uncertainty (k = 2) that would settle this reading"}},
     WH_WORK(3, gauge_needed),
     .remark = gauge_remark},

    {.name = "conformity.decision",
     .formula =
         "verdict of the reading; not proven counts as outside for a new part, and is decided by name for a used one",
     .source = "ISO 14253-1; common practice of the trade for used parts",
     .in = {READING, EXPANDED, LEAST, MOST, {"part-state", "s", "part-state", NULL, "new or used part"}},
     .out = {{"decision", "v", "1", NULL, "1 fit it, 0 decided by name, -1 not"}},
     WH_WORK(5, decision),
     .remark = decision_remark},
    {.name = "conformity.gauge-uncertainty",
     .formula = "usual uncertainty of a workshop's gauges, table",
     .source = "common practice",
     .in = {{"gauge", "g", "gauge", NULL, "gauge"}},
     .out = {{"gauge-uncertainty", "U", "mm", NULL, "expanded uncertainty, k = 2, in practised hands"}},
     WH_WORK(1, gauge_uncertainty),
     .remark = usual_gauge_remark},
    {.name = "conformity.gauge-that-settles",
     .formula = "coarsest gauge whose usual uncertainty is small enough, table",
     .source = "common practice",
     .in = {{"gauge-needed", "U", "0.. mm", NULL, "expanded uncertainty (k = 2) that would settle the reading"}},
     .out = {{"gauge-that-settles", "g", "gauge", NULL, "gauge to read it again with"}},
     WH_WORK(1, gauge_that_settles),
     .remark = usual_gauge_remark},

    {.name = "conformity.acceptance-least",
     .formula = "A = L + g; B = M - g; C = L - g; D = M + g",
     .source = "ISO 14253-1, zones of conformity and non-conformity",
     .in = {LEAST, MOST, {"guard", "g", "0.. any difference", NULL, "guard band: U, or 1.65 u for 95 %"}},
     .out = {{"acceptance-least", "A", "any", NULL, "a reading at least this proves the least kept"},
             {"acceptance-most", "B", "any", NULL, "a reading at most this proves the most kept"},
             {"rejection-least", "C", "any", NULL, "a reading below this is proven outside"},
             {"rejection-most", "D", "any", NULL, "a reading above this is proven outside"}},
     WH_WORK(3, acceptance_least),
     .remark = acceptance_remark},
    {.name = "conformity.guard",
     .formula = "g = r u",
     .source = "ISO 14253-1:2017: conformance probability 95 %; the factor 1.65 from memory",
     .in = {STANDARD, {"guard-factor", "r", "0..4 1", "1.65", "guard factor"}},
     .out = {{"guard", "g", "any difference", NULL, "guard band"}},
     WH_WORK(2, guard)},
    {.name = "conformity.guard-factor",
     .formula = "bell curve: the z below which that share lies",
     .source = "JCGM 106:2012, 8.3.2",
     .in = {{"probability", "p", "50..99.9999 %", "95 %", "conformance probability"}},
     .out = {{"guard-factor", "r", "1", NULL, "guard band over the standard uncertainty, one limit"}},
     WH_WORK(1, guard_factor)},
    {.name = "conformity.probability",
     .formula = "share of the bell curve about the reading between the limits",
     .source = "JCGM 106:2012, 7.4",
     .in = {READING, STANDARD, LEAST, MOST},
     .out = {{"probability", "p", "%", NULL, "probability that the limits are kept"}},
     WH_WORK(4, probability),
     .remark = probability_remark},
    {.name = "conformity.probability-least",
     .formula = "share of the bell curve about the reading above the limit",
     .source = "JCGM 106:2012, 7.3, from memory",
     .in = {READING, STANDARD, LEAST},
     .out = {{"probability-least", "p", "%", NULL, "probability that the least is kept"}},
     WH_WORK(3, probability_least)},
    {.name = "conformity.probability-most",
     .formula = "share of the bell curve about the reading below the limit",
     .source = "JCGM 106:2012, 7.3, from memory",
     .in = {READING, STANDARD, MOST},
     .out = {{"probability-most", "p", "%", NULL, "probability that the most is kept"}},
     WH_WORK(3, probability_most)},
};

static const struct wh_vocabulary vocabularies[] = {
    {"part-state", "state of a part before it is fitted", "used", state_read, state_print, state_list},
    {"gauge", "gauge of a workshop", "micrometer", gauge_read, gauge_print, gauge_list},
};

const struct wh_subject wh_conformity = {.name = "conformity",
                                         .title = "Readings against limits",
                                         .rules = rules,
                                         .rule_count = sizeof rules / sizeof rules[0],
                                         .vocabularies = vocabularies,
                                         .vocabulary_count = sizeof vocabularies / sizeof vocabularies[0]};
