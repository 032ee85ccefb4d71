#include "study/ridge.h"

#include "study/spectrum.h"

#include <complex.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FULL = 250, BESIDE = 12, STEPS = 24, POINTS_LEAST = 8, FRAMES_LEAST = 8 };

static const double TURN = 6.28318530717958647692;
static const double ROOM = 1.1;        /* the line is looked for up to so many times the stated speed */
static const double LOWEST = 0.03;     /* and down to this share of it */
static const double EVIDENCE_MOST = 5; /* of one line: ln of power over noise; more does not count */
static const double MULTIPLE = 0.5;    /* weight of a multiple's evidence */
static const double JUMP = 0.15;       /* evidence that a step of one line costs */
static const double STANDS_OUT = 10;   /* power over noise of a point */
static const double FASTEST = 8;       /* times the mean slope of the whole record */

struct frames {
    struct wh_arena *arena;
    size_t channels;
    const struct wh_thin *const *thin;
    double rate;
    size_t size, hop, count; /* samples of a window, between windows; windows */
    size_t bins;             /* of a spectrum that are kept */
    size_t low, high;        /* lines among which the once-a-turn is looked for */
    size_t reach;            /* lines it can move from one window to the next */
    double *window, gain;    /* and the sum of its values */
    unsigned char *evidence; /* count rows of bins, in parts of FULL / EVIDENCE_MOST */
};

double wh_ridge_rate(double speed)
{
    return ROOM * WH_RIDGE_ORDERS * speed / TURN / 0.38;
}

/* A window as long as lets the line drift by about its own width, from record length and speed. */
static bool lay_out(struct frames *f, double speed)
{
    double seconds = (double)wh_thin_count(f->thin[0]) / f->rate, turn_rate = speed / TURN;
    double length = fmin(fmax(sqrt(seconds / turn_rate), 0.2), 8);
    f->size = wh_transform_length((size_t)(length * f->rate));
    f->hop = f->size / 2;
    if (seconds * f->rate < (double)f->size) return false;
    f->count = (size_t)(seconds * f->rate - (double)f->size) / f->hop + 1;
    double step = f->rate / (double)f->size;
    f->low = (size_t)fmax(2, ceil(LOWEST * turn_rate / step));
    f->high = (size_t)(ROOM * turn_rate / step);
    f->bins = f->high * WH_RIDGE_ORDERS + BESIDE + 1;
    f->reach = (size_t)ceil(FASTEST * turn_rate / seconds * (double)f->hop / f->rate / step) + 1;
    f->window = WH_NEW(f->arena, f->size, double);
    wh_window_fill(WH_WINDOW_HANN, f->size, f->size, f->window);
    for (size_t i = 0; i < f->size; i++) f->gain += f->window[i];
    return f->count >= FRAMES_LEAST && f->high > f->low + BESIDE && f->bins < f->size / 2;
}

/* ---- evidence -------------------------------------------------------------------------------------------------- */

static int by_size(const void *a, const void *b)
{
    float x = *(const float *)a, y = *(const float *)b;
    return (x > y) - (x < y);
}

/* The value below which a share of n values lies; they are sorted. */
static float share_of(float values[], size_t n, double share)
{
    qsort(values, n, sizeof *values, by_size);
    return values[(size_t)((double)(n - 1) * share)];
}

/* ln of the power of one channel's windows. */
static void spectra(const struct frames *f, const struct wh_thin *thin, float *power)
{
    struct wh_transform *transform = wh_transform_forth(f->arena, f->size);
    for (size_t frame = 0; frame < f->count; frame++) {
        wh_thin_copy(thin, (long)(frame * f->hop), f->size, transform->real);
        for (size_t i = 0; i < f->size; i++) transform->real[i] *= f->window[i];
        wh_transform_run(transform);
        for (size_t k = 0; k < f->bins; k++) {
            double re = transform->bins[k][0], im = transform->bins[k][1];
            power[frame * f->bins + k] = (float)log(re * re + im * im + DBL_MIN);
        }
    }
}

