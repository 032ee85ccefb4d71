/* shaft.c - shafts on two bearings: reactions, bending, critical speeds of the plain cases, lining up two shafts. */
#include "trade/rule.h"

#include <math.h>

/* ---- sections -------------------------------------------------------------------------------------------------- */

static double second_moment(double diameter, double bore)
{
    return bore < diameter ? WH_PI / 64 * (pow(diameter, 4) - pow(bore, 4)) : NAN;
}
WH_COLUMNS(2, second_moment)

static double second_moment_rectangle(double width, double height)
{
    return width * pow(height, 3) / 12;
}
WH_COLUMNS(2, second_moment_rectangle)

static const char *section_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the bore is as large as the shaft" : NULL;
}

/* ---- load on an overhanging end -------------------------------------------------------------------------------- */

static void reaction_far(const double in[], double out[])
{
    double load = in[0], overhang = in[1], span = in[2];
    out[0] = -load * overhang / span;
    out[1] = load * (span + overhang) / span;
}
WH_MANY(3, 2, reaction_far)

static double overhang_deflection(double load, double overhang, double span, double I, double E)
{
    return -load * overhang * overhang * (span + overhang) / (3 * E * I);
}
WH_COLUMNS(5, overhang_deflection)

static void overhang_slope(const double in[], double out[])
{
    double load = in[0], overhang = in[1], span = in[2], stiffness = in[3] * in[4];
    out[0] = load * overhang * span / (6 * stiffness);
    out[1] = -load * overhang * span / (3 * stiffness);
    out[2] = -load * overhang * (2 * span + 3 * overhang) / (6 * stiffness);
}
WH_MANY(5, 3, overhang_slope)

static double overhang_bow(double load, double overhang, double span, double I, double E)
{
    return load * overhang * span * span / (9 * sqrt(3) * E * I);
}
WH_COLUMNS(5, overhang_bow)

static double twin_overhang_deflection(double load, double overhang, double span, double I, double E)
{
    return -load * overhang * overhang * (2 * overhang + 3 * span) / (6 * E * I);
}
WH_COLUMNS(5, twin_overhang_deflection)

/* ---- load between the bearings --------------------------------------------------------------------------------- */

static void span_reaction(const double in[], double out[])
{
    double load = in[0], at = in[1], span = in[2];
    out[0] = at <= span ? load * (span - at) / span : NAN;
    out[1] = load * at / span;
}
WH_MANY(3, 2, span_reaction)

static void span_slope(const double in[], double out[])
{
    double load = in[0], a = in[1], l = in[2], b = l - a, stiffness = in[3] * in[4];
    out[0] = b >= 0 ? -load * b * (l * l - b * b) / (6 * stiffness * l) : NAN;
    out[1] = load * a * (l * l - a * a) / (6 * stiffness * l);
}
WH_MANY(5, 2, span_slope)

/* Deflection at x of a load at a; past the load the shaft is looked at from its other end. */
static double span_deflection(double load, double a, double x, double l, double I, double E)
{
    if (a > l || x > l) return NAN;
    if (x > a) {
        a = l - a;
        x = l - x;
    }
    double b = l - a;
    return -load * b * x * (l * l - b * b - x * x) / (6 * E * I * l);
}
WH_COLUMNS(6, span_deflection)

static double midspan_moment(double load, double span)
{
    return load * span / 4;
}
WH_COLUMNS(2, midspan_moment)

static const char *span_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the place lies beyond the bearing: that is an overhang" : NULL;
}

static double torque(double power, double speed)
{
    return power / speed;
}
WH_COLUMNS(2, torque)

static double power(double torque, double speed)
{
    return torque * speed;
}
WH_COLUMNS(2, power)

/* ---- critical speeds of the plain cases ------------------------------------------------------------------------ */

static const double g = 9.80665;

static double critical_from_sag(double sag)
{
    return sqrt(g / sag);
}
WH_COLUMNS(1, critical_from_sag)

static double critical_disc(double mass, double a, double span, double I, double E)
{
    double b = span - a;
    return b > 0 ? sqrt(3 * E * I * span / (mass * a * a * b * b)) : NAN;
}
WH_COLUMNS(5, critical_disc)

