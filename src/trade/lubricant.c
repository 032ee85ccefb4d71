/* lubricant.c - oil and grease: grades, viscosity and temperature, what a bearing needs, how much goes in. */
#include "trade/lubricant_table.h"
#include "trade/rule.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- grades ---------------------------------------------------------------------------------------------------- */

static const char *skip_word(const char *at, const char *end, const char *word)
{
    size_t n = strlen(word);
    if ((size_t)(end - at) < n || strncmp(at, word, n) != 0) return at;
    at += n;
    while (at < end && *at == ' ') at++;
    return at;
}

/* "ISO VG 68", "VG 68", "ISO VG68"; a bare number is no grade. */
static bool grade_read(const char *text, size_t n, double *ret)
{
    const char *end = text + n;
    const char *letters = skip_word(text, end, "ISO"), *digits = skip_word(letters, end, "VG");
    if (digits == letters || digits == end) return false;
    unsigned number = 0;
    for (const char *at = digits; at < end; at++) {
        if (*at < '0' || *at > '9' || number > 9999) return false;
        number = number * 10 + (unsigned)(*at - '0');
    }
    for (size_t i = 0; i < WH_LUBRICANT_GRADES; i++) {
        if (wh_lubricant_grade_number(i) != number) continue;
        *ret = (double)i;
        return true;
    }
    return false;
}

static size_t grade_list(size_t i, char *to, size_t room)
{
    if (i >= WH_LUBRICANT_GRADES) return 0;
    return (size_t)snprintf(to, room, "ISO VG %u", wh_lubricant_grade_number(i));
}

static size_t grade_print(double code, char *to, size_t room)
{
    return code >= 0 ? grade_list((size_t)code, to, room) : 0;
}

static double grade_middle(double grade)
{
    return wh_lubricant_grade_middle((size_t)grade);
}
WH_COLUMNS(1, grade_middle)

static void grade_least(const double in[], double out[])
{
    out[0] = 0.9 * grade_middle(in[0]);
    out[1] = 1.1 * grade_middle(in[0]);
}
WH_MANY(1, 2, grade_least)

static double grade_of(double at_40)
{
    for (size_t i = 0; i < WH_LUBRICANT_GRADES; i++) {
        double middle = wh_lubricant_grade_middle(i);
        if (at_40 >= 0.9 * middle * (1 - 1e-9) && at_40 <= 1.1 * middle * (1 + 1e-9)) return (double)i;
    }
    return NAN;
}
WH_COLUMNS(1, grade_of)

static const char *grade_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "lies between two grades: not the oil it is sold as, or mixed, or thinned" : NULL;
}

/* ---- viscosity and temperature (ASTM D341) --------------------------------------------------------------------- */

static const double T40 = 313.15, T100 = 373.15;

static double walther_z(double nu)
{
    double v = 1e6 * nu;
    return v + 0.7 + exp(-1.47 - 1.84 * v - 0.51 * v * v);
}

static double viscosity_of_z(double z)
{
    double y = z - 0.7;
    return 1e-6 * (y - exp(-0.7487 - 3.295 * y + 0.6119 * y * y - 0.3193 * y * y * y));
}

static double double_log(double nu)
{
    return log10(log10(walther_z(nu)));
}

/* Slope of the oil's straight line in lg lg Z over lg T; two points at one temperature draw none. */
static double slope_of(double nu1, double T1, double nu2, double T2)
{
    return fabs(T2 - T1) > 1e-3 ? (double_log(nu1) - double_log(nu2)) / log10(T2 / T1) : NAN;
}

static double viscosity_between(double nu1, double T1, double nu2, double T2, double T)
{
    double slope = slope_of(nu1, T1, nu2, T2);
    return viscosity_of_z(pow(10, pow(10, double_log(nu1) - slope * log10(T / T1))));
}
WH_COLUMNS(5, viscosity_between)

