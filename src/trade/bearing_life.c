/* bearing_life.c - loads of a bearing, its rated life and the rating a life asks for. */
#include "trade/rule.h"

#include <math.h>

#define MILLION (2e6 * WH_PI) /* turns, in rad */
#define LONG_LIFE 3.6e8       /* 100,000 h */

static double combined_load(double Fr, double Fa, double X, double Y, double V)
{
    return X * V * Fr + Y * Fa;
}

static double equivalent_load(double Fr, double Fa, double e, double X, double Y, double Y1)
{
    return Fa <= e * Fr ? Fr + Y1 * Fa : X * Fr + Y * Fa;
}

static double static_load(double Fr, double Fa, double X, double Y)
{
    return fmax(X * Fr + Y * Fa, Fr);
}

static double static_safety(double C0, double P0)
{
    return C0 / P0;
}

static const char *static_remark(const double in[], const double out[])
{
    (void)in;
    return out[0] < 1 ? "the load at rest dents the raceways" : NULL;
}

static double rating_life(double C, double P, double p)
{
    return MILLION * pow(C / P, p);
}

static double life(double L, double omega)
{
    return L / omega;
}

static double life_at_speed(double C, double P, double omega, double p)
{
    return life(rating_life(C, P, p), omega);
}

static const char *life_remark(const double in[], const double out[])
{
    (void)in;
    if (out[0] > LONG_LIFE) return "fatigue does not decide: grease, seals and dents do";
    return "a tenth of such bearings fails earlier; it may shorten an interval, never lengthen the maker's";
}

static double turns(double t, double omega)
{
    return t * omega;
}

static double required_rating(double P, double L, double p)
{
    return P * pow(L / MILLION, 1 / p);
}

static double rating_for_life(double P, double t, double omega, double p)
{
    return required_rating(P, t * omega, p);
}

/* Three stages: loads, speeds, shares of the time; then hours and exponent. */
static void varied_rating(const double in[], double out[])
{
    const double *P = in, *omega = in + 3, *share = in + 6;
    double hours = in[9], p = in[10], turning = 0, damage = 0, time = 0;
    for (int i = 0; i < 3; i++) {
        time += share[i];
        turning += share[i] * omega[i];
        damage += share[i] * omega[i] * pow(P[i], p);
    }
    out[1] = pow(damage / turning, 1 / p);
    out[2] = turning / time;
    out[0] = required_rating(out[1], hours * out[2], p);
}

static const char *varied_remark(const double in[], const double out[])
{
    (void)out;
    return fabs(in[6] + in[7] + in[8] - 1) > 0.001 ? "the shares of the time do not add up to 1" : NULL;
}

/* Turns that R of all bearings reach, as a multiple of those that 90 % reach: Weibull with two parameters. */
static double reliable_rating(double P, double L, double R, double n, double beta, double p)
{
    double each = -log(R) / n;
    return required_rating(P, L * pow(-log(0.9) / each, 1 / beta), p);
}

/* The same with three parameters: x0 is reached by all, theta is the characteristic life, both in rated lives. */
static double weibull_multiple(double R, double x0, double theta, double b)
{
    return x0 + (theta - x0) * pow(-log(R), 1 / b);
}

static double weibull_rating(double P, double L, double R, double x0, double theta, double b, double p)
{
    return P * pow(L / MILLION / weibull_multiple(R, x0, theta, b), 1 / p);
}

static double weibull_life(double C, double P, double omega, double R, double x0, double theta, double b, double p)
{
    return rating_life(C, P, p) * weibull_multiple(R, x0, theta, b) / omega;
}

static double modified_life(double L, double a1, double a)
{
    return a1 * a * L;
}

static double minimum_load(double C, double share)
{
    return C * share;
}

WH_COLUMNS(5, combined_load)
WH_COLUMNS(6, equivalent_load)
WH_COLUMNS(4, static_load)
WH_COLUMNS(2, static_safety)
WH_COLUMNS(3, rating_life)
WH_COLUMNS(2, life)
WH_COLUMNS(4, life_at_speed)
WH_COLUMNS(2, turns)
WH_COLUMNS(3, required_rating)
WH_COLUMNS(4, rating_for_life)
WH_MANY(11, 3, varied_rating)
WH_COLUMNS(6, reliable_rating)
WH_COLUMNS(7, weibull_rating)
WH_COLUMNS(8, weibull_life)
WH_COLUMNS(3, modified_life)
WH_COLUMNS(2, minimum_load)

