/* clearance.c - the play inside a bearing: as bought, and what the fit and the warmth leave of it. */
#include "trade/bearing.h"
#include "trade/fit_slots.h"
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

/* Radial clearance by groups, ISO 5753-1, bore cylindrical: bores up to and including, in mm; least and most in um. */
struct step {
    double bore, play[WH_CLEARANCE_GROUPS][2];
};

/* Up to 6 and above 140 mm from memory. */
static const struct step deep_groove[] = {
    {6, {{0, 7}, {2, 13}, {8, 23}, {NAN, NAN}, {NAN, NAN}}},
    {10, {{0, 7}, {2, 13}, {8, 23}, {14, 29}, {20, 37}}},
    {18, {{0, 9}, {3, 18}, {11, 25}, {18, 33}, {25, 45}}},
    {24, {{0, 10}, {5, 20}, {13, 28}, {20, 36}, {28, 48}}},
    {30, {{1, 11}, {5, 20}, {13, 28}, {23, 41}, {30, 53}}},
    {40, {{1, 11}, {6, 20}, {15, 33}, {28, 46}, {40, 64}}},
    {50, {{1, 11}, {6, 23}, {18, 36}, {30, 51}, {45, 73}}},
    {65, {{1, 15}, {8, 28}, {23, 43}, {38, 61}, {55, 90}}},
    {80, {{1, 15}, {10, 30}, {25, 51}, {46, 71}, {65, 105}}},
    {100, {{1, 18}, {12, 36}, {30, 58}, {53, 84}, {75, 120}}},
    {120, {{2, 20}, {15, 41}, {36, 66}, {61, 97}, {90, 140}}},
    {140, {{2, 23}, {18, 48}, {41, 81}, {71, 114}, {105, 160}}},
    {160, {{2, 23}, {18, 53}, {46, 91}, {81, 130}, {120, 180}}},
    {180, {{2, 25}, {20, 61}, {53, 102}, {91, 147}, {135, 200}}},
    {200, {{2, 30}, {25, 71}, {63, 117}, {107, 163}, {150, 230}}},
};

/* From memory. */
static const struct step self_aligning[] = {
    {6, {{1, 8}, {5, 15}, {10, 20}, {15, 25}, {21, 33}}},
    {10, {{2, 9}, {6, 17}, {12, 25}, {19, 33}, {27, 42}}},
    {14, {{2, 10}, {6, 19}, {13, 26}, {21, 35}, {30, 48}}},
    {18, {{3, 12}, {8, 21}, {15, 28}, {23, 37}, {32, 50}}},
    {24, {{4, 14}, {10, 23}, {17, 30}, {25, 39}, {34, 52}}},
    {30, {{5, 16}, {11, 24}, {19, 35}, {29, 46}, {40, 58}}},
    {40, {{6, 18}, {13, 29}, {23, 40}, {34, 53}, {46, 66}}},
    {50, {{6, 19}, {14, 31}, {25, 44}, {37, 57}, {50, 71}}},
    {65, {{7, 21}, {16, 36}, {30, 50}, {45, 69}, {62, 88}}},
    {80, {{8, 24}, {18, 40}, {35, 60}, {54, 83}, {76, 108}}},
    {100, {{9, 27}, {22, 48}, {42, 70}, {64, 96}, {89, 124}}},
    {120, {{10, 31}, {25, 56}, {50, 83}, {75, 114}, {105, 145}}},
};

static const struct step rollers[] = {
    {24, {{0, 25}, {20, 45}, {35, 60}, {50, 75}, {65, 90}}},
    {30, {{0, 25}, {20, 45}, {35, 60}, {50, 75}, {70, 95}}},
    {40, {{5, 30}, {25, 50}, {45, 70}, {60, 85}, {80, 105}}},
    {50, {{5, 35}, {30, 60}, {50, 80}, {70, 100}, {95, 125}}},
    {65, {{10, 40}, {40, 70}, {60, 90}, {80, 110}, {110, 140}}},
    {80, {{10, 45}, {40, 75}, {65, 100}, {90, 125}, {130, 165}}},
    {100, {{15, 50}, {50, 85}, {75, 110}, {105, 140}, {155, 190}}},
    {120, {{15, 55}, {50, 90}, {85, 125}, {125, 165}, {180, 220}}},
    {140, {{15, 60}, {60, 105}, {100, 145}, {145, 190}, {200, 245}}},
    {160, {{20, 70}, {70, 120}, {115, 165}, {165, 215}, {225, 275}}},
    {180, {{25, 75}, {75, 125}, {120, 170}, {170, 220}, {250, 300}}},
    {200, {{35, 90}, {90, 145}, {140, 195}, {195, 250}, {275, 330}}},
};