static double viscosity(double at_40, double at_100, double T)
{
    return at_100 < at_40 ? viscosity_between(at_40, T40, at_100, T100, T) : NAN;
}
WH_COLUMNS(3, viscosity)

static void walther_a(const double in[], double out[])
{
    double slope = slope_of(in[0], in[1], in[2], in[3]);
    out[0] = double_log(in[0]) + slope * log10(in[1]);
    out[1] = slope;
}
WH_MANY(4, 2, walther_a)

static double viscosity_on_line(double a, double b, double T)
{
    return viscosity_of_z(pow(10, pow(10, a - b * log10(T))));
}
WH_COLUMNS(3, viscosity_on_line)

static const char *line_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "these constants are no oil's at that temperature" : NULL;
}

static double temperature_for(double at_40, double at_100, double nu)
{
    if (!(at_100 < at_40)) return NAN;
    double share = (double_log(at_40) - double_log(nu)) / (double_log(at_40) - double_log(at_100));
    double T = T40 * pow(T100 / T40, share);
    return T > 173.15 && T < 573.15 ? T : NAN;
}
WH_COLUMNS(3, temperature_for)

static const char *two_point_remark(const double in[], const double out[])
{
    if (!(in[1] < in[0])) return "an oil is thinner at 100 degC than at 40 degC: the two viscosities are mixed up";
    return isnan(out[0]) ? "no such viscosity between -100 and 300 degC, where the oil's line could be trusted" : NULL;
}

static const char *between_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "two different temperatures, well apart, are needed to draw the line" : NULL;
}

/* ---- viscosity index (ASTM D2270) ------------------------------------------------------------------------------ */

static void reference_l(const double in[], double out[])
{
    struct wh_reference_oils oils = wh_lubricant_reference_oils(in[0]);
    out[0] = oils.low;
    out[1] = oils.high;
}
WH_MANY(1, 2, reference_l)

static double index_exponent(double at_40, double at_100, double high)
{
    return (log10(high) - log10(at_40)) / log10(1e6 * at_100);
}
WH_COLUMNS(3, index_exponent)

static double viscosity_index(double at_40, double at_100)
{
    if (!(at_100 < at_40)) return NAN;
    struct wh_reference_oils oils = wh_lubricant_reference_oils(at_100);
    if (at_40 >= oils.high) return 100 * (oils.low - at_40) / (oils.low - oils.high);
    return (pow(10, index_exponent(at_40, at_100, oils.high)) - 1) / 0.00715 + 100;
}
WH_COLUMNS(2, viscosity_index)

/* The index grows steadily with the viscosity at 100 degC: halve the interval until doubles end. */
static double at_100_of_index(double at_40, double index)
{
    double low = 2e-6, high = at_40 * (1 - 1e-12);
    if (!(viscosity_index(at_40, low) <= index)) return NAN;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;
        if (viscosity_index(at_40, middle) < index) low = middle;
        else high = middle;
    }
    return (low + high) / 2;
}
WH_COLUMNS(2, at_100_of_index)

static double viscosity_of_grade(double grade, double index, double T)
{
    double at_40 = grade_middle(grade);
    return viscosity(at_40, at_100_of_index(at_40, index), T);
}
WH_COLUMNS(3, viscosity_of_grade)

static const char *grade_viscosity_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "no oil of this index: thinner than 2 mm2/s at 100 degC, where the index ends"
                         : "from the grade's middle; the barrel's own oil may lie 10 % off at 40 degC";
}

/* ---- what a bearing needs (ISO 281) ---------------------------------------------------------------------------- */

static double viscosity_ratio(double nu, double needed)
{
    return nu / needed;
}
WH_COLUMNS(2, viscosity_ratio)

static const char *ratio_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] < 0.1) return "hardly any film: outside the standard, the oil is far too thin";
    if (out[0] < 1) return "thin film: wants an oil with wear additives, or a thicker one, or a cooler bearing";
    return out[0] > 4 ? "the life sum counts no more than 4; much thicker oil only warms the bearing" : NULL;
}

