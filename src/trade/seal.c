/* seal.c - rotary lip seals and O-rings: rim speed, press fit, run-out, squeeze and room in the groove. */
#include "trade/rule.h"
#include "trade/seal_table.h"
#include "trade/words.h"

#include <math.h>

/* ---- lip seals: speed ------------------------------------------------------------------------------------------- */

static double lip_speed(double diameter, double turning)
{
    return turning * diameter / 2;
}
WH_COLUMNS(2, lip_speed)

static double speed_for_lip(double diameter, double rim)
{
    return 2 * rim / diameter;
}
WH_COLUMNS(2, speed_for_lip)

static const char *const lubrication_words[] = {"oil", "oil-mist", "grease"};
WH_WORDS(lubrication, lubrication_words)

static void lip_speed_limit(const double in[], double out[])
{
    static const double shares[] = {1, 1, 0.5};
    wh_seal_rim_speed(in[0], &out[0], &out[1]);
    out[0] *= shares[(size_t)in[1]];
    out[1] *= shares[(size_t)in[1]];
}
WH_MANY(2, 2, lip_speed_limit)

static const char *limit_remark(const double in[], const double out[])
{
    (void)out;
    return in[1] > 1.5 ? "on grease about half the limit in oil; small shafts take less again" : NULL;
}

static double lip_speed_reserve(double rim, double limit)
{
    return limit / rim;
}
WH_COLUMNS(2, lip_speed_reserve)

static const char *reserve_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] < 1 ? "the lip runs faster than its rubber takes: another rubber, or oil instead of grease" : NULL;
}

/* Straight between the points of the curve. */
static double runout_limit(double turning)
{
    static const double at[] = {500, 1000, 2000, 3000, 4000, 5000}, limit[] = {0.30, 0.23, 0.18, 0.15, 0.12, 0.12};
    enum { POINTS = sizeof at / sizeof at[0] };
    double rpm = turning * 30 / WH_PI;
    if (rpm <= at[0]) return limit[0] * 1e-3;
    for (size_t i = 1; i < POINTS; i++) {
        double slope = (limit[i] - limit[i - 1]) / (at[i] - at[i - 1]);
        if (rpm <= at[i]) return (limit[i] - slope * (at[i] - rpm)) * 1e-3;
    }
    return NAN;
}
WH_COLUMNS(1, runout_limit)

static const char *runout_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "no run-out is published above 5,000 rpm: the seal's maker or the machine's own limit"
                         : "for NBR; other rubbers follow a run-out less well";
}

static double total_offset(double offset, double runout)
{
    return offset + runout;
}
WH_COLUMNS(2, total_offset)

static const char *offset_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] > 0.21e-3 ? "more than the 0.2 mm that a plain lip follows in all" : NULL;
}

/* ---- lip seals: press fit --------------------------------------------------------------------------------------- */

static double shaft_lower(double shaft)
{
    return wh_seal_shaft_lower(shaft);
}
WH_COLUMNS(1, shaft_lower)

static double bore_upper(double bore)
{
    return wh_seal_bore_upper(bore);
}
WH_COLUMNS(1, bore_upper)

static double out_of_round(double bore)
{
    return wh_seal_out_of_round(bore);
}
WH_COLUMNS(1, out_of_round)

static void case_allowance(const double in[], double out[])
{
    wh_seal_allowance(in[0], in[1], &out[0], &out[1]);
}
WH_MANY(2, 2, case_allowance)

static double press_least(double bore, double kind)
{
    double least = NAN, most = NAN;
    wh_seal_allowance(bore, kind, &least, &most);
    return least - bore_upper(bore);
}
WH_COLUMNS(2, press_least)

static double press_most(double bore, double kind)
{
    double least = NAN, most = NAN;
    wh_seal_allowance(bore, kind, &least, &most);
    return most;
}
WH_COLUMNS(2, press_most)

static double press(double outside, double hole)
{
    return outside - hole;
}
WH_COLUMNS(2, press)

static const char *press_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] <= 0 ? "it does not hold in this bore" : NULL;
}

/* ---- O-rings ---------------------------------------------------------------------------------------------------- */

static double squeeze(double cord, double depth)
{
    return (cord - depth) / cord;
}
WH_COLUMNS(2, squeeze)

static const char *squeeze_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] < 0.08) return "hardly squeezed: it may leak (8 to 18 % moving, 15 to 25 % round a shaft at rest)";
    return out[0] > 0.30 ? "squeezed too hard: it takes a set or shears (20 to 30 % under a flat face)" : NULL;
}

