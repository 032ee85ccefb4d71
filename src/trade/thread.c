/* thread.c - screws: sizes, strength, pull and torque, what the wrench is set to, and how deep they must sit. */
#include "trade/rule.h"
#include "trade/thread_table.h"
#include "trade/words.h"

#include <math.h>

/* ---- sizes ------------------------------------------------------------------------------------------------------ */

static void diameter(const double in[], double out[])
{
    out[0] = wh_thread_diameter(in[0]);
    out[1] = wh_thread_pitch(in[0]);
}
WH_MANY(1, 2, diameter)

static const char *const head_words[] = {"hexagon", "socket"};
WH_WORDS(head, head_words)

static double head_mean(double bearing, double hole)
{
    return (bearing + hole) / 2;
}
WH_COLUMNS(2, head_mean)

static void head_bearing(const double in[], double out[])
{
    struct wh_thread thread = {.hexagon_bearing = NAN, .socket_bearing = NAN, .hole = NAN};
    wh_thread_of_code(in[0], &thread);
    out[0] = in[1] < 0.5 ? thread.hexagon_bearing : thread.socket_bearing;
    out[1] = thread.hole;
    out[2] = head_mean(out[0], out[1]);
}
WH_MANY(2, 3, head_bearing)

static const char *head_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[2]) ? "no head of this size is tabulated: measure the face it bears on and the hole" : NULL;
}

static const char *size_remark(const double in[], const double out[])
{
    (void)out;
    return in[1] > in[0] / 4 ? "far too coarse a pitch for this diameter" : NULL;
}

static double pitch_diameter(double d, double pitch)
{
    return d - 0.649519 * pitch;
}
WH_COLUMNS(2, pitch_diameter)

static void minor_diameter(const double in[], double out[])
{
    out[0] = in[0] - 1.226869 * in[1];
    out[1] = in[0] - 1.082532 * in[1];
}
WH_MANY(2, 2, minor_diameter)

/* The diameter of the stress area: the mean of pitch diameter and root. */
static double stress_diameter(double d, double pitch)
{
    return d - 0.938194 * pitch;
}

static double stress_area(double d, double pitch)
{
    return WH_PI * stress_diameter(d, pitch) * stress_diameter(d, pitch) / 4;
}
WH_COLUMNS(2, stress_area)

static double tapping_drill(double d, double pitch)
{
    return d - pitch;
}
WH_COLUMNS(2, tapping_drill)

/* ---- strength --------------------------------------------------------------------------------------------------- */

/* How a class counts for the depth of thread it needs. */
enum group { GROUP_SOFT, GROUP_MIDDLE, GROUP_88, GROUP_109, GROUP_129, GROUPS };

static const char *const strength_words[] = {"4.6",  "4.8",   "5.6",   "5.8",   "6.8",   "8.8",   "9.8",   "10.9",
                                             "12.9", "A2-50", "A2-70", "A2-80", "A4-50", "A4-70", "A4-80"};
WH_WORDS(strength, strength_words)
enum { STRENGTHS = sizeof strength_words / sizeof strength_words[0], STRENGTH_88 = 5 };

/* Yield (or 0.2 % proof) strength, tensile strength, proof stress (0: the standard has none), in MPa. */
static const struct strength {
    double yield, tensile, proof;
    enum group group;
} strengths[STRENGTHS] = {
    {240, 400, 225, GROUP_SOFT},    {340, 420, 310, GROUP_MIDDLE}, {300, 500, 280, GROUP_MIDDLE},
    {420, 520, 380, GROUP_MIDDLE},  {480, 600, 440, GROUP_MIDDLE}, {640, 800, 580, GROUP_88},
    {720, 900, 650, GROUP_109},     {940, 1040, 830, GROUP_109},   {1100, 1220, 970, GROUP_129},
    {210, 500, 0, GROUP_MIDDLE},    {450, 700, 0, GROUP_88},       {600, 800, 0, GROUP_88},
    {210, 500, 0, GROUP_MIDDLE},    {450, 700, 0, GROUP_88},       {600, 800, 0, GROUP_88},
};
static const struct strength thick_88 = {660, 830, 600, GROUP_88}; /* 8.8 above 16 mm */

