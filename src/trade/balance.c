/* balance.c - how far a rotor may be out of balance, and how much of it each plane may have.
 *
 * For reading a maker's or a balancer's sheet: what may be balanced in the field is the machine file's to say. */
#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>

static const char *const rotor_words[] = {"diesel-slow-unbalanced",
                                          "diesel-slow-balanced",
                                          "crank-unbalanced-soft",
                                          "crank-unbalanced-hard",
                                          "engine",
                                          "crank-balanced-soft",
                                          "car-wheel",
                                          "drive-shaft",
                                          "agricultural",
                                          "crusher",
                                          "crank-balanced-hard",
                                          "fan",
                                          "pump",
                                          "centrifuge",
                                          "machine",
                                          "machine-tool",
                                          "motor-slow",
                                          "motor-fast",
                                          "compressor",
                                          "turbine",
                                          "machine-tool-drive",
                                          "audio-drive",
                                          "grinding-drive",
                                          "gyroscope",
                                          "precision-spindle"};
WH_WORDS(rotor, rotor_words)
enum { ROTORS = sizeof rotor_words / sizeof rotor_words[0] };

/* mm/s, in the order of the words. */
static const double grades[ROTORS] = {4000, 1600, 630, 250, 100, 40,  40,  40,  16, 16, 16,  6.3, 6.3,
                                      6.3,  6.3,  6.3, 6.3, 2.5, 2.5, 2.5, 2.5, 1,  1,  0.4, 0.4};

static double grade(double rotor)
{
    return grades[(size_t)rotor] * 1e-3;
}
WH_COLUMNS(1, grade)

static const char *grade_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "what the maker states goes before the table";
}

/* The steps of the grades: 0.4 and 2.5 times as much again and again, rounded as the standard writes them. */
static double grade_reached(double product)
{
    static const double steps[] = {0.4, 1, 2.5, 6.3, 16, 40, 100, 250, 630, 1600, 4000};
    enum { STEPS = sizeof steps / sizeof steps[0] };
    size_t at = 0;
    while (at < STEPS && product > steps[at] * 1e-3 * (1 + 1e-12)) at++;
    return at < STEPS ? steps[at] * 1e-3 : NAN;
}
WH_COLUMNS(1, grade_reached)

static const char *reached_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "worse than any grade" : NULL;
}

/* Mass centre between the bearings: by the levers, each share kept between 0.3 and 0.7. */
static void bearing_shares(const double in[], double out[])
{
    double left = in[1], right = in[2], share = fmin(fmax(right / (left + right), 0.3), 0.7);
    out[0] = in[0] * share;
    out[1] = in[0] * (1 - share);
}
WH_MANY(3, 2, bearing_shares)

/* Mass centre outside: the bearing beside it at most 1.3, the far one at least 0.3 of the whole. */
static void overhung_shares(const double in[], double out[])
{
    double overhang = in[1], span = in[2];
    out[0] = in[0] * fmin((span + overhang) / span, 1.3);
    out[1] = in[0] * fmax(overhang / span, 0.3);
}
WH_MANY(3, 2, overhung_shares)

static const char *shares_remark(const double in[], const double out[])
{
    (void)in;
    (void)out;
    return "for the bearing planes; correction planes elsewhere need the maker's figures";
}

static double unbalance_of_mass(double mass, double radius)
{
    return mass * radius;
}
WH_COLUMNS(2, unbalance_of_mass)

static double unbalance_force(double unbalance, double speed)
{
    return unbalance * speed * speed;
}
WH_COLUMNS(2, unbalance_force)

static double mass_at_radius(double unbalance, double radius)
{
    return unbalance / radius;
}
WH_COLUMNS(2, mass_at_radius)

static double moved_mass(double mass, double from, double to)
{
    return mass * from / to;
}
WH_COLUMNS(3, moved_mass)

/* Two holes beside the wanted place, by the law of sines. */
static void split_mass(const double in[], double out[])
{
    double mass = in[0], first = in[1], second = in[2], whole = sin(first + second);
    bool between = first + second < WH_PI;
    out[0] = between ? mass * sin(second) / whole : NAN;
    out[1] = between ? mass * sin(first) / whole : NAN;
}
WH_MANY(3, 2, split_mass)

static const char *split_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the two places lie half a turn or more apart: a pair nearer to the wanted place" : NULL;
}

static double static_and_couple(double whole, double couple, double span)
{
    return sqrt(whole * whole / 4 + couple * couple / (span * span));
}
WH_COLUMNS(3, static_and_couple)

/* Ounces are a sixteenth of a pound: 4/16 of an inch. */
static double mil_unbalance(double mass, double speed)
{
    return 0.0254 / 4 * mass / (speed * 60 / (2 * WH_PI));
}
WH_COLUMNS(2, mil_unbalance)

#define WHOLE                                                                                                          \
    {                                                                                                                  \
        "residual-unbalance", "U", "0..1000000000 g mm", NULL, "permissible residual unbalance of the rotor"           \
    }
#define MASS                                                                                                           \
    {                                                                                                                  \
        "mass", "m", "0.000001..1000 kg", NULL, "mass"                                                                 \
    }
#define RADIUS(name, symbol, title)                                                                                    \
    {                                                                                                                  \
        name, symbol, "0.1..10000 mm", NULL, title                                                                     \
    }
#define SHREVE "Shreve, Balancing Weights: Radius Changes and Splitting"

