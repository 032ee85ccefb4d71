/* press.c - what a tight fit does: pressure, stresses, the force to press or pull it, the warmth that frees it. */
#include "trade/fit_slots.h"
#include "trade/rule.h"

#include <math.h>

/* How much a ring widens at its bore d under a pressure of 1, as a share of d; outside D. */
static double ring_give(double d, double D, double E, double nu)
{
    return ((D * D + d * d) / (D * D - d * d) + nu) / E;
}

/* How much a seat of diameter d narrows, with a hole h through it. */
static double seat_give(double d, double h, double E, double nu)
{
    return ((d * d + h * h) / (d * d - h * h) - nu) / E;
}

static double pressure(double delta, double d, double D, double h, double E1, double nu1, double E2, double nu2)
{
    if (D <= d || h >= d) return NAN;
    return fmax(delta, 0) / (d * (ring_give(d, D, E1, nu1) + seat_give(d, h, E2, nu2)));
}

static const char *shape_remark(double d, double D, double h)
{
    if (D <= d) return "the ring's outside must be larger than the diameter of the fit";
    return h >= d ? "the hole through the seat must be smaller than the diameter of the fit" : NULL;
}

static const char *pressure_remark(const double in[], const double out[])
{
    (void)out;
    if (in[0] <= 0) return "a loose fit presses on nothing";
    return shape_remark(in[1], in[2], in[3]);
}

static double pressing_interference(double p, double d, double D, double h, double E1, double nu1, double E2,
                                    double nu2)
{
    if (D <= d || h >= d) return NAN;
    return p * d * (ring_give(d, D, E1, nu1) + seat_give(d, h, E2, nu2));
}

static const char *interference_remark(const double in[], const double out[])
{
    (void)out;
    return shape_remark(in[1], in[2], in[3]);
}

/* Hoop stress of the ring at its bore and at its outside. */
static void ring_stress(const double in[], double out[])
{
    double p = in[0], d = in[1], D = in[2];
    out[0] = D > d ? p * (D * D + d * d) / (D * D - d * d) : NAN;
    out[1] = D > d ? 2 * p * d * d / (D * D - d * d) : NAN;
}

static const char *ring_remark(const double in[], const double out[])
{
    (void)out;
    return shape_remark(in[1], in[2], 0);
}

/* Hoop stress of the seat under the ring and at its own hole; both -p when it is solid. */
static void seat_stress(const double in[], double out[])
{
    double p = in[0], d = in[1], h = in[2];
    out[0] = h < d ? -p * (d * d + h * h) / (d * d - h * h) : NAN;
    out[1] = h < d ? (h > 0 ? -2 * p * d * d / (d * d - h * h) : -p) : NAN;
}

static const char *seat_remark(const double in[], const double out[])
{
    (void)out;
    return shape_remark(in[1], HUGE_VAL, in[2]);
}

/* Hoop and radial stress of a thick ring at the diameter x, pressed from inside and from outside. */
static void wall_stress(const double in[], double out[])
{
    double pi = in[0], po = in[1], d = in[2], D = in[3], x = in[4];
    double even = (pi * d * d - po * D * D) / (D * D - d * d);
    double steep = (pi - po) * d * d * D * D / (x * x * (D * D - d * d));
    bool within = D > d && x >= d && x <= D;
    out[0] = within ? even + steep : NAN;
    out[1] = within ? even - steep : NAN;
}

static const char *wall_remark(const double in[], const double out[])
{
    (void)out;
    if (in[3] <= in[2]) return "the outside must be larger than the bore";
    return in[4] < in[2] || in[4] > in[3] ? "the place looked at must lie between bore and outside" : NULL;
}

static double outside_growth(double p, double d, double D, double E)
{
    return D > d ? 2 * p * d * d * D / (E * (D * D - d * d)) : NAN;
}

static double press_force(double p, double d, double b, double mu)
{
    return mu * p * WH_PI * d * b;
}

static const char *press_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "oiled and clean; push only the ring that has the tight fit, never through the balls";
}

static double pull_force(double p, double d, double b, double mu)
{
    return press_force(p, d, b, mu);
}

static const char *pull_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "clean seat only, and no upper bound: a rusted seat takes three times as much and more";
}

static double rusted_pull_force(double F, double k)
{
    return k * F;
}

static const char *rusted_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "a usual figure, not a bound: watch the puller's load, and stop at three quarters of its rating";
}

static double puller_share(double F, double R)
{
    return F / R;
}

static const char *puller_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] > 1) return "more than the puller is rated for: heat or cut, don't pull";
    return out[0] > 0.75 ? "more than three quarters of the puller's rating: use a larger one, or heat or cut" : NULL;
}

