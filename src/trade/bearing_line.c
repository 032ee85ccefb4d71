/* bearing_line.c - the lines a damaged bearing shows in the spectrum, from its inside. */
#include "trade/rule.h"

#include <math.h>

static double ratio(double d, double D, double alpha)
{
    return d * cos(alpha) / D;
}

static double cage_order(double d, double D, double alpha)
{
    return (1 - ratio(d, D, alpha)) / 2;
}

static double outer_order(double Z, double d, double D, double alpha)
{
    return Z * (1 - ratio(d, D, alpha)) / 2;
}

static double inner_order(double Z, double d, double D, double alpha)
{
    return Z * (1 + ratio(d, D, alpha)) / 2;
}

/* Turns of an element about its own axis; a spot on it strikes twice a turn. */
static void roller_order(const double in[], double out[])
{
    double r = ratio(in[0], in[1], in[2]);
    out[0] = in[1] / (2 * in[0]) * (1 - r * r);
    out[1] = 2 * out[0];
}

static double cage_line(double omega, double d, double D, double alpha)
{
    return omega / (2 * WH_PI) * cage_order(d, D, alpha);
}

static double outer_line(double omega, double Z, double d, double D, double alpha)
{
    return omega / (2 * WH_PI) * outer_order(Z, d, D, alpha);
}

static double inner_line(double omega, double Z, double d, double D, double alpha)
{
    return omega / (2 * WH_PI) * inner_order(Z, d, D, alpha);
}

static void roller_line(const double in[], double out[])
{
    roller_order(in + 1, out);
    out[0] *= in[0] / (2 * WH_PI);
    out[1] *= in[0] / (2 * WH_PI);
}

static const char *inside_remark(double d, double D)
{
    return d >= D / 2 ? "so large an element does not fit on this pitch circle: look at both again"
                      : "real lines lie 0.1 to 1.5 % off, as the elements slip";
}

static const char *remark_0(const double in[], const double out[])
{
    (void)out;
    return inside_remark(in[0], in[1]);
}

static const char *remark_1(const double in[], const double out[])
{
    (void)out;
    return inside_remark(in[1], in[2]);
}

static const char *remark_2(const double in[], const double out[])
{
    (void)out;
    return inside_remark(in[2], in[3]);
}

static const char *cage_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "other bearings of the machine may have the same cage line: alone it names none of them";
}

WH_COLUMNS(3, cage_order)
WH_COLUMNS(4, outer_order)
WH_COLUMNS(4, inner_order)
WH_MANY(3, 2, roller_order)
WH_COLUMNS(4, cage_line)
WH_COLUMNS(5, outer_line)
WH_COLUMNS(5, inner_line)
WH_MANY(4, 2, roller_line)

#define SPEED {"speed", "omega", "1..200000 rpm", .title = "speed of the shaft"}
#define ELEMENTS {"elements", "Z", "3..200 1", .title = "balls or rollers in a row"}
#define INSIDE {"element-diameter", "d", "0.5..200 mm", .title = "diameter of a ball or roller"},                   \
    {"pitch-diameter", "D", "2..3000 mm", .title = "diameter of the circle of their centres"},                      \
    {"contact-angle", "alpha", "0..80 deg", .usual = "0 deg", .title = "contact angle"}
#define SOURCE "rolling without slip, outer ring at rest; a university bearing data centre gives the same figures"

static const struct wh_rule rules[] = {
    {.name = "bearing.cage-order", .formula = "n = (1 - d cos(alpha)/D)/2", .source = SOURCE, .in = {INSIDE},
     .out = {{"cage-order", "n", "1", .title = "cage, times the speed"}}, WH_WORK(3, cage_order),
     .remark = cage_remark},
    {.name = "bearing.outer-order", .formula = "n = Z (1 - d cos(alpha)/D)/2", .source = SOURCE,
     .in = {ELEMENTS, INSIDE}, .out = {{"outer-order", "n", "1", .title = "spot on the outer ring, times the speed"}},
     WH_WORK(4, outer_order), .remark = remark_1},
    {.name = "bearing.inner-order", .formula = "n = Z (1 + d cos(alpha)/D)/2", .source = SOURCE,
     .in = {ELEMENTS, INSIDE}, .out = {{"inner-order", "n", "1", .title = "spot on the inner ring, times the speed"}},
     WH_WORK(4, inner_order), .remark = remark_1},
    {.name = "bearing.roller-order",
     .formula = "n = D (1 - (d cos(alpha)/D)^2)/(2 d); m = D (1 - (d cos(alpha)/D)^2)/d", .source = SOURCE,
     .in = {INSIDE},
     .out = {{"roller-order", "n", "1", .title = "turns of a ball or roller, times the speed"},
             {"strike-order", "m", "1", .title = "strikes of a spot on it, two a turn"}},
     WH_WORK(3, roller_order), .remark = remark_0},
    {.name = "bearing.cage-line", .formula = "f = omega (1 - d cos(alpha)/D)/(4 pi)", .source = SOURCE,
     .in = {SPEED, INSIDE}, .out = {{"cage-line", "f", "Hz", .title = "cage"}}, WH_WORK(4, cage_line),
     .remark = cage_remark},
    {.name = "bearing.outer-line", .formula = "f = omega Z (1 - d cos(alpha)/D)/(4 pi)", .source = SOURCE,
     .in = {SPEED, ELEMENTS, INSIDE}, .out = {{"outer-line", "f", "Hz", .title = "spot on the outer ring"}},
     WH_WORK(5, outer_line), .remark = remark_2},
    {.name = "bearing.inner-line", .formula = "f = omega Z (1 + d cos(alpha)/D)/(4 pi)", .source = SOURCE,
     .in = {SPEED, ELEMENTS, INSIDE}, .out = {{"inner-line", "f", "Hz", .title = "spot on the inner ring"}},
     WH_WORK(5, inner_line), .remark = remark_2},
    {.name = "bearing.roller-line",
     .formula = "f = omega D (1 - (d cos(alpha)/D)^2)/(4 pi d); g = omega D (1 - (d cos(alpha)/D)^2)/(2 pi d)",
     .source = SOURCE, .in = {SPEED, INSIDE},
     .out = {{"roller-line", "f", "Hz", .title = "turns of a ball or roller"},
             {"strike-line", "g", "Hz", .title = "strikes of a spot on it, two a turn"}},
     WH_WORK(4, roller_line), .remark = remark_1},
};

const struct wh_subject wh_bearing_line = WH_SUBJECT("bearing", "Bearings: lines in the spectrum", rules);
