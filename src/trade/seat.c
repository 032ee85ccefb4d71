/* seat.c - a seat by its six readings, and bearings driven up a taper or an adapter sleeve. */
#include "trade/fit_slots.h"
#include "trade/rule.h"

#include <math.h>

/* ---- six readings of a seat: at its front, middle and back, each across and a quarter turn on -------------------- */

static double larger(double a, double b)
{
    return a > b ? a : b;
}

static double smaller(double a, double b)
{
    return a < b ? a : b;
}

static void seat_readings(const double in[], double out[])
{
    double front = (in[0] + in[1]) / 2, middle = (in[2] + in[3]) / 2, back = (in[4] + in[5]) / 2;
    out[0] = (front + middle + back) / 3;
    out[1] = larger(larger(fabs(in[0] - in[1]), fabs(in[2] - in[3])), fabs(in[4] - in[5]));
    out[2] = front - back;
    out[3] = middle - (front + back) / 2;
}
WH_MANY(6, 4, seat_readings)

static const char *seat_remark(const double in[], const double out[])
{
    double widest = larger(out[1], larger(fabs(out[2]), fabs(out[3])));
    if (widest > 0.005 * in[0]) return "readings this far apart are no seat: look at them again";
    bool oval = out[1] > larger(fabs(out[2]), fabs(out[3]));
    return oval ? "worn oval more than tapered; two points do not see a seat of three lobes" : NULL;
}

static void seat_span(const double in[], double out[])
{
    out[0] = smaller(smaller(smaller(in[0], in[1]), smaller(in[2], in[3])), smaller(in[4], in[5]));
    out[1] = larger(larger(larger(in[0], in[1]), larger(in[2], in[3])), larger(in[4], in[5]));
    out[2] = (out[1] - out[0]) / 2;
}
WH_MANY(6, 3, seat_span)

static double taper_angle(double taper, double apart)
{
    return 2 * atan(taper / (2 * apart));
}
WH_COLUMNS(2, taper_angle)

/* ---- tapered bores ----------------------------------------------------------------------------------------------- */

/* What is pressed flat gives no grip, so the way is a little longer than the grip asks. */
static double drive_up(double interference, double smoothing, double taper)
{
    return (interference + smoothing) / taper;
}
WH_COLUMNS(3, drive_up)

static double interference_of_drive_up(double way, double smoothing, double taper)
{
    return way * taper - smoothing;
}
WH_COLUMNS(3, interference_of_drive_up)

static const char *no_grip_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] <= 0 ? "so short a way only beds the taper in: no grip yet" : NULL;
}

static double drive_up_for_reduction(double reduction, double d, double raceway, double smoothing, double taper)
{
    return raceway > d ? drive_up(reduction * raceway / d, smoothing, taper) : NAN;
}
WH_COLUMNS(5, drive_up_for_reduction)

static double clearance_taken(double way, double d, double raceway, double smoothing, double taper)
{
    return raceway > d ? interference_of_drive_up(way, smoothing, taper) * d / raceway : NAN;
}
WH_COLUMNS(5, clearance_taken)

static const char *raceway_remark(const double in[], const double out[])
{
    (void)out;
    return in[2] <= in[1] ? "the raceway must be larger than the bore" : NULL;
}

static double clearance_on_taper(double clearance, double reduction)
{
    return clearance - reduction;
}
WH_COLUMNS(2, clearance_on_taper)

static const char *left_remark(const double in[], const double out[])
{
    if (out[0] <= 0) return "nothing left: driven too far, slacken it and begin again";
    return out[0] < 0.4 * in[0] ? "less than two fifths of what it had: measure again before the nut is locked" : NULL;
}

static double nut_turn(double way, double pitch)
{
    return 2 * WH_PI * way / pitch;
}
WH_COLUMNS(2, nut_turn)

