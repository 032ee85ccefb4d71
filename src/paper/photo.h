/* photo.h - photos on paper. A JPEG goes into a PDF as it came, so that nothing is lost and nothing is decoded. */
#ifndef WH_PAPER_PHOTO_H
#define WH_PAPER_PHOTO_H

#include "base/picture.h"

#include <cairo.h>

/* Draws the picture upright into the box with its upper left corner at x, y. What cannot be decoded stays an empty
 * box. */
void wh_paper_photo_draw(cairo_t *canvas, const struct wh_picture *picture, double x, double y, double wide,
                         double high);

#endif