static double critical_cantilever(double mass, double length, double I, double E)
{
    return sqrt(3 * E * I / (mass * pow(length, 3)));
}
WH_COLUMNS(4, critical_cantilever)

static double critical_bare(double span, double diameter, double E, double density, double order)
{
    return pow(order * WH_PI / span, 2) * diameter / 4 * sqrt(E / density);
}
WH_COLUMNS(5, critical_bare)

static double dunkerley(double first, double second)
{
    return 1 / sqrt(1 / (first * first) + 1 / (second * second));
}
WH_COLUMNS(2, dunkerley)

/* Two masses on a shaft without mass: the lower root of w^4 D - w^2 T + 1 = 0. */
static void critical_two(const double in[], double out[])
{
    double a11 = in[0], a22 = in[1], a12 = in[2], m1 = in[3], m2 = in[4];
    double trace = a11 * m1 + a22 * m2, determinant = m1 * m2 * (a11 * a22 - a12 * a12);
    double root = sqrt(trace * trace - 4 * determinant);
    out[0] = sqrt(2 / (trace + root));
    out[1] = determinant > 0 ? sqrt((trace + root) / (2 * determinant)) : NAN;
}
WH_MANY(5, 2, critical_two)

static const char *two_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[1]) ? "the cross figure is as large as the others: the two masses stand at one place" : NULL;
}

static void sag_two(const double in[], double out[])
{
    double a11 = in[0], a22 = in[1], a12 = in[2], first = in[3], second = in[4];
    out[0] = a11 * first + a12 * second;
    out[1] = a12 * first + a22 * second;
}
WH_MANY(5, 2, sag_two)

static double rayleigh(double w1, double y1, double w2, double y2)
{
    return sqrt(g * (w1 * y1 + w2 * y2) / (w1 * y1 * y1 + w2 * y2 * y2));
}
WH_COLUMNS(4, rayleigh)

/* A load midway that bends as much there as this one bends at its own place. */
static double midspan_equivalent(double load, double at, double span)
{
    double b = span - at;
    return b >= 0 ? 16 * load * at * at * b * b / pow(span, 4) : NAN;
}
WH_COLUMNS(3, midspan_equivalent)

static double whirl_phase(double ratio, double damping)
{
    return atan2(2 * damping * ratio, 1 - ratio * ratio);
}
WH_COLUMNS(2, whirl_phase)

static double whirl(double eccentricity, double ratio, double damping)
{
    double r2 = ratio * ratio, resistance = hypot(1 - r2, 2 * damping * ratio);
    return resistance > 0 ? eccentricity * r2 / resistance : NAN;
}
WH_COLUMNS(3, whirl)

static double whirl_peak(double eccentricity, double damping)
{
    return eccentricity / (2 * damping * sqrt(1 - damping * damping));
}
WH_COLUMNS(2, whirl_peak)

static const char *whirl_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "at the critical speed without damping it grows without end" : NULL;
}

/* ---- lining up two shafts -------------------------------------------------------------------------------------- */

static double soft_foot_shim(double rise, double others)
{
    return rise - others;
}
WH_COLUMNS(2, soft_foot_shim)

static double feet_move(double far, double near, double apart, double foot)
{
    return (far - near) / apart * foot - near;
}
WH_COLUMNS(4, feet_move)

static void bottom_freed(const double in[], double out[])
{
    out[0] = in[0] + 2 * in[2];
    out[1] = in[1] + in[2];
    out[2] = out[0] / 2;
}
WH_MANY(3, 3, bottom_freed)

static double rim_face_move(double face, double rim, double diameter, double foot)
{
    return face * foot / diameter - rim / 2;
}
WH_COLUMNS(4, rim_face_move)

static const char *align_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "signs are the example's: try a small move and see that the reading follows before shimming the rest";
}

/* ---- the table ------------------------------------------------------------------------------------------------- */

