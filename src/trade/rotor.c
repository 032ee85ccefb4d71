/* rotor.c - turning masses in closed form: energy, run-up, run-down, clutch, unbalance, speed at another mains.
 *
 * Run-down times say when to begin to look, never that a machine stands. */
#include "trade/rule.h"

#include <math.h>

/* ---- energy and speed ------------------------------------------------------------------------------------------ */

static double kinetic_energy(double inertia, double speed)
{
    return inertia * speed * speed / 2;
}
WH_COLUMNS(2, kinetic_energy)

static double energy_left(double speed, double full)
{
    return (speed / full) * (speed / full);
}
WH_COLUMNS(2, energy_left)

static double rim_speed(double diameter, double speed)
{
    return speed * diameter / 2;
}
WH_COLUMNS(2, rim_speed)

static const double g = 9.80665;

static double rim_acceleration(double radius, double speed)
{
    return radius * speed * speed / g;
}
WH_COLUMNS(2, rim_acceleration)

static double mass_pull(double mass, double radius, double speed)
{
    return mass * radius * speed * speed;
}
WH_COLUMNS(3, mass_pull)

static const char *pull_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "what holds this mass must bear the pull many times over, and nobody stands in the plane of the rotor";
}

static double speed_at_frequency(double speed, double stated, double mains)
{
    return speed * mains / stated;
}
WH_COLUMNS(3, speed_at_frequency)

static const char *frequency_remark(const double in[], const double out[])
{
    bool faster = out[0] > in[0] * (1 + 1e-9);
    return faster ? "faster than stated: not to be run before the stamped speed is seen to allow it" : NULL;
}

static double speed_reserve(double speed, double stamped)
{
    return 1 - speed / stamped;
}
WH_COLUMNS(2, speed_reserve)

static const char *reserve_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] < 0 ? "above the stamped speed: not to be run; the maker says which pulley and plate it needs" : NULL;
}

static void solid_cylinder(const double in[], double out[])
{
    double diameter = in[0], length = in[1], mass = in[2] * WH_PI / 4 * diameter * diameter * length;
    out[0] = mass * diameter * diameter / 8;
    out[1] = mass * (3 * diameter * diameter / 4 + length * length) / 12;
    out[2] = mass;
}
WH_MANY(3, 3, solid_cylinder)

static double reflected_inertia(double inertia, double speed, double motor, double allowance)
{
    return allowance * inertia * (speed / motor) * (speed / motor);
}
WH_COLUMNS(4, reflected_inertia)

/* ---- running up ------------------------------------------------------------------------------------------------ */

static double run_up_time(double inertia, double speed, double drive, double ratio, double efficiency, double drag)
{
    double spare = drive / ratio * efficiency - drag;
    return spare > 0 ? inertia * speed / spare : NAN;
}
WH_COLUMNS(6, run_up_time)

static double run_up_time_windage(double inertia, double speed, double spare, double air)
{
    double x = speed * sqrt(air / spare);
    return x < 1 ? inertia / sqrt(air * spare) * log((1 + x) / (1 - x)) / 2 : NAN;
}
WH_COLUMNS(4, run_up_time_windage)

static const char *run_up_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the torque does not bring it to this speed" : NULL;
}

/* The current that magnetises stands at right angles to the one that makes torque. */
static double motor_current(double torque, double power, double speed, double rated, double idle)
{
    double share = torque * speed / power;
    return rated > idle ? sqrt(idle * idle + (rated * rated - idle * idle) * share * share) : NAN;
}
WH_COLUMNS(5, motor_current)

static const char *current_remark(const double in[], const double out[])
{
    if (isnan(out[0])) return "the rated current has to be more than the idle one";
    return in[0] * in[2] > 2 * in[1] ? "above twice the rated torque the motor takes more than this" : NULL;
}

static double acceleration(double from, double to, double time)
{
    return (to - from) / time;
}
WH_COLUMNS(3, acceleration)

static double top_speed(double spare, double air)
{
    return sqrt(spare / air);
}
WH_COLUMNS(2, top_speed)

static double turns_between(double from, double to, double time)
{
    return (from + to) / 2 * time;
}
WH_COLUMNS(3, turns_between)

/* ---- running down ---------------------------------------------------------------------------------------------- */

static double run_down_time(double inertia, double speed, double steady, double air)
{
    return inertia / sqrt(steady * air) * atan(speed * sqrt(air / steady));
}
WH_COLUMNS(4, run_down_time)

