/* flow.h - puts pieces on sheets: what belongs together stays together, every sheet has its heading and title block. */
#ifndef WH_PAPER_FLOW_H
#define WH_PAPER_FLOW_H

#include "paper/piece.h"

/* A sheet of paper in mm. */
struct wh_paper_format {
    const char *name;
    double width, height;
};

/* The format of a name, or NULL. */
const struct wh_paper_format *wh_paper_format(const char *name);

/* The room inside the frame of a sheet, set in work. */
void wh_paper_room(struct wh_paper_work *work, const struct wh_paper_format *format);

/* Prints all pieces; ends each sheet with a show page. */
void wh_paper_print(const struct wh_paper_work *work, cairo_t *canvas, const struct wh_paper_format *format);

#endif
