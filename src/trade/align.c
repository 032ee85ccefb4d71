/* align.c - lining up two shafts by dials: reverse dials or rim and face, sag, shims and moves at both pairs of feet.
 *
 * Offsets and moves are positive where the moved machine has to go up, or to the side asked about. */
#include "trade/rule.h"

#include <math.h>

static double dial_closure(double top, double bottom, double left, double right)
{
    return top + bottom - left - right;
}
WH_COLUMNS(4, dial_closure)

static const char *closure_remark(const double in[], const double out[])
{
    double size = fmax(fabs(in[1] - in[0]), fabs(in[2] - in[3]));
    return fabs(out[0]) > fmax(0.02e-3, 0.05 * size)
               ? "the dial does not close: loose bar, oval hub, or a turn that shifted it; read again"
               : NULL;
}

static double dial_offset(double first, double opposite, double sag)
{
    return (opposite - first) / 2 + sag;
}
WH_COLUMNS(3, dial_offset)

/* The moved shaft's line runs through its two offsets; the standing one is the line of nothing. */
static void reverse(const double in[], double out[])
{
    double far = in[0], near = in[1], apart = in[2], inner = in[3], outer = in[4], slope = (far - near) / apart;
    out[0] = slope * inner - near;
    out[1] = slope * outer - near;
    out[2] = slope;
    out[3] = (far + near) / 2;
}
WH_MANY(5, 4, reverse)

static void rim_face(const double in[], double out[])
{
    double rim = in[0], face = in[1], diameter = in[2], inner = in[3], outer = in[4], slope = face / diameter;
    out[0] = slope * inner - rim / 2;
    out[1] = slope * outer - rim / 2;
    out[2] = slope;
    out[3] = rim / 2;
}
WH_MANY(5, 4, rim_face)

static const char *shim_remark(const double in[], const double out[])
{
    (void)in;
    if (fmax(fabs(out[0]), fabs(out[1])) > 3e-3)
        return "more than 3 mm of shims or moves: look for a wrong sign or a wrong foot";
    return out[0] < 0 || out[1] < 0 ? "less than nothing: take shims out there, or raise the other machine" : NULL;
}

static double foot_growth(double height, double expansion, double rise)
{
    return height * expansion * rise;
}
WH_COLUMNS(3, foot_growth)

#define DIAL(name, symbol, title)                                                                                      \
    {                                                                                                                  \
        name, symbol, "-20..20 mm", NULL, title                                                                        \
    }
#define APART(name, symbol, title)                                                                                     \
    {                                                                                                                  \
        name, symbol, "1..10000 mm", NULL, title                                                                       \
    }
#define NEAR_FEET APART("near-feet", "x", "from the plane of the moved half to the near feet")
#define FAR_FEET APART("far-feet", "z", "from the plane of the moved half to the far feet")
#define MOVES(first)                                                                                                   \
    {first, "m", "mm", NULL, "shim or move at the near feet"}, {"far-move", "n", "mm", NULL, "at the far feet"},       \
        {"gap", "t", "mm/m", NULL, "how the shafts stand askew"},                                                      \
    {                                                                                                                  \
        "offset", "o", "mm", NULL, "offset at the coupling"                                                            \
    }

static const struct wh_rule rules[] = {
    {.name = "shaft.dial-closure",
     .formula = "c = t + b - l - r",
     .source = "common practice: both pairs have one sum",
     .in = {DIAL("top", "t", "reading at the top"), DIAL("bottom", "b", "at the bottom"),
            DIAL("left", "l", "at the left"), DIAL("right", "r", "at the right")},
     .out = {{"dial-closure", "c", "mm", NULL, "what the two sums differ by"}},
     WH_WORK(4, dial_closure),
     .remark = closure_remark},
    {.name = "shaft.dial-offset",
     .formula = "o = (b - a)/2 + s",
     .source = "geometry: a dial shows twice the offset",
     .in = {DIAL("first", "a", "reading on one side: top, or left"),
            DIAL("opposite", "b", "reading on the other: bottom, or right"),
            {"sag", "s", "0..5 mm", "0 mm", "sag of the bar; nothing for left and right"}},
     .out = {{"dial-offset", "o", "mm", NULL, "offset in this plane"}},
     WH_WORK(3, dial_offset)},
    {.name = "shaft.align-reverse",
     .formula = "t = (s - a)/d; m = t x - a; n = t z - a; o = (s + a)/2",
     .source = "Bloch & Geitner, Machinery Component Maintenance and Repair, reverse-indicator example, p. 203",
     .in = {DIAL("offset-far", "s", "offset in the plane on the standing shaft"),
            DIAL("offset-near", "a", "offset in the plane on the shaft that is moved"),
            APART("planes-apart", "d", "distance of the two planes"), NEAR_FEET, FAR_FEET},
     .out = {MOVES("align-reverse")},
     WH_WORK(5, reverse),
     .remark = shim_remark},
    {.name = "shaft.align-rim-face",
     .formula = "t = f/d; m = t x - r/2; n = t z - r/2; o = r/2",
     .source = "rim and face method, common practice",
     .in = {DIAL("rim", "r", "rim reading at the bottom (or the right), zero opposite"),
            DIAL("face", "f", "face reading at the bottom (or the right), zero opposite"),
            APART("face-diameter", "d", "diameter the face dial runs on"), NEAR_FEET, FAR_FEET},
     .out = {MOVES("align-rim-face")},
     WH_WORK(5, rim_face),
     .remark = shim_remark},
    {.name = "shaft.foot-growth",
     .formula = "g = h alpha t",
     .source = "expansion of the frame between foot and shaft",
     .in = {APART("height", "h", "shaft over the feet"),
            {"expansion", "alpha", "0..0.0002 K-1", "0.0000115 K-1", "expansion of the frame; steel 11.5e-6"},
            {"rise", "t", "-100..300 K", NULL, "running temperature less that of lining up"}},
     .out = {{"foot-growth", "g", "mm", NULL, "how far the shaft rises when warm: set it so much low"}},
     WH_WORK(3, foot_growth)},
};

const struct wh_subject wh_align = WH_SUBJECT("shaft", "Lining up shafts", rules);
