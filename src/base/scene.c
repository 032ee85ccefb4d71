#include "base/scene.h"

#include <math.h>
#include <string.h>

struct wh_scene *wh_scene_new(struct wh_arena *arena, const char *title)
{
    struct wh_scene *scene = WH_NEW(arena, 1, struct wh_scene);

    scene->arena = arena;
    scene->title = wh_arena_text(arena, title);
    scene->left = scene->bottom = INFINITY;
    scene->right = scene->top = -INFINITY;
    return scene;
}

void wh_scene_frame(struct wh_scene *scene, double left, double bottom, double right, double top)
{
    scene->left = fmin(scene->left, left);
    scene->bottom = fmin(scene->bottom, bottom);
    scene->right = fmax(scene->right, right);
    scene->top = fmax(scene->top, top);
}

static struct wh_stroke *add(struct wh_scene *scene, enum wh_stroke_is is, enum wh_pen pen, const struct wh_point at[],
                             size_t n)
{
    struct wh_point *points = WH_NEW(scene->arena, n, struct wh_point);
    struct wh_stroke *stroke = WH_PUSH(scene->arena, &scene->strokes);

    *stroke = (struct wh_stroke){.is = is, .pen = pen, .at = points, .count = n};
    if (n) memcpy(points, at, n * sizeof *at);
    for (size_t i = 0; i < n; i++) wh_scene_frame(scene, at[i].x, at[i].y, at[i].x, at[i].y);
    return stroke;
}

struct wh_stroke *wh_scene_line(struct wh_scene *scene, enum wh_pen pen, const struct wh_point at[], size_t n)
{
    return add(scene, WH_STROKE_LINE, pen, at, n);
}

struct wh_stroke *wh_scene_segment(struct wh_scene *scene, enum wh_pen pen, double x1, double y1, double x2, double y2)
{
    return wh_scene_line(scene, pen, (struct wh_point[]){{x1, y1}, {x2, y2}}, 2);
}

struct wh_stroke *wh_scene_area(struct wh_scene *scene, enum wh_pen pen, enum wh_fill fill, const struct wh_point at[],
                                size_t n)
{
    struct wh_stroke *stroke = add(scene, WH_STROKE_AREA, pen, at, n);

    stroke->fill = fill;
    return stroke;
}

struct wh_stroke *wh_scene_box(struct wh_scene *scene, enum wh_pen pen, enum wh_fill fill, double left, double bottom,
                               double right, double top)
{
    const struct wh_point corners[] = {{left, bottom}, {right, bottom}, {right, top}, {left, top}};

    return wh_scene_area(scene, pen, fill, corners, 4);
}

struct wh_stroke *wh_scene_circle(struct wh_scene *scene, enum wh_pen pen, enum wh_fill fill, double x, double y,
                                  double radius)
{
    struct wh_stroke *stroke = add(scene, WH_STROKE_CIRCLE, pen, &(struct wh_point){x, y}, 1);

    stroke->fill = fill;
    stroke->radius = radius;
    wh_scene_frame(scene, x - radius, y - radius, x + radius, y + radius);
    return stroke;
}

struct wh_stroke *wh_scene_label(struct wh_scene *scene, double x, double y, double height, enum wh_anchor anchor,
                                 const char *text)
{
    struct wh_stroke *stroke = add(scene, WH_STROKE_LABEL, WH_PEN_NONE, &(struct wh_point){x, y}, 1);

    stroke->height = height;
    stroke->anchor = anchor;
    stroke->text = wh_arena_text(scene->arena, text);
    return stroke;
}
