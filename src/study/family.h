/* family.h - a family of lines of one maker: multiples of a frequency known to within a slip, perhaps with lines to
 * either side, scored as a whole against noise. */
#ifndef WH_STUDY_FAMILY_H
#define WH_STUDY_FAMILY_H

#include "study/lines.h"

enum { WH_FAMILY_MOST = 16 };

/* Where the members are looked for: times[i] * frequency + aside[i], the frequency within `slip` of `centre`. */
struct wh_comb {
    double centre; /* Hz */
    double slip;   /* a share */
    size_t count;
    double times[WH_FAMILY_MOST];
    double aside[WH_FAMILY_MOST]; /* Hz */
};

/* Multiples 1 to n of a frequency. */
struct wh_comb wh_comb_plain(double centre, double slip, size_t n);
/* Multiples 1 to n, each with one line to either side, `aside` Hz away. 3 n <= WH_FAMILY_MOST. */
struct wh_comb wh_comb_with_sides(double centre, double slip, size_t n, double aside);

struct wh_family {
    double frequency; /* Hz, as found */
    double off;       /* from the comb's centre, a share */
    double chance;    /* log10 of the chance that noise alone makes one like it at any frequency tried; may be over 0 */
    double depth;     /* root of the sum of the squares of the amplitudes of the members that stand out, of the level */
    double strength;  /* geometric mean of the first three multiples' amplitudes, of the level, none taken below 0.01:
                         high only where they all are there. Lines beside a multiple add to it at most as much as it
                         has itself: a swelling blow has no more */
    size_t count, seen, whole;   /* members; that stand out; that stand out at whole numbers of turns */
    size_t line[WH_FAMILY_MOST]; /* of the spectrum; 0: none stands out there */
};

/* The strongest place of a comb in a ground of the mean level given (of a squared envelope: its mean), > 0: where the
 * amplitudes of those that stand out add up to most, the centre preferred; where none does, where there is most
 * evidence. */
struct wh_family wh_family_find(const struct wh_ground *ground, const struct wh_comb *comb, double level);

enum { WH_EVIDENCE_SEEN = 6 }; /* a member stands out by itself: 1 in 400 by noise */

#endif