static struct strength strength_of(double code, double d)
{
    size_t place = (size_t)code;
    return place == STRENGTH_88 && d > 16.0005e-3 ? thick_88 : strengths[place];
}

static void yield(const double in[], double out[])
{
    struct strength strength = strength_of(in[0], in[1]);
    out[0] = strength.yield * 1e6;
    out[1] = strength.tensile * 1e6;
}
WH_MANY(2, 2, yield)

static const char *yield_remark(const double in[], const double out[])
{
    (void)out;
    bool stainless = strength_of(in[0], in[1]).proof < 1;
    return stainless && in[1] > 24.0005e-3 ? "above M24 the strength of stainless screws is as agreed with their maker"
                                           : NULL;
}

static double proof_stress(double code, double d)
{
    double proof = strength_of(code, d).proof;
    return proof > 0 ? proof * 1e6 : NAN;
}
WH_COLUMNS(2, proof_stress)

static const char *proof_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "stainless classes have no proof stress: take the yield strength" : NULL;
}

static double load(double area, double stress)
{
    return area * stress;
}
WH_COLUMNS(2, load)

/* ---- friction, pull and torque ---------------------------------------------------------------------------------- */

static void friction(const double in[], double out[])
{
    wh_thread_friction(in[0], &out[0], &out[1]);
}
WH_MANY(1, 2, friction)

/* How much more the shank is stressed than by its pull alone, since it is twisted too. */
static double twist(double d, double pitch, double mu)
{
    double ratio = 1.5 * (pitch / WH_PI + 1.155 * mu * pitch_diameter(d, pitch)) / stress_diameter(d, pitch);
    return sqrt(1 + 3 * ratio * ratio);
}

static double preload(double d, double pitch, double strength, double mu, double share)
{
    return share * strength * stress_area(d, pitch) / twist(d, pitch, mu);
}
WH_COLUMNS(5, preload)

/* The torque that a pull of one newton asks. */
static double lever(double d, double pitch, double mu, double mu_head, double mean)
{
    return 0.16 * pitch + 0.58 * mu * pitch_diameter(d, pitch) + mu_head * mean / 2;
}

static double torque(double pull, double d, double pitch, double mu, double mu_head, double mean)
{
    return pull * lever(d, pitch, mu, mu_head, mean);
}
WH_COLUMNS(6, torque)

static double assembly_torque(double d, double pitch, double strength, double mu, double mu_head, double mean,
                              double share)
{
    return torque(preload(d, pitch, strength, mu, share), d, pitch, mu, mu_head, mean);
}
WH_COLUMNS(7, assembly_torque)

/* Down to a mark that wrenches have. What lies half a percent under a mark, the rounding of printed torque tables,
 * counts as that mark. */
static double usable(double full)
{
    double step = full < 9.95 ? 0.5 : full < 99.5 ? 1 : full < 498 ? 5 : 10;
    return step * floor(full * 1.005 / step);
}

static void wrench_setting(const double in[], double out[])
{
    out[1] = assembly_torque(in[0], in[1], in[2], in[3], in[3], in[4], in[5]);
    double setting = usable(out[1]);
    out[0] = setting > 0 ? setting : NAN;
}
WH_MANY(6, 2, wrench_setting)

static const char *wrench_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "too small for a wrench: a torque screwdriver, to the torque itself" : NULL;
}

static double preload_from_torque(double wrench, double d, double pitch, double mu, double mu_head, double mean)
{
    return wrench / lever(d, pitch, mu, mu_head, mean);
}
WH_COLUMNS(6, preload_from_torque)

static double utilisation(double pull, double d, double pitch, double strength, double mu)
{
    return pull * twist(d, pitch, mu) / (strength * stress_area(d, pitch));
}
WH_COLUMNS(5, utilisation)

