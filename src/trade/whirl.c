/* whirl.c - how a stiff rotor whirls on its springs, and how far a speed stands from a critical one. Flexible rotors
 * are worked out by elements, study/rotor.h; these closed forms are what they are held to. */
#include "trade/rule.h"

#include <math.h>

/* ---- on a pivot and a spring ----------------------------------------------------------------------------------- */

/* About the pivot: T w^2 - Q v w - k h^2 = 0, one root forward, one backward. */
static void rocking(const double in[], double out[])
{
    double stiffness = in[0], height = in[1], tilting = in[2], spin = in[3] * in[4];
    double root = sqrt(spin * spin + 4 * tilting * stiffness * height * height);
    out[0] = (root + spin) / (2 * tilting);
    out[1] = 2 * stiffness * height * height / (root + spin);
}
WH_MANY(5, 2, rocking)

/* ---- on two springs -------------------------------------------------------------------------------------------- */

struct rigid {
    double mass, polar, tilting; /* about its centre of mass */
    double ways, turns, both;    /* stiffness against a way, against a turn, and of one for the other */
    double spin;
};

static double left_over(const struct rigid *r, double w)
{
    return (r->ways - r->mass * w * w) * (r->turns + r->polar * r->spin * w - r->tilting * w * w) - r->both * r->both;
}

/* The root between a place where there is too much and one where there is too little. */
static double halve(const struct rigid *r, double more, double less)
{
    for (int i = 0; i < 200; i++) {
        double middle = (more + less) / 2;
        if (left_over(r, middle) > 0) {
            more = middle;
        } else {
            less = middle;
        }
    }
    return (more + less) / 2;
}

/* Where way and turn do not hang together they each have a forward and a backward root; these part the axis into spans
 * with one root of the whole in each. `side` is 1 for the forward ones, -1 for the backward ones. At twice the greater
 * of the two there is always too much: the factors are at most -3 ways and -turns, and ways turns is more than both^2.
 */
static void whirl_side(const struct rigid *r, double side, double ret[2])
{
    double spin = side * r->polar * r->spin;
    double way = sqrt(r->ways / r->mass);
    double turn = (spin + sqrt(spin * spin + 4 * r->tilting * r->turns)) / (2 * r->tilting);
    double far = 2 * fmax(way, turn);
    ret[0] = halve(r, 0, side * fmin(way, turn));
    ret[1] = halve(r, side * far, side * fmax(way, turn));
}

static void rigid_whirl(const double in[], double out[])
{
    double low = in[3], high = in[4], k = in[5], l = in[6];
    struct rigid r = {in[0], in[1], in[2], k + l, k * low * low + l * high * high, l * high - k * low, in[7]};
    double backward[2], forward[2];
    whirl_side(&r, -1, backward);
    whirl_side(&r, 1, forward);
    out[0] = forward[0];
    out[1] = -backward[0];
    out[2] = forward[1];
    out[3] = -backward[1];
}
WH_MANY(8, 4, rigid_whirl)

/* ---- how far from a critical speed ----------------------------------------------------------------------------- */

static void separation(const double in[], double out[])
{
    out[0] = fabs(in[0] / in[1] - 1);
    out[1] = out[0] - in[2];
}
WH_MANY(3, 2, separation)

static const char *separation_remark(const double in[], const double out[])
{
    (void)in;
    return out[1] < 0 ? "nearer to a critical speed than the margin: it may shake at its running speed" : NULL;
}

/* ---- the table ------------------------------------------------------------------------------------------------- */

#define SPEED                                                                                                          \
    {                                                                                                                  \
        "speed", "v", "0..200000 rpm", NULL, "speed of the rotor"                                                      \
    }
#define STIFFNESS(name, symbol, title)                                                                                 \
    {                                                                                                                  \
        name, symbol, "0.001..100000000 N/mm", NULL, title                                                             \
    }
#define INERTIA(name, symbol, title)                                                                                   \
    {                                                                                                                  \
        name, symbol, "0.000001..100000 kg m2", NULL, title                                                            \
    }
#define WHIRL(name, symbol, title)                                                                                     \
    {                                                                                                                  \
        name, symbol, "rpm", NULL, title                                                                               \
    }

static const struct wh_rule rules[] = {
    {.name = "whirl.rocking",
     .formula = "f = (sqrt((Q v)^2 + 4 T k h^2) + Q v)/(2 T); b = 2 k h^2/(sqrt((Q v)^2 + 4 T k h^2) + Q v)",
     .source = "stiff rotor turning on a pivot, held by a spring",
     .in = {STIFFNESS("mount-stiffness", "k", "stiffness of the mount sideways"),
            {"mount-height", "h", "10..5000 mm", NULL, "height of the mount over the pivot"},
            INERTIA("tilting-inertia", "T", "moment of inertia about a line across the pivot"),
            INERTIA("polar-inertia", "Q", "moment of inertia about the axis"),
            SPEED},
     .out = {WHIRL("rocking-forward", "f", "rocking that goes round with the rotor"),
             WHIRL("rocking-backward", "b", "rocking that goes round against it")},
     WH_WORK(5, rocking)},
    {.name = "whirl.rigid",
     .formula = "roots w of (k + l - m w^2)(k a^2 + l b^2 + Q v w - T w^2) less (l b - k a)^2, each found by halving",
     .source = "stiff rotor on two springs, alike all round",
     .in = {{"mass", "m", "0.001..1000000 kg", NULL, "mass"},
            INERTIA("polar-inertia", "Q", "moment of inertia about the axis"),
            INERTIA("tilting-inertia", "T", "moment of inertia across it, about the centre of mass"),
            {"below", "a", "-20000..20000 mm", NULL, "from the centre of mass down to the lower spring"},
            {"above", "b", "-20000..20000 mm", NULL, "from the centre of mass up to the upper spring"},
            STIFFNESS("lower-stiffness", "k", "stiffness of the lower spring"),
            STIFFNESS("upper-stiffness", "l", "stiffness of the upper spring"),
            SPEED},
     .out = {WHIRL("first-forward", "f", "slower whirl with the rotor"),
             WHIRL("first-backward", "b", "slower whirl against it"),
             WHIRL("second-forward", "g", "quicker whirl with the rotor"),
             WHIRL("second-backward", "d", "quicker whirl against it")},
     WH_WORK(8, rigid_whirl)},
    {.name = "whirl.separation",
     .formula = "s = abs(c/w - 1); r = abs(c/w - 1) - g",
     .source = "definition; the margin is common practice: no standard sets one for every machine, its maker may",
     .in = {{"critical-speed", "c", "0.1..2000000 rpm", NULL, "critical speed"},
            {"speed", "w", "1..200000 rpm", NULL, "running speed"},
            {"critical-margin", "g", "0..100 %", "20 %", "how far it should stand away"}},
     .out = {{"separation", "s", "%", NULL, "how far running speed stands from a critical speed"},
             {"to-spare", "r", "%", NULL, "how much more that is than the margin"}},
     WH_WORK(3, separation),
     .remark = separation_remark},
};

const struct wh_subject wh_whirl = WH_SUBJECT("whirl", "Whirling of a rotor", rules);
