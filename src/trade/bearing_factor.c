/* bearing_factor.c - ratings from a bearing's inside, and the factors of load and life that stand in tables. */
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

#define COUNT(table) (sizeof table / sizeof *table)

/* f0 of ISO 76 and fc of ISO 281 over the element's share of the pitch circle, 0.00 to 0.40 in steps of 0.01. */
enum { SHARES = 41 };
static const double static_factors[SHARES] = {
    14.7, 14.9, 15.1, 15.3, 15.5, 15.7, 15.9, 16.1, 16.3, 16.5, 16.4, 16.1, 15.9, 15.6, 15.4, 15.2,
    14.9, 14.7, 14.4, 14.2, 14, 13.7, 13.5, 13.2, 13, 12.8, 12.5, 12.3, 12.1, 11.8, 11.6, 11.4, 11.2,
    10.9, 10.7, 10.5, 10.3, 10, 9.8, 9.6, 9.4};
static const double rating_factors[SHARES] = {
    NAN, 29.1, 35.8, 40.3, 43.8, 46.7, 49.1, 51.1, 52.8, 54.3, 55.5, 56.6, 57.5, 58.2, 58.8, 59.3, 59.6,
    59.8, 59.9, 60, 59.9, 59.8, 59.6, 59.3, 59, 58.6, 58.2, 57.7, 57.1, 56.6, 56, 55.3, 54.6, 53.9,
    53.2, 52.4, 51.7, 50.9, 50, 49.2, 48.4};

/* Straight line between neighbours of a table; NAN outside it. */
static double between(const double x[], const double y[], size_t n, double at)
{
    for (size_t i = 1; i < n; i++)
        if (at >= x[i - 1] && at <= x[i]) return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
    return NAN;
}

static double by_share(const double table[], double share)
{
    size_t i = (size_t)(share * 100 + 1e-9);
    double rest = share * 100 - (double)i;
    if (share > 0.4) return NAN;
    return fabs(rest) < 1e-9 ? table[i] : table[i] + rest * (table[i + 1] - table[i]);
}

static double static_factor(double share)
{
    return by_share(static_factors, share);
}

static double rating_factor(double share)
{
    return by_share(rating_factors, share);
}

static const char *table_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "outside the table" : NULL;
}

/* Newton and millimetres inside, as the standard has it. */
static double computed_rating(double Z, double d, double D, double alpha, double bm, double i)
{
    double dw = d * 1e3, fc = rating_factor(d * cos(alpha) / D);
    double size = dw <= 25.4 ? pow(dw, 1.8) : 3.647 * pow(dw, 1.4);
    return bm * fc * pow(i * cos(alpha), 0.7) * pow(Z, 2.0 / 3) * size;
}

static double computed_static_rating(double Z, double d, double D, double alpha, double i)
{
    double dw = d * 1e3;
    return static_factor(d * cos(alpha) / D) * i * Z * dw * dw * cos(alpha);
}

/* Axial factors of deep groove ball bearings over f0 Fa/C0: e and Y, for normal clearance and for C3. */
static const double relative_loads[] = {0.172, 0.345, 0.689, 1.03, 1.38, 2.07, 3.45, 5.17, 6.89};
static const double groove_limits[] = {0.19, 0.22, 0.26, 0.28, 0.30, 0.34, 0.38, 0.42, 0.44};
static const double groove_factors[] = {2.30, 1.99, 1.71, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00};
static const double wide_limits[] = {0.29, 0.32, 0.36, 0.38, 0.40, 0.44, 0.49, 0.54, 0.54};
static const double wide_factors[] = {1.88, 1.71, 1.52, 1.41, 1.34, 1.23, 1.10, 1.01, 1.00};

static void groove_axial(const double in[], double out[])
{
    bool wide = in[1] > 0;
    out[0] = between(relative_loads, wide ? wide_limits : groove_limits, COUNT(relative_loads), in[0]);
    out[1] = between(relative_loads, wide ? wide_factors : groove_factors, COUNT(relative_loads), in[0]);
    out[2] = isnan(out[0]) ? NAN : wide ? 0.46 : 0.56;
}