static double groove_depth(double cord, double share)
{
    return cord * (1 - share);
}
WH_COLUMNS(2, groove_depth)

static double fill(double cord, double depth, double width)
{
    return WH_PI * cord * cord / (4 * width * depth);
}
WH_COLUMNS(3, fill)

static const char *fill_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] > 0.85 ? "more than 85 % full: no room to swell" : NULL;
}

static double stretch(double ring, double groove)
{
    return (groove - ring) / ring;
}
WH_COLUMNS(2, stretch)

static const char *stretch_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] > 0.05) return "stretched more than 5 %: it thins and ages";
    return out[0] < 0 ? "looser than its groove: it may fall out or twist when fitted" : NULL;
}

/* ---- the rules -------------------------------------------------------------------------------------------------- */

#define BORE {"bore", "D", "6..500 mm", .title = "nominal bore of the housing"}
#define CASE {"seal-case", "k", "seal-case", .usual = "metal", .title = "outside of the seal"}
#define CORD {"cord", "c", "0.5..30 mm", .title = "thickness of the cord"}
#define DEPTH {"groove-depth", "h", "0.2..30 mm", .title = "depth of the groove, with its clearance"}
#define LENGTH(name, symbol, says) {name, symbol, "mm", .title = says}

static const struct wh_rule rules[] = {
    {.name = "seal.lip-speed", .formula = "v = n d/2", .source = "kinematics",
     .in = {{"diameter", "d", "1..1000 mm", .title = "shaft under the lip"},
            {"speed", "n", "0..100000 rpm", .title = "speed"}},
     .out = {{"lip-speed", "v", "m/s", .title = "speed under the lip"}}, WH_WORK(2, lip_speed)},
    {.name = "seal.lip-speed-limit",
     .formula = "lower and upper figure for the rubber in oil, table; half of it on grease",
     .source = "from memory, after the diagram of DIN 3760; half on grease: common practice",
     .in = {{"rubber", "r", "rubber", .title = "rubber of the lip"},
            {"lip-lubrication", "w", "lip-lubrication", .usual = "oil", .title = "what the lip runs in"}},
     .out = {{"lip-speed-limit", "v1", "m/s", .title = "speed the lip takes"},
             {"lip-speed-limit-most", "v2", "m/s", .title = "upper figure of the trade"}},
     WH_WORK(2, lip_speed_limit), .remark = limit_remark},
    {.name = "seal.lip-speed-reserve", .formula = "x = v1/v", .source = "definition",
     .in = {{"lip-speed", "v", "0.001.. m/s", .title = "speed under the lip"},
            {"lip-speed-limit", "v1", "0.. m/s", .title = "speed the lip takes"}},
     .out = {{"lip-speed-reserve", "x", "1", .title = "limit over speed"}}, WH_WORK(2, lip_speed_reserve),
     .remark = reserve_remark},
    {.name = "seal.speed-for-lip", .formula = "n = 2 v1/d", .source = "kinematics",
     .in = {{"diameter", "d", "1..1000 mm", .title = "shaft under the lip"},
            {"lip-speed-limit", "v1", "0..100 m/s", .title = "speed the lip takes"}},
     .out = {{"speed-for-lip", "n", "rpm", .title = "highest speed for this lip"}}, WH_WORK(2, speed_for_lip)},
    {.name = "seal.runout-limit", .formula = "curve over the speed, for NBR",
     .source = "from memory, after the diagram of DIN 3760", .in = {{"speed", "n", "0..100000 rpm", .title = "speed"}},
     .out = {LENGTH("runout-limit", "e", "run-out of the shaft under the lip, most")}, WH_WORK(1, runout_limit),
     .remark = runout_remark},
    {.name = "seal.total-offset", .formula = "e = a + b", .source = "common practice: at most 0.2 mm in all",
     .in = {{"offset", "a", "0..5 mm", .title = "bore off the shaft, at rest"},
            {"runout", "b", "0..5 mm", .title = "run-out of the shaft"}},
     .out = {LENGTH("total-offset", "e", "what the lip must follow")}, WH_WORK(2, total_offset),
     .remark = offset_remark},
    {.name = "seal.shaft-lower", .formula = "h11 of ISO 286-2", .source = "ISO 6194-1; h11 of ISO 286-2",
     .in = {{"diameter", "d", "1..500 mm", .title = "shaft under the lip"}},
     .out = {LENGTH("shaft-lower", "ei", "lower deviation of the shaft; the upper is 0")}, WH_WORK(1, shaft_lower)},
    {.name = "seal.bore-upper", .formula = "H8 of ISO 286-2", .source = "ISO 6194-1; H8 of ISO 286-2", .in = {BORE},
     .out = {LENGTH("bore-upper", "ES", "upper deviation of the bore; the lower is 0")}, WH_WORK(1, bore_upper)},
    {.name = "seal.case-allowance", .formula = "ISO 6194-1, table of outside diameters",
     .source = "ISO 6194-1:2007, table of outside diameters", .in = {BORE, CASE},
     .out = {LENGTH("case-allowance", "a1", "seal larger than the nominal bore, least"),
             LENGTH("case-allowance-most", "a2", "seal larger than the nominal bore, most")},
     WH_WORK(2, case_allowance)},
    {.name = "seal.out-of-round", .formula = "ISO 6194-1, table of outside diameters",
     .source = "ISO 6194-1:2007, table of outside diameters", .in = {BORE},
     .out = {LENGTH("out-of-round", "o", "out-of-round of the seal's outside, most")}, WH_WORK(1, out_of_round)},
    {.name = "seal.press-least", .formula = "least allowance of the seal less the H8 of the bore, tables",
     .source = "ISO 6194-1:2007; H8 of ISO 286-2", .in = {BORE, CASE},
     .out = {LENGTH("press-least", "p1", "seal tighter than its bore, least")}, WH_WORK(2, press_least)},
    {.name = "seal.press-most", .formula = "greatest allowance of the seal in a bore at its least, tables",
     .source = "ISO 6194-1:2007; H8 of ISO 286-2", .in = {BORE, CASE},
     .out = {LENGTH("press-most", "p2", "seal tighter than its bore, most")}, WH_WORK(2, press_most)},
    {.name = "seal.press", .formula = "p = D1 - D2", .source = "definition",
     .in = {{"outside", "D1", "6..501 mm", .title = "outside of the seal, measured"},
            {"bore", "D2", "6..501 mm", .title = "bore, measured"}},
     .out = {LENGTH("press", "p", "seal tighter than its bore")}, WH_WORK(2, press), .remark = press_remark},
    {.name = "seal.squeeze", .formula = "s = (c - h)/c", .source = "geometry", .in = {CORD, DEPTH},
     .out = {{"squeeze", "s", "%", .title = "squeeze of the cord"}}, WH_WORK(2, squeeze), .remark = squeeze_remark},
    {.name = "seal.groove-depth", .formula = "h = c (1 - s)", .source = "geometry",
     .in = {CORD, {"squeeze", "s", "0..0.6 1", .title = "squeeze of the cord"}},
     .out = {LENGTH("groove-depth", "h", "depth of the groove for it")}, WH_WORK(2, groove_depth)},
    {.name = "seal.fill", .formula = "f = pi c^2/(4 b h)", .source = "geometry; at most 85 %: common practice",
     .in = {CORD, DEPTH, {"groove-width", "b", "0.5..60 mm", .title = "width of the groove"}},
     .out = {{"fill", "f", "%", .title = "share of the groove that is full"}}, WH_WORK(3, fill), .remark = fill_remark},
    {.name = "seal.stretch", .formula = "e = (D - d)/d", .source = "geometry; at most 5 %: common practice",
     .in = {{"inside", "d", "1..2000 mm", .title = "inside of the ring, free"},
            {"groove-diameter", "D", "1..2100 mm", .title = "floor of its groove"}},
     .out = {{"stretch", "e", "%", .title = "stretch on its groove"}}, WH_WORK(2, stretch), .remark = stretch_remark},
};

static const struct wh_vocabulary vocabularies[] = {
    {"rubber", "rubber of a seal", "NBR", wh_seal_rubber_read, wh_seal_rubber_print, wh_seal_rubber_list},
    {"lip-lubrication", "way of wetting a lip", "oil", lubrication_read, lubrication_print,
     lubrication_list},
    {"seal-case", "outside of a lip seal", "metal", wh_seal_case_read, wh_seal_case_print, wh_seal_case_list},
};

const struct wh_subject wh_seal = {.name = "seal", .title = "Seals", .rules = rules,
                                   .rule_count = sizeof rules / sizeof rules[0], .vocabularies = vocabularies,
                                   .vocabulary_count = sizeof vocabularies / sizeof vocabularies[0]};
