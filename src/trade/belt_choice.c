/* belt_choice.c - choosing and judging a belt: standard lengths, toothed belts, crown, setting pull, life, bearings. */
#include "trade/belt_slots.h"
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

/* ---- standard lengths -------------------------------------------------------------------------------------------- */

static const char *const length_words[] = {"R20", "R40", "A", "B", "C", "XL", "L", "H"};
WH_WORDS(length, length_words)
enum { LISTS = sizeof length_words / sizeof length_words[0], INCH_LISTS = 2, ROOM = 80 };

/* R20 and R40 in mm, the others in tenths of an inch; 0 ends a list. XL, L and H are ten times the inches they name. */
static const short lengths[LISTS][ROOM] = {
    {200,  224,  250,  280,  315,  355,  400,  450,  500,  560,  630,  710,  800,  900,  1000, 1120, 1250, 1400, 1600,
     1800, 2000, 2240, 2500, 2800, 3150, 3550, 4000, 4500, 5000, 5600, 6300, 7100, 8000, 9000, 10000, 11200, 12500},
    {200,  212,  224,  236,  250,  265,  280,  300,  315,  335,  355,  375,  400,  425,  450,  475,  500,   530,   560,
     600,  630,  670,  710,  750,  800,  850,  900,  950,  1000, 1060, 1120, 1180, 1250, 1320, 1400, 1500,  1600,  1700,
     1800, 1900, 2000, 2120, 2240, 2360, 2500, 2650, 2800, 3000, 3150, 3350, 3550, 3750, 4000, 4250, 4500,  4750,  5000,
     5300, 5600, 6000, 6300, 6700, 7100, 7500, 8000, 8500, 9000, 9500, 10000, 10600, 11200, 11800, 12500},
    {273, 323, 363, 393, 433, 473, 523, 563, 613, 693, 763, 813, 863, 913, 973, 1063, 1133, 1213, 1293},
    {368,  398,  438,  478,  528,  568,  618,  698,  768,  828,  868,  918,  988, 1068,
     1138, 1218, 1298, 1458, 1598, 1748, 1818, 1968, 2118, 2403, 2703, 3003},
    {539,  629,  709,  779,  839,  879,  929,  989,  1079, 1149, 1229, 1309, 1469,
     1609, 1759, 1829, 1979, 2129, 2409, 2709, 3009, 3309, 3609, 3909, 4209},
    {60, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 170, 180, 190, 200, 210, 220, 230, 240, 250, 260},
    {124, 150, 187, 210, 225, 240, 255, 270, 285, 300, 322, 345, 367, 390, 420, 450, 480, 510, 540, 600},
    {240, 270, 300, 330, 360, 390, 420, 450,  480,  510,  540,  570, 600,
     630, 660, 700, 750, 800, 850, 900, 1000, 1100, 1250, 1400, 1700},
};

static double nearest(double wanted, double below, double above)
{
    if (isnan(below) || (isnan(above) && below < wanted * (1 - 1e-9))) return NAN;
    return above - wanted < wanted - below ? above : below;
}

static void standard_length(const double in[], double out[])
{
    size_t list = (size_t)in[1];
    double unit = list < INCH_LISTS ? 1e-3 : 2.54e-3, wanted = in[0];
    out[1] = out[2] = NAN;
    for (size_t i = 0; lengths[list][i] > 0; i++) {
        double length = lengths[list][i] * unit;
        if (length <= wanted * (1 + 1e-9)) out[1] = length;
        else if (isnan(out[2])) out[2] = length;
    }
    out[0] = nearest(wanted, out[1], out[2]);
}
WH_MANY(2, 3, standard_length)

static const char *length_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the list has no belt of about this length" : NULL;
}

/* ---- toothed belts ----------------------------------------------------------------------------------------------- */

static double toothed_pulley(double teeth, double pitch)
{
    return teeth * pitch / WH_PI;
}
WH_COLUMNS(2, toothed_pulley)

