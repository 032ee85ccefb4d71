/* vibration.c - a vibration reading against published zones, and one measure of a vibration from another. */
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

/* ---- zones ----------------------------------------------------------------------------------------------------- */

/* ISO 10816-3 by group and support, ISO 10816-1 by class, ISO 10816-7 pumps by category and power. */
static const char *const group_words[] = {"group-1-rigid", "group-1-flexible", "group-2-rigid", "group-2-flexible",
                                          "group-3-rigid", "group-3-flexible", "group-4-rigid", "group-4-flexible",
                                          "class-1",       "class-2",          "class-3",       "class-4",
                                          "pump-1-small",  "pump-1-large",     "pump-2-small",  "pump-2-large"};
WH_WORDS(group, group_words)
enum { GROUPS = sizeof group_words / sizeof group_words[0] };

/* Boundaries A/B, B/C, C/D of the velocity, mm/s r.m.s. */
static const double velocity_table[GROUPS][3] = {{2.3, 4.5, 7.1},  {3.5, 7.1, 11.0}, {1.4, 2.8, 4.5},  {2.3, 4.5, 7.1},
                                                 {2.3, 4.5, 7.1},  {3.5, 7.1, 11.0}, {1.4, 2.8, 4.5},  {2.3, 4.5, 7.1},
                                                 {0.71, 1.8, 4.5}, {1.12, 2.8, 7.1}, {1.8, 4.5, 11.2}, {2.8, 7.1, 18},
                                                 {2.5, 4.0, 6.6},  {3.5, 5.0, 7.6},  {3.2, 5.1, 8.5},  {4.2, 6.1, 9.5}};

/* The same of the displacement, um r.m.s.: ISO 10816-3 alone has them. */
static const double displacement_table[][3] = {{29, 57, 90}, {45, 90, 140}, {22, 45, 71}, {37, 71, 113},
                                               {18, 36, 56}, {28, 56, 90},  {11, 22, 36}, {18, 36, 56}};
enum { WITH_DISPLACEMENT = sizeof displacement_table / sizeof displacement_table[0] };

static void limits(const double table[][3], size_t rows, double unit, double group, double out[])
{
    size_t place = wh_words_place(group, rows);
    for (size_t b = 0; b < 3; b++) out[b] = place < rows ? table[place][b] * unit : NAN;
}

static void velocity_limits(const double in[], double out[])
{
    limits(velocity_table, GROUPS, 1e-3, in[0], out);
}
WH_MANY(1, 3, velocity_limits)

static void displacement_limits(const double in[], double out[])
{
    limits(displacement_table, WITH_DISPLACEMENT, 1e-6, in[0], out);
}
WH_MANY(1, 3, displacement_limits)

static const char *table_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "only groups 1 to 4 have limits of the displacement"
                         : "general limits, from 15 kW up: a machine's own limits go before them";
}

static const char *const zone_words[] = {"A", "B", "C", "D"};
WH_WORDS(zone, zone_words)

/* A reading on a boundary belongs to the better zone. */
static double zone_of(double reading, const double bounds[])
{
    double zone = 0;
    for (size_t b = 0; b < 3; b++) zone += reading > bounds[b] * (1 + 1e-12);
    return isnan(bounds[0]) ? NAN : zone;
}

static double velocity_zone(double reading, double group)
{
    double bounds[3];
    limits(velocity_table, GROUPS, 1e-3, group, bounds);
    return zone_of(reading, bounds);
}
WH_COLUMNS(2, velocity_zone)

static double displacement_zone(double reading, double group)
{
    double bounds[3];
    limits(displacement_table, WITH_DISPLACEMENT, 1e-6, group, bounds);
    return zone_of(reading, bounds);
}
WH_COLUMNS(2, displacement_zone)

static double zone_by_limits(double reading, double first, double second, double third)
{
    double bounds[] = {first, second, third};
    return first < second && second < third ? zone_of(reading, bounds) : NAN;
}
WH_COLUMNS(4, zone_by_limits)

static const char *zone_remark(const double in[], const double out[])
{
    static const char *const words[] = {"A: as of a machine newly put to work", "B: runs on without a time limit",
                                        "C: not for long: find out why, at the next stop at the latest",
                                        "D: so violent that it may do damage: stop"};
    (void)in;
    return isnan(out[0]) ? "there are no limits of this kind for this machine, or they do not rise"
                         : words[(int)out[0]];
}

/* ---- fans: ISO 14694 ------------------------------------------------------------------------------------------- */

static const char *const fan_words[] = {"BV-1-rigid", "BV-1-flexible", "BV-2-rigid", "BV-2-flexible",
                                        "BV-3-rigid", "BV-3-flexible", "BV-4-rigid", "BV-4-flexible",
                                        "BV-5-rigid", "BV-5-flexible"};
