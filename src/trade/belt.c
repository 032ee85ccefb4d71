/* belt.c - flat belts, and V-belts by their wedge: length and stretch, speeds, pull, what they carry, how they load the
 * shaft, and what a fitter reads on them.
 *
 * A strand's pull at rest is half the sum of both strands, running or not, since the centres stand still. Of it, the
 * part m v^2 is thrown off at speed and presses on no pulley. */
#include "trade/belt_slots.h"
#include "trade/rule.h"

#include <math.h>

/* A remark of one line, made when the condition on the results holds. */
#define SAYS(name, condition, words)                                                                        \
    static const char *name(const double in[], const double out[])                                          \
    {                                                                                                       \
        (void)in;                                                                                           \
        return (condition) ? words : NULL;                                                                  \
    }

/* ---- geometry --------------------------------------------------------------------------------------------------- */

static void wrap(const double in[], double out[])
{
    double lean = 2 * asin((in[0] - in[1]) / (2 * in[2]));
    out[0] = WH_PI - lean;
    out[1] = WH_PI + lean;
}
WH_MANY(3, 2, wrap)
SAYS(centres_remark, isnan(out[0]), "the pulleys do not clear one another at these centres")

static double crossed_wrap(double large, double small, double centres)
{
    return WH_PI + 2 * asin((large + small) / (2 * centres));
}
WH_COLUMNS(3, crossed_wrap)

static double span(double large, double small, double centres)
{
    return sqrt(centres * centres - (large - small) * (large - small) / 4);
}
WH_COLUMNS(3, span)

static double length(double large, double small, double thickness, double centres)
{
    double lean = asin((large - small) / (2 * centres));
    return 2 * span(large, small, centres) + WH_PI / 2 * (large + small + 2 * thickness) + lean * (large - small);
}
WH_COLUMNS(4, length)

static double crossed_length(double large, double small, double centres)
{
    double sum = large + small;
    return sqrt(4 * centres * centres - sum * sum) + crossed_wrap(large, small, centres) * sum / 2;
}
WH_COLUMNS(3, crossed_length)

static double centres(double belt, double large, double small)
{
    double straight = belt - WH_PI / 2 * (large + small), step = large - small;
    return (straight + sqrt(straight * straight - 2 * step * step)) / 4;
}
WH_COLUMNS(3, centres)
SAYS(short_remark, isnan(out[0]), "the belt is too short for these pulleys")

static double slack_length(double inside, double thickness)
{
    return inside + WH_PI * thickness;
}
WH_COLUMNS(2, slack_length)

static double stretch(double pulled, double slack)
{
    return pulled / slack - 1;
}
WH_COLUMNS(2, stretch)
SAYS(stretch_remark, out[0] < 0, "the belt hangs loose")

static double stretch_per_turn(double pitch, double theta, double slack)
{
    return 2 * pitch * sin(theta / 2) / slack;
}
WH_COLUMNS(3, stretch_per_turn)

static double marks(double slack, double eps)
{
    return slack * (1 + eps);
}
WH_COLUMNS(2, marks)

static double dip(double mass, double between, double pull)
{
    return mass * 9.80665 * between * between / (8 * pull);
}
WH_COLUMNS(3, dip)

static void stepped_pulley(const double in[], double out[])
{
    out[0] = in[0] * in[2] / (in[1] + in[2]);
    out[1] = in[0] * in[1] / (in[1] + in[2]);
}
WH_MANY(3, 2, stepped_pulley)

/* ---- speeds ----------------------------------------------------------------------------------------------------- */

static double ratio(double driver, double driven, double thickness)
{
    return (driver + thickness) / (driven + thickness);
}
WH_COLUMNS(3, ratio)

static double spindle_speed(double motor, double driver, double driven, double thickness, double slip)
{
    return motor * ratio(driver, driven, thickness) * (1 - slip);
}
WH_COLUMNS(5, spindle_speed)

static double spindle_pulley(double motor, double wanted, double driver, double thickness, double slip)
{
    return motor * (driver + thickness) * (1 - slip) / wanted - thickness;
}
WH_COLUMNS(5, spindle_pulley)
SAYS(pulley_remark, out[0] <= 0, "no pulley is small enough for this speed")

static double motor_pulley(double motor, double wanted, double driven, double thickness, double slip)
{
    return wanted * (driven + thickness) / (motor * (1 - slip)) - thickness;
}
WH_COLUMNS(5, motor_pulley)

static double countershaft_speed(double motor, double d1, double d2, double d3, double d4, double slip)
{
    return motor * d1 / d2 * d3 / d4 * (1 - slip) * (1 - slip);
}
WH_COLUMNS(6, countershaft_speed)