/* ---- ageing ---------------------------------------------------------------------------------------------------- */

static double oil_life_factor(double T, double reference)
{
    return pow(2, (reference - T) / 10);
}
WH_COLUMNS(2, oil_life_factor)

static double blend_viscosity(double nu1, double nu2, double share)
{
    double w = share * log10(log10(1e6 * nu1 + 0.7)) + (1 - share) * log10(log10(1e6 * nu2 + 0.7));
    return 1e-6 * (pow(10, pow(10, w)) - 0.7);
}
WH_COLUMNS(3, blend_viscosity)

static double blend_number(double nu)
{
    return 14.534 * log(log(1e6 * nu + 0.8)) + 10.975;
}
WH_COLUMNS(1, blend_number)

static const char *blend_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "never mix oils of different kinds on this figure: ask whether they bear each other";
}

/* ---- how much goes in: room under the level -------------------------------------------------------------------- */

static double fill_ring(double outer, double inner, double depth)
{
    return inner < outer ? WH_PI / 4 * (outer * outer - inner * inner) * depth : NAN;
}
WH_COLUMNS(3, fill_ring)

static const char *ring_remark(const double in[], const double out[])
{
    (void)out;
    return in[1] < in[0] ? NULL : "the boss is as large as the pot: outer and inner diameter are mixed up";
}

static double ring_depth(double outer, double inner, double litres)
{
    return inner < outer ? 4 * litres / (WH_PI * (outer * outer - inner * inner)) : NAN;
}
WH_COLUMNS(3, ring_depth)

static double fill_box(double length, double width, double depth, double displaced)
{
    return displaced < length * width ? (length * width - displaced) * depth : NAN;
}
WH_COLUMNS(4, fill_box)

static const char *box_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "what stands in the box is as large as the box" : NULL;
}

static double fill_cylinder_standing(double diameter, double depth)
{
    return WH_PI / 4 * diameter * diameter * depth;
}
WH_COLUMNS(2, fill_cylinder_standing)

static double fill_cylinder_lying(double diameter, double length, double depth)
{
    double r = diameter / 2;
    return length * (r * r * acos((r - depth) / r) - (r - depth) * sqrt(depth * (diameter - depth)));
}
WH_COLUMNS(3, fill_cylinder_lying)

static const char *lying_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the level lies above the top: depth is measured from the lowest point" : NULL;
}

static double fill(double ring, double box, double standing, double lying, double further)
{
    double all = ring + box + standing + lying + further;
    return all > 0 ? all : NAN;
}
WH_COLUMNS(5, fill)

static const char *fill_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] > 0 ? "litres are for shopping, the level is for filling: upright, level, still, 10 min after filling"
                      : "no room under the level was given";
}

static double purchase(double litres)
{
    return 1e-4 * ceil(1.15 * litres / 1e-4 - 1e-9);
}
WH_COLUMNS(1, purchase)

static const char *purchase_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "litres are for shopping, the level is for filling";
}

/* ---- the table ------------------------------------------------------------------------------------------------- */

#define NU(name, symbol, title) {name, symbol, "0.5..20000 mm2/s", NULL, title}
#define TEMPERATURE(name, symbol, title) {name, symbol, "-60..250 degC", NULL, title}
#define LITRES(name, symbol, title) {name, symbol, "l", NULL, title}
#define ROOM(name, symbol, title) {name, symbol, "0..1000 l", "0 l", title}

