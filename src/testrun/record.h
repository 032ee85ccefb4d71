/* record.h - records of a test run: files of samples taken at an even rate, read in pieces and turned into SI.
 *
 * Three forms are told apart by what stands in the file: WAV (and its long kinds RF64, W64), CSV, and the universal
 * file's data set 58, in letters or in bytes. What a file does not say (what full scale is, the unit, the sensor's
 * sensitivity, the rate, where a channel was taken) is said by whoever asks; docs/records.md tells the forms. */
#ifndef WH_TESTRUN_RECORD_H
#define WH_TESTRUN_RECORD_H

#include "base/error.h"
#include "base/text.h"

enum wh_measure {
    WH_NOT_STATED, /* no unit: shapes and lines can be read, levels cannot be judged */
    WH_ACCELERATION,
    WH_VELOCITY,
    WH_DISPLACEMENT,
    WH_TACHO,   /* a pulse or more a turn, any unit */
    WH_SPEED,   /* rad/s */
    WH_CURRENT, /* A */
    WH_MEASURES
};

/* "acceleration"; the SI unit, "" for none. */
const char *wh_measure_words(enum wh_measure measure);
const char *wh_measure_unit(enum wh_measure measure);

/* Is it a vibration, or taken for one? */
bool wh_measure_vibrates(enum wh_measure measure);

struct wh_record_channel {
    const char *name;      /* as the file or the one who asks says; "channel 1" */
    const char *place;     /* the name without its direction */
    const char *direction; /* "across", "up", "along", an axis "+z", or "" */
    enum wh_measure of;
    double scale; /* SI value of the number one in the file */
};

/* What the file may leave open; texts may be NULL. Lists hold one entry for all channels or one for each. */
struct wh_record_ask {
    const char *rate;        /* "25.6 kHz" */
    const char *full_scale;  /* of WAV: "50 m/s2, 10 V" */
    const char *unit;        /* "m/s2", "g" (standard gravity), "mm/s", "um", "V" */
    const char *sensitivity; /* where the unit is V: "100 mV/g" */
    const char *channels;    /* "neck-bearing across, neck-bearing along, tacho" */
};

enum { WH_RECORD_CHANNELS = 64 };

struct wh_doubts {
    struct wh_arena *arena;
    const char **at;
    size_t count, room;
};
void wh_doubt(struct wh_doubts *doubts, const char *format, ...) __attribute__((format(printf, 2, 3)));

struct wh_run_record {
    const char *path;
    const char *form; /* "WAV", "CSV", "universal file" */
    double rate;      /* samples a second and channel */
    size_t frames;    /* samples a channel; of CSV: lines, so at most */
    size_t channels;
    struct wh_record_channel *channel;
    struct wh_doubts doubts; /* what was odd about the file as it was read */
    size_t done;             /* frames read so far */
    struct wh_record_form *inside;
};

/* Opens a record; it is closed with the arena. Errors: WH_ERR_FILE; WH_ERR_INPUT: no form that is read here, no rate,
 * no or too many channels, units that do not exist or do not fit, a broken header; all with their place. */
enum wh_status wh_record_open(struct wh_arena *arena, const char *path, const struct wh_record_ask *ask,
                              struct wh_run_record **ret, struct wh_errors *reterr);

/* The next n frames at most, to[c][0..] in SI; *ret_frames is 0 at the end only. Errors: WH_ERR_FILE; WH_ERR_INPUT:
 * what is no number, a gap in the time, a line with other fields, each with its line or time. */
enum wh_status wh_record_read(struct wh_run_record *record, size_t n, double *const to[], size_t *ret_frames,
                              struct wh_errors *reterr);

#endif