#define COUNT(table) (sizeof table / sizeof *table)

static void look_up(const struct step *steps, size_t n, double bore, double group, double out[])
{
    const double hair = 1e-9; /* a size read from text may lie a rounding above its step */
    for (size_t i = 0; i < n; i++)
        if (bore * 1e3 <= steps[i].bore * (1 + hair)) {
            out[0] = steps[i].play[(size_t)group][0] * 1e-6;
            out[1] = steps[i].play[(size_t)group][1] * 1e-6;
            return;
        }
}

static void clearance(const double in[], double out[])
{
    out[0] = out[1] = NAN;
    switch ((enum wh_bearing_type)in[2]) {
    case WH_DEEP_GROOVE: look_up(deep_groove, COUNT(deep_groove), in[0], in[1], out); break;
    case WH_SELF_ALIGNING_BALL: look_up(self_aligning, COUNT(self_aligning), in[0], in[1], out); break;
    case WH_CYLINDRICAL_ROLLER: look_up(rollers, COUNT(rollers), in[0], in[1], out); break;
    default: break;
    }
}

static const char *clearance_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "not in the tables here: measure it, or take it from the bearing's own sheet" : NULL;
}

static double inner_raceway(double d, double D)
{
    return D > d ? (4 * d + D) / 5 : NAN;
}

static double outer_raceway(double d, double D)
{
    return D > d ? (d + 4 * D) / 5 : NAN;
}

static const char *ring_remark(const double in[], const double out[])
{
    (void)out;
    return in[1] <= in[0] ? "the outside must be larger than the bore"
                          : "bottom of the groove; at its shoulders a ring is thicker, presses harder and gives less";
}

static double square(double x)
{
    return x * x;
}

/* Pressure between an inner ring, as thick as its raceway, and a seat of the same steel. */
static double pressure(double delta, double d, double F, double h, double E)
{
    if (F <= d || h >= d) return NAN;
    return fmax(delta, 0) * E * (F * F - d * d) * (d * d - h * h) / (2 * d * d * d * (F * F - h * h));
}

static const char *inner_remark(const double in[], const double out[])
{
    (void)out;
    if (in[2] <= in[1]) return "the raceway must be larger than the bore";
    if (in[3] >= in[1]) return "the hole through the seat must be smaller than the seat";
    return in[0] <= 0 ? "a loose ring takes no clearance" : NULL;
}

static double clearance_lost(double delta, double d, double F, double h)
{
    if (F <= d || h >= d) return NAN;
    return fmax(delta, 0) * d / F * (1 - square(h / d)) / (1 - square(h / F));
}

static double outer_clearance_lost(double delta, double D, double E, double H)
{
    if (E >= D || H <= D) return NAN;
    return fmax(delta, 0) * E / D * (1 - square(D / H)) / (1 - square(E / H));
}

static const char *outer_remark(const double in[], const double out[])
{
    (void)out;
    if (in[2] >= in[1]) return "the raceway must be smaller than the outside of the bearing";
    if (in[3] <= in[1]) return "the housing must be larger than the bearing";
    return in[0] <= 0 ? "a loose ring takes no clearance" : NULL;
}

static double warmth_lost(double dT, double alpha, double E)
{
    return alpha * dT * E;
}

static double clearance_left(double G, double L, double dT, double alpha, double E)
{
    return G - L - warmth_lost(dT, alpha, E);
}

static const char *left_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] < 0 ? "no play left: it runs tight and hot; a looser group, a looser seat or a cooler shaft" : NULL;
}

WH_MANY(3, 2, clearance)
WH_COLUMNS(2, inner_raceway)
WH_COLUMNS(2, outer_raceway)
WH_COLUMNS(5, pressure)
WH_COLUMNS(4, clearance_lost)
WH_COLUMNS(4, outer_clearance_lost)
WH_COLUMNS(3, warmth_lost)
WH_COLUMNS(5, clearance_left)

#define INNER {"inner-raceway", "F", "1..3000 mm", .title = "mean raceway of the inner ring"}
#define OUTER {"outer-raceway", "E", "1..3000 mm", .title = "mean raceway of the outer ring"}
#define WARMER {"warmer", "dT", "-50..100 K", .usual = "5..10 K", .title = "inner ring warmer than the outer by"}