static void teeth_of_length(const double in[], double out[])
{
    out[0] = floor(in[0] / in[1] + 0.5);
    out[1] = out[0] * in[1];
}
WH_MANY(2, 2, teeth_of_length)

static void teeth_in_mesh(const double in[], double out[])
{
    out[0] = floor(in[0] * in[1] / (2 * WH_PI) * (1 + 1e-12));
    out[1] = out[0] >= 6 ? 1 : out[0] < 2 ? NAN : 1 - 0.2 * (6 - out[0]);
}
WH_MANY(2, 2, teeth_in_mesh)

static const char *mesh_remark(const double in[], const double out[])
{
    (void)in;
    if (isnan(out[1])) return "fewer than two teeth hold: a larger pulley or an idler";
    return out[1] < 1 ? "fewer than six teeth hold: each one less takes a fifth of what it carries" : NULL;
}

static double toothed_power(double allowed, double mesh, double share, double mass, double v)
{
    return (mesh * share * allowed - mass * v * v) * v;
}
WH_COLUMNS(5, toothed_power)

static const char *toothed_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] <= 0 ? "at this speed its own mass uses up what it may carry" : NULL;
}

static double width_share(double width, double tabulated)
{
    return pow(width / tabulated, 1.14);
}
WH_COLUMNS(2, width_share)

/* Half of what it carries keeps the slack strand from going loose at rest; the share is what is taken for safety. */
static double toothed_pull(double needed, double share)
{
    return share * needed;
}
WH_COLUMNS(2, toothed_pull)

static const char *toothed_pull_remark(const double in[], const double out[])
{
    (void)out;
    return in[1] < 0.5 ? "less than half of the load: the slack strand goes loose and teeth climb" : NULL;
}

/* ---- V-belts and crowns ------------------------------------------------------------------------------------------ */

static const char *const section_words[] = {"A", "B", "C", "D", "E"};
WH_WORDS(section, section_words)

static void section(const double in[], double out[])
{
    static const double sections[][4] = {{13e-3, 8e-3, 75e-3, 1.06}, {17e-3, 11e-3, 125e-3, 1.89},
                                         {22e-3, 14e-3, 200e-3, 3.43}, {32e-3, 19e-3, 355e-3, 5.96},
                                         {38e-3, 23e-3, 500e-3, NAN}};
    for (int k = 0; k < 4; k++) out[k] = sections[(size_t)in[0]][k];
    out[3] /= 9.81; /* printed in N for a metre */
}
WH_MANY(1, 4, section)

static const char *section_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[3]) ? "the table has no mass for this section: weigh a length of it" : NULL;
}

static double crown(double pulley)
{
    static const double steps[][2] = {{112, 0.3}, {140, 0.4}, {180, 0.5}, {224, 0.6}, {280, 0.8}, {710, 1.0}};
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++)
        if (pulley * 1e3 <= steps[i][0] * (1 + 1e-9)) return steps[i][1] * 1e-3;
    return NAN;
}
WH_COLUMNS(1, crown)

static const char *crown_remark(const double in[], const double out[])
{
    if (isnan(out[0])) return "above 710 mm the crown goes by the width as well: look it up in ISO 22";
    return in[0] > 0.355 ? "for belts up to 125 mm wide; a wider belt takes more: ISO 22"
                         : "one pulley crowned, as a rule the larger; the belt climbs to where it is highest";
}

/* ---- setting pull, there and back -------------------------------------------------------------------------------- */

static double pull_from_power(double power, double v, double mu, double theta, double thrown, double service)
{
    double grip = exp(mu * theta);
    return thrown + service * power / v * (grip + 1) / (2 * (grip - 1));
}
WH_COLUMNS(6, pull_from_power)

static double deflection_for_pull(double pull, double push, double free)
{
    return push * free / (4 * pull);
}
WH_COLUMNS(3, deflection_for_pull)

