/* A map of 60 speeds of a 60-element rotor by modal reduction, and its whirl speeds beside those of the full
 * eigenproblem at three speeds. Says by its exit whether both are as good as they should be. */
#include "study/rotor.h"

#include <math.h>
#include <stdio.h>
#include <time.h>

enum { SPEEDS = 60, WAYS = 8, ELEMENTS = 60, MODES = 14 };

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* A stepped shaft with two discs and an overhung wheel, on two bearings: alike all round or not, with cross terms and
 * damping. */
static const struct wh_rotor_piece pieces[] = {
    {0, 0.2, 0.02, 0.02, 0, 0}, {0.2, 0.9, 0.03, 0.03, 0.01, 0.01}, {0.9, 1.2, 0.025, 0.02, 0, 0}};
static const struct wh_rotor_body bodies[] = {
    {0.3, 0.3, 18, 0.18, 0.10}, {0.7, 0.7, 25, 0.35, 0.19}, {1.2, 1.25, 12, 0.30, 0.16}};
static const struct wh_rotor_support alike[] = {{0.05, {{2e7, 0}, {0, 2e7}}, {{0}}},
                                                {0.95, {{1e7, 0}, {0, 1e7}}, {{0}}}};
static const struct wh_rotor_support unlike[] = {{0.05, {{2e7, 2e6}, {-2e6, 1e7}}, {{2e3, 0}, {0, 1e3}}},
                                                 {0.95, {{1e7, 1e6}, {-1e6, 6e6}}, {{4e3, 0}, {0, 2e3}}}};
static const double top = 1000; /* rad/s */

static double worst(struct wh_arena *arena, const struct wh_rotor_model *full, const struct wh_rotor_map *map)
{
    double most = 0;
    for (size_t s = SPEEDS / 3 - 1; s < SPEEDS; s += SPEEDS / 3) {
        struct wh_whirl *whirls;
        double start = now();
        size_t found = wh_rotor_whirls(arena, full, map->speed[s], WAYS, &whirls);
        printf("  %4.0f rad/s: full eigenproblem %.2f s;", map->speed[s], now() - start);
        double here = 0;
        for (size_t w = 0; w < found; w++) {
            double nearest = INFINITY;
            for (size_t i = 0; i < map->ways; i++)
                nearest = fmin(nearest, fabs(map->whirls[s][i].speed / whirls[w].speed - 1));
            here = fmax(here, nearest);
        }
        printf(" %zu whirls, furthest apart %.1e\n", found, here);
        most = fmax(most, here);
    }
    return most;
}

static enum wh_status run(struct wh_arena *arena, void *context)
{
    const struct wh_rotor rotor = {206e9, 79e9, 7850, false, ELEMENTS - 3, pieces, 3, bodies, 3, context, 2, NULL, 0};
    struct wh_rotor_model *full;
    const char *why;
    const double *z;
    enum wh_status status = wh_rotor_make(arena, &rotor, &full, &why);
    if (status != WH_OK) return status;
    double start = now();
    struct wh_rotor_model *few = wh_rotor_reduce(arena, full, MODES);
    struct wh_rotor_map map = wh_rotor_map(arena, few, top, SPEEDS, WAYS);
    double seconds = now() - start;
    printf("rotor map, bearings %s: %zu elements, %zu unknowns reduced to %zu; %d speeds in %.3f s (at most 1)\n",
           context == alike ? "alike all round" : "with cross terms and damping", wh_rotor_nodes(full, &z) - 1,
           wh_rotor_unknowns(full), wh_rotor_unknowns(few), SPEEDS, seconds);
    double apart = worst(arena, full, &map);
    printf("  whirl speeds within %.1e of the full eigenproblem (at most 1.0e-04)\n", apart);
    return seconds <= 1 && apart <= 1e-4 ? WH_OK : WH_ERR_LIMIT;
}

int main(void)
{
    enum wh_status first = wh_arena_run((size_t)512 << 20, run, (void *)alike);
    enum wh_status second = wh_arena_run((size_t)512 << 20, run, (void *)unlike);
    return first != WH_OK || second != WH_OK;
}