static const struct wh_rule rules[] = {
    {.name = "balance.grade",
     .formula = "balance quality grade by kind of rotor, table",
     .source = "ISO 21940-11:2016, table 1",
     .in = {{"rotor", "k", "rotor", NULL, "kind of rotor"}},
     .out = {{"grade", "G", "mm/s", NULL, "balance quality grade"}},
     WH_WORK(1, grade),
     .remark = grade_remark},
    {.name = "balance.grade-reached",
     .formula = "next step of the grades",
     .source = "ISO 21940-11:2016, table 1",
     .in = {{"balance-grade", "g", "0..10 m/s", NULL, "offset of the mass centre times the speed"}},
     .out = {{"grade-reached", "G", "mm/s", NULL, "balance quality grade that it meets"}},
     WH_WORK(1, grade_reached),
     .remark = reached_remark},
    {.name = "balance.bearing-shares",
     .formula = "p = min(max(b/(a + b), 0.3), 0.7); L = U p; R = U (1 - p)",
     .source = "ISO 21940-11, clause 7; the bounds 0.3 and 0.7 from memory",
     .in = {WHOLE, RADIUS("left-distance", "a", "mass centre from the left bearing"),
            RADIUS("right-distance", "b", "mass centre from the right bearing")},
     .out = {{"bearing-shares", "L", "g mm", NULL, "for the plane of the left bearing"},
             {"right-share", "R", "g mm", NULL, "for the plane of the right bearing"}},
     WH_WORK(3, bearing_shares),
     .remark = shares_remark},
    {.name = "balance.overhung-shares",
     .formula = "N = U min((l + a)/l, 1.3); F = U max(a/l, 0.3)",
     .source = "ISO 21940-11, clause 7; the bounds from memory",
     .in = {WHOLE, RADIUS("overhang", "a", "mass centre beyond the near bearing"),
            RADIUS("span", "l", "distance of the bearings")},
     .out = {{"overhung-shares", "N", "g mm", NULL, "for the plane of the near bearing"},
             {"far-share", "F", "g mm", NULL, "for the plane of the far bearing"}},
     WH_WORK(3, overhung_shares),
     .remark = shares_remark},
    {.name = "balance.unbalance-of-mass",
     .formula = "U = m r",
     .source = "definition, ISO 21940-2",
     .in = {MASS, RADIUS("radius", "r", "radius it sits at")},
     .out = {{"unbalance-of-mass", "U", "g mm", NULL, "unbalance it makes"}},
     WH_WORK(2, unbalance_of_mass)},
    {.name = "balance.unbalance-force",
     .formula = "F = U w^2",
     .source = "mechanics",
     .in = {{"unbalance", "U", "0..1000000000 g mm", NULL, "unbalance"},
            {"speed", "w", "1..200000 rpm", NULL, "speed"}},
     .out = {{"unbalance-force", "F", "N", NULL, "force that turns with the rotor"}},
     WH_WORK(2, unbalance_force)},
    {.name = "balance.mass-at-radius",
     .formula = "m = U/r",
     .source = "definition, ISO 21940-2",
     .in = {{"unbalance", "U", "0..1000000000 g mm", NULL, "unbalance"}, RADIUS("radius", "r", "radius of the place")},
     .out = {{"mass-at-radius", "m", "g", NULL, "mass there that makes it"}},
     WH_WORK(2, mass_at_radius)},
    {.name = "balance.moved-mass",
     .formula = "n = m a/b",
     .source = SHREVE,
     .in = {MASS, RADIUS("from-radius", "a", "radius it was worked out for"),
            RADIUS("to-radius", "b", "radius it goes to")},
     .out = {{"moved-mass", "n", "g", NULL, "mass at the other radius"}},
     WH_WORK(3, moved_mass)},
    {.name = "balance.split-mass",
     .formula = "A = m sin(q)/sin(p + q); B = m sin(p)/sin(p + q)",
     .source = SHREVE "; law of sines",
     .in = {MASS,
            {"before", "p", "1..170 deg", NULL, "from the first place on to the wanted one"},
            {"after", "q", "1..170 deg", NULL, "from the wanted place on to the second"}},
     .out = {{"split-mass", "A", "g", NULL, "mass at the first place"},
             {"second-mass", "B", "g", NULL, "at the second"}},
     WH_WORK(3, split_mass),
     .remark = split_remark},
    {.name = "balance.static-and-couple",
     .formula = "P = sqrt(U^2/4 + C^2/l^2)",
     .source = "mechanics; unbalance and couple a quarter turn apart",
     .in = {WHOLE,
            {"couple", "C", "0..1000000000000 g mm2", NULL, "couple unbalance"},
            RADIUS("span", "l", "distance of the planes")},
     .out = {{"static-and-couple", "P", "g mm", NULL, "unbalance in each plane"}},
     WH_WORK(3, static_and_couple)},
    {.name = "balance.mil-unbalance",
     .formula = "U = 0.00635 m/(60 n/(2 pi))",
     .source = "MIL-STD-167: 4 W/N in ounce inches, pounds and rpm; above 1,000 rpm",
     .in = {{"mass", "m", "0.01..100000 kg", NULL, "mass of the rotor"},
            {"speed", "n", "1000..200000 rpm", NULL, "speed"}},
     .out = {{"mil-unbalance", "U", "g mm", NULL, "permissible residual unbalance"}},
     WH_WORK(2, mil_unbalance)},
};

static const struct wh_vocabulary vocabularies[] = {
    {"rotor", "kind of rotor of ISO 21940-11", "fan", rotor_read, rotor_print, rotor_list},
};

const struct wh_subject wh_balance = {.name = "balance",
                                      .title = "Balance of rotors",
                                      .rules = rules,
                                      .rule_count = sizeof rules / sizeof rules[0],
                                      .vocabularies = vocabularies,
                                      .vocabulary_count = sizeof vocabularies / sizeof vocabularies[0]};
