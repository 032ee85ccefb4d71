#include "view/dimension.h"

#include "base/text.h"
#include "view/machine.h"

#include <math.h>
#include <string.h>

/* Places in the scene, mm. */
enum { LEFT = 12, RIGHT = 108, LIMIT_TOP = 26, LINE = 20, READING = 11, WORDS = 2, ARROW = 3, LETTER = 3 };

struct span {
    double from, to; /* SI, at LEFT and RIGHT */
};

static double at(const struct span *span, double value)
{
    return LEFT + (value - span->from) / (span->to - span->from) * (RIGHT - LEFT);
}

/* All that is drawn has to lie inside, with a quarter of its width to spare on both sides. */
static struct span span_of(const struct wh_limits_drawn *d)
{
    double from = INFINITY, to = -INFINITY;
    double all[] = {d->least, d->most, d->low, d->high, d->reading};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        if (!isfinite(all[i]) || (i >= 2 && isnan(d->reading))) continue;
        from = fmin(from, all[i]);
        to = fmax(to, all[i]);
    }
    double room = to - from > 0 ? to - from : fmax(fabs(to), 1e-6);
    return (struct span){from - room / 4, to + room / 4};
}

/* A value with as many decimals as the drawing tells apart, without zeros at the end. */
static const char *written(struct wh_arena *arena, const struct span *span, double value, const struct wh_unit *unit)
{
    int decimals = (int)ceil(-log10((span->to - span->from) / unit->factor / 100));
    const char *text = wh_quantity_fixed(arena, value, unit, decimals < 0 ? 0 : decimals > 9 ? 9 : decimals);
    size_t n = strcspn(text, " "), keep = n;
    if (!memchr(text, '.', n)) return wh_view_units_text(arena, text);
    while (text[keep - 1] == '0') keep--;
    if (text[keep - 1] == '.') keep--;
    return wh_view_units_text(arena, wh_arena_print(arena, "%.*s%s", (int)keep, text, text + n));
}

static void arrow(struct wh_scene *scene, double x, double y, double side)
{
    const struct wh_point head[] = {{x, y}, {x + side * ARROW, y + 0.5}, {x + side * ARROW, y - 0.5}};
    wh_scene_area(scene, WH_PEN_NONE, WH_FILL_SOLID, head, 3);
}

static void limit(struct wh_arena *arena, struct wh_scene *scene, const struct span *span,
                  const struct wh_limits_drawn *d, double value, enum wh_anchor anchor)
{
    if (!isfinite(value)) return;
    double x = at(span, value);
    wh_scene_segment(scene, WH_PEN_NARROW, x, READING - 4, x, LIMIT_TOP);
    wh_scene_label(scene, x, LIMIT_TOP + 3, LETTER, anchor, written(arena, span, value, &d->unit));
}

/* The dimension line runs between the limits, or off to the open side. */
static void limits(struct wh_arena *arena, struct wh_scene *scene, const struct span *span,
                   const struct wh_limits_drawn *d)
{
    double from = isfinite(d->least) ? at(span, d->least) : LEFT, to = isfinite(d->most) ? at(span, d->most) : RIGHT;
    limit(arena, scene, span, d, d->least, WH_ANCHOR_RIGHT);
    limit(arena, scene, span, d, d->most, WH_ANCHOR_LEFT);
    wh_scene_segment(scene, WH_PEN_NARROW, from, LINE, to, LINE);
    if (isfinite(d->least)) arrow(scene, from, LINE, 1);
    if (isfinite(d->most)) arrow(scene, to, LINE, -1);
}

static void reading(struct wh_arena *arena, struct wh_scene *scene, const struct span *span,
                    const struct wh_limits_drawn *d)
{
    double x = at(span, d->reading), low = at(span, d->low), high = at(span, d->high);
    wh_scene_segment(scene, WH_PEN_WIDE, low, READING, high, READING);
    if (high - low > 0.5) {
        wh_scene_segment(scene, WH_PEN_WIDE, low, READING - 1.5, low, READING + 1.5);
        wh_scene_segment(scene, WH_PEN_WIDE, high, READING - 1.5, high, READING + 1.5);
    }
    wh_scene_circle(scene, WH_PEN_NONE, WH_FILL_SOLID, x, READING, 1.2);
    wh_scene_label(scene, x, READING + 4, LETTER, WH_ANCHOR_MIDDLE, written(arena, span, d->reading, &d->unit));
}

static void frame(struct wh_scene *scene, const char *verdict)
{
    enum wh_pen pen = wh_starts(verdict, "within")    ? WH_PEN_NONE
                      : wh_starts(verdict, "outside") ? WH_PEN_WIDE
                                                      : WH_PEN_DASHED;
    if (pen != WH_PEN_NONE) wh_scene_box(scene, pen, WH_FILL_NONE, 2, -2, 118, LIMIT_TOP + 8);
    wh_scene_label(scene, 60, WORDS, LETTER + 1, WH_ANCHOR_MIDDLE, verdict);
}

struct wh_scene *wh_view_dimension(struct wh_arena *arena, const struct wh_limits_drawn *d)
{
    if (!isfinite(d->least) && !isfinite(d->most)) return NULL;
    struct span span = span_of(d);
    const char *title = d->verdict ? wh_arena_print(arena, "%s: %s", d->title, d->verdict) : d->title;
    struct wh_scene *scene = wh_scene_new(arena, title);
    limits(arena, scene, &span, d);
    if (isfinite(d->reading)) reading(arena, scene, &span, d);
    if (d->verdict) frame(scene, d->verdict);
    wh_scene_frame(scene, 0, d->verdict ? -4 : READING - 6, 120, LIMIT_TOP + 10);
    return scene;
}

void wh_view_add_scene(struct wh_arena *arena, struct wh_tree *map, const char *key, struct wh_scene *scene)
{
    if (!scene) return;
    struct wh_tree *node = wh_tree_add_new(arena, map, key, WH_TREE_SCENE);
    node->scene = scene;
    node->text = scene->title;
}
