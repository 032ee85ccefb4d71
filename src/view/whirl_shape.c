/* The shape of a whirl in a fitter's words. */
#include "view/whirling.h"

#include <math.h>

static const double stiff_share = 0.15; /* of a shape that is off a straight line: less is called stiff */

size_t wh_view_about(const struct wh_whirling *whirling, const char *kind, size_t n)
{
    const struct wh_machine *machine = whirling->sheet->machine;
    for (size_t t = 0; t < machine->thing_count; t++)
        if (wh_stands_about(machine, t, whirling->shaft) && wh_same(machine->things[t].kind->name, kind) && n-- == 0)
            return t;
    return WH_NONE;
}

/* A whirl seen from the side where it goes out furthest, at the moment it does. */
struct outline {
    size_t nodes;
    const double *z;
    double *way;
    double middle, slope; /* of the straight line nearest to it: way = middle + slope z */
    double off;           /* how much of it is not that line */
    size_t still;         /* places between the ends that stand still */
};

static struct outline outline_of(struct wh_arena *arena, const struct wh_whirling *w, const struct wh_whirl *whirl)
{
    struct outline o = {0};
    double x = 0, y = 0, sz = 0, sw = 0, zz = 0, zw = 0, rest = 0, all = 0;
    o.nodes = wh_rotor_nodes(w->model, &o.z);
    o.way = WH_NEW(arena, o.nodes, double);
    for (size_t i = 0; i < o.nodes; i++) {
        x = fmax(x, cabs(whirl->x[i]));
        y = fmax(y, cabs(whirl->y[i]));
    }
    for (size_t i = 0; i < o.nodes; i++) {
        o.way[i] = creal(x >= y ? whirl->x[i] : whirl->y[i]);
        sz += o.z[i];
        sw += o.way[i];
        zz += o.z[i] * o.z[i];
        zw += o.z[i] * o.way[i];
        if (i > 0 && o.way[i] * o.way[i - 1] < 0) o.still++;
    }
    double n = (double)o.nodes;
    o.slope = (n * zw - sz * sw) / (n * zz - sz * sz);
    o.middle = (sw - o.slope * sz) / n;
    for (size_t i = 0; i < o.nodes; i++) {
        double off = o.way[i] - o.middle - o.slope * o.z[i];
        rest += off * off;
        all += o.way[i] * o.way[i];
    }
    o.off = sqrt(rest / fmax(all, 1e-300));
    return o;
}

static double way_at(const struct outline *o, double z)
{
    size_t i = 1;
    while (i + 1 < o->nodes && o->z[i] < z) i++;
    double share = (z - o->z[i - 1]) / (o->z[i] - o->z[i - 1]);
    return o->way[i - 1] + share * (o->way[i] - o->way[i - 1]);
}

static const char *title_of(const struct wh_whirling *w, size_t thing)
{
    return w->sheet->machine->things[thing].title;
}

/* The support that a still place lies at; NULL: at none. */
static const char *support_near(const struct wh_whirling *w, double z, double room)
{
    for (size_t i = 0; i < w->rotor->support_count; i++)
        if (fabs(w->rotor->supports[i].at - z) < room) return title_of(w, wh_view_about(w, "support", i));
    return NULL;
}

/* What goes out furthest: a body, else an end of the shaft, else a place along it. */
static const char *furthest(struct wh_arena *arena, const struct wh_whirling *w, const struct outline *o)
{
    size_t most = 0, body = WH_NONE;
    for (size_t i = 1; i < o->nodes; i++)
        if (fabs(o->way[i]) > fabs(o->way[most])) most = i;
    double way = 0.9 * fabs(o->way[most]);
    for (size_t i = 0; i < w->rotor->body_count; i++) {
        double here = fabs(way_at(o, w->rotor->bodies[i].middle));
        if (here < way) continue;
        way = here;
        body = i;
    }
    if (body != WH_NONE) return wh_arena_print(arena, "the %s", title_of(w, wh_view_about(w, "body", body)));
    bool end = most == 0 || most + 1 == o->nodes;
    return wh_arena_print(arena, "%s %.0f mm", end ? "its end at" : "the place at", o->z[most] * 1e3);
}

const char *wh_view_shape(struct wh_arena *arena, const struct wh_whirling *w, const struct wh_whirl *whirl)
{
    struct outline o = outline_of(arena, w, whirl);
    double low = o.z[0], high = o.z[o.nodes - 1], still = -o.middle / o.slope;
    const char *most = furthest(arena, w, &o);
    if (o.off >= stiff_share && o.still == 0)
        return wh_arena_print(arena, "bends, nowhere still between its ends, furthest out at %s", most);
    if (o.off >= stiff_share)
        return wh_arena_print(arena, "bends, still at %zu place%s between its ends, furthest out at %s", o.still,
                              o.still == 1 ? "" : "s", most);
    const char *support = support_near(w, still, 0.12 * (high - low));
    if (support) return wh_arena_print(arena, "rocks stiffly about the %s, furthest out at %s", support, most);
    if (!(still > low && still < high))
        return wh_arena_print(arena, "swings stiffly to one side, furthest out at %s", most);
    return wh_arena_print(arena, "rocks stiffly about the place at %.0f mm, furthest out at %s", still * 1e3, most);
}
