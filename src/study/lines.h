/* lines.h - lines of a spectrum against the noise round them: which stand out, and how likely noise alone made them.
 *
 * The power of a line of noise, averaged over n blocks, is its mean times chi-squared with 2n degrees of freedom over
 * 2n. The mean is had from the running median, which a few lines do not lift. A line counts only where it is a peak,
 * so that the skirt of a strong neighbour is not taken for one of its own. */
#ifndef WH_STUDY_LINES_H
#define WH_STUDY_LINES_H

#include "study/spectrum.h"

/* A line that stands out, as it is shown: where, how many times a turn, how strong (r.m.s., unit of the spectrum), how
 * far over the noise, and what makes it. */
struct wh_line {
    double frequency, order, level, over_floor_db;
    const char *name;  /* "neck bearing, outer ring" */
    const char *place; /* channel it was read at */
    bool beside;       /* to a side of a multiple, not one itself */
    const char *of;    /* what the spectrum is of: "velocity", "envelope 2000 to 4000 Hz" */
};

/* A spectrum read against its floor. All arrays are `lines` long. */
struct wh_ground {
    const struct wh_spectrum *spectrum;
    size_t lines;
    size_t looks;     /* independent blocks averaged, rounded down, at least 1 */
    double *floor;    /* mean power of the noise there */
    double *place;    /* Hz: of a peak, between lines; elsewhere the line's own */
    double *evidence; /* -ln of the chance that noise peaks so high within a line of there; 0 where there is no peak */
    bool *whole;      /* a peak at a whole number of turns */
};

enum { WH_EVIDENCE_MOST = 14 }; /* more from one line counts no more, so that one line is not a family */

/* Reads a spectrum; the floor is the median over `reach` Hz to either side. The spectrum is kept, not copied. */
struct wh_ground wh_ground_of(struct wh_arena *arena, const struct wh_spectrum *spectrum, double reach);

/* Takes out of the evidence what the turning and the mains make: a peak at a whole number of turns counts only by what
 * it stands over the whole numbers of turns beside it, one at a multiple of twice the mains not at all. Hz; 0: none. */
void wh_ground_leave_out(struct wh_ground *ground, double shaft, double mains);

/* -ln of the chance that the mean of n lines of noise stands at `over` times their true mean or more. n >= 1. */
double wh_noise_evidence(size_t n, double over);

/* ln of the chance that the evidence of n lines of noise adds up to `sum` or more (Fisher's way of combining chances).
 * Source: R. A. Fisher, Statistical Methods for Research Workers, 4th ed. 1932, section 21.1 (from memory). */
double wh_noise_chance(size_t n, double sum);

/* The mean square of the lines about one, less the floor's, at least 0. */
double wh_ground_power(const struct wh_ground *ground, size_t line);

/* The shaft line: of all peaks within `tolerance` (a share) of the stated speed, Hz, that whose multiples stand out
 * most in one of the grounds; made exact by them. The stated one when there is none. *ret_score: 1 is ten times the
 * floor at the shaft line itself, 0: none. */
double wh_shaft_line(const struct wh_ground grounds[], size_t count, double stated, double tolerance, double mains,
                     double *ret_score);

#endif