/* The same over Fa/C0, as older books have it. */
static const double axial_shares[] = {0.014, 0.021, 0.028, 0.042, 0.056, 0.070, 0.084, 0.11, 0.17, 0.28, 0.42, 0.56};
static const double share_limits[] = {0.19, 0.21, 0.22, 0.24, 0.26, 0.27, 0.28, 0.30, 0.34, 0.38, 0.42, 0.44};
static const double share_factors[] = {2.30, 2.15, 1.99, 1.85, 1.71, 1.63, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00};

static void share_axial(const double in[], double out[])
{
    out[0] = between(axial_shares, share_limits, COUNT(axial_shares), in[0]);
    out[1] = between(axial_shares, share_factors, COUNT(axial_shares), in[0]);
}

/* Angular contact of 15 degrees over i f0 Fa/C0: e, Y of one row, Y of a pair up to and above e. */
static const double shallow_loads[] = {0.178, 0.357, 0.714, 1.07, 1.43, 2.14, 3.57, 5.35};
static const double shallow[4][8] = {
    {0.38, 0.40, 0.43, 0.46, 0.47, 0.50, 0.55, 0.56},
    {1.47, 1.40, 1.30, 1.23, 1.19, 1.12, 1.02, 1.00},
    {1.65, 1.57, 1.46, 1.38, 1.34, 1.26, 1.14, 1.12},
    {2.39, 2.28, 2.11, 2.00, 1.93, 1.82, 1.66, 1.63},
};

static void shallow_axial(const double in[], double out[])
{
    for (int k = 0; k < 4; k++) out[k] = between(shallow_loads, shallow[k], COUNT(shallow_loads), in[0]);
}

/* Angular contact by the angle: e, X and Y of one row above e; of a pair Y up to e, X and Y above. */
static const double angles[] = {20, 25, 30, 35, 40, 45};
static const double steep[3][6] = {
    {0.57, 0.68, 0.80, 0.95, 1.14, 1.34},
    {1.00, 0.87, 0.76, 0.66, 0.57, 0.50},
    {0.43, 0.41, 0.39, 0.37, 0.35, 0.33},
};
/* At 30 and 40 degrees read, the others from memory. */
static const double steep_pair[3][6] = {
    {1.09, 0.92, 0.78, 0.66, 0.55, 0.47},
    {0.70, 0.67, 0.63, 0.60, 0.57, 0.54},
    {1.63, 1.41, 1.24, 1.07, 0.93, 0.81},
};

static double in_degrees(double angle)
{
    double degrees = angle * 180 / WH_PI, whole = round(degrees);
    return fabs(degrees - whole) < 1e-9 ? whole : degrees;
}

static void steep_axial(const double in[], double out[])
{
    for (int k = 0; k < 3; k++) out[k] = between(angles, steep[k], COUNT(angles), in_degrees(in[0]));
}

static void steep_pair_axial(const double in[], double out[])
{
    for (int k = 0; k < 3; k++) out[k] = between(angles, steep_pair[k], COUNT(angles), in_degrees(in[0]));
}

/* Self-aligning balls: e, Y up to and above e. */
static void aligning_axial(const double in[], double out[])
{
    out[0] = 1.5 * tan(in[0]);
    out[1] = 0.42 / tan(in[0]);
    out[2] = 0.65 / tan(in[0]);
}

/* Spherical rollers: e, Y up to and above e. */
static void spherical_axial(const double in[], double out[])
{
    out[0] = 1.5 * tan(in[0]);
    out[1] = 0.45 / tan(in[0]);
    out[2] = 0.67 / tan(in[0]);
}