static double run_down_time_steady(double inertia, double speed, double drag)
{
    return inertia * speed / drag;
}
WH_COLUMNS(3, run_down_time_steady)

static double slowing_time(double inertia, double from, double to, double steady, double air)
{
    double root = sqrt(air / steady);
    return inertia / sqrt(steady * air) * (atan(from * root) - atan(to * root));
}
WH_COLUMNS(5, slowing_time)

static double mean_friction_torque(double inertia, double from, double to, double time)
{
    return inertia * (from - to) / time;
}
WH_COLUMNS(4, mean_friction_torque)

static double drag_at_speed(double steady, double air, double speed)
{
    return steady + air * speed * speed;
}
WH_COLUMNS(3, drag_at_speed)

static double air_drag(double drag, double steady, double speed)
{
    return steady <= drag ? (drag - steady) / (speed * speed) : NAN;
}
WH_COLUMNS(3, air_drag)

static const char *air_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the steady part is larger than the whole drag" : NULL;
}

static double stopping_time(double speed, double slowing)
{
    return speed / slowing;
}
WH_COLUMNS(2, stopping_time)

static double stopping_turns(double speed, double slowing)
{
    return speed * speed / (2 * slowing);
}
WH_COLUMNS(2, stopping_turns)

static double viscous_turns(double inertia, double from, double to, double damping)
{
    return inertia * (from - to) / damping;
}
WH_COLUMNS(4, viscous_turns)

static double viscous_time(double inertia, double from, double to, double damping)
{
    return inertia / damping * log(from / to);
}
WH_COLUMNS(4, viscous_time)

static const char *down_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "not before this time, then look: it stands only when it is seen to stand; belt off or broken takes longer";
}

/* ---- clutches -------------------------------------------------------------------------------------------------- */

static double shoe_mass(double torque, double shoes, double friction, double drum, double centre, double speed,
                        double engaging)
{
    return torque / (shoes * friction * drum * centre * speed * speed * (1 - engaging * engaging));
}
WH_COLUMNS(7, shoe_mass)

static double contact_spring(double preload, double rate, double clearance)
{
    return preload + rate * clearance;
}
WH_COLUMNS(3, contact_spring)

static double shoe_friction(double mass, double radius, double speed, double spring, double friction)
{
    return friction * fmax(0, mass * radius * speed * speed - spring);
}
WH_COLUMNS(5, shoe_friction)

static const char *shoe_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] > 0 ? NULL : "below the speed at which the shoes reach the drum";
}

static double shoe_torque(double friction, double shoes, double drum)
{
    return friction * shoes * drum;
}
WH_COLUMNS(3, shoe_torque)

static double plate_torque(double force, double friction, double outer, double inner, double surfaces)
{
    return inner < outer ? friction * force * surfaces * (outer + inner) / 4 : NAN;
}
WH_COLUMNS(5, plate_torque)

static const char *plate_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "inner and outer diameter are mixed up" : NULL;
}

static double common_speed(double driver, double driven, double speed)
{
    return driver * speed / (driver + driven);
}
WH_COLUMNS(3, common_speed)

static double slip_time(double driver, double driven, double speed, double torque, double resisting)
{
    return speed / ((torque + resisting) / driver + torque / driven);
}
WH_COLUMNS(5, slip_time)

static double slip_heat(double driver, double driven, double speed)
{
    return driver * driven * speed * speed / (2 * (driver + driven));
}
WH_COLUMNS(3, slip_heat)

/* ---- unbalance ------------------------------------------------------------------------------------------------- */

static double specific_unbalance(double grade, double speed)
{
    return grade / speed;
}
WH_COLUMNS(2, specific_unbalance)

static double residual_unbalance(double grade, double speed, double mass)
{
    return mass * grade / speed;
}
WH_COLUMNS(3, residual_unbalance)

static void unbalance_share(const double in[], double out[])
{
    double whole = in[0], left = in[1], right = in[2];
    out[0] = whole * right / (left + right);
    out[1] = whole * left / (left + right);
}
WH_MANY(3, 2, unbalance_share)

static const char *unbalance_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "for reading: balance in the field only what the machine file allows, never a bowl";
}

static double grade_of_unbalance(double unbalance, double mass, double speed)
{
    return unbalance * speed / mass;
}
WH_COLUMNS(3, grade_of_unbalance)

