/* uncertainty.c - uncertainty budgets (GUM): components, their sum, coverage, a gauge's own, temperatures. */
#include "trade/rule.h"
#include "trade/statistics.h"

#include <math.h>

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

static double coverage_factor(double freedom, double share)
{
    return freedom >= 1 ? wh_student_quantile(share, freedom) : NAN;
}
WH_COLUMNS(2, coverage_factor)

static const char *coverage_remark(const double in[], const double out[])
{
    (void)in;
    if (isnan(out[0])) return "less than one degree of freedom: repeat the readings";
    return out[0] > 3 ? "few readings stand behind it: more of them make it smaller" : NULL;
}

static void gauge_record(const double in[], double out[])
{
    double calibration = in[0] / 2, step = in[1] * in[1] / 12, error = in[2] * in[2] / 3;
    out[1] = sqrt(calibration * calibration + step + error + in[3] * in[3]);
    out[0] = 2 * out[1];
}
WH_MANY(4, 2, gauge_record)

static double corrected(double reading, double correction, double zero)
{
    return reading + correction - zero;
}
WH_COLUMNS(3, corrected)

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
    return fabs(in[1] - in[2]) > 2 ? "part and gauge differ by more than 2 K: let both lie an hour, read again" : NULL;
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

#define STANDARD                                                                                                       \
    {                                                                                                                  \
        "standard-uncertainty", "u", "0.. any", NULL, "standard uncertainty"                                           \
    }
#define EXPANDED                                                                                                       \
    {                                                                                                                  \
        "uncertainty", "U", "0.. any", NULL, "expanded uncertainty"                                                    \
    }
#define HALF(range)                                                                                                    \
    {                                                                                                                  \
        "half-width", "a", range, NULL, "half width: it lies within plus or minus this"                                \
    }
#define COVERAGE                                                                                                       \
    {                                                                                                                  \
        "coverage", "k", "1..4 1", "2", "coverage factor"                                                              \
    }
#define LENGTH                                                                                                         \
    {                                                                                                                  \
        "length", "l", "0.01..10000 mm", NULL, "length measured"                                                       \
    }
#define FREEDOM(name, symbol, usual)                                                                                   \
    {                                                                                                                  \
        name, symbol, "0.5..1000000 1", usual, "its degrees of freedom"                                                \
    }