/* Cylindrical rollers between flanges, series 10, 2, 3 and 4, then 22 and 23: e, Y and X above e. */
static void flange_axial(const double in[], double out[])
{
    static const double factors[][3] = {{0.2, 0.6, 0.92}, {0.3, 0.4, 0.92}};
    for (int k = 0; k < 3; k++) out[k] = factors[(size_t)in[0]][k];
}

static const char *flange_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "only flanges on both rings (NJ, NUP) carry along the shaft, and only while a load across turns the rollers";
}

static void roller_axial(const double in[], double out[])
{
    out[0] = 1.5 * tan(in[0]);
    out[1] = 0.4 / tan(in[0]);
}

static double relative_load(double Fa, double C0, double f0)
{
    return f0 * Fa / C0;
}

static double interpolated(double x, double x1, double y1, double x2, double y2)
{
    return y1 + (y2 - y1) * (x - x1) / (x2 - x1);
}

static const char *interpolated_remark(const double in[], const double out[])
{
    (void)out;
    double low = fmin(in[1], in[3]), high = fmax(in[1], in[3]);
    if (!(low < high)) return "both rows are the same";
    return in[0] < low || in[0] > high ? "not between the two rows" : NULL;
}

/* Reliability factor a1: shares in per cent, values since 2007 and before. */
static const double reliabilities[] = {90, 95, 96, 97, 98, 99, 99.2, 99.4, 99.6, 99.8, 99.9, 99.95};
static const double a1_new[] = {1, 0.64, 0.55, 0.47, 0.37, 0.25, 0.22, 0.19, 0.16, 0.12, 0.093, 0.077};
static const double a1_old[] = {1, 0.62, 0.53, 0.44, 0.33, 0.21, NAN, NAN, NAN, NAN, NAN, NAN};

static double per_cent(double share)
{
    double percent = share * 100, near = round(percent * 100) / 100;
    return fabs(percent - near) < 1e-9 ? near : percent;
}

static void reliability(const double in[], double out[])
{
    out[0] = between(reliabilities, a1_new, COUNT(reliabilities), per_cent(in[0]));
    out[1] = between(reliabilities, a1_old, COUNT(reliabilities), per_cent(in[0]));
}

static double needed_viscosity(double omega, double D)
{
    double n = omega * 30 / WH_PI, dm = D * 1e3;
    return (n < 1000 ? 45000 * pow(n, -0.83) : 4500 * pow(n, -0.5)) / sqrt(dm) * 1e-6;
}

static double fatigue_load(double C0, double D)
{
    return C0 / 22 * (D > 0.1 ? sqrt(0.1 / D) : 1);
}

static double roller_fatigue_load(double C0, double D)
{
    return C0 / 8.2 * (D > 0.1 ? pow(0.1 / D, 0.3) : 1);
}

/* Contamination e = a (1 - c2/D^(1/3)), a = min(c1 kappa^0.68 D^0.55, 1), D in mm; words of the vocabulary first. */
static const char *const cleanliness_words[] = {
    "grease-high",   "grease-normal", "grease-slight", "grease-severe", "grease-very-severe",
    "filter-13",     "filter-15",     "filter-17",     "filter-19",
    "bath-13",       "bath-15",       "bath-17",       "bath-19",       "bath-21"};
static const double cleanliness[][2] = {
    {0.0864, 0.6796}, {0.0432, 1.141},  {0.0177, 1.887},  {0.0115, 2.662},   {0.00617, 4.06},
    {0.0864, 0.5663}, {0.0432, 0.9987}, {0.0288, 1.6329}, {0.0216, 2.3362},
    {0.0864, 0.6796}, {0.0288, 1.141},  {0.0133, 1.67},   {0.00864, 2.5164}, {0.00411, 3.8974}};
enum { GREASE_SLIGHT = 2 };

static double contamination(double kappa, double D, double clean)
{
    double c1 = cleanliness[(size_t)clean][0], c2 = cleanliness[(size_t)clean][1], dm = D * 1e3;
    if ((int)clean == GREASE_SLIGHT && dm >= 500) c2 = 1.677;
    double a = fmin(c1 * pow(fmin(kappa, 4), 0.68) * pow(dm, 0.55), 1);
    return fmax(a * (1 - c2 / cbrt(dm)), 0);
}