static double closing_angle(double first, double second, double third)
{
    return acos((third * third - first * first - second * second) / (2 * first * second));
}
WH_COLUMNS(3, closing_angle)

static const char *closing_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "these three never cancel: one is larger than the other two together" : NULL;
}

static double couple_force(double first, double second, double angle, double arm, double span, double speed)
{
    double left = sqrt(first * first + second * second - 2 * first * second * cos(angle));
    return left * speed * speed * arm / span;
}
WH_COLUMNS(6, couple_force)

/* ---- the table ------------------------------------------------------------------------------------------------- */

#define INERTIA {"inertia", "J", "0.000001..1000000 kg m2", NULL, "moment of inertia of all that turns, at this shaft"}
#define SPEED {"speed", "w", "1..200000 rpm", NULL, "speed"}
#define STEADY {"steady-drag", "T", "0.000001..100000 N m", NULL, "drag that does not change with the speed"}
#define AIR {"air-drag", "c", "0.000000000001..1000 N m s2", NULL, "drag of the air, for the square of the speed"}
#define FRICTION {"friction", "f", "0.01..1 1", NULL, "friction of the lining"}
#define UNBALANCE(name, symbol, title) {name, symbol, "0..1000000000 g mm", NULL, title}
#define KHURMI "Khurmi & Gupta, Theory of Machines, clutches"

