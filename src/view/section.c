#include "view/section.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Section lining by what the part is made of or next to; neighbours differ by the sequence of the file. */
static enum wh_fill fill_of(const struct wh_thing *thing, size_t nth)
{
    static const enum wh_fill turns[] = {WH_FILL_HATCH_A, WH_FILL_HATCH_B, WH_FILL_HATCH_WIDE};
    switch (thing->kind->lining) {
    case WH_LINING_UNCUT: return WH_FILL_NONE;
    case WH_LINING_RUBBER: return WH_FILL_CROSS;
    case WH_LINING_SOLID: return WH_FILL_SOLID;
    case WH_LINING_BY_TURNS: break;
    }
    return turns[nth % 3];
}

static struct wh_ring in_mm(const struct wh_ring *ring, double side)
{
    return (struct wh_ring){ring->low * 1e3,
                            ring->high * 1e3,
                            side * ring->inner_low * 1e3,
                            side * ring->outer_low * 1e3,
                            side * ring->inner_high * 1e3,
                            side * ring->outer_high * 1e3};
}

static void draw_thing(struct wh_scene *scene, const struct wh_machine *machine, size_t t,
                       const struct wh_section_ask *ask)
{
    const struct wh_thing *thing = &machine->things[t];
    bool asked = ask->part == t, gone = ask->gone && ask->gone[t];
    enum wh_pen pen = gone ? WH_PEN_GONE : asked || ask->part == WH_NONE ? WH_PEN_WIDE : WH_PEN_NARROW;
    enum wh_fill fill = gone                   ? WH_FILL_NONE
                        : asked                ? WH_FILL_TINT
                        : ask->part == WH_NONE ? fill_of(thing, t)
                                               : WH_FILL_NONE;
    for (size_t r = 0; r < thing->ring_count; r++)
        for (int side = -1; side <= 1; side += 2) {
            struct wh_ring ring = in_mm(&thing->rings[r], side);
            size_t before = scene->strokes.count;
            void (*outline)(struct wh_scene *, const struct wh_ring *, enum wh_pen, enum wh_fill) =
                thing->kind->outline && !gone ? thing->kind->outline : wh_outline_plain;
            outline(scene, &ring, pen, fill);
            for (size_t s = before; s < scene->strokes.count; s++) scene->strokes.at[s].part = thing->id;
        }
}

struct item {
    size_t thing, number;
    double x, y;  /* where the leader points */
    double label; /* height of its number */
};

static int by_height(const void *a, const void *b)
{
    const struct item *x = a, *y = b;
    return x->y < y->y ? -1 : x->y > y->y;
}

/* Spreads the numbers of one side so that none stand closer than `gap`. */
static void spread(struct item items[], size_t n, double gap)
{
    for (size_t i = 0; i < n; i++) items[i].label = items[i].y;
    for (int round = 0; round < 60; round++)
        for (size_t i = 1; i < n; i++) {
            double over = gap - (items[i].label - items[i - 1].label);
            if (over <= 0) continue;
            items[i - 1].label -= over / 2;
            items[i].label += over / 2;
        }
}

/* Item numbers in two columns, ISO 6433: a leader ends in a dot inside the part. */
static void number_items(struct wh_scene *scene, struct wh_arena *arena, const struct wh_machine *machine,
                         const struct wh_section_ask *ask)
{
    struct item *sides[2] = {WH_NEW(arena, machine->thing_count, struct item),
                             WH_NEW(arena, machine->thing_count, struct item)};
    size_t count[2] = {0, 0};
    double left = scene->left, right = scene->right, gap = (scene->top - scene->bottom) / 34;
    for (size_t t = 0; t < machine->thing_count; t++) {
        const struct wh_thing *thing = &machine->things[t];
        if (!ask->number[t] || thing->ring_count == 0) continue;
        const struct wh_ring *ring = &thing->rings[thing->ring_count / 2];
        size_t side = ask->number[t] % 2;
        double x = (ring->inner_low + ring->outer_low + ring->inner_high + ring->outer_high) / 4 * 1e3;
        sides[side][count[side]++] =
            (struct item){t, ask->number[t], side ? x : -x, (ring->low + ring->high) / 2 * 1e3, 0};
    }
    for (int side = 0; side < 2; side++) {
        qsort(sides[side], count[side], sizeof **sides, by_height);
        spread(sides[side], count[side], gap);
        double column = side ? right + 3 * gap : left - 3 * gap;
        for (size_t i = 0; i < count[side]; i++) {
            const struct item *item = &sides[side][i];
            double knee = side ? right + gap : left - gap;
            struct wh_point leader[] = {{item->x, item->y}, {knee, item->label}, {column, item->label}};
            wh_scene_line(scene, WH_PEN_NARROW, leader, 3)->ink = WH_INK_GREY;
            wh_scene_circle(scene, WH_PEN_NONE, WH_FILL_SOLID, item->x, item->y, gap / 12);
            struct wh_stroke *label =
                wh_scene_label(scene, column + (side ? gap / 2 : -gap / 2), item->label, 2.5,
                               side ? WH_ANCHOR_LEFT : WH_ANCHOR_RIGHT, wh_arena_print(arena, "%zu", item->number));
            if (ask->part == item->thing) label->ink = WH_INK_COPPER;
        }
    }
    wh_scene_frame(scene, left - 6 * gap, scene->bottom, right + 6 * gap, scene->top);
}

struct wh_scene *wh_view_section(struct wh_arena *arena, const struct wh_machine *machine,
                                 const struct wh_section_ask *ask)
{
    struct wh_scene *scene = wh_scene_new(arena, wh_arena_print(arena, "axial section of the %s", machine->title));
    for (size_t t = 0; t < machine->thing_count; t++)
        if (t != ask->part) draw_thing(scene, machine, t, ask);
    if (ask->part != WH_NONE) draw_thing(scene, machine, ask->part, ask);
    double over = (scene->top - scene->bottom) / 40;
    wh_scene_segment(scene, WH_PEN_CHAIN, 0, scene->bottom - over, 0, scene->top + over);
    if (ask->number) number_items(scene, arena, machine, ask);
    return scene;
}
