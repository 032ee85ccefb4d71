/* stepped.c - a shaft of several diameters on two bearings: reactions, bending under one load or its own weight.
 *
 * Places are from the left end. The last input lists the steps from there on, each by its length and its diameter. By
 * the unit load: the bending is the sum over the shaft of M m/(E I), M of the load and m of a unit load where one
 * looks. M m is at most of the third degree on a stretch, which Simpson's rule sums without an error. */
#include "trade/rule.h"

#include <math.h>

enum { STEPS = WH_RULE_COLUMNS / 2, STOPS = STEPS + 6 };

/* A load across the shaft and its bearings; without a span, along the whole shaft. */
struct bend {
    double left, right; /* bearings */
    size_t steps;
    double end[STEPS], diameter[STEPS]; /* of each step: where it ends */
    double volume, about;               /* of the whole shaft: volume, and its moment about the left end */
};

static double area(double diameter)
{
    return WH_PI / 4 * diameter * diameter;
}

/* False: an odd list, bearings on the wrong sides, or a bearing or one of the places asked about off the shaft. */
static bool gather(struct bend *bend, size_t k, const double *const in[], size_t i, double far_place)
{
    double at = 0;
    bend->steps = k / 2;
    bend->volume = bend->about = 0;
    for (size_t s = 0; s < bend->steps; s++) {
        double length = in[2 * s][i], volume = area(in[2 * s + 1][i]) * length;
        bend->diameter[s] = in[2 * s + 1][i];
        bend->volume += volume;
        bend->about += volume * (at + length / 2);
        bend->end[s] = at += length;
    }
    return k % 2 == 0 && bend->left < bend->right && fmax(bend->right, far_place) <= at * (1 + 1e-12);
}

/* Moment at s of a load of one at a, down: nothing outside the bearings and the load. */
static double moment_of_one(const struct bend *bend, double a, double s)
{
    double span = bend->right - bend->left, far = (bend->right - a) / span, near = (a - bend->left) / span;
    return far * fmax(s - bend->left, 0) + near * fmax(s - bend->right, 0) - fmax(s - a, 0);
}

/* The same of a couple of one at a: its slope. */
static double moment_of_couple(const struct bend *bend, double a, double s)
{
    double turned = (fmax(s - bend->right, 0) - fmax(s - bend->left, 0)) / (bend->right - bend->left);
    return s > a ? turned + 1 : turned;
}

/* One more among those there are, which are sorted. */
static void insert_stop(double stops[], size_t count, double stop)
{
    size_t at = count;
    for (; at > 0 && stops[at - 1] > stop; at--) stops[at] = stops[at - 1];
    stops[at] = stop;
}

/* Where a stretch ends: steps, bearings, load, place looked at; sorted. */
static size_t stops_of(const struct bend *bend, double load, double place, double stops[])
{
    size_t count = 0;
    const double more[] = {0, bend->left, bend->right, load, place};
    for (size_t s = 0; s < bend->steps; s++) insert_stop(stops, count++, bend->end[s]);
    for (size_t m = 0; m < sizeof more / sizeof more[0]; m++) insert_stop(stops, count++, more[m]);
    return count;
}

/* Stiffness E I between two stops. */
static double stiffness(const struct bend *bend, double modulus, double middle)
{
    size_t s = 0;
    while (s + 1 < bend->steps && bend->end[s] < middle) s++;
    double square = bend->diameter[s] * bend->diameter[s];
    return modulus * WH_PI / 64 * square * square;
}

typedef double moment(const struct bend *bend, double a, double s);

/* Moment at s of the shaft's own weight, for its weight a volume. */
static double moment_of_weight(const struct bend *bend, double density, double s)
{
    double from = 0, sum = 0, right = (bend->about - bend->volume * bend->left) / (bend->right - bend->left);
    for (size_t p = 0; p < bend->steps; p++) {
        double over = fmin(fmax(s - from, 0), bend->end[p] - from);
        sum -= area(bend->diameter[p]) * over * (s - from - over / 2);
        from = bend->end[p];
    }
    return density * (sum + fmax(s - bend->left, 0) * (bend->volume - right) + fmax(s - bend->right, 0) * right);
}

