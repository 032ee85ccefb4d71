/* conformity.c - readings against limits, with the gauge's uncertainty: verdicts, guard bands, uncertainty budgets. */
#include "trade/conformity.h"
#include "trade/rule.h"

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

/* Share of a normal distribution below z. */
static double below(double z)
{
    return erfc(-z / sqrt(2)) / 2;
}

static double probability(double reading, double u, double least, double most)
{
    return least <= most ? below((most - reading) / u) - below((least - reading) / u) : NAN;
}
WH_COLUMNS(4, probability)

static const char *probability_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the least is above the most: the limits are mixed up" : NULL;
}

static double probability_least(double reading, double u, double least)
{
    return below((reading - least) / u);
}
WH_COLUMNS(3, probability_least)

static double probability_most(double reading, double u, double most)
{
    return below((most - reading) / u);
}
WH_COLUMNS(3, probability_most)

/* ---- uncertainty budgets (GUM) --------------------------------------------------------------------------------- */

static double expanded(double u, double k)
{
    return k * u;
}
WH_COLUMNS(2, expanded)

static double standard(double U, double k)
{
    return U / k;
}
WH_COLUMNS(2, standard)

static double resolution_uncertainty(double step)
{
    return step / sqrt(12);
}
WH_COLUMNS(1, resolution_uncertainty)

static double uniform_uncertainty(double half)
{
    return half / sqrt(3);
}
WH_COLUMNS(1, uniform_uncertainty)

static double triangular_uncertainty(double half)
{
    return half / sqrt(6);
}
WH_COLUMNS(1, triangular_uncertainty)

static double arcsine_uncertainty(double half)
{
    return half / sqrt(2);
}
WH_COLUMNS(1, arcsine_uncertainty)

static void combined_uncertainty_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    for (size_t i = 0; i < n; i++) {
        double sum = 0;
        for (size_t c = 0; c < k; c++) sum += in[c][i] * in[c][i];
        out[0][i] = sqrt(sum);
    }
}

/* Mean of repeated readings, their standard deviation, and that of the mean. */
static void mean_reading_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    for (size_t i = 0; i < n; i++) {
        double sum = 0, squares = 0, least = INFINITY, most = -INFINITY;
        for (size_t c = 0; c < k; c++) sum += in[c][i];
        double mean = sum / (double)k;
        for (size_t c = 0; c < k; c++) {
            squares += (in[c][i] - mean) * (in[c][i] - mean);
            least = fmin(least, in[c][i]);
            most = fmax(most, in[c][i]);
        }
        double deviation = k > 1 ? sqrt(squares / (double)(k - 1)) : NAN;
        out[0][i] = mean;
        out[1][i] = deviation;
        out[2][i] = deviation / sqrt((double)k);
        out[3][i] = most - least;
    }
}

static const char *mean_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[1]) ? "one reading shows no scatter: take at least three" : NULL;
}

static void effective_freedom(const double in[], double out[])
{
    double variance = 0, divided = 0;
    for (size_t c = 0; c < 8; c += 2) {
        double square = in[c] * in[c];
        variance += square;
        divided += square * square / in[c + 1];
    }
    out[0] = divided > 0 ? variance * variance / divided : NAN;
}
WH_MANY(8, 1, effective_freedom)

static const char *freedom_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "all components are zero" : NULL;
}

/* ---- temperature of part and gauge ----------------------------------------------------------------------------- */

static const double T20 = 293.15;

static void size_at_20(const double in[], double out[])
{
    double reading = in[0], part = in[1], gauge = in[2], part_alpha = in[3], gauge_alpha = in[4];
    out[1] = -reading * (part_alpha * (part - T20) - gauge_alpha * (gauge - T20));
    out[0] = reading + out[1];
}
WH_MANY(5, 2, size_at_20)

static const char *temperature_remark(const double in[], const double out[])
{
    (void)out;
    return fabs(in[1] - in[2]) > 2 ? "part and gauge differ by more than 2 K: let both lie an hour, read again"
                                   : NULL;
}

static double temperature_uncertainty(double length, double alpha, double half)
{
    return length * alpha * half / sqrt(3);
}
WH_COLUMNS(3, temperature_uncertainty)

static double expansion_uncertainty(double length, double away, double half)
{
    return length * fabs(away) * half / sqrt(3);
}
WH_COLUMNS(3, expansion_uncertainty)

static double second_order_uncertainty(double length, double alpha, double temperature)
{
    return length * alpha * temperature;
}
WH_COLUMNS(3, second_order_uncertainty)