static double puller_stop(double R)
{
    return 0.75 * R;
}

static const char *stop_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "stop here: heat or cut";
}

static double torque(double p, double d, double b, double mu)
{
    return mu * p * WH_PI * d * d * b / 2;
}

static double smoothing(double Ra, double Rb)
{
    return 0.8 * (Ra + Rb);
}

static double gripping_interference(double delta, double s)
{
    return delta - s;
}

static double bearing_interference(double delta, double d, double s)
{
    return delta * d / (d + s);
}

static double loss_by_load(double d, double b, double F)
{
    return 8e-8 * sqrt(d * F / b);
}

static double warming_rise(double delta, double s, double d, double alpha)
{
    return (delta + s) / (alpha * d);
}

static double shrink_temperature(double delta, double s, double d, double a1, double T2, double a2)
{
    return 293.15 + (delta + s + d * a2 * (T2 - 293.15)) / (a1 * d);
}

static double cooled_temperature(double delta, double s, double d, double a1, double T1, double a2)
{
    return 293.15 - (delta + s - d * a1 * (T1 - 293.15)) / (a2 * d);
}

static const char *cooled_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] < 77) return "colder than liquid nitrogen: warm the ring as well";
    return out[0] < 273.15 ? "air the room, gloves and goggles; rubber goes brittle, and rime wets the seat" : NULL;
}

WH_COLUMNS(8, pressure)
WH_COLUMNS(8, pressing_interference)
WH_MANY(3, 2, ring_stress)
WH_MANY(3, 2, seat_stress)
WH_MANY(5, 2, wall_stress)
WH_COLUMNS(4, outside_growth)
WH_COLUMNS(4, press_force)
WH_COLUMNS(4, pull_force)
WH_COLUMNS(2, rusted_pull_force)
WH_COLUMNS(2, puller_share)
WH_COLUMNS(1, puller_stop)
WH_COLUMNS(4, torque)
WH_COLUMNS(2, smoothing)
WH_COLUMNS(2, gripping_interference)
WH_COLUMNS(3, bearing_interference)
WH_COLUMNS(3, loss_by_load)
WH_COLUMNS(4, warming_rise)
WH_COLUMNS(6, shrink_temperature)
WH_COLUMNS(6, cooled_temperature)

#define PRESSURE {"pressure", "p", "0..2000 MPa", .title = "pressure in the fit"}
#define RING {"outside", "D", "1..5000 mm", .title = "outside of the ring; a bearing's: its raceway"}
#define FRICTION {"fit-friction", "mu", "0.02..1 1", .usual = "0.12..0.20", .title = "friction in the fit"}
#define BODIES {"ring-stiffness", "E_r", "1..1000 GPa", .usual = "206 GPa", .title = "modulus of the ring"},       \
    {"ring-poisson", "nu_r", "0..0.5 1", .usual = "0.3", .title = "Poisson's ratio of the ring"},                   \
    {"seat-stiffness", "E_s", "1..1000 GPa", .usual = "206 GPa", .title = "modulus of the seat"},                   \
    {"seat-poisson", "nu_s", "0..0.5 1", .usual = "0.3", .title = "Poisson's ratio of the seat"}
#define LAME "Lamé; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., eq. (3-56), p. 116"
#define GIVE "(((D^2 + d^2)/(D^2 - d^2) + nu_r)/E_r + ((d^2 + h^2)/(d^2 - h^2) - nu_s)/E_s)"

