/* draw.h - a scene on a canvas whose units are mm of paper, y downward, and canvases that go with the arena. */
#ifndef WH_PAPER_DRAW_H
#define WH_PAPER_DRAW_H

#include "base/error.h"
#include "paper/ink.h"
#include "paper/letters.h"
#include "paper/lining.h"

void wh_paper_draw(cairo_t *canvas, const struct wh_paper_letters *letters, const struct wh_scene *scene,
                   const struct wh_paper_fit *fit);

void wh_paper_set_ink(cairo_t *canvas, struct wh_paper_colour colour);

/* Bytes that a drawing library hands over in the middle of its work, where running out of memory must not jump away:
 * the room is taken beforehand, and what does not fit is refused. */
struct wh_paper_bytes {
    char *at;
    size_t count, room;
};
struct wh_paper_bytes *wh_paper_bytes(struct wh_arena *arena, size_t room);
cairo_status_t wh_paper_bytes_take(void *bytes, const unsigned char *more, unsigned int n);

/* A canvas and its surface, destroyed with the arena. */
struct wh_paper_canvas {
    cairo_surface_t *surface;
    cairo_t *canvas;
};
struct wh_paper_canvas *wh_paper_canvas(struct wh_arena *arena);

/* Turns what a canvas has to say into an error; WH_OK when all is well. */
enum wh_status wh_paper_drawn(cairo_status_t status, const char *path, struct wh_errors *errors);

#endif