static const struct wh_rule rules[] = {
    {.name = "conformity.combined-uncertainty",
     .formula = "root of the sum of the squares of the components",
     .source = "JCGM 100:2008, 5.1.2, from memory",
     .in = {{"components", "u_i", "0.. any", NULL, "standard uncertainties, each times its sensitivity", .many = 24}},
     .out = {{"combined-uncertainty", "u", "any", NULL, "combined standard uncertainty"}},
     .arity = 1,
     .work = combined_uncertainty_columns},
    {.name = "conformity.mean-reading",
     .formula = "mean, scatter (n - 1) and scatter over the root of n",
     .source = "JCGM 100:2008, 4.2, from memory",
     .in = {{"readings", "y_i", "any", NULL, "repeated readings", .many = 24}},
     .out = {{"mean-reading", "m", "any", NULL, "mean"},
             {"scatter", "s", "any difference", NULL, "standard deviation of a reading"},
             {"mean-uncertainty", "u", "any difference", NULL, "standard uncertainty of the mean"},
             {"spread", "r", "any difference", NULL, "greatest less least"}},
     .arity = 1,
     .work = mean_reading_columns,
     .remark = mean_remark},
    {.name = "conformity.expanded-uncertainty",
     .formula = "U = k u",
     .source = "JCGM 100:2008, 6.2.1, from memory",
     .in = {STANDARD, COVERAGE},
     .out = {{"expanded-uncertainty", "U", "any", NULL, "expanded uncertainty"}},
     WH_WORK(2, expanded)},
    {.name = "conformity.standard-uncertainty",
     .formula = "u = U / k",
     .source = "JCGM 100:2008, 6.2.1, from memory",
     .in = {EXPANDED, COVERAGE},
     .out = {{"standard-uncertainty", "u", "any", NULL, "standard uncertainty"}},
     WH_WORK(2, standard)},
    {.name = "conformity.resolution-uncertainty",
     .formula = "u = r / sqrt(12)",
     .source = "JCGM 100:2008, F.2.2.1, from memory",
     .in = {{"resolution", "r", "0.. any", NULL, "smallest step the gauge shows"}},
     .out = {{"resolution-uncertainty", "u", "any", NULL, "standard uncertainty from the step"}},
     WH_WORK(1, resolution_uncertainty)},
    {.name = "conformity.uniform-uncertainty",
     .formula = "u = a / sqrt(3)",
     .source = "JCGM 100:2008, 4.3.7, from memory",
     .in = {HALF("0.. any")},
     .out = {{"uniform-uncertainty", "u", "any", NULL, "standard uncertainty, anywhere alike"}},
     WH_WORK(1, uniform_uncertainty)},
    {.name = "conformity.triangular-uncertainty",
     .formula = "u = a / sqrt(6)",
     .source = "JCGM 100:2008, 4.3.9, from memory",
     .in = {HALF("0.. any")},
     .out = {{"triangular-uncertainty", "u", "any", NULL, "standard uncertainty, middle likeliest"}},
     WH_WORK(1, triangular_uncertainty)},
    {.name = "conformity.arcsine-uncertainty",
     .formula = "u = a / sqrt(2)",
     .source = "JCGM 100:2008, H.1",
     .in = {HALF("0.. any")},
     .out = {{"arcsine-uncertainty", "u", "any", NULL, "standard uncertainty of a swinging temperature"}},
     WH_WORK(1, arcsine_uncertainty)},
    {.name = "conformity.effective-freedom",
     .formula = "nu = (u1^2 + u2^2 + u3^2 + u4^2)^2 / (u1^4/n1 + u2^4/n2 + u3^4/n3 + u4^4/n4)",
     .source = "JCGM 100:2008, G.4, after Welch and Satterthwaite, from memory",
     .in = {{"first", "u1", "0.. any", NULL, "first component"},
            FREEDOM("first-freedom", "n1", NULL),
            {"second", "u2", "0.. any", "0", "second component"},
            FREEDOM("second-freedom", "n2", "1000000"),
            {"third", "u3", "0.. any", "0", "third component"},
            FREEDOM("third-freedom", "n3", "1000000"),
            {"fourth", "u4", "0.. any", "0", "fourth component"},
            FREEDOM("fourth-freedom", "n4", "1000000")},
     .out = {{"effective-freedom", "nu", "1", NULL, "effective degrees of freedom; cut to a whole number for tables"}},
     WH_WORK(8, effective_freedom),
     .remark = freedom_remark},
    {.name = "conformity.coverage-factor",
     .formula = "Student's distribution: the t within which that share lies",
     .source = "JCGM 100:2008, G.3 and table G.2",
     .in = {FREEDOM("freedom", "nu", NULL),
            {"share", "p", "50..99.99 %", "95.45 %", "level of confidence, both sides"}},
     .out = {{"coverage-factor", "k", "1", NULL, "expanded over standard uncertainty"}},
     WH_WORK(2, coverage_factor),
     .remark = coverage_remark},
    {.name = "conformity.gauge-record-uncertainty",
     .formula = "u = sqrt((C/2)^2 + r^2/12 + e^2/3 + s^2); U = 2 u",
     .source = "JCGM 100:2008, 4.3.3, 4.3.7 and F.2.2.1",
     .in = {{"calibration", "C", "0.. any", NULL, "expanded uncertainty of its calibration, k = 2"},
            {"resolution", "r", "0.. any", NULL, "smallest step it shows"},
            {"greatest-error", "e", "0.. any", "0", "greatest error that is left uncorrected"},
            {"scatter", "s", "0.. any", "0", "standard deviation of a reading, in these hands"}},
     .out = {{"gauge-record-uncertainty", "U", "any", NULL, "expanded uncertainty of a reading, k = 2"},
             {"standard-uncertainty", "u", "any", NULL, "standard uncertainty of a reading"}},
     WH_WORK(4, gauge_record)},
    {.name = "conformity.corrected-reading",
     .formula = "y = r + c - z",
     .source = "JCGM 100:2008, B.2.23",
     .in = {{"reading", "r", "any", NULL, "reading"},
            {"correction", "c", "any difference", "0", "correction of the gauge's record there"},
            {"zero", "z", "any difference", "0", "what it shows at nothing"}},
     .out = {{"corrected-reading", "y", "any", NULL, "reading, corrected"}},
     WH_WORK(3, corrected)},

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
     WH_WORK(5, size_at_20),
     .remark = temperature_remark},
    {.name = "conformity.temperature-uncertainty",
     .formula = "u = l alpha a / sqrt(3)",
     .source = "JCGM 100:2008, H.1",
     .in = {LENGTH, {"expansion", "alpha", "0..0.0002 K-1", "0.0000115 K-1", "expansion"}, HALF("0.. K")},
     .out = {{"temperature-uncertainty", "u", "mm", NULL, "component from the temperatures of part and gauge"}},
     WH_WORK(3, temperature_uncertainty)},
    {.name = "conformity.expansion-uncertainty",
     .formula = "u = l abs(t) a / sqrt(3)",
     .source = "JCGM 100:2008, H.1",
     .in = {LENGTH, {"away-from-20", "t", "-100..100 K", NULL, "temperature less 20 degC"}, HALF("0..0.0002 K-1")},
     .out = {{"expansion-uncertainty", "u", "mm", NULL, "component from the expansions of part and gauge"}},
     WH_WORK(3, expansion_uncertainty)},
    {.name = "conformity.second-order-uncertainty",
     .formula = "u = l a b",
     .source = "JCGM 100:2008, H.1",
     .in = {LENGTH,
            {"expansion-standard", "a", "0..0.0002 K-1", NULL, "standard uncertainty of the expansion"},
            {"temperature-standard", "b", "0..100 K", NULL, "standard uncertainty of the temperature"}},
     .out = {{"second-order-uncertainty", "u", "mm", NULL, "component from both together"}},
     WH_WORK(3, second_order_uncertainty)},
    {.name = "conformity.comparator-length",
     .formula = "l = s + d",
     .source = "JCGM 100:2008, H.1",
     .in = {{"standard-length", "s", "0..10000 mm", NULL, "length of the block it is compared with"},
            {"difference", "d", "mm", NULL, "what the comparator shows more"}},
     .out = {{"comparator-length", "l", "mm", NULL, "length, both at one temperature"}},
     WH_WORK(2, comparator_length)},
};

const struct wh_subject wh_uncertainty = WH_SUBJECT("conformity", "Uncertainty of readings", rules);