/* The sum over the shaft of M m/(E I); the load's moment `of` its place or density `a`, the unit's `unit` at `place`.
 */
static double bending(const struct bend *bend, double modulus, moment *of, double a, moment *unit, double place)
{
    double stops[STOPS], sum = 0;
    size_t count = stops_of(bend, of == moment_of_weight ? 0 : a, place, stops);
    for (size_t c = 0; c + 1 < count; c++) {
        double from = stops[c], to = stops[c + 1], middle = (from + to) / 2;
        /* A moment jumps at a couple: the ends are looked at from inside. */
        double hair = (to - from) * 1e-9, low = from + hair, high = to - hair;
        double product = of(bend, a, low) * unit(bend, place, low) + of(bend, a, high) * unit(bend, place, high) +
                         4 * of(bend, a, middle) * unit(bend, place, middle);
        sum += (to - from) / 6 * product / stiffness(bend, modulus, middle);
    }
    return sum;
}

/* ---- one load -------------------------------------------------------------------------------------------------- */

static void load_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    for (size_t i = 0; i < n; i++) {
        double load = in[0][i], at = in[1][i], place = in[4][i], modulus = in[5][i];
        struct bend bend = {.left = in[2][i], .right = in[3][i]};
        double one = gather(&bend, k - 6, in + 6, i, fmax(at, place)) ? load : NAN;
        out[0][i] = one * bending(&bend, modulus, moment_of_one, at, moment_of_one, place);
        out[1][i] = one * bending(&bend, modulus, moment_of_one, at, moment_of_couple, place);
        out[2][i] = one * (bend.right - at) / (bend.right - bend.left);
        out[3][i] = one * (at - bend.left) / (bend.right - bend.left);
    }
}

/* ---- own weight ------------------------------------------------------------------------------------------------ */

static const double g = 9.80665;

static void weight_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    for (size_t i = 0; i < n; i++) {
        double place = in[2][i], modulus = in[3][i];
        struct bend bend = {.left = in[0][i], .right = in[1][i]};
        double density = gather(&bend, k - 5, in + 5, i, place) ? in[4][i] * g : NAN;
        double right = density * (bend.about - bend.volume * bend.left) / (bend.right - bend.left);
        out[0][i] = bending(&bend, modulus, moment_of_weight, density, moment_of_one, place);
        out[1][i] = bending(&bend, modulus, moment_of_weight, density, moment_of_couple, place);
        out[2][i] = density * bend.volume - right;
        out[3][i] = right;
    }
}

static const char *steps_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0])
               ? "the steps are pairs of a length and a diameter, the left bearing lies left of the right one, "
                 "and all places on the shaft"
               : NULL;
}

/* ---- the bearings ---------------------------------------------------------------------------------------------- */

static void reaction(const double in[], double out[])
{
    double load = in[0], at = in[1], left = in[2], right = in[3];
    out[0] = left < right ? load * (right - at) / (right - left) : NAN;
    out[1] = left < right ? load * (at - left) / (right - left) : NAN;
}
WH_MANY(4, 2, reaction)

static const char *reaction_remark(const double in[], const double out[])
{
    (void)in;
    if (isnan(out[0])) return "the left bearing lies left of the right one";
    return out[0] < 0 || out[1] < 0 ? "one bearing is lifted: the load lies beyond the other" : NULL;
}

/* On a lying shaft the weight hangs down and the belt pulls at its angle; what turns adds itself once a turn. */
static void bearing_load(const double in[], double out[])
{
    double across = in[0] * cos(in[1]), down = in[2] - in[0] * sin(in[1]);
    out[0] = sqrt(across * across + down * down);
    out[1] = out[0] + in[3];
    out[2] = fabs(out[0] - in[3]);
}
WH_MANY(4, 3, bearing_load)

static const char *turning_remark(const double in[], const double out[])
{
    return in[3] > out[0]
               ? "the unbalance is stronger than what stands still: the shaft is thrown about in its clearance"
               : NULL;
}

#define PLACE(name, symbol, title)                                                                                     \
    {                                                                                                                  \
        name, symbol, "0..20000 mm", NULL, title                                                                       \
    }
