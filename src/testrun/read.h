/* read.h - what the parts of the reading share: spectra read against their floors, and the reading under way. */
#ifndef WH_TESTRUN_READ_H
#define WH_TESTRUN_READ_H

#include "study/family.h"
#include "testrun/finding.h"

/* One squared-envelope spectrum read against its floor. */
struct wh_read_band {
    const struct wh_envelope *envelope;
    const struct wh_channel_measured *channel;
    struct wh_ground ground;
    const char *words; /* "2000 to 4000 Hz", "whole, whitened" */
};

struct wh_read {
    struct wh_arena *arena;
    const struct wh_measured *measured;
    const struct wh_sources *sources;
    struct wh_reading *reading;
    double slip; /* how far a line may be off, as a share: the sources', more where the shaft's line is not found */
    WH_LIST(struct wh_read_band) bands;
    struct wh_ground *velocity; /* of each channel; lines 0: none */
};

enum { WH_MULTIPLES = 5 }; /* of a bearing's line that are looked at */

/* Limits of the reading, set on made records before real ones were read: docs/reading-records.md. */
extern const double wh_read_chance; /* log10 of how often noise alone may make a family in a record */
extern const double wh_read_depth, wh_read_depth_whole, wh_read_kurtosis, wh_read_strength, wh_read_strength_whole;
enum { WH_READ_SEEN = 3 };

/* Is a family found in a band more than noise, other swelling or beating tones make? tried: how many families were
 * looked for in all bands of all channels. */
bool wh_read_stands(const struct wh_family *family, const struct wh_comb *comb, const struct wh_read_band *band,
                    double tried);

/* Do the blows of a family ring many places, as a blow does? It is strong in its own band, or shows in the same
 * sensor's whole, whitened. Beating tones and a drive's supply show in a few low bands only. */
bool wh_read_rings(const struct wh_read *read, const struct wh_family *family, const struct wh_read_band *band,
                   const struct wh_comb *comb);

/* Findings of bearings whose orders are known; of rolling bearings by their pattern alone; of all else. */
void wh_read_bearings(struct wh_read *read);
void wh_read_rolling(struct wh_read *read);
void wh_read_others(struct wh_read *read);

/* What a channel's place is called: its place, or its name where it says none. */
const char *wh_read_place(const struct wh_channel_measured *channel);

/* A family's lines that stand out, named, added to the reading's lines too. */
const struct wh_line *wh_read_lines(struct wh_read *read, const struct wh_family *family, const struct wh_comb *comb,
                                    const struct wh_read_band *band, const char *name);

/* "5 of 5 lines stand out of the noise by up to 31 dB in the band 2000 to 4000 Hz, …": what a family rests on. */
const char *wh_read_evidence(struct wh_read *read, const struct wh_family *family, const struct wh_read_band *band,
                             const char *reckoned);

#endif