static const struct wh_rule rules[] = {
    {.name = "lubricant.grade-middle", .formula = "ISO 3448, table 1", .source = "ISO 3448, table 1",
     .in = {{"oil-grade", "g", "oil-grade", NULL, "oil grade"}},
     .out = {{"grade-middle", "nu", "mm2/s", NULL, "viscosity at 40 degC in the middle of the grade"}},
     WH_WORK(1, grade_middle)},
    {.name = "lubricant.grade-least", .formula = "0.9 and 1.1 times the middle of the grade",
     .source = "ISO 3448, table 1", .in = {{"oil-grade", "g", "oil-grade", NULL, "oil grade"}},
     .out = {{"grade-least", "nu1", "mm2/s", NULL, "least viscosity at 40 degC of the grade"},
             {"grade-most", "nu2", "mm2/s", NULL, "greatest viscosity at 40 degC of the grade"}},
     WH_WORK(1, grade_least)},
    {.name = "lubricant.grade-of", .formula = "the grade whose limits hold the viscosity",
     .source = "ISO 3448, table 1", .in = {NU("at-40", "nu", "viscosity measured at 40 degC")},
     .out = {{"grade-of", "g", "oil-grade", NULL, "grade it belongs to"}},
     WH_WORK(1, grade_of), .remark = grade_remark},

    {.name = "lubricant.viscosity",
     .formula = "v1 = 10^6 nu40; z1 = v1 + 0.7 + exp(-1.47 - 1.84 v1 - 0.51 v1^2); "
                "v2 = 10^6 nu100; z2 = v2 + 0.7 + exp(-1.47 - 1.84 v2 - 0.51 v2^2); "
                "B = (lg(lg(z1)) - lg(lg(z2))) / lg(373.15/313.15); y = 10^(10^(lg(lg(z1)) - B lg(T/313.15))) - 0.7; "
                "nu = 10^-6 (y - exp(-0.7487 - 3.295 y + 0.6119 y^2 - 0.3193 y^3))",
     .source = "ASTM D341, eq. (1) to (3), after Walther",
     .in = {NU("at-40", "nu40", "viscosity at 40 degC"), NU("at-100", "nu100", "viscosity at 100 degC"),
            TEMPERATURE("temperature", "T", "temperature of the oil")},
     .out = {{"viscosity", "nu", "mm2/s", NULL, "viscosity at that temperature"}},
     WH_WORK(3, viscosity), .remark = two_point_remark},
    {.name = "lubricant.viscosity-between",
     .formula = "v1 = 10^6 nu1; z1 = v1 + 0.7 + exp(-1.47 - 1.84 v1 - 0.51 v1^2); "
                "v2 = 10^6 nu2; z2 = v2 + 0.7 + exp(-1.47 - 1.84 v2 - 0.51 v2^2); "
                "B = (lg(lg(z1)) - lg(lg(z2))) / lg(T2/T1); y = 10^(10^(lg(lg(z1)) - B lg(T/T1))) - 0.7; "
                "nu = 10^-6 (y - exp(-0.7487 - 3.295 y + 0.6119 y^2 - 0.3193 y^3))",
     .source = "ASTM D341, eq. (1) to (3), after Walther",
     .in = {NU("first-viscosity", "nu1", "viscosity at the first temperature"),
            TEMPERATURE("first-temperature", "T1", "first temperature"),
            NU("second-viscosity", "nu2", "viscosity at the second temperature"),
            TEMPERATURE("second-temperature", "T2", "second temperature"),
            TEMPERATURE("temperature", "T", "temperature of the oil")},
     .out = {{"viscosity-between", "nu", "mm2/s", NULL, "viscosity at that temperature"}},
     WH_WORK(5, viscosity_between), .remark = between_remark},
    {.name = "lubricant.walther-a",
     .formula = "v1 = 10^6 nu1; z1 = v1 + 0.7 + exp(-1.47 - 1.84 v1 - 0.51 v1^2); "
                "v2 = 10^6 nu2; z2 = v2 + 0.7 + exp(-1.47 - 1.84 v2 - 0.51 v2^2); "
                "B = (lg(lg(z1)) - lg(lg(z2))) / lg(T2/T1); A = lg(lg(z1)) + B lg(T1)",
     .source = "ASTM D341, eq. (1) and (2), after Walther",
     .in = {NU("first-viscosity", "nu1", "viscosity at the first temperature"),
            TEMPERATURE("first-temperature", "T1", "first temperature"),
            NU("second-viscosity", "nu2", "viscosity at the second temperature"),
            TEMPERATURE("second-temperature", "T2", "second temperature")},
     .out = {{"walther-a", "A", "1", NULL, "constant A of the oil's line"},
             {"walther-b", "B", "1", NULL, "slope B of the oil's line"}},
     WH_WORK(4, walther_a), .remark = between_remark},
    {.name = "lubricant.viscosity-on-line",
     .formula = "y = 10^(10^(A - B lg(T))) - 0.7; nu = 10^-6 (y - exp(-0.7487 - 3.295 y + 0.6119 y^2 - 0.3193 y^3))",
     .source = "ASTM D341, eq. (1) and (3), after Walther",
     .in = {{"walther-a", "A", "5..15 1", NULL, "constant A of the oil's line"},
            {"walther-b", "B", "1..6 1", NULL, "slope B of the oil's line"},
            TEMPERATURE("temperature", "T", "temperature of the oil")},
     .out = {{"viscosity-on-line", "nu", "mm2/s", NULL, "viscosity at that temperature"}},
     WH_WORK(3, viscosity_on_line), .remark = line_remark},
    {.name = "lubricant.temperature-for",
     .formula = "v1 = 10^6 nu40; w1 = lg(lg(v1 + 0.7 + exp(-1.47 - 1.84 v1 - 0.51 v1^2))); "
                "v2 = 10^6 nu100; w2 = lg(lg(v2 + 0.7 + exp(-1.47 - 1.84 v2 - 0.51 v2^2))); "
                "v = 10^6 nu; w = lg(lg(v + 0.7 + exp(-1.47 - 1.84 v - 0.51 v^2))); "
                "T = 313.15 (373.15/313.15)^((w1 - w) / (w1 - w2))",
     .source = "ASTM D341, eq. (1) and (2), after Walther, turned round",
     .in = {NU("at-40", "nu40", "viscosity at 40 degC"), NU("at-100", "nu100", "viscosity at 100 degC"),
            NU("viscosity", "nu", "viscosity wanted")},
     .out = {{"temperature-for", "T", "degC", NULL, "temperature at which the oil has it"}},
     WH_WORK(3, temperature_for), .remark = two_point_remark},

    {.name = "lubricant.viscosity-index",
     .formula = "L and H from table 1; up to 100 the share of L - U in L - H, above it by the exponent N",
     .source = "ASTM D2270, 5.1.3 and 6.1.3",
     .in = {NU("at-40", "U", "viscosity at 40 degC"), {"at-100", "Y", "2..1000 mm2/s", NULL, "viscosity at 100 degC"}},
     .out = {{"viscosity-index", "VI", "1", NULL, "viscosity index, not rounded"}},
     WH_WORK(2, viscosity_index), .remark = two_point_remark},
    {.name = "lubricant.reference-l", .formula = "ASTM D2270, table 1; above 70 mm2/s its two parabolas",
     .source = "ASTM D2270, table 1", .in = {{"at-100", "Y", "2..1000 mm2/s", NULL, "viscosity at 100 degC"}},
     .out = {{"reference-l", "L", "mm2/s", NULL, "at 40 degC, reference oil of index 0"},
             {"reference-h", "H", "mm2/s", NULL, "at 40 degC, reference oil of index 100"}},
     WH_WORK(1, reference_l)},
    {.name = "lubricant.index-exponent", .formula = "N = (lg(H) - lg(U)) / lg(10^6 Y)", .source = "ASTM D2270, 6.1.3",
     .in = {NU("at-40", "U", "viscosity at 40 degC"), {"at-100", "Y", "2..1000 mm2/s", NULL, "viscosity at 100 degC"},
            {"reference-h", "H", "2..200000 mm2/s", NULL, "at 40 degC, reference oil of index 100"}},
     .out = {{"index-exponent", "N", "1", NULL, "exponent of the second procedure"}}, WH_WORK(3, index_exponent)},
    {.name = "lubricant.at-100-of-index", .formula = "ASTM D2270 turned round by halving the interval",
     .source = "ASTM D2270, 5.1.3 and 6.1.3",
     .in = {NU("at-40", "U", "viscosity at 40 degC"),
            {"viscosity-index", "VI", "0..400 1", "95", "viscosity index"}},
     .out = {{"at-100-of-index", "Y", "mm2/s", NULL, "viscosity at 100 degC"}},
     WH_WORK(2, at_100_of_index), .remark = grade_viscosity_remark},
    {.name = "lubricant.viscosity-of-grade",
     .formula = "middle of the grade (ISO 3448), viscosity at 100 degC from the index (ASTM D2270), then ASTM D341",
     .source = "ISO 3448, ASTM D2270, ASTM D341; index 95 is common practice for mineral oil",
     .in = {{"oil-grade", "g", "oil-grade", NULL, "oil grade"},
            {"viscosity-index", "VI", "0..400 1", "95", "viscosity index"},
            TEMPERATURE("temperature", "T", "temperature of the oil")},
     .out = {{"viscosity-of-grade", "nu", "mm2/s", NULL, "viscosity at that temperature"}},
     WH_WORK(3, viscosity_of_grade), .remark = grade_viscosity_remark},

    {.name = "lubricant.viscosity-ratio", .formula = "kappa = nu / nu1", .source = "ISO 281:2007; clause not looked up",
     .in = {{"viscosity", "nu", "0.1..100000 mm2/s", NULL, "viscosity at the running temperature"},
            {"needed-viscosity", "nu1", "0.1..100000 mm2/s", NULL, "viscosity needed"}},
     .out = {{"viscosity-ratio", "kappa", "1", NULL, "viscosity ratio"}},
     WH_WORK(2, viscosity_ratio), .remark = ratio_remark},

    {.name = "lubricant.oil-life-factor", .formula = "f = 2^((T0 - T)/10)",
     .source = "Fitch, Practicing Oil Analysis: rule of thumb, each 10 K halves the oil's life",
     .in = {TEMPERATURE("temperature", "T", "temperature of the oil"),
            {"reference-temperature", "T0", "0..200 degC", "70 degC", "temperature the life is stated for"}},
     .out = {{"oil-life-factor", "f", "1", NULL, "share of the stated life"}}, WH_WORK(2, oil_life_factor)},
    {.name = "lubricant.blend-viscosity",
     .formula = "w = x lg(lg(10^6 nu1 + 0.7)) + (1 - x) lg(lg(10^6 nu2 + 0.7)); nu = 10^-6 (10^(10^w) - 0.7)",
     .source = "ASTM D7152, from memory",
     .in = {NU("first-viscosity", "nu1", "viscosity of the first oil"),
            NU("second-viscosity", "nu2", "viscosity of the second oil, at the same temperature"),
            {"share", "x", "0..1 1", NULL, "share of the first oil by volume"}},
     .out = {{"blend-viscosity", "nu", "mm2/s", NULL, "viscosity of the mixture"}},
     WH_WORK(3, blend_viscosity), .remark = blend_remark},
    {.name = "lubricant.blend-number", .formula = "V = 14.534 ln(ln(10^6 nu + 0.8)) + 10.975",
     .source = "Maples, Petroleum Refinery Process Economics, 2nd ed., 2000",
     .in = {NU("viscosity", "nu", "viscosity")},
     .out = {{"blend-number", "V", "1", NULL, "blending number, averaged by mass"}}, WH_WORK(1, blend_number)},

    {.name = "lubricant.fill-ring", .formula = "V = pi/4 (D^2 - d^2) h", .source = "geometry",
     .in = {{"outer", "D", "5..5000 mm", NULL, "inside diameter of the pot"},
            {"inner", "d", "0..5000 mm", NULL, "diameter of the boss in it"},
            {"depth", "h", "0..5000 mm", NULL, "depth from floor to level"}},
     .out = {LITRES("fill-ring", "V", "oil in the ring-shaped pot")}, WH_WORK(3, fill_ring), .remark = ring_remark},
    {.name = "lubricant.ring-depth", .formula = "h = 4 V / (pi (D^2 - d^2))", .source = "geometry",
     .in = {{"outer", "D", "5..5000 mm", NULL, "inside diameter of the pot"},
            {"inner", "d", "0..5000 mm", NULL, "diameter of the boss in it"},
            {"fill", "V", "0..1000 l", NULL, "oil put in"}},
     .out = {{"ring-depth", "h", "mm", NULL, "depth it stands"}}, WH_WORK(3, ring_depth), .remark = ring_remark},
    {.name = "lubricant.fill-box", .formula = "V = (a b - A) h", .source = "geometry",
     .in = {{"length", "a", "5..5000 mm", NULL, "length inside"}, {"width", "b", "5..5000 mm", NULL, "width inside"},
            {"depth", "h", "0..5000 mm", NULL, "depth from floor to level"},
            {"displaced", "A", "0.. mm2", "0 mm2", "floor area of what stands in it: shaft, posts, ribs"}},
     .out = {LITRES("fill-box", "V", "oil in the box-shaped sump")}, WH_WORK(4, fill_box), .remark = box_remark},
    {.name = "lubricant.fill-cylinder-standing", .formula = "V = pi/4 D^2 h", .source = "geometry",
     .in = {{"diameter", "D", "5..5000 mm", NULL, "inside diameter"},
            {"depth", "h", "0..5000 mm", NULL, "depth from floor to level"}},
     .out = {LITRES("fill-cylinder-standing", "V", "oil in the standing cylinder")},
     WH_WORK(2, fill_cylinder_standing)},
    {.name = "lubricant.fill-cylinder-lying",
     .formula = "V = L (D^2/4 acos((D/2 - h) / (D/2)) - (D/2 - h) sqrt(h (D - h)))", .source = "geometry",
     .in = {{"diameter", "D", "5..5000 mm", NULL, "inside diameter"}, {"length", "L", "5..10000 mm", NULL, "length"},
            {"depth", "h", "0..5000 mm", NULL, "depth of oil over the lowest point"}},
     .out = {LITRES("fill-cylinder-lying", "V", "oil in the lying cylinder")},
     WH_WORK(3, fill_cylinder_lying), .remark = lying_remark},
    {.name = "lubricant.fill", .formula = "V = V1 + V2 + V3 + V4 + V5", .source = "geometry",
     .in = {ROOM("fill-ring", "V1", "in a ring-shaped pot"), ROOM("fill-box", "V2", "in a box"),
            ROOM("fill-cylinder-standing", "V3", "in a standing cylinder"),
            ROOM("fill-cylinder-lying", "V4", "in a lying cylinder"),
            ROOM("fill-further", "V5", "further room under the level: bores, under a sleeve")},
     .out = {LITRES("fill", "V", "oil up to the level")}, WH_WORK(5, fill), .remark = fill_remark},
    {.name = "lubricant.purchase", .formula = "next tenth of a litre above 1.15 times the fill",
     .source = "common practice: a seventh more for spilling, wetting and the next top-up",
     .in = {{"fill", "V", "0..1000 l", NULL, "oil up to the level"}},
     .out = {LITRES("purchase", "V1", "oil to buy")}, WH_WORK(1, purchase), .remark = purchase_remark},
};

static const struct wh_vocabulary vocabularies[] = {
    {"oil-grade", "viscosity grade of ISO 3448", "ISO VG 68", grade_read, grade_print, grade_list},
};

const struct wh_subject wh_lubricant = {.name = "lubricant", .title = "Oil and grease",
                                        .rules = rules, .rule_count = sizeof rules / sizeof rules[0],
                                        .vocabularies = vocabularies,
                                        .vocabulary_count = sizeof vocabularies / sizeof vocabularies[0]};