static void slip(const double in[], double out[])
{
    out[1] = in[1] / (in[0] * ratio(in[2], in[3], in[4]));
    out[0] = 1 - out[1];
}
WH_MANY(5, 2, slip)

static const char *slip_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] < -0.002) return "the driven pulley runs ahead: a diameter or a speed is wrong";
    return out[0] > 0.03 ? "a sound flat belt slips 1 to 2 %: slack, oily or overloaded" : NULL;
}

/* Speed of turning gives the speed of the belt, a pull gives the torque. */
static double times_radius(double what, double pulley, double thickness)
{
    return what * (pulley + thickness) / 2;
}
WH_COLUMNS(3, times_radius)

static double best_speed(double tight, double mass)
{
    return sqrt(tight / (3 * mass));
}
WH_COLUMNS(2, best_speed)

/* ---- pull at rest ----------------------------------------------------------------------------------------------- */

static double mass_per_length(double width, double thickness, double density)
{
    return width * thickness * density;
}
WH_COLUMNS(3, mass_per_length)

static double centrifugal(double mass, double v)
{
    return mass * v * v;
}
WH_COLUMNS(2, centrifugal)

static double centrifugal_by_coefficient(double coefficient, double v)
{
    return coefficient * (v / 5.08) * (v / 5.08);
}
WH_COLUMNS(2, centrifugal_by_coefficient)

static double strand_pull(double eps, double stiffness, double width)
{
    return stiffness * width * eps;
}
WH_COLUMNS(3, strand_pull)

static double stretch_for_pull(double pull, double stiffness, double width)
{
    return pull / (stiffness * width);
}
WH_COLUMNS(3, stretch_for_pull)

static double span_frequency(double pull, double mass, double free)
{
    return sqrt(pull / mass) / (2 * free);
}
WH_COLUMNS(3, span_frequency)

static double pull_from_frequency(double frequency, double mass, double free)
{
    return 4 * mass * free * free * frequency * frequency;
}
WH_COLUMNS(3, pull_from_frequency)

static double deflection_force(double pull, double deflection, double free)
{
    return 4 * pull * deflection / free;
}
WH_COLUMNS(3, deflection_force)

static double pull_from_deflection(double push, double deflection, double free)
{
    return push * free / (4 * deflection);
}
WH_COLUMNS(3, pull_from_deflection)

/* ---- what it carries, after Eytelwein --------------------------------------------------------------------------- */

static double wedge_friction(double mu, double groove)
{
    return mu / sin(groove / 2);
}
WH_COLUMNS(2, wedge_friction)

static double angle_factor(double theta)
{
    double degrees = 180 * theta / WH_PI;
    return 0.143543 + 0.007468 * degrees - 0.000015052 * degrees * degrees;
}
WH_COLUMNS(1, angle_factor)

static double capacity(double pull, double thrown, double mu, double theta)
{
    return 2 * (pull - thrown) * (exp(mu * theta) - 1) / (exp(mu * theta) + 1);
}
WH_COLUMNS(4, capacity)
SAYS(capacity_remark, out[0] <= 0, "at this speed it is all thrown off: the belt carries nothing")

static double carried_power(double pull, double thrown, double mu, double theta, double v)
{
    return capacity(pull, thrown, mu, theta) * v;
}
WH_COLUMNS(5, carried_power)

static double quotient(double above, double below)
{
    return above / below;
}
WH_COLUMNS(2, quotient)

static double torque_pull(double moment, double pulley, double thickness)
{
    return 2 * moment / (pulley + thickness);
}
WH_COLUMNS(3, torque_pull)

static double torque(double power, double turning, double service)
{
    return power * service / turning;
}
WH_COLUMNS(3, torque)
SAYS(reserve_remark, out[0] < 1, "it slips at this pull")

static double setting_pull(double needed, double mu, double theta, double thrown, double service)
{
    return thrown + service * needed * (exp(mu * theta) + 1) / (2 * (exp(mu * theta) - 1));
}
WH_COLUMNS(5, setting_pull)

static void running_pulls(const double in[], double out[])
{
    out[0] = in[0] + in[1] / 2;
    out[1] = in[0] - in[1] / 2;
}
WH_MANY(2, 2, running_pulls)
SAYS(running_remark, out[1] <= 0, "the slack strand falls loose: it cannot carry this pull")

static void pulls_at_limit(const double in[], double out[])
{
    running_pulls((const double[]){in[0], capacity(in[0], in[1], in[2], in[3])}, out);
}
WH_MANY(4, 2, pulls_at_limit)

static void least_tight_pull(const double in[], double out[])
{
    out[0] = in[3] + in[0] / (1 - 1 / exp(in[1] * in[2]));
    out[1] = out[0] - in[0];
}
WH_MANY(4, 2, least_tight_pull)

