/* axis.h - the axes of a plot: where a value stands, round marks, frame and titles. */
#ifndef WH_VIEW_AXIS_H
#define WH_VIEW_AXIS_H

#include "base/scene.h"

enum { WH_PLOT_WIDE = 160, WH_PLOT_HIGH = 80, WH_PLOT_LETTER = 3 }; /* mm */

/* An axis of a plot: from..to is `length` mm long and starts at `begin` mm. */
struct wh_axis {
    double from, to, begin, length;
    double step; /* of its marks; 0: a round one */
};

/* Where a value stands, mm. */
double wh_axis_at(const struct wh_axis *axis, double value);

/* Both axes with their marks; a title stands at the end of each, NULL: none. */
void wh_axis_frame(struct wh_arena *arena, struct wh_scene *scene, const struct wh_axis *x, const struct wh_axis *y,
                   const char *x_title, const char *y_title);

#endif