static const char *utilisation_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] > 1) return "stretched past its yield strength: not this pull on this screw";
    return out[0] > 0.92 ? "more than the usual nine tenths of the yield strength" : NULL;
}

static double loosening_torque(double pull, double d, double pitch, double mu, double mu_head, double mean)
{
    return pull * (lever(d, pitch, mu, mu_head, mean) - 0.32 * pitch);
}
WH_COLUMNS(6, loosening_torque)

static const char *loosening_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] <= 0 ? "does not hold itself: it runs off by its own pull" : "rust, locker and galling come on top";
}

static double torque_coefficient(double torque_used, double d, double pull)
{
    return torque_used / (pull * d);
}
WH_COLUMNS(3, torque_coefficient)

static double torque_by_coefficient(double coefficient, double d, double pull)
{
    return coefficient * d * pull;
}
WH_COLUMNS(3, torque_by_coefficient)

static double coefficient_from_friction(double d, double pitch, double mu, double mu_head, double mean)
{
    return lever(d, pitch, mu, mu_head, mean) / d;
}
WH_COLUMNS(5, coefficient_from_friction)

/* ---- scatter ---------------------------------------------------------------------------------------------------- */

static double tightening_factor(double scatter)
{
    return (1 + scatter) / (1 - scatter);
}
WH_COLUMNS(1, tightening_factor)

static const char *const method_words[] = {"yield-controlled", "hydraulic",    "torque-wrench-tested",
                                           "torque-wrench",    "power-driver", "impact-driver"};
WH_WORDS(method, method_words)

static void method_factor(const double in[], double out[])
{
    static const double factors[][2] = {{1.2, 1.4}, {1.2, 1.6}, {1.4, 1.6}, {1.6, 2.0}, {1.7, 2.5}, {2.5, 4.0}};
    out[0] = factors[(size_t)in[0]][0];
    out[1] = factors[(size_t)in[0]][1];
}
WH_MANY(1, 2, method_factor)

static double least_preload(double pull, double factor)
{
    return pull / factor;
}
WH_COLUMNS(2, least_preload)

/* ---- the ring and its seat -------------------------------------------------------------------------------------- */

static double clamp_load(double count, double pull)
{
    return count * pull;
}
WH_COLUMNS(2, clamp_load)

static double holding_force(double clamp, double mu)
{
    return clamp * mu;
}
WH_COLUMNS(2, holding_force)

static const char *const tapped_words[] = {"steel",      "cast-iron", "bronze",     "aluminium",  "S235",
                                           "S355",       "42CrMo4",   "EN-GJL-250", "Al99.5",     "cast-aluminium"};
WH_WORDS(tapped, tapped_words)

/* Times the diameter; 0: no figure is published for so strong a screw. The first four are the workshop's rule, which
 * holds to class 8.8. The steels are tabulated from 8.8 on; weaker screws then need no more. */
static double engagement_ratio(double tapped, double strength)
{
    static const double ratios[][GROUPS] = {
        {1, 1, 1, 0, 0},       {1.5, 1.5, 1.5, 0, 0},   {1.5, 1.5, 1.5, 0, 0},     {2, 2, 2, 0, 0},
        {1, 1, 1, 1.25, 1.4},  {0.9, 0.9, 0.9, 1, 1.2}, {0.8, 0.8, 0.8, 0.9, 1.0}, {1, 1, 1, 1.25, 1.4},
        {2, 2, 2, 2.5, 0},     {1.6, 2.2, 0, 0, 0},
    };
    double ratio = ratios[(size_t)tapped][strength_of(strength, 0).group];
    return ratio > 0 ? ratio : NAN;
}
WH_COLUMNS(2, engagement_ratio)

static double least_engagement(double d, double tapped, double strength)
{
    return d * engagement_ratio(tapped, strength);
}
WH_COLUMNS(3, least_engagement)

static const char *engagement_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "no depth is published for so strong a screw in this material: the maker's, or an insert"
                         : NULL;
}

static double cure_time(double temperature)
{
    return 7200 * pow(2, (293.15 - temperature) / 10);
}
WH_COLUMNS(1, cure_time)

