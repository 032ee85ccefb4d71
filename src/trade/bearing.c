/* bearing.c - a rolling bearing by its name, and how it is warmed, slid on and greased. */
#include "trade/bearing.h"

#include "trade/fit_slots.h"
#include "trade/iso492.h"
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>
#include <string.h>

/* 20 degC, at which sizes are stated, and some ceilings of warming, in K. */
#define REFERENCE 293.15
#define CEILING_OPEN 383.15
#define CEILING_POLYMER 373.15
#define CEILING_SEALED 353.15
#define CEILING_PRECISION 339.15

static void dimensions(const double in[], double out[])
{
    struct wh_bearing bearing = wh_bearing_of(in[0]);
    out[0] = bearing.bore;
    out[1] = bearing.outside;
    out[2] = bearing.width;
}

static void ratings(const double in[], double out[])
{
    struct wh_bearing bearing = wh_bearing_of(in[0]);
    out[0] = bearing.rating;
    out[1] = bearing.static_rating;
}

static void suffixes(const double in[], double out[])
{
    struct wh_bearing bearing = wh_bearing_of(in[0]);
    out[0] = bearing.group;
    out[1] = bearing.tolerance_class;
    out[2] = bearing.sealing;
    out[3] = bearing.cage;
}

static const char *suffixes_remark(const double in[], const double out[])
{
    (void)out;
    return wh_bearing_of(in[0]).tapered ? "tapered bore: it goes on a taper or a sleeve, and loses its play by the push"
                                        : NULL;
}

static const char *ratings_remark(const double in[], const double out[])
{
    (void)out;
    const char *source = wh_bearing_of(in[0]).rating_source;
    if (!source) return "no rating of this bearing in the tables here: take it from its own sheet";
    return strstr(source, "of its day") ? "an older table: today's bearings carry a little more" : NULL;
}

static double mounting_temperature(double delta, double s, double d, double a_r, double T_s, double a_s)
{
    return REFERENCE + (delta + s + d * a_s * (T_s - REFERENCE)) / (a_r * d);
}

static const char *mounting_remark(const double in[], const double out[])
{
    return out[0] <= in[4] ? "slides on without warming" : NULL;
}

static double grips_at(double delta, double d, double a_r, double T_s, double a_s)
{
    return mounting_temperature(delta, 0, d, a_r, T_s, a_s);
}

static const char *grips_remark(const double in[], const double out[])
{
    return out[0] <= in[3] ? "does not grip on this seat: it is loose" : NULL;
}

static double warm_clearance(double T, double delta, double d, double a_r, double T_s, double a_s)
{
    return d * (a_r * (T - REFERENCE) - a_s * (T_s - REFERENCE)) - delta;
}

static const char *warm_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] <= 0) return "grips before it is home: warm it more, or stop and look for another way";
    return out[0] < 5e-6 ? "hardly any play: it may seize on the way" : NULL;
}

/* The lowest ceiling of all that hold; what is not known counts as the worst it could be. */
static double ceiling(double cage, double sealing, double grease, double class)
{
    if (class >= WH_CLASS_P5) return CEILING_PRECISION;
    if (sealing > WH_SEALING_OPEN || grease > 0) return CEILING_SEALED;
    return cage >= WH_CAGE_POLYMER ? CEILING_POLYMER : CEILING_OPEN;
}

static const char *ceiling_remark(const double in[], const double out[])
{
    (void)out;
    bool sealed = in[1] > WH_SEALING_OPEN || in[2] > 0;
    if (in[3] >= WH_CLASS_P5) return "precision bearing: an oven or an induction heater with a thermometer on the ring";
    if (in[1] >= WH_SEALING_UNKNOWN || in[2] > 1) return "seals or grease not known: taken as sealed and greased";
    if (sealed) return "seals or grease: never in the oil bath, an oven or an induction heater";
    if (in[0] >= WH_CAGE_UNKNOWN) return "cage not known: taken as polymer";
    if (in[0] >= WH_CAGE_POLYMER) return "polymer cage: not long, the longer the less";
    return "oven or induction heater first; an oil bath only with clean oil, lid and thermometer, no flame";
}

/* What is warmed for is what is needed, as far as the bearing stands it. */
static double warmed_to(double C, double T)
{
    return T > C ? NAN : T;
}

static double heat_margin(double C, double T)
{
    return C - T;
}

