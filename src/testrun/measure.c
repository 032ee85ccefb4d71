#include "testrun/measure.h"

#include "study/band.h"
#include "testrun/watch.h"
#include "trade/rule.h"

#include <math.h>
#include <string.h>

enum { PIECE = 8192, LEAST_FRAMES = 1024, WANTED_AVERAGES = 5, WANTED_TURNS = 20 };
static const double least_seconds = 0.5, slow = 2 * WH_PI * 10; /* rad/s: 600 rpm */
static const double far_off = 1e6;                              /* m/s2: nothing that holds together shakes so */

/* A channel as it passes. */
struct passing {
    struct wh_channel_measured *to;
    struct wh_watch watch;
    struct wh_tacho tacho;
    double from, sum[5]; /* sums of the powers of sample - from */
    struct wh_blocks *blocks;
    struct wh_spectrum spectrum;
    struct wh_envelopes *envelopes;
    struct wh_band *displaced;
    double displaced_least, displaced_most;
};

struct pass {
    struct wh_arena *arena;
    struct wh_run_record *record;
    const struct wh_measure_ask *ask;
    struct wh_measured *measured;
    struct passing *passing;
    double *samples[WH_RECORD_CHANNELS];
    double low, high;
    struct passing *first; /* of the vibration channels: the others work in its room */
};

/* ---- opening ---------------------------------------------------------------------------------------------------- */

/* Seconds a block: two, or twenty turns of a slow shaft, or less where the record would not give five averages. */
static double block_seconds(const struct pass *pass, double seconds)
{
    double turn = pass->ask->speed > 0 ? 2 * WH_PI / pass->ask->speed : 0;
    double wanted = fmax(2, fmin(8, WANTED_TURNS * turn));
    return fmin(wanted, 2 * seconds / (WANTED_AVERAGES + 1.5));
}

/* How high the envelopes' lines have to be seen, Hz: thirty times the shaft's. */
static double envelope_top(const struct pass *pass)
{
    double top = pass->ask->speed > 0 ? 30 * pass->ask->speed / (2 * WH_PI) : 1000;
    return fmin(fmax(top, 200), pass->record->rate / 8);
}

/* How many times the signal has to be integrated to be a displacement. */
static int integrals(enum wh_measure of)
{
    return of == WH_DISPLACEMENT ? 0 : of == WH_VELOCITY ? 1 : 2;
}

static void open_displaced(struct pass *pass, struct passing *p)
{
    int times = integrals(p->to->is->of);
    p->displaced = wh_band_real(pass->arena, p->blocks, pass->record->rate, pass->low, pass->high, 4);
    p->displaced->quarter = times == 1;
    for (size_t k = 1; k < p->displaced->count; k++) {
        double turning = 2 * WH_PI * pass->record->rate * (double)k / (double)p->blocks->size;
        p->displaced->weight[k] /= times == 1 ? turning : times == 2 ? -turning * turning : 1;
    }
}

static void open_vibration(struct pass *pass, struct passing *p, double seconds)
{
    struct wh_arena *arena = pass->arena;
    double rate = pass->record->rate, block = block_seconds(pass, seconds);
    if (!pass->first) {
        size_t size = wh_transform_length((size_t)(rate * block));
        p->blocks = wh_blocks_open(arena, size, size / 2, WH_WINDOW_HANN);
        p->envelopes = wh_envelopes_open(arena, p->blocks, rate, envelope_top(pass), block);
        pass->first = p;
    } else {
        p->blocks = wh_blocks_like(arena, pass->first->blocks);
        p->envelopes = wh_envelopes_like(arena, pass->first->envelopes, p->blocks);
    }
    size_t lines = p->blocks->size / 2 + 1;
    p->spectrum = (struct wh_spectrum){.lines = lines, .power = WH_NEW(arena, lines, double)};
    open_displaced(pass, p);
}