/* The modification factor; `base` and the three branches' constants differ between balls and rollers. */
static double branch(double kappa, double low, double high)
{
    if (kappa < 0.4) return low / pow(kappa, 0.054381);
    return high / pow(kappa, kappa < 1 ? 0.19087 : 0.071739);
}

static double ball_life_factor(double kappa, double e, double Cu, double P)
{
    double k = fmin(kappa, 4), x = 1 - pow(2.5671 - branch(k, 2.2649, 1.9987), 0.83) * cbrt(e * Cu / P);
    return x > 0 ? fmin(0.1 * pow(x, -9.3), 50) : 50;
}

static double roller_life_factor(double kappa, double e, double Cu, double P)
{
    double k = fmin(kappa, 4), x = 1 - (1.5859 - branch(k, 1.3993, 1.2348)) * pow(e * Cu / P, 0.4);
    return x > 0 ? fmin(0.1 * pow(x, -9.185), 50) : 50;
}

WH_COLUMNS(1, static_factor)
WH_COLUMNS(1, rating_factor)
WH_COLUMNS(6, computed_rating)
WH_COLUMNS(5, computed_static_rating)
WH_MANY(2, 3, groove_axial)
WH_MANY(1, 2, share_axial)
WH_MANY(1, 4, shallow_axial)
WH_MANY(1, 3, steep_axial)
WH_MANY(1, 3, steep_pair_axial)
WH_MANY(1, 3, aligning_axial)
WH_MANY(1, 3, spherical_axial)
WH_MANY(1, 3, flange_axial)
WH_MANY(1, 2, roller_axial)
WH_COLUMNS(3, relative_load)
WH_COLUMNS(5, interpolated)
WH_MANY(1, 2, reliability)
WH_COLUMNS(2, needed_viscosity)
WH_COLUMNS(2, fatigue_load)
WH_COLUMNS(2, roller_fatigue_load)
WH_COLUMNS(3, contamination)
WH_COLUMNS(4, ball_life_factor)
WH_COLUMNS(4, roller_life_factor)

#define INSIDE {"elements", "Z", "3..200 1", .title = "balls in a row"},                                            \
    {"element-diameter", "d", "0.5..200 mm", .title = "diameter of a ball"},                                        \
    {"pitch-diameter", "D", "2..3000 mm", .title = "diameter of the circle of their centres"},                      \
    {"contact-angle", "alpha", "0..80 deg", .usual = "0 deg", .title = "contact angle"}
#define ROWS {"rows", "i", "1..4 1", .usual = "1", .title = "rows of balls"}
#define SHARE {"ball-share", "r", "0..0.4 1", .title = "ball diameter times cosine of the angle, by pitch diameter"}
#define RELATIVE {"relative-axial-load", "w", "0.1..10 1", .title = "f0 Fa/C0"}
#define STEEP {"contact-angle", "alpha", "20..45 deg", .title = "contact angle"}
#define PITCH {"pitch-diameter", "D", "2..3000 mm", .title = "pitch diameter"}
#define KAPPA {"viscosity-ratio", "kappa", "0.1..100 1", .title = "viscosity by viscosity needed"}
#define ISO_281 "ISO 281:2007"
#define LIMIT(NAME) {NAME, "e", "1", .title = "share of axial load that counts"}
#define LIFE_FACTOR KAPPA, {"contamination", "e", "0..1 1", .title = "factor of dirt"},                             \
    {"fatigue-load", "Cu", "0.0001..100000 kN", .title = "load below which nothing tires"},                         \
    {"equivalent-load", "P", "0.0001..100000 kN", .title = "equivalent load"}