#define RADIAL {"radial-load", "Fr", "0..100000 kN", .title = "load across the bearing"}
#define AXIAL {"axial-load", "Fa", "0..100000 kN", .title = "load along the shaft"}
#define RATING {"rating", "C", "0.001..100000 kN", .title = "dynamic load rating"}
#define LOAD {"equivalent-load", "P", "0.0001..100000 kN", .title = "equivalent load"}
#define EXPONENT {"life-exponent", "p", "2..5 1", .usual = "3", .title = "3 for balls, 10/3 for rollers"}
#define SPEED {"speed", "omega", "0.01..200000 rpm", .title = "speed"}
#define HOURS {"wanted-life", "t", "1..10000000 h", .title = "hours wanted"}
#define TURNS {"wanted-turns", "L", "0.001..10000000 Mrev", .title = "turns wanted"}
#define RELIABILITY {"reliability", "R", "50..99.99 %", .title = "share that shall reach it"}
#define WEIBULL {"least-share", "x0", "0..1 1", .usual = "0.02", .title = "rated lives that all reach"},            \
    {"characteristic", "theta", "1..20 1", .usual = "4.459", .title = "rated lives that 37 % reach"},               \
    {"weibull-slope", "b", "0.5..5 1", .usual = "1.483", .title = "slope of the spread"}
#define NEEDED(NAME) {{NAME, "C", "kN", .title = "dynamic load rating needed"}}
#define ISO_281 "ISO 281:2007"
#define SHIGLEY "Budynas & Nisbett, Shigley's Mechanical Engineering Design, ch. 11"
#define MULTIPLE "(x0 + (theta - x0) ln(1/R)^(1/b))"

