/* rotor.h - a turning shaft on its bearings and mounts: how it whirls, where it shakes, how it bends. Can be read
 * alone.
 *
 * The shaft is a row of Timoshenko beam elements with consistent mass, rotary inertia and gyroscopic effect; on it
 * stand rigid bodies, under it bearings and mounts with stiffness and damping in x and y and between them. z runs along
 * the shaft; x and y lie across it, and it turns from x to y. Small movements only. Values are SI.
 *
 * Source of the elements: Nelson, A finite rotating shaft element using Timoshenko beam theory, J. Mech. Design 102
 * (1980); Przemieniecki, Theory of Matrix Structural Analysis; both from memory, held to closed forms by the tests. */
#ifndef WH_STUDY_ROTOR_H
#define WH_STUDY_ROTOR_H

#include "base/arena.h"

#include <complex.h>
#include <stdbool.h>

/* A piece of the shaft: a ring of revolution that may be hollow and may taper. Pieces may lie one round another. */
struct wh_rotor_piece {
    double from, to;                                   /* z */
    double outer_from, outer_to, inner_from, inner_to; /* radii at both ends */
};

/* A rigid body on the shaft. Its middle may stand beyond the place that holds it: a bowl over the end of its spindle.
 */
struct wh_rotor_body {
    double held, middle;   /* z where it sits on the shaft; z of its centre of mass */
    double mass;           /* kg */
    double polar, tilting; /* kg m2, about the axis; across it, about its own middle */
};

/* A bearing or mount. stiffness[0][1] is the force in x for a way in y. */
struct wh_rotor_support {
    double at;
    double stiffness[2][2], damping[2][2]; /* N/m, N s/m */
};

struct wh_rotor_pull {
    double at, x, y; /* N */
};

/* Mass times how far it sits off the axis, and where round the shaft. */
struct wh_rotor_unbalance {
    double at, size, angle; /* kg m, rad */
};

struct wh_rotor {
    double modulus, shear_modulus, density; /* of the shaft: E, G, rho */
    bool stiff_in_shear;                    /* leaves its shear out, as older tables did */
    size_t elements;                        /* at least so many; ends, steps and supports get a node of their own */
    const struct wh_rotor_piece *pieces;
    size_t piece_count;
    const struct wh_rotor_body *bodies;
    size_t body_count;
    const struct wh_rotor_support *supports;
    size_t support_count;
    const struct wh_rotor_pull *pulls; /* steady: a belt */
    size_t pull_count;
};

/* A rotor made ready: its matrices, all of them or what is left of them after modal reduction. */
struct wh_rotor_model;
enum { WH_ROTOR_NODES = 240 }; /* most that are worked */

/* Makes a rotor ready in an arena. Errors: WH_ERR_INPUT for a shaft of nothing or with a gap, for what stands beside
 * it, for a mass, size or modulus that is none; WH_ERR_LIMIT for too many nodes; WH_ERR_NO_ANSWER where the supports do
 * not hold it. *ret_why says it. */
enum wh_status wh_rotor_make(struct wh_arena *arena, const struct wh_rotor *rotor, struct wh_rotor_model **ret,
                             const char **ret_why);

/* The same rotor by its first `modes` modes at rest in each plane, and by how it gives way to a moment at each body and
 * to a force at each support: few unknowns, and whirl speeds close to the full ones. Of a whole model only. */
struct wh_rotor_model *wh_rotor_reduce(struct wh_arena *arena, const struct wh_rotor_model *model, size_t modes);

/* Nodes from one end to the other, and the z of each. */
size_t wh_rotor_nodes(const struct wh_rotor_model *model, const double **ret_z);
size_t wh_rotor_unknowns(const struct wh_rotor_model *model);

/* A way of whirling. Shapes are of the nodes, greatest way 1; as x(t) = Re(x exp(i w t)). */
struct wh_whirl {
    double speed;   /* of the whirling, rad/s */
    double damping; /* share of critical damping; below 0 it grows by itself */
    double
        turning; /* 1: a circle with the shaft (forward), -1: against it (backward), between: an ellipse, 0: a line */
    double complex *x, *y;
};

/* The `want` slowest ways of whirling at a speed of the shaft (rad/s), in order. How many there are. */
size_t wh_rotor_whirls(struct wh_arena *arena, const struct wh_rotor_model *model, double speed, size_t want,
                       struct wh_whirl **ret);

/* Whirls over the speeds of the shaft, from top/speeds to top; whirls[s][w] is the same way of whirling for all s. */
struct wh_rotor_map {
    size_t speeds, ways;
    double *speed;
    struct wh_whirl **whirls;
};
struct wh_rotor_map wh_rotor_map(struct wh_arena *arena, const struct wh_rotor_model *model, double top, size_t speeds,
                                 size_t want);

/* The `want` lowest critical speeds: a whirl in step with the turning, forward or backward, damping left out. */
size_t wh_rotor_criticals(struct wh_arena *arena, const struct wh_rotor_model *model, size_t want,
                          struct wh_whirl **ret);

/* Where the nodes stand under the steady pulls, m. */
void wh_rotor_deflection(struct wh_arena *arena, const struct wh_rotor_model *model, double x[], double y[]);

/* How the nodes whirl at a speed of the shaft (rad/s) with these unbalances, m; false: they have no end there. */
bool wh_rotor_response(struct wh_arena *arena, const struct wh_rotor_model *model, double speed,
                       const struct wh_rotor_unbalance unbalances[], size_t count, double complex x[],
                       double complex y[]);

/* Shear coefficient of a round section with a hole of m times its radius, Cowper 1966. */
double wh_rotor_shear_coefficient(double poisson, double hollow);

#endif
