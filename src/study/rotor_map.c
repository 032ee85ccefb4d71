/* The map of a rotor's whirls over its speed, each way of whirling followed from one speed to the next. */
#include "study/rotor.h"

#include <math.h>
#include <string.h>

/* How much alike two shapes are, 0 to 1. */
static double alike(size_t nodes, const struct wh_whirl *a, const struct wh_whirl *b)
{
    double complex shared = 0;
    double of_a = 0, of_b = 0;
    for (size_t i = 0; i < nodes; i++) {
        shared += conj(a->x[i]) * b->x[i] + conj(a->y[i]) * b->y[i];
        of_a += cabs(a->x[i]) * cabs(a->x[i]) + cabs(a->y[i]) * cabs(a->y[i]);
        of_b += cabs(b->x[i]) * cabs(b->x[i]) + cabs(b->y[i]) * cabs(b->y[i]);
    }
    return cabs(shared) * cabs(shared) / fmax(of_a * of_b, 1e-300);
}

/* Puts the whirls of a speed in the order of those before it that they continue. */
static void follow(struct wh_arena *arena, size_t nodes, size_t ways, const struct wh_whirl before[],
                   struct wh_whirl now[])
{
    struct wh_whirl *found = WH_NEW(arena, ways, struct wh_whirl);
    bool *taken = WH_NEW(arena, ways, bool);
    memcpy(found, now, ways * sizeof *now);
    for (size_t w = 0; w < ways; w++) {
        size_t best = ways;
        double most = -1;
        for (size_t i = 0; i < ways; i++) {
            double near = fmin(before[w].speed, found[i].speed) / fmax(before[w].speed, found[i].speed);
            double fit = alike(nodes, &before[w], &found[i]) * near;
            if (taken[i] || fit <= most) continue;
            most = fit;
            best = i;
        }
        taken[best] = true;
        now[w] = found[best];
    }
}

struct wh_rotor_map wh_rotor_map(struct wh_arena *arena, const struct wh_rotor_model *model, double top, size_t speeds,
                                 size_t want)
{
    const double *z;
    size_t nodes = wh_rotor_nodes(model, &z);
    struct wh_rotor_map map = {.speeds = speeds,
                               .ways = want,
                               .speed = WH_NEW(arena, speeds, double),
                               .whirls = WH_NEW(arena, speeds, struct wh_whirl *)};
    for (size_t s = 0; s < speeds; s++) {
        map.speed[s] = top * (double)(s + 1) / (double)speeds;
        size_t found = wh_rotor_whirls(arena, model, map.speed[s], want, &map.whirls[s]);
        if (found < map.ways) map.ways = found;
    }
    for (size_t s = 1; s < speeds && map.ways > 0; s++)
        follow(arena, nodes, map.ways, map.whirls[s - 1], map.whirls[s]);
    return map;
}
