#include "testrun/record.h"

#include "base/quantity.h"
#include "testrun/record_form.h"
#include "testrun/record_unit.h"

#include <math.h>
#include <string.h>

static const struct {
    const char *words, *unit;
} measures[WH_MEASURES] = {{"not stated", ""}, {"acceleration", "m/s2"}, {"velocity", "m/s"}, {"displacement", "m"},
                           {"tacho", ""},      {"speed", "rad/s"},       {"current", "A"}};

const char *wh_measure_words(enum wh_measure measure)
{
    return measures[measure].words;
}

const char *wh_measure_unit(enum wh_measure measure)
{
    return measures[measure].unit;
}

bool wh_measure_vibrates(enum wh_measure measure)
{
    return measure <= WH_DISPLACEMENT;
}

void wh_doubt(struct wh_doubts *doubts, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    *WH_PUSH(doubts->arena, doubts) = wh_arena_vprint(doubts->arena, format, args);
    va_end(args);
}

static enum wh_status refuse(struct wh_run_record *record, struct wh_errors *reterr, const char *right,
                             const char *says)
{
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = record->path}, right, "%s", says);
}

enum wh_status wh_record_channels(struct wh_arena *arena, struct wh_run_record *record, size_t count,
                                  struct wh_errors *reterr)
{
    if (count == 0 || count > WH_RECORD_CHANNELS)
        return refuse(record, reterr, "a record has 1 to 64 channels",
                      wh_arena_print(arena, "it has %zu channels", count));
    record->channels = count;
    record->channel = WH_NEW(arena, count, struct wh_record_channel);
    record->inside->unit = WH_NEW(arena, count, const char *);
    for (size_t c = 0; c < count; c++)
        record->channel[c] = (struct wh_record_channel){
            .name = wh_arena_print(arena, "channel %zu", c + 1), .place = "", .direction = "", .scale = 1};
    return WH_OK;
}

/* ---- what the one who asks adds --------------------------------------------------------------------------------- */

/* Entry c of a list with one entry for all or one for each; NULL for no list. */
static const char *entry(const struct wh_words *list, size_t c)
{
    return list->count == 0 ? NULL : list->count == 1 ? list->at[0] : list->at[c];
}

struct asked {
    struct wh_words full_scale, unit, sensitivity, channels;
};

static enum wh_status read_lists(struct wh_arena *arena, struct wh_run_record *record, const struct wh_record_ask *ask,
                                 struct asked *ret, struct wh_errors *reterr)
{
    const struct {
        const char *name, *text;
        struct wh_words *list;
        bool each;
    } lists[] = {{"full scale", ask->full_scale, &ret->full_scale, false},
                 {"unit", ask->unit, &ret->unit, false},
                 {"sensitivity", ask->sensitivity, &ret->sensitivity, false},
                 {"channels", ask->channels, &ret->channels, true}};
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        *lists[i].list = wh_split(arena, lists[i].text ? lists[i].text : "", ',');
        size_t count = lists[i].list->count;
        if (count == 0 || count == record->channels || (count == 1 && !lists[i].each)) continue;
        return refuse(record, reterr,
                      lists[i].each ? "name each channel, with commas between"
                                    : "give one for all channels, or one for each",
                      wh_arena_print(arena, "%s: %zu given, the record has %zu channel%s", lists[i].name, count,
                                     record->channels, record->channels == 1 ? "" : "s"));
    }
    return WH_OK;
}

static enum wh_status set_rate(struct wh_arena *arena, struct wh_run_record *record, const char *text,
                               struct wh_errors *reterr)
{
    struct wh_value value;
    struct wh_unit hertz;
    wh_unit_read("Hz", 2, &hertz);
    if (text) {
        enum wh_misread misread = wh_value_read(text, &hertz, &value, NULL);
        if (misread != WH_READ_WELL)
            return refuse(record, reterr, "write it as 25.6 kHz",
                          wh_arena_print(arena, "rate: %s", wh_misread_words(arena, misread, text, &hertz)));
        if (record->rate > 0 && fabs(value.best / record->rate - 1) > 1e-3)
            wh_doubt(&record->doubts, "the file says %g samples a second, %g were given: the given rate is used",
                     record->rate, value.best);
        record->rate = value.best;
    }
    if (!(record->rate > 0))
        return refuse(record, reterr, "give the samples a second: --rate \"25.6 kHz\", or a column of time",
                      "nothing says at what rate it was taken");
    return WH_OK;
}

/* Speeds and currents may be logged slowly, vibrations not. */
static enum wh_status check_rate(struct wh_arena *arena, struct wh_run_record *record, struct wh_errors *reterr)
{
    double least = 0.01;
    for (size_t c = 0; c < record->channels; c++)
        if (record->channel[c].of != WH_SPEED && record->channel[c].of != WH_CURRENT) least = 10;
    if (record->rate >= least && record->rate <= 1e7) return WH_OK;
    return refuse(record, reterr,
                  "records of 10 to 10 million samples a second are read, of speed and current from 0.01",
                  wh_arena_print(arena, "%g samples a second", record->rate));
}

static enum wh_status bad_unit(struct wh_arena *arena, struct wh_run_record *record, size_t c, const char *what,
                               const char *text, const char *right, struct wh_errors *reterr)
{
    return refuse(record, reterr, right,
                  wh_arena_print(arena, "%s of %s: \"%s\" is none", what, record->channel[c].name, text));
}

static const char *const unit_right = "units of records are m/s2, g, mm/s, um, V, A, rpm and their like";