static const char *deep_remark(const double in[], const double out[])
{
    return out[0] > 0.02 * in[2] ? "so deep a push stretches the belt itself: push less hard" : NULL;
}

/* ---- life and bearings ------------------------------------------------------------------------------------------- */

static double flex_rate(double pulleys, double v, double length)
{
    return pulleys * v / length;
}
WH_COLUMNS(3, flex_rate)

static const char *flex_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] > 100) return "more bends a second than even thin flat belts of polyamide bear";
    return out[0] > 30 ? "more bends a second than wrapped V-belts bear: a thin flat or a notched belt" : NULL;
}

static double bending_pull(double coefficient, double pulley)
{
    return coefficient / pulley;
}
WH_COLUMNS(2, bending_pull)

static double passes(double strength, double exponent, double one, double other)
{
    return 1 / (pow(one / strength, exponent) + pow(other / strength, exponent));
}
WH_COLUMNS(4, passes)

static const char *passes_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] > 1e10) return "beyond what was tested: more than 10,000 million passes, no more can be said";
    return out[0] < 1e8 ? "fewer than 100 million passes, where the figures end: too small a pulley or too few "
        "belts" : NULL;
}

static double hours(double count, double length, double v)
{
    return count * length / v;
}
WH_COLUMNS(3, hours)

static const char *hours_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "clean, in line and cool; heat, oil, slip and dirt end it sooner";
}

static double heat_share(double T, double reference, double step)
{
    return pow(2, (reference - T) / step);
}
WH_COLUMNS(3, heat_share)

static const char *heat_remark(const double in[], const double out[])
{
    (void)out;
    return in[0] > 343.15 ? "hotter than rubber belts bear for long" : NULL;
}

static double life_share(double pull, double wanted, double p)
{
    return pow(wanted / pull, p);
}
WH_COLUMNS(3, life_share)

static const char *life_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] < 0.5) return "pulled so much too tight, the bearing under the belt lives less than half as long";
    return out[0] > 2 ? "so slack a belt slips: the bearing gains, the belt burns" : NULL;
}

#define LENGTH_WANTED {"length", "Lb", "100..12500 mm", .title = "length wanted"}
#define TOOTH_PITCH {"tooth-pitch", "p", "0.5..50 mm", .title = "pitch of the teeth"}
#define TEETH {"teeth", "z", "5..500 1", .title = "teeth of the small pulley"}
#define MOVING {"speed", "v", "0.1..150 m/s", .title = "speed of the belt"}
#define ROUND {"length", "Lb", "30..100000 mm", .title = "length of the belt"}
#define SHIGLEY "Budynas & Nisbett, Shigley's Mechanical Engineering Design, "
#define TOOTHED "ISO 5295, from memory"