static const char *margin_words(double margin)
{
    if (margin < 0)
        return "hotter than the bearing bears, another way: warm it less and press it, cool the shaft, "
               "or a seat at the loose end of its zone";
    return margin < 10 ? "little to spare: a thermometer on the ring itself" : NULL;
}

static const char *margin_remark(const double in[], const double out[])
{
    (void)in;
    return margin_words(out[0]);
}

static const char *warmed_remark(const double in[], const double out[])
{
    (void)out;
    return margin_words(in[0] - in[1]);
}

static double carry_time(double T, double T_g, double T_h, double m, double c, double A, double k)
{
    return T_g > T_h ? log(fmax((T - T_h) / (T_g - T_h), 1)) * m * c / (k * A) : NAN;
}

static const char *carry_remark(const double in[], const double out[])
{
    (void)out;
    if (in[1] <= in[2]) return "still slides when it is as cold as the hall: no haste";
    return in[0] <= in[1] ? "warmed too little: it grips at once" : "in still air, before it touches the shaft";
}

static double seat_time(double T, double T_g, double T_s, double H, double d, double b, double k)
{
    return T_g > T_s ? log(fmax((T - T_s) / (T_g - T_s), 1)) * H / (k * WH_PI * d * b) : NAN;
}

static const char *seat_remark(const double in[], const double out[])
{
    (void)out;
    if (in[1] <= in[2]) return "does not grip on this seat: no haste";
    if (in[0] <= in[1]) return "warmed too little: it grips at once";
    return "one push and don't stop; stopped short: pull it off at once, never hammer";
}

static double inner_heat(double m, double s, double c)
{
    return m * s * c;
}

static double surface(double d, double D, double b)
{
    return D > d ? WH_PI * (D + d) * b + WH_PI / 2 * (D * D - d * d) : NAN;
}

static double mass(double d, double D, double b, double f)
{
    return D > d ? 7850 * f * WH_PI / 4 * (D * D - d * d) * b : NAN;
}

static const char *ring_remark(const double in[], const double out[])
{
    (void)out;
    return in[1] <= in[0] ? "the outside must be larger than the bore" : NULL;
}

static double bore_growth(double d, double a, double dT)
{
    return a * d * dT;
}

static double mean_diameter(double d, double D)
{
    return (d + D) / 2;
}

static double speed_factor(double omega, double dm)
{
    return omega * dm;
}

static double grease_amount(double D, double b)
{
    return 5 * D * b;
}

static double grease_interval(double omega, double d, double K, double v, double T)
{
    double t = 3600 * K * v * (14e6 / (30 * omega / WH_PI * sqrt(1000 * d)) - 4000 * d);
    return t > 0 ? t * pow(2, -fmax(T - 343.15, 0) / 15) : NAN;
}

static const char *interval_remark(const double in[], const double out[])
{
    if (isnan(out[0])) return "too fast for grease by this rule: ask for oil or a special grease";
    return in[4] > 393.15 ? "too hot for usual greases" : "the maker's interval wins when it is shorter";
}

static double friction_power(double F, double mu, double d, double omega)
{
    return mu * F * d / 2 * omega;
}

WH_MANY(1, 3, dimensions)
WH_MANY(1, 2, ratings)
WH_MANY(1, 4, suffixes)
WH_COLUMNS(6, mounting_temperature)
WH_COLUMNS(5, grips_at)
WH_COLUMNS(6, warm_clearance)
WH_COLUMNS(4, ceiling)
WH_COLUMNS(2, warmed_to)
WH_COLUMNS(2, heat_margin)
WH_COLUMNS(7, carry_time)
WH_COLUMNS(7, seat_time)
WH_COLUMNS(3, inner_heat)
WH_COLUMNS(3, surface)
WH_COLUMNS(4, mass)
WH_COLUMNS(3, bore_growth)
WH_COLUMNS(2, mean_diameter)
WH_COLUMNS(2, speed_factor)
WH_COLUMNS(2, grease_amount)
WH_COLUMNS(5, grease_interval)
WH_COLUMNS(4, friction_power)

#define WARMED_TO                                                                                                      \
    {                                                                                                                  \
        "warmed-to", "T", "-50..400 degC", .title = "temperature of the ring itself, not of the bath"                  \
    }
#define GRIPS_AT                                                                                                       \
    {                                                                                                                  \
        "grips-at", "T_g", "-200..1000 degC", .title = "the warm ring grips at"                                        \
    }
#define HEAT                                                                                                           \
    {                                                                                                                  \
        "specific-heat", "c", "100..2000 J/kg K", .usual = "460 J/kg K", .title = "specific heat"                      \
    }
