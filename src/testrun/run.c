#include "testrun/run_inside.h"

#include "study/pulses.h"
#include "study/ridge.h"
#include "trade/rule.h"

#include <math.h>

enum { BLOCK = 1 << 14, TRACK_POINTS = 400, SPEED_POINTS = 20000 };

static const double RPM = 2 * WH_PI / 60;
static const double SPEED_RATE = 20; /* of a speed channel that is kept, 1/s */
static const double CURRENT_RATE = 200;
static const double STANDING = 0.005; /* of the top speed: below it a speed channel shows nothing */
static const double SLIPS = 0.02;     /* of the full speed: less slip than that is not said */

const char *wh_rpm_words(struct wh_arena *arena, double speed)
{
    double rpm = speed / RPM;
    if (rpm < 1000) return wh_arena_print(arena, "%.*f rpm", rpm < 100 ? 1 : 0, rpm);
    return wh_arena_print(arena, "%d,%03d rpm", (int)round(rpm) / 1000, (int)round(rpm) % 1000);
}

/* What is kept of each channel while the record goes by. */
struct keeping {
    struct wh_arena *arena;
    struct wh_run_record *record;
    struct wh_pulses *pulses; /* of the tacho */
    struct wh_thin **thin;    /* of each channel; NULL: not kept */
    size_t speed, current;    /* channels; SIZE_MAX: none */
};

static void open_channels(struct keeping *k, double highest)
{
    const struct wh_run_record *r = k->record;
    k->thin = WH_NEW(k->arena, r->channels, struct wh_thin *);
    k->speed = k->current = r->channels;
    for (size_t c = 0; c < r->channels; c++) {
        enum wh_measure of = r->channel[c].of;
        if (of == WH_TACHO && !k->pulses) k->pulses = wh_pulses_open(k->arena, r->rate);
        if (of == WH_SPEED && k->speed == r->channels) {
            k->speed = c;
            k->thin[c] = wh_thin_open(k->arena, r->rate, SPEED_RATE);
        }
        if (of == WH_CURRENT && k->current == r->channels) {
            k->current = c;
            k->thin[c] = wh_thin_open(k->arena, r->rate, CURRENT_RATE);
        }
        if (wh_measure_vibrates(of)) k->thin[c] = wh_thin_open(k->arena, r->rate, wh_ridge_rate(highest));
    }
}

static size_t tacho_channel(const struct wh_run_record *record)
{
    for (size_t c = 0; c < record->channels; c++)
        if (record->channel[c].of == WH_TACHO) return c;
    return record->channels;
}

static enum wh_status keep_all(struct keeping *k, struct wh_errors *reterr)
{
    struct wh_run_record *r = k->record;
    double **block = WH_NEW(k->arena, r->channels, double *);
    size_t n = 1, tacho = tacho_channel(r);
    for (size_t c = 0; c < r->channels; c++) block[c] = WH_NEW(k->arena, BLOCK, double);
    while (n > 0) {
        enum wh_status status = wh_record_read(r, BLOCK, block, &n, reterr);
        if (status != WH_OK) return status;
        for (size_t c = 0; c < r->channels; c++) {
            if (k->thin[c]) wh_thin_add(k->thin[c], n, block[c]);
            if (c == tacho) wh_pulses_add(k->pulses, n, block[c]);
        }
    }
    for (size_t c = 0; c < r->channels; c++)
        if (k->thin[c]) wh_thin_close(k->thin[c]);
    return WH_OK;
}

/* ---- the speed ------------------------------------------------------------------------------------------------- */

static bool from_channel(const struct keeping *k, struct wh_speed_trace *ret)
{
    if (k->speed == k->record->channels) return false;
    const struct wh_thin *thin = k->thin[k->speed];
    size_t all = wh_thin_count(thin), n = 0;
    double *time = WH_NEW(k->arena, all + 1, double), *speed = WH_NEW(k->arena, all + 1, double), top = 0;
    wh_thin_copy(thin, 0, all, speed);
    for (size_t i = 0; i < all; i++) top = fmax(top, speed[i]);
    for (size_t i = 0; i < all; i++) {
        if (!(speed[i] > STANDING * top)) continue;
        time[n] = (double)i / wh_thin_rate(thin);
        speed[n++] = speed[i];
    }
    struct wh_speed_trace whole = {.count = n, .time = time, .speed = speed};
    *ret = wh_trace_thinned(k->arena, &whole, SPEED_POINTS);
    return n > 0;
}