static const struct wh_rule rules[] = {
    {.name = "belt.standard-length", .formula = "the nearest length of the list, and its neighbours",
     .source = "ISO 3, series R20 and R40; A, B and C: datum lengths of ANSI/RMA IP-20 in Machinery's Handbook, 31st "
         "ed., "
               "p. 2575; XL, L and H: ISO 5296, from memory",
     .in = {LENGTH_WANTED, {"lengths", "s", "belt-lengths", .title = "list it is taken from"}},
     .out = {LENGTH("standard-length", "L", "nearest standard length"), LENGTH("next-shorter", "L1", "next shorter"),
             LENGTH("next-longer", "L2", "next longer")},
     WH_WORK(2, standard_length), .remark = length_remark},
    {.name = "belt.toothed-pulley", .formula = "d = z p/pi", .source = "definition of the pitch; ISO 5294",
     .in = {TEETH, TOOTH_PITCH}, .out = {LENGTH("toothed-pulley", "d", "pitch diameter of the pulley")},
     WH_WORK(2, toothed_pulley)},
    {.name = "belt.teeth-of-length", .formula = "nearest whole number of pitches in the length", .source = "definition",
     .in = {LENGTH_WANTED, TOOTH_PITCH},
     .out = {{"teeth-of-length", "zb", "1", .title = "teeth of the belt"}, LENGTH("toothed-length", "L", "its length")},
     WH_WORK(2, teeth_of_length)},
    {.name = "belt.teeth-in-mesh", .formula = "whole teeth in the wrap; from six on the factor is one, each less "
        "takes 0.2",
     .source = TOOTHED, .in = {TEETH, WRAP},
     .out = {{"teeth-in-mesh", "zm", "1", .title = "teeth that hold on the small pulley"},
             {"mesh-factor", "kz", "1", .title = "share it carries for that"}},
     WH_WORK(2, teeth_in_mesh), .remark = mesh_remark},
    {.name = "belt.width-share", .formula = "kw = (b/b0)^1.14", .source = TOOTHED,
     .in = {WIDTH, {"tabulated-width", "b0", "1..2000 mm", .title = "width the allowed pull is tabulated for"}},
     .out = {{"width-share", "kw", "1", .title = "share a belt of this width carries"}}, WH_WORK(2, width_share)},
    {.name = "belt.toothed-power", .formula = "P = (kz kw Ta - m v^2) v", .source = TOOTHED,
     .in = {{"allowed-pull", "Ta", "1..100000 N", .title = "allowed pull at the tabulated width"},
            {"mesh-factor", "kz", "0.2..1 1", .usual = "1", .title = "share for the teeth in mesh"},
            {"width-share", "kw", "0.01..5 1", .usual = "1", .title = "share for the width"}, MASS, SPEED},
     .out = {{"toothed-power", "P", "kW", .title = "power a toothed belt may carry"}}, WH_WORK(5, toothed_power),
     .remark = toothed_remark},
    {.name = "belt.toothed-pull", .formula = "F = x U", .source = "common practice: half of the load and a little more",
     .in = {NEEDED, {"share", "x", "0.3..1.5 1", .usual = "0.5..0.7", .title = "share of the load"}},
     .out = {PULLS("toothed-pull", "F", "pull of a strand at rest, toothed belt")}, WH_WORK(2, toothed_pull),
     .remark = toothed_pull_remark},
    {.name = "belt.section", .formula = "table of V-belt sections",
     .source = "Khurmi & Gupta, A Textbook of Machine Design, table 20.1, after IS 2494; from memory",
     .in = {{"section", "s", "belt-section", .title = "section of the V-belt"}},
     .out = {LENGTH("section", "w", "width at the top"), LENGTH("section-height", "h", "height"),
             LENGTH("least-pulley", "dm", "least pitch diameter of a pulley"),
             {"section-mass", "m", "kg/m", .title = "mass of a metre of belt"}},
     WH_WORK(1, section), .remark = section_remark},
    {.name = "belt.crown", .formula = "table of ISO 22, by the pulley's diameter",
     .source = "ISO 22, from memory but for the diameters read in Jindal, Machine Design, table 20-4",
     .in = {{"pulley", "d", "40..2000 mm", .title = "diameter of the crowned pulley"}},
     .out = {LENGTH("crown", "h", "middle higher than the rim by, on the radius")}, WH_WORK(1, crown),
     .remark = crown_remark},
    {.name = "belt.pull-from-power", .formula = "F = Fc + K P (exp(mu theta) + 1)/(2 v (exp(mu theta) - 1))",
     .source = "Eytelwein; " SHIGLEY "eqs. (17-7) and (17-9)", .in = {POWER, MOVING, FRICTION, WRAP, THROWN, SERVICE},
     .out = {PULLS("pull-from-power", "F", "pull of a strand at rest, least")}, WH_WORK(6, pull_from_power)},
    {.name = "belt.deflection-for-pull", .formula = "h = Q L/(4 F)",
     .source = "statics; the further stretch is left out",
     .in = {{"setting-pull", "F", "1..1000000 N", .title = "pull wanted in a strand"},
            {"push", "Q", "0..10000 N", .title = "push across the middle"}, SPAN},
     .out = {LENGTH("deflection-for-pull", "h", "pushed in at the middle")}, WH_WORK(3, deflection_for_pull),
     .remark = deep_remark},
    {.name = "belt.flex-rate", .formula = "f = z v/Lb", .source = "kinematics; limits common practice, from memory",
     .in = {{"pulleys", "z", "1..20 1", .usual = "2", .title = "pulleys and idlers it runs over"}, MOVING, ROUND},
     .out = {{"flex-rate", "f", "1/s", .title = "bends a second"}}, WH_WORK(3, flex_rate), .remark = flex_remark},
    {.name = "belt.bending-pull", .formula = "Fb = Kb/d", .source = SHIGLEY "eq. (17-26) and table 17-16",
     .in = {{"bending-coefficient", "Kb", "0.1..10000 N m", .title = "of the section"},
            {"pulley", "d", "20..5000 mm", .title = "diameter of the pulley"}},
     .out = {PULLS("bending-pull", "Fb", "pull that bending adds")}, WH_WORK(2, bending_pull)},
    {.name = "belt.passes", .formula = "N = 1/((T1/K)^b + (T2/K)^b)", .source = SHIGLEY "eq. (17-27)",
     .in = {{"durability-pull", "K", "100..100000 N", .title = "of the section, table 17-17"},
            {"durability-exponent", "b", "5..20 1", .title = "of the section, table 17-17"},
            {"pull-one", "T1", "10..100000 N", .title = "tight strand and bending, one pulley"},
            {"pull-other", "T2", "10..100000 N", .title = "tight strand and bending, the other"}},
     .out = {{"passes", "N", "1", .title = "times round before it fails"}}, WH_WORK(4, passes),
            .remark = passes_remark},
    {.name = "belt.hours", .formula = "t = N Lb/v", .source = SHIGLEY "eq. (17-28)",
     .in = {{"passes", "N", "1..1e12 1", .title = "times round before it fails"}, ROUND, MOVING},
     .out = {{"hours", "t", "h", .title = "life of the belt"}}, WH_WORK(3, hours), .remark = hours_remark},
    {.name = "belt.heat-share", .formula = "x = 2^((T0 - T)/s)",
     .source = "common practice: rubber ages twice as fast for each 10 K; from memory",
     .in = {{"belt-temperature", "T", "-30..120 degC", .title = "temperature of the belt"},
            {"reference-temperature", "T0", "0..80 degC", .usual = "35 degC",
             .title = "temperature the life is stated for"},
            {"halving-step", "s", "5..20 K", .usual = "10 K", .title = "warmer by this halves its life"}},
     .out = {{"heat-share", "x", "1", .title = "share of its life that is left by the heat"}}, WH_WORK(3, heat_share),
     .remark = heat_remark},
    {.name = "belt.life-share", .formula = "x = (F0/F)^p", .source = "ISO 281:2007, 5.3: life goes by the load's power",
     .in = {{"strand-pull", "F", "1..1000000 N", .title = "pull of a strand, as found"},
            {"setting-pull", "F0", "1..1000000 N", .title = "pull it should have"},
            {"life-exponent", "p", "2..5 1", .usual = "3", .title = "3 for balls, 10/3 for rollers"}},
     .out = {{"life-share", "x", "1", .title = "bearing's life with this pull, to that with the right one"}},
     WH_WORK(3, life_share), .remark = life_remark},
};

static const struct wh_vocabulary vocabularies[] = {
    {.name = "belt-lengths", .title = "list of standard belt lengths", .example = "R20", WH_WORDS_ENTRY(length)},
    {.name = "belt-section", .title = "section of a V-belt", .example = "B", WH_WORDS_ENTRY(section)},
};

const struct wh_subject wh_belt_choice = {
    .name = "belt", .title = "Belts: choice, pull and life", .rules = rules, .rule_count = sizeof rules / sizeof *rules,
    .vocabularies = vocabularies, .vocabulary_count = sizeof vocabularies / sizeof *vocabularies};