static const struct wh_rule rules[] = {
    {.name = "fit.pressure", .formula = "p = max(delta, 0)/(d " GIVE ")", .source = LAME,
     .in = {SLOT_GRIP, SLOT_DIAMETER, RING, SLOT_HOLLOW, BODIES},
     .out = {{"pressure", "p", "MPa", .title = "pressure in the fit"}}, WH_WORK(8, pressure),
     .remark = pressure_remark},
    {.name = "fit.interference-for-pressure", .formula = "delta = p d " GIVE, .source = LAME,
     .in = {PRESSURE, SLOT_DIAMETER, RING, SLOT_HOLLOW, BODIES},
     .out = {{"interference-for-pressure", "delta", "um", .title = "grip on the diameter that gives this pressure"}},
     WH_WORK(8, pressing_interference), .remark = interference_remark},
    {.name = "fit.ring-stress",
     .formula = "sigma_i = p (D^2 + d^2)/(D^2 - d^2); sigma_o = 2 p d^2/(D^2 - d^2)",
     .source = "Lamé; Ugural & Fenster, Advanced Strength and Applied Elasticity, ex. 8.3",
     .in = {PRESSURE, SLOT_DIAMETER, RING},
     .out = {{"ring-stress", "sigma_i", "MPa", .title = "hoop stress of the ring at the fit, + pull"},
             {"ring-stress-outside", "sigma_o", "MPa", .title = "hoop stress of the ring at its outside"}},
     WH_WORK(3, ring_stress), .remark = ring_remark},
    {.name = "fit.seat-stress",
     .formula = "sigma_s = -p (d^2 + h^2)/(d^2 - h^2); sigma_h = if(0 < h, -2 p d^2/(d^2 - h^2), -p)",
     .source = "Lamé; Ugural & Fenster, Advanced Strength and Applied Elasticity, ex. 8.3",
     .in = {PRESSURE, SLOT_DIAMETER, SLOT_HOLLOW},
     .out = {{"seat-stress", "sigma_s", "MPa", .title = "hoop stress of the seat at the fit, - squeezed"},
             {"seat-stress-hole", "sigma_h", "MPa", .title = "hoop stress of the seat at its hole"}},
     WH_WORK(3, seat_stress), .remark = seat_remark},
    {.name = "fit.wall-stress",
     .formula = "sigma_t = (p_i d^2 - p_o D^2)/(D^2 - d^2) + (p_i - p_o) d^2 D^2/(x^2 (D^2 - d^2)); "
                "sigma_r = (p_i d^2 - p_o D^2)/(D^2 - d^2) - (p_i - p_o) d^2 D^2/(x^2 (D^2 - d^2))",
     .source = "Lamé; Boresi & Schmidt, Advanced Mechanics of Materials, ch. 11",
     .in = {{"inside-pressure", "p_i", "0..2000 MPa", .usual = "0 MPa", .title = "pressure in the bore"},
            {"outside-pressure", "p_o", "0..2000 MPa", .usual = "0 MPa", .title = "pressure on the outside"},
            {"bore", "d", "0.1..2000 mm", .title = "bore of the ring"},
            {"outside", "D", "0.1..5000 mm", .title = "outside of the ring"},
            {"place", "x", "0.1..5000 mm", .title = "diameter looked at"}},
     .out = {{"wall-stress", "sigma_t", "MPa", .title = "hoop stress there, + pull"},
             {"radial-stress", "sigma_r", "MPa", .title = "radial stress there, - squeezed"}},
     WH_WORK(5, wall_stress), .remark = wall_remark},
    {.name = "fit.outside-growth", .formula = "g = 2 p d^2 D/(E (D^2 - d^2))", .source = "Lamé, own derivation",
     .in = {PRESSURE, SLOT_DIAMETER, RING,
            {"ring-stiffness", "E", "1..1000 GPa", .usual = "206 GPa", .title = "modulus of the ring"}},
     .out = {{"outside-growth", "g", "um", .title = "growth of the ring's outside by the fit"}},
     WH_WORK(4, outside_growth), .remark = ring_remark},
    {.name = "fit.press-force", .formula = "F = mu p pi d b", .source = "friction; its usual value common practice",
     .in = {PRESSURE, SLOT_DIAMETER, SLOT_WIDTH, FRICTION},
     .out = {{"press-force", "F", "kN", .title = "force to press it home"}}, WH_WORK(4, press_force),
     .remark = press_remark},
    {.name = "fit.pull-force", .formula = "F = mu p pi d b", .source = "friction; its usual value common practice",
     .in = {PRESSURE, SLOT_DIAMETER, SLOT_WIDTH, FRICTION},
     .out = {{"pull-force", "F", "kN", .title = "force to pull it off a clean seat"}}, WH_WORK(4, pull_force),
     .remark = pull_remark},
    {.name = "fit.rusted-pull-force", .formula = "R = k F", .source = "common practice",
     .in = {{"pull-force", "F", "0..100000 kN", .title = "force to pull it off a clean seat"},
            {"rust-factor", "k", "1..10 1", .usual = "3", .title = "times as much on a rusted seat"}},
     .out = {{"rusted-pull-force", "R", "kN", .title = "force to reckon with on a rusted seat"}},
     WH_WORK(2, rusted_pull_force), .remark = rusted_remark},
    {.name = "fit.puller-share", .formula = "s = F/R", .source = "by definition",
     .in = {{"rusted-pull-force", "F", "0..1000000 kN", .title = "force to reckon with on a rusted seat"},
            {"puller-rating", "R", "0.1..10000 kN", .title = "load the puller is rated for"}},
     .out = {{"puller-share", "s", "%", .title = "share of the puller's rating"}}, WH_WORK(2, puller_share),
     .remark = puller_remark},
    {.name = "fit.puller-stop", .formula = "S = 0.75 R", .source = "common practice",
     .in = {{"puller-rating", "R", "0.1..10000 kN", .title = "load the puller is rated for"}},
     .out = {{"puller-stop", "S", "kN", .title = "stop pulling at"}}, WH_WORK(1, puller_stop), .remark = stop_remark},
    {.name = "fit.torque", .formula = "T = mu p pi d^2 b/2", .source = "friction; its usual value common practice",
     .in = {PRESSURE, SLOT_DIAMETER, SLOT_WIDTH, FRICTION},
     .out = {{"torque", "T", "N m", .title = "torque the fit carries before it slips"}}, WH_WORK(4, torque)},
    {.name = "fit.smoothing", .formula = "s = 0.8 (R_r + R_s)", .source = "DIN 7190-1, from memory",
     .in = {{"ring-roughness", "R_r", "0..200 um", .usual = "4 um", .title = "mean peak-to-valley height of the bore"},
            {"seat-roughness", "R_s", "0..200 um", .usual = "4 um", .title = "mean peak-to-valley height of the seat"}},
     .out = {{"smoothing", "s", "um", .title = "grip lost as the peaks are pressed flat"}}, WH_WORK(2, smoothing)},
    {.name = "fit.gripping-interference", .formula = "U = delta - s", .source = "DIN 7190-1, from memory",
     .in = {SLOT_GRIP, {"smoothing", "s", "0..500 um", .title = "grip lost as the peaks are pressed flat"}},
     .out = {{"gripping-interference", "U", "um", .title = "grip that is left"}}, WH_WORK(2, gripping_interference)},
    {.name = "fit.bearing-interference", .formula = "U = delta d/(d + s)", .source = "common practice, from memory",
     .in = {SLOT_GRIP, SLOT_DIAMETER,
            {"finish", "s", "2..3 mm", .usual = "2 mm", .title = "2 mm for a ground seat, 3 mm for a turned one"}},
     .out = {{"bearing-interference", "U", "um", .title = "grip of a bearing ring that is left"}},
     WH_WORK(3, bearing_interference)},
    {.name = "fit.loss-by-load", .formula = "U = 8e-8 sqrt(d F/b)",
     .source = "a bearing handbook, fits and internal clearances, eq. (9.1)",
     .in = {SLOT_DIAMETER, SLOT_WIDTH, {"radial-load", "F", "0..10000 kN", .title = "load across the bearing"}},
     .out = {{"loss-by-load", "U", "um", .title = "grip lost under the load"}}, WH_WORK(3, loss_by_load)},
    {.name = "fit.warming-rise", .formula = "dT = (delta + s)/(alpha_r d)", .source = "linear expansion",
     .in = {SLOT_GRIP, SLOT_SPARE, SLOT_DIAMETER, SLOT_RING_EXPANSION},
     .out = {{"warming-rise", "dT", "K", .title = "warmer than the seat by"}}, WH_WORK(4, warming_rise)},
    {.name = "fit.shrink-temperature",
     .formula = "T = 293.15 + (delta + s + d alpha_s (T_s - 293.15))/(alpha_r d)",
     .source = "linear expansion from 20 degC (ISO 1), own derivation",
     .in = {SLOT_GRIP, SLOT_SPARE, SLOT_DIAMETER, SLOT_RING_EXPANSION,
            SLOT_SEAT_TEMPERATURE,
            SLOT_SEAT_EXPANSION},
     .out = {{"shrink-temperature", "T", "degC", .title = "warm the ring to"}}, WH_WORK(6, shrink_temperature)},
    {.name = "fit.cooled-temperature",
     .formula = "T = 293.15 - (delta + s - d alpha_r (T_r - 293.15))/(alpha_s d)",
     .source = "linear expansion from 20 degC (ISO 1), own derivation",
     .in = {SLOT_GRIP, SLOT_SPARE, SLOT_DIAMETER, SLOT_RING_EXPANSION,
            {"ring-temperature", "T_r", "-100..300 degC", .usual = "20 degC", .title = "temperature of the ring"},
            SLOT_SEAT_EXPANSION},
     .out = {{"cooled-temperature", "T", "degC", .title = "cool the shaft to"}}, WH_WORK(6, cooled_temperature),
     .remark = cooled_remark},
};

const struct wh_subject wh_press = WH_SUBJECT("fit", "Press fits: pressure, force and warmth", rules);
