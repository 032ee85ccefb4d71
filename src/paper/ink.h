/* ink.h - what the pens, inks and section linings of a scene look like on paper (ISO 128; all in mm of paper). */
#ifndef WH_PAPER_INK_H
#define WH_PAPER_INK_H

#include "base/scene.h"

enum { WH_PAPER_DASHES = 6, WH_PAPER_LININGS = 2 };

struct wh_paper_colour {
    double red, green, blue;
};

struct wh_paper_pen {
    double width;
    double dash[WH_PAPER_DASHES];
    int dashes;
};

/* Parallel lines at an angle, a spacing apart; spacing 0: none. */
struct wh_paper_lining {
    double degrees, spacing;
};

extern const double WH_PAPER_HATCH_WIDTH; /* of the lines of a section lining */
extern const double WH_PAPER_HALO_WIDTH;  /* of the paper left round a label */
extern const char WH_PAPER_LETTERING[];   /* families, best first */
extern const char WH_PAPER_TEXT_FACE[];

struct wh_paper_colour wh_paper_colour(enum wh_ink ink);
struct wh_paper_pen wh_paper_pen(enum wh_pen pen);
const struct wh_paper_lining *wh_paper_lining(enum wh_fill fill);

/* The colour that covers an area before its lining; false: none does. */
bool wh_paper_cover(enum wh_fill fill, enum wh_ink ink, struct wh_paper_colour *ret);

#endif