static const struct wh_rule rules[] = {
    {.name = "rotor.kinetic-energy", .formula = "E = J w^2 / 2", .source = "mechanics", .in = {INERTIA, SPEED},
     .out = {{"kinetic-energy", "E", "kJ", NULL, "energy stored in the turning"}}, WH_WORK(2, kinetic_energy)},
    {.name = "rotor.energy-left", .formula = "e = (w/v)^2", .source = "mechanics",
     .in = {{"speed", "w", "0..200000 rpm", NULL, "speed now"},
            {"full-speed", "v", "1..200000 rpm", NULL, "full speed"}},
     .out = {{"energy-left", "e", "%", NULL, "share of the energy still in it"}}, WH_WORK(2, energy_left)},
    {.name = "rotor.rim-speed", .formula = "v = w d / 2", .source = "mechanics",
     .in = {{"diameter", "d", "1..20000 mm", NULL, "diameter of the rim"}, SPEED},
     .out = {{"rim-speed", "v", "m/s", NULL, "speed of the rim"}}, WH_WORK(2, rim_speed)},
    {.name = "rotor.rim-acceleration", .formula = "a = r w^2 / 9.80665", .source = "mechanics",
     .in = {{"radius", "r", "0.1..10000 mm", NULL, "radius"}, SPEED},
     .out = {{"rim-acceleration", "a", "1", NULL, "pull outward, as a multiple of the weight"}},
     WH_WORK(2, rim_acceleration)},
    {.name = "rotor.mass-pull", .formula = "F = m r w^2", .source = "mechanics",
     .in = {{"mass", "m", "0.0001..1000 kg", NULL, "mass"}, {"radius", "r", "0.1..10000 mm", NULL, "radius it sits at"},
            SPEED},
     .out = {{"mass-pull", "F", "N", NULL, "pull outward"}}, WH_WORK(3, mass_pull), .remark = pull_remark},
    {.name = "rotor.speed-at-frequency", .formula = "n = w g / f", .source = "mechanics; slip taken as the same share",
     .in = {{"speed", "w", "1..200000 rpm", NULL, "speed as stated"},
            {"stated-frequency", "f", "1..1000 Hz", "50 Hz", "mains it is stated for"},
            {"mains-frequency", "g", "1..1000 Hz", NULL, "mains or inverter it runs on"}},
     .out = {{"speed-at-frequency", "n", "rpm", NULL, "speed on that mains"}},
     WH_WORK(3, speed_at_frequency), .remark = frequency_remark},
    {.name = "rotor.speed-reserve", .formula = "r = 1 - w/s", .source = "stamped speed of the rotor",
     .in = {SPEED, {"stamped-speed", "s", "1..200000 rpm", NULL, "greatest speed stamped on the rotor"}},
     .out = {{"speed-reserve", "r", "%", NULL, "share left up to the stamped speed"}},
     WH_WORK(2, speed_reserve), .remark = reserve_remark},
    {.name = "rotor.polar-inertia",
     .formula = "m = r pi/4 D^2 L; Q = m D^2/8; T = m (3 D^2/4 + L^2)/12", .source = "mechanics, solid cylinder",
     .in = {{"diameter", "D", "1..10000 mm", NULL, "diameter"}, {"length", "L", "0.1..20000 mm", NULL, "length"},
            {"density", "r", "500..25000 kg/m3", "7850 kg/m3", "density; steel 7850"}},
     .out = {{"polar-inertia", "Q", "kg m2", NULL, "moment of inertia about the axis"},
             {"diametral-inertia", "T", "kg m2", NULL, "moment of inertia across it, about the middle"},
             {"mass", "m", "kg", NULL, "mass"}},
     WH_WORK(3, solid_cylinder)},
    {.name = "rotor.reflected-inertia", .formula = "I = k J (w/v)^2", .source = "energy kept across a belt or gear",
     .in = {INERTIA, SPEED, {"motor-speed", "v", "1..200000 rpm", NULL, "speed of the motor"},
            {"allowance", "k", "1..2 1", "1", "1.1 when pulleys and belt are not counted"}},
     .out = {{"reflected-inertia", "I", "kg m2", NULL, "moment of inertia the motor feels"}},
     WH_WORK(4, reflected_inertia)},

    {.name = "rotor.run-up-time", .formula = "t = J w / (M e/i - T)",
     .source = "mechanics, constant torque of a clutch",
     .in = {INERTIA, SPEED, {"drive-torque", "M", "0.0001..1000000 N m", NULL, "torque of clutch or motor"},
            {"ratio", "i", "0.01..100 1", "1", "this shaft's speed over the motor's"},
            {"efficiency", "e", "0.1..1 1", "1", "share that belt or gear passes on"},
            {"drag-torque", "T", "0..100000 N m", "0 N m", "drag at this shaft on the way up"}},
     .out = {{"run-up-time", "t", "s", NULL, "time to full speed"}},
     WH_WORK(6, run_up_time), .remark = run_up_remark},
    {.name = "rotor.run-up-time-windage",
     .formula = "t = J ln((1 + w sqrt(c/M)) / (1 - w sqrt(c/M))) / (2 sqrt(c M))",
     .source = "mechanics, constant torque against the square of the speed",
     .in = {INERTIA, SPEED, {"spare-torque", "M", "0.0001..1000000 N m", NULL, "torque less steady drag"}, AIR},
     .out = {{"run-up-time-windage", "t", "s", NULL, "time to full speed"}},
     WH_WORK(4, run_up_time_windage), .remark = run_up_remark},
    {.name = "rotor.motor-current", .formula = "I = sqrt(N^2 + (R^2 - N^2) (M w/P)^2)",
     .source = "common practice: idle current at right angles to what makes torque",
     .in = {{"torque", "M", "0..1000000 N m", NULL, "torque of the motor"},
            {"power", "P", "1..100000000 W", NULL, "rated power"},
            {"motor-speed", "w", "1..60000 rpm", NULL, "speed at rated power"},
            {"rated-current", "R", "0.01..100000 A", NULL, "current at rated power"},
            {"idle-current", "N", "0..100000 A", NULL, "current without load"}},
     .out = {{"motor-current", "I", "A", NULL, "current of the motor"}},
     WH_WORK(5, motor_current), .remark = current_remark},
    {.name = "rotor.top-speed", .formula = "w = sqrt(M/c)", .source = "mechanics",
     .in = {{"spare-torque", "M", "0.0001..1000000 N m", NULL, "torque less steady drag"}, AIR},
     .out = {{"top-speed", "w", "rpm", NULL, "speed at which the air takes all the torque"}}, WH_WORK(2, top_speed)},
    {.name = "rotor.turns-between", .formula = "u = (w + v)/2 t", .source = "mechanics, speed changing evenly",
     .in = {{"from-speed", "w", "0..200000 rpm", NULL, "speed before"},
            {"to-speed", "v", "0..200000 rpm", NULL, "speed after"}, {"time", "t", "0.001..1000000 s", NULL, "time"}},
     .out = {{"turns-between", "u", "rev", NULL, "turns made meanwhile"}}, WH_WORK(3, turns_between)},
    {.name = "rotor.acceleration", .formula = "a = (v - w) / t", .source = "mechanics",
     .in = {{"from-speed", "w", "0..200000 rpm", NULL, "speed before"},
            {"to-speed", "v", "0..200000 rpm", NULL, "speed after"}, {"time", "t", "0.001..1000000 s", NULL, "time"}},
     .out = {{"acceleration", "a", "rad/s2", NULL, "gain of speed a second"}}, WH_WORK(3, acceleration)},

    {.name = "rotor.run-down-time", .formula = "t = J atan(w sqrt(c/T)) / sqrt(T c)",
     .source = "mechanics, steady drag and the square of the speed", .in = {INERTIA, SPEED, STEADY, AIR},
     .out = {{"run-down-time", "t", "min", NULL, "time before which it does not stand"}},
     WH_WORK(4, run_down_time), .remark = down_remark},
    {.name = "rotor.run-down-time-steady", .formula = "t = J w / T", .source = "mechanics, steady drag",
     .in = {INERTIA, SPEED, STEADY},
     .out = {{"run-down-time-steady", "t", "min", NULL, "time before which it does not stand"}},
     WH_WORK(3, run_down_time_steady), .remark = down_remark},
    {.name = "rotor.slowing-time", .formula = "t = J (atan(w sqrt(c/T)) - atan(v sqrt(c/T))) / sqrt(T c)",
     .source = "mechanics, steady drag and the square of the speed",
     .in = {INERTIA, {"from-speed", "w", "0..200000 rpm", NULL, "speed before"},
            {"to-speed", "v", "0..200000 rpm", NULL, "speed after"}, STEADY, AIR},
     .out = {{"slowing-time", "t", "s", NULL, "time between the two speeds"}},
     WH_WORK(5, slowing_time), .remark = down_remark},
    {.name = "rotor.mean-friction-torque", .formula = "T = J (w - v) / t", .source = "mechanics",
     .in = {INERTIA, {"from-speed", "w", "0..200000 rpm", NULL, "speed before"},
            {"to-speed", "v", "0..200000 rpm", "0 rpm", "speed after"},
            {"time", "t", "0.001..1000000 s", NULL, "time"}},
     .out = {{"mean-friction-torque", "T", "N m", NULL, "mean drag while it slowed"}},
     WH_WORK(4, mean_friction_torque)},
    {.name = "rotor.drag-at-speed", .formula = "M = T + c w^2", .source = "mechanics", .in = {STEADY, AIR, SPEED},
     .out = {{"drag-at-speed", "M", "N m", NULL, "whole drag at that speed"}}, WH_WORK(3, drag_at_speed)},
    {.name = "rotor.air-drag", .formula = "c = (M - T) / w^2", .source = "mechanics",
     .in = {{"drag-at-speed", "M", "0.000001..100000 N m", NULL, "whole drag at that speed"}, STEADY, SPEED},
     .out = {{"air-drag", "c", "N m s2", NULL, "drag of the air, for the square of the speed"}},
     WH_WORK(3, air_drag), .remark = air_remark},
    {.name = "rotor.stopping-time", .formula = "t = w / a", .source = "mechanics",
     .in = {SPEED, {"slowing", "a", "0.0001..100000 rad/s2", NULL, "loss of speed a second"}},
     .out = {{"stopping-time", "t", "s", NULL, "time before which it does not stand"}},
     WH_WORK(2, stopping_time), .remark = down_remark},
    {.name = "rotor.stopping-turns", .formula = "u = w^2 / (2 a)", .source = "mechanics",
     .in = {SPEED, {"slowing", "a", "0.0001..100000 rad/s2", NULL, "loss of speed a second"}},
     .out = {{"stopping-turns", "u", "rev", NULL, "turns until it stands"}},
     WH_WORK(2, stopping_turns), .remark = down_remark},
    {.name = "rotor.viscous-turns", .formula = "u = J (w - v) / k", .source = "mechanics, drag in step with the speed",
     .in = {INERTIA, {"from-speed", "w", "0..200000 rpm", NULL, "speed before"},
            {"to-speed", "v", "0..200000 rpm", "0 rpm", "speed after"},
            {"viscous-drag", "k", "0.00000001..100000 N m s", NULL, "drag for the speed"}},
     .out = {{"viscous-turns", "u", "rev", NULL, "turns between the two speeds"}},
     WH_WORK(4, viscous_turns), .remark = down_remark},

    {.name = "rotor.viscous-time", .formula = "t = J ln(w/v) / k", .source = "mechanics, drag in step with the speed",
     .in = {INERTIA, {"from-speed", "w", "1..200000 rpm", NULL, "speed before"},
            {"to-speed", "v", "1..200000 rpm", NULL, "speed after"},
            {"viscous-drag", "k", "0.00000001..100000 N m s", NULL, "drag for the speed"}},
     .out = {{"viscous-time", "t", "s", NULL, "time between the two speeds"}},
     WH_WORK(4, viscous_time), .remark = down_remark},

    {.name = "rotor.shoe-mass", .formula = "m = M / (z f R r w^2 (1 - k^2))", .source = KHURMI,
     .in = {{"torque", "M", "0.01..1000000 N m", NULL, "torque to carry"},
            {"shoes", "z", "1..24 1", NULL, "number of shoes"}, FRICTION,
            {"drum-radius", "R", "5..5000 mm", NULL, "inside radius of the drum"},
            {"shoe-radius", "r", "5..5000 mm", NULL, "radius of the shoe's centre of mass"}, SPEED,
            {"engaging-ratio", "k", "0..0.99 1", NULL, "speed at which it grips, as a share of full speed"}},
     .out = {{"shoe-mass", "m", "kg", NULL, "mass of each shoe"}}, WH_WORK(7, shoe_mass)},
    {.name = "rotor.contact-spring", .formula = "S = P + s c", .source = KHURMI,
     .in = {{"preload", "P", "0..100000 N", NULL, "spring force at rest"},
            {"spring-rate", "s", "0..100000 N/mm", NULL, "stiffness of the spring"},
            {"clearance", "c", "0..100 mm", NULL, "gap from shoe to drum"}},
     .out = {{"contact-spring", "S", "N", NULL, "spring force when the shoe reaches the drum"}},
     WH_WORK(3, contact_spring)},
    {.name = "rotor.shoe-friction", .formula = "F = f max(0, m r w^2 - S)", .source = KHURMI,
     .in = {{"mass", "m", "0.001..1000 kg", NULL, "mass of the shoe"},
            {"shoe-radius", "r", "5..5000 mm", NULL, "radius of its centre of mass, at the drum"}, SPEED,
            {"contact-spring", "S", "0..1000000 N", NULL, "spring force there"}, FRICTION},
     .out = {{"shoe-friction", "F", "N", NULL, "friction of each shoe on the drum"}},
     WH_WORK(5, shoe_friction), .remark = shoe_remark},
    {.name = "rotor.shoe-torque", .formula = "M = F z R", .source = KHURMI,
     .in = {{"shoe-friction", "F", "0..1000000 N", NULL, "friction of each shoe"},
            {"shoes", "z", "1..24 1", NULL, "number of shoes"},
            {"drum-radius", "R", "5..5000 mm", NULL, "inside radius of the drum"}},
     .out = {{"shoe-torque", "M", "N m", NULL, "torque of the clutch"}}, WH_WORK(3, shoe_torque)},
    {.name = "rotor.plate-torque", .formula = "M = f W n (D + d)/4", .source = KHURMI ", uniform wear",
     .in = {{"force", "W", "0..1000000 N", NULL, "force on the plates"}, FRICTION,
            {"outer", "D", "5..5000 mm", NULL, "outside diameter of the lining"},
            {"inner", "d", "0..5000 mm", NULL, "inside diameter of the lining"},
            {"surfaces", "n", "1..100 1", "2", "rubbing surfaces"}},
     .out = {{"plate-torque", "M", "N m", NULL, "torque before it slips"}},
     WH_WORK(5, plate_torque), .remark = plate_remark},
    {.name = "rotor.common-speed", .formula = "v = A w / (A + B)", .source = KHURMI,
     .in = {{"driver-inertia", "A", "0.000001..1000000 kg m2", NULL, "moment of inertia of the driving side"},
            {"driven-inertia", "B", "0.000001..1000000 kg m2", NULL, "moment of inertia of the driven side, at rest"},
            SPEED},
     .out = {{"common-speed", "v", "rpm", NULL, "speed of both when the slipping ends"}}, WH_WORK(3, common_speed)},
    {.name = "rotor.slip-time", .formula = "t = w / ((M + R)/A + M/B)", .source = KHURMI,
     .in = {{"driver-inertia", "A", "0.000001..1000000 kg m2", NULL, "moment of inertia of the driving side"},
            {"driven-inertia", "B", "0.000001..1000000 kg m2", NULL, "moment of inertia of the driven side, at rest"},
            SPEED, {"clutch-torque", "M", "0.001..1000000 N m", NULL, "torque while it slips"},
            {"resisting-torque", "R", "0..1000000 N m", "0 N m", "drag on the driving side"}},
     .out = {{"slip-time", "t", "s", NULL, "time it slips"}}, WH_WORK(5, slip_time)},

    {.name = "rotor.slip-heat", .formula = "E = A B w^2 / (2 (A + B))", .source = KHURMI,
     .in = {{"driver-inertia", "A", "0.000001..1000000 kg m2", NULL, "moment of inertia of the driving side"},
            {"driven-inertia", "B", "0.000001..1000000 kg m2", NULL, "moment of inertia of the driven side, at rest"},
            SPEED},
     .out = {{"slip-heat", "E", "kJ", NULL, "heat of one engagement"}}, WH_WORK(3, slip_heat)},

    {.name = "rotor.specific-unbalance", .formula = "e = G / w", .source = "ISO 21940-11, balance grade",
     .in = {{"balance-grade", "G", "0.1..4000 mm/s", NULL, "balance grade"}, SPEED},
     .out = {{"specific-unbalance", "e", "um", NULL, "permissible offset of the mass centre"}},
     WH_WORK(2, specific_unbalance), .remark = unbalance_remark},
    {.name = "rotor.residual-unbalance", .formula = "U = m G / w", .source = "ISO 21940-11, balance grade",
     .in = {{"balance-grade", "G", "0.1..4000 mm/s", NULL, "balance grade"}, SPEED,
            {"mass", "m", "0.001..1000000 kg", NULL, "mass of the rotor"}},
     .out = {{"residual-unbalance", "U", "g mm", NULL, "permissible residual unbalance"}},
     WH_WORK(3, residual_unbalance), .remark = unbalance_remark},
    {.name = "rotor.unbalance-share", .formula = "A = U b / (a + b); B = U a / (a + b)",
     .source = "ISO 21940-11, allocation to two planes between the bearings",
     .in = {UNBALANCE("residual-unbalance", "U", "permissible residual unbalance"),
            {"left-distance", "a", "1..20000 mm", NULL, "left plane from the mass centre"},
            {"right-distance", "b", "1..20000 mm", NULL, "right plane from the mass centre"}},
     .out = {{"unbalance-share", "A", "g mm", NULL, "for the left plane"},
             {"unbalance-share-right", "B", "g mm", NULL, "for the right plane"}},
     WH_WORK(3, unbalance_share), .remark = unbalance_remark},
    {.name = "rotor.balance-grade", .formula = "G = U w / m", .source = "ISO 21940-11 turned round",
     .in = {UNBALANCE("unbalance", "U", "unbalance found"),
            {"mass", "m", "0.001..1000000 kg", NULL, "mass of the rotor"},
            SPEED},
     .out = {{"balance-grade", "G", "mm/s", NULL, "grade it comes to"}},
     WH_WORK(3, grade_of_unbalance), .remark = unbalance_remark},
    {.name = "rotor.closing-angle", .formula = "t = acos((c^2 - a^2 - b^2) / (2 a b))",
     .source = "closed triangle of three unbalances",
     .in = {{"first-unbalance", "a", "0.001..1000000000 g mm", NULL, "first unbalance"},
            {"second-unbalance", "b", "0.001..1000000000 g mm", NULL, "second unbalance"},
            {"third-unbalance", "c", "0.001..1000000000 g mm", NULL, "third unbalance"}},
     .out = {{"closing-angle", "t", "deg", NULL, "angle from the first to the second so that all three cancel"}},
     WH_WORK(3, closing_angle), .remark = closing_remark},
    {.name = "rotor.couple-force", .formula = "F = sqrt(a^2 + b^2 - 2 a b cos(t)) w^2 r / l",
     .source = "mechanics; two unbalances, their sum balanced midway",
     .in = {UNBALANCE("first-unbalance", "a", "at one end"), UNBALANCE("second-unbalance", "b", "at the other end"),
            {"angle", "t", "0..360 deg", NULL, "angle between the two"},
            {"arm", "r", "1..20000 mm", NULL, "from the middle to each"},
            {"span", "l", "1..20000 mm", NULL, "distance of the bearings"}, SPEED},
     .out = {{"couple-force", "F", "N", NULL, "turning force at each bearing"}}, WH_WORK(6, couple_force)},
};

const struct wh_subject wh_rotor = WH_SUBJECT("rotor", "Rotors: energy, run-up, run-down, unbalance", rules);
