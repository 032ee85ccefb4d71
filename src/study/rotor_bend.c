/* How a rotor stands under steady pulls, and how it whirls from its unbalance. */
#include "study/rotor_inside.h"

#include <lapacke.h>
#include <math.h>

void wh_rotor_deflection(struct wh_arena *arena, const struct wh_rotor_model *model, double x[], double y[])
{
    size_t n = model->n;
    double *force = WH_NEW(arena, 2 * n, double), *stiff = wh_rotor_stiffness(arena, model);
    int *turned = WH_NEW(arena, 2 * n, int);
    double complex *unknowns = WH_NEW(arena, 2 * n, double complex),
                   *ways = WH_NEW(arena, model->nodes, double complex);
    for (size_t i = 0; i < model->rotor->pull_count; i++) {
        const struct wh_rotor_pull *pull = &model->rotor->pulls[i];
        size_t node = wh_rotor_node(model, pull->at);
        wh_rotor_push(model, node, 0, pull->x, force);
        wh_rotor_push(model, node, 0, pull->y, force + n);
    }
    LAPACKE_dgesv_work(LAPACK_COL_MAJOR, (int)(2 * n), 1, stiff, (int)(2 * n), turned, force, (int)(2 * n));
    for (size_t i = 0; i < 2 * n; i++) unknowns[i] = force[i];
    wh_rotor_ways(model, unknowns, ways);
    for (size_t i = 0; i < model->nodes; i++) x[i] = creal(ways[i]);
    wh_rotor_ways(model, unknowns + n, ways);
    for (size_t i = 0; i < model->nodes; i++) y[i] = creal(ways[i]);
}

/* K + i w D - w^2 M of both planes. */
static lapack_complex_double *moving_stiffness(struct wh_arena *arena, const struct wh_rotor_model *model, double speed)
{
    size_t n = model->n, both = 2 * n;
    const double *stiff = wh_rotor_stiffness(arena, model), *damping = wh_rotor_damping(arena, model, speed);
    lapack_complex_double *to = WH_NEW(arena, both * both, lapack_complex_double);
    for (size_t i = 0; i < both * both; i++) to[i] = stiff[i] + I * speed * damping[i];
    for (size_t j = 0; j < n; j++)
        for (size_t i = 0; i < n; i++) {
            double inert = speed * speed * model->mass[j * n + i];
            to[j * both + i] -= inert;
            to[(n + j) * both + n + i] -= inert;
        }
    return to;
}

bool wh_rotor_response(struct wh_arena *arena, const struct wh_rotor_model *model, double speed,
                       const struct wh_rotor_unbalance unbalances[], size_t count, double complex x[],
                       double complex y[])
{
    size_t n = model->n, both = 2 * n;
    double *push = WH_NEW(arena, n, double);
    lapack_complex_double *unknowns = WH_NEW(arena, both, lapack_complex_double);
    int *turned = WH_NEW(arena, both, int);
    for (size_t u = 0; u < count; u++) {
        size_t node = wh_rotor_node(model, unbalances[u].at);
        double complex round = cexp(I * unbalances[u].angle);
        for (size_t i = 0; i < n; i++) push[i] = 0;
        wh_rotor_push(model, node, unbalances[u].at - model->z[node], unbalances[u].size * speed * speed, push);
        for (size_t i = 0; i < n; i++) {
            unknowns[i] += push[i] * round;
            unknowns[n + i] -= I * push[i] * round;
        }
    }
    lapack_complex_double *stiff = moving_stiffness(arena, model, speed);
    if (LAPACKE_zgesv_work(LAPACK_COL_MAJOR, (int)both, 1, stiff, (int)both, turned, unknowns, (int)both) != 0)
        return false;
    wh_rotor_ways(model, unknowns, x);
    wh_rotor_ways(model, unknowns + n, y);
    for (size_t i = 0; i < model->nodes; i++)
        if (!isfinite(cabs(x[i])) || !isfinite(cabs(y[i]))) return false;
    return true;
}
