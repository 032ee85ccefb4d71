/* fit.c - limits of size, bearing tolerances, and the grip they leave between a seat and what sits on it. */
#include "trade/iso286.h"
#include "trade/iso492.h"
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

static void limits(const double in[], double out[])
{
    if (!wh_iso286_limits(in[0], in[1], &out[1], &out[0])) out[0] = out[1] = NAN;
}

static const char *limits_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the standard has no such zone at this size" : NULL;
}

static double tolerance_unit(double D)
{
    return 4.5e-6 * cbrt(D) + 1e-6 * D;
}

static double unit_tolerance(double D, double k)
{
    return k * tolerance_unit(D);
}

static void size_step(const double in[], double out[])
{
    wh_iso286_step(in[0], &out[1], &out[2]);
    out[0] = sqrt(fmax(out[1], 1e-3) * out[2]); /* the first step counts from 1 mm */
}

static double interference(double d, double b)
{
    return d - b;
}

static const char *interference_remark(const double in[], const double out[])
{
    return fabs(out[0]) > 0.005 * in[1] ? "more than 5 thousandths of the diameter: look at both readings again" : NULL;
}

/* Least and most grip of a hole and a shaft zone, then most and least play. */
static void two_zones(const double in[], double out[])
{
    double EI, ES, ei, es;
    bool found = wh_iso286_zone_is_hole(in[1]) && !wh_iso286_zone_is_hole(in[2])
                 && wh_iso286_limits(in[0], in[1], &EI, &ES) && wh_iso286_limits(in[0], in[2], &ei, &es);
    out[0] = found ? ei - ES : NAN;
    out[1] = found ? es - EI : NAN;
    out[2] = -out[0];
    out[3] = -out[1];
}

static const char *two_zones_remark(const double in[], const double out[])
{
    if (!wh_iso286_zone_is_hole(in[1])) return "the hole's zone is written with a capital letter: H7";
    if (wh_iso286_zone_is_hole(in[2])) return "the shaft's zone is written with a small letter: k6";
    return limits_remark(in, out);
}

static void bore_deviation(const double in[], double out[])
{
    if (!wh_iso492_bore(in[0], in[1], &out[0], &out[1])) out[0] = out[1] = NAN;
}

static void outside_deviation(const double in[], double out[])
{
    wh_iso492_outside(in[0], in[1], &out[0], &out[1]); /* every size asked for stands in the table */
}

static const char *class_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "not in the table for this size and class" : NULL;
}

static void on_shaft(const double in[], double out[])
{
    double low, high, ei, es;
    bool found = !wh_iso286_zone_is_hole(in[1]) && wh_iso286_limits(in[0], in[1], &ei, &es)
                 && wh_iso492_bore(in[0], in[2], &low, &high);
    out[0] = found ? ei - high : NAN;
    out[1] = found ? es - low : NAN;
}

static const char *on_shaft_remark(const double in[], const double out[])
{
    if (wh_iso286_zone_is_hole(in[1])) return "a shaft's zone is written with a small letter: k5";
    return class_remark(in, out);
}

static void in_housing(const double in[], double out[])
{
    double low, high, EI, ES;
    bool found = wh_iso286_zone_is_hole(in[1]) && wh_iso286_limits(in[0], in[1], &EI, &ES);
    wh_iso492_outside(in[0], in[2], &low, &high);
    out[0] = found ? low - ES : NAN;
    out[1] = found ? high - EI : NAN;
}

static const char *in_housing_remark(const double in[], const double out[])
{
    if (!wh_iso286_zone_is_hole(in[1])) return "a housing's zone is written with a capital letter: H7";
    return class_remark(in, out);
}

/* Form of a seat: half a grade's tolerance round, a whole one square; the grade goes with the bearing's class. */
static void seat_form(const double in[], double out[])
{
    static const double grades[WH_CLASSES] = {5, 3, 2, NAN, NAN};
    double tolerance = wh_iso286_tolerance(in[0], grades[(size_t)in[1]] - in[2]);
    out[0] = tolerance / 2;
    out[1] = tolerance;
}

WH_MANY(2, 2, limits)
WH_COLUMNS(2, wh_iso286_tolerance)
WH_COLUMNS(1, tolerance_unit)
WH_COLUMNS(2, unit_tolerance)
WH_MANY(1, 3, size_step)
WH_COLUMNS(2, interference)
WH_MANY(3, 4, two_zones)
WH_MANY(2, 2, bore_deviation)
WH_MANY(2, 2, outside_deviation)
WH_COLUMNS(2, wh_iso492_inner_runout)
WH_COLUMNS(2, wh_iso492_outer_runout)
WH_COLUMNS(2, wh_iso492_bore_variation)
WH_COLUMNS(2, wh_iso492_width_deviation)
WH_MANY(3, 2, on_shaft)
WH_MANY(3, 2, in_housing)
WH_MANY(3, 2, seat_form)

