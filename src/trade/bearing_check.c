/* bearing_check.c - a bearing's checks besides its life: at rest, speed, play in running, lines by multipliers. */
#include "trade/bearing.h"
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

/* ---- at rest ----------------------------------------------------------------------------------------------------- */

/* X0 and Y0 of ISO 76 by the contact angle in degrees, one row; a pair has both twice. */
static const double angles[] = {15, 20, 25, 30, 35, 40, 45};
static const double along[] = {0.46, 0.42, 0.38, 0.33, 0.29, 0.26, 0.22};

static double in_degrees(double angle)
{
    double degrees = angle * 180 / WH_PI, whole = round(degrees);
    return fabs(degrees - whole) < 1e-9 ? whole : degrees;
}

static void angular_static(const double in[], double out[])
{
    double at = in_degrees(in[0]);
    int i = 0;
    while (i < 5 && at > angles[i + 1]) i++;
    out[0] = 0.5 * in[1];
    out[1] = in[1] * (along[i] + (along[i + 1] - along[i]) * (at - angles[i]) / (angles[i + 1] - angles[i]));
}
WH_MANY(2, 2, angular_static)

static double aligning_static(double angle)
{
    return 0.44 / tan(angle);
}
WH_COLUMNS(1, aligning_static)

static double roller_static(double angle)
{
    return 0.22 / tan(angle);
}
WH_COLUMNS(1, roller_static)

static const char *const rest_words[] = {"quiet", "normal", "shocks"};
WH_WORDS(rest, rest_words)

/* Balls, then rollers. */
static double wanted_safety(double demands, double roller)
{
    static const double wanted[][2] = {{2, 3}, {1, 1.5}, {1.5, 3}};
    return wanted[(size_t)demands][roller > 0];
}
WH_COLUMNS(2, wanted_safety)

static double safety_share(double safety, double wanted)
{
    return safety / wanted;
}
WH_COLUMNS(2, safety_share)

static const char *rest_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] < 1 ? "too little for this: a blow or a load at rest may dent the raceways" : NULL;
}

/* ---- speed ------------------------------------------------------------------------------------------------------- */

static const char *const feed_words[] = {"grease", "oil-bath"};
WH_WORDS(feed, feed_words)

/* Speed times mean diameter, in 1000 mm/min, least and most of what handbooks allow. */
static void speed_limit(const double in[], double out[])
{
    static const double factors[WH_BEARING_TYPES][2][2] = {{{300, 500}, {400, 600}}, {{300, 450}, {400, 550}},
                                                           {{300, 450}, {400, 600}}, {{250, 450}, {350, 550}},
                                                           {{120, 220}, {180, 300}}};
    const double *factor = factors[(size_t)in[1]][(size_t)in[2]];
    out[0] = factor[0] * WH_PI / 30 / in[0];
    out[1] = factor[1] * WH_PI / 30 / in[0];
}
WH_MANY(3, 2, speed_limit)

static const char *limit_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "a rule of thumb: the bearing's own stated speed decides, and the rotor's stated speed is never passed";
}

static double speed_share(double speed, double limit)
{
    return speed / limit;
}
WH_COLUMNS(2, speed_share)

static const char *speed_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] > 1) return "faster than the bearing bears: another cage, play, lubricant or bearing, as its maker says";
    return out[0] > 0.8 ? "near its limit: the running temperature tells, watch it" : NULL;
}

/* ---- play in running --------------------------------------------------------------------------------------------- */

static double operating_clearance(double G, double inner, double outer, double dT, double alpha, double E)
{
    return G - inner - outer - alpha * dT * E;
}
WH_COLUMNS(6, operating_clearance)

static double clearance_wanted(double S, double inner, double outer, double dT, double alpha, double E)
{
    return S + inner + outer + alpha * dT * E;
}
WH_COLUMNS(6, clearance_wanted)

static const char *play_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] < 0 ? "no play left: it runs tight and hot; a looser group, a looser seat or a cooler shaft" : NULL;
}

/* ---- lines by stated multipliers --------------------------------------------------------------------------------- */

static double line(double order, double speed)
{
    return order * speed / (2 * WH_PI);
}
WH_COLUMNS(2, line)

static double line_off(double seen, double order, double speed)
{
    return seen / line(order, speed) - 1;
}
WH_COLUMNS(3, line_off)

static const char *off_remark(const double in[], const double out[])
{
    (void)in;
    return fabs(out[0]) > 0.02 ? "further off than slip explains: another line, or another speed" : NULL;
}

#define ANGLE(RANGE) {"contact-angle", "alpha", RANGE, .title = "contact angle"}
#define TAKEN                                                                                               \
    {"clearance-lost", "L", "0..1000 um", .usual = "0 um", .title = "clearance taken by the inner ring's fit"}, \
    {"outer-clearance-lost", "K", "0..1000 um", .usual = "0 um", .title = "clearance taken by the outer ring's fit"}, \
    {"warmer", "dT", "-50..100 K", .usual = "5..10 K", .title = "inner ring warmer than the outer by"},     \
    {"ring-expansion", "alpha_r", "1e-6..40e-6 1/K", .usual = "12e-6 1/K", .title = "expansion of the rings"}, \
    {"outer-raceway", "E", "1..3000 mm", .title = "mean raceway of the outer ring"}
#define ORDER {"order", "x", "0.01..200 1", .title = "stated multiplier of the line"}
#define SPEED {"speed", "omega", "1..200000 rpm", .title = "speed of the shaft"}
#define ISO_76 "ISO 76:2006, table 2"

