/* How a rotor whirls at a speed, and at which speeds it whirls in step with its turning. */
#include "study/rotor_inside.h"

#include <lapacke.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* a x = b in place of b, a of n by n. A model that was made has a stiffness that can be solved. */
static bool solve(struct wh_arena *arena, size_t n, double *a, size_t right, double *b)
{
    int *turned = WH_NEW(arena, n, int);
    return LAPACKE_dgesv_work(LAPACK_COL_MAJOR, (int)n, (int)right, a, (int)n, turned, b, (int)n) == 0;
}

/* Puts a block of n by n, scaled, at block row i and block column j of a matrix of `rows` rows. */
static void put(double *to, size_t rows, size_t i, size_t j, size_t n, const double *block, double scale)
{
    for (size_t c = 0; c < n; c++)
        for (size_t r = 0; r < n; r++) to[(j * n + c) * rows + i * n + r] = scale * block[c * n + r];
}

/* ---- shapes ---------------------------------------------------------------------------------------------------- */

/* Greatest way 1; 1 for a circle with the turning, -1 against it. */
static void finish_shape(const struct wh_rotor_model *model, const double complex *unknowns, struct wh_whirl *whirl)
{
    double most = 0, ahead = 0, all = 0;
    wh_rotor_ways(model, unknowns, whirl->x);
    wh_rotor_ways(model, unknowns + model->n, whirl->y);
    for (size_t i = 0; i < model->nodes; i++) {
        double x = cabs(whirl->x[i]), y = cabs(whirl->y[i]);
        most = fmax(most, hypot(x, y));
        all += x * x + y * y;
        ahead -= 2 * cimag(conj(whirl->x[i]) * whirl->y[i]);
    }
    double whole = fmax(most, 1e-300);
    double complex phase = 1;
    for (size_t i = 0; i < model->nodes; i++) {
        double complex greater = cabs(whirl->x[i]) >= cabs(whirl->y[i]) ? whirl->x[i] : whirl->y[i];
        if (hypot(cabs(whirl->x[i]), cabs(whirl->y[i])) >= most * (1 - 1e-12)) phase = conj(greater) / cabs(greater);
    }
    for (size_t i = 0; i < model->nodes; i++) {
        whirl->x[i] *= phase / whole;
        whirl->y[i] *= phase / whole;
    }
    whirl->turning = all > 0 ? ahead / all : 0;
}

static struct wh_whirl new_whirl(struct wh_arena *arena, const struct wh_rotor_model *model)
{
    return (struct wh_whirl){.x = WH_NEW(arena, model->nodes, double complex),
                             .y = WH_NEW(arena, model->nodes, double complex)};
}

/* The place of an answer among many, to put them in order. */
struct place {
    double speed;
    size_t column;
};

static int by_speed(const void *a, const void *b)
{
    const struct place *x = a, *y = b;
    if (x->speed > y->speed || x->speed < y->speed) return x->speed > y->speed ? 1 : -1;
    return (x->column > y->column) - (x->column < y->column);
}

/* ---- whirling at a speed --------------------------------------------------------------------------------------- */

/* With u = exp(l t) q and s = q/l, l^2 M q + l D q + K q = 0 is  1/l (s, q) = (-K^-1 (D s + M q), s): the slowest
 * whirls are the greatest values of this matrix, and those an eigenvalue routine gives to the last digits. */
static double *state_matrix(struct wh_arena *arena, const struct wh_rotor_model *model, double speed)
{
    size_t n = model->n, both = 2 * n, all = 4 * n;
    double *right = WH_NEW(arena, both * all, double), *state = WH_NEW(arena, all * all, double);
    memcpy(right, wh_rotor_damping(arena, model, speed), both * both * sizeof *right);
    put(right, both, 0, 2, n, model->mass, 1);
    put(right, both, 1, 3, n, model->mass, 1);
    if (!solve(arena, both, wh_rotor_stiffness(arena, model), all, right)) return NULL;
    for (size_t c = 0; c < all; c++)
        for (size_t r = 0; r < both; r++) state[c * all + r] = -right[c * both + r];
    for (size_t i = 0; i < both; i++) state[i * all + both + i] = 1;
    return state;
}

/* Column c of a real eigenvector matrix, whose complex pairs stand as real and imaginary part side by side. */
static void take_unknowns(const double *vectors, size_t all, size_t first, size_t c, bool upper, size_t count,
                          double complex *to)
{
    for (size_t i = 0; i < count; i++) {
        double real = vectors[c * all + first + i], imaginary = vectors[(c + 1) * all + first + i];
        to[i] = real + I * (upper ? imaginary : -imaginary);
    }
}

