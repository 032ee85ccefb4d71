/* lining.h - how a scene fits on paper, and the lines of its section lining, both as plain geometry. */
#ifndef WH_PAPER_LINING_H
#define WH_PAPER_LINING_H

#include "base/scene.h"

/* x mm of the model stand at left + scale * x mm from the left edge of the paper, y at top - scale * y from its top. */
struct wh_paper_fit {
    double scale, left, top;
    double width, height; /* of the paper taken */
};

/* The largest scale, `most` or less, at which all of a scene with its labels stands on width x height mm. */
struct wh_paper_fit wh_paper_fit(const struct wh_scene *scene, double width, double height, double most);

struct wh_point wh_paper_place(const struct wh_paper_fit *fit, struct wh_point model);

struct wh_paper_segment {
    struct wh_point from, to;
};
struct wh_paper_segments {
    struct wh_paper_segment *at;
    size_t count, room;
};

/* The outline of an area or a circle on paper: *ret_count corners. */
const struct wh_point *wh_paper_outline(struct wh_arena *arena, const struct wh_paper_fit *fit,
                                        const struct wh_stroke *stroke, size_t *ret_count);

/* The lines of a stroke's section lining, clipped to its outline. Lines of neighbours with the same lining meet. */
struct wh_paper_segments wh_paper_lines(struct wh_arena *arena, const struct wh_stroke *stroke,
                                        const struct wh_point outline[], size_t n);

#endif
