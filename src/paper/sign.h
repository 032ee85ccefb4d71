/* sign.h - safety signs after ISO 7010, drawn by ourselves: yellow triangles warn, blue discs tell what to do. */
#ifndef WH_PAPER_SIGN_H
#define WH_PAPER_SIGN_H

#include <cairo.h>
#include <stdbool.h>

struct wh_paper_sign;

/* The sign of a name ("hot", "lock-out" ...), or NULL: there is none. */
const struct wh_paper_sign *wh_paper_sign(const char *name);

/* The n-th name, NULL after the last. */
const char *wh_paper_sign_name(unsigned n);

/* Draws it into a square. */
void wh_paper_sign_draw(cairo_t *canvas, const struct wh_paper_sign *sign, double x, double y, double size);

#endif