#define LEFT PLACE("left-bearing", "p", "left bearing, from the left end")
#define RIGHT PLACE("right-bearing", "q", "right bearing, from the left end")
#define LOOKED PLACE("place", "x", "place asked about, from the left end")
#define STEP_LIST(room)                                                                                                \
    {                                                                                                                  \
        "steps", "s_i", "0.1..20000 mm", NULL, "length and diameter of each step, from the left end", .many = room     \
    }
#define MODULUS                                                                                                        \
    {                                                                                                                  \
        "modulus", "E", "1..1000 GPa", "210 GPa", "modulus of elasticity; steel 210"                                   \
    }

static const struct wh_rule rules[] = {
    {.name = "shaft.stepped-deflection",
     .formula = "sum over the shaft of the load's moment by that of a unit load, over E I; the slope by a unit couple",
     .source = "principle of virtual work; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., 4-8",
     .in = {{"load", "F", "0..1000000 N", NULL, "load across the shaft"},
            PLACE("load-place", "a", "load, from the left end"),
            LEFT,
            RIGHT,
            LOOKED,
            MODULUS,
            STEP_LIST(26)},
     .out = {{"stepped-deflection", "y", "mm", NULL, "bending there, with the load positive"},
             {"slope", "t", "mrad", NULL, "slope there"},
             {"left-reaction", "R", "N", NULL, "at the left bearing"},
             {"right-reaction", "Q", "N", NULL, "at the right bearing"}},
     .arity = 7,
     .work = load_columns,
     .remark = steps_remark},
    {.name = "shaft.stepped-sag",
     .formula =
         "sum over the shaft of its weight's moment by that of a unit load, over E I; the slope by a unit couple",
     .source = "principle of virtual work",
     .in = {LEFT,
            RIGHT,
            LOOKED,
            MODULUS,
            {"density", "r", "500..25000 kg/m3", "7850 kg/m3", "density; steel 7850"},
            STEP_LIST(26)},
     .out = {{"stepped-sag", "y", "mm", NULL, "sag there of the lying shaft"},
             {"slope", "t", "mrad", NULL, "slope there"},
             {"left-reaction", "R", "N", NULL, "at the left bearing"},
             {"right-reaction", "Q", "N", NULL, "at the right bearing"}},
     .arity = 6,
     .work = weight_columns,
     .remark = steps_remark},
    {.name = "shaft.reaction",
     .formula = "R = F (q - a)/(q - p); Q = F (a - p)/(q - p)",
     .source = "lever about each bearing",
     .in = {{"load", "F", "0..1000000 N", NULL, "load across the shaft"},
            PLACE("load-place", "a", "load, from the left end"),
            LEFT,
            RIGHT},
     .out = {{"reaction", "R", "N", NULL, "at the left bearing"},
             {"right-reaction", "Q", "N", NULL, "at the right bearing"}},
     WH_WORK(4, reaction),
     .remark = reaction_remark},
    {.name = "shaft.bearing-load",
     .formula = "L = sqrt((B cos(u))^2 + (W - B sin(u))^2); P = L + U; M = abs(L - U)",
     .source = "statics; what turns with the shaft adds once a turn",
     .in = {{"belt-reaction", "B", "-1000000..1000000 N", NULL, "share of the belt's pull at this bearing"},
            {"belt-angle", "u", "-180..180 deg", "0 deg",
             "pull of the belt, up from the level; a standing shaft has 0"},
            {"weight-reaction", "W", "-1000000..1000000 N", "0 N", "share of the weight; nothing on a standing shaft"},
            {"unbalance-reaction", "U", "0..1000000 N", "0 N", "share of what turns with the shaft"}},
     .out = {{"bearing-load", "L", "N", NULL, "load that stands still"},
             {"peak", "P", "N", NULL, "greatest in a turn"},
             {"lull", "M", "N", NULL, "least in a turn"}},
     WH_WORK(4, bearing_load),
     .remark = turning_remark},
};

const struct wh_subject wh_stepped = WH_SUBJECT("shaft", "Shafts of several diameters", rules);
