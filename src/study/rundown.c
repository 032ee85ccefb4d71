#include "study/rundown.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TERMS = WH_SLOWING_TERMS, STEPS = 200 };

static const double BEYOND_CHANCE = 16; /* F of one more term: four standard deviations */
static const double LAW = 0.1;          /* of the time below the lowest speed read */
static const double WELL_TOLD = 3;      /* steady drag over its uncertainty */

/* ---- the slowing rotor in closed form -------------------------------------------------------------------------- */

/* cos(s t) and sin(s t)/s of q = s^2, for q of either sign, and how they change with q. */
struct wave {
    double cosine, sine, cosine_q, sine_q;
};

static struct wave wave_of(double q, double t)
{
    double x = q * t * t, s = sqrt(fabs(q));
    struct wave w;
    if (fabs(x) < 1e-4) {
        w.cosine = 1 - x / 2 + x * x / 24;
        w.sine = t * (1 - x / 6 + x * x / 120);
        w.sine_q = t * t * t * (-1.0 / 6 + x / 60 - x * x / 1680);
    } else {
        w.cosine = q > 0 ? cos(s * t) : cosh(s * t);
        w.sine = (q > 0 ? sin(s * t) : sinh(s * t)) / s;
        w.sine_q = (t * w.cosine - w.sine) / (2 * q);
    }
    w.cosine_q = -t * w.sine / 2;
    return w;
}

/* The speed at t, and in slope (may be NULL) how it changes with each term. */
static double speed_at(const double p[TERMS], double t, double slope[TERMS])
{
    double a = p[WH_SLOWED_STEADY], k = p[WH_SLOWED_VISCOUS], b = p[WH_SLOWED_AIR], w0 = p[WH_SLOWED_SPEED];
    struct wave w = wave_of(a * b - k * k / 4, t);
    double lost = a + k * w0 / 2, gained = b * w0 + k / 2;
    double over = w.cosine * w0 - lost * w.sine, under = w.cosine + gained * w.sine, speed = over / under;
    if (!slope) return speed;
    double over_q = w.cosine_q * w0 - lost * w.sine_q, under_q = w.cosine_q + gained * w.sine_q;
    double q_slope[TERMS] = {[WH_SLOWED_STEADY] = b, [WH_SLOWED_VISCOUS] = -k / 2, [WH_SLOWED_AIR] = a};
    double over_slope[TERMS] = {-w.sine, -w0 * w.sine / 2, 0, w.cosine - k / 2 * w.sine};
    double under_slope[TERMS] = {0, w.sine / 2, w0 * w.sine, b * w.sine};
    for (int i = 0; i < TERMS; i++)
        slope[i] = (over_slope[i] + q_slope[i] * over_q - speed * (under_slope[i] + q_slope[i] * under_q)) / under;
    return speed;
}

double wh_slowing_speed(const struct wh_slowing *slowing, double time)
{
    return speed_at(slowing->of, time, NULL);
}

double wh_slowing_time(const struct wh_slowing *slowing, double from, double to)
{
    const double *p = slowing->of;
    double a = p[WH_SLOWED_STEADY], k = p[WH_SLOWED_VISCOUS], b = p[WH_SLOWED_AIR];
    double q = a * b - k * k / 4, x = (from - to) / (a + k * (from + to) / 2 + b * from * to), s = sqrt(fabs(q)) * x;
    if (from <= to) return 0;
    if (!(a + k * to + b * to * to > 0)) return INFINITY;
    if (s < 1e-5) return x * (1 - (q > 0 ? s * s : -s * s) / 3);
    return x * (q > 0 ? atan(s) : atanh(s)) / s;
}

/* ---- least squares --------------------------------------------------------------------------------------------- */

/* Readings brought to about 1 in time and speed, and the terms that are fitted. */
struct fitting {
    size_t n;
    const double *time, *speed;
    double start, span, top;
    bool fitted[TERMS];
};

static double time_of(const struct fitting *f, size_t i)
{
    return (f->time[i] - f->start) / f->span;
}

/* Solves the normal equations of the fitted terms with `damping` added to their diagonal, by Cholesky. With `inverse`
 * the inverse matrix is left there. False: not positive. */