WH_WORDS(fan, fan_words)
enum { FANS = sizeof fan_words / sizeof fan_words[0] };

/* Start-up, alarm, shut-down in situ, mm/s r.m.s.; NAN: from the fan's own history. */
static const double fan_table[FANS][3] = {{10.0, 10.6, NAN}, {11.2, 14.0, NAN}, {5.6, 9.0, NAN}, {9.0, 14.0, NAN},
                                          {4.5, 7.1, 9.0},   {6.3, 11.8, 12.5}, {2.8, 4.5, 7.1}, {4.5, 7.1, 11.2},
                                          {1.8, 4.0, 5.6},   {2.8, 5.6, 7.1}};

static void fan_limits(const double in[], double out[])
{
    limits(fan_table, FANS, 1e-3, in[0], out);
}
WH_MANY(1, 3, fan_limits)

static const char *fan_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[2]) ? "shut-down from the fan's own history" : "for fans below 300 kW, measured where they stand";
}

/* ---- one measure from another, for a vibration of one frequency ------------------------------------------------ */

static const double root_two = 1.41421356237309504880;

static void of_displacement(const double in[], double out[])
{
    double peak = in[0] / 2, turning = 2 * WH_PI * in[1];
    out[0] = turning * peak / root_two;
    out[1] = turning * turning * peak;
}
WH_MANY(2, 2, of_displacement)

static void of_velocity(const double in[], double out[])
{
    double turning = 2 * WH_PI * in[1];
    out[0] = 2 * root_two * in[0] / turning;
    out[1] = root_two * in[0] * turning;
}
WH_MANY(2, 2, of_velocity)

static void of_acceleration(const double in[], double out[])
{
    double turning = 2 * WH_PI * in[1];
    out[0] = in[0] / (root_two * turning);
    out[1] = 2 * in[0] / (turning * turning);
}
WH_MANY(2, 2, of_acceleration)

/* Lines of a spectrum, r.m.s., to the whole. */
static void overall_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    for (size_t i = 0; i < n; i++) {
        double sum = 0;
        for (size_t c = 0; c < k; c++) sum += in[c][i] * in[c][i];
        out[0][i] = sqrt(sum);
    }
}

static double order_frequency(double speed, double order)
{
    return order * speed / (2 * WH_PI);
}
WH_COLUMNS(2, order_frequency)

/* ---- a machine on springs -------------------------------------------------------------------------------------- */

static double mount_frequency(double stiffness, double mass)
{
    return sqrt(stiffness / mass) / (2 * WH_PI);
}
WH_COLUMNS(2, mount_frequency)

static double sag_frequency(double sag)
{
    return sqrt(9.80665 / sag) / (2 * WH_PI);
}
WH_COLUMNS(1, sag_frequency)

static double damping_ratio(double damping, double stiffness, double mass)
{
    return damping / (2 * sqrt(stiffness * mass));
}
WH_COLUMNS(3, damping_ratio)

static double transmitted(double ratio, double damping)
{
    double term = 4 * damping * damping * ratio * ratio, apart = 1 - ratio * ratio;
    double below = apart * apart + term;
    return below > 0 ? sqrt((1 + term) / below) : NAN;
}
WH_COLUMNS(2, transmitted)

static const char *transmitted_remark(const double in[], const double out[])
{
    (void)in;
    if (isnan(out[0])) return "in step with its own frequency and nothing damps it: it would rise without end";
    return out[0] > 1 ? "the springs make it worse: they help only above 1.41 times their own frequency" : NULL;
}

static double damping_from_decay(double first, double later, double swings)
{
    if (!(later < first)) return NAN;
    double decrement = log(first / later) / swings;
    return decrement / sqrt(4 * WH_PI * WH_PI + decrement * decrement);
}
WH_COLUMNS(3, damping_from_decay)

static const char *decay_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the later swing is not the smaller one" : NULL;
}

/* ---- the rules ------------------------------------------------------------------------------------------------- */

#define VELOCITY                                                                                                       \
    {                                                                                                                  \
        "velocity", "v", "0..1 m/s", NULL, "velocity, r.m.s., 10 to 1000 Hz"                                           \
    }
#define FREQUENCY                                                                                                      \
    {                                                                                                                  \
        "frequency", "f", "0.1..20000 Hz", NULL, "frequency"                                                           \
    }
#define MASS                                                                                                           \
    {                                                                                                                  \
        "mass", "m", "0.001..1000000 kg", NULL, "mass on the springs"                                                  \
    }
