/* The map of a shaft's whirls: speed of whirling over speed of the shaft, both in rpm. Where a curve meets the line "in
 * step" is a critical speed. */
#include "view/whirling.h"

#include <math.h>

enum { WIDE = 150, HIGH = 100, SPEEDS = 60, WAYS = 8, TICKS = 6 };
static const double letter = 2.5;
static const double rpm = 2 * 3.14159265358979323846 / 60;

struct map {
    struct wh_arena *arena;
    struct wh_scene *scene;
    double top; /* rad/s, of both axes */
};

static struct wh_point on(const struct map *map, double speed, double whirl)
{
    return (struct wh_point){WIDE * speed / map->top, HIGH * whirl / map->top};
}

/* Steps of 1, 2 or 5 times a power of ten. */
static double step_of(double top)
{
    double rough = top / rpm / TICKS, power = pow(10, floor(log10(rough))), times = rough / power;
    return rpm * power * (times > 5 ? 10 : times > 2 ? 5 : times > 1 ? 2 : 1);
}

static void axes(const struct map *map, const char *shaft)
{
    struct wh_scene *scene = map->scene;
    wh_scene_box(scene, WH_PEN_NARROW, WH_FILL_NONE, 0, 0, WIDE, HIGH);
    for (double at = 0; at <= map->top * (1 + 1e-9); at += step_of(map->top)) {
        const char *label = wh_arena_print(map->arena, "%.0f", at / rpm);
        struct wh_point below = on(map, at, 0), left = on(map, 0, at);
        wh_scene_segment(scene, WH_PEN_NARROW, below.x, -1.5, below.x, 0);
        wh_scene_segment(scene, WH_PEN_NARROW, -1.5, left.y, 0, left.y);
        wh_scene_label(scene, below.x, -4.5, letter, WH_ANCHOR_MIDDLE, label);
        wh_scene_label(scene, -3, left.y, letter, WH_ANCHOR_RIGHT, label);
    }
    wh_scene_label(scene, WIDE / 2., -11, letter, WH_ANCHOR_MIDDLE,
                   wh_arena_print(map->arena, "speed of the %s, rpm", shaft));
    wh_scene_label(scene, -21, HIGH / 2., letter, WH_ANCHOR_MIDDLE, "speed of whirling, rpm")->turned = 90;
    wh_scene_segment(scene, WH_PEN_CHAIN, 0, 0, WIDE, HIGH);
    wh_scene_label(scene, WIDE - 22, HIGH - 9, letter, WH_ANCHOR_RIGHT, "in step");
}

/* A way of whirling as far as it lies on the paper; against the turning it is dashed. */
static void curve(const struct map *map, const struct wh_rotor_map *whirls, size_t way)
{
    struct wh_point *at = WH_NEW(map->arena, whirls->speeds, struct wh_point);
    size_t n = 0;
    double turning = whirls->whirls[whirls->speeds - 1][way].turning;
    for (size_t s = 0; s < whirls->speeds; s++) {
        const struct wh_whirl *whirl = &whirls->whirls[s][way];
        if (whirl->speed <= map->top) at[n++] = on(map, whirls->speed[s], whirl->speed);
    }
    if (n > 1) wh_scene_line(map->scene, turning < 0 ? WH_PEN_DASHED : WH_PEN_WIDE, at, n);
}

static void upright(const struct map *map, double speed, enum wh_anchor anchor, const char *word)
{
    struct wh_point foot = on(map, speed, 0);
    double beside = anchor == WH_ANCHOR_LEFT ? 2 : -2;
    wh_scene_segment(map->scene, WH_PEN_NARROW, foot.x, 0, foot.x, HIGH)->ink = WH_INK_COPPER;
    wh_scene_label(map->scene, foot.x + beside, 4, letter, anchor,
                   wh_arena_print(map->arena, "%s %.0f", word, speed / rpm));
}

/* A full dot: it shakes from its unbalance; an empty one: it goes against the shaft and is not driven. Full ones are
 * named on a leader line to the right, one above the other. */
static void dots(const struct map *map, const struct wh_whirling *w)
{
    for (size_t i = 0; i < w->critical_count; i++) {
        const struct wh_whirl *critical = &w->criticals[i];
        struct wh_point at = on(map, critical->speed, critical->speed);
        bool shakes = wh_critical_shakes(critical);
        if (critical->speed > map->top) continue;
        wh_scene_circle(map->scene, WH_PEN_NARROW, shakes ? WH_FILL_SOLID : WH_FILL_PAPER, at.x, at.y, 1.2);
        if (!shakes) continue;
        bool room = at.y + 32 < HIGH - 4;
        struct wh_point end = {room ? at.x + 4 : at.x + 8, room ? at.y + 32 : at.y - 8};
        wh_scene_segment(map->scene, WH_PEN_NARROW, at.x, at.y, end.x, end.y);
        wh_scene_label(map->scene, end.x + 1.5, end.y, letter, WH_ANCHOR_LEFT,
                       wh_arena_print(map->arena, "shakes at %.0f", critical->speed / rpm));
    }
}

struct wh_scene *wh_view_whirl_map(struct wh_arena *arena, const struct wh_whirling *w)
{
    const char *shaft = w->sheet->machine->things[w->shaft].title;
    double most = fmax(w->speed, isnan(w->stamped) ? 0 : w->stamped);
    struct map map = {arena, NULL, step_of(1.2 * most) * ceil(1.2 * most / step_of(1.2 * most))};
    map.scene = wh_scene_new(arena, wh_arena_print(arena, "whirls of the %s over its speed", shaft));
    struct wh_rotor_map whirls = wh_rotor_map(arena, w->model, map.top, SPEEDS, WAYS);
    axes(&map, shaft);
    for (size_t way = 0; way < whirls.ways; way++) curve(&map, &whirls, way);
    upright(&map, w->speed, WH_ANCHOR_RIGHT, "runs at");
    if (!isnan(w->stamped)) upright(&map, w->stamped, WH_ANCHOR_LEFT, "stamped");
    dots(&map, w);
    wh_scene_label(map.scene, 0, -17, letter, WH_ANCHOR_LEFT, "full line, full dot: round with the shaft");
    wh_scene_label(map.scene, 0, -22, letter, WH_ANCHOR_LEFT, "dashed, empty dot: round against it");
    wh_scene_frame(map.scene, -25, -25, WIDE + 4, HIGH + 4);
    return map.scene;
}