#define MASS                                                                                                           \
    {                                                                                                                  \
        "mass", "m", "0.001..2000 kg", .title = "mass of the ring or bearing"                                          \
    }
#define SPEED                                                                                                          \
    {                                                                                                                  \
        "speed", "omega", "1..100000 rpm", .title = "speed"                                                            \
    }
#define CEILINGS                                                                                                       \
    "common practice: sealed or greased 80, polymer cage 100, precision class 66, open with metal cage 110 degC; "     \
    "MIL-HDBK-1164, table 17, has 93 to 121 degC for open pump bearings"

static const struct wh_rule rules[] = {
    {.name = "bearing.nominal-bore",
     .formula = "ISO 15, dimension series of the designation",
     .source = "ISO 15, from memory but for the sizes in tables of load ratings",
     .in = {{"designation", "N", "bearing", .title = "designation of the bearing"}},
     .out = {{"nominal-bore", "d", "mm", .title = "bore"},
             {"nominal-outside", "D", "mm", .title = "outside diameter"},
             {"nominal-width", "B", "mm", .title = "width"}},
     WH_WORK(1, dimensions)},
    {.name = "bearing.rating",
     .formula = "tables of load ratings",
     .source = "Mott et al., Machine Elements in Mechanical Design, 6th ed., table 14-3; Budynas & Nisbett, Shigley's "
               "Mechanical Engineering Design, 9th ed., tables 11-2 and 11-3; from memory: 6312, 2306, and Khurmi & "
               "Gupta, A Textbook of Machine Design, table 27.6, for series 12, 13 and 73",
     .in = {{"designation", "N", "bearing", .title = "designation of the bearing"}},
     .out = {{"rating", "C", "kN", .title = "dynamic load rating"},
             {"static-rating", "C0", "kN", .title = "static load rating"}},
     WH_WORK(1, ratings),
     .remark = ratings_remark},
    {.name = "bearing.named-group",
     .formula = "suffixes of the designation",
     .source = "ISO and DIN suffixes, from memory",
     .in = {{"designation", "N", "bearing", .title = "designation of the bearing"}},
     .out = {{"named-group", "G", "clearance-group", .title = "clearance group by its name"},
             {"named-class", "C", "class", .title = "tolerance class by its name"},
             {"named-sealing", "S", "sealing", .title = "shields or seals by its name"},
             {"named-cage", "K", "cage", .title = "cage by its name"}},
     WH_WORK(1, suffixes),
     .remark = suffixes_remark},
    {.name = "bearing.mounting-temperature",
     .formula = "T = 293.15 + (delta + s + d alpha_s (T_s - 293.15))/(alpha_r d)",
     .source = "linear expansion from 20 degC (ISO 1)",
     .in = {SLOT_GRIP, SLOT_SPARE, SLOT_DIAMETER, SLOT_RING_EXPANSION, SLOT_SEAT_TEMPERATURE, SLOT_SEAT_EXPANSION},
     .out = {{"mounting-temperature", "T", "degC", .title = "warm the ring to"}},
     WH_WORK(6, mounting_temperature),
     .remark = mounting_remark},
    {.name = "bearing.grips-at",
     .formula = "T_g = 293.15 + (delta + d alpha_s (T_s - 293.15))/(alpha_r d)",
     .source = "linear expansion from 20 degC (ISO 1)",
     .in = {SLOT_GRIP, SLOT_DIAMETER, SLOT_RING_EXPANSION, SLOT_SEAT_TEMPERATURE, SLOT_SEAT_EXPANSION},
     .out = {{"grips-at", "T_g", "degC", .title = "the warm ring grips at"}},
     WH_WORK(5, grips_at),
     .remark = grips_remark},
    {.name = "bearing.warm-clearance",
     .formula = "s = d (alpha_r (T - 293.15) - alpha_s (T_s - 293.15)) - delta",
     .source = "linear expansion from 20 degC (ISO 1)",
     .in = {WARMED_TO, SLOT_GRIP, SLOT_DIAMETER, SLOT_RING_EXPANSION, SLOT_SEAT_TEMPERATURE, SLOT_SEAT_EXPANSION},
     .out = {{"warm-clearance", "s", "um", .title = "play at the warming temperature"}},
     WH_WORK(6, warm_clearance),
     .remark = warm_remark},
    {.name = "bearing.ceiling",
     .formula = "the lowest ceiling of cage, seals, grease and class",
     .source = CEILINGS,
     .in = {{"cage", "K", "cage", .usual = "unknown", .title = "cage"},
            {"sealing", "S", "sealing", .usual = "unknown", .title = "shields or seals"},
            {"grease-fill", "G", "grease-fill", .usual = "unknown", .title = "greased or dry"},
            {"class", "C", "class", .usual = "normal", .title = "tolerance class"}},
     .out = {{"ceiling", "T", "degC", .title = "never warmer than"}},
     WH_WORK(4, ceiling),
     .remark = ceiling_remark},
    {.name = "bearing.warmed-to",
     .formula = "what is needed, where it is not above the ceiling",
     .source = "common practice: warmed to what is needed and no more, never above the ceiling",
     .in = {{"ceiling", "C", "0..400 degC", .title = "never warmer than"},
            {"mounting-temperature", "T", "-200..1500 degC", .title = "temperature wanted"}},
     .out = {{"warmed-to", "T_w", "degC", .title = "warm the ring to"}},
     WH_WORK(2, warmed_to),
     .remark = warmed_remark},
    {.name = "bearing.heat-margin",
     .formula = "m = C - T",
     .source = "by definition",
     .in = {{"ceiling", "C", "0..400 degC", .title = "never warmer than"},
            {"mounting-temperature", "T", "-200..1500 degC", .title = "temperature wanted"}},
     .out = {{"heat-margin", "m", "K", .title = "spare below the ceiling"}},
     WH_WORK(2, heat_margin),
     .remark = margin_remark},
    {.name = "bearing.carry-time",
     .formula = "t = ln(max((T - T_h)/(T_g - T_h), 1)) m c/(k A)",
     .source = "cooling of a body of even temperature; film coefficient of still air from memory",
     .in = {WARMED_TO,
            GRIPS_AT,
            {"hall-temperature", "T_h", "-40..60 degC", .usual = "20 degC", .title = "temperature of the hall"},
            MASS,
            HEAT,
            {"surface", "A", "1..10000000 mm2", .title = "surface of the ring or bearing"},
            {"film", "k", "1..100 W/m2 K", .usual = "8..16 W/m2 K", .title = "film coefficient of still air"}},
     .out = {{"carry-time", "t", "s", .title = "time to carry it, in still air"}},
     WH_WORK(7, carry_time),
     .remark = carry_remark},
    {.name = "bearing.seat-time",
     .formula = "t = ln(max((T - T_s)/(T_g - T_s), 1)) H/(k pi d b)",
     .source = "own model: the inner ring alone, of even temperature, gives its heat through a few um of air and oil "
               "(k from memory) to a shaft that stays cold",
     .in = {WARMED_TO,
            GRIPS_AT,
            SLOT_SEAT_TEMPERATURE,
            {"inner-heat", "H", "0.1..1000000 J/K", .title = "heat held by the inner ring for each K"},
            SLOT_DIAMETER,
            SLOT_WIDTH,
            {"contact", "k", "100..20000 W/m2 K", .usual = "1000..4000 W/m2 K", .title = "contact with the shaft"}},
     .out = {{"seat-time", "t", "s", .title = "time once it touches the shaft"}},
     WH_WORK(7, seat_time),
     .remark = seat_remark},
    {.name = "bearing.inner-heat",
     .formula = "H = m s c",
     .source = "own estimate of the inner ring's share",
     .in = {MASS, {"inner-share", "s", "0.1..1 1", .usual = "0.30..0.40", .title = "share of the inner ring"}, HEAT},
     .out = {{"inner-heat", "H", "J/K", .title = "heat held by the inner ring for each K"}},
     WH_WORK(3, inner_heat)},
    {.name = "bearing.surface",
     .formula = "A = pi (D + d) b + pi (D^2 - d^2)/2",
     .source = "a plain ring",
     .in = {SLOT_DIAMETER, SLOT_OUTSIDE, SLOT_WIDTH},
     .out = {{"surface", "A", "mm2", .title = "surface of the bearing"}},
     WH_WORK(3, surface),
     .remark = ring_remark},
    {.name = "bearing.mass",
     .formula = "m = 7850 f pi (D^2 - d^2) b/4",
     .source = "a plain ring, partly filled",
     .in = {SLOT_DIAMETER,
            SLOT_OUTSIDE,
            SLOT_WIDTH,
            {"fill", "f", "0.3..1 1", .usual = "0.62..0.72", .title = "share of the section that is steel"}},
     .out = {{"mass", "m", "kg", .title = "mass of the bearing, about"}},
     WH_WORK(4, mass),
     .remark = ring_remark},
    {.name = "bearing.bore-growth",
     .formula = "g = alpha_r d dT",
     .source = "linear expansion",
     .in = {SLOT_DIAMETER, SLOT_RING_EXPANSION, {"warmed-by", "dT", "-300..500 K", .title = "warmed by"}},
     .out = {{"bore-growth", "g", "um", .title = "growth of the bore"}},
     WH_WORK(3, bore_growth)},
    {.name = "bearing.mean-diameter",
     .formula = "d_m = (d + D)/2",
     .source = "by definition",
     .in = {SLOT_DIAMETER, SLOT_OUTSIDE},
     .out = {{"mean-diameter", "d_m", "mm", .title = "mean diameter"}},
     WH_WORK(2, mean_diameter)},
    {.name = "bearing.speed-factor",
     .formula = "N = omega d_m",
     .source = "common practice",
     .in = {SPEED, {"mean-diameter", "d_m", "1..5000 mm", .title = "mean diameter"}},
     .out = {{"speed-factor", "N", "rpm mm", .title = "speed times mean diameter"}},
     WH_WORK(2, speed_factor)},
    {.name = "bearing.grease-amount",
     .formula = "G = 5 D b",
     .source = "common practice: 0.005 D B in g and mm",
     .in = {SLOT_OUTSIDE, SLOT_WIDTH},
     .out = {{"grease-amount", "G", "g", .title = "grease for a fill"}},
     WH_WORK(2, grease_amount)},
    {.name = "bearing.grease-interval",
     .formula = "t = 3600 K v (14e6 pi/(30 omega sqrt(1000 d)) - 4000 d) 0.5^(max(T - 343.15, 0)/15)",
     .source = "from memory: K is 10 for deep groove, 5 for cylindrical, 1 for spherical roller bearings; "
               "halved on a vertical shaft and for each 15 K above 70 degC",
     .in = {SPEED,
            SLOT_DIAMETER,
            {"bearing-factor", "K", "1..10 1", .usual = "10", .title = "10 ball, 5 cylindrical, 1 spherical roller"},
            {"vertical", "v", "0.5..1 1", .usual = "1", .title = "0.5 on a vertical shaft"},
            {"running-temperature", "T", "-20..150 degC", .usual = "70 degC", .title = "temperature running"}},
     .out = {{"grease-interval", "t", "h", .title = "hours to fresh grease"}},
     WH_WORK(5, grease_interval),
     .remark = interval_remark},
    {.name = "bearing.friction-power",
     .formula = "P = mu F d omega/2",
     .source = "Jindal, Machine Design, ch. 18",
     .in = {{"radial-load", "F", "0..10000 kN", .title = "load across the bearing"},
            {"bearing-friction", "mu", "0.0005..0.05 1", .usual = "0.0015", .title = "friction of the bearing"},
            SLOT_DIAMETER,
            SPEED},
     .out = {{"friction-power", "P", "W", .title = "power lost in the bearing"}},
     WH_WORK(4, friction_power)},
};

