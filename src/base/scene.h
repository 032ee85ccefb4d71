/* scene.h - a drawing as strokes and labels, y upward. Kinds and view fill it; paper draws it.
 *
 * Points and radii are in mm of the model and are scaled as a whole to fit the paper. Pens, section lining and the
 * height of labels are in mm of the paper and stay as they are. */
#ifndef WH_BASE_SCENE_H
#define WH_BASE_SCENE_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* Lines of ISO 128: wide and narrow continuous, dashed, chain (centre line), long-dash double-dot (outline of what is
 * gone or next to it). WH_PEN_NONE draws no stroke: a mere fill. */
enum wh_pen { WH_PEN_NONE, WH_PEN_WIDE, WH_PEN_NARROW, WH_PEN_DASHED, WH_PEN_CHAIN, WH_PEN_GONE, WH_PEN_DOTTED };

/* Section lining: two directions and three spacings tell neighbours apart; rubber is cross-lined; solid is for thin
 * things (gaskets, rings); tint is the one colour (copper), pale. */
enum wh_fill { WH_FILL_NONE, WH_FILL_PAPER, WH_FILL_HATCH_A, WH_FILL_HATCH_B, WH_FILL_HATCH_WIDE, WH_FILL_CROSS,
               WH_FILL_SOLID, WH_FILL_TINT };

enum wh_ink { WH_INK, WH_INK_GREY, WH_INK_PALE, WH_INK_COPPER };

struct wh_point {
    double x, y;
};

enum wh_stroke_is { WH_STROKE_LINE, WH_STROKE_AREA, WH_STROKE_CIRCLE, WH_STROKE_LABEL };

enum wh_anchor { WH_ANCHOR_LEFT, WH_ANCHOR_MIDDLE, WH_ANCHOR_RIGHT };

struct wh_stroke {
    enum wh_stroke_is is;
    enum wh_pen pen;
    enum wh_fill fill;
    enum wh_ink ink;
    const struct wh_point *at; /* corners; of a circle its centre; of a label its place, on the middle of its height */
    size_t count;
    double radius;             /* of a circle, mm */
    double height;             /* of a label's capitals, mm of paper */
    enum wh_anchor anchor;
    double turned;             /* of a label, degrees anticlockwise */
    const char *text;
    const char *part;          /* id of the part it belongs to, or NULL */
};

/* A scene grows in its arena. left..right and bottom..top bound everything added; wh_scene_frame widens them. */
struct wh_scene {
    struct wh_arena *arena;
    const char *title; /* said to those who cannot see it */
    double left, right, bottom, top;
    WH_LIST(struct wh_stroke) strokes;
};

struct wh_scene *wh_scene_new(struct wh_arena *arena, const char *title);
void wh_scene_frame(struct wh_scene *scene, double left, double bottom, double right, double top);

/* Each returns the new stroke so that a caller can set part, ink or turn. Points are copied. */
struct wh_stroke *wh_scene_line(struct wh_scene *scene, enum wh_pen pen, const struct wh_point at[], size_t n);
struct wh_stroke *wh_scene_segment(struct wh_scene *scene, enum wh_pen pen, double x1, double y1, double x2, double y2);
struct wh_stroke *wh_scene_area(struct wh_scene *scene, enum wh_pen pen, enum wh_fill fill, const struct wh_point at[],
                                size_t n);
struct wh_stroke *wh_scene_box(struct wh_scene *scene, enum wh_pen pen, enum wh_fill fill, double left, double bottom,
                               double right, double top);
struct wh_stroke *wh_scene_circle(struct wh_scene *scene, enum wh_pen pen, enum wh_fill fill, double x, double y,
                                  double radius);
struct wh_stroke *wh_scene_label(struct wh_scene *scene, double x, double y, double height, enum wh_anchor anchor,
                                 const char *text);

#endif