static void tight_by_ratio(const double in[], double out[])
{
    out[0] = in[0] * in[1] / (in[1] - 1);
    out[1] = in[0] / (in[1] - 1);
}
WH_MANY(2, 2, tight_by_ratio)

static double rest_pull(double tight, double thrown, double mu, double theta)
{
    return thrown + (tight - thrown) * (1 + 1 / exp(mu * theta)) / 2;
}
WH_COLUMNS(4, rest_pull)

static double initial_pull(double tight, double needed, double thrown)
{
    return tight - needed / 2 - thrown;
}
WH_COLUMNS(3, initial_pull)

static double developed_friction(double tight, double slack, double thrown, double theta)
{
    return slack > thrown && tight > thrown ? log((tight - thrown) / (slack - thrown)) / theta : NAN;
}
WH_COLUMNS(4, developed_friction)
SAYS(developed_remark, isnan(out[0]), "the slack strand has no pull left on the pulley: it slips")

static double limit_power(double tight, double thrown, double mu, double theta, double v)
{
    return (tight - thrown) * (1 - 1 / exp(mu * theta)) * v;
}
WH_COLUMNS(5, limit_power)

static double most_power(double tight, double mass, double mu, double theta)
{
    return 2 * tight / 3 * (1 - 1 / exp(mu * theta)) * best_speed(tight, mass);
}
WH_COLUMNS(4, most_power)

static double power(double tight, double slack, double v)
{
    return (tight - slack) * v;
}
WH_COLUMNS(3, power)

static double allowable_pull(double width, double strength, double pulley_factor, double speed_factor)
{
    return width * strength * pulley_factor * speed_factor;
}
WH_COLUMNS(4, allowable_pull)

static double stress(double tight, double width, double thickness)
{
    return tight / (width * thickness);
}
WH_COLUMNS(3, stress)

static double least_width(double needed, double strength, double mass_per_area, double v, double mu, double theta)
{
    double room = strength - mass_per_area * v * v;
    return room > 0 ? needed / ((1 - 1 / exp(mu * theta)) * room) : NAN;
}
WH_COLUMNS(6, least_width)
SAYS(width_remark, isnan(out[0]), "at this speed the belt's strength is used up by its own mass")

static double count(double whole, double each)
{
    return ceil(whole / each * (1 - 1e-12));
}
WH_COLUMNS(2, count)

/* ---- load on the shaft ------------------------------------------------------------------------------------------ */

static double shaft_load(double pull, double theta)
{
    return 2 * pull * sin(theta / 2);
}
WH_COLUMNS(2, shaft_load)

static double shaft_load_running(double pull, double thrown, double theta)
{
    return shaft_load(pull - thrown, theta);
}
WH_COLUMNS(3, shaft_load_running)

static double shaft_load_of_pulls(double tight, double slack, double theta)
{
    return sqrt(tight * tight + slack * slack - 2 * tight * slack * cos(theta));
}
WH_COLUMNS(3, shaft_load_of_pulls)

static double shaft_moment(double pressing, double one, double other)
{
    return pressing * one * other / (one + other);
}
WH_COLUMNS(3, shaft_moment)

/* ---- the rules -------------------------------------------------------------------------------------------------- */

#define SHIGLEY "Budynas & Nisbett, Shigley's Mechanical Engineering Design, "
#define KHURMI "Khurmi & Gupta, Theory of Machines, ch. 11"

