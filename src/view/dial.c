/* Dial readings round the spindle, seen along its axis. */
#include "view/dimension.h"

#include <math.h>

enum { REACH = 42, AXIS = 38, ROUND = 30, LARGEST = 14, LETTER = 3 };

static const double PI = 3.14159265358979323846;

static struct wh_point on(double radius, double angle)
{
    double x = radius * cos(angle), y = radius * sin(angle);
    return (struct wh_point){x, y};
}

/* The middle, the limit about it, and where the readings were taken. */
static void ground(struct wh_arena *arena, struct wh_scene *scene, const struct wh_dial *d, double scale)
{
    wh_scene_segment(scene, WH_PEN_CHAIN, -AXIS, 0, AXIS, 0);
    wh_scene_segment(scene, WH_PEN_CHAIN, 0, -AXIS, 0, AXIS);
    if (!isfinite(d->limit)) return;
    wh_scene_circle(scene, WH_PEN_DASHED, WH_FILL_NONE, 0, 0, scale * d->limit);
    wh_scene_label(scene, 0, -REACH - 41, LETTER, WH_ANCHOR_MIDDLE,
                   wh_arena_print(arena, "dashed: limit %.3f mm", d->limit * 1e3));
}

/* How a label beyond the round lies, so that it never runs into it. */
static enum wh_anchor outward(double angle)
{
    return cos(angle) > 0.3 ? WH_ANCHOR_LEFT : cos(angle) < -0.3 ? WH_ANCHOR_RIGHT : WH_ANCHOR_MIDDLE;
}

/* Each reading stands out of the round by what it is more than their mean; the fitted circle goes through them. */
static void readings(struct wh_arena *arena, struct wh_scene *scene, const struct wh_dial *d, double scale)
{
    wh_scene_circle(scene, WH_PEN_NARROW, WH_FILL_NONE, scale * d->x, scale * d->y, ROUND);
    for (size_t i = 0; i < d->count; i++) {
        double angle = 2 * PI * (double)i / (double)d->count;
        struct wh_point dot = on(ROUND + scale * (d->readings[i] - d->mean), angle), label = on(REACH, angle);
        wh_scene_circle(scene, WH_PEN_WIDE, WH_FILL_PAPER, dot.x, dot.y, 1.2);
        wh_scene_label(scene, label.x, label.y, LETTER, outward(angle),
                       wh_arena_print(arena, "%zu: %.3f", i + 1, d->readings[i] * 1e3));
    }
}

static void centre(struct wh_arena *arena, struct wh_scene *scene, const struct wh_dial *d, double scale)
{
    double x = scale * d->x, y = scale * d->y;
    wh_scene_segment(scene, WH_PEN_WIDE, 0, 0, x, y)->ink = WH_INK_COPPER;
    wh_scene_circle(scene, WH_PEN_NARROW, WH_FILL_NONE, x, y, scale * d->uncertainty);
    wh_scene_circle(scene, WH_PEN_NONE, WH_FILL_SOLID, x, y, 1.4)->ink = WH_INK_COPPER;
    wh_scene_label(scene, 0, -REACH - 32, LETTER, WH_ANCHOR_MIDDLE,
                   wh_arena_print(arena, "the middle is %.3f mm off", hypot(d->x, d->y) * 1e3));
}

struct wh_scene *wh_view_dial(struct wh_arena *arena, const struct wh_dial *d)
{
    struct wh_scene *scene = wh_scene_new(arena, d->title);
    double most = hypot(d->x, d->y) + d->uncertainty;
    if (isfinite(d->limit)) most = fmax(most, d->limit);
    for (size_t i = 0; i < d->count; i++) most = fmax(most, fabs(d->readings[i] - d->mean));
    double scale = most > 0 ? LARGEST / most : 1;
    ground(arena, scene, d, scale);
    readings(arena, scene, d, scale);
    centre(arena, scene, d, scale);
    if (d->from)
        wh_scene_label(scene, 0, -REACH - 14, LETTER, WH_ANCHOR_MIDDLE, wh_arena_print(arena, "1 is at %s,", d->from));
    if (d->onward) wh_scene_label(scene, 0, -REACH - 23, LETTER, WH_ANCHOR_MIDDLE, d->onward);
    wh_scene_frame(scene, -REACH, -REACH - 44, REACH, REACH + 4);
    return scene;
}
