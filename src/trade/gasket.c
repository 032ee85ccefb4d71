/* gasket.c - flat gaskets under a ring of screws, mechanical seals at their working length, the shaft under a lip. */
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

/* ---- gaskets: ASME VIII-1, appendix 2 -------------------------------------------------------------------------- */

static const char *const gasket_words[] = {"soft-rubber", "hard-rubber", "rubber-cloth", "fibre",      "sheet-3.2",
                                           "sheet-1.6",   "sheet-0.8",   "spiral-wound", "soft-copper"};
WH_WORDS(gasket, gasket_words)
enum { GASKETS = sizeof gasket_words / sizeof gasket_words[0] };

static const double psi = 6894.757;
static const double gasket_table[GASKETS][2] = {{0.5, 0},     {1, 200},    {1.25, 400}, {1.75, 1100}, {2, 1600},
                                                {2.75, 3700}, {3.5, 6500}, {3, 10000},  {4.75, 13000}};

static void gasket_factor(const double in[], double out[])
{
    out[0] = gasket_table[(size_t)in[0]][0];
    out[1] = gasket_table[(size_t)in[0]][1] * psi;
}
WH_MANY(1, 2, gasket_factor)

static const char *factor_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "the maker's figures of this gasket go before the table";
}

/* Narrow ones seal over half their width, wide ones over less; the rule is in inches. */
static void gasket_width(const double in[], double out[])
{
    double outside = in[0], width = in[1], half = width / 2, inch = 0.0254;
    bool narrow = half <= inch / 4;
    if (!(half < outside / 2)) half = NAN;
    out[0] = narrow ? half : sqrt(half * inch) / 2;
    out[1] = narrow ? outside - 2 * half : outside - 2 * out[0];
}
WH_MANY(2, 2, gasket_width)

static void gasket_load(const double in[], double out[])
{
    double diameter = in[0], width = in[1], factor = in[2], seating = in[3], pressure = in[4];
    out[1] = WH_PI / 4 * diameter * diameter * pressure + 2 * WH_PI * width * diameter * factor * pressure;
    out[2] = WH_PI * width * diameter * seating;
    out[0] = fmax(out[1], out[2]);
}
WH_MANY(5, 3, gasket_load)

static double load_of_each(double load, double screws)
{
    return load / floor(screws);
}
WH_COLUMNS(2, load_of_each)

static double gasket_pressure(double load, double outside, double inside)
{
    return inside < outside ? load / (WH_PI / 4 * (outside * outside - inside * inside)) : NAN;
}
WH_COLUMNS(3, gasket_pressure)

static const char *ring_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "inside and outside of the gasket are mixed up" : NULL;
}

/* ---- mechanical seals ------------------------------------------------------------------------------------------ */

static double collar_place(double length, double proud, double joint)
{
    return length + proud - joint;
}
WH_COLUMNS(3, collar_place)

static void working_length(const double in[], double out[])
{
    out[0] = in[0] - in[1] + in[2];
    out[1] = out[0] - in[3];
}
WH_MANY(4, 2, working_length)

static const char *length_remark(const double in[], const double out[])
{
    (void)in;
    return fabs(out[1]) > 0.5e-3 ? "more than 0.5 mm off: too long leaks, too short burns the faces; move the collar"
                                 : NULL;
}

static double compression(double free_length, double length)
{
    return length < free_length ? free_length - length : NAN;
}
WH_COLUMNS(2, compression)

static const char *compression_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "its springs are not pressed at all: the faces do not close" : NULL;
}

static double balance(double outside, double inside, double sleeve)
{
    double o = outside * outside, i = inside * inside;
    return inside < outside ? (o - sleeve * sleeve) / (o - i) : NAN;
}
WH_COLUMNS(3, balance)

static const char *balance_remark(const double in[], const double out[])
{
    (void)in;
    if (isnan(out[0])) return "inside and outside of the face are mixed up";
    return out[0] < 0.6 ? "so little closes it that it may blow open" : NULL;
}

static double face_pressure(double spring, double sealed, double ratio, double back)
{
    return spring + sealed * (ratio - back);
}
WH_COLUMNS(4, face_pressure)

/* ---- the shaft under a lip ------------------------------------------------------------------------------------- */