size_t wh_rotor_whirls(struct wh_arena *arena, const struct wh_rotor_model *model, double speed, size_t want,
                       struct wh_whirl **ret)
{
    size_t both = 2 * model->n, all = 4 * model->n, count = 0;
    double *state = state_matrix(arena, model, speed), none = 0;
    double *real = WH_NEW(arena, all, double), *imaginary = WH_NEW(arena, all, double);
    double *vectors = WH_NEW(arena, all * all, double), *work = WH_NEW(arena, 34 * all, double);
    struct place *places = WH_NEW(arena, all, struct place);
    double complex *unknowns = WH_NEW(arena, both, double complex);
    if (!state || LAPACKE_dgeev_work(LAPACK_COL_MAJOR, 'N', 'V', (int)all, state, (int)all, real, imaginary, &none, 1,
                                     vectors, (int)all, work, (int)(34 * all)) != 0)
        return 0;
    /* Of each pair 1/l and its mirror, the one with positive imaginary part stands first; l is then the mirror. */
    for (size_t c = 0; c < all; c++)
        if (imaginary[c] > 0)
            places[count++] = (struct place){imaginary[c] / (real[c] * real[c] + imaginary[c] * imaginary[c]), c};
    qsort(places, count, sizeof *places, by_speed);
    count = count < want ? count : want;
    *ret = WH_NEW(arena, count + 1, struct wh_whirl);
    for (size_t i = 0; i < count; i++) {
        size_t c = places[i].column;
        struct wh_whirl *whirl = &(*ret)[i];
        *whirl = new_whirl(arena, model);
        whirl->speed = places[i].speed;
        whirl->damping = -real[c] / hypot(real[c], imaginary[c]);
        take_unknowns(vectors, all, both, c, false, both, unknowns);
        finish_shape(model, unknowns, whirl);
    }
    return count;
}

/* ---- critical speeds ------------------------------------------------------------------------------------------- */

/* In step, K q = w^2 (M + i [0 -G; G 0]) q: the matrix K^-1 (...), whose greatest values are 1/w^2. */
static lapack_complex_double *step_matrix(struct wh_arena *arena, const struct wh_rotor_model *model)
{
    size_t n = model->n, both = 2 * n;
    double *right = WH_NEW(arena, 2 * both * both, double);
    lapack_complex_double *step = WH_NEW(arena, both * both, lapack_complex_double);
    put(right, both, 0, 0, n, model->mass, 1);
    put(right, both, 1, 1, n, model->mass, 1);
    put(right, both, 1, 2, n, model->gyro, 1);
    put(right, both, 0, 3, n, model->gyro, -1);
    if (!solve(arena, both, wh_rotor_stiffness(arena, model), 2 * both, right)) return NULL;
    for (size_t i = 0; i < both * both; i++) step[i] = right[i] + I * right[both * both + i];
    return step;
}

size_t wh_rotor_criticals(struct wh_arena *arena, const struct wh_rotor_model *model, size_t want,
                          struct wh_whirl **ret)
{
    size_t both = 2 * model->n, count = 0;
    lapack_complex_double *step = step_matrix(arena, model), none = 0;
    lapack_complex_double *values = WH_NEW(arena, both, lapack_complex_double);
    lapack_complex_double *vectors = WH_NEW(arena, both * both, lapack_complex_double);
    lapack_complex_double *work = WH_NEW(arena, 33 * both, lapack_complex_double);
    double *scratch = WH_NEW(arena, 2 * both, double);
    struct place *places = WH_NEW(arena, both, struct place);
    if (!step || LAPACKE_zgeev_work(LAPACK_COL_MAJOR, 'N', 'V', (int)both, step, (int)both, values, &none, 1, vectors,
                                    (int)both, work, (int)(33 * both), scratch) != 0)
        return 0;
    /* A thin disc (polar over tilting inertia) gives values below zero: it never comes into step. */
    double most = 0;
    for (size_t c = 0; c < both; c++) most = fmax(most, cabs(values[c]));
    for (size_t c = 0; c < both; c++)
        if (creal(values[c]) > 1e-12 * most && fabs(cimag(values[c])) < creal(values[c]))
            places[count++] = (struct place){1 / sqrt(creal(values[c])), c};
    qsort(places, count, sizeof *places, by_speed);
    count = count < want ? count : want;
    *ret = WH_NEW(arena, count + 1, struct wh_whirl);
    for (size_t i = 0; i < count; i++) {
        (*ret)[i] = new_whirl(arena, model);
        (*ret)[i].speed = places[i].speed;
        finish_shape(model, vectors + places[i].column * both, &(*ret)[i]);
    }
    return count;
}
