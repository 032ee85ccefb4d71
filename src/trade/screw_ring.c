/* screw_ring.c - a ring of screws: stages and pattern, what oil, dirt or locker make of the pull, and worn threads. */
#include "trade/rule.h"
#include "trade/thread_table.h"

#include <math.h>

/* ---- stages and pattern ------------------------------------------------------------------------------------------ */

static void stages(const double in[], double out[])
{
    out[0] = in[1] * in[0];
    out[1] = in[2] * in[0];
    out[2] = in[0];
}
WH_MANY(3, 3, stages)

static const char *stages_remark(const double in[], const double out[])
{
    (void)out;
    return in[1] >= in[2] ? "the first stage must be less than the second"
                          : "each stage crosswise, the last once more round the ring until no screw turns";
}

/* Where fours of screws that stand square to one another begin, for rings of up to 24. */
enum { FOURS = 6 };
static const char beginnings[FOURS][FOURS] = {{1}, {1, 2}, {1, 2, 3}, {1, 3, 2, 4}, {1, 3, 5, 2, 4},
{1, 4, 2, 5, 3, 6}};

/* The i-th of m beginnings, from 0: the odd ones, then the even ones, where the table has none. */
static int beginning(int i, int m)
{
    int odd = (m + 1) / 2;
    if (m <= FOURS) return beginnings[m - 1][i];
    return i < odd ? 2 * i + 1 : 2 * (i - odd) + 2;
}

/* Of n screws numbered round the ring, the one that is tightened as the k-th. */
static int place_in_ring(int n, int k)
{
    static const int quarters[] = {0, 2, 1, 3};
    if (n % 4 == 0) return (beginning((k - 1) / 4, n / 4) - 1 + quarters[(k - 1) % 4] * n / 4) % n + 1;
    if (n % 2 == 0) return ((k - 1) / 2 * 2 + (k - 1) % 2 * n / 2) % n + 1;
    return (k - 1) * ((n + 1) / 2) % n + 1;
}

static double turn_to_tighten(double count, double step)
{
    int n = (int)(count + 0.5), k = (int)(step + 0.5);
    return k <= n ? (double)place_in_ring(n, k) : NAN;
}
WH_COLUMNS(2, turn_to_tighten)

static const char *turn_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[0]) ? "the ring has no so many screws: its last stage goes round in order" : NULL;
}

/* ---- pull between two frictions ---------------------------------------------------------------------------------- */

/* The torque that a pull of one newton asks, as in thread.c. */
static double lever(double d, double pitch, double mu, double mean)
{
    return 0.16 * pitch + mu * (0.58 * (d - 0.649519 * pitch) + mean / 2);
}

static void pull_between(const double in[], double out[])
{
    out[0] = in[0] / lever(in[1], in[2], in[5], in[3]);
    out[1] = in[0] / lever(in[1], in[2], in[4], in[3]);
    out[2] = (out[1] - out[0]) / (out[1] + out[0]);
}
WH_MANY(6, 3, pull_between)

static void torque_between(const double in[], double out[])
{
    out[0] = in[0] * lever(in[1], in[2], in[4], in[3]);
    out[1] = in[0] * lever(in[1], in[2], in[5], in[3]);
}
WH_MANY(6, 2, torque_between)

static const char *between_remark(const double in[], const double out[])
{
    (void)out;
    if (in[4] > in[5]) return "the least friction must not be more than the most";
    return in[5] / in[4] > 1.5 ? "a wide spread: clean threads and one named lubricant narrow it" : NULL;
}

static void scattered_pull(const double in[], double out[])
{
    out[0] = 2 * in[0] / (in[1] + 1);
    out[1] = in[1] * out[0];
}
WH_MANY(2, 2, scattered_pull)

/* ---- threads that have given ------------------------------------------------------------------------------------- */

static double measured_pitch(double over, double threads)
{
    return over / threads;
}
WH_COLUMNS(2, measured_pitch)

static double pitch_growth(double over, double threads, double pitch)
{
    return over / (threads * pitch) - 1;
}
WH_COLUMNS(3, pitch_growth)

static const char *growth_remark(const double in[], const double out[])
{
    (void)in;
    if (fabs(out[0]) > 0.05) return "another thread than you think: look with the pitch gauge";
    if (out[0] > 0.002) return "stretched past its yield strength: a new screw";
    return out[0] < -0.002 ? "shorter than its pitch: count the threads again" : NULL;
}

