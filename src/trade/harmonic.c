/* harmonic.c - readings equally spaced all round: how far off centre, how oval, and how well the readings tell it. */
#include "trade/rule.h"

#include <math.h>

/* Mean, first and second wave of k readings, and what is left of them. */
struct waves {
    double a[3], b[3]; /* of the mean (a[0]) and the waves that come once and twice round */
    double scatter;    /* of a reading about them; NaN where the five numbers take up all readings */
};

/* The places of the readings are the same in every row. */
struct circle {
    size_t count;
    double cosine[3][WH_RULE_COLUMNS], sine[3][WH_RULE_COLUMNS];
};

static void divide(struct circle *circle, size_t k)
{
    circle->count = k;
    for (size_t m = 0; m < 3; m++)
        for (size_t c = 0; c < k; c++) {
            double angle = 2 * WH_PI * (double)(m * c) / (double)k;
            circle->cosine[m][c] = cos(angle);
            circle->sine[m][c] = sin(angle);
        }
}

static struct waves fit(const struct circle *circle, const double *const in[], size_t i)
{
    struct waves w = {{0}, {0}, 0};
    double k = (double)circle->count, squares = 0;
    for (size_t m = 0; m < 3; m++)
        for (size_t c = 0; c < circle->count; c++) {
            w.a[m] += (m > 0 ? 2 : 1) * in[c][i] * circle->cosine[m][c] / k;
            w.b[m] += 2 * in[c][i] * circle->sine[m][c] / k;
        }
    for (size_t c = 0; c < circle->count; c++) {
        double rest = in[c][i];
        for (size_t m = 0; m < 3; m++) rest -= w.a[m] * circle->cosine[m][c] + w.b[m] * circle->sine[m][c];
        squares += rest * rest;
    }
    w.scatter = k > 5 ? sqrt(squares / (k - 5)) : NAN;
    return w;
}

/* The wave that comes m times round; a dial shows `swing` times its size. */
static void wave_columns(size_t m, double swing, size_t n, size_t k, const double *const in[], double *const out[])
{
    struct circle circle;
    divide(&circle, k);
    for (size_t i = 0; i < n; i++) {
        struct waves w = fit(&circle, in, i);
        double direction = atan2(w.b[m], w.a[m]);
        out[0][i] = k > 4 ? swing * hypot(w.a[m], w.b[m]) : NAN;
        out[1][i] = (direction < 0 ? direction + 2 * WH_PI : direction) / (double)m;
        out[2][i] = swing * w.scatter * sqrt(2 / (double)k);
        out[3][i] = w.scatter;
    }
}

static void centre_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    wave_columns(1, 1, n, k, in, out);
}

static void oval_columns(size_t n, size_t k, const double *const in[], double *const out[])
{
    wave_columns(2, 2, n, k, in, out);
}

static const char *few_remark(const double in[], const double out[])
{
    (void)in;
    if (isnan(out[0])) return "at least five readings, equally spaced all round";
    if (isnan(out[2])) return "five readings leave no scatter: eight tell how good they are";
    return out[0] < 2 * out[2] ? "no more than the readings scatter: nothing is proven" : NULL;
}

#define ROUND                                                                                                          \
    {                                                                                                                  \
        "readings", "R_i", "any difference", NULL, "readings equally spaced all round", .many = 30                     \
    }
#define UNCERTAINTY                                                                                                    \
    {                                                                                                                  \
        "wave-uncertainty", "u", "any difference", NULL, "its standard uncertainty, from the scatter"                  \
    }
#define SCATTER                                                                                                        \
    {                                                                                                                  \
        "scatter", "s", "any difference", NULL, "scatter of a reading about mean and both waves"                       \
    }

static const struct wh_rule rules[] = {
    {.name = "conformity.off-centre",
     .formula = "first harmonic of the readings, least squares with mean and second; u from what is left, s sqrt(2/k)",
     .source = "NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.4; least squares, variance of a coefficient",
     .in = {ROUND},
     .out = {{"off-centre", "e", "any difference", NULL, "how far off centre"},
             {"direction", "psi", "deg", NULL, "toward where, from the first reading on"},
             UNCERTAINTY,
             SCATTER},
     .arity = 1,
     .work = centre_columns,
     .remark = few_remark},
    {.name = "conformity.oval",
     .formula =
         "second harmonic of the readings, least squares with mean and first; u from what is left, 2 s sqrt(2/k)",
     .source = "NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.4; least squares, variance of a coefficient",
     .in = {ROUND},
     .out = {{"oval", "o", "any difference", NULL, "out of round, high less low of the dial"},
             {"direction", "psi", "deg", NULL, "one of its two high points, from the first reading on"},
             UNCERTAINTY,
             SCATTER},
     .arity = 1,
     .work = oval_columns,
     .remark = few_remark},
};

const struct wh_subject wh_harmonic = WH_SUBJECT("conformity", "Readings all round", rules);