#define STIFFNESS                                                                                                      \
    {                                                                                                                  \
        "stiffness", "k", "0.001..10000000 N/mm", NULL, "stiffness of all springs together"                            \
    }
#define BOUND(name, symbol, unit, says)                                                                                \
    {                                                                                                                  \
        name, symbol, unit, NULL, says                                                                                 \
    }
#define ZONES "ISO 10816-3, ISO 10816-1 table B.1, ISO 10816-7 table A.1"

static const struct wh_rule rules[] = {
    {.name = "vibration.velocity-limits",
     .formula = "zone boundaries of the velocity, table",
     .source = ZONES "; A/B and the classes and pumps from memory",
     .in = {{"vibration-group", "g", "vibration-group", NULL, "kind of machine and support"}},
     .out = {BOUND("velocity-limits", "a", "mm/s", "boundary of zones A and B"),
             BOUND("limit-bc", "b", "mm/s", "of B and C"), BOUND("limit-cd", "c", "mm/s", "of C and D")},
     WH_WORK(1, velocity_limits),
     .remark = table_remark},
    {.name = "vibration.displacement-limits",
     .formula = "zone boundaries of the displacement, table",
     .source = "ISO 10816-3:1998, from memory",
     .in = {{"vibration-group", "g", "vibration-group", NULL, "kind of machine and support"}},
     .out = {BOUND("displacement-limits", "a", "um", "boundary of zones A and B"),
             BOUND("limit-bc", "b", "um", "of B and C"), BOUND("limit-cd", "c", "um", "of C and D")},
     WH_WORK(1, displacement_limits),
     .remark = table_remark},
    {.name = "vibration.velocity-zone",
     .formula = "zone of the velocity by the table of boundaries",
     .source = ZONES,
     .in = {VELOCITY, {"vibration-group", "g", "vibration-group", NULL, "kind of machine and support"}},
     .out = {{"velocity-zone", "z", "vibration-zone", NULL, "zone"}},
     WH_WORK(2, velocity_zone),
     .remark = zone_remark},
    {.name = "vibration.displacement-zone",
     .formula = "zone of the displacement by the table of boundaries",
     .source = "ISO 10816-3:1998, from memory",
     .in = {{"displacement", "x", "0..100 mm", NULL, "displacement, r.m.s."},
            {"vibration-group", "g", "vibration-group", NULL, "kind of machine and support"}},
     .out = {{"displacement-zone", "z", "vibration-zone", NULL, "zone"}},
     WH_WORK(2, displacement_zone),
     .remark = zone_remark},
    {.name = "vibration.own-zone",
     .formula = "zone of the velocity by the machine's own boundaries",
     .source = "ISO 20816-1, zones; the machine's own limits",
     .in = {VELOCITY,
            {"limit-ab", "a", "0..1 m/s", NULL, "boundary of zones A and B"},
            {"limit-bc", "b", "0..1 m/s", NULL, "boundary of zones B and C"},
            {"limit-cd", "c", "0..1 m/s", NULL, "boundary of zones C and D"}},
     .out = {{"own-zone", "z", "vibration-zone", NULL, "zone"}},
     WH_WORK(4, zone_by_limits),
     .remark = zone_remark},
    {.name = "vibration.fan-limits",
     .formula = "limits of a fan where it stands, table",
     .source = "ISO 14694:2003, table 5; BV-1, BV-2 and BV-5 from memory",
     .in = {{"fan-category", "k", "fan-category", NULL, "category and support of the fan"}},
     .out = {BOUND("fan-limits", "s", "mm/s", "at the first start"), BOUND("alarm", "a", "mm/s", "alarm"),
             BOUND("shut-down", "h", "mm/s", "shut-down")},
     WH_WORK(1, fan_limits),
     .remark = fan_remark},

    {.name = "vibration.velocity-of-displacement",
     .formula = "v = 2 pi f D/(2 sqrt(2)); a = (2 pi f)^2 D/2",
     .source = "kinematics of one frequency",
     .in = {{"travel", "D", "0..1000 mm", NULL, "displacement, peak to peak"}, FREQUENCY},
     .out = {{"velocity-of-displacement", "v", "mm/s", NULL, "velocity, r.m.s."},
             {"acceleration", "a", "m/s2", NULL, "acceleration, peak"}},
     WH_WORK(2, of_displacement)},
    {.name = "vibration.displacement-of-velocity",
     .formula = "D = 2 sqrt(2) v/(2 pi f); a = sqrt(2) v (2 pi f)",
     .source = "kinematics of one frequency",
     .in = {{"velocity", "v", "0..100 m/s", NULL, "velocity, r.m.s."}, FREQUENCY},
     .out = {{"displacement-of-velocity", "D", "um", NULL, "displacement, peak to peak"},
             {"acceleration", "a", "m/s2", NULL, "acceleration, peak"}},
     WH_WORK(2, of_velocity)},
    {.name = "vibration.velocity-of-acceleration",
     .formula = "v = a/(sqrt(2) 2 pi f); D = 2 a/(2 pi f)^2",
     .source = "kinematics of one frequency",
     .in = {{"acceleration", "a", "0..100000 m/s2", NULL, "acceleration, peak"}, FREQUENCY},
     .out = {{"velocity-of-acceleration", "v", "mm/s", NULL, "velocity, r.m.s."},
             {"travel", "D", "um", NULL, "displacement, peak to peak"}},
     WH_WORK(2, of_acceleration)},
    {.name = "vibration.overall",
     .formula = "root of the sum of the squares of the lines, each r.m.s.",
     .source = "ISO 20816-1, velocity of discrete lines",
     .in = {{"lines", "v_i", "0..100 m/s", NULL, "velocity of each line, r.m.s.", .many = 30}},
     .out = {{"overall", "v", "mm/s", NULL, "velocity of all together, r.m.s."}},
     .arity = 1,
     .work = overall_columns},
    {.name = "vibration.order-frequency",
     .formula = "f = p n/(2 pi)",
     .source = "definition",
     .in = {{"speed", "n", "0..200000 rpm", NULL, "speed"}, {"order", "p", "0.01..1000 1", "1", "times a turn"}},
     .out = {{"order-frequency", "f", "Hz", NULL, "frequency"}},
     WH_WORK(2, order_frequency)},

    {.name = "vibration.mount-frequency",
     .formula = "f = sqrt(k/m)/(2 pi)",
     .source = "mass on a spring",
     .in = {STIFFNESS, MASS},
     .out = {{"mount-frequency", "f", "Hz", NULL, "own frequency"}},
     WH_WORK(2, mount_frequency)},
    {.name = "vibration.sag-frequency",
     .formula = "f = sqrt(9.80665/y)/(2 pi)",
     .source = "mass on a spring",
     .in = {{"sag", "y", "0.0001..1000 mm", NULL, "how far the springs give under the weight"}},
     .out = {{"sag-frequency", "f", "Hz", NULL, "own frequency"}},
     WH_WORK(1, sag_frequency)},
    {.name = "vibration.damping-ratio",
     .formula = "z = c/(2 sqrt(k m))",
     .source = "mass on a spring",
     .in = {{"damping", "c", "0..1000000000 N s/m", NULL, "damping"}, STIFFNESS, MASS},
     .out = {{"damping-ratio", "z", "1", NULL, "share of the damping that just stops it swinging"}},
     WH_WORK(3, damping_ratio)},
    {.name = "vibration.transmitted",
     .formula = "t = sqrt((1 + (2 z r)^2)/((1 - r^2)^2 + (2 z r)^2))",
     .source = "mass on a spring, steadily shaken",
     .in = {{"frequency-ratio", "r", "0..100 1", NULL, "frequency over the own frequency"},
            {"damping-ratio", "z", "0..2 1", "0", "damping ratio"}},
     .out = {{"transmitted", "t", "1", NULL, "share that goes through the springs"}},
     WH_WORK(2, transmitted),
     .remark = transmitted_remark},
    {.name = "vibration.damping-from-decay",
     .formula = "d = ln(x/y)/n; z = d/sqrt(4 pi^2 + d^2)",
     .source = "mass on a spring, dying away",
     .in = {{"first-swing", "x", "0.000001..1000 mm", NULL, "a swing"},
            {"later-swing", "y", "0.000001..1000 mm", NULL, "a later one, to the same side"},
            {"swings", "n", "1..1000 1", NULL, "whole swings between the two"}},
     .out = {{"damping-from-decay", "z", "1", NULL, "damping ratio"}},
     WH_WORK(3, damping_from_decay),
     .remark = decay_remark},
};

static const struct wh_vocabulary vocabularies[] = {
    {"vibration-group", "kind of machine and support of the vibration tables", "group-2-rigid", group_read, group_print,
     group_list},
    {"vibration-zone", "zone of vibration", "B", zone_read, zone_print, zone_list},
    {"fan-category", "fan category of ISO 14694 and its support", "BV-3-rigid", fan_read, fan_print, fan_list},
};

const struct wh_subject wh_vibration = {.name = "vibration",
                                        .title = "Vibration: zones and measures",
                                        .rules = rules,
                                        .rule_count = sizeof rules / sizeof rules[0],
                                        .vocabularies = vocabularies,
                                        .vocabulary_count = sizeof vocabularies / sizeof vocabularies[0]};