/* Adds how far each line stands out of those beside it and of what stands there for most of the record. */
static void add_evidence(const struct frames *f, const float *power)
{
    float *column = WH_NEW(f->arena, f->count, float), beside[2 * BESIDE + 1];
    float *always = WH_NEW(f->arena, f->bins, float);
    for (size_t k = 0; k < f->bins; k++) {
        for (size_t frame = 0; frame < f->count; frame++) column[frame] = power[frame * f->bins + k];
        always[k] = share_of(column, f->count, 0.25);
    }
    for (size_t frame = 0; frame < f->count; frame++) {
        const float *row = power + frame * f->bins;
        for (size_t k = 0; k < f->bins; k++) {
            size_t from = k > BESIDE ? k - BESIDE : 0, to = k + BESIDE < f->bins ? k + BESIDE : f->bins - 1;
            memcpy(beside, row + from, (to - from + 1) * sizeof *beside);
            float floor_here = fmaxf(share_of(beside, to - from + 1, 0.5), always[k]);
            float over = fminf(fmaxf(row[k] - floor_here, 0), (float)EVIDENCE_MOST);
            unsigned char *sum = &f->evidence[frame * f->bins + k];
            *sum = (unsigned char)(*sum + over * FULL / (float)EVIDENCE_MOST / (float)f->channels);
        }
    }
}

/* The evidence that the once-a-turn is line k: its own and that of its multiples, which may lie a little beside. */
static double evidence_of(const struct frames *f, size_t frame, size_t k)
{
    const unsigned char *row = f->evidence + frame * f->bins;
    double sum = row[k];
    for (size_t order = 2; order <= WH_RIDGE_ORDERS; order++) {
        unsigned char most = 0;
        for (size_t i = order * k - order / 2; i <= order * k + order / 2; i++) most = row[i] > most ? row[i] : most;
        sum += MULTIPLE * most;
    }
    return sum * EVIDENCE_MOST / FULL;
}

/* ---- the path of most evidence --------------------------------------------------------------------------------- */

static void find_path(const struct frames *f, size_t path[])
{
    size_t width = f->high - f->low + 1;
    double *was = WH_NEW(f->arena, width, double), *now = WH_NEW(f->arena, width, double);
    unsigned short *from = WH_NEW(f->arena, width * f->count, unsigned short);
    for (size_t frame = 0; frame < f->count; frame++) {
        for (size_t i = 0; i < width; i++) {
            size_t first = i > f->reach ? i - f->reach : 0, last = i + f->reach < width ? i + f->reach : width - 1;
            double best = -INFINITY;
            for (size_t j = first; j <= last; j++) {
                double sum = was[j] - JUMP * fabs((double)i - (double)j) / (double)f->reach;
                if (sum <= best) continue;
                best = sum;
                from[frame * width + i] = (unsigned short)j;
            }
            now[i] = best + evidence_of(f, frame, f->low + i);
        }
        double *old = was;
        was = now;
        now = old;
    }
    size_t at = 0;
    for (size_t i = 1; i < width; i++) at = was[i] > was[at] ? i : at;
    for (size_t frame = f->count; frame-- > 0; at = from[frame * width + at]) path[frame] = f->low + at;
}

/* ---- each point again, the change of speed taken out ----------------------------------------------------------- */

/* Lines a second that the path drifts about a window: the slope of five points. */
static double drift(const struct frames *f, const size_t path[], size_t frame)
{
    size_t first = frame < 2 ? 0 : frame - 2, last = frame + 2 < f->count ? frame + 2 : f->count - 1;
    double middle = (double)(first + last) / 2, sum = 0, square = 0;
    for (size_t i = first; i <= last; i++) {
        sum += ((double)i - middle) * (double)path[i];
        square += ((double)i - middle) * ((double)i - middle);
    }
    return sum / square / ((double)f->hop / f->rate);
}

/* Power at a line (a fraction between them too) of samples whose drift is `chirp`, lines a second. The turning pointer
 * is carried on from sample to sample by one that turns evenly faster itself. */
static double power_at(const struct frames *f, const double samples[], double line, double chirp)
{
    double seconds = (double)f->size / f->rate, t = -(double)(f->size - 1) / 2 / f->rate, dt = 1 / f->rate;
    double angle = -TURN * (line * t + chirp * t * t / 2) / seconds;
    double step = -TURN * (line * dt + chirp * (t + dt / 2) * dt) / seconds, more = -TURN * chirp * dt * dt / seconds;
    double complex pointer = cexp(I * angle), turn = cexp(I * step), faster = cexp(I * more), sum = 0;
    for (size_t i = 0; i < f->size; i++) {
        sum += samples[i] * f->window[i] * pointer;
        pointer *= turn;
        turn *= faster;
    }
    return creal(sum) * creal(sum) + cimag(sum) * cimag(sum);
}