/* Which of two pitches a measured one is, and how far it lies from the nearer. */
static void nearer_pitch(const double in[], double out[])
{
    out[0] = fabs(in[0] - in[1]) <= fabs(in[0] - in[2]) ? in[1] : in[2];
    out[1] = in[0] - out[0];
}
WH_MANY(3, 2, nearer_pitch)

static const char *nearer_remark(const double in[], const double out[])
{
    return fabs(out[1]) > 0.25 * fabs(in[1] - in[2]) ? "between the two: measure over more threads" : NULL;
}

/* Areas sheared when a thread of the basic profile strips: screw's along the nut's bore, nut's along the outside. */
static void strip_areas(const double in[], double out[])
{
    double d = in[0], pitch = in[1], depth = in[2];
    out[0] = 0.75 * WH_PI * (d - 1.082532 * pitch) * depth;
    out[1] = 0.875 * WH_PI * d * depth;
}
WH_MANY(3, 2, strip_areas)

static double strip_load(double area, double tensile, double share)
{
    return area * tensile * share;
}
WH_COLUMNS(3, strip_load)

static double strip_safety(double strip, double breaking)
{
    return strip / breaking;
}
WH_COLUMNS(2, strip_safety)

static const char *safety_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] < 1 ? "the thread strips before the screw breaks, and nobody sees it: deeper, or an insert" : NULL;
}

#define COUNT(MOST) {"count", "n", "3.." MOST " 1", .title = "screws in the ring"}
#define DIAMETER {"diameter", "d", "1..200 mm", .title = "thread diameter"}
#define PITCH {"pitch", "P", "0.2..10 mm", .title = "pitch"}
#define HEAD_MEAN {"head-mean", "D", "0..200 mm", .title = "mean diameter of the face under the head"}
#define FRICTIONS {"friction-least", "mu1", "0.02..0.6 1", .title = "friction, least of the state"},        \
    {"friction-most", "mu2", "0.02..0.6 1", .title = "friction, most of the state"}
#define OVER {"over-threads", "l", "0.2..500 mm", .title = "measured over these threads"}
#define THREADS {"threads", "N", "1..100 1", .usual = "10", .title = "pitches it was measured over"}
#define LEVER(MU) "(0.16 P + " MU " (0.58 (d - 0.649519 P) + D/2))"
#define GUIDELINE "VDI 2230-1"