/* The scale of a channel from full scale, unit and sensitivity. */
static enum wh_status set_scale(struct wh_arena *arena, struct wh_run_record *record, const struct asked *asked,
                                size_t c, struct wh_errors *reterr)
{
    struct wh_record_channel *channel = &record->channel[c];
    const char *full = entry(&asked->full_scale, c), *unit = entry(&asked->unit, c);
    const char *sensitivity = entry(&asked->sensitivity, c);
    double number = 1;
    struct wh_record_unit is, sensor;
    if (channel->of == WH_TACHO) return WH_OK;
    if (!unit) unit = record->inside->unit[c] ? record->inside->unit[c] : "";
    if (full && !wh_record_scale_read(full, &number, &unit))
        return bad_unit(arena, record, c, "full scale", full, "write it as 50 m/s2 or 10 V", reterr);
    if (!wh_record_unit_read(unit, &is)) return bad_unit(arena, record, c, "unit", unit, unit_right, reterr);
    channel->of = is.of;
    channel->scale = number * is.factor;
    if (sensitivity && is.of == WH_NOT_STATED) {
        if (!wh_record_sensitivity_read(arena, sensitivity, &sensor))
            return bad_unit(arena, record, c, "sensitivity", sensitivity, "write it as 100 mV/g or 4 mV/(mm/s)",
                            reterr);
        if (!is.volts && *unit == '\0') wh_doubt(&record->doubts, "%s: taken as volts", channel->name);
        channel->of = sensor.of;
        channel->scale *= sensor.factor;
    } else if (sensitivity) {
        wh_doubt(&record->doubts, "%s: its unit is %s, the sensitivity %s is not used", channel->name, unit,
                 sensitivity);
    }
    if (record->inside->full_scale && !full && is.of != WH_NOT_STATED)
        wh_doubt(&record->doubts, "%s: full scale is not given, one %s is taken for it", channel->name, unit);
    if (channel->of == WH_NOT_STATED)
        wh_doubt(&record->doubts, "%s: %s; its lines can be read, its levels cannot be judged", channel->name,
                 is.volts ? "in volts, the sensor's sensitivity is not given" : "no unit is given");
    return WH_OK;
}

static enum wh_status complete(struct wh_arena *arena, struct wh_run_record *record, const struct wh_record_ask *ask,
                               struct wh_errors *reterr)
{
    struct asked asked = {0};
    enum wh_status status = set_rate(arena, record, ask->rate, reterr);
    if (status == WH_OK) status = read_lists(arena, record, ask, &asked, reterr);
    for (size_t c = 0; c < record->channels && status == WH_OK; c++) {
        const char *unit = NULL;
        if (asked.channels.count) {
            record->channel[c].of = WH_NOT_STATED;
            wh_record_name_read(arena, asked.channels.at[c], &record->channel[c], &unit);
            if (unit) record->inside->unit[c] = unit;
        }
        status = set_scale(arena, record, &asked, c, reterr);
    }
    return status == WH_OK ? check_rate(arena, record, reterr) : status;
}

/* ---- opening and reading ---------------------------------------------------------------------------------------- */

enum wh_status wh_record_open(struct wh_arena *arena, const char *path, const struct wh_record_ask *ask,
                              struct wh_run_record **ret, struct wh_errors *reterr)
{
    struct wh_run_record *record = WH_NEW(arena, 1, struct wh_run_record);
    struct wh_file *file;
    char head[4096];
    size_t size;
    enum wh_status status = wh_file_open(arena, path, &file, reterr);
    if (status == WH_OK) status = wh_file_take(file, head, sizeof head, &size, reterr);
    if (status != WH_OK) return status;
    record->path = path;
    record->doubts.arena = arena;
    record->inside = WH_NEW(arena, 1, struct wh_record_form);
    if (size == 0) return refuse(record, reterr, NULL, "the file is empty");
    *record->inside = wh_record_is_wav(head, size)   ? wh_record_wav
                      : wh_record_is_uff(head, size) ? wh_record_uff
                                                     : wh_record_csv;
    record->form = record->inside->name;
    record->inside->file = file;
    status = wh_file_seek(file, 0, reterr);
    if (status == WH_OK) status = record->inside->open(arena, record, reterr);
    if (status == WH_OK) status = complete(arena, record, ask, reterr);
    if (status == WH_OK) *ret = record;
    return status;
}

/* Into SI; false when a sample is no number, *ret_at then says which. */
static bool scale_samples(double x[], size_t n, double scale, size_t *ret_at)
{
    double sound = 0;
    for (size_t i = 0; i < n; i++) {
        x[i] *= scale;
        sound += x[i] * 0;
    }
    if (isfinite(sound)) return true;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(x[i])) return *ret_at = i, false;
    return true;
}

enum wh_status wh_record_read(struct wh_run_record *record, size_t n, double *const to[], size_t *ret_frames,
                              struct wh_errors *reterr)
{
    size_t got = 0, at;
    enum wh_status status = record->inside->read(record, n, to, &got, reterr);
    for (size_t c = 0; c < record->channels && status == WH_OK; c++) {
        if (scale_samples(to[c], got, record->channel[c].scale, &at)) continue;
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = record->path}, NULL,
                             "%s: sample %zu, at %.6g s, is not a number", record->channel[c].name,
                             record->done + at + 1, (double)(record->done + at) / record->rate);
    }
    if (status != WH_OK) return status;
    record->done += got;
    *ret_frames = got;
    return WH_OK;
}
