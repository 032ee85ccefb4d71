#include "study/order_track.h"

#include <math.h>
#include <stdint.h>

enum { TURNS_LEAST = 8, TURNS_MOST = 256, NEAR_LEAST = 7 };

static const double TURN = 6.28318530717958647692;
static const double CHANGE = 0.005;   /* of the speed within a window */
static const double STANDS_OUT = 1.5; /* of a peak over the lower of the two dips beside it */
static const double DAMPING_MOST = 0.5;
static const double SWINGS = 3;   /* passed within fewer: hurried */
static const double SMALL = 0.05; /* of the greatest amplitude: no peak that anyone need know */

/* ---- amplitude and phase --------------------------------------------------------------------------------------- */

/* Turns of the window about turn `middle`: those in which the speed changes little, within the record. */
static size_t turns_about(const struct wh_speed_trace *trace, size_t middle)
{
    size_t room = middle < trace->count - middle ? middle : trace->count - middle, half = TURNS_LEAST / 2;
    while (half < room && half < TURNS_MOST / 2) {
        double change = fabs(trace->speed[middle + half] / trace->speed[middle - half] - 1);
        if (!(change < CHANGE)) break;
        half++;
    }
    return half;
}

/* The complex amplitude over the turns from..to: crest - i crest a quarter turn later. */
static void demodulate(const struct wh_thin *signal, const struct wh_speed_trace *trace, size_t from, size_t to,
                       double *re, double *im)
{
    double rate = wh_thin_rate(signal), begin = (double)from * TURN, whole = (double)(to - from) * TURN, sum = 0;
    long first = (long)ceil(trace->mark[from] * rate), last = (long)floor(trace->mark[to] * rate);
    *re = *im = 0;
    for (long i = first; i <= last; i++) {
        double x, angle = wh_trace_angle(trace, (double)i / rate);
        if (isnan(angle)) continue;
        double weight = 1 - cos((angle - begin) / whole * TURN);
        wh_thin_copy(signal, i, 1, &x);
        *re += weight * x * cos(angle);
        *im += weight * x * sin(angle);
        sum += weight;
    }
    *re *= sum > 0 ? 2 / sum : 0;
    *im *= sum > 0 ? 2 / sum : 0;
}

static void unwrap(double phase[], size_t n)
{
    for (size_t i = 1; i < n; i++) phase[i] -= TURN * round((phase[i] - phase[i - 1]) / TURN);
}

enum wh_status wh_order_track(struct wh_arena *arena, const struct wh_thin *signal, const struct wh_speed_trace *trace,
                              size_t most, struct wh_order_track *ret)
{
    if (trace->marks < 2 * TURNS_LEAST + 1 || trace->count + 1 != trace->marks) return WH_ERR_NO_ANSWER;
    double *time = WH_NEW(arena, most, double), *speed = WH_NEW(arena, most, double);
    double *amplitude = WH_NEW(arena, most, double), *phase = WH_NEW(arena, most, double);
    double begin = trace->mark[TURNS_LEAST / 2], span = trace->mark[trace->marks - 1 - TURNS_LEAST / 2] - begin;
    size_t n = 0, turn = TURNS_LEAST / 2, last = SIZE_MAX;
    for (size_t k = 0; k < most; k++) {
        double wanted = begin + span * ((double)k + 0.5) / (double)most, re, im;
        while (turn + 1 + TURNS_LEAST / 2 < trace->marks && trace->mark[turn + 1] <= wanted) turn++;
        if (turn == last || turn + TURNS_LEAST / 2 > trace->count) continue;
        size_t half = turns_about(trace, turn);
        last = turn;
        demodulate(signal, trace, turn - half, turn + half, &re, &im);
        time[n] = trace->mark[turn];
        speed[n] = TURN * 2 * (double)half / (trace->mark[turn + half] - trace->mark[turn - half]);
        amplitude[n] = hypot(re, im);
        phase[n++] = atan2(im, re);
    }
    unwrap(phase, n);
    *ret = (struct wh_order_track){.count = n, .time = time, .speed = speed, .amplitude = amplitude, .phase = phase};
    return WH_OK;
}

/* ---- resonances ------------------------------------------------------------------------------------------------ */

/* Points from the lowest speed up: what the amplitude of the displacement is over the square of the speed. */
struct sweep {
    size_t count;
    double *speed, *over, *time, *phase;
    size_t *point;
};

static void sort_up(struct sweep *s, const struct wh_order_track *track)
{
    for (size_t i = 0; i < track->count; i++) {
        size_t at = s->count++;
        for (; at > 0 && track->speed[s->point[at - 1]] > track->speed[i]; at--) s->point[at] = s->point[at - 1];
        s->point[at] = i;
    }
}

static struct sweep sweep_of(struct wh_arena *arena, const struct wh_order_track *track, int derived)
{
    size_t n = track->count + 1;
    struct sweep s = {.speed = WH_NEW(arena, n, double),
                      .over = WH_NEW(arena, n, double),
                      .time = WH_NEW(arena, n, double),
                      .phase = WH_NEW(arena, n, double),
                      .point = WH_NEW(arena, n, size_t)};
    sort_up(&s, track);
    for (size_t i = 0; i < s.count; i++) {
        size_t p = s.point[i];
        s.speed[i] = track->speed[p];
        s.over[i] = track->amplitude[p] / pow(track->speed[p], 2 + derived);
        s.time[i] = track->time[p];
        s.phase[i] = track->phase ? track->phase[p] : 0;
    }
    return s;
}