struct point {
    double line, over; /* power over the noise */
};

static double power_of_all(const struct frames *f, const double *samples, double line, double chirp)
{
    double sum = 0;
    for (size_t c = 0; c < f->channels; c++) {
        double noise = samples[f->channels * f->size + c];
        sum += noise > 0 ? power_at(f, samples + c * f->size, line, chirp) / noise : 0;
    }
    return sum;
}

/* The line within 1.5 lines of where the path has it. samples: those of every channel, then the noise of each. */
static struct point refine(const struct frames *f, double *samples, double about, double chirp)
{
    for (size_t c = 0; c < f->channels; c++) {
        double sum = 0;
        for (int i = 4; i <= 7; i++)
            sum += power_at(f, samples + c * f->size, about + i, chirp) +
                   power_at(f, samples + c * f->size, fmax(about - i, 0.5), chirp);
        samples[f->channels * f->size + c] = sum / 8;
    }
    double power[STEPS + 1], step = 3.0 / STEPS;
    int best = 0;
    for (int i = 0; i <= STEPS; i++) {
        power[i] = power_of_all(f, samples, about + (i - STEPS / 2) * step, chirp);
        if (power[i] > power[best]) best = i;
    }
    double shift = 0;
    if (best > 0 && best < STEPS) {
        double before = log(power[best - 1] + DBL_MIN), peak = log(power[best] + DBL_MIN),
               after = log(power[best + 1] + DBL_MIN);
        double bend = before - 2 * peak + after;
        shift = bend < 0 ? (before - after) / (2 * bend) : 0;
    }
    bool edge = best == 0 || best == STEPS;
    return (struct point){about + (best - STEPS / 2 + shift) * step, edge ? 0 : power[best] / (double)f->channels};
}

static void take_points(const struct frames *f, const size_t path[], struct wh_ridge *ret)
{
    double *samples = WH_NEW(f->arena, f->channels * (f->size + 1), double), step = f->rate / (double)f->size;
    double *time = WH_NEW(f->arena, f->count, double), *speed = WH_NEW(f->arena, f->count, double);
    double *over = WH_NEW(f->arena, f->count, double);
    double **amplitude = WH_NEW(f->arena, f->channels, double *);
    size_t n = 0;
    for (size_t c = 0; c < f->channels; c++) amplitude[c] = WH_NEW(f->arena, f->count, double);
    for (size_t frame = 0; frame < f->count; frame++) {
        double chirp = drift(f, path, frame);
        for (size_t c = 0; c < f->channels; c++)
            wh_thin_copy(f->thin[c], (long)(frame * f->hop), f->size, samples + c * f->size);
        struct point point = refine(f, samples, (double)path[frame], chirp);
        if (!(point.over > STANDS_OUT)) continue;
        time[n] = ((double)(frame * f->hop) + (double)(f->size - 1) / 2) / f->rate;
        speed[n] = TURN * point.line * step;
        over[n] = 10 * log10(point.over);
        for (size_t c = 0; c < f->channels; c++)
            amplitude[c][n] = 2 * sqrt(power_at(f, samples + c * f->size, point.line, chirp)) / f->gain;
        n++;
    }
    ret->trace = (struct wh_speed_trace){
        .count = n, .time = time, .speed = speed, .step = (double)f->hop / f->rate, .resolution = TURN * step};
    ret->over_floor = over;
    ret->amplitude = (const double *const *)amplitude;
}

enum wh_status wh_ridge_follow(struct wh_arena *arena, size_t channels, const struct wh_thin *const thin[],
                               double speed, struct wh_ridge *ret)
{
    struct frames f = {.arena = arena, .channels = channels, .thin = thin, .rate = wh_thin_rate(thin[0])};
    if (!lay_out(&f, speed)) return WH_ERR_NO_ANSWER;
    f.evidence = WH_NEW(arena, f.count * f.bins, unsigned char);
    float *power = WH_NEW(arena, f.count * f.bins, float);
    for (size_t c = 0; c < channels; c++) {
        spectra(&f, thin[c], power);
        add_evidence(&f, power);
    }
    size_t *path = WH_NEW(arena, f.count, size_t);
    find_path(&f, path);
    take_points(&f, path, ret);
    return ret->trace.count >= POINTS_LEAST ? WH_OK : WH_ERR_NO_ANSWER;
}