static double comparator_length(double standard_length, double difference)
{
    return standard_length + difference;
}
WH_COLUMNS(2, comparator_length)

/* ---- the table ------------------------------------------------------------------------------------------------- */

#define READING {"reading", "y", "mm", NULL, "reading"}
#define EXPANDED {"uncertainty", "U", "0.. mm", NULL, "expanded uncertainty of the gauge, k = 2"}
#define STANDARD {"standard-uncertainty", "u", "0.000001.. mm", NULL, "standard uncertainty"}
#define LEAST {"least", "L", "mm", NULL, "least that is allowed"}
#define MOST {"most", "M", "mm", NULL, "most that is allowed"}
#define HALF(range) {"half-width", "a", range, NULL, "half width: it lies within plus or minus this"}
#define COVERAGE {"coverage", "k", "1..4 1", "2", "coverage factor"}
#define LENGTH {"length", "l", "0.01..10000 mm", NULL, "length measured"}

static const struct wh_rule rules[] = {
    {.name = "conformity.verdict",
     .formula = "v = if(y + U < L, -1, if(y - U > M, -1, if(y - U < L, 0, if(y + U > M, 0, 1))))",
     .source = "ISO 14253-1, with U for the guard band", .in = {READING, EXPANDED, LEAST, MOST},
     .out = {{"verdict", "v", "1", NULL, "1 within, 0 not proven, -1 outside"}},
     WH_WORK(4, verdict), .remark = verdict_remark},
    {.name = "conformity.verdict-least", .formula = "v = if(y + U < L, -1, if(y - U < L, 0, 1))",
     .source = "ISO 14253-1, with U for the guard band", .in = {READING, EXPANDED, LEAST},
     .out = {{"verdict-least", "v", "1", NULL, "1 within, 0 not proven, -1 outside"}},
     WH_WORK(3, verdict_least), .remark = verdict_remark},
    {.name = "conformity.verdict-most", .formula = "v = if(y - U > M, -1, if(y + U > M, 0, 1))",
     .source = "ISO 14253-1, with U for the guard band", .in = {READING, EXPANDED, MOST},
     .out = {{"verdict-most", "v", "1", NULL, "1 within, 0 not proven, -1 outside"}},
     WH_WORK(3, verdict_most), .remark = verdict_remark},
    {.name = "conformity.alike",
     .formula = "d = abs(a - b); V = sqrt(2) U; v = if(d - V > M, -1, if(d + V > M, 0, 1))",
     .source = "ISO 14253-1; uncertainty of a difference by JCGM 100:2008, 5.1.2, from memory",
     .in = {{"one-side", "a", "mm", NULL, "reading on one side"},
            {"other-side", "b", "mm", NULL, "reading on the other"},
            EXPANDED, {"most", "M", "0.. mm", NULL, "difference that is allowed"}},
     .out = {{"alike", "v", "1", NULL, "1 within, 0 not proven, -1 outside"},
             {"difference", "d", "mm", NULL, "difference of the two"},
             {"difference-uncertainty", "V", "mm", NULL, "expanded uncertainty of the difference"}},
     WH_WORK(4, alike), .remark = verdict_remark},
    {.name = "conformity.gauge-needed", .formula = "U = abs(min(y - L, M - y))",
     .source = "ISO 14253-1 turned round", .in = {READING, LEAST, MOST},
     .out = {{"gauge-needed", "U", "mm", NULL, "expanded uncertainty (k = 2) that would settle this reading"}},
     WH_WORK(3, gauge_needed), .remark = gauge_remark},

    {.name = "conformity.acceptance-least", .formula = "A = L + g; B = M - g; C = L - g; D = M + g",
     .source = "ISO 14253-1, zones of conformity and non-conformity",
     .in = {LEAST, MOST, {"guard", "g", "0.. mm", NULL, "guard band: U, or 1.65 u for 95 %"}},
     .out = {{"acceptance-least", "A", "mm", NULL, "a reading at least this proves the least kept"},
             {"acceptance-most", "B", "mm", NULL, "a reading at most this proves the most kept"},
             {"rejection-least", "C", "mm", NULL, "a reading below this is proven outside"},
             {"rejection-most", "D", "mm", NULL, "a reading above this is proven outside"}},
     WH_WORK(3, acceptance_least), .remark = acceptance_remark},
    {.name = "conformity.guard", .formula = "g = r u",
     .source = "ISO 14253-1:2017: conformance probability 95 %; the factor 1.65 from memory",
     .in = {STANDARD, {"guard-factor", "r", "0..4 1", "1.65", "guard factor"}},
     .out = {{"guard", "g", "mm", NULL, "guard band"}}, WH_WORK(2, guard)},
    {.name = "conformity.probability", .formula = "share of the bell curve about the reading between the limits",
     .source = "JCGM 106:2012, 7.4", .in = {READING, STANDARD, LEAST, MOST},
     .out = {{"probability", "p", "%", NULL, "probability that the limits are kept"}},
     WH_WORK(4, probability), .remark = probability_remark},
    {.name = "conformity.probability-least", .formula = "share of the bell curve about the reading above the limit",
     .source = "JCGM 106:2012, 7.3, from memory", .in = {READING, STANDARD, LEAST},
     .out = {{"probability-least", "p", "%", NULL, "probability that the least is kept"}},
     WH_WORK(3, probability_least)},
    {.name = "conformity.probability-most", .formula = "share of the bell curve about the reading below the limit",
     .source = "JCGM 106:2012, 7.3, from memory", .in = {READING, STANDARD, MOST},
     .out = {{"probability-most", "p", "%", NULL, "probability that the most is kept"}},
     WH_WORK(3, probability_most)},

    {.name = "conformity.combined-uncertainty", .formula = "root of the sum of the squares of the components",
     .source = "JCGM 100:2008, 5.1.2, from memory",
     .in = {{"components", "u_i", "0.. mm", NULL, "standard uncertainties, each times its sensitivity", .many = 24}},
     .out = {{"combined-uncertainty", "u", "mm", NULL, "combined standard uncertainty"}},
     .arity = 1, .work = combined_uncertainty_columns},
    {.name = "conformity.mean-reading", .formula = "mean, scatter (n - 1) and scatter over the root of n",
     .source = "JCGM 100:2008, 4.2, from memory",
     .in = {{"readings", "y_i", "mm", NULL, "repeated readings", .many = 24}},
     .out = {{"mean-reading", "m", "mm", NULL, "mean"}, {"scatter", "s", "mm", NULL, "standard deviation of a reading"},
             {"mean-uncertainty", "u", "mm", NULL, "standard uncertainty of the mean"},
             {"spread", "r", "mm", NULL, "greatest less least"}},
     .arity = 1, .work = mean_reading_columns, .remark = mean_remark},
    {.name = "conformity.expanded-uncertainty", .formula = "U = k u", .source = "JCGM 100:2008, 6.2.1, from memory",
     .in = {STANDARD, COVERAGE}, .out = {{"expanded-uncertainty", "U", "mm", NULL, "expanded uncertainty"}},
     WH_WORK(2, expanded)},
    {.name = "conformity.standard-uncertainty", .formula = "u = U / k", .source = "JCGM 100:2008, 6.2.1, from memory",
     .in = {EXPANDED, COVERAGE}, .out = {{"standard-uncertainty", "u", "mm", NULL, "standard uncertainty"}},
     WH_WORK(2, standard)},
    {.name = "conformity.resolution-uncertainty", .formula = "u = r / sqrt(12)",
     .source = "JCGM 100:2008, F.2.2.1, from memory",
     .in = {{"resolution", "r", "0.. mm", NULL, "smallest step the gauge shows"}},
     .out = {{"resolution-uncertainty", "u", "mm", NULL, "standard uncertainty from the step"}},
     WH_WORK(1, resolution_uncertainty)},
    {.name = "conformity.uniform-uncertainty", .formula = "u = a / sqrt(3)",
     .source = "JCGM 100:2008, 4.3.7, from memory",
     .in = {HALF("0.. mm")}, .out = {{"uniform-uncertainty", "u", "mm", NULL, "standard uncertainty, anywhere alike"}},
     WH_WORK(1, uniform_uncertainty)},
    {.name = "conformity.triangular-uncertainty", .formula = "u = a / sqrt(6)",
     .source = "JCGM 100:2008, 4.3.9, from memory",
     .in = {HALF("0.. mm")},
     .out = {{"triangular-uncertainty", "u", "mm", NULL, "standard uncertainty, middle likeliest"}},
     WH_WORK(1, triangular_uncertainty)},
    {.name = "conformity.arcsine-uncertainty", .formula = "u = a / sqrt(2)", .source = "JCGM 100:2008, H.1",
     .in = {HALF("0.. K")},
     .out = {{"arcsine-uncertainty", "u", "K", NULL, "standard uncertainty of a swinging temperature"}},
     WH_WORK(1, arcsine_uncertainty)},
    {.name = "conformity.effective-freedom",
     .formula = "nu = (u1^2 + u2^2 + u3^2 + u4^2)^2 / (u1^4/n1 + u2^4/n2 + u3^4/n3 + u4^4/n4)",
     .source = "JCGM 100:2008, G.4, after Welch and Satterthwaite, from memory",
     .in = {{"first", "u1", "0.. mm", NULL, "first component"},
            {"first-freedom", "n1", "0.5.. 1", NULL, "its degrees of freedom"},
            {"second", "u2", "0.. mm", "0 mm", "second component"},
            {"second-freedom", "n2", "0.5.. 1", "1000000", "its degrees of freedom"},
            {"third", "u3", "0.. mm", "0 mm", "third component"},
            {"third-freedom", "n3", "0.5.. 1", "1000000", "its degrees of freedom"},
            {"fourth", "u4", "0.. mm", "0 mm", "fourth component"},
            {"fourth-freedom", "n4", "0.5.. 1", "1000000", "its degrees of freedom"}},
     .out = {{"effective-freedom", "nu", "1", NULL, "effective degrees of freedom; cut to a whole number for tables"}},
     WH_WORK(8, effective_freedom), .remark = freedom_remark},

    {.name = "conformity.size-at-20",
     .formula = "c = -y (alpha (T - 293.15) - beta (G - 293.15)); s = y + c",
     .source = "ISO 1: sizes hold at 20 degC; expansion of part and gauge",
     .in = {{"reading", "y", "0.01..10000 mm", NULL, "reading"},
            {"part-temperature", "T", "-40..150 degC", NULL, "temperature of the part"},
            {"gauge-temperature", "G", "-40..150 degC", "20 degC", "temperature of the gauge"},
            {"part-expansion", "alpha", "0..0.0002 K-1", "0.0000115 K-1", "expansion of the part; steel 11.5e-6"},
            {"gauge-expansion", "beta", "0..0.0002 K-1", "0.0000115 K-1", "expansion of the gauge; steel 11.5e-6"}},
     .out = {{"size-at-20", "s", "mm", NULL, "size at 20 degC"},
             {"correction", "c", "um", NULL, "added to the reading"}},
     WH_WORK(5, size_at_20), .remark = temperature_remark},
    {.name = "conformity.temperature-uncertainty", .formula = "u = l alpha a / sqrt(3)",
     .source = "JCGM 100:2008, H.1",
     .in = {LENGTH, {"expansion", "alpha", "0..0.0002 K-1", "0.0000115 K-1", "expansion"}, HALF("0.. K")},
     .out = {{"temperature-uncertainty", "u", "mm", NULL, "component from the temperatures of part and gauge"}},
     WH_WORK(3, temperature_uncertainty)},
    {.name = "conformity.expansion-uncertainty", .formula = "u = l abs(t) a / sqrt(3)",
     .source = "JCGM 100:2008, H.1",
     .in = {LENGTH, {"away-from-20", "t", "-100..100 K", NULL, "temperature less 20 degC"}, HALF("0..0.0002 K-1")},
     .out = {{"expansion-uncertainty", "u", "mm", NULL, "component from the expansions of part and gauge"}},
     WH_WORK(3, expansion_uncertainty)},
    {.name = "conformity.second-order-uncertainty", .formula = "u = l a b", .source = "JCGM 100:2008, H.1",
     .in = {LENGTH, {"expansion-standard", "a", "0..0.0002 K-1", NULL, "standard uncertainty of the expansion"},
            {"temperature-standard", "b", "0..100 K", NULL, "standard uncertainty of the temperature"}},
     .out = {{"second-order-uncertainty", "u", "mm", NULL, "component from both together"}},
     WH_WORK(3, second_order_uncertainty)},
    {.name = "conformity.comparator-length", .formula = "l = s + d", .source = "JCGM 100:2008, H.1",
     .in = {{"standard-length", "s", "0..10000 mm", NULL, "length of the block it is compared with"},
            {"difference", "d", "mm", NULL, "what the comparator shows more"}},
     .out = {{"comparator-length", "l", "mm", NULL, "length, both at one temperature"}}, WH_WORK(2, comparator_length)},
};

const struct wh_subject wh_conformity = WH_SUBJECT("conformity", "Readings against limits", rules);