/* Reduction and way for spherical roller bearings, taper 1:12: bores up to and including, in mm. */
static const struct step {
    double bore, reduction[2], way[2];
} steps[] = {
    {30, {0.015, 0.020}, {0.30, 0.35}}, {40, {0.020, 0.025}, {0.35, 0.40}},
    {50, {0.025, 0.030}, {0.40, 0.45}}, {65, {0.030, 0.040}, {0.45, 0.60}},
    {80, {0.040, 0.050}, {0.60, 0.75}}, {100, {0.045, 0.060}, {0.70, 0.90}},
    {120, {0.050, 0.070}, {0.75, 1.10}}, {140, {0.065, 0.090}, {1.10, 1.40}},
    {160, {0.075, 0.100}, {1.20, 1.60}}, {180, {0.080, 0.110}, {1.30, 1.70}},
    {200, {0.090, 0.130}, {1.40, 2.00}},
};

static void sleeve_reduction(const double in[], double out[])
{
    const double hair = 1e-9;
    for (int k = 0; k < 4; k++) out[k] = NAN;
    size_t i = 0;
    if (in[0] <= 24e-3) return;
    while (in[0] * 1e3 > steps[i].bore * (1 + hair)) i++; /* the last step is the most that is asked */
    out[0] = steps[i].reduction[0] * 1e-3;
    out[1] = steps[i].reduction[1] * 1e-3;
    out[2] = steps[i].way[0] * 1e-3;
    out[3] = steps[i].way[1] * 1e-3;
}
WH_MANY(1, 4, sleeve_reduction)

static const char *sleeve_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the table runs from above 24 to 200 mm: take the bearing's own sheet"
                         : "the clearance decides, not the way; the maker's sheet comes first";
}

#define READING(NAME, SYMBOL, SAYS) {NAME, SYMBOL, "1..2000 mm", .title = SAYS}
#define READINGS                                                                                            \
    READING("front", "a1", "front of the seat"), READING("front-across", "b1", "front, a quarter turn on"), \
    READING("middle", "a2", "middle of the seat"), READING("middle-across", "b2", "middle, a quarter turn on"), \
    READING("back", "a3", "back of the seat"), READING("back-across", "b3", "back, a quarter turn on")
#define LEAST "min(a1, min(b1, min(a2, min(b2, min(a3, b3)))))"
#define MOST "max(a1, max(b1, max(a2, max(b2, max(a3, b3)))))"
#define TAPER {"bore-taper", "c", "0.01..0.2 1", .usual = "0.083333333333", .title = "taper of the bore; 1:12, or 1:30"}
#define BEDDING {"smoothing", "s", "0..200 um", .usual = "0 um", .title = "pressed flat while it beds in"}
#define WAY {"drive-up", "w", "0..50 mm", .title = "way along the taper, from hand tight"}
#define RACEWAY {"inner-raceway", "F", "1..3000 mm", .title = "mean raceway of the inner ring"}
#define STATED "geometry of the taper"