static bool solve(const struct fitting *f, double m[TERMS][TERMS], const double v[TERMS], double damping,
                  double x[TERMS], double inverse[TERMS][TERMS])
{
    double l[TERMS][TERMS] = {{0}};
    for (int i = 0; i < TERMS; i++) {
        for (int j = 0; j <= i; j++) {
            bool in = f->fitted[i] && f->fitted[j];
            double sum = in ? m[i][j] * (i == j ? 1 + damping : 1) : i == j;
            for (int k = 0; k < j; k++) sum -= l[i][k] * l[j][k];
            if (i == j && !(sum > 1e-14 * (in ? m[i][i] : 1))) return false;
            l[i][j] = i == j ? sqrt(sum) : sum / l[j][j];
        }
    }
    for (int column = 0; column < (inverse ? TERMS : 1); column++) {
        double y[TERMS];
        for (int i = 0; i < TERMS; i++) {
            y[i] = inverse ? i == column : v[i];
            for (int k = 0; k < i; k++) y[i] -= l[i][k] * y[k];
            y[i] /= l[i][i];
        }
        for (int i = TERMS - 1; i >= 0; i--) {
            for (int k = i + 1; k < TERMS; k++) y[i] -= l[k][i] * y[k];
            y[i] /= l[i][i];
            if (inverse) inverse[i][column] = f->fitted[i] && f->fitted[column] ? y[i] : 0;
        }
        if (!inverse) memcpy(x, y, sizeof y);
    }
    return true;
}

/* Sum of squares of the residuals; with m and v the normal equations too. */
static double squares(const struct fitting *f, const double p[TERMS], double m[TERMS][TERMS], double v[TERMS])
{
    double sum = 0, slope[TERMS] = {0};
    if (m) memset(m, 0, sizeof(double[TERMS][TERMS]));
    if (m) memset(v, 0, sizeof(double[TERMS]));
    for (size_t n = 0; n < f->n; n++) {
        double rest = f->speed[n] / f->top - speed_at(p, time_of(f, n), m ? slope : NULL);
        sum += rest * rest;
        for (int i = 0; m && i < TERMS; i++) {
            if (!f->fitted[i]) continue;
            v[i] += slope[i] * rest;
            for (int j = 0; j <= i; j++) m[i][j] += f->fitted[j] ? slope[i] * slope[j] : 0;
        }
    }
    return sum;
}

/* A start near the answer: w = w0 - a t - k (turned angle) - b (integral of w^2) is linear in the terms. */
static bool begin(const struct fitting *f, double p[TERMS])
{
    double m[TERMS][TERMS] = {{0}}, v[TERMS] = {0}, angle = 0, square = 0, was = f->speed[0] / f->top;
    for (size_t n = 0; n < f->n; n++) {
        double now = f->speed[n] / f->top, t = time_of(f, n), dt = n ? t - time_of(f, n - 1) : 0;
        angle += (now + was) / 2 * dt;
        square += (now * now + was * was) / 2 * dt;
        was = now;
        double column[TERMS] = {-t, -angle, -square, 1};
        for (int i = 0; i < TERMS; i++) {
            v[i] += f->fitted[i] ? column[i] * now : 0;
            for (int j = 0; j <= i; j++) m[i][j] += column[i] * column[j];
        }
    }
    return solve(f, m, v, 0, p, NULL);
}

/* Levenberg and Marquardt's steps from p to the least squares. */
static bool descend(const struct fitting *f, double p[TERMS], double *ret_squares)
{
    double m[TERMS][TERMS], v[TERMS], damping = 1e-6, sum = squares(f, p, m, v);
    for (int step = 0; step < STEPS && isfinite(sum); step++) {
        double x[TERMS], tried[TERMS], most = 0;
        if (!solve(f, m, v, damping, x, NULL)) return false;
        for (int i = 0; i < TERMS; i++) tried[i] = p[i] + (f->fitted[i] ? x[i] : 0);
        for (int i = 0; i < TERMS; i++) most = fmax(most, f->fitted[i] ? fabs(x[i]) : 0);
        double new_sum = squares(f, tried, NULL, NULL);
        bool better = new_sum <= sum;
        if (better) {
            memcpy(p, tried, sizeof tried);
            sum = squares(f, p, m, v);
        }
        damping = better ? damping / 10 : damping * 10;
        if (most < 1e-13 || damping > 1e12) break;
    }
    *ret_squares = sum;
    return isfinite(sum);
}

