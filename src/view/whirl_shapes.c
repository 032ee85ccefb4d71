/* The shapes of a shaft at its critical speeds, one above the other: the shaft lies along the paper, its way across it
 * is drawn as far as can be seen. */
#include "view/whirling.h"

#include <math.h>

enum { WIDE = 140, STRIP = 34, SWING = 10 };
static const double letter = 2.5;
static const double rpm = 2 * 3.14159265358979323846 / 60;

struct strip {
    struct wh_arena *arena;
    struct wh_scene *scene;
    const struct wh_whirling *w;
    const double *z;
    size_t nodes;
    double scale, axis; /* paper over shaft; where the shaft's axis lies */
};

static double along(const struct strip *s, double z)
{
    return (z - s->z[0]) * s->scale;
}

/* The pieces of the shaft in narrow line, no thicker than the strip has room for. */
static void pieces(const struct strip *s)
{
    double most = 0;
    for (size_t i = 0; i < s->w->rotor->piece_count; i++)
        most = fmax(most, fmax(s->w->rotor->pieces[i].outer_from, s->w->rotor->pieces[i].outer_to));
    double thick = fmin(s->scale, 8 / most);
    for (size_t i = 0; i < s->w->rotor->piece_count; i++) {
        const struct wh_rotor_piece *piece = &s->w->rotor->pieces[i];
        double left = along(s, piece->from), right = along(s, piece->to);
        double from = thick * piece->outer_from, to = thick * piece->outer_to;
        const struct wh_point at[] = {
            {left, s->axis - from}, {right, s->axis - to}, {right, s->axis + to}, {left, s->axis + from}};
        wh_scene_area(s->scene, WH_PEN_NARROW, WH_FILL_PAPER, at, 4)->ink = WH_INK_GREY;
    }
    wh_scene_segment(s->scene, WH_PEN_CHAIN, -4, s->axis, WIDE + 4, s->axis);
}

static void supports(const struct strip *s)
{
    for (size_t i = 0; i < s->w->rotor->support_count; i++) {
        double x = along(s, s->w->rotor->supports[i].at);
        const struct wh_point at[] = {{x, s->axis}, {x - 2.5, s->axis - 5}, {x + 2.5, s->axis - 5}};
        wh_scene_area(s->scene, WH_PEN_NARROW, WH_FILL_PAPER, at, 3);
    }
}

static void shape(const struct strip *s, const struct wh_whirl *whirl)
{
    struct wh_point *at = WH_NEW(s->arena, s->nodes, struct wh_point);
    double x = 0, y = 0;
    for (size_t i = 0; i < s->nodes; i++) {
        x = fmax(x, cabs(whirl->x[i]));
        y = fmax(y, cabs(whirl->y[i]));
    }
    double most = fmax(fmax(x, y), 1e-300);
    for (size_t i = 0; i < s->nodes; i++)
        at[i] =
            (struct wh_point){along(s, s->z[i]), s->axis + SWING / most * creal(x >= y ? whirl->x[i] : whirl->y[i])};
    wh_scene_line(s->scene, whirl->turning < 0 ? WH_PEN_DASHED : WH_PEN_WIDE, at, s->nodes)->ink = WH_INK_COPPER;
}

struct wh_scene *wh_view_whirl_shapes(struct wh_arena *arena, const struct wh_whirling *w)
{
    struct wh_scene *scene = wh_scene_new(arena, wh_arena_print(arena, "shapes of the %s at its critical speeds",
                                                                w->sheet->machine->things[w->shaft].title));
    struct strip s = {.arena = arena, .scene = scene, .w = w};
    s.nodes = wh_rotor_nodes(w->model, &s.z);
    s.scale = WIDE / (s.z[s.nodes - 1] - s.z[0]);
    for (size_t i = 0; i < w->critical_count; i++) {
        const struct wh_whirl *critical = &w->criticals[i];
        s.axis = -(double)STRIP * (double)i;
        pieces(&s);
        supports(&s);
        shape(&s, critical);
        wh_scene_label(scene, 0, s.axis + 15, letter, WH_ANCHOR_LEFT,
                       wh_arena_print(arena, "%.0f rpm, %s", critical->speed / rpm,
                                      !wh_critical_shakes(critical)  ? "against the shaft, not driven"
                                      : critical->speed > s.w->speed ? "would shake, above running speed"
                                                                     : "shakes"));
    }
    wh_scene_label(
        scene, 0, s.axis - 15, letter, WH_ANCHOR_LEFT,
        wh_arena_print(arena, "left end at %.0f mm, right end at %.0f mm", s.z[0] * 1e3, s.z[s.nodes - 1] * 1e3));
    wh_scene_frame(scene, -6, s.axis - 18, WIDE + 6, 19);
    return scene;
}
