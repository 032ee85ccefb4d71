#include "view/axis.h"

#include <math.h>

enum { STEPS_MOST = 8 };

double wh_axis_at(const struct wh_axis *axis, double value)
{
    return axis->begin + axis->length * (value - axis->from) / (axis->to - axis->from);
}

/* 1, 2 or 5 times a power of ten, so that at most STEPS_MOST steps make the whole. */
static double step_of(const struct wh_axis *axis)
{
    static const double times[] = {1, 2, 5};
    double whole = axis->to - axis->from, ten = pow(10, floor(log10(whole / STEPS_MOST)));
    if (axis->step > 0) return axis->step;
    for (size_t i = 0; i < 3; i++)
        if (whole / (ten * times[i]) <= STEPS_MOST) return ten * times[i];
    return ten * 10;
}

void wh_axis_frame(struct wh_arena *arena, struct wh_scene *scene, const struct wh_axis *x, const struct wh_axis *y,
                   const char *x_title, const char *y_title)
{
    double right = x->begin + x->length, top = y->begin + y->length, step = step_of(x);
    wh_scene_segment(scene, WH_PEN_NARROW, x->begin, y->begin, right, y->begin);
    wh_scene_segment(scene, WH_PEN_NARROW, x->begin, y->begin, x->begin, top);
    for (double v = ceil(x->from / step) * step; v <= x->to * (1 + 1e-9); v += step) {
        wh_scene_segment(scene, WH_PEN_NARROW, wh_axis_at(x, v), y->begin, wh_axis_at(x, v), y->begin - 1.5);
        wh_scene_label(scene, wh_axis_at(x, v), y->begin - 5, WH_PLOT_LETTER, WH_ANCHOR_MIDDLE,
                       wh_arena_print(arena, "%g", v));
    }
    step = step_of(y);
    for (double v = ceil(y->from / step) * step; v <= y->to * (1 + 1e-9); v += step) {
        wh_scene_segment(scene, WH_PEN_NARROW, x->begin - 1.5, wh_axis_at(y, v), x->begin, wh_axis_at(y, v));
        wh_scene_label(scene, x->begin - 3, wh_axis_at(y, v), WH_PLOT_LETTER, WH_ANCHOR_RIGHT,
                       wh_arena_print(arena, "%g", v));
    }
    if (x_title) wh_scene_label(scene, right, y->begin - 11, WH_PLOT_LETTER, WH_ANCHOR_RIGHT, x_title);
    wh_scene_label(scene, x->begin, top + 5, WH_PLOT_LETTER, WH_ANCHOR_MIDDLE, y_title);
}