/* Fits, leaving out one after the other the terms that come out negative. */
static bool fit_terms(struct fitting *f, double p[TERMS], double *ret_squares)
{
    for (;;) {
        if (!begin(f, p) || !descend(f, p, ret_squares)) return false;
        int worst = -1;
        for (int i = 0; i < WH_SLOWED_SPEED; i++)
            if (f->fitted[i] && p[i] < 0 && (worst < 0 || p[i] < p[worst])) worst = i;
        if (worst < 0) return f->fitted[WH_SLOWED_STEADY] || f->fitted[WH_SLOWED_VISCOUS] || f->fitted[WH_SLOWED_AIR];
        f->fitted[worst] = false;
    }
}

static double correlation_of(const struct fitting *f, const double p[TERMS])
{
    double was = 0, sum = 0, product = 0;
    for (size_t n = 0; n < f->n; n++) {
        double rest = f->speed[n] / f->top - speed_at(p, time_of(f, n), NULL);
        sum += rest * rest;
        product += n ? rest * was : 0;
        was = rest;
    }
    return sum > 0 ? product / sum : 0;
}

/* Back to seconds and rad/s. A term left out because it came out negative is as uncertain as if it were in. */
static enum wh_status finish(const struct fitting *f, const double p[TERMS], double sum, struct wh_run_down_fit *ret)
{
    double m[TERMS][TERMS], v[TERMS], inverse[TERMS][TERMS];
    double scale[TERMS] = {f->top / f->span, 1 / f->span, 1 / (f->span * f->top), f->top};
    double terms = 0, correlation = correlation_of(f, p), kept = fmin(fmax(correlation, 0), 0.99);
    for (int i = 0; i < TERMS; i++) terms += f->fitted[i];
    struct fitting whole = *f;
    whole.fitted[WH_SLOWED_STEADY] = whole.fitted[WH_SLOWED_AIR] = true;
    squares(&whole, p, m, v);
    if (!solve(&whole, m, v, 0, NULL, inverse)) return WH_ERR_NO_ANSWER;
    double variance = sum / ((double)f->n - terms), widened = variance * (1 + kept) / (1 - kept);
    *ret = (struct wh_run_down_fit){.scatter = sqrt(variance) * f->top,
                                    .correlation = correlation,
                                    .count = f->n,
                                    .lowest = f->speed[f->n - 1],
                                    .start = f->start};
    memcpy(ret->told, f->fitted, sizeof ret->told);
    for (int i = 0; i < TERMS; i++) {
        ret->slowing.of[i] = f->fitted[i] ? p[i] * scale[i] : 0;
        for (int j = 0; j < TERMS; j++) ret->covariance[i][j] = widened * inverse[i][j] * scale[i] * scale[j];
    }
    return WH_OK;
}

enum wh_status wh_run_down_fit(size_t n, const double time[], const double speed[], struct wh_run_down_fit *ret)
{
    if (n < WH_RUN_DOWN_LEAST) return WH_ERR_NO_ANSWER;
    struct fitting f = {.n = n,
                        .time = time,
                        .speed = speed,
                        .start = time[0],
                        .span = time[n - 1] - time[0],
                        .top = speed[0],
                        .fitted = {true, false, true, true}};
    for (size_t i = 0; i < n; i++)
        if (!(speed[i] > 0) || !isfinite(speed[i]) || (i && !(time[i] > time[i - 1]))) return WH_ERR_NO_ANSWER;
    double p[TERMS] = {0}, sum, fuller[TERMS] = {0}, less = 0;
    if (!fit_terms(&f, p, &sum)) return WH_ERR_NO_ANSWER;
    struct fitting full = f;
    memcpy(full.fitted, (bool[TERMS]){true, true, true, true}, sizeof full.fitted);
    bool more = n > TERMS + 4 && fit_terms(&full, fuller, &less) && full.fitted[WH_SLOWED_VISCOUS];
    double kept = fmin(fmax(more ? correlation_of(&full, fuller) : 0, 0), 0.99);
    double noise = more ? fmax(less, DBL_EPSILON * (double)n) / (double)(n - TERMS) * (1 + kept) / (1 - kept) : 0;
    more = more && sum - less > BEYOND_CHANCE * noise;
    return more ? finish(&full, fuller, less, ret) : finish(&f, p, sum, ret);
}

