/* dimension.h - limits and a reading drawn as a dimension is (ISO 129-1): limits are extension lines, the reading a dot
 * with its bar. Whole bar between the lines: within. Bar across a line, dashed frame: not proven. Bar beyond, wide
 * frame: outside. The words stand in the drawing too. */
#ifndef WH_VIEW_DIMENSION_H
#define WH_VIEW_DIMENSION_H

#include "base/quantity.h"
#include "base/scene.h"
#include "base/tree.h"

struct wh_limits_drawn {
    double least, most;  /* SI; infinite: no limit on that side */
    double reading;      /* SI; NaN: none yet, only the limits are drawn */
    double low, high;    /* ends of its bar, SI */
    struct wh_unit unit; /* in which they are written */
    const char *title;
    const char *verdict; /* "within", "not proven: gauge too coarse"; NULL: none yet */
};

/* Limits without any number (words are expected): NULL. */
struct wh_scene *wh_view_dimension(struct wh_arena *arena, const struct wh_limits_drawn *dimension);

/* Dial readings round the spindle, n of them at even steps anticlockwise from the right: each stands out of the round
 * by what it is more than their mean, with the fitted circle through them, its middle at x, y, and the limit circle in
 * which that middle has to lie. */
struct wh_dial {
    const double *readings; /* m */
    size_t count;
    double x, y, mean;  /* m: of the fitted circle */
    double limit;       /* m, radius of the circle in which the centre has to lie; infinite: none */
    double uncertainty; /* of the centre, expanded, m */
    const char *title;
    const char *from, *onward; /* where the first was taken, and how it goes on: "on the way it turns"; or NULL */
};
struct wh_scene *wh_view_dial(struct wh_arena *arena, const struct wh_dial *dial);

/* Adds a drawing to a map; nothing for NULL. */
void wh_view_add_scene(struct wh_arena *arena, struct wh_tree *map, const char *key, struct wh_scene *scene);

#endif