static const struct wh_rule rules[] = {
    {.name = "thread.stage-1", .formula = "a = x M; b = y M; c = M",
     .source = "ASME PCC-1, legacy pattern: about 20 to 30 %, 50 to 70 % and 100 % crosswise, then once round",
     .in = {{"wrench-setting", "M", "0.1..100000 N m", .title = "torque it is tightened to"},
            {"first-share", "x", "0.1..0.6 1", .usual = "0.3", .title = "share of the first stage"},
            {"second-share", "y", "0.3..0.9 1", .usual = "0.7", .title = "share of the second stage"}},
     .out = {{"stage-1", "a", "N m", .title = "first stage, crosswise"},
             {"stage-2", "b", "N m", .title = "second stage, crosswise"},
             {"stage-3", "c", "N m", .title = "last stage, crosswise, then once round"}},
     WH_WORK(3, stages), .remark = stages_remark},
    {.name = "thread.turn-in-ring",
     .formula = "crosswise: fours square to one another, else opposite pairs, else every second screw round the ring",
     .source = "ASME PCC-1, legacy pattern, table 4, for rings of fours to 24; others common practice, from memory",
     .in = {COUNT("200"), {"step", "k", "1..200 1", .title = "the how-manieth screw of the stage"}},
     .out = {{"turn-in-ring", "s", "1", .title = "screw to tighten, numbered round the ring"}},
     WH_WORK(2, turn_to_tighten), .remark = turn_remark},
    {.name = "thread.pull-least",
     .formula = "F1 = M/" LEVER("mu2") "; F2 = M/" LEVER("mu1") "; "
                "r = (M/" LEVER("mu1") " - M/" LEVER("mu2") ")/(M/" LEVER("mu1") " + M/" LEVER("mu2") ")",
     .source = GUIDELINE ", thread and head of the same friction",
     .in = {{"wrench-setting", "M", "0.01..100000 N m",
            .title = "torque it is tightened to"}, DIAMETER, PITCH, HEAD_MEAN,
            FRICTIONS},
     .out = {{"pull-least", "F1", "kN", .title = "pull of one screw, least"},
             {"pull-most", "F2", "kN", .title = "pull of one screw, most"},
             {"pull-scatter", "r", "%", .title = "plus and minus about the middle"}},
     WH_WORK(6, pull_between), .remark = between_remark},
    {.name = "thread.torque-least", .formula = "M1 = F " LEVER("mu1") "; M2 = F " LEVER("mu2"),
     .source = GUIDELINE ", thread and head of the same friction",
     .in = {{"preload", "F", "0.001..10000 kN", .title = "pull wanted of one screw"}, DIAMETER, PITCH, HEAD_MEAN,
            FRICTIONS},
     .out = {{"torque-least", "M1", "N m", .title = "torque for it where it is slippery"},
             {"torque-most", "M2", "N m", .title = "torque for it where it is rough"}},
     WH_WORK(6, torque_between), .remark = between_remark},
    {.name = "thread.scattered-least", .formula = "F1 = 2 F/(alpha + 1); F2 = 2 alpha F/(alpha + 1)",
     .source = GUIDELINE,
     .in = {{"preload", "F", "0.001..10000 kN", .title = "pull of one screw, in the middle"},
            {"tightening-factor", "alpha", "1..10 1", .title = "greatest pull over least, by the way of tightening"}},
     .out = {{"scattered-least", "F1", "kN", .title = "pull of one screw, least"},
             {"scattered-most", "F2", "kN", .title = "pull of one screw, most"}},
     WH_WORK(2, scattered_pull)},
    {.name = "thread.measured-pitch", .formula = "P = l/N", .source = "definition of the pitch, ISO 5408",
     .in = {OVER, THREADS}, .out = {{"measured-pitch", "P", "mm", .title = "pitch, measured"}},
     WH_WORK(2, measured_pitch)},
    {.name = "thread.pitch-growth", .formula = "g = l/(N P) - 1",
     .source = "definition; 0.2 % left is the yield strength's own measure (ISO 898-1, Rp0.2)", .in = {OVER,
     THREADS, PITCH},
     .out = {{"pitch-growth", "g", "%", .title = "longer than it should be by"}}, WH_WORK(3, pitch_growth),
     .remark = growth_remark},
    {.name = "thread.nearer-pitch",
     .formula = "Pn = if(abs(P - P1) > abs(P - P2), P2, P1); e = P - if(abs(P - P1) > abs(P - P2), P2, P1)",
     .source = "definition", .in = {{"measured-pitch", "P", "0.1..12 mm", .title = "pitch, measured"},
            {"coarse", "P1", "0.2..10 mm", .title = "coarse pitch of this diameter"},
            {"fine", "P2", "0.2..10 mm", .title = "fine pitch of this diameter"}},
     .out = {{"nearer-pitch", "Pn", "mm", .title = "pitch it is"}, {"pitch-off", "e", "mm",
            .title = "measured, less that"}},
     WH_WORK(3, nearer_pitch), .remark = nearer_remark},
    {.name = "thread.strip-area-screw", .formula = "A1 = 0.75 pi (d - 1.082532 P) l; A2 = 0.875 pi d l",
     .source = "basic profile of ISO 68-1 without play: 0.75 and 0.875 of the engaged length are sheared",
     .in = {DIAMETER, PITCH, {"engagement", "l", "0.5..500 mm", .title = "depth of thread that engages"}},
     .out = {{"strip-area-screw", "A1", "mm2", .title = "sheared where the screw's thread strips"},
             {"strip-area-nut", "A2", "mm2", .title = "sheared where the hole's thread strips"}},
     WH_WORK(3, strip_areas)},
    {.name = "thread.strip-load", .formula = "F = A Rm k",
     .source = "common practice: shear strength 0.6 of tensile strength, from memory",
     .in = {{"strip-area", "A", "0.1..1000000 mm2", .title = "sheared area"},
            {"tensile", "Rm", "20..3000 MPa", .title = "tensile strength of the thread that strips"},
            {"shear-share", "k", "0.4..0.9 1", .usual = "0.6", .title = "shear strength over tensile strength"}},
     .out = {{"strip-load", "F", "kN", .title = "pull that strips it"}}, WH_WORK(3, strip_load)},
    {.name = "thread.strip-safety", .formula = "x = Fs/Fm", .source = "by definition",
     .in = {{"strip-load", "Fs", "0..100000 kN", .title = "pull that strips the thread"},
            {"least-ultimate-load", "Fm", "0.001..100000 kN", .title = "pull that breaks the screw"}},
     .out = {{"strip-safety", "x", "1", .title = "stripping over breaking"}}, WH_WORK(2, strip_safety),
     .remark = safety_remark},
};

const struct wh_subject wh_screw_ring = WH_SUBJECT("thread", "Rings of screws, and threads that have given", rules);