static const struct wh_rule rules[] = {
    {.name = "belt.wrap", .formula = "theta = pi - 2 asin((D - d)/(2 C)); theta1 = pi + 2 asin((D - d)/(2 C))",
     .source = SHIGLEY "eq. (17-1)", .in = {LARGE, SMALL, CENTRES},
     .out = {{"wrap", "theta", "deg", .title = "wrap on the small pulley"},
             {"wrap-large", "theta1", "deg", .title = "wrap on the large pulley"}},
     WH_WORK(3, wrap), .remark = centres_remark},
    {.name = "belt.crossed-wrap", .formula = "theta = pi + 2 asin((D + d)/(2 C))", .source = KHURMI,
     .in = {LARGE, SMALL, CENTRES},
     .out = {{"crossed-wrap", "theta", "deg", .title = "wrap on both pulleys, belt crossed"}},
     WH_WORK(3, crossed_wrap), .remark = centres_remark},
    {.name = "belt.span", .formula = "L = sqrt(C^2 - (D - d)^2/4)", .source = "geometry", .in = {LARGE, SMALL, CENTRES},
     .out = {LENGTH("span", "L", "free length between the pulleys")}, WH_WORK(3, span), .remark = centres_remark},
    {.name = "belt.length",
     .formula = "Lb = sqrt(4 C^2 - (D - d)^2) + pi (D + d + 2 t)/2 + (D - d) asin((D - d)/(2 C))",
     .source = SHIGLEY "eq. (17-2), about the middle of the belt", .in = {LARGE, SMALL, THICKNESS, CENTRES},
     .out = {LENGTH("length", "Lb", "length along its middle, pulled")}, WH_WORK(4, length), .remark = centres_remark},
    {.name = "belt.crossed-length",
     .formula = "Lb = sqrt(4 C^2 - (D + d)^2) + (pi + 2 asin((D + d)/(2 C))) (D + d)/2", .source = KHURMI ", exact",
     .in = {LARGE, SMALL, CENTRES}, .out = {LENGTH("crossed-length", "Lb", "length of a crossed belt")},
     WH_WORK(3, crossed_length), .remark = centres_remark},
    {.name = "belt.centres",
     .formula = "C = (Lb - pi (D + d)/2 + sqrt((Lb - pi (D + d)/2)^2 - 2 (D - d)^2))/4",
     .source = SHIGLEY "eq. (17-16b)",
     .in = {{"length", "Lb", "30..100000 mm", .title = "length of the belt"}, LARGE, SMALL},
     .out = {LENGTH("centres", "C", "between the shafts")}, WH_WORK(3, centres), .remark = short_remark},
    {.name = "belt.slack-length", .formula = "L0 = Li + pi t", .source = "geometry",
     .in = {{"inside-length", "Li", "30..100000 mm", .title = "length inside, as ordered"}, THICKNESS},
     .out = {LENGTH("slack-length", "L0", "length along its middle, slack")}, WH_WORK(2, slack_length)},
    {.name = "belt.stretch", .formula = "eps = Lb/L0 - 1", .source = "definition",
     .in = {{"length", "Lb", "30..100000 mm", .title = "length along its middle, pulled"}, SLACK_LENGTH},
     .out = {{"stretch", "eps", "%", .title = "stretch"}}, WH_WORK(2, stretch), .remark = stretch_remark},
    {.name = "belt.stretch-per-turn", .formula = "e = 2 p sin(theta/2)/L0", .source = "geometry",
     .in = {{"screw-pitch", "p", "0.1..20 mm", .title = "pitch of the tension screw"}, WRAP, SLACK_LENGTH},
     .out = {{"stretch-per-turn", "e", "%", .title = "stretch for a turn of the tension screw"}},
     WH_WORK(3, stretch_per_turn)},
    {.name = "belt.marks", .formula = "a = a0 (1 + eps)", .source = "definition of stretch",
     .in = {{"slack-marks", "a0", "10..5000 mm", .usual = "400 mm", .title = "between two marks, slack"},
            {"stretch", "eps", "0..0.2 1", .title = "stretch"}},
     .out = {LENGTH("marks", "a", "between the marks, pulled")}, WH_WORK(2, marks)},
    {.name = "belt.dip", .formula = "h = 9.80665 m C^2/(8 F)", .source = SHIGLEY "eq. (17-13)",
     .in = {MASS, CENTRES, {"strand-pull", "F", "0.1.. N", .title = "pull of a strand at rest"}},
     .out = {LENGTH("dip", "h", "dip of a level strand")}, WH_WORK(3, dip)},
    {.name = "belt.stepped-pulley", .formula = "r1 = S n2/(n1 + n2); r2 = S n1/(n1 + n2)",
     .source = KHURMI ", crossed belt",
     .in = {{"sum", "S", "2..10000 mm", .title = "both radii, or both diameters, added; alike for all steps"},
            MOTOR_SPEED, WANTED_SPEED},
     .out = {LENGTH("stepped-pulley", "r1", "step on the driver"),
             LENGTH("stepped-pulley-driven", "r2", "step it drives")},
     WH_WORK(3, stepped_pulley)},
    {.name = "belt.ratio", .formula = "i = (D + t)/(d + t)", .source = KHURMI, .in = {DRIVER, DRIVEN, THICKNESS},
     .out = {{"ratio", "i", "1", .title = "speed of the spindle over that of the motor, no slip"}}, WH_WORK(3, ratio)},
    {.name = "belt.spindle-speed", .formula = "n2 = n1 (1 - s) (D + t)/(d + t)", .source = KHURMI,
     .in = {MOTOR_SPEED, DRIVER, DRIVEN, THICKNESS, SLIP},
     .out = {{"spindle-speed", "n2", "rpm", .title = "speed of the driven shaft"}}, WH_WORK(5, spindle_speed)},
    {.name = "belt.spindle-pulley", .formula = "d = n1 (1 - s) (D + t)/n2 - t", .source = KHURMI,
     .in = {MOTOR_SPEED, WANTED_SPEED, DRIVER, THICKNESS, SLIP},
     .out = {LENGTH("spindle-pulley", "d", "driven pulley for that speed")}, WH_WORK(5, spindle_pulley),
     .remark = pulley_remark},
    {.name = "belt.motor-pulley", .formula = "D = n2 (d + t)/(n1 (1 - s)) - t", .source = KHURMI,
     .in = {MOTOR_SPEED, WANTED_SPEED, DRIVEN, THICKNESS, SLIP},
     .out = {LENGTH("motor-pulley", "D", "motor pulley for that speed")}, WH_WORK(5, motor_pulley),
     .remark = pulley_remark},
    {.name = "belt.countershaft-speed", .formula = "n4 = n1 (d1/d2) (d3/d4) (1 - s)^2", .source = KHURMI,
     .in = {MOTOR_SPEED, {"first", "d1", "5..5000 mm", .title = "driver of the first belt"},
            {"second", "d2", "5..5000 mm", .title = "driven by the first belt"},
            {"third", "d3", "5..5000 mm", .title = "driver of the second belt"},
            {"fourth", "d4", "5..5000 mm", .title = "driven by the second belt"}, SLIP},
     .out = {{"countershaft-speed", "n4", "rpm", .title = "speed behind both belts"}}, WH_WORK(6, countershaft_speed)},
    {.name = "belt.slip", .formula = "s = 1 - n2 (d + t)/(n1 (D + t)); eta = n2 (d + t)/(n1 (D + t))", .source = KHURMI,
     .in = {MOTOR_SPEED, WANTED_SPEED, DRIVER, DRIVEN, THICKNESS},
     .out = {{"slip", "s", "%", .title = "slip and creep"},
             {"slip-efficiency", "eta", "%", .title = "share of the speed left"}},
     WH_WORK(5, slip), .remark = slip_remark},
    {.name = "belt.speed", .formula = "v = n (D + t)/2", .source = "kinematics",
     .in = {{"motor-speed", "n", "0..200000 rpm", .title = "speed of the pulley"},
            {"motor-pulley", "D", "5..5000 mm", .title = "diameter of that pulley"}, THICKNESS},
     .out = {{"speed", "v", "m/s", .title = "speed of the belt"}}, WH_WORK(3, times_radius)},
    {.name = "belt.best-speed", .formula = "v = sqrt(F1/(3 m))", .source = KHURMI, .in = {TIGHT, MASS},
     .out = {{"best-speed", "v", "m/s", .title = "speed at which it carries most"}}, WH_WORK(2, best_speed)},
    {.name = "belt.mass-per-length", .formula = "m = b t rho", .source = "definition",
     .in = {WIDTH, {"thickness", "t", "0.1..50 mm", .title = "thickness of the belt"},
            {"density", "rho", "100..3000 kg/m3", .title = "density of the belt"}},
     .out = {{"mass-per-length", "m", "kg/m", .title = "mass of a metre of belt"}}, WH_WORK(3, mass_per_length)},
    {.name = "belt.centrifugal", .formula = "Fc = m v^2", .source = SHIGLEY "eq. (17-7)", .in = {MASS, SPEED},
     .out = {PULLS("centrifugal", "Fc", "pull thrown off at speed")}, WH_WORK(2, centrifugal)},
    {.name = "belt.centrifugal-by-coefficient", .formula = "Fc = Kc (v/5.08)^2", .source = SHIGLEY "eq. (17-21)",
     .in = {{"coefficient", "Kc", "0.01..1000 N", .title = "pull thrown off by one belt at 1,000 ft/min"}, SPEED},
     .out = {PULLS("centrifugal-by-coefficient", "Fc", "pull thrown off at speed")},
     WH_WORK(2, centrifugal_by_coefficient)},
    {.name = "belt.strand-pull", .formula = "F = k b eps", .source = "elastic tension; from memory",
     .in = {{"stretch", "eps", "0..0.2 1", .title = "stretch"}, STIFFNESS, WIDTH},
     .out = {PULLS("strand-pull", "F", "pull of a strand at rest")}, WH_WORK(3, strand_pull)},
    {.name = "belt.stretch-for-pull", .formula = "eps = F/(k b)", .source = "elastic tension; from memory",
     .in = {{"setting-pull", "F", "0.. N", .title = "pull wanted in a strand"}, STIFFNESS, WIDTH},
     .out = {{"stretch-for-pull", "eps", "%", .title = "stretch that gives it"}}, WH_WORK(3, stretch_for_pull)},
    {.name = "belt.span-frequency", .formula = "f = sqrt(F/m)/(2 L)",
     .source = "string formula; a stiff belt sounds a little higher", .in = {STRAND, MASS, SPAN},
     .out = {{"span-frequency", "f", "Hz", .title = "note of the span"}}, WH_WORK(3, span_frequency)},
    {.name = "belt.pull-from-frequency", .formula = "F = 4 m (L f)^2",
     .source = "string formula; a stiff belt sounds a little higher",
     .in = {{"frequency", "f", "1..2000 Hz", .title = "note of the span, measured"}, MASS, SPAN},
     .out = {PULLS("pull-from-frequency", "F", "pull of a strand at rest")}, WH_WORK(3, pull_from_frequency)},
    {.name = "belt.deflection-force", .formula = "Q = 4 F h/L", .source = "statics; the further stretch is left out",
     .in = {STRAND, {"deflection", "h", "0..500 mm", .title = "pushed in at the middle"}, SPAN},
     .out = {PULLS("deflection-force", "Q", "push across the middle")}, WH_WORK(3, deflection_force)},
    {.name = "belt.pull-from-deflection", .formula = "F = Q L/(4 h)",
     .source = "statics; the further stretch is left out",
     .in = {{"push", "Q", "0.. N", .title = "push across the middle"},
            {"deflection", "h", "0.1..500 mm", .title = "pushed in at the middle"}, SPAN},
     .out = {PULLS("pull-from-deflection", "F", "pull of a strand at rest")}, WH_WORK(3, pull_from_deflection)},
    {.name = "belt.wedge-friction", .formula = "muw = mu/sin(beta/2)", .source = KHURMI,
     .in = {{"friction", "mu", "0.01..1 1", .usual = "0.30", .title = "friction of belt on pulley"},
            {"groove", "beta", "10..90 deg", .title = "full angle of the groove"}},
     .out = {{"wedge-friction", "muw", "1", .title = "friction as the wedge multiplies it"}},
     WH_WORK(2, wedge_friction)},
    {.name = "belt.angle-factor",
     .formula = "K = 0.143543 + 0.007468 (180 theta/pi) - 0.000015052 (180 theta/pi)^2",
     .source = SHIGLEY "table 17-13, fit for pairs of V pulleys",
     .in = {{"wrap", "theta", "80..180 deg", .title = "wrap on the small pulley"}},
     .out = {{"angle-factor", "K", "1", .title = "share of the rated power left by the wrap"}},
     WH_WORK(1, angle_factor)},
    {.name = "belt.capacity", .formula = "U = 2 (F - Fc) (exp(mu theta) - 1)/(exp(mu theta) + 1)",
     .source = "Eytelwein; " SHIGLEY "eqs. (17-7) and (17-9)", .in = {STRAND, THROWN, FRICTION, WRAP},
     .out = {PULLS("capacity", "U", "difference of pulls it can carry")}, WH_WORK(4, capacity),
     .remark = capacity_remark},
    {.name = "belt.carried-power", .formula = "P = 2 (F - Fc) (exp(mu theta) - 1)/(exp(mu theta) + 1) v",
     .source = "Eytelwein; " SHIGLEY "eqs. (17-7) and (17-9)", .in = {STRAND, THROWN, FRICTION, WRAP, SPEED},
     .out = {{"carried-power", "P", "kW", .title = "power it can carry"}}, WH_WORK(5, carried_power),
     .remark = capacity_remark},
    {.name = "belt.needed-pull", .formula = "U = P/v", .source = "definition of power",
     .in = {POWER, {"speed", "v", "0.1..150 m/s", .title = "speed of the belt"}},
     .out = {PULLS("needed-pull", "U", "difference of pulls the power needs")}, WH_WORK(2, quotient)},
    {.name = "belt.torque-pull", .formula = "U = 2 M/(D + t)", .source = "statics",
     .in = {{"torque", "M", "0.. N m", .title = "torque on that pulley"},
            {"motor-pulley", "D", "5..5000 mm", .title = "diameter of that pulley"}, THICKNESS},
     .out = {PULLS("torque-pull", "U", "difference of pulls the torque needs")}, WH_WORK(3, torque_pull)},
    {.name = "belt.torque", .formula = "M = K P/n1", .source = "definition of power",
     .in = {POWER, MOTOR_SPEED, SERVICE},
     .out = {{"torque", "M", "N m", .title = "torque at that speed"}}, WH_WORK(3, torque)},
    {.name = "belt.torque-of-pull", .formula = "M = U (D + t)/2", .source = "statics",
     .in = {NEEDED, {"motor-pulley", "D", "5..5000 mm", .title = "diameter of that pulley"}, THICKNESS},
     .out = {{"torque-of-pull", "M", "N m", .title = "torque on that pulley"}}, WH_WORK(3, times_radius)},
    {.name = "belt.reserve", .formula = "x = Uc/U", .source = "definition",
     .in = {{"capacity", "Uc", "0.. N", .title = "difference of pulls it can carry"},
            {"needed-pull", "U", "0.001.. N", .title = "difference of pulls the work needs"}},
     .out = {{"reserve", "x", "1", .title = "what it carries over what it must"}}, WH_WORK(2, quotient),
     .remark = reserve_remark},
    {.name = "belt.setting-pull", .formula = "F = Fc + K U (exp(mu theta) + 1)/(2 (exp(mu theta) - 1))",
     .source = "Eytelwein; " SHIGLEY "eqs. (17-7) and (17-9)", .in = {NEEDED, FRICTION, WRAP, THROWN, SERVICE},
     .out = {PULLS("setting-pull", "F", "pull of a strand at rest, least")}, WH_WORK(5, setting_pull)},
    {.name = "belt.tight-pull", .formula = "F1 = F + U/2; F2 = F - U/2", .source = "Eytelwein; " KHURMI,
     .in = {STRAND, NEEDED},
     .out = {PULLS("tight-pull", "F1", "pull of the tight strand"),
             PULLS("slack-pull", "F2", "pull of the slack strand")},
     WH_WORK(2, running_pulls), .remark = running_remark},
    {.name = "belt.tight-pull-at-limit",
     .formula = "F1 = F + (F - Fc) (exp(mu theta) - 1)/(exp(mu theta) + 1); "
                "F2 = F - (F - Fc) (exp(mu theta) - 1)/(exp(mu theta) + 1)",
     .source = "Eytelwein; " KHURMI, .in = {STRAND, THROWN, FRICTION, WRAP},
     .out = {PULLS("tight-pull-at-limit", "F1", "tight strand where it begins to slip"),
             PULLS("slack-pull-at-limit", "F2", "slack strand where it begins to slip")},
     WH_WORK(4, pulls_at_limit)},
    {.name = "belt.least-tight-pull",
     .formula = "F1 = Fc + U/(1 - exp(-mu theta)); F2 = Fc + U/(1 - exp(-mu theta)) - U",
     .source = "Eytelwein; " SHIGLEY "eq. (17-7)", .in = {NEEDED, FRICTION, WRAP, THROWN},
     .out = {PULLS("least-tight-pull", "F1", "tight strand, least that does not slip"),
             PULLS("least-slack-pull", "F2", "slack strand with it")},
     WH_WORK(4, least_tight_pull)},
    {.name = "belt.tight-pull-by-ratio", .formula = "F1 = U x/(x - 1); F2 = U/(x - 1)", .source = "statics",
     .in = {NEEDED, {"pull-ratio", "x", "1.01..100 1", .title = "tight strand over slack strand"}},
     .out = {PULLS("tight-pull-by-ratio", "F1", "pull of the tight strand"),
             PULLS("slack-pull-by-ratio", "F2", "pull of the slack strand")},
     WH_WORK(2, tight_by_ratio)},
    {.name = "belt.rest-pull", .formula = "F = Fc + (F1 - Fc) (1 + exp(-mu theta))/2", .source = "Eytelwein; " KHURMI,
     .in = {TIGHT, THROWN, FRICTION, WRAP},
     .out = {PULLS("rest-pull", "F", "pull at rest from which that tight strand begins to slip")},
     WH_WORK(4, rest_pull)},
    {.name = "belt.initial-pull", .formula = "Fi = F1 - U/2 - Fc",
     .source = SHIGLEY "eq. (i) of ch. 17, which leaves the pull thrown off out of the initial pull",
     .in = {TIGHT, NEEDED, THROWN},
     .out = {PULLS("initial-pull", "Fi", "initial pull, without the part thrown off")}, WH_WORK(3, initial_pull)},
    {.name = "belt.developed-friction", .formula = "mu = ln((F1 - Fc)/(F2 - Fc))/theta", .source = SHIGLEY "eq. (17-7)",
     .in = {TIGHT, SLACK, THROWN, WRAP},
     .out = {{"developed-friction", "mu", "1", .title = "friction the work makes use of"}},
     WH_WORK(4, developed_friction), .remark = developed_remark},
    {.name = "belt.limit-power", .formula = "P = (F1 - Fc) (1 - exp(-mu theta)) v", .source = "Eytelwein; " KHURMI,
     .in = {TIGHT, THROWN, FRICTION, WRAP, SPEED},
     .out = {{"limit-power", "P", "kW", .title = "power at which it begins to slip"}}, WH_WORK(5, limit_power)},
    {.name = "belt.most-power", .formula = "P = 2 F1 (1 - exp(-mu theta)) sqrt(F1/(3 m))/3", .source = KHURMI,
     .in = {TIGHT, MASS, FRICTION, WRAP},
     .out = {{"most-power", "P", "kW", .title = "power at its best speed"}}, WH_WORK(4, most_power)},
    {.name = "belt.power", .formula = "P = (F1 - F2) v", .source = "definition of power", .in = {TIGHT, SLACK, SPEED},
     .out = {{"power", "P", "kW", .title = "power carried"}}, WH_WORK(3, power)},
    {.name = "belt.speed-for-power", .formula = "v = P/U", .source = "definition of power",
     .in = {POWER, {"needed-pull", "U", "0.001.. N", .title = "difference of pulls"}},
     .out = {{"speed-for-power", "v", "m/s", .title = "speed of the belt for that power"}}, WH_WORK(2, quotient)},
    {.name = "belt.allowable-pull", .formula = "F1 = b f Cp Cv", .source = SHIGLEY "eq. (17-12)",
     .in = {WIDTH, {"strength-per-width", "f", "0.1..1000 N/mm", .title = "pull allowed a mm of width"},
            {"pulley-factor", "Cp", "0.1..1 1", .usual = "1", .title = "for a small pulley"},
            {"speed-factor", "Cv", "0.1..1 1", .usual = "1", .title = "for speed, leather only"}},
     .out = {PULLS("allowable-pull", "F1", "tight strand, most allowed")}, WH_WORK(4, allowable_pull)},
    {.name = "belt.stress", .formula = "sigma = F1/(b t)", .source = "definition",
     .in = {TIGHT, WIDTH, {"thickness", "t", "0.1..50 mm", .title = "thickness of the belt"}},
     .out = {{"stress", "sigma", "MPa", .title = "stress in the tight strand"}}, WH_WORK(3, stress)},
    {.name = "belt.least-width", .formula = "b = if(f > q v^2, U/((1 - exp(-mu theta)) (f - q v^2)), 0/0)",
     .source = "Eytelwein; " SHIGLEY "problem 17-5",
     .in = {NEEDED,
            {"strength-per-width", "f", "0.1..1000 N/mm", .title = "pull allowed a mm of width, factors included"},
            {"mass-per-area", "q", "0.05..100 kg/m2", .title = "density times thickness"}, SPEED, FRICTION, WRAP},
     .out = {LENGTH("least-width", "b", "width, least")}, WH_WORK(6, least_width), .remark = width_remark},
    {.name = "belt.count", .formula = "next whole number above the power over the power of one belt", .source = KHURMI,
     .in = {{"power", "P", "0.001.. kW", .title = "power carried"},
            {"belt-power", "P1", "0.001.. kW", .title = "power one belt may carry"}},
     .out = {{"count", "z", "1", .title = "belts side by side"}}, WH_WORK(2, count)},
    {.name = "belt.shaft-load", .formula = "W = 2 F sin(theta/2)", .source = "statics", .in = {STRAND, WRAP},
     .out = {PULLS("shaft-load", "W", "pull on the shaft at rest")}, WH_WORK(2, shaft_load)},
    {.name = "belt.shaft-load-running", .formula = "W = 2 (F - Fc) sin(theta/2)",
     .source = "statics; the difference of the strands turns it a little and is left out",
     .in = {STRAND, THROWN, WRAP}, .out = {PULLS("shaft-load-running", "W", "pull on the shaft, running")},
     WH_WORK(3, shaft_load_running)},
    {.name = "belt.shaft-load-of-pulls", .formula = "W = sqrt(F1^2 + F2^2 - 2 F1 F2 cos(theta))",
     .source = "statics; Roloff & Matek, from memory", .in = {TIGHT, SLACK, WRAP},
     .out = {PULLS("shaft-load-of-pulls", "W", "pull of both strands on the shaft")}, WH_WORK(3, shaft_load_of_pulls)},
    {.name = "belt.shaft-moment", .formula = "Mb = W a b/(a + b)", .source = "statics",
     .in = {{"shaft-load", "W", "0.. N", .title = "pull on the shaft"},
            {"from-one", "a", "1..20000 mm", .title = "from the pulley to one bearing"},
            {"from-other", "b", "1..20000 mm", .title = "to the other, on its other side"}},
     .out = {{"shaft-moment", "Mb", "N m", .title = "bending of the shaft at the pulley"}}, WH_WORK(3, shaft_moment)},
};

const struct wh_subject wh_belt = WH_SUBJECT("belt", "Belt drives", rules);
