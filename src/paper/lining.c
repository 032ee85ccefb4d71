#include "paper/lining.h"

#include "base/text.h"
#include "paper/ink.h"

#include <math.h>
#include <stdlib.h>

static const double PI = 3.14159265358979323846;
static const double EDGE = 0.75;        /* mm of paper kept free round everything: half of the widest line and more */
static const double LETTER_WIDTH = 0.8; /* of a letter with its space, in heights of a capital */
enum { CORNERS_OF_CIRCLE = 72, ROUNDS = 8 };

struct box {
    double left, right, bottom, top;
};

static void widen(struct box *box, double x, double y)
{
    box->left = fmin(box->left, x);
    box->right = fmax(box->right, x);
    box->bottom = fmin(box->bottom, y);
    box->top = fmax(box->top, y);
}

static void widen_by_label(struct box *box, const struct wh_stroke *label, double scale)
{
    double width = LETTER_WIDTH * label->height * (double)wh_text_width(label->text);
    double start = label->anchor == WH_ANCHOR_LEFT ? 0 : label->anchor == WH_ANCHOR_MIDDLE ? -width / 2 : -width;
    double cosine = cos(label->turned * PI / 180), sine = sin(label->turned * PI / 180);

    for (int corner = 0; corner < 4; corner++) {
        double along = start + (corner & 1 ? width : 0), across = (corner & 2 ? 0.8 : -0.8) * label->height;

        widen(box, scale * label->at->x + along * cosine - across * sine,
              scale * label->at->y + along * sine + across * cosine);
    }
}

/* What a scene covers on paper at a scale, its labels estimated. */
static struct box box_at(const struct wh_scene *scene, double scale)
{
    struct box box = {scale * scene->left, scale * scene->right, scale * scene->bottom, scale * scene->top};

    if (scene->left > scene->right) box = (struct box){0, 0, 0, 0};
    for (size_t i = 0; i < scene->strokes.count; i++) {
        if (scene->strokes.at[i].is == WH_STROKE_LABEL) widen_by_label(&box, &scene->strokes.at[i], scale);
    }
    return (struct box){box.left - EDGE, box.right + EDGE, box.bottom - EDGE, box.top + EDGE};
}

/* Labels keep their size, so the scale is found by rounds: what the geometry may take is what the labels leave. */
struct wh_paper_fit wh_paper_fit(const struct wh_scene *scene, double width, double height, double most)
{
    double wide = fmax(scene->right - scene->left, 1e-3), high = fmax(scene->top - scene->bottom, 1e-3);
    double scale = fmin(most, fmin(width / wide, height / high));
    struct box box = box_at(scene, scale);

    for (int i = 0; i < ROUNDS && (box.right - box.left > width || box.top - box.bottom > height); i++) {
        double free_wide = fmax(width - (box.right - box.left - scale * wide), width / 8);
        double free_high = fmax(height - (box.top - box.bottom - scale * high), height / 8);

        scale = fmin(scale, fmin(free_wide / wide, free_high / high));
        box = box_at(scene, scale);
    }
    return (struct wh_paper_fit){scale, -box.left, box.top, box.right - box.left, box.top - box.bottom};
}

struct wh_point wh_paper_place(const struct wh_paper_fit *fit, struct wh_point model)
{
    return (struct wh_point){fit->left + fit->scale * model.x, fit->top - fit->scale * model.y};
}

const struct wh_point *wh_paper_outline(struct wh_arena *arena, const struct wh_paper_fit *fit,
                                        const struct wh_stroke *stroke, size_t *ret_count)
{
    size_t n = stroke->is == WH_STROKE_CIRCLE ? CORNERS_OF_CIRCLE : stroke->count;
    struct wh_point *outline = WH_NEW(arena, n, struct wh_point);

    for (size_t i = 0; i < n; i++) {
        struct wh_point corner = stroke->at[stroke->is == WH_STROKE_CIRCLE ? 0 : i];

        if (stroke->is == WH_STROKE_CIRCLE) {
            corner.x += stroke->radius * cos(2 * PI * (double)i / CORNERS_OF_CIRCLE);
            corner.y += stroke->radius * sin(2 * PI * (double)i / CORNERS_OF_CIRCLE);
        }
        outline[i] = wh_paper_place(fit, corner);
    }
    *ret_count = n;
    return outline;
}

static int ascending(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

/* A point in axes turned with the lining: `along` runs with its lines, `across` from line to line. Paper's y runs
 * downward, so lines at 45 degrees rise to the right. */
struct turned {
    double cosine, sine;
};

static double along(struct turned axes, struct wh_point p)
{
    return p.x * axes.cosine - p.y * axes.sine;
}
static double across(struct turned axes, struct wh_point p)
{
    return p.x * axes.sine + p.y * axes.cosine;
}

static struct wh_point back(struct turned axes, double u, double v)
{
    return (struct wh_point){u * axes.cosine + v * axes.sine, -u * axes.sine + v * axes.cosine};
}

/* Where the line v = level crosses the outline, sorted; an outline that only touches it counts twice or not at all. */
static size_t crossings(struct turned axes, const struct wh_point outline[], size_t n, double level, double ret[])
{
    size_t found = 0;

    for (size_t i = 0; i < n; i++) {
        struct wh_point a = outline[i], b = outline[(i + 1) % n];
        double va = across(axes, a), vb = across(axes, b);

        if ((va <= level) == (vb <= level)) continue;
        ret[found++] = along(axes, a) + (along(axes, b) - along(axes, a)) * (level - va) / (vb - va);
    }
    qsort(ret, found, sizeof *ret, ascending);
    return found;
}

static void add_lines(struct wh_arena *arena, struct wh_paper_lining lining, const struct wh_point outline[], size_t n,
                      struct wh_paper_segments *lines)
{
    struct turned axes = {cos(lining.degrees * PI / 180), sin(lining.degrees * PI / 180)};
    double *crossed = WH_NEW(arena, n, double);
    double least = INFINITY, most = -INFINITY;

    for (size_t i = 0; i < n; i++) {
        least = fmin(least, across(axes, outline[i]));
        most = fmax(most, across(axes, outline[i]));
    }
    for (double k = ceil(least / lining.spacing); k * lining.spacing <= most; k++) {
        size_t found = crossings(axes, outline, n, k * lining.spacing, crossed);

        for (size_t i = 0; i + 1 < found; i += 2) {
            *WH_PUSH(arena, lines) = (struct wh_paper_segment){back(axes, crossed[i], k * lining.spacing),
                                                               back(axes, crossed[i + 1], k * lining.spacing)};
        }
    }
}

struct wh_paper_segments wh_paper_lines(struct wh_arena *arena, const struct wh_stroke *stroke,
                                        const struct wh_point outline[], size_t n)
{
    const struct wh_paper_lining *linings = wh_paper_lining(stroke->fill);
    struct wh_paper_segments lines = {0};

    for (int i = 0; i < WH_PAPER_LININGS && linings[i].spacing > 0; i++) {
        add_lines(arena, linings[i], outline, n, &lines);
    }
    return lines;
}
