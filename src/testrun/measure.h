/* measure.h - one pass over a record, in pieces: what was measured of each of its channels.
 *
 * Everything is worked from one set of transforms a channel: blocks of a Hann window, half overlapping, whose bins give
 * the spectrum, the velocity and displacement and the envelopes. Memory is that of a few blocks, whatever the length.
 */
#ifndef WH_TESTRUN_MEASURE_H
#define WH_TESTRUN_MEASURE_H

#include "study/envelope.h"
#include "testrun/record.h"
#include "testrun/tacho.h"

struct wh_channel_measured {
    const struct wh_record_channel *is; /* name, place, direction, what it measures */
    bool sound;                         /* false: a dead channel; nothing below is known */

    /* of the signal as it was recorded, its mean taken off; SI of what it measures */
    double rms, peak, crest; /* crest: peak / r.m.s. */
    double kurtosis;         /* fourth moment over the square of the second: 3 for noise, 1.5 for a sine */

    /* of the band low..high, Hz: 10 to 1000 Hz, from 2 Hz below 600 rpm; NAN for what is no vibration */
    double low, high;
    double acceleration_rms, velocity_rms;
    double displacement; /* peak to peak over the record but for a block at its ends, m */

    struct wh_spectrum acceleration, velocity; /* (m/s2)^2, (m/s)^2 */
    struct wh_envelope *envelope;              /* of the acceleration, or of what was recorded of it */
    size_t envelopes, best;                    /* best: by kurtosis; `envelopes` when there is none */

    struct wh_doubts doubts;
};

struct wh_measured {
    const struct wh_run_record *record;
    double seconds;
    double speed; /* rad/s: by the tacho, else as stated; 0: not known */
    double drift; /* of the speed over the record, as a share; 0 without a tacho */
    bool tacho;
    size_t channels;
    struct wh_channel_measured *channel;
    struct wh_doubts doubts; /* of the record as a whole; the file's own stand in record->doubts */
};

struct wh_measure_ask {
    double speed;  /* rad/s, as stated; 0: not known */
    double pulses; /* of the tacho a turn; 0: one */
};

/* Errors: those of wh_record_read; WH_ERR_INPUT: shorter than half a second or 1024 samples, no vibration channel that
 * lives, a tacho without pulses. */
enum wh_status wh_measure(struct wh_arena *arena, struct wh_run_record *record, const struct wh_measure_ask *ask,
                          struct wh_measured **ret, struct wh_errors *reterr);

#endif
