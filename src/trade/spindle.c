/* spindle.c - a standing spindle on a pivoting foot bearing, its neck held in a rubber mount: lean, push test, dials.
 *
 * Heights z are over the pivot of the foot bearing. x is positive toward the motor, y a quarter turn on in the turning
 * direction; readings all round start toward the motor and go on in the turning direction. */
#include "trade/rule.h"

#include <math.h>

/* ---- the belt's pull, the mount, the lean ---------------------------------------------------------------------- */

static double mount_load(double belt_load, double belt_height, double mount_height)
{
    return belt_load * belt_height / mount_height;
}
WH_COLUMNS(3, mount_load)

static double foot_load(double belt_load, double belt_height, double mount_height)
{
    return belt_load * (1 - belt_height / mount_height);
}
WH_COLUMNS(3, foot_load)

static double mount_stiffness(double inner, double outer, double width, double shear_modulus)
{
    if (!(inner < outer)) return NAN;
    double a = inner * inner, b = outer * outer;
    return 80 * WH_PI * (a + b) / (25 * (a + b) * log(outer / inner) - 9 * (b - a)) * shear_modulus * width;
}
WH_COLUMNS(4, mount_stiffness)

static const char *mount_remark(const double in[], const double out[])
{
    if (isnan(out[0])) return "the bore of the rubber is as large as its outside: the two are mixed up";
    return in[2] > in[1] - in[0] ? "a long ring, the formula is for short ones: trust the push test more" : NULL;
}

static double shear_modulus(double hardness)
{
    return 98100 * (56 + 7.62336 * hardness) / (0.412515 * (254 - 2.54 * hardness));
}
WH_COLUMNS(1, shear_modulus)

static double lean(double load, double stiffness, double set_off, double mount_height)
{
    return (load / stiffness - set_off) / mount_height;
}
WH_COLUMNS(4, lean)

static const char *lean_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] < 0) return "leans away from the motor: the mount is set off by more than the pull takes back";
    return out[0] > 0 ? "leans toward the motor: the belt pulls it there, a slack belt would not" : NULL;
}

static double shift(double slope, double height)
{
    return slope * height;
}
WH_COLUMNS(2, shift)

/* Force and dial may stand at different heights; the spindle turns stiff about its foot. */
static double push_deflection(double force, double push_height, double dial_height, double stiffness,
                              double mount_height)
{
    return 2 * force * push_height * dial_height / (stiffness * mount_height * mount_height);
}
WH_COLUMNS(5, push_deflection)

static double stiffness_from_push(double force, double push_height, double dial_height, double deflection,
                                  double mount_height)
{
    return 2 * force * push_height * dial_height / (deflection * mount_height * mount_height);
}
WH_COLUMNS(5, stiffness_from_push)

static const char *push_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "to and fro: the dial's whole travel from the push one way to the same push the other way";
}

/* Two dials tell how far the spindle, itself stiff, gives at the foot and at the mount. */
static void foot_stiffness(const double in[], double out[])
{
    double force = 2 * in[0], push = in[1], mount = in[2];
    double low = in[3], low_travel = in[4], high = in[5], high_travel = in[6];
    double slope = (high_travel - low_travel) / (high - low);
    double foot_travel = low_travel - slope * low, mount_travel = low_travel + slope * (mount - low);
    double foot_force = force * (1 - push / mount), mount_force = force * push / mount;
    out[0] = high > low && foot_force * foot_travel > 0 ? foot_force / foot_travel : NAN;
    out[1] = high > low && mount_travel > 0 ? mount_force / mount_travel : NAN;
}
WH_MANY(7, 2, foot_stiffness)

static const char *foot_remark(const double in[], const double out[])
{
    if (in[5] <= in[3]) return "the upper dial stands above the lower one: the two are mixed up";
    if (isnan(out[1])) return "by the dials the mount moves against the push: look at their signs";
    return isnan(out[0]) ? "the foot does not give, or gives against the push: the dials tell the mount alone" : NULL;
}

static double rocking_speed(double stiffness, double height, double tilting, double polar)
{
    return polar < tilting ? sqrt(stiffness * height * height / (tilting - polar)) : NAN;
}
WH_COLUMNS(4, rocking_speed)

