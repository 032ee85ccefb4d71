/* frame.h - what every sheet has: frame (ISO 5457), heading, title block (ISO 7200). */
#ifndef WH_PAPER_FRAME_H
#define WH_PAPER_FRAME_H

#include "paper/flow.h"

static const double WH_PAPER_FRAME_LEFT = 20, WH_PAPER_FRAME_EDGE = 10; /* from the edges of the paper, mm */
static const double WH_PAPER_HEAD = 19, WH_PAPER_FOOT = 24;             /* height of heading and title block */

struct wh_paper_sheet {
    const struct wh_paper_format *format;
    size_t number, count;
    const char *heading;
    bool continued;
};

void wh_paper_frame(const struct wh_paper_work *work, cairo_t *canvas, const struct wh_paper_sheet *sheet);

#endif