/* ---- readings of something else left out ------------------------------------------------------------------------ */

enum { ROUNDS = 30 };

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* How far reading i lies from the fit: one that lies beyond the fit's standstill is a whole speed off. */
static double distance(const struct wh_run_down_fit *fit, double time, double speed)
{
    double t = time - fit->start, stands = wh_slowing_time(&fit->slowing, fit->slowing.of[WH_SLOWED_SPEED], 0);
    return fabs(speed - (t < stands ? wh_slowing_speed(&fit->slowing, t) : 0));
}

/* Fits those in use; false: no fit. */
static bool fit_used(size_t n, const double time[], const double speed[], const bool used[], double *work,
                     struct wh_run_down_fit *fit)
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++) {
        if (!used[i]) continue;
        work[count] = time[i];
        work[n + count++] = speed[i];
    }
    return wh_run_down_fit(count, work, work + n, fit) == WH_OK;
}

enum wh_status wh_run_down_fit_most(struct wh_arena *arena, size_t n, const double time[], const double speed[],
                                    double least, bool used[], struct wh_run_down_fit *ret)
{
    double *work = WH_NEW(arena, 2 * n + 1, double), *away = WH_NEW(arena, n + 1, double);
    for (size_t i = 0; i < n; i++) used[i] = true;
    for (int round = 0; round < ROUNDS; round++) {
        size_t changed = 0, count = 0;
        if (!fit_used(n, time, speed, used, work, ret)) return WH_ERR_NO_ANSWER;
        for (size_t i = 0; i < n; i++)
            if (used[i]) away[count++] = distance(ret, time[i], speed[i]);
        qsort(away, count, sizeof *away, by_size);
        double most = fmax(4 * 1.4826 * away[count / 2], least);
        for (size_t i = 0; i < n; i++) {
            bool stays = distance(ret, time[i], speed[i]) <= most;
            changed += stays != used[i];
            used[i] = stays;
        }
        if (changed == 0) break;
    }
    return ret->count * 3 >= n * 2 ? WH_OK : WH_ERR_NO_ANSWER;
}

/* ---- times by the fit ------------------------------------------------------------------------------------------ */

double wh_run_down_time(const struct wh_run_down_fit *fit, double from, double to, double *ret_u)
{
    const double *p = fit->slowing.of;
    double slope[TERMS] = {0}, variance = 0;
    double told = p[WH_SLOWED_STEADY] - WELL_TOLD * sqrt(fit->covariance[WH_SLOWED_STEADY][WH_SLOWED_STEADY]);
    *ret_u = INFINITY;
    if (to <= 0 && !(fit->told[WH_SLOWED_STEADY] && told > 0)) return INFINITY;
    for (int i = 0; i < WH_SLOWED_SPEED; i++) {
        double step = 1e-5 * fmax(p[i], 1e-6 * p[WH_SLOWED_STEADY] / pow(from, i));
        struct wh_slowing more = fit->slowing, less = fit->slowing;
        if (!(fit->covariance[i][i] > 0)) continue;
        more.of[i] += step;
        less.of[i] -= step;
        slope[i] = (wh_slowing_time(&more, from, to) - wh_slowing_time(&less, from, to)) / (2 * step);
    }
    for (int i = 0; i < TERMS; i++)
        for (int j = 0; j < TERMS; j++) variance += slope[i] * fit->covariance[i][j] * slope[j];
    *ret_u = sqrt(fmax(variance, 0));
    return wh_slowing_time(&fit->slowing, from, to);
}

double wh_run_down_unseen(const struct wh_run_down_fit *fit)
{
    return LAW * wh_slowing_time(&fit->slowing, fit->lowest, 0);
}