static double lip_surface(double roughness)
{
    return roughness < 0.2e-6 ? -1 : roughness > 0.8e-6 ? 1 : 0;
}
WH_COLUMNS(1, lip_surface)

static const char *surface_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] < 0) return "too smooth: no oil stays under the lip";
    return out[0] > 0 ? "too rough: it wears the lip; plunge-grind it, no lead"
                      : "good, if there is no lead: plunge ground";
}

static double lip_hardness(double speed)
{
    return speed < 4 ? 45 : 55;
}
WH_COLUMNS(1, lip_hardness)

#define LENGTH(name, symbol, title)                                                                                    \
    {                                                                                                                  \
        name, symbol, "0..1000 mm", NULL, title                                                                        \
    }
#define ACROSS(name, symbol, title)                                                                                    \
    {                                                                                                                  \
        name, symbol, "1..5000 mm", NULL, title                                                                        \
    }
#define ASME "ASME Boiler and Pressure Vessel Code VIII-1, appendix 2"

static const struct wh_rule rules[] = {
    {.name = "seal.gasket-factor",
     .formula = "gasket factor and seating stress, table",
     .source = ASME ", table 2-5.1; from memory but for spiral-wound",
     .in = {{"gasket", "k", "gasket", NULL, "kind of gasket"}},
     .out = {{"gasket-factor", "m", "1", NULL, "gasket factor"},
             {"seating-stress", "y", "N/mm2", NULL, "pressure that seats it"}},
     WH_WORK(1, gasket_factor),
     .remark = factor_remark},
    {.name = "seal.gasket-width",
     .formula = "b = if(N/2 > 0.00635, sqrt(0.0254 N/2)/2, N/2); G = if(N/2 > 0.00635, D - 2 b, D - N)",
     .source = ASME ", table 2-5.2",
     .in = {ACROSS("outside", "D", "outside of the face that is in contact"),
            {"width", "N", "0.5..500 mm", NULL, "width of the face that is in contact"}},
     .out = {{"gasket-width", "b", "mm", NULL, "width that counts"},
             {"gasket-diameter", "G", "mm", NULL, "diameter where it presses"}},
     WH_WORK(2, gasket_width),
     .remark = ring_remark},
    {.name = "seal.gasket-load",
     .formula = "A = pi/4 G^2 p + 2 pi b G m p; B = pi b G y; W = max(A, B)",
     .source = ASME ", 2-5(c)",
     .in = {ACROSS("gasket-diameter", "G", "diameter where it presses"),
            {"gasket-width", "b", "0.1..100 mm", NULL, "width that counts"},
            {"gasket-factor", "m", "0..10 1", NULL, "gasket factor"},
            {"seating-stress", "y", "0..500 N/mm2", NULL, "pressure that seats it"},
            {"pressure", "p", "0..1000 bar", NULL, "pressure inside"}},
     .out = {{"gasket-load", "W", "N", NULL, "pull of all screws together, at least"},
             {"running-load", "A", "N", NULL, "under pressure"},
             {"seating-load", "B", "N", NULL, "to seat the gasket"}},
     WH_WORK(5, gasket_load)},
    {.name = "seal.screw-load",
     .formula = "pull of all over a whole number of screws",
     .source = "statics",
     .in = {{"gasket-load", "W", "0..100000000 N", NULL, "pull of all screws together"},
            {"count", "n", "1..200 1", NULL, "number of screws"}},
     .out = {{"screw-load", "F", "N", NULL, "pull of each screw, at least"}},
     WH_WORK(2, load_of_each)},
    {.name = "seal.gasket-pressure",
     .formula = "q = W/(pi/4 (D^2 - d^2))",
     .source = "statics",
     .in = {{"gasket-load", "W", "0..100000000 N", NULL, "pull of all screws together"},
            ACROSS("outside", "D", "outside of the gasket"),
            ACROSS("inside", "d", "inside of the gasket")},
     .out = {{"gasket-pressure", "q", "N/mm2", NULL, "pressure on the whole gasket"}},
     WH_WORK(3, gasket_pressure),
     .remark = ring_remark},

    {.name = "seal.collar-place",
     .formula = "x = l + h - t",
     .source = "geometry of the fitted seal",
     .in = {LENGTH("working-length", "l", "working length stated: seat's face to the back of the collar"),
            LENGTH("seat-proud", "h", "seat's face inside the joint face of the cover"),
            LENGTH("joint", "t", "thickness of the cover's gasket, pressed")},
     .out = {{"collar-place", "x", "mm", NULL, "back of the collar from the face of the box: scribe it on the shaft"}},
     WH_WORK(3, collar_place)},
    {.name = "seal.working-length",
     .formula = "l = x - h + t; e = l - s",
     .source = "geometry of the fitted seal",
     .in = {LENGTH("collar-place", "x", "back of the collar from the face of the box, measured"),
            LENGTH("seat-proud", "h", "seat's face inside the joint face of the cover"),
            LENGTH("joint", "t", "thickness of the cover's gasket, pressed"),
            LENGTH("stated-length", "s", "working length stated")},
     .out = {{"working-length", "l", "mm", NULL, "working length as it stands"},
             {"length-off", "e", "mm", NULL, "longer than stated"}},
     WH_WORK(4, working_length),
     .remark = length_remark},
    {.name = "seal.compression",
     .formula = "c = f - l",
     .source = "geometry of the fitted seal",
     .in = {LENGTH("free-length", "f", "length unpressed"), LENGTH("working-length", "l", "working length")},
     .out = {{"compression", "c", "mm", NULL, "how far its springs are pressed"}},
     WH_WORK(2, compression),
     .remark = compression_remark},
    {.name = "seal.balance-ratio",
     .formula = "B = (D^2 - s^2)/(D^2 - d^2)",
     .source = "Lebeck, Principles and Design of Mechanical Face Seals; from memory",
     .in = {ACROSS("outside", "D", "outside of the sealing face"), ACROSS("inside", "d", "inside of the sealing face"),
            ACROSS("sleeve", "s", "diameter that the sliding ring seals on")},
     .out = {{"balance-ratio", "B", "1", NULL, "share of the pressure that closes it"}},
     WH_WORK(3, balance),
     .remark = balance_remark},
    {.name = "seal.face-pressure",
     .formula = "q = f + p (B - k)",
     .source = "Lebeck, Principles and Design of Mechanical Face Seals; from memory",
     .in = {{"spring-pressure", "f", "0..10 N/mm2", NULL, "pressure of the springs on the face"},
            {"pressure", "p", "0..1000 bar", NULL, "pressure sealed"},
            {"balance-ratio", "B", "0..3 1", NULL, "balance ratio"},
            {"pressure-gradient", "k", "0..1 1", "0.5", "share of the pressure between the faces"}},
     .out = {{"face-pressure", "q", "N/mm2", NULL, "pressure of face on face"}},
     WH_WORK(4, face_pressure)},

    {.name = "seal.lip-surface",
     .formula = "v = if(R < 0.0000002, -1, if(R > 0.0000008, 1, 0))",
     .source = "lip seal practice to DIN 3760: Ra 0.2 to 0.8 um, plunge ground, no lead",
     .in = {{"roughness", "R", "0.01..10 um", NULL, "Ra of the shaft under the lip"}},
     .out = {{"lip-surface", "v", "1", NULL, "-1 too smooth, 0 good, 1 too rough"}},
     WH_WORK(1, lip_surface),
     .remark = surface_remark},
    {.name = "seal.lip-hardness",
     .formula = "H = if(v < 4, 45, 55)",
     .source = "lip seal practice to DIN 3760: 45 HRC, 55 from 4 m/s or in dirt",
     .in = {{"lip-speed", "v", "0..100 m/s", NULL, "speed under the lip"}},
     .out = {{"lip-hardness", "H", "1", NULL, "Rockwell C of the shaft under the lip, at least"}},
     WH_WORK(1, lip_hardness)},
};

static const struct wh_vocabulary vocabularies[] = {
    {"gasket", "kind of gasket", "spiral-wound", gasket_read, gasket_print, gasket_list},
};

const struct wh_subject wh_gasket = {.name = "seal",
                                     .title = "Gaskets, mechanical seals, shafts under lips",
                                     .rules = rules,
                                     .rule_count = sizeof rules / sizeof rules[0],
                                     .vocabularies = vocabularies,
                                     .vocabulary_count = sizeof vocabularies / sizeof vocabularies[0]};