static const struct wh_rule rules[] = {
    {.name = "bearing.clearance-least", .formula = "ISO 5753-1, table of the bearing's type",
     .source = "ISO 5753-1, read in reprinted tables; self-aligning ball bearings, and deep groove ball bearings up to "
               "6 and above 140 mm, from memory",
     .in = {{"size", "d", "0.6..200 mm", .title = "bore of the bearing"},
            {"group", "C", "clearance-group", .usual = "CN", .title = "clearance group"},
            {"bearing-type", "t", "bearing-type", .title = "type of bearing"}},
     .out = {{"clearance-least", "G1", "um", .title = "least radial clearance as bought"},
             {"clearance-most", "G2", "um", .title = "most radial clearance as bought"}},
     WH_WORK(3, clearance), .remark = clearance_remark},
    {.name = "bearing.inner-raceway", .formula = "F = (4 d + D)/5",
     .source = "a bearing maker's technical page on the pressure of fits: deep groove ball bearings",
     .in = {SLOT_DIAMETER, SLOT_OUTSIDE},
     .out = {{"inner-raceway", "F", "mm", .title = "mean raceway of the inner ring, about"}},
     WH_WORK(2, inner_raceway), .remark = ring_remark},
    {.name = "bearing.outer-raceway", .formula = "E = (d + 4 D)/5",
     .source = "a bearing maker's technical page on the pressure of fits: deep groove ball bearings",
     .in = {SLOT_DIAMETER, SLOT_OUTSIDE},
     .out = {{"outer-raceway", "E", "mm", .title = "mean raceway of the outer ring, about"}},
     WH_WORK(2, outer_raceway), .remark = ring_remark},
    {.name = "bearing.pressure", .formula = "p = max(delta, 0) E (F^2 - d^2) (d^2 - h^2)/(2 d^3 (F^2 - h^2))",
     .source = "Lamé, ring and seat of one steel; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., "
               "eq. (3-57), p. 116",
     .in = {SLOT_GRIP, SLOT_DIAMETER, INNER, SLOT_HOLLOW,
            {"ring-stiffness", "E", "1..1000 GPa", .usual = "206 GPa", .title = "modulus of ring and seat"}},
     .out = {{"pressure", "p", "MPa", .title = "pressure between inner ring and seat"}}, WH_WORK(5, pressure),
     .remark = inner_remark},
    {.name = "bearing.clearance-lost", .formula = "L = max(delta, 0) d (1 - (h/d)^2)/(F (1 - (h/F)^2))",
     .source = "Lamé, ring and seat of one steel", .in = {SLOT_GRIP, SLOT_DIAMETER, INNER, SLOT_HOLLOW},
     .out = {{"clearance-lost", "L", "um", .title = "clearance taken by the grip of the inner ring"}},
     WH_WORK(4, clearance_lost), .remark = inner_remark},
    {.name = "bearing.outer-clearance-lost", .formula = "L = max(delta, 0) E (1 - (D/H)^2)/(D (1 - (E/H)^2))",
     .source = "Lamé, ring and housing of one steel",
     .in = {{"outer-interference", "delta", "-2..5 mm", .title = "grip of the housing on the outer ring, + tight"},
            SLOT_OUTSIDE, OUTER, {"housing-outside", "H", "1..5000 mm", .title = "outside of the housing"}},
     .out = {{"outer-clearance-lost", "L", "um", .title = "clearance taken by the grip of the housing"}},
     WH_WORK(4, outer_clearance_lost), .remark = outer_remark},
    {.name = "bearing.warmth-lost", .formula = "W = alpha_r dT E",
     .source = "a bearing maker's handbook, p. 42, eq. (29); 5 to 10 K is usual, 15 to 20 K at high speed",
     .in = {WARMER, SLOT_RING_EXPANSION, OUTER},
     .out = {{"warmth-lost", "W", "um", .title = "clearance taken by the warmer inner ring"}},
     WH_WORK(3, warmth_lost)},
    {.name = "bearing.clearance-left", .formula = "S = G - L - alpha_r dT E",
     .source = "common practice; the warmth by a bearing maker's handbook, p. 42, eq. (29)",
     .in = {{"clearance", "G", "0..1000 um", .title = "radial clearance as bought"},
            {"clearance-lost", "L", "0..1000 um", .title = "clearance taken by the fits"}, WARMER, SLOT_RING_EXPANSION,
            OUTER},
     .out = {{"clearance-left", "S", "um", .title = "clearance left running, - tight"}}, WH_WORK(5, clearance_left),
     .remark = left_remark},
};

WH_WORDS(group, wh_clearance_group_words)

static const struct wh_vocabulary vocabularies[] = {
    {.name = "clearance-group", .title = "clearance group of ISO 5753", .example = "C3", WH_WORDS_ENTRY(group)},
};

const struct wh_subject wh_clearance = {
    .name = "bearing", .title = "Bearings: clearance", .rules = rules, .rule_count = sizeof rules / sizeof *rules,
    .vocabularies = vocabularies, .vocabulary_count = sizeof vocabularies / sizeof *vocabularies};