static bool from_tacho(const struct keeping *k, const struct wh_run_ask *ask, struct wh_run *run)
{
    const double *times;
    size_t count, per_turn = (size_t)fmax(1, round(ask->pulses));
    if (!k->pulses) return false;
    if (wh_pulses_close(k->pulses, &times, &count) != WH_OK) {
        wh_doubt(&run->doubts, "the tacho has more than %d pulses: it was left aside", WH_PULSES_MOST);
        return false;
    }
    if (wh_pulses_turns(k->arena, count, times, per_turn, &run->trace) != WH_OK) {
        wh_doubt(&run->doubts, "the tacho has %zu pulses, too few for a speed: it was left aside", count);
        return false;
    }
    if (run->trace.missing > 0) wh_doubt(&run->doubts, "pulses missing and put in: %zu", run->trace.missing);
    if (run->trace.doubled > 0) wh_doubt(&run->doubts, "pulses doubled and left out: %zu", run->trace.doubled);
    if (run->trace.gaps > 0)
        wh_doubt(&run->doubts, "the pulses break off for more than two, times: %zu; the longest stretch was taken",
                 run->trace.gaps);
    return true;
}

static enum wh_status from_vibration(const struct keeping *k, const struct wh_run_ask *ask, struct wh_run *run,
                                     struct wh_errors *reterr)
{
    struct wh_place place = {.file = k->record->path};
    const struct wh_thin **thin = WH_NEW(k->arena, k->record->channels + 1, const struct wh_thin *);
    size_t n = 0;
    struct wh_ridge ridge;
    for (size_t c = 0; c < k->record->channels; c++)
        if (k->thin[c] && wh_measure_vibrates(k->record->channel[c].of)) thin[n++] = k->thin[c];
    if (!(ask->speed > 0) || n == 0)
        return wh_errors_add(reterr, WH_ERR_INPUT, place, "state the speed it ran at, or name the tacho's channel",
                             "the record has no speed and no tacho that can be read");
    if (wh_ridge_follow(k->arena, n, thin, ask->speed, &ridge) != WH_OK)
        return wh_errors_add(reterr, WH_ERR_NO_ANSWER, place, "a tacho channel, or a sensor nearer to the rotor",
                             "the once-a-turn line does not stand out of this record");
    run->trace = ridge.trace;
    size_t points = ridge.trace.count;
    for (size_t c = 0, i = 0; c < k->record->channels; c++) {
        if (!k->thin[c] || !wh_measure_vibrates(k->record->channel[c].of)) continue;
        struct wh_run_track *track = &run->track[run->tracks++];
        track->channel = &k->record->channel[c];
        track->track = (struct wh_order_track){
            .count = points, .time = ridge.trace.time, .speed = ridge.trace.speed, .amplitude = ridge.amplitude[i++]};
    }
    return WH_OK;
}

/* ---- amplitude and phase --------------------------------------------------------------------------------------- */

/* The part of a track in which the speed changes: that of the run-down, else of the run-up. */
static struct wh_order_track moving(const struct wh_run *run, const struct wh_order_track *whole)
{
    const struct wh_speed_trace *part = run->down.there ? &run->down.points : &run->up.points;
    struct wh_order_track cut = *whole;
    double from = part->time[0], to = part->time[part->count - 1];
    size_t first = 0, last = whole->count;
    while (first < last && whole->time[first] < from) first++;
    while (last > first && whole->time[last - 1] > to) last--;
    cut.count = last - first;
    cut.time += first;
    cut.speed += first;
    cut.amplitude += first;
    if (cut.phase) cut.phase += first;
    return cut;
}

static void track_channels(const struct keeping *k, struct wh_run *run)
{
    for (size_t c = 0; run->trace.marks > 0 && c < k->record->channels; c++) {
        struct wh_run_track *track = &run->track[run->tracks];
        if (!k->thin[c] || !wh_measure_vibrates(k->record->channel[c].of)) continue;
        track->channel = &k->record->channel[c];
        run->tracks += wh_order_track(k->arena, k->thin[c], &run->trace, TRACK_POINTS, &track->track) == WH_OK;
    }
    for (size_t i = 0; i < run->tracks; i++) {
        struct wh_run_track *track = &run->track[i];
        enum wh_measure of = track->channel->of;
        track->track = moving(run, &track->track);
        track->resonances = wh_resonances(k->arena, &track->track,
                                          of == WH_DISPLACEMENT ? 0
                                          : of == WH_VELOCITY   ? 1
                                                                : 2,
                                          track->resonance);
    }
}