static const char *const grease_fills[] = {"dry", "greased", "unknown"};
WH_WORDS(bearing_type, wh_bearing_type_words)
WH_WORDS(cage, wh_cage_words)
WH_WORDS(sealing, wh_sealing_words)
WH_WORDS(grease_fill, grease_fills)

static const struct wh_vocabulary vocabularies[] = {
    {.name = "bearing",
     .title = "designation of a rolling bearing",
     .example = "6209/C3",
     .read = wh_bearing_read,
     .print = wh_bearing_print,
     .list = wh_bearing_list},
    {.name = "bearing-type", .title = "type of bearing", .example = "deep-groove", WH_WORDS_ENTRY(bearing_type)},
    {.name = "cage", .title = "cage", .example = "steel", WH_WORDS_ENTRY(cage)},
    {.name = "sealing", .title = "shields or seals", .example = "open", WH_WORDS_ENTRY(sealing)},
    {.name = "grease-fill", .title = "grease in the bearing", .example = "dry", WH_WORDS_ENTRY(grease_fill)},
};

const struct wh_subject wh_bearing = {.name = "bearing",
                                      .title = "Bearings: warming, mounting and grease",
                                      .rules = rules,
                                      .rule_count = sizeof rules / sizeof *rules,
                                      .vocabularies = vocabularies,
                                      .vocabulary_count = sizeof vocabularies / sizeof *vocabularies};
