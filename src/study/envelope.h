/* envelope.h - spectra of the squared envelope: the beat of blows that ring a machine's parts.
 *
 * A damaged bearing strikes once a ball; each blow rings what it hits at some thousands of hertz. The squared envelope
 * of a band round that ringing, half the square of the band's analytic signal, is the local mean square (unit^2); the
 * blows are lines of its spectrum (unit^4). Bands are octaves in half-octave steps; beside them stands the whole
 * record whitened, each block's spectrum divided by its smoothed magnitude, which finds blows that no single band
 * shows. Source: R. B. Randall and J. Antoni, Mech. Syst. Signal Process. 25 (2011) 485-520 (from memory). */
#ifndef WH_STUDY_ENVELOPE_H
#define WH_STUDY_ENVELOPE_H

#include "study/spectrum.h"

struct wh_envelope {
    double low, high;            /* of the band, Hz */
    bool whitened;               /* the whitened whole record; its level is a plain number */
    double mean_square;          /* of the band, unit^2 */
    double kurtosis;             /* of the envelope, 0 for noise: the median of pieces of half a block, so that one
                                    knock does not choose the band */
    struct wh_spectrum spectrum; /* mean removed; 0 .. top */
};

struct wh_envelopes;

/* Envelopes of a stream that is cut into `blocks` (Hann, hop half the size). rate in Hz; top: the highest line wanted,
 * Hz; size of the blocks of the envelopes' own spectra in seconds. Bands go up to 0.46 of the rate and down to where
 * an octave holds no more than half of `top`; a record of low rate may have none. */
struct wh_envelopes *wh_envelopes_open(struct wh_arena *arena, const struct wh_blocks *blocks, double rate, double top,
                                       double seconds);

/* The same for another stream's blocks, that works in the same room. */
struct wh_envelopes *wh_envelopes_like(struct wh_arena *arena, const struct wh_envelopes *envelopes,
                                       const struct wh_blocks *blocks);

/* Takes the block that `blocks` has just cut. */
void wh_envelopes_add(struct wh_envelopes *envelopes);

/* The envelopes, the whitened one first, then the bands from the highest down. Ends the use of `envelopes`. */
size_t wh_envelopes_close(struct wh_envelopes *envelopes, struct wh_envelope **ret);

/* Which of them stands out most, by kurtosis, the whitened one left aside; `count` when there is none. */
size_t wh_envelope_best(const struct wh_envelope envelopes[], size_t count);

#endif