/* ---- all of it ------------------------------------------------------------------------------------------------- */

static void compare_speeds(struct wh_arena *arena, struct wh_run *run, const struct wh_run_ask *ask)
{
    double share = ask->speed > 0 ? run->top / ask->speed : 1, whole = share > 1 ? round(share) : round(1 / share);
    run->over_stamped = ask->stamped > 0 && run->top > ask->stamped;
    if (run->from == WH_FROM_TACHO && whole >= 2 && fabs((share > 1 ? share : 1 / share) / whole - 1) < 0.03)
        wh_doubt(&run->doubts,
                 "the pulses tell %s, the stated speed is %s: %.0f times as %s; are the pulses a turn right?",
                 wh_rpm_words(arena, run->top), wh_rpm_words(arena, ask->speed), whole, share > 1 ? "much" : "little");
    if (ask->full_speed > 0 && run->top < (1 - SLIPS) * ask->full_speed && run->top > 0.8 * ask->full_speed)
        wh_doubt(&run->warnings,
                 "it reached %s, %.1f %% less than its pulleys give: the belt slips, or the mains are low",
                 wh_rpm_words(arena, run->top), 100 * (1 - run->top / ask->full_speed));
    if (run->over_stamped)
        wh_doubt(&run->warnings, "it reached %s, the stamped speed is %s: stop, it is not to be run like this",
                 wh_rpm_words(arena, run->top), wh_rpm_words(arena, ask->stamped));
}

enum wh_status wh_run_refuse(struct wh_arena *arena, const char *path, double speed, double stamped,
                             struct wh_errors *reterr)
{
    struct wh_place place = {.file = path};
    if (!(stamped > 0) || !(speed > stamped)) return WH_OK;
    return wh_errors_add(reterr, WH_ERR_INPUT, place, "the maker says which pulley and plate it needs",
                         "the stated speed of %s is above the stamped %s: it is not to be run like this",
                         wh_rpm_words(arena, speed), wh_rpm_words(arena, stamped));
}

enum wh_status wh_run_read(struct wh_arena *arena, struct wh_run_record *record, const struct wh_run_ask *ask,
                           struct wh_run **ret, struct wh_errors *reterr)
{
    struct keeping k = {.arena = arena, .record = record};
    struct wh_run *run = WH_NEW(arena, 1, struct wh_run);
    double highest = ask->speed > 0 ? ask->speed : ask->stamped > 0 ? ask->stamped : 6000 * RPM;
    enum wh_status status = wh_run_refuse(arena, record->path, ask->speed, ask->stamped, reterr);
    if (status != WH_OK) return status;
    run->record = record;
    run->drive_off = ask->drive_off;
    run->doubts.arena = run->warnings.arena = arena;
    run->track = WH_NEW(arena, record->channels + 1, struct wh_run_track);
    open_channels(&k, highest);
    if ((status = keep_all(&k, reterr)) != WH_OK) return status;
    if (from_channel(&k, &run->trace)) {
        run->from = WH_FROM_CHANNEL;
    } else if (from_tacho(&k, ask, run)) {
        run->from = WH_FROM_TACHO;
    } else {
        run->from = WH_FROM_VIBRATION;
        if ((status = from_vibration(&k, ask, run, reterr)) != WH_OK) return status;
    }
    run->top = wh_trace_top(arena, &run->trace);
    compare_speeds(arena, run, ask);
    wh_run_down_read(arena, run, ask);
    wh_run_up_read(arena, run, ask, k.current < record->channels ? k.thin[k.current] : NULL);
    if (!run->down.there && !run->up.there)
        return wh_errors_add(reterr, WH_ERR_NO_ANSWER, (struct wh_place){.file = record->path},
                             "a record that begins before the drive is switched",
                             "there is no run-up and no run-down in this record: about %s all along",
                             wh_rpm_words(arena, run->top));
    track_channels(&k, run);
    *ret = run;
    return WH_OK;
}