#define SIZE {"size", "D", "0.1..500 mm", .title = "nominal size"}
#define CLASS {"class", "C", "class", .usual = "normal", .title = "tolerance class of the bearing"}
#define ISO_286 "ISO 286-1:2010, tables 1 to 3, read in Narayana et al., Machine Drawing, ch. 15; part from memory"
#define ISO_492 "ISO 492, read in reprinted tables; classes P4 and P2 and class P6 outside from memory"

static const struct wh_rule rules[] = {
    {.name = "fit.upper-deviation", .formula = "ISO 286-1, tables 1 to 3", .source = ISO_286,
     .in = {SIZE, {"zone", "z", "zone", .title = "tolerance zone"}},
     .out = {{"upper-deviation", "es", "um", .title = "upper limit less nominal size"},
             {"lower-deviation", "ei", "um", .title = "lower limit less nominal size"}},
     WH_WORK(2, limits), .remark = limits_remark},
    {.name = "fit.tolerance", .formula = "ISO 286-1, table 1", .source = ISO_286,
     .in = {SIZE, {"grade", "g", "grade", .title = "tolerance grade"}},
     .out = {{"tolerance", "IT", "um", .title = "tolerance of the grade"}}, WH_WORK(2, wh_iso286_tolerance)},
    {.name = "fit.tolerance-unit", .formula = "i = 4.5e-6 D^(1/3) + 1e-6 D", .source = "ISO 286-1:2010, clause 4, B.2",
     .in = {{"size", "D", "0.1..500 mm", .title = "size, or the mean of its step"}},
     .out = {{"tolerance-unit", "i", "um", .title = "tolerance unit"}}, WH_WORK(1, tolerance_unit)},
    {.name = "fit.unit-tolerance", .formula = "t = k (4.5e-6 D^(1/3) + 1e-6 D)",
     .source = "ISO 286-1:2010, annex B: 7, 10, 16, 25, 40, 64, 100 units for IT5 to IT11; the rounded table rules",
     .in = {{"size", "D", "0.1..500 mm", .title = "size, or the mean of its step"},
            {"units", "k", "0.1..10000 1", .title = "number of tolerance units"}},
     .out = {{"unit-tolerance", "t", "um", .title = "tolerance before rounding"}}, WH_WORK(2, unit_tolerance)},
    {.name = "fit.step-mean", .formula = "ISO 286-1, steps of nominal sizes; geometric mean of both ends",
     .source = "ISO 286-1:2010, table 1", .in = {SIZE},
     .out = {{"step-mean", "Dm", "mm", .title = "geometric mean of the step of sizes"},
             {"step-above", "D1", "mm", .title = "sizes above"},
             {"step-to", "D2", "mm", .title = "up to and including"}},
     WH_WORK(1, size_step)},
    {.name = "fit.interference", .formula = "delta = d - b", .source = "by definition, at 20 degC (ISO 1)",
     .in = {{"seat.diameter", "d", "1..2000 mm", .title = "diameter of the seat"},
            {"bore", "b", "1..2000 mm", .title = "bore of what sits on it"}},
     .out = {{"interference", "delta", "um", .title = "grip on the diameter, + tight, - loose"}},
     WH_WORK(2, interference), .remark = interference_remark},
    {.name = "fit.least-interference", .formula = "ISO 286-1: shaft limits less hole limits", .source = ISO_286,
     .in = {SIZE, {"hole", "H", "zone", .title = "zone of the hole"},
            {"shaft", "s", "zone", .title = "zone of the shaft"}},
     .out = {{"least-interference", "U1", "um", .title = "least grip, - loose"},
             {"most-interference", "U2", "um", .title = "most grip, - loose"},
             {"most-clearance", "S2", "um", .title = "most play, - tight"},
             {"least-clearance", "S1", "um", .title = "least play, - tight"}},
     WH_WORK(3, two_zones), .remark = two_zones_remark},
    {.name = "fit.bearing-bore-deviation", .formula = "ISO 492, mean bore", .source = ISO_492,
     .in = {{"size", "d", "0.6..315 mm", .title = "bore of the bearing"}, CLASS},
     .out = {{"bearing-bore-deviation", "ei", "um", .title = "least bore less nominal"},
             {"bearing-bore-upper", "es", "um", .title = "most bore less nominal"}},
     WH_WORK(2, bore_deviation), .remark = class_remark},
    {.name = "fit.bearing-outside-deviation", .formula = "ISO 492, mean outside diameter", .source = ISO_492,
     .in = {{"size", "D", "2.5..315 mm", .title = "outside diameter of the bearing"}, CLASS},
     .out = {{"bearing-outside-deviation", "ei", "um", .title = "least outside diameter less nominal"},
             {"bearing-outside-upper", "es", "um", .title = "most outside diameter less nominal"}},
     WH_WORK(2, outside_deviation), .remark = class_remark},
    {.name = "fit.inner-runout", .formula = "ISO 492, Kia", .source = ISO_492,
     .in = {{"size", "d", "0.6..315 mm", .title = "bore of the bearing"}, CLASS},
     .out = {{"inner-runout", "Kia", "um", .title = "run-out of the inner ring in the bearing, at most"}},
     WH_WORK(2, wh_iso492_inner_runout), .remark = class_remark},
    {.name = "fit.outer-runout", .formula = "ISO 492, Kea", .source = ISO_492,
     .in = {{"size", "D", "2.5..315 mm", .title = "outside diameter of the bearing"}, CLASS},
     .out = {{"outer-runout", "Kea", "um", .title = "run-out of the outer ring in the bearing, at most"}},
     WH_WORK(2, wh_iso492_outer_runout), .remark = class_remark},
    {.name = "fit.bore-variation", .formula = "ISO 492, Vdmp", .source = ISO_492,
     .in = {{"size", "d", "0.6..315 mm", .title = "bore of the bearing"}, CLASS},
     .out = {{"bore-variation", "V", "um", .title = "variation of the mean bore, at most"}},
     WH_WORK(2, wh_iso492_bore_variation), .remark = class_remark},
    {.name = "fit.width-deviation", .formula = "ISO 492, width of the inner ring", .source = ISO_492,
     .in = {{"size", "d", "0.6..315 mm", .title = "bore of the bearing"}, CLASS},
     .out = {{"width-deviation", "w", "um", .title = "least width less nominal"}},
     WH_WORK(2, wh_iso492_width_deviation), .remark = class_remark},
    {.name = "fit.least-grip-on-shaft", .formula = "ISO 286-1 shaft limits less ISO 492 bore limits", .source = ISO_492,
     .in = {{"size", "d", "0.6..315 mm", .title = "bore of the bearing"},
            {"zone", "z", "zone", .title = "zone of the shaft"}, CLASS},
     .out = {{"least-grip-on-shaft", "U1", "um", .title = "least grip of the inner ring, - loose"},
             {"most-grip-on-shaft", "U2", "um", .title = "most grip of the inner ring, - loose"}},
     WH_WORK(3, on_shaft), .remark = on_shaft_remark},
    {.name = "fit.least-grip-in-housing", .formula = "ISO 492 outside limits less ISO 286-1 hole limits",
     .source = ISO_492,
     .in = {{"size", "D", "2.5..315 mm", .title = "outside diameter of the bearing"},
            {"zone", "z", "zone", .title = "zone of the housing"}, CLASS},
     .out = {{"least-grip-in-housing", "U1", "um", .title = "least grip of the outer ring, - loose"},
             {"most-grip-in-housing", "U2", "um", .title = "most grip of the outer ring, - loose"}},
     WH_WORK(3, in_housing), .remark = in_housing_remark},
    {.name = "fit.seat-roundness", .formula = "ISO 286-1: half of IT5, IT3 or IT2 for class normal, P6 or P5",
     .source = "usual form of bearing seats after ISO 1101, read in a bearing handbook",
     .in = {{"size", "d", "0.1..500 mm", .title = "diameter of the seat"}, CLASS,
            {"demands", "f", "demands", .usual = "normal", .title = "special: one grade finer"}},
     .out = {{"seat-roundness", "t1", "um", .title = "cylindricity and run-out of the seat, at most"},
             {"shoulder-squareness", "t2", "um", .title = "squareness and end run-out of the shoulder, at most"}},
     WH_WORK(3, seat_form), .remark = class_remark},
};

static const char *const demands[] = {"normal", "special"};
WH_WORDS(demands, demands)

static const struct wh_vocabulary vocabularies[] = {
    {.name = "zone", .title = "tolerance zone of ISO 286", .example = "k6", .read = wh_iso286_zone_read,
     .print = wh_iso286_zone_print, .list = wh_iso286_zone_list},
    {.name = "grade", .title = "tolerance grade of ISO 286", .example = "IT6", .read = wh_iso286_grade_read,
     .print = wh_iso286_grade_print, .list = wh_iso286_grade_list},
    {.name = "class", .title = "tolerance class of rolling bearings", .example = "P5", .read = wh_iso492_class_read,
     .print = wh_iso492_class_print, .list = wh_iso492_class_list},
    {.name = "demands", .title = "demands on running accuracy", .example = "special", WH_WORDS_ENTRY(demands)},
};

const struct wh_subject wh_fit = {
    .name = "fit", .title = "Fits and tolerances", .rules = rules, .rule_count = sizeof rules / sizeof *rules,
    .vocabularies = vocabularies, .vocabulary_count = sizeof vocabularies / sizeof *vocabularies};