static void open_pass(struct pass *pass, double seconds)
{
    struct wh_run_record *record = pass->record;
    bool is_slow = pass->ask->speed > 0 && pass->ask->speed < slow;
    pass->low = is_slow ? 2 : 10;
    pass->high = fmin(1000, 0.46 * record->rate);
    pass->passing = WH_NEW(pass->arena, record->channels, struct passing);
    for (size_t c = 0; c < record->channels; c++) {
        struct passing *p = &pass->passing[c];
        pass->samples[c] = WH_NEW(pass->arena, PIECE, double);
        p->to = &pass->measured->channel[c];
        *p->to = (struct wh_channel_measured){.is = &record->channel[c],
                                              .low = pass->low,
                                              .high = pass->high,
                                              .acceleration_rms = NAN,
                                              .velocity_rms = NAN,
                                              .displacement = NAN,
                                              .doubts = {.arena = pass->arena}};
        if (p->to->is->of == WH_TACHO) p->tacho = wh_tacho_open(pass->arena, record->rate);
        p->displaced_least = INFINITY;
        p->displaced_most = -INFINITY;
        if (wh_measure_vibrates(p->to->is->of)) open_vibration(pass, p, seconds);
    }
}

/* ---- passing ---------------------------------------------------------------------------------------------------- */

static void add_moments(struct passing *p, size_t n, const double x[])
{
    double one = 0, two = 0, three = 0, four = 0;
    if (p->sum[0] < 1) p->from = x[0];
    for (size_t i = 0; i < n; i++) {
        double d = x[i] - p->from, square = d * d;
        one += d;
        two += square;
        three += square * d;
        four += square * square;
    }
    p->sum[0] += (double)n;
    p->sum[1] += one;
    p->sum[2] += two;
    p->sum[3] += three;
    p->sum[4] += four;
}

static void add_displaced(struct passing *p)
{
    if (!wh_band_add(p->displaced, NULL)) return;
    for (size_t i = 0; i < p->displaced->size / 2; i++) {
        p->displaced_least = fmin(p->displaced_least, p->displaced->out[i]);
        p->displaced_most = fmax(p->displaced_most, p->displaced->out[i]);
    }
}

static void add_samples(struct passing *p, size_t n, const double x[])
{
    wh_watch_add(&p->watch, n, x);
    add_moments(p, n, x);
    if (p->to->is->of == WH_TACHO) wh_tacho_add(&p->tacho, n, x);
    if (!p->blocks) return;
    while (wh_blocks_next(p->blocks, &n, &x)) {
        wh_spectrum_add(&p->spectrum, p->blocks);
        wh_envelopes_add(p->envelopes);
        add_displaced(p);
    }
}

/* ---- closing ---------------------------------------------------------------------------------------------------- */

static void close_moments(struct passing *p)
{
    double n = p->sum[0], mean = p->sum[1] / n, a = p->sum[2] / n, b = p->sum[3] / n, c = p->sum[4] / n;
    double second = a - mean * mean, fourth = c - 4 * mean * b + 6 * mean * mean * a - 3 * mean * mean * mean * mean;
    double middle = p->from + mean;
    p->to->rms = sqrt(fmax(0, second));
    p->to->peak = fmax(p->watch.most - middle, middle - p->watch.least);
    p->to->crest = p->to->peak / p->to->rms;
    p->to->kurtosis = fourth / (second * second);
}

static void close_vibration(struct pass *pass, struct passing *p)
{
    struct wh_channel_measured *to = p->to;
    int times = integrals(to->is->of);
    wh_spectrum_finish(&p->spectrum, p->blocks, pass->record->rate);
    to->velocity = wh_spectrum_integral(pass->arena, &p->spectrum, 1 - times);
    to->acceleration = wh_spectrum_integral(pass->arena, &p->spectrum, 2 - times);
    to->velocity_rms = wh_spectrum_rms(&to->velocity, pass->low, pass->high);
    to->acceleration_rms = wh_spectrum_rms(&to->acceleration, pass->low, pass->high);
    to->displacement = p->displaced_most - p->displaced_least;
    to->envelopes = wh_envelopes_close(p->envelopes, &to->envelope);
    to->best = wh_envelope_best(to->envelope, to->envelopes);
    if (p->spectrum.averages < WANTED_AVERAGES)
        wh_doubt(&to->doubts, "%s: only %zu averages", to->is->name, p->spectrum.averages);
    if (to->is->of == WH_ACCELERATION && to->peak > far_off)
        wh_doubt(&to->doubts, "%s: %.3g m/s2: the scale cannot be right", to->is->name, to->peak);
}