static const struct wh_rule rules[] = {
    {.name = "bearing.combined-load", .formula = "P = X V Fr + Y Fa", .source = ISO_281 ", 5.2; V after " SHIGLEY,
     .in = {RADIAL, AXIAL, {"radial-factor", "X", "0..2 1", .title = "share of the load across"},
            {"axial-factor", "Y", "0..10 1", .title = "share of the load along"},
            {"rotation-factor", "V", "1..1.2 1", .usual = "1", .title = "1.2 in old books when the outer ring turns"}},
     .out = {{"combined-load", "P", "kN", .title = "equivalent load"}}, WH_WORK(5, combined_load)},
    {.name = "bearing.equivalent-load", .formula = "P = if(e Fr < Fa, X Fr + Y Fa, Fr + Y1 Fa)",
     .source = ISO_281 ", 5.2",
     .in = {RADIAL, AXIAL, {"axial-limit", "e", "0..5 1", .title = "share of axial load that counts, e"},
            {"radial-factor", "X", "0..1 1", .usual = "0.56", .title = "X above e; 0.65 self-aligning balls"},
            {"axial-factor", "Y", "0..10 1", .title = "Y above e"},
            {"small-axial-factor", "Y1", "0..10 1", .usual = "0", .title = "Y up to e; 0 for one row of balls"}},
     .out = {{"equivalent-load", "P", "kN", .title = "equivalent load"}}, WH_WORK(6, equivalent_load)},
    {.name = "bearing.static-load", .formula = "P0 = max(X0 Fr + Y0 Fa, Fr)", .source = "ISO 76:2006",
     .in = {RADIAL, AXIAL, {"static-radial-factor", "X0", "0..2 1", .usual = "0.6", .title = "X0; 1 for two rows"},
            {"static-axial-factor", "Y0", "0..10 1", .usual = "0.5", .title = "Y0"}},
     .out = {{"static-load", "P0", "kN", .title = "equivalent load at rest"}}, WH_WORK(4, static_load)},
    {.name = "bearing.static-safety", .formula = "s0 = C0/P0", .source = "ISO 76:2006",
     .in = {{"static-rating", "C0", "0.001..100000 kN", .title = "static load rating"},
            {"static-load", "P0", "0.0001..100000 kN", .title = "equivalent load at rest"}},
     .out = {{"static-safety", "s0", "1", .title = "static safety"}}, WH_WORK(2, static_safety),
     .remark = static_remark},
    {.name = "bearing.rating-life", .formula = "L = 2e6 pi (C/P)^p", .source = ISO_281 ", 5.3",
     .in = {RATING, LOAD, EXPONENT},
     .out = {{"rating-life", "L", "Mrev", .title = "turns that 9 of 10 reach"}}, WH_WORK(3, rating_life)},
    {.name = "bearing.life", .formula = "t = L/omega", .source = ISO_281 ", 5.3",
     .in = {{"rating-life", "L", "0..1e15 Mrev", .title = "turns that 9 of 10 reach"}, SPEED},
     .out = {{"life", "t", "h", .title = "hours that 9 of 10 reach"}}, WH_WORK(2, life), .remark = life_remark},
    {.name = "bearing.life-at-speed", .formula = "t = 2e6 pi (C/P)^p/omega", .source = ISO_281 ", 5.3",
     .in = {RATING, LOAD, SPEED, EXPONENT},
     .out = {{"life-at-speed", "t", "h", .title = "hours that 9 of 10 reach"}}, WH_WORK(4, life_at_speed),
     .remark = life_remark},
    {.name = "bearing.turns", .formula = "L = t omega", .source = "by definition", .in = {HOURS, SPEED},
     .out = {{"turns", "L", "Mrev", .title = "turns in these hours"}}, WH_WORK(2, turns)},
    {.name = "bearing.required-rating", .formula = "C = P (L/(2e6 pi))^(1/p)", .source = ISO_281 ", 5.3",
     .in = {LOAD, TURNS, EXPONENT}, .out = NEEDED("required-rating"), WH_WORK(3, required_rating)},
    {.name = "bearing.rating-for-life", .formula = "C = P (t omega/(2e6 pi))^(1/p)", .source = ISO_281 ", 5.3",
     .in = {LOAD, HOURS, SPEED, EXPONENT}, .out = NEEDED("rating-for-life"), WH_WORK(4, rating_for_life)},
    {.name = "bearing.varied-rating",
     .formula = "C = ((q1 n1 P1^p + q2 n2 P2^p + q3 n3 P3^p) t/(2e6 pi (q1 + q2 + q3)))^(1/p); "
                "Pm = ((q1 n1 P1^p + q2 n2 P2^p + q3 n3 P3^p)/(q1 n1 + q2 n2 + q3 n3))^(1/p); "
                "nm = (q1 n1 + q2 n2 + q3 n3)/(q1 + q2 + q3)",
     .source = "Jindal, Machine Design, ch. 18",
     .in = {{"load-1", "P1", "0..100000 kN", .title = "load of the first stage"},
            {"load-2", "P2", "0..100000 kN", .title = "load of the second stage"},
            {"load-3", "P3", "0..100000 kN", .title = "load of the third stage"},
            {"speed-1", "n1", "0.01..200000 rpm", .title = "speed of the first stage"},
            {"speed-2", "n2", "0.01..200000 rpm", .title = "speed of the second stage"},
            {"speed-3", "n3", "0.01..200000 rpm", .title = "speed of the third stage"},
            {"share-1", "q1", "0.001..1 1", .title = "share of the time of the first stage"},
            {"share-2", "q2", "0.001..1 1", .title = "share of the time of the second stage"},
            {"share-3", "q3", "0.001..1 1", .title = "share of the time of the third stage"}, HOURS, EXPONENT},
     .out = {{"varied-rating", "C", "kN", .title = "dynamic load rating needed"},
             {"mean-load", "Pm", "kN", .title = "steady load that wears as much"},
             {"mean-speed", "nm", "rpm", .title = "mean speed"}},
     WH_WORK(11, varied_rating), .remark = varied_remark},
    {.name = "bearing.reliable-rating",
     .formula = "C = P (L/(2e6 pi) (ln(1/0.9) n/ln(1/R))^(1/beta))^(1/p)", .source = "Jindal, Machine Design, ch. 18",
     .in = {LOAD, TURNS, RELIABILITY,
            {"bearings", "n", "1..1000 1", .usual = "1", .title = "bearings that must all reach it"},
            {"weibull-slope", "beta", "0.5..5 1", .usual = "1.17", .title = "slope of the spread"}, EXPONENT},
     .out = NEEDED("reliable-rating"), WH_WORK(6, reliable_rating)},
    {.name = "bearing.weibull-rating", .formula = "C = P (L/(2e6 pi " MULTIPLE "))^(1/p)", .source = SHIGLEY,
     .in = {LOAD, TURNS, RELIABILITY, WEIBULL, EXPONENT}, .out = NEEDED("weibull-rating"),
     WH_WORK(7, weibull_rating)},
    {.name = "bearing.weibull-life", .formula = "t = 2e6 pi (C/P)^p " MULTIPLE "/omega", .source = SHIGLEY,
     .in = {RATING, LOAD, SPEED, RELIABILITY, WEIBULL, EXPONENT},
     .out = {{"weibull-life", "t", "h", .title = "hours that this share reaches"}}, WH_WORK(8, weibull_life),
     .remark = life_remark},
    {.name = "bearing.modified-life", .formula = "Lm = a1 a L", .source = ISO_281 ", 9.2",
     .in = {{"rating-life", "L", "0..1e15 Mrev", .title = "turns that 9 of 10 reach"},
            {"reliability-factor", "a1", "0.01..1 1", .usual = "1", .title = "factor of reliability"},
            {"life-factor", "a", "0.1..50 1", .title = "factor of lubrication and dirt"}},
     .out = {{"modified-life", "Lm", "Mrev", .title = "turns, with lubrication and dirt"}},
     WH_WORK(3, modified_life)},
    {.name = "bearing.minimum-load", .formula = "F = C s", .source = "common practice: balls 1 %, rollers 2 % of C",
     .in = {RATING, {"least-load-share", "s", "0.001..0.1 1", .usual = "0.01", .title = "0.01 balls, 0.02 rollers"}},
     .out = {{"minimum-load", "F", "kN", .title = "load below which the elements slide"}},
     WH_WORK(2, minimum_load)},
};

const struct wh_subject wh_bearing_life = WH_SUBJECT("bearing", "Bearings: load and life", rules);
