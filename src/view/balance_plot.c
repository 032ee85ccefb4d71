/* The planes of a balance seen from the pulley end: holes numbered, where angles begin on top, the turning arrow; what
 * is out of balance as a plain line, what is to be fitted in copper with its doubt, what is permissible as a ring. */
#include "view/balance.h"

#include <math.h>

enum { ROUND = 34, LARGEST = 28, APART = 124, LETTER = 3 };

static const double PI = 3.14159265358979323846;

struct plot {
    struct wh_arena *arena;
    struct wh_scene *scene;
    const struct wh_balance_sheet *sheet;
    double middle; /* x of the plane's middle */
    double scale;  /* mm a kg m */
};

/* Where an angle as counted stands on the paper: zero on top. */
static struct wh_point on(const struct plot *p, double radius, double angle)
{
    double turned = wh_balance_turned(p->sheet->against, angle), way = p->sheet->clockwise ? -turned : turned;
    return (struct wh_point){p->middle - radius * sin(way), radius * cos(way)};
}

/* A label at a radius; words are wide, so beside the middle they stand further out, or further in. */
static void label(const struct plot *p, double radius, double angle, double wide, const char *text)
{
    struct wh_point at = on(p, radius + wide * fabs(sin(angle)), angle);
    wh_scene_label(p->scene, at.x, at.y, LETTER, WH_ANCHOR_MIDDLE, text);
}

/* An arc outside the rotor with its head: the way it turns. */
static void turning_arrow(const struct plot *p)
{
    struct wh_point arc[13], head[3];
    double sense = p->sheet->clockwise ? -1 : 1, reach = ROUND + 16;
    for (size_t i = 0; i < 13; i++) {
        double way = PI / 2 + 0.9 + sense * (0.05 * (double)i - 0.3);
        arc[i] = (struct wh_point){p->middle + reach * cos(way), reach * sin(way)};
    }
    double end = PI / 2 + 0.9 + sense * 0.3, along = end + sense * PI / 2;
    head[0] = (struct wh_point){arc[12].x - 3 * cos(along - 0.35), arc[12].y - 3 * sin(along - 0.35)};
    head[1] = arc[12];
    head[2] = (struct wh_point){arc[12].x - 3 * cos(along + 0.35), arc[12].y - 3 * sin(along + 0.35)};
    wh_scene_line(p->scene, WH_PEN_WIDE, arc, 13);
    wh_scene_line(p->scene, WH_PEN_WIDE, head, 3);
}

static void ground(const struct plot *p, const struct wh_balance_plane *plane)
{
    wh_scene_circle(p->scene, WH_PEN_WIDE, WH_FILL_NONE, p->middle, 0, ROUND + 5);
    wh_scene_segment(p->scene, WH_PEN_CHAIN, p->middle - ROUND - 9, 0, p->middle + ROUND + 9, 0);
    wh_scene_segment(p->scene, WH_PEN_CHAIN, p->middle, -ROUND - 9, p->middle, ROUND + 9);
    for (size_t i = 1; i <= plane->holes; i++) {
        double angle = wh_balance_hole(plane, i);
        struct wh_point at = on(p, ROUND, angle);
        wh_scene_circle(p->scene, WH_PEN_NARROW, plane->taken[i - 1] ? WH_FILL_HATCH_A : WH_FILL_PAPER, at.x, at.y,
                        1.8);
        label(p, ROUND + 9.5, angle, 0, wh_arena_print(p->arena, "%zu", i));
    }
    for (int i = 0; i < 4 && plane->holes == 0; i++)
        label(p, ROUND + 9.5, i * PI / 2, 6.5, wh_view_angle(p->arena, i * PI / 2));
    wh_scene_label(p->scene, p->middle, ROUND + 27, LETTER, WH_ANCHOR_MIDDLE, plane->id);
    turning_arrow(p);
}

static const char *grams(const struct plot *p, double mass)
{
    return wh_arena_print(p->arena, "%.3g g", mass * 1e3);
}

static void answer(const struct plot *p, const struct wh_balance_correction *c, double allowed)
{
    double size = p->scale * cabs(c->wanted), angle = carg(c->wanted);
    struct wh_point tip = on(p, size, angle), heavy = on(p, size, angle + PI);
    if (allowed > 0 && p->scale * allowed < ROUND + 4)
        wh_scene_circle(p->scene, WH_PEN_DASHED, WH_FILL_NONE, p->middle, 0, p->scale * allowed);
    wh_scene_segment(p->scene, WH_PEN_WIDE, p->middle, 0, heavy.x, heavy.y);
    wh_scene_circle(p->scene, WH_PEN_NONE, WH_FILL_SOLID, heavy.x, heavy.y, 1);
    wh_scene_segment(p->scene, WH_PEN_WIDE, p->middle, 0, tip.x, tip.y)->ink = WH_INK_COPPER;
    if (c->size_doubt > 0)
        wh_scene_circle(p->scene, WH_PEN_NARROW, WH_FILL_NONE, tip.x, tip.y, p->scale * c->size_doubt);
    for (size_t i = 0; i < c->places; i++) {
        struct wh_point at = on(p, ROUND, c->place[i].angle);
        wh_scene_circle(p->scene, WH_PEN_WIDE, WH_FILL_SOLID, at.x, at.y, 1.8)->ink = WH_INK_COPPER;
        label(p, ROUND - 6, c->place[i].angle, -6, grams(p, c->place[i].mass));
    }
}

static double largest(const struct wh_balance_sheet *sheet, const struct wh_balance_result *result)
{
    double most = 0;
    for (size_t p = 0; p < sheet->planes; p++) {
        const struct wh_balance_correction *c = &result->correction[p];
        most = fmax(most, cabs(c->wanted) + (c->size_doubt > 0 ? fmin(c->size_doubt, cabs(c->wanted)) : 0));
    }
    return most;
}

struct wh_scene *wh_view_balance_plot(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                                      const struct wh_balance_result *result)
{
    double most = largest(sheet, result), share = result->allowed / (double)sheet->planes, wide = ROUND + 24;
    struct plot p = {.arena = arena, .sheet = sheet, .scale = most > 0 ? LARGEST / most : 1};
    p.scene = wh_scene_new(arena, wh_arena_print(arena, "%s seen from the pulley end, %s on top", sheet->part,
                                                 sheet->zero ? sheet->zero : "0 deg"));
    for (size_t i = 0; i < sheet->planes; i++) {
        p.middle = (double)i * APART;
        ground(&p, &sheet->plane[i]);
        answer(&p, &result->correction[i], share);
    }
    double last = (double)(sheet->planes - 1) * APART;
    wh_scene_label(p.scene, last / 2, -ROUND - 20, LETTER, WH_ANCHOR_MIDDLE, "seen from the pulley end");
    wh_scene_frame(p.scene, -wide, -ROUND - 24, last + wide, ROUND + 31);
    return p.scene;
}