/* Solves the 3 x 3 normal equations by elimination with the greatest pivot; false: they do not tell. */
static bool solve3(double m[3][4], double x[3])
{
    for (int c = 0; c < 3; c++) {
        int pivot = c;
        for (int r = c + 1; r < 3; r++) pivot = fabs(m[r][c]) > fabs(m[pivot][c]) ? r : pivot;
        if (!(fabs(m[pivot][c]) > 1e-13)) return false;
        for (int k = 0; k < 4; k++) {
            double swap = m[c][k];
            m[c][k] = m[pivot][k];
            m[pivot][k] = swap;
        }
        for (int r = 0; r < 3; r++) {
            double share = r == c ? 0 : m[r][c] / m[c][c];
            for (int k = c; k < 4; k++) m[r][k] -= share * m[c][k];
        }
    }
    for (int c = 0; c < 3; c++) x[c] = m[c][3] / m[c][c];
    return true;
}

/* With A = e/(w_n^2 ...): 1/over^2 = ((w_n^2 - w^2)^2 + (2 z w_n w)^2)/e^2 is a parabola in w^2. Fitted near the peak,
 * weighted so that errors of the amplitude count alike. */
static bool fit_peak(const struct sweep *s, size_t from, size_t to, size_t peak, struct wh_resonance *r)
{
    double m[3][4] = {{0}}, x[3], scale = s->speed[peak] * s->speed[peak];
    for (size_t i = from; i <= to; i++) {
        double share = s->over[i] / s->over[peak], q = s->speed[i] * s->speed[i] / scale - 1;
        double column[3] = {1, q, q * q}, value = 1 / (share * share), weight = pow(share, 6);
        for (int a = 0; a < 3; a++) {
            for (int b = 0; b < 3; b++) m[a][b] += weight * column[a] * column[b];
            m[a][3] += weight * column[a] * value;
        }
    }
    if (!solve3(m, x) || !(x[2] > 0)) return false;
    /* x0 + x1 q + x2 q^2 with q = W - 1, W = (w/peak)^2, is x2 (W^2 + (c^2 - 2 n) W + n^2), n = w_n^2, c = 2 z w_n. */
    double middle = (x[1] - 2 * x[2]) / x[2], constant = (x[0] - x[1] + x[2]) / x[2];
    if (!(constant > 0)) return false;
    double n = sqrt(constant), c2 = middle + 2 * n;
    r->speed = sqrt(n * scale);
    r->damping = sqrt(fmax(c2, 0) / n) / 2;
    return r->speed > s->speed[from] && r->speed < s->speed[to] && r->damping < DAMPING_MOST;
}

/* The ends of the flanks of a peak: down to a half of it, or to where it rises again. */
static void flanks(const struct sweep *s, size_t peak, size_t *from, size_t *to)
{
    *from = *to = peak;
    while (*from > 0 && s->over[*from] > s->over[peak] / 2 && s->over[*from - 1] < 1.05 * s->over[*from]) --*from;
    while (*to + 1 < s->count && s->over[*to] > s->over[peak] / 2 && s->over[*to + 1] < 1.05 * s->over[*to]) ++*to;
}

static bool is_peak(const struct sweep *s, size_t i)
{
    double left = s->over[i], right = s->over[i];
    for (size_t k = i; k > 0 && s->over[k - 1] <= s->over[i]; k--) left = fmin(left, s->over[k - 1]);
    for (size_t k = i; k + 1 < s->count && s->over[k + 1] <= s->over[i]; k++) right = fmin(right, s->over[k + 1]);
    return s->over[i] > STANDS_OUT * fmax(left, right);
}

static bool take_peak(const struct sweep *s, const struct wh_order_track *track, size_t peak, struct wh_resonance *r)
{
    size_t from, to;
    flanks(s, peak, &from, &to);
    *r = (struct wh_resonance){0};
    if (to - from + 1 < NEAR_LEAST || !fit_peak(s, from, to, peak, r)) return false;
    for (size_t i = from; i <= to; i++) {
        if (track->amplitude[s->point[i]] <= r->amplitude) continue;
        r->amplitude = track->amplitude[s->point[i]];
        r->at = s->speed[i];
    }
    double turned = fabs(s->phase[to] - s->phase[from]), seconds = fabs(s->time[to] - s->time[from]);
    double slope = (s->speed[to] - s->speed[from]) / fmax(seconds, 1e-9);
    double inside = 2 * r->damping * r->speed / slope; /* seconds within the half-power width */
    r->turned = track->phase && turned > TURN / 4 * 0.8 && turned < TURN * 0.6;
    r->hurried = inside * r->speed / TURN < SWINGS || inside * r->damping * r->speed < SWINGS;
    return true;
}

size_t wh_resonances(struct wh_arena *arena, const struct wh_order_track *track, int derived,
                     struct wh_resonance ret[WH_RESONANCES_MOST])
{
    struct sweep s = sweep_of(arena, track, derived);
    size_t n = 0;
    double largest = 0;
    for (size_t i = 0; i < track->count; i++) largest = fmax(largest, track->amplitude[i]);
    for (size_t i = 0; i < s.count && n < WH_RESONANCES_MOST; i++)
        if (is_peak(&s, i) && take_peak(&s, track, i, &ret[n]) && ret[n].amplitude > SMALL * largest) n++;
    return n;
}