static void close_channel(struct pass *pass, struct passing *p)
{
    wh_watch_doubts(&p->watch, p->to->is->name, pass->record->rate, &p->to->doubts);
    p->to->sound = !wh_watch_constant(&p->watch);
    if (!p->to->sound) return;
    close_moments(p);
    if (p->blocks) close_vibration(pass, p);
}

static enum wh_status refuse(const struct pass *pass, struct wh_errors *reterr, const char *right, const char *says)
{
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = pass->record->path}, right, "%s", says);
}

static enum wh_status close_speed(struct pass *pass, struct passing *p, struct wh_errors *reterr)
{
    struct wh_measured *m = pass->measured;
    double stated = pass->ask->speed, pulses = pass->ask->pulses > 0 ? pass->ask->pulses : 1;
    m->speed = wh_tacho_speed(&p->tacho, pulses, &m->drift);
    m->tacho = true;
    if (!(m->speed > 0)) return refuse(pass, reterr, "three pulses at least", "the tacho channel has no pulses");
    if (m->drift > 0.02)
        wh_doubt(&m->doubts, "the speed changes by %.1f %% in the record: lines are smeared", 100 * m->drift);
    if (stated > 0 && fabs(m->speed / stated - 1) > 0.05)
        wh_doubt(&m->doubts, "%.0f rpm is stated, the tacho says %.0f rpm", stated * 30 / WH_PI, m->speed * 30 / WH_PI);
    return WH_OK;
}

static enum wh_status close_pass(struct pass *pass, struct wh_errors *reterr)
{
    struct wh_measured *m = pass->measured;
    size_t living = 0;
    enum wh_status status = WH_OK;
    m->seconds = (double)pass->record->done / pass->record->rate;
    m->speed = pass->ask->speed;
    for (size_t c = 0; c < m->channels && status == WH_OK; c++) {
        close_channel(pass, &pass->passing[c]);
        living += m->channel[c].sound && wh_measure_vibrates(m->channel[c].is->of);
        if (m->channel[c].is->of == WH_TACHO) status = close_speed(pass, &pass->passing[c], reterr);
    }
    if (status != WH_OK) return status;
    if (living == 0)
        return refuse(pass, reterr, "a channel whose numbers change",
                      "no vibration channel in it lives: the same "
                      "number all along");
    if (pass->high < 1000)
        wh_doubt(&m->doubts, "%.0f samples a second show no more than %.0f Hz: the figures end there, not at 1000 Hz",
                 pass->record->rate, pass->high);
    if (m->speed > 0 && m->seconds * m->speed / (2 * WH_PI) < WANTED_TURNS)
        wh_doubt(&m->doubts, "only %.0f turns long", m->seconds * m->speed / (2 * WH_PI));
    return WH_OK;
}

static enum wh_status check_length(const struct pass *pass, size_t frames, struct wh_errors *reterr)
{
    double seconds = (double)frames / pass->record->rate;
    if (seconds >= least_seconds && frames >= LEAST_FRAMES) return WH_OK;
    return refuse(pass, reterr, "half a second and 1024 samples at least; ten seconds are better",
                  wh_arena_print(pass->arena, "too short: %zu samples a channel, %.3g s", frames, seconds));
}

enum wh_status wh_measure(struct wh_arena *arena, struct wh_run_record *record, const struct wh_measure_ask *ask,
                          struct wh_measured **ret, struct wh_errors *reterr)
{
    struct wh_measured *m = WH_NEW(arena, 1, struct wh_measured);
    struct pass pass = {.arena = arena, .record = record, .ask = ask, .measured = m};
    size_t got = 1;
    enum wh_status status = check_length(&pass, record->frames, reterr);
    if (status != WH_OK) return status;
    *m = (struct wh_measured){.record = record, .channels = record->channels, .doubts = {.arena = arena}};
    m->channel = WH_NEW(arena, record->channels, struct wh_channel_measured);
    open_pass(&pass, (double)record->frames / record->rate);
    while (got) {
        if ((status = wh_record_read(record, PIECE, pass.samples, &got, reterr)) != WH_OK) return status;
        for (size_t c = 0; c < record->channels && got; c++) add_samples(&pass.passing[c], got, pass.samples[c]);
    }
    if ((status = check_length(&pass, record->done, reterr)) != WH_OK) return status;
    if ((status = close_pass(&pass, reterr)) == WH_OK) *ret = m;
    return status;
}