static const struct wh_rule rules[] = {
    {.name = "bearing.angular-static-factor", .formula = "ISO 76, by the contact angle, straight lines between",
     .source = ISO_76 "; 15, 30 and 40 degrees read in a reprinted table, the others from memory",
     .in = {ANGLE("15..45 deg"), {"rows", "i", "1..2 1", .usual = "1", .title = "2 for a pair back to back"}},
     .out = {{"angular-static-factor", "X0", "1", .title = "X0"}, {"angular-static-axial", "Y0", "1", .title = "Y0"}},
     WH_WORK(2, angular_static)},
    {.name = "bearing.aligning-static-axial", .formula = "Y0 = 0.44/tan(alpha)", .source = ISO_76 ", from memory",
     .in = {ANGLE("3..45 deg")},
     .out = {{"aligning-static-axial", "Y0", "1",
            .title = "Y0 of self-aligning balls and rollers of two rows; X0 is 1"}},
     WH_WORK(1, aligning_static)},
    {.name = "bearing.roller-static-axial", .formula = "Y0 = 0.22/tan(alpha)", .source = ISO_76 ", from memory",
     .in = {ANGLE("3..60 deg")},
     .out = {{"roller-static-axial", "Y0", "1", .title = "Y0 of rollers of one row; X0 is 0.5"}},
     WH_WORK(1, roller_static)},
    {.name = "bearing.wanted-static-safety", .formula = "table by the demands, balls and rollers",
     .source = "guide values of bearing handbooks, read in one of them",
     .in = {{"rest-demands", "q", "rest-demands", .usual = "normal", .title = "how it runs"},
            {"rollers", "r", "0..1 1", .usual = "0", .title = "0 balls, 1 rollers"}},
     .out = {{"wanted-static-safety", "s", "1", .title = "static safety, least"}}, WH_WORK(2, wanted_safety)},
    {.name = "bearing.static-safety-share", .formula = "x = s0/s", .source = "by definition",
     .in = {{"static-safety", "s0", "0.001..10000 1", .title = "static safety"},
            {"wanted-static-safety", "s", "0.3..10 1", .title = "static safety, least"}},
     .out = {{"static-safety-share", "x", "1", .title = "static safety over that wanted"}}, WH_WORK(2, safety_share),
     .remark = rest_remark},
    {.name = "bearing.speed-limit", .formula = "n dm of handbooks, by type and lubrication, over the mean diameter",
     .source = "common practice of handbooks, from memory",
     .in = {{"mean-diameter", "d_m", "2..2000 mm", .title = "mean diameter"},
            {"bearing-type", "t", "bearing-type", .title = "type of bearing"},
            {"feed", "l", "feed", .usual = "grease", .title = "grease, or oil bath"}},
     .out = {{"speed-limit", "n1", "rpm", .title = "speed without special care"},
             {"speed-limit-most", "n2", "rpm", .title = "speed with care: cage, play, cooling"}},
     WH_WORK(3, speed_limit), .remark = limit_remark},
    {.name = "bearing.speed-share", .formula = "x = n/n1", .source = "by definition",
     .in = {{"speed", "n", "0..200000 rpm", .title = "speed"},
            {"speed-limit", "n1", "1..1000000 rpm", .title = "speed it bears: its own stated one if there is one"}},
     .out = {{"speed-share", "x", "%", .title = "share of the speed it bears"}}, WH_WORK(2, speed_share),
     .remark = speed_remark},
    {.name = "bearing.operating-clearance", .formula = "S = G - L - K - alpha_r dT E",
     .source = "common practice; the warmth by a bearing maker's handbook, p. 42, eq. (29)",
     .in = {{"clearance", "G", "0..1000 um", .title = "radial clearance as bought"}, TAKEN},
     .out = {{"operating-clearance", "S", "um", .title = "clearance left running, - tight"}},
     WH_WORK(6, operating_clearance), .remark = play_remark},
    {.name = "bearing.clearance-wanted", .formula = "G = S + L + K + alpha_r dT E",
     .source = "common practice; the warmth by a bearing maker's handbook, p. 42, eq. (29)",
     .in = {{"operating-clearance", "S", "-100..1000 um", .title = "clearance wanted running"}, TAKEN},
     .out = {{"clearance-wanted", "G", "um", .title = "radial clearance to buy, least"}}, WH_WORK(6, clearance_wanted)},
    {.name = "bearing.line", .formula = "f = x omega/(2 pi)", .source = "by definition of the multiplier",
     .in = {ORDER, SPEED}, .out = {{"line", "f", "Hz", .title = "line in the spectrum"}}, WH_WORK(2, line)},
    {.name = "bearing.line-off", .formula = "o = 2 pi f/(x omega) - 1", .source = "by definition of the multiplier",
     .in = {{"seen", "f", "0.01..100000 Hz", .title = "line as seen"}, ORDER, SPEED},
     .out = {{"line-off", "o", "%", .title = "seen higher than worked out by"}}, WH_WORK(3, line_off),
     .remark = off_remark},
};

static const struct wh_vocabulary vocabularies[] = {
    {.name = "rest-demands", .title = "how a bearing runs", .example = "quiet", WH_WORDS_ENTRY(rest)},
    {.name = "feed", .title = "way of lubricating a bearing", .example = "grease", WH_WORDS_ENTRY(feed)},
};

const struct wh_subject wh_bearing_check = {
    .name = "bearing", .title = "Bearings: rest, speed and running play", .rules = rules,
    .rule_count = sizeof rules / sizeof *rules, .vocabularies = vocabularies,
    .vocabulary_count = sizeof vocabularies / sizeof *vocabularies};