static const char *cure_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "the sheet of the locker decides; stainless and plated threads cure slower without activator";
}

/* ---- the rules -------------------------------------------------------------------------------------------------- */

#define DIAMETER {"diameter", "d", "1..100 mm", .title = "thread diameter"}
#define PITCH {"pitch", "P", "0.2..6 mm", .title = "pitch"}
#define STRENGTH {"strength", "class", "strength", .title = "property class"}
#define YIELD {"yield", "R", "100..2000 MPa", .title = "yield or 0.2 % proof strength"}
#define IN_THREAD {"thread-friction", "mu", "0.02..0.6 1", .title = "friction in the thread"}
#define UNDER_HEAD {"head-friction", "muk", "0..0.6 1", .title = "friction under the head"}
#define HEAD_MEAN {"head-mean", "D", "0..200 mm", .title = "mean diameter of the face under the head"}
#define SHARE {"utilisation", "nu", "0.05..1 1", .usual = "0.9", .title = "share of the yield strength used"}
#define PULL {"preload", "F", "0.. kN", .title = "pull of one screw"}
#define NEWTONS(name, symbol, says) {name, symbol, "kN", .title = says}
#define MOMENT(name, symbol, says) {name, symbol, "N m", .title = says}
#define GUIDELINE "VDI 2230-1"

