/* spectrum.h - averaged spectra of a signal that comes in pieces, and what is read off them.
 *
 * A spectrum is one-sided; power[k] is the mean square at k * step, right for a sine on a line (amplitude^2 / 2). Noise
 * is spread over `bandwidth` lines by the window, so a band's mean square is the sum of its lines divided by that. */
#ifndef WH_STUDY_SPECTRUM_H
#define WH_STUDY_SPECTRUM_H

#include "study/transform.h"

#include <stdbool.h>

enum wh_window {
    WH_WINDOW_RECTANGLE,
    WH_WINDOW_HANN,
    WH_WINDOW_HAMMING,
    WH_WINDOW_BLACKMAN_HARRIS, /* four terms */
    WH_WINDOW_FLAT_TOP,        /* five terms */
    WH_WINDOW_HFT70,
    WH_WINDOW_HFT90D,
    WH_WINDOWS
};

/* n values of a window over a period of samples: period n for spectra, n - 1 for the symmetric form of filters. */
void wh_window_fill(enum wh_window window, size_t n, size_t period, double w[]);

/* What a window does to levels. */
struct wh_window_factors {
    double gain;      /* mean: a sine's amplitude is divided by it */
    double energy;    /* r.m.s.: the level of noise is divided by it */
    double bandwidth; /* equivalent noise bandwidth, lines */
    double scallop;   /* what a sine half-way between two lines reads, as a share of its amplitude */
};
struct wh_window_factors wh_window_factors(size_t n, const double w[]);

struct wh_spectrum {
    double step; /* Hz */
    size_t lines;
    double *power;    /* unit^2 */
    double bandwidth; /* equivalent noise bandwidth, lines */
    size_t averages;
};

/* ---- blocks: a stream cut into windowed, overlapping pieces, each transformed --------------------------------- */

struct wh_blocks {
    size_t size, hop;
    size_t filled; /* samples waiting in `kept` */
    double *window, *kept;
    struct wh_transform *transform; /* of the block just cut: its mean taken off, windowed */
};

struct wh_blocks *wh_blocks_open(struct wh_arena *arena, size_t size, size_t hop, enum wh_window window);

/* The same for another stream. What is worked on is shared: who goes on to one has done with the other's block. */
struct wh_blocks *wh_blocks_like(struct wh_arena *arena, const struct wh_blocks *blocks);

/* Takes samples until a block is full: true, *samples and *n then stand behind what was taken. False: all are taken. */
bool wh_blocks_next(struct wh_blocks *blocks, size_t *n, const double **samples);

/* A block's power added to a sum; the sum made a spectrum. */
void wh_spectrum_add(struct wh_spectrum *sum, const struct wh_blocks *blocks);
void wh_spectrum_finish(struct wh_spectrum *sum, const struct wh_blocks *blocks, double rate);

/* ---- Welch's average ------------------------------------------------------------------------------------------- */

struct wh_welch;

/* rate in Hz > 0, size >= 2 samples a block (even), overlap 0 <= share < 1. Each block's mean is taken off.
 * Source: P. D. Welch, IEEE Trans. Audio Electroacoustics 15 (1967) 70-73. */
struct wh_welch *wh_welch_open(struct wh_arena *arena, double rate, size_t size, enum wh_window window, double overlap);
/* The same for another stream, that works in the same room. */
struct wh_welch *wh_welch_like(struct wh_arena *arena, const struct wh_welch *welch);
void wh_welch_add(struct wh_welch *welch, size_t n, const double samples[]);
/* The spectrum of all whole blocks; of none, its averages are 0 and its power is 0. Ends the use of `welch`. */
void wh_welch_close(struct wh_welch *welch, struct wh_spectrum *ret);

/* ---- reading ----------------------------------------------------------------------------------------------------- */

/* R.m.s. of the lines from `low` to `high`, Hz. */
double wh_spectrum_rms(const struct wh_spectrum *spectrum, double low, double high);

/* The spectrum of the signal's integral over time (times = -1, -2) or derivative (1, 2); the line at 0 Hz is nought. */
struct wh_spectrum wh_spectrum_integral(struct wh_arena *arena, const struct wh_spectrum *spectrum, int times);

#endif