static const char *rocking_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "a flat rotor, stiffer by its own turning than it can rock: no such speed"
                         : "rubber is stiffer when shaken: the speed felt lies up to 15 % higher";
}

/* ---- dial readings all round ----------------------------------------------------------------------------------- */

struct harmonic {
    double mean, a, b, rest;
};

/* Row i of k equally spaced readings: mean, and the best fitting wave that comes m times round. */
static struct harmonic fit(size_t k, const double *const in[], size_t i, int m)
{
    struct harmonic h = {0};
    for (size_t c = 0; c < k; c++) {
        double angle = 2 * WH_PI * m * (double)c / (double)k;
        h.mean += in[c][i] / (double)k;
        h.a += 2 * in[c][i] * cos(angle) / (double)k;
        h.b += 2 * in[c][i] * sin(angle) / (double)k;
    }
    for (size_t c = 0; c < k; c++) {
        double angle = 2 * WH_PI * m * (double)c / (double)k;
        h.rest = fmax(h.rest, fabs(in[c][i] - h.mean - h.a * cos(angle) - h.b * sin(angle)));
    }
    /* A wave needs more than two readings each time round. */
    return k > 2 * (size_t)m ? h : (struct harmonic){NAN, NAN, NAN, NAN};
}

static void centre_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    for (size_t i = 0; i < n; i++) {
        struct harmonic h = fit(k, in, i, 1);
        out[0][i] = h.a;
        out[1][i] = h.b;
        out[2][i] = h.mean;
        out[3][i] = h.rest;
    }
}

static double whole_circle(double angle)
{
    return angle < 0 ? angle + 2 * WH_PI : angle;
}

static void eccentricity_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    for (size_t i = 0; i < n; i++) {
        struct harmonic h = fit(k, in, i, 1);
        double least = INFINITY, most = -INFINITY;
        for (size_t c = 0; c < k; c++) {
            least = fmin(least, in[c][i]);
            most = fmax(most, in[c][i]);
        }
        out[0][i] = hypot(h.a, h.b);
        out[1][i] = whole_circle(atan2(h.b, h.a));
        out[2][i] = h.mean;
        out[3][i] = most - least;
    }
}

/* Twice round: an oval has two high points, half a turn apart. */
static void ovality_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    for (size_t i = 0; i < n; i++) {
        struct harmonic h = fit(k, in, i, 2);
        out[0][i] = 2 * hypot(h.a, h.b);
        out[1][i] = whole_circle(atan2(h.b, h.a)) / 2;
    }
}

static const char *round_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "at least three readings, equally spaced all round" : NULL;
}

static const char *oval_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "at least five readings, equally spaced all round" : NULL;
}

static void offset(const double in[], double out[])
{
    out[0] = hypot(in[0], in[1]);
    out[1] = whole_circle(atan2(in[1], in[0]));
}
WH_MANY(2, 2, offset)

static double runout_of_offset(double off)
{
    return 2 * off;
}
WH_COLUMNS(1, runout_of_offset)

static double lean_from_dials(double low, double high, double height)
{
    return (high - low) / height;
}
WH_COLUMNS(3, lean_from_dials)

/* Half a turn moves what belongs to the spindle across and leaves what belongs to the frame. */
static void turning_part(const double in[], double out[])
{
    out[0] = (in[0] - in[1]) / 2;
    out[1] = (in[0] + in[1]) / 2;
}
WH_MANY(2, 2, turning_part)

static const char *turning_remark(const double in[], const double out[])
{
    (void)in;
    return fabs(out[0]) > fabs(out[1]) ? "most of it turns with the spindle: bent, or a ring not home"
                                       : "most of it stands still: belt, mount or register, not the spindle";
}

/* ---- plumb wires ----------------------------------------------------------------------------------------------- */

static double out_of_plumb(double near, double near_more, double far, double far_more)
{
    return (far + far_more - near - near_more) / 2;
}
WH_COLUMNS(4, out_of_plumb)

static double runout_axis(double at_0, double at_90, double at_180, double at_270)
{
    return (at_0 + at_90 + at_180 + at_270) / 4;
}
WH_COLUMNS(4, runout_axis)

static double runout_diameter(double x1, double y1, double x2, double y2)
{
    return hypot(x2 - x1, y2 - y1);
}
WH_COLUMNS(4, runout_diameter)