static const struct wh_rule rules[] = {
    {.name = "thread.diameter", .formula = "ISO 261, table 2: what the designation says", .source = "ISO 261, table 2",
     .in = {{"thread", "M", "thread", .title = "designation"}},
     .out = {{"diameter", "d", "mm", .title = "thread diameter"}, {"pitch", "P", "mm", .title = "pitch"}},
     WH_WORK(1, diameter)},
    {.name = "thread.pitch-diameter", .formula = "d2 = d - 0.649519 P", .source = "ISO 724", .in = {DIAMETER, PITCH},
     .out = {{"pitch-diameter", "d2", "mm", .title = "pitch diameter"}}, WH_WORK(2, pitch_diameter),
     .remark = size_remark},
    {.name = "thread.minor-diameter", .formula = "d3 = d - 1.226869 P; d1 = d - 1.082532 P",
     .source = "ISO 724, ISO 68-1", .in = {DIAMETER, PITCH},
     .out = {{"minor-diameter", "d3", "mm", .title = "root diameter of the screw"},
             {"nut-minor-diameter", "d1", "mm", .title = "bore of the nut"}}, WH_WORK(2, minor_diameter),
     .remark = size_remark},
    {.name = "thread.stress-area", .formula = "A = pi (d - 0.938194 P)^2/4", .source = "ISO 898-1, 9.1.6.1",
     .in = {DIAMETER, PITCH}, .out = {{"stress-area", "A", "mm2", .title = "stress area"}}, WH_WORK(2, stress_area),
     .remark = size_remark},
    {.name = "thread.tapping-drill", .formula = "k = d - P", .source = "common practice", .in = {DIAMETER, PITCH},
     .out = {{"tapping-drill", "k", "mm", .title = "drill for tapping"}}, WH_WORK(2, tapping_drill)},
    {.name = "thread.head-bearing", .formula = "ISO 4014, ISO 4762 and ISO 273 (medium): tables",
     .source = "ISO 4014, ISO 4762, ISO 273; from memory",
     .in = {{"thread", "M", "thread", .title = "designation"},
            {"head", "k", "head", .usual = "hexagon", .title = "kind of head"}},
     .out = {{"head-bearing", "dw", "mm", .title = "outside of the face under the head"},
             {"head-hole", "dh", "mm", .title = "clearance hole"},
             {"head-mean", "D", "mm", .title = "mean diameter of the face under the head"}},
     WH_WORK(2, head_bearing), .remark = head_remark},
    {.name = "thread.head-mean", .formula = "D = (dw + dh)/2", .source = GUIDELINE,
     .in = {{"head-bearing", "dw", "1..200 mm", .title = "outside of the face under the head"},
            {"head-hole", "dh", "1..200 mm", .title = "clearance hole"}},
     .out = {{"head-mean", "D", "mm", .title = "mean diameter of the face under the head"}}, WH_WORK(2, head_mean)},
    {.name = "thread.yield", .formula = "ISO 898-1, table 3, and ISO 3506-1, table 2",
     .source = "ISO 898-1:2013, table 3; ISO 3506-1, table 2 from memory", .in = {STRENGTH, DIAMETER},
     .out = {{"yield", "R", "MPa", .title = "yield or 0.2 % proof strength, least"},
             {"tensile", "Rm", "MPa", .title = "tensile strength, least"}},
     WH_WORK(2, yield), .remark = yield_remark},
    {.name = "thread.proof-stress", .formula = "ISO 898-1, table 3", .source = "ISO 898-1:2013, table 3",
     .in = {STRENGTH, DIAMETER}, .out = {{"proof-stress", "Sp", "MPa", .title = "stress under proof load"}},
     WH_WORK(2, proof_stress), .remark = proof_remark},
    {.name = "thread.proof-load", .formula = "Fp = A Sp", .source = "ISO 898-1:2013, table 5",
     .in = {{"stress-area", "A", "0.. mm2", .title = "stress area"},
            {"proof-stress", "Sp", "50..2000 MPa", .title = "stress under proof load"}},
     .out = {NEWTONS("proof-load", "Fp", "proof load")}, WH_WORK(2, load)},
    {.name = "thread.least-ultimate-load", .formula = "Fm = A Rm", .source = "ISO 898-1:2013, table 4",
     .in = {{"stress-area", "A", "0.. mm2", .title = "stress area"},
            {"tensile", "Rm", "50..3000 MPa", .title = "tensile strength, least"}},
     .out = {NEWTONS("least-ultimate-load", "Fm", "breaking load, least")}, WH_WORK(2, load)},
    {.name = "thread.friction", .formula = "least and most of the state, from practice",
     .source = "from memory, near classes B and C of VDI 2230-1; it is an interval, never one number",
     .in = {{"state", "s", "thread-state", .title = "state of the thread"}},
     .out = {{"friction-least", "mu1", "1", .title = "friction, least"},
             {"friction-most", "mu2", "1", .title = "friction, most"}},
     WH_WORK(1, friction)},
    {.name = "thread.preload",
     .formula = "F = nu R pi (d - 0.938194 P)^2/4/"
                "sqrt(1 + 3 (1.5 (P/pi + 1.155 mu (d - 0.649519 P))/(d - 0.938194 P))^2)",
     .source = GUIDELINE, .in = {DIAMETER, PITCH, YIELD, IN_THREAD, SHARE},
     .out = {NEWTONS("preload", "F", "assembly pull")}, WH_WORK(5, preload),
     .remark = size_remark},
    {.name = "thread.torque", .formula = "M = F (0.16 P + 0.58 mu (d - 0.649519 P) + muk D/2)",
     .source = GUIDELINE ", with its rounded 0.16 for 1/(2 pi) and 0.58 for 1/sqrt(3)",
     .in = {PULL, DIAMETER, PITCH, IN_THREAD, UNDER_HEAD, HEAD_MEAN},
     .out = {MOMENT("torque", "M", "torque for that pull")}, WH_WORK(6, torque)},
    {.name = "thread.assembly-torque",
     .formula = "M = nu R pi (d - 0.938194 P)^2/4/"
                "sqrt(1 + 3 (1.5 (P/pi + 1.155 mu (d - 0.649519 P))/(d - 0.938194 P))^2)"
                " (0.16 P + 0.58 mu (d - 0.649519 P) + muk D/2)",
     .source = GUIDELINE, .in = {DIAMETER, PITCH, YIELD, IN_THREAD, UNDER_HEAD, HEAD_MEAN, SHARE},
     .out = {MOMENT("assembly-torque", "M", "assembly torque")}, WH_WORK(7, assembly_torque),
     .remark = size_remark},
    {.name = "thread.wrench-setting",
     .formula = "the assembly torque at the least friction of the state, down to a mark of the wrench: "
                "steps of 0.5 N m below 10, 1 below 100, 5 below 500, 10 above",
     .source = GUIDELINE "; steps: common practice",
     .in = {DIAMETER, PITCH, YIELD, {"friction-least", "mu", "0.02..0.6 1", .title = "friction, least of the state"},
            HEAD_MEAN, SHARE},
     .out = {MOMENT("wrench-setting", "M", "set the wrench to"),
             MOMENT("torque-at-least-friction", "M1", "torque before rounding")},
     WH_WORK(6, wrench_setting), .remark = wrench_remark},
    {.name = "thread.preload-from-torque", .formula = "F = M/(0.16 P + 0.58 mu (d - 0.649519 P) + muk D/2)",
     .source = GUIDELINE,
     .in = {{"wrench-setting", "M", "0.. N m", .title = "torque it is tightened to"}, DIAMETER, PITCH, IN_THREAD,
            UNDER_HEAD, HEAD_MEAN},
     .out = {NEWTONS("preload-from-torque", "F", "pull that this torque gives")}, WH_WORK(6, preload_from_torque)},
    {.name = "thread.utilisation",
     .formula = "nu = F sqrt(1 + 3 (1.5 (P/pi + 1.155 mu (d - 0.649519 P))/(d - 0.938194 P))^2)/"
                "(R pi (d - 0.938194 P)^2/4)",
     .source = GUIDELINE, .in = {PULL, DIAMETER, PITCH, YIELD, IN_THREAD},
     .out = {{"utilisation", "nu", "1", .title = "share of the yield strength used"}}, WH_WORK(5, utilisation),
     .remark = utilisation_remark},
    {.name = "thread.loosening-torque", .formula = "M = F (0.58 mu (d - 0.649519 P) - 0.16 P + muk D/2)",
     .source = GUIDELINE, .in = {PULL, DIAMETER, PITCH, IN_THREAD, UNDER_HEAD, HEAD_MEAN},
     .out = {MOMENT("loosening-torque", "M", "torque that loosens it, clean")}, WH_WORK(6, loosening_torque),
     .remark = loosening_remark},
    {.name = "thread.torque-coefficient", .formula = "K = M/(F d)",
     .source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, eq. (8-27)",
     .in = {{"torque", "M", "0.. N m", .title = "torque"}, DIAMETER,
            {"preload", "F", "0.001.. kN", .title = "pull of one screw"}},
     .out = {{"torque-coefficient", "K", "1", .title = "torque coefficient"}}, WH_WORK(3, torque_coefficient)},
    {.name = "thread.torque-by-coefficient", .formula = "M = K d F",
     .source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, eq. (8-27)",
     .in = {{"torque-coefficient", "K", "0.05..0.6 1", .usual = "0.2", .title = "torque coefficient"}, DIAMETER, PULL},
     .out = {MOMENT("torque-by-coefficient", "M", "torque")}, WH_WORK(3, torque_by_coefficient)},
    {.name = "thread.coefficient-from-friction", .formula = "K = (0.16 P + 0.58 mu (d - 0.649519 P) + muk D/2)/d",
     .source = GUIDELINE, .in = {DIAMETER, PITCH, IN_THREAD, UNDER_HEAD, HEAD_MEAN},
     .out = {{"coefficient-from-friction", "K", "1", .title = "torque coefficient"}},
     WH_WORK(5, coefficient_from_friction)},
    {.name = "thread.tightening-factor", .formula = "alpha = (1 + s)/(1 - s)", .source = GUIDELINE,
     .in = {{"scatter", "s", "0..0.9 1", .title = "scatter of the pull, plus and minus"}},
     .out = {{"tightening-factor", "alpha", "1", .title = "greatest pull over least"}}, WH_WORK(1, tightening_factor)},
    {.name = "thread.method-factor", .formula = "least and most tightening factor of the way of tightening, table",
     .source = GUIDELINE ", table of tightening factors; factors from memory",
     .in = {{"tightening", "way", "tightening", .title = "way of tightening"}},
     .out = {{"method-factor", "alpha1", "1", .title = "tightening factor, least"},
             {"method-factor-most", "alpha2", "1", .title = "tightening factor, most"}}, WH_WORK(1, method_factor)},
    {.name = "thread.least-preload", .formula = "F1 = F/alpha", .source = GUIDELINE,
     .in = {PULL, {"tightening-factor", "alpha", "1..10 1", .title = "greatest pull over least"}},
     .out = {NEWTONS("least-preload", "F1", "pull that can be counted on")}, WH_WORK(2, least_preload)},
    {.name = "thread.clamp-load", .formula = "Fk = n F", .source = "statics",
     .in = {{"count", "n", "1..200 1", .title = "screws in the ring"}, PULL},
     .out = {NEWTONS("clamp-load", "Fk", "pull of the whole ring")}, WH_WORK(2, clamp_load)},
    {.name = "thread.holding-force", .formula = "Fq = Fk mu", .source = "statics",
     .in = {{"clamp-load", "Fk", "0.. kN", .title = "pull of the whole ring"},
            {"joint-friction", "mu", "0.02..0.6 1", .usual = "0.10..0.15", .title = "friction between the faces"}},
     .out = {NEWTONS("holding-force", "Fq", "push across that friction holds")}, WH_WORK(2, holding_force)},
    {.name = "thread.engagement-ratio", .formula = "least depth of thread over its diameter, table",
     .source = "trial values for M6 to M16, coarse (steels, EN-GJL-250, Al99.5); Roloff & Matek (cast-aluminium); "
               "workshop rule to class 8.8 (steel, cast-iron, bronze, aluminium)",
     .in = {{"tapped", "w", "tapped-material", .title = "material of the tapped hole"}, STRENGTH},
     .out = {{"engagement-ratio", "m", "1", .title = "depth of thread over its diameter, least"}},
     WH_WORK(2, engagement_ratio), .remark = engagement_remark},
    {.name = "thread.least-engagement", .formula = "the diameter times the least depth ratio of the material, table",
     .source = "as thread.engagement-ratio",
     .in = {DIAMETER, {"tapped", "w", "tapped-material", .title = "material of the tapped hole"}, STRENGTH},
     .out = {{"least-engagement", "l", "mm", .title = "depth of thread, least"}}, WH_WORK(3, least_engagement),
     .remark = engagement_remark},
    {.name = "thread.cure-time", .formula = "t = 7200 2^((293.15 - T)/10)",
     .source = "common practice: 2 h at 20 degC, doubled for each 10 K colder; the sheet of the locker decides",
     .in = {{"temperature", "T", "5..40 degC", .title = "temperature of the parts"}},
     .out = {{"cure-time", "t", "h", .title = "until the locker holds"}}, WH_WORK(1, cure_time), .remark = cure_remark},
};

static const struct wh_vocabulary vocabularies[] = {
    {"thread", "metric thread of ISO 261", "M10x1.25", wh_thread_read, wh_thread_print, wh_thread_list},
    {"strength", "property class of ISO 898-1 or ISO 3506-1", "8.8", strength_read, strength_print,
     strength_list},
    {"thread-state", "state of a thread", "oiled", wh_thread_state_read, wh_thread_state_print, wh_thread_state_list},
    {"head", "kind of screw head", "hexagon", head_read, head_print, head_list},
    {"tightening", "way of tightening", "torque-wrench", method_read, method_print, method_list},
    {"tapped-material", "material of a tapped hole", "cast-iron", tapped_read, tapped_print,
     tapped_list},
};

const struct wh_subject wh_thread = {.name = "thread", .title = "Screws and threads",
                                     .rules = rules, .rule_count = sizeof rules / sizeof rules[0],
                                     .vocabularies = vocabularies,
                                     .vocabulary_count = sizeof vocabularies / sizeof vocabularies[0]};