static const struct wh_rule rules[] = {
    {.name = "fit.seat-mean",
     .formula = "m = (a1 + b1 + a2 + b2 + a3 + b3)/6; o = max(abs(a1 - b1), max(abs(a2 - b2), abs(a3 - b3))); "
                "t = (a1 + b1 - a3 - b3)/2; r = (a2 + b2)/2 - (a1 + b1 + a3 + b3)/4",
     .source = "definitions; two-point readings in three planes: common practice", .in = {READINGS},
     .out = {{"seat-mean", "m", "mm", .title = "mean of the six readings"},
             {"out-of-round", "o", "um", .title = "most between two readings across, in one plane"},
             {"taper", "t", "um", .title = "front larger than back by"},
             {"barrel", "r", "um", .title = "middle larger than the ends by, - hollow"}},
     WH_WORK(6, seat_readings), .remark = seat_remark},
    {.name = "fit.seat-least",
     .formula = "l = " LEAST "; g = " MOST "; h = (" MOST " - " LEAST ")/2",
     .source = "definitions; half the difference for cylindricity: common practice", .in = {READINGS},
     .out = {{"seat-least", "l", "mm", .title = "least of the six readings"},
             {"seat-most", "g", "mm", .title = "largest of the six readings"},
             {"cylindricity", "h", "um", .title = "half of the difference: out of cylinder by, about"}},
     WH_WORK(6, seat_span)},
    {.name = "fit.taper-angle", .formula = "beta = 2 atan(t/(2 l))", .source = "geometry; ISO 3040",
     .in = {{"taper", "t", "-5..50 mm", .title = "difference of the diameters"},
            {"apart", "l", "1..2000 mm", .title = "between the two planes"}},
     .out = {{"taper-angle", "beta", "deg", .title = "angle of the taper, both sides"}}, WH_WORK(2, taper_angle)},
    {.name = "fit.drive-up", .formula = "w = (delta + s)/c", .source = STATED,
     .in = {SLOT_GRIP, BEDDING, TAPER},
     .out = {{"drive-up", "w", "mm", .title = "way along the taper, from hand tight"}}, WH_WORK(3, drive_up)},
    {.name = "fit.interference-of-drive-up", .formula = "delta = w c - s", .source = STATED,
     .in = {WAY, BEDDING, TAPER},
     .out = {{"interference-of-drive-up", "delta", "um", .title = "grip on the diameter that this way gives"}},
     WH_WORK(3, interference_of_drive_up), .remark = no_grip_remark},
    {.name = "fit.drive-up-for-reduction", .formula = "w = (r F/d + s)/c",
     .source = STATED "; the ring widens as a solid seat of steel makes it (Lamé)",
     .in = {{"reduction", "r", "0..1000 um", .title = "clearance that shall be taken"}, SLOT_DIAMETER, RACEWAY, BEDDING,
            TAPER},
     .out = {{"drive-up-for-reduction", "w", "mm", .title = "way along the taper, from hand tight"}},
     WH_WORK(5, drive_up_for_reduction), .remark = raceway_remark},
    {.name = "fit.reduction", .formula = "r = (w c - s) d/F",
     .source = STATED "; the ring widens as a solid seat of steel makes it (Lamé)",
     .in = {WAY, SLOT_DIAMETER, RACEWAY, BEDDING, TAPER},
     .out = {{"reduction", "r", "um", .title = "clearance that this way takes"}}, WH_WORK(5, clearance_taken),
     .remark = raceway_remark},
    {.name = "fit.clearance-on-taper", .formula = "S = G - r", .source = "by definition",
     .in = {{"clearance", "G", "0..1000 um", .title = "radial clearance, measured before"},
            {"reduction", "r", "0..1000 um", .title = "clearance taken by the push"}},
     .out = {{"clearance-on-taper", "S", "um", .title = "radial clearance left, on the taper"}},
     WH_WORK(2, clearance_on_taper), .remark = left_remark},
    {.name = "fit.nut-turn", .formula = "phi = 2 pi w/P", .source = "definition of the pitch, ISO 5408",
     .in = {WAY, {"pitch", "P", "0.2..10 mm", .title = "pitch of the sleeve's nut"}},
     .out = {{"nut-turn", "phi", "deg", .title = "turn of the nut, from hand tight"}}, WH_WORK(2, nut_turn)},
    {.name = "fit.reduction-least", .formula = "table of a bearing handbook, spherical roller bearings, taper 1 in 12",
     .source = "guide values of bearing handbooks; to 50 mm read in one, beyond from memory",
     .in = {{"size", "d", "10..200 mm", .title = "bore of the bearing"}},
     .out = {{"reduction-least", "r1", "mm", .title = "clearance to take, least"},
             {"reduction-most", "r2", "mm", .title = "clearance to take, most"},
             {"way-least", "w1", "mm", .title = "way along the taper, least"},
             {"way-most", "w2", "mm", .title = "way along the taper, most"}},
     WH_WORK(1, sleeve_reduction), .remark = sleeve_remark},
};

const struct wh_subject wh_seat = WH_SUBJECT("fit", "Seats by their readings, and tapered bores", rules);