#define LOAD {"load", "F", "-1000000..1000000 N", NULL, "load across the shaft"}
#define OVERHANG {"overhang", "a", "1..10000 mm", NULL, "load beyond the near bearing"}
#define SPAN {"span", "l", "5..20000 mm", NULL, "distance of the bearings"}
#define PLACE {"load-place", "a", "1..20000 mm", NULL, "load from the left bearing"}
#define SECTION {"second-moment", "I", "1..1000000000000 mm4", NULL, "second moment of area"}
#define MODULUS {"modulus", "E", "1..1000 GPa", "210 GPa", "modulus of elasticity; steel 210"}
#define DIAL(name, symbol, title) {name, symbol, "-20..20 mm", NULL, title}
#define TABLE_A9 "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., table A-9"

static const struct wh_rule rules[] = {
    {.name = "shaft.second-moment", .formula = "I = pi/64 (d^4 - b^4)", .source = "geometry",
     .in = {{"diameter", "d", "1..2000 mm", NULL, "diameter"}, {"bore", "b", "0..2000 mm", "0 mm", "bore through it"}},
     .out = {{"second-moment", "I", "mm4", NULL, "second moment of area"}},
     WH_WORK(2, second_moment), .remark = section_remark},
    {.name = "shaft.second-moment-rectangle", .formula = "I = b h^3 / 12", .source = "geometry",
     .in = {{"width", "b", "0.1..2000 mm", NULL, "width across the load"},
            {"height", "h", "0.1..2000 mm", NULL, "height along the load"}},
     .out = {{"second-moment-rectangle", "I", "mm4", NULL, "second moment of area"}},
     WH_WORK(2, second_moment_rectangle)},
    {.name = "shaft.reaction-far", .formula = "R = -F a / l; Q = F (l + a) / l", .source = TABLE_A9 "-10",
     .in = {LOAD, OVERHANG, SPAN},
     .out = {{"reaction-far", "R", "N", NULL, "at the far bearing"},
             {"reaction-near", "Q", "N", NULL, "at the bearing beside the overhang"}},
     WH_WORK(3, reaction_far)},
    {.name = "shaft.overhang-deflection", .formula = "y = -F a^2 (l + a) / (3 E I)", .source = TABLE_A9 "-10",
     .in = {LOAD, OVERHANG, SPAN, SECTION, MODULUS},
     .out = {{"overhang-deflection", "y", "mm", NULL, "deflection under the load, with the load negative"}},
     WH_WORK(5, overhang_deflection)},
    {.name = "shaft.overhang-slope",
     .formula = "p = F a l / (6 E I); q = -F a l / (3 E I); r = -F a (2 l + 3 a) / (6 E I)",
     .source = TABLE_A9 "-10, differentiated", .in = {LOAD, OVERHANG, SPAN, SECTION, MODULUS},
     .out = {{"overhang-slope", "p", "mrad", NULL, "slope at the far bearing"},
             {"slope-near", "q", "mrad", NULL, "slope at the bearing beside the overhang"},
             {"slope-load", "r", "mrad", NULL, "slope under the load"}},
     WH_WORK(5, overhang_slope)},
    {.name = "shaft.overhang-bow", .formula = "y = F a l^2 / (9 sqrt(3) E I)", .source = TABLE_A9 "-10, its greatest",
     .in = {LOAD, OVERHANG, SPAN, SECTION, MODULUS},
     .out = {{"overhang-bow", "y", "mm", NULL, "most it bows between the bearings, against the load"}},
     WH_WORK(5, overhang_bow)},
    {.name = "shaft.twin-overhang-deflection", .formula = "y = -F a^2 (2 a + 3 l) / (6 E I)",
     .source = TABLE_A9 "-10, two loads added", .in = {LOAD, OVERHANG, SPAN, SECTION, MODULUS},
     .out = {{"twin-overhang-deflection", "y", "mm", NULL, "deflection of each end, both loaded alike"}},
     WH_WORK(5, twin_overhang_deflection)},
    {.name = "shaft.span-reaction", .formula = "R = F (l - a) / l; Q = F a / l", .source = TABLE_A9 "-6, from memory",
     .in = {LOAD, PLACE, SPAN},
     .out = {{"span-reaction", "R", "N", NULL, "at the left bearing"},
             {"span-reaction-right", "Q", "N", NULL, "at the right bearing"}},
     WH_WORK(3, span_reaction), .remark = span_remark},
    {.name = "shaft.span-slope",
     .formula = "p = -F (l - a) (l^2 - (l - a)^2) / (6 E I l); q = F a (l^2 - a^2) / (6 E I l)",
     .source = TABLE_A9 "-6, differentiated, from memory", .in = {LOAD, PLACE, SPAN, SECTION, MODULUS},
     .out = {{"span-slope", "p", "mrad", NULL, "slope at the left bearing"},
             {"span-slope-right", "q", "mrad", NULL, "slope at the right bearing"}},
     WH_WORK(5, span_slope), .remark = span_remark},
    {.name = "shaft.span-deflection",
     .formula = "b = if(x > a, a, l - a); u = if(x > a, l - x, x); y = -F b u (l^2 - b^2 - u^2) / (6 E I l)",
     .source = TABLE_A9 "-6, from memory",
     .in = {LOAD, PLACE, {"place", "x", "0..20000 mm", NULL, "place asked about, from the left bearing"}, SPAN, SECTION,
            MODULUS},
     .out = {{"span-deflection", "y", "mm", NULL, "deflection there, with the load negative"}},
     WH_WORK(6, span_deflection), .remark = span_remark},
    {.name = "shaft.midspan-moment", .formula = "M = F l / 4", .source = TABLE_A9 "-5, from memory", .in = {LOAD, SPAN},
     .out = {{"midspan-moment", "M", "N m", NULL, "largest bending moment, load midway"}}, WH_WORK(2, midspan_moment)},
    {.name = "shaft.torque", .formula = "T = P / n", .source = "mechanics",
     .in = {{"power", "P", "0..10000 kW", NULL, "power"}, {"speed", "n", "1..200000 rpm", NULL, "speed"}},
     .out = {{"torque", "T", "N m", NULL, "torque"}}, WH_WORK(2, torque)},

    {.name = "shaft.power", .formula = "P = T n", .source = "mechanics",
     .in = {{"torque", "T", "0..1000000 N m", NULL, "torque"}, {"speed", "n", "1..200000 rpm", NULL, "speed"}},
     .out = {{"power", "P", "kW", NULL, "power"}}, WH_WORK(2, power)},

    {.name = "shaft.critical-from-sag", .formula = "n = sqrt(9.80665 / y)", .source = "mass on a spring",
     .in = {{"sag", "y", "0.0001..100 mm", NULL, "sag of the shaft under the weight of its disc"}},
     .out = {{"critical-from-sag", "n", "rpm", NULL, "first critical speed"}}, WH_WORK(1, critical_from_sag)},
    {.name = "shaft.critical-disc", .formula = "n = sqrt(3 E I l / (m a^2 (l - a)^2))",
     .source = TABLE_A9 "-6; shaft without mass, disc not tilting, from memory",
     .in = {{"mass", "m", "0.001..100000 kg", NULL, "mass of the disc"}, PLACE, SPAN, SECTION, MODULUS},
     .out = {{"critical-disc", "n", "rpm", NULL, "first critical speed"}},
     WH_WORK(5, critical_disc), .remark = span_remark},
    {.name = "shaft.critical-cantilever", .formula = "n = sqrt(3 E I / (m l^3))",
     .source = TABLE_A9 "-1; shaft without mass, disc not tilting, from memory",
     .in = {{"mass", "m", "0.001..100000 kg", NULL, "mass of the disc"},
            {"length", "l", "5..10000 mm", NULL, "free length"}, SECTION, MODULUS},
     .out = {{"critical-cantilever", "n", "rpm", NULL, "first critical speed"}}, WH_WORK(4, critical_cantilever)},
    {.name = "shaft.critical-bare", .formula = "n = (k pi/l)^2 d/4 sqrt(E/r)",
     .source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., ch. 7, from memory",
     .in = {SPAN, {"diameter", "d", "1..2000 mm", NULL, "diameter"}, MODULUS,
            {"density", "r", "500..25000 kg/m3", "7850 kg/m3", "density; steel 7850"},
            {"order", "k", "1..10 1", "1", "1 for the first, 2 for the second"}},
     .out = {{"critical-bare", "n", "rpm", NULL, "critical speed of the shaft alone"}}, WH_WORK(5, critical_bare)},
    {.name = "shaft.dunkerley", .formula = "n = 1 / sqrt(1/a^2 + 1/b^2)", .source = "Dunkerley's sum: a little low",
     .in = {{"first-critical", "a", "1..1000000 rpm", NULL, "critical speed with the first mass alone"},
            {"second-critical", "b", "1..1000000 rpm", NULL, "critical speed with the second mass alone"}},
     .out = {{"dunkerley", "n", "rpm", NULL, "first critical speed with both"}}, WH_WORK(2, dunkerley)},
    {.name = "shaft.critical-two",
     .formula = "T = a m + b k; D = m k (a b - c^2); n = sqrt(2 / (T + sqrt(T^2 - 4 D))); "
                "p = sqrt((T + sqrt(T^2 - 4 D)) / (2 D))",
     .source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., ch. 7, from memory",
     .in = {{"give-first", "a", "0.000000000001..1 m/N", NULL, "deflection at the first mass for a load there"},
            {"give-second", "b", "0.000000000001..1 m/N", NULL, "deflection at the second mass for a load there"},
            {"give-across", "c", "0..1 m/N", NULL, "deflection at one for a load at the other"},
            {"first-mass", "m", "0.001..100000 kg", NULL, "first mass"},
            {"second-mass", "k", "0.001..100000 kg", NULL, "second mass"}},
     .out = {{"critical-two", "n", "rpm", NULL, "first critical speed"},
             {"critical-two-second", "p", "rpm", NULL, "second critical speed"}},
     WH_WORK(5, critical_two), .remark = two_remark},
    {.name = "shaft.sag-two", .formula = "y = a W + c w; z = c W + b w",
     .source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., ch. 7, from memory",
     .in = {{"give-first", "a", "0.000000000001..1 m/N", NULL, "deflection at the first load for a load there"},
            {"give-second", "b", "0.000000000001..1 m/N", NULL, "deflection at the second load for a load there"},
            {"give-across", "c", "0..1 m/N", NULL, "deflection at one for a load at the other"},
            {"first-load", "W", "0..1000000 N", NULL, "first load"},
            {"second-load", "w", "0..1000000 N", NULL, "second load"}},
     .out = {{"sag-two", "y", "mm", NULL, "sag at the first"},
             {"sag-two-second", "z", "mm", NULL, "sag at the second"}},
     WH_WORK(5, sag_two)},
    {.name = "shaft.rayleigh", .formula = "n = sqrt(9.80665 (W y + w z) / (W y^2 + w z^2))",
     .source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., ch. 7, from memory: a little high",
     .in = {{"first-load", "W", "0.01..1000000 N", NULL, "weight of the first mass"},
            {"first-sag", "y", "0.0001..100 mm", NULL, "sag there under both"},
            {"second-load", "w", "0.01..1000000 N", NULL, "weight of the second mass"},
            {"second-sag", "z", "0.0001..100 mm", NULL, "sag there under both"}},
     .out = {{"rayleigh", "n", "rpm", NULL, "first critical speed"}}, WH_WORK(4, rayleigh)},
    {.name = "shaft.midspan-equivalent", .formula = "W = 16 F a^2 (l - a)^2 / l^4",
     .source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., example 7-5",
     .in = {LOAD, PLACE, SPAN},
     .out = {{"midspan-equivalent", "W", "N", NULL, "load midway with the same effect on the critical speed"}},
     WH_WORK(3, midspan_equivalent), .remark = span_remark},
    {.name = "shaft.whirl-phase", .formula = "p = atan2(2 z r, 1 - r^2)",
     .source = "disc midway on a light shaft (Jeffcott)",
     .in = {{"speed-ratio", "r", "0..20 1", NULL, "speed over critical speed"},
            {"damping", "z", "0.0001..2 1", NULL, "damping ratio"}},
     .out = {{"whirl-phase", "p", "deg", NULL, "how far the bow lags behind the heavy side"}}, WH_WORK(2, whirl_phase)},
    {.name = "shaft.whirl", .formula = "A = e r^2 / sqrt((1 - r^2)^2 + (2 z r)^2)",
     .source = "disc midway on a light shaft (Jeffcott)",
     .in = {{"eccentricity", "e", "0..100 mm", NULL, "mass centre off the shaft's centre"},
            {"speed-ratio", "r", "0..20 1", NULL, "speed over critical speed"},
            {"damping", "z", "0..2 1", "0", "damping ratio"}},
     .out = {{"whirl", "A", "mm", NULL, "how far the shaft bows out"}}, WH_WORK(3, whirl), .remark = whirl_remark},
    {.name = "shaft.whirl-peak", .formula = "A = e / (2 z sqrt(1 - z^2))",
     .source = "disc midway on a light shaft (Jeffcott)",
     .in = {{"eccentricity", "e", "0..100 mm", NULL, "mass centre off the shaft's centre"},
            {"damping", "z", "0.0001..0.7 1", NULL, "damping ratio"}},
     .out = {{"whirl-peak", "A", "mm", NULL, "most it bows out on the way up, run up slowly"}}, WH_WORK(2, whirl_peak)},

    {.name = "shaft.soft-foot-shim", .formula = "s = r - o",
     .source = "US Bureau of Reclamation, FIST vol. 2-1, Alignment of Vertical Shaft Hydrounits, rev. 2000, sec. 5.1",
     .in = {DIAL("rise", "r", "rise of the odd foot when its screw is slackened"),
            DIAL("others", "o", "rise of the others")},
     .out = {{"soft-foot-shim", "s", "mm", NULL, "shim under that foot"}}, WH_WORK(2, soft_foot_shim)},
    {.name = "shaft.feet-move", .formula = "m = (s - a) x/d - a",
     .source = "Bloch & Geitner, Machinery Component Maintenance and Repair, reverse-indicator example, p. 203",
     .in = {DIAL("offset-far", "s", "offset in the plane on the standing shaft"),
            DIAL("offset-near", "a", "offset in the plane on the shaft that is moved"),
            {"planes-apart", "d", "10..5000 mm", NULL, "distance of the two planes"},
            {"foot-distance", "x", "1..10000 mm", NULL, "from the near plane to the feet"}},
     .out = {{"feet-move", "m", "mm", NULL, "move at those feet"}}, WH_WORK(4, feet_move), .remark = align_remark},
    {.name = "shaft.bottom-freed", .formula = "B = b + 2 s; S = r + s; o = B/2",
     .source = "pump handbook, sag of the bar: twice at the bottom, once at the side",
     .in = {DIAL("bottom", "b", "reading at the bottom, zero at the top"), DIAL("side", "r", "reading at the side"),
            {"sag", "s", "0..5 mm", NULL, "sag of the bar"}},
     .out = {{"bottom-freed", "B", "mm", NULL, "bottom reading freed of sag"},
             {"side-freed", "S", "mm", NULL, "side reading freed of sag"},
             {"height-offset", "o", "mm", NULL, "offset of the shafts in height"}},
     WH_WORK(3, bottom_freed)},
    {.name = "shaft.rim-face-move", .formula = "m = f x/d - r/2", .source = "rim and face method, common practice",
     .in = {DIAL("face", "f", "face reading at the bottom, zero at the top"),
            DIAL("rim", "r", "rim reading at the bottom, zero at the top"),
            {"face-diameter", "d", "10..2000 mm", NULL, "diameter the face dial runs on"},
            {"foot-distance", "x", "1..10000 mm", NULL, "from the rim dial to the feet"}},
     .out = {{"rim-face-move", "m", "mm", NULL, "move at those feet"}},
     WH_WORK(4, rim_face_move), .remark = align_remark},
};

const struct wh_subject wh_shaft = WH_SUBJECT("shaft", "Shafts: bending, critical speed, lining up", rules);