static const struct wh_rule rules[] = {
    {.name = "bearing.static-factor", .formula = "ISO 76, table 1, straight lines between",
     .source = "ISO 76:2006, table 1",
     .in = {SHARE}, .out = {{"static-factor", "f0", "1", .title = "f0"}}, WH_WORK(1, static_factor)},
    {.name = "bearing.rating-factor", .formula = "ISO 281, table 2, straight lines between",
     .source = ISO_281 ", table 2",
     .in = {SHARE}, .out = {{"rating-factor", "fc", "1", .title = "fc, without the quality factor"}},
     WH_WORK(1, rating_factor), .remark = table_remark},
    {.name = "bearing.computed-rating",
     .formula = "ISO 281: bm fc (i cos alpha)^0.7 Z^(2/3) d^1.8 in N and mm; above 25.4 mm 3.647 d^1.4",
     .source = ISO_281 ", 5.1, eq. (1) and (2)",
     .in = {INSIDE, {"quality", "bm", "1..1.3 1", .usual = "1.3", .title = "factor of today's steel"}, ROWS},
     .out = {{"computed-rating", "C", "kN", .title = "dynamic load rating from the inside"}},
     WH_WORK(6, computed_rating), .remark = table_remark},
    {.name = "bearing.computed-static-rating", .formula = "ISO 76: f0 i Z d^2 cos alpha in N and mm",
     .source = "ISO 76:2006, 5.1", .in = {INSIDE, ROWS},
     .out = {{"computed-static-rating", "C0", "kN", .title = "static load rating from the inside"}},
     WH_WORK(5, computed_static_rating), .remark = table_remark},
    {.name = "bearing.relative-axial-load", .formula = "w = f0 Fa/C0", .source = ISO_281 ", table 3",
     .in = {{"axial-load", "Fa", "0..100000 kN", .title = "load along the shaft"},
            {"static-rating", "C0", "0.001..100000 kN", .title = "static load rating"},
            {"static-factor", "f0", "1..20 1", .usual = "14", .title = "f0"}},
     .out = {{"relative-axial-load", "w", "1", .title = "f0 Fa/C0"}}, WH_WORK(3, relative_load)},
    {.name = "bearing.axial-limit", .formula = "ISO 281, table 3, straight lines between; C3 from memory",
     .source = ISO_281 ", table 3", .in = {RELATIVE, {"wide", "g", "play", .usual = "normal", .title = "clearance"}},
     .out = {LIMIT("axial-limit"), {"axial-factor", "Y", "1", .title = "Y above e"},
             {"radial-factor", "X", "1", .title = "X above e"}},
     WH_WORK(2, groove_axial), .remark = table_remark},
    {.name = "bearing.axial-limit-by-share", .formula = "table over Fa/C0, straight lines between",
     .source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, table 11-1; part from memory",
     .in = {{"axial-share", "w", "0.001..1 1", .title = "Fa/C0"}},
     .out = {LIMIT("axial-limit-by-share"), {"axial-factor-by-share", "Y", "1", .title = "Y above e; X is 0.56"}},
     WH_WORK(1, share_axial), .remark = table_remark},
    {.name = "bearing.axial-limit-15-deg", .formula = "ISO 281, table 3, 15 degrees, straight lines between",
     .source = ISO_281 ", table 3", .in = {RELATIVE},
     .out = {LIMIT("axial-limit-15-deg"), {"axial-factor-15-deg", "Y", "1", .title = "Y above e; X is 0.44"},
             {"pair-factor-below", "Yp1", "1", .title = "of a pair, Y up to e"},
             {"pair-factor-above", "Yp2", "1", .title = "of a pair, Y above e; X is 0.72"}},
     WH_WORK(1, shallow_axial), .remark = table_remark},
    {.name = "bearing.angular-limit", .formula = "ISO 281, table 3, by the angle, straight lines between",
     .source = ISO_281 ", table 3", .in = {STEEP},
     .out = {LIMIT("angular-limit"), {"angular-axial-factor", "Y", "1", .title = "Y above e"},
             {"angular-radial-factor", "X", "1", .title = "X above e"}},
     WH_WORK(1, steep_axial)},
    {.name = "bearing.pair-factor", .formula = "ISO 281, table 3, pairs by the angle, straight lines between",
     .source = ISO_281 ", table 3; but for 30 and 40 degrees from memory", .in = {STEEP},
     .out = {{"pair-factor", "Y1", "1", .title = "Y up to e"}, {"pair-radial-factor", "X2", "1", .title = "X above e"},
             {"pair-axial-factor", "Y2", "1", .title = "Y above e"}},
     WH_WORK(1, steep_pair_axial)},
    {.name = "bearing.aligning-limit", .formula = "e = 1.5 tan(alpha); Y1 = 0.42/tan(alpha); Y2 = 0.65/tan(alpha)",
     .source = ISO_281 ", table 3, from memory",
     .in = {{"contact-angle", "alpha", "3..45 deg", .title = "contact angle"}},
     .out = {LIMIT("aligning-limit"), {"aligning-factor-below", "Y1", "1", .title = "Y up to e"},
             {"aligning-factor", "Y2", "1", .title = "Y above e; X is 0.65"}},
     WH_WORK(1, aligning_axial)},
    {.name = "bearing.spherical-limit", .formula = "e = 1.5 tan(alpha); Y1 = 0.45/tan(alpha); Y2 = 0.67/tan(alpha)",
     .source = ISO_281 ", table 7, two rows, from memory",
     .in = {{"contact-angle", "alpha", "3..45 deg", .title = "contact angle"}},
     .out = {LIMIT("spherical-limit"), {"spherical-factor-below", "Y1", "1", .title = "Y up to e"},
             {"spherical-factor", "Y2", "1", .title = "Y above e; X is 0.67"}},
     WH_WORK(1, spherical_axial)},
    {.name = "bearing.flange-limit", .formula = "narrow and wide series, table",
     .source = "a bearing maker's technical page on cylindrical roller bearings",
     .in = {{"roller-series", "s", "roller-series", .title = "narrow: 10, 2, 3, 4; wide: 22, 23"}},
     .out = {LIMIT("flange-limit"), {"flange-axial-factor", "Y", "1", .title = "Y above e"},
             {"flange-radial-factor", "X", "1", .title = "X above e"}},
     WH_WORK(1, flange_axial), .remark = flange_remark},
    {.name = "bearing.roller-limit", .formula = "e = 1.5 tan(alpha); Y = 0.4/tan(alpha)",
     .source = ISO_281 ", table 7, from memory",
     .in = {{"contact-angle", "alpha", "3..60 deg", .title = "contact angle"}},
     .out = {LIMIT("roller-limit"), {"roller-axial-factor", "Y", "1", .title = "Y above e; X is 0.4"}},
     WH_WORK(1, roller_axial)},
    {.name = "bearing.interpolated-factor", .formula = "y = y1 + (y2 - y1) (x - x1)/(x2 - x1)",
     .source = "Wentzell, Machine Design, ch. 20",
     .in = {{"at", "x", "-1e6..1e6 1", .title = "value looked for"},
            {"row-1", "x1", "-1e6..1e6 1", .title = "row below"},
            {"factor-1", "y1", "-1e6..1e6 1", .title = "factor of the row below"},
            {"row-2", "x2", "-1e6..1e6 1", .title = "row above"},
            {"factor-2", "y2", "-1e6..1e6 1", .title = "factor of the row above"}},
     .out = {{"interpolated-factor", "y", "1", .title = "factor between"}}, WH_WORK(5, interpolated),
     .remark = interpolated_remark},
    {.name = "bearing.reliability-factor", .formula = "ISO 281, table 12, straight lines between",
     .source = ISO_281 ", table 12; ISO 281:1990 and 99.2 to 99.9 % from memory",
     .in = {{"reliability", "R", "90..99.95 %", .title = "share that shall reach it"}},
     .out = {{"reliability-factor", "a1", "1", .title = "factor of reliability"},
             {"reliability-factor-1990", "b1", "1", .title = "factor of the standard before 2007"}},
     WH_WORK(1, reliability)},
    {.name = "bearing.needed-viscosity",
     .formula = "nu = if(omega < 1000 pi/30, 0.045 (30 omega/pi)^(-0.83), 0.0045 (30 omega/pi)^(-0.5))/sqrt(1000 D)",
     .source = ISO_281 ", 9.3.3, eq. (27) and (28)",
     .in = {{"speed", "omega", "1..200000 rpm", .title = "speed"}, PITCH},
     .out = {{"needed-viscosity", "nu", "mm2/s", .title = "viscosity needed at running temperature"}},
     WH_WORK(2, needed_viscosity)},
    {.name = "bearing.fatigue-load", .formula = "Cu = if(0.1 < D, sqrt(0.1/D), 1) C0/22",
     .source = ISO_281 ", annex B, simplified, balls",
     .in = {{"static-rating", "C0", "0.001..100000 kN", .title = "static load rating"}, PITCH},
     .out = {{"fatigue-load", "Cu", "kN", .title = "load below which balls do not tire"}}, WH_WORK(2, fatigue_load)},
    {.name = "bearing.roller-fatigue-load", .formula = "Cu = if(0.1 < D, (0.1/D)^0.3, 1) C0/8.2",
     .source = ISO_281 ", annex B, simplified, rollers; above 100 mm from memory",
     .in = {{"static-rating", "C0", "0.001..100000 kN", .title = "static load rating"}, PITCH},
     .out = {{"roller-fatigue-load", "Cu", "kN", .title = "load below which rollers do not tire"}},
     WH_WORK(2, roller_fatigue_load)},
    {.name = "bearing.contamination",
     .formula = "ISO 281, annex A: min(c1 kappa^0.68 D^0.55, 1) (1 - c2/D^(1/3)), D in mm",
     .source = ISO_281 ", annex A; the oil rows from memory",
     .in = {KAPPA, PITCH, {"cleanliness", "q", "cleanliness", .title = "cleanliness of grease or oil"}},
     .out = {{"contamination", "e", "1", .title = "factor of dirt"}}, WH_WORK(3, contamination)},
    {.name = "bearing.life-factor", .formula = "ISO 281, eq. (31) to (33), balls, at most 50",
     .source = ISO_281 ", 9.3.3", .in = {LIFE_FACTOR},
     .out = {{"life-factor", "a", "1", .title = "factor of lubrication and dirt"}}, WH_WORK(4, ball_life_factor)},
    {.name = "bearing.roller-life-factor", .formula = "ISO 281, radial roller bearings, at most 50",
     .source = ISO_281 ", 9.3.3", .in = {LIFE_FACTOR},
     .out = {{"roller-life-factor", "a", "1", .title = "factor of lubrication and dirt"}},
     WH_WORK(4, roller_life_factor)},
};

static const char *const plays[] = {"normal", "C3"};
static const char *const roller_series[] = {"narrow", "wide"};
WH_WORDS(play, plays)
WH_WORDS(rollers, roller_series)
WH_WORDS(clean, cleanliness_words)

static const struct wh_vocabulary vocabularies[] = {
    {.name = "play", .title = "clearance the factors hold for", .example = "C3", WH_WORDS_ENTRY(play)},
    {.name = "roller-series", .title = "series of cylindrical roller bearings", .example = "narrow",
     WH_WORDS_ENTRY(rollers)},
    {.name = "cleanliness", .title = "cleanliness: of grease, or oil with filter or as a bath by the last two numbers",
     .example = "grease-normal", WH_WORDS_ENTRY(clean)},
};

const struct wh_subject wh_bearing_factor = {
    .name = "bearing", .title = "Bearings: ratings and factors", .rules = rules,
    .rule_count = sizeof rules / sizeof *rules, .vocabularies = vocabularies,
    .vocabulary_count = sizeof vocabularies / sizeof *vocabularies};