/* ---- the table ------------------------------------------------------------------------------------------------- */

#define BELT_LOAD {"belt-load", "F", "0..200000 N", NULL, "pull of the belt on the shaft at rest"}
#define BELT_HEIGHT {"belt-height", "b", "-2000..5000 mm", NULL, "height of the belt's middle over the foot bearing"}
#define MOUNT_HEIGHT {"mount-height", "h", "10..5000 mm", NULL, "height of the neck mount over the foot bearing"}
#define STIFFNESS {"mount-stiffness", "k", "1..1000000 N/mm", NULL, "stiffness of the mount sideways"}
#define PUSH_FORCE {"push-force", "P", "1..20000 N", NULL, "push, one way and then the other"}
#define PUSH_HEIGHT {"push-height", "p", "10..5000 mm", NULL, "height of the push"}
#define DIAL_HEIGHT {"dial-height", "z", "10..5000 mm", NULL, "height of the dial"}
#define ROUND {"readings", "R_i", "mm", NULL, "readings all round, from the motor in turning direction", .many = 24}
#define POINT(name, symbol, title) {name, symbol, "-100..100 mm", NULL, title}

static const struct wh_rule rules[] = {
    {.name = "spindle.mount-load", .formula = "N = F b / h", .source = "lever about the foot bearing",
     .in = {BELT_LOAD, BELT_HEIGHT, MOUNT_HEIGHT},
     .out = {{"mount-load", "N", "N", NULL, "load on the neck mount"}}, WH_WORK(3, mount_load)},
    {.name = "spindle.foot-load", .formula = "A = F (1 - b/h)", .source = "lever about the neck mount",
     .in = {BELT_LOAD, BELT_HEIGHT, MOUNT_HEIGHT},
     .out = {{"foot-load", "A", "N", NULL, "load of the belt on the foot bearing, sideways"}}, WH_WORK(3, foot_load)},
    {.name = "spindle.mount-stiffness",
     .formula = "k = 80 pi G L (A^2 + B^2) / (25 (A^2 + B^2) ln(B/A) - 9 (B^2 - A^2))",
     .source = "short rubber bush, pushed sideways; from memory",
     .in = {{"inner", "A", "5..2000 mm", NULL, "inside diameter of the rubber"},
            {"outer", "B", "5..2000 mm", NULL, "outside diameter of the rubber"},
            {"width", "L", "2..500 mm", NULL, "width of the rubber along the spindle"},
            {"shear-modulus", "G", "0.1..5 N/mm2", NULL, "shear modulus of the rubber"}},
     .out = {{"mount-stiffness", "k", "N/mm", NULL, "stiffness of the mount sideways"}},
     WH_WORK(4, mount_stiffness), .remark = mount_remark},
    {.name = "spindle.shear-modulus",
     .formula = "G = 98100 (56 + 7.62336 S) / (0.412515 (254 - 2.54 S))",
     .source = "Gent, Engineering with Rubber: modulus from Shore A hardness, E = 3 G; from memory",
     .in = {{"hardness", "S", "20..80 1", NULL, "Shore A hardness"}},
     .out = {{"shear-modulus", "G", "N/mm2", NULL, "shear modulus of the rubber"}}, WH_WORK(1, shear_modulus)},
    {.name = "spindle.lean", .formula = "phi = (N/k - s) / h", .source = "spindle turning stiff about its foot",
     .in = {{"mount-load", "N", "-200000..200000 N", NULL, "load on the neck mount, toward the motor"}, STIFFNESS,
            {"set-off", "s", "-10..10 mm", "0 mm", "how far the mount is set away from the motor"}, MOUNT_HEIGHT},
     .out = {{"lean", "phi", "mm/m", NULL, "lean, positive toward the motor"}},
     WH_WORK(4, lean), .remark = lean_remark},
    {.name = "spindle.shift", .formula = "x = phi z", .source = "geometry",
     .in = {{"lean", "phi", "-100..100 mm/m", NULL, "lean, positive toward the motor"},
            {"height", "z", "0..5000 mm", NULL, "height over the foot bearing"}},
     .out = {{"shift", "x", "mm", NULL, "how far the spindle stands toward the motor there"}}, WH_WORK(2, shift)},
    {.name = "spindle.push-deflection", .formula = "d = 2 P p z / (k h^2)",
     .source = "spindle turning stiff about its foot",
     .in = {PUSH_FORCE, PUSH_HEIGHT, DIAL_HEIGHT, STIFFNESS, MOUNT_HEIGHT},
     .out = {{"push-deflection", "d", "mm", NULL, "travel of the dial, to and fro"}},
     WH_WORK(5, push_deflection), .remark = push_remark},
    {.name = "spindle.stiffness-from-push", .formula = "k = 2 P p z / (d h^2)",
     .source = "spindle turning stiff about its foot",
     .in = {PUSH_FORCE, PUSH_HEIGHT, DIAL_HEIGHT,
            {"push-deflection", "d", "0.001..50 mm", NULL, "travel of the dial, to and fro"}, MOUNT_HEIGHT},
     .out = {{"stiffness-from-push", "k", "N/mm", NULL, "stiffness of the mount as it is"}},
     WH_WORK(5, stiffness_from_push), .remark = push_remark},
    {.name = "spindle.foot-stiffness",
     .formula = "t = (D - d)/(Z - z); f = d - t z; g = d + t (h - z); A = 2 P (1 - p/h)/f; N = 2 P p/(h g)",
     .source = "stiff spindle on two springs",
     .in = {PUSH_FORCE, PUSH_HEIGHT, MOUNT_HEIGHT,
            {"low-dial-height", "z", "0..5000 mm", NULL, "height of the lower dial"},
            {"low-travel", "d", "-50..50 mm", NULL, "travel of the lower dial, to and fro"},
            {"high-dial-height", "Z", "10..5000 mm", NULL, "height of the upper dial"},
            {"high-travel", "D", "0.001..50 mm", NULL, "travel of the upper dial, to and fro"}},
     .out = {{"foot-stiffness", "A", "N/mm", NULL, "stiffness of the foot bearing sideways"},
             {"mount-stiffness-by-dials", "N", "N/mm", NULL, "stiffness of the mount sideways"}},
     WH_WORK(7, foot_stiffness), .remark = foot_remark},
    {.name = "spindle.rocking-speed", .formula = "n = sqrt(k h^2 / (T - Q))",
     .source = "stiff rotor rocking on its foot, forward whirl in step with the turning",
     .in = {STIFFNESS, MOUNT_HEIGHT,
            {"tilting-inertia", "T", "0.0001..100000 kg m2", NULL, "moment of inertia about a line across the foot"},
            {"polar-inertia", "Q", "0.0001..100000 kg m2", NULL, "moment of inertia about the spindle"}},
     .out = {{"rocking-speed", "n", "rpm", NULL, "speed at which it shakes first"}},
     WH_WORK(4, rocking_speed), .remark = rocking_remark},

    {.name = "spindle.centre", .formula = "mean and first harmonic of the readings, least squares",
     .source = "NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.4", .in = {ROUND},
     .out = {{"centre-x", "a", "mm", NULL, "centre toward the motor"},
             {"centre-y", "b", "mm", NULL, "centre a quarter turn on"}, {"mean", "m", "mm", NULL, "mean reading"},
             {"rest", "r", "mm", NULL, "most that a reading lies off the fitted circle"}},
     .arity = 1, .work = centre_columns, .remark = round_remark},
    {.name = "spindle.eccentricity", .formula = "size and direction of the first harmonic, least squares",
     .source = "NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.4", .in = {ROUND},
     .out = {{"eccentricity", "e", "mm", NULL, "how far off centre"},
             {"direction", "psi", "deg", NULL, "toward where, from the motor in turning direction"},
             {"mean", "m", "mm", NULL, "mean reading"}, {"runout", "t", "mm", NULL, "greatest less least reading"}},
     .arity = 1, .work = eccentricity_columns, .remark = round_remark},
    {.name = "spindle.ovality", .formula = "size and direction of the second harmonic, least squares",
     .source = "NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.4", .in = {ROUND},
     .out = {{"ovality", "o", "mm", NULL, "out of round, high less low of the dial"},
             {"ovality-direction", "psi", "deg", NULL, "one of its two high points, from the motor"}},
     .arity = 1, .work = ovality_columns, .remark = oval_remark},
    {.name = "spindle.offset", .formula = "e = sqrt(a^2 + b^2); psi = atan2(b, a) + if(atan2(b, a) < 0, 2 pi, 0)",
     .source = "geometry", .in = {POINT("centre-x", "a", "centre toward the motor"),
                                  POINT("centre-y", "b", "centre a quarter turn on")},
     .out = {{"offset", "e", "mm", NULL, "how far off centre"},
             {"offset-direction", "psi", "deg", NULL, "toward where, from the motor in turning direction"}},
     WH_WORK(2, offset)},
    {.name = "spindle.runout", .formula = "t = 2 e", .source = "geometry, first harmonic only",
     .in = {{"offset", "e", "0..100 mm", NULL, "how far off centre it turns"}},
     .out = {{"runout", "t", "mm", NULL, "run-out a dial shows in one turn"}}, WH_WORK(1, runout_of_offset)},
    {.name = "spindle.lean-from-dials", .formula = "phi = (R - r) / z", .source = "geometry",
     .in = {POINT("reading-low", "r", "reading at the lower place"),
            POINT("reading-high", "R", "reading at the upper place"),
            {"height", "z", "5..10000 mm", NULL, "height between the two"}},
     .out = {{"lean-from-dials", "phi", "mm/m", NULL, "lean"}}, WH_WORK(3, lean_from_dials)},
    {.name = "spindle.turning-part", .formula = "t = (x1 - x2)/2; s = (x1 + x2)/2",
     .source = "common practice: read, half a turn, read again",
     .in = {POINT("before", "x1", "offset as found"), POINT("after", "x2", "offset after half a turn of the spindle")},
     .out = {{"turning-part", "t", "mm", NULL, "part that turns with the spindle"},
             {"standing-part", "s", "mm", NULL, "part that stands still"}},
     WH_WORK(2, turning_part), .remark = turning_remark},

    {.name = "spindle.out-of-plumb", .formula = "p = (f + F - n - N)/2",
     .source = "US Bureau of Reclamation, FIST vol. 2-1, Alignment of Vertical Shaft Hydrounits, rev. 2000, fig. 16",
     .in = {{"near", "n", "-1000..1000 mm", NULL, "wire to shaft on the side asked about"},
            {"near-offset", "N", "-1000..1000 mm", "0 mm", "added to it, from the upper readings"},
            {"far", "f", "-1000..1000 mm", NULL, "wire to shaft on the opposite side"},
            {"far-offset", "F", "-1000..1000 mm", "0 mm", "added to it, from the upper readings"}},
     .out = {{"out-of-plumb", "p", "mm", NULL, "bottom of the shaft toward the side asked about"}},
     WH_WORK(4, out_of_plumb)},
    {.name = "spindle.runout-axis", .formula = "c = (x0 + x1 + x2 + x3)/4",
     .source = "US Bureau of Reclamation, FIST vol. 2-1, Alignment of Vertical Shaft Hydrounits, rev. 2000, fig. 16",
     .in = {POINT("at-0", "x0", "offset in one direction, as it stands"), POINT("at-90", "x1", "a quarter turn on"),
            POINT("at-180", "x2", "half a turn on"), POINT("at-270", "x3", "three quarters on")},
     .out = {{"runout-axis", "c", "mm", NULL, "middle of the run-out in that direction"}}, WH_WORK(4, runout_axis)},
    {.name = "spindle.runout-diameter", .formula = "d = sqrt((x2 - x1)^2 + (y2 - y1)^2)",
     .source = "US Bureau of Reclamation, FIST vol. 2-1, Alignment of Vertical Shaft Hydrounits, rev. 2000, fig. 16",
     .in = {POINT("first-x", "x1", "east of a position"), POINT("first-y", "y1", "north of it"),
            POINT("second-x", "x2", "east, half a turn on"), POINT("second-y", "y2", "north of it")},
     .out = {{"runout-diameter", "d", "mm", NULL, "diameter of the run-out circle"}}, WH_WORK(4, runout_diameter)},
};

const struct wh_subject wh_spindle = WH_SUBJECT("spindle", "Spindle: lean, mount, dial readings", rules);
