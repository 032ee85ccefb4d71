/* Puts a rotor's matrices together, and takes most of the unknowns out of them again. */
#include "study/rotor_inside.h"
#include "study/rotor_shaft.h"

#include <lapacke.h>
#include <math.h>
#include <string.h>

/* ---- what is wrong with a rotor -------------------------------------------------------------------------------- */

static bool is_size(double value)
{
    return isfinite(value) && value > 0;
}

static bool is_none_or_size(double value)
{
    return isfinite(value) && value >= 0;
}

static const char *wrong_piece(struct wh_arena *arena, const struct wh_rotor_piece *piece)
{
    bool hollow = is_none_or_size(piece->inner_from) && is_none_or_size(piece->inner_to);
    if (piece->to > piece->from && hollow && piece->outer_from > piece->inner_from &&
        piece->outer_to > piece->inner_to && isfinite(piece->outer_from + piece->outer_to))
        return NULL;
    return wh_arena_print(arena, "the piece of the shaft from %g to %g m has no size", piece->from, piece->to);
}

static const char *wrong_body(struct wh_arena *arena, const struct wh_rotor_body *body)
{
    if (is_none_or_size(body->mass) && is_none_or_size(body->polar) && is_none_or_size(body->tilting) &&
        isfinite(body->held) && isfinite(body->middle))
        return NULL;
    return wh_arena_print(arena, "the body held at %g m has a mass or inertia that is none", body->held);
}

static const char *wrong_place(struct wh_arena *arena, const struct wh_rotor *rotor, double low, double high)
{
    for (size_t i = 0; i < rotor->body_count; i++)
        if (!(rotor->bodies[i].held >= low - 1e-6 && rotor->bodies[i].held <= high + 1e-6))
            return wh_arena_print(arena, "a body is held at %g m, beside the shaft", rotor->bodies[i].held);
    for (size_t i = 0; i < rotor->support_count; i++)
        if (!(rotor->supports[i].at >= low - 1e-6 && rotor->supports[i].at <= high + 1e-6))
            return wh_arena_print(arena, "a support stands at %g m, beside the shaft", rotor->supports[i].at);
    for (size_t i = 0; i < rotor->pull_count; i++)
        if (!(rotor->pulls[i].at >= low - 1e-6 && rotor->pulls[i].at <= high + 1e-6))
            return wh_arena_print(arena, "something pulls at %g m, beside the shaft", rotor->pulls[i].at);
    return NULL;
}

static const char *wrong_with(struct wh_arena *arena, const struct wh_rotor *rotor)
{
    const char *why = NULL;
    double low = INFINITY, high = -INFINITY;
    if (rotor->piece_count == 0) return "the shaft has no piece";
    if (!is_size(rotor->modulus) || !is_size(rotor->shear_modulus) || !is_size(rotor->density))
        return "the shaft's material has no modulus or density";
    for (size_t i = 0; i < rotor->piece_count && !why; i++) {
        why = wrong_piece(arena, &rotor->pieces[i]);
        low = fmin(low, rotor->pieces[i].from);
        high = fmax(high, rotor->pieces[i].to);
    }
    for (size_t i = 0; i < rotor->body_count && !why; i++) why = wrong_body(arena, &rotor->bodies[i]);
    return why ? why : wrong_place(arena, rotor, low, high);
}

/* ---- putting together ------------------------------------------------------------------------------------------ */

static void add_block(struct wh_rotor_model *model, double *to, size_t first, double block[4][4], double scale)
{
    for (size_t i = 0; i < 4; i++)
        for (size_t j = 0; j < 4; j++) to[(first + j) * model->n + first + i] += scale * block[i][j];
}

static const char *add_shaft(struct wh_arena *arena, struct wh_rotor_model *model)
{
    for (size_t e = 0; e + 1 < model->nodes; e++) {
        struct wh_rotor_section section;
        struct wh_rotor_element element;
        if (!wh_rotor_section(model->rotor, model->z[e], model->z[e + 1], &section))
            return wh_arena_print(arena, "the shaft has a gap at %g m", (model->z[e] + model->z[e + 1]) / 2);
        wh_rotor_element(model->rotor, &section, &element);
        add_block(model, model->stiff, 2 * e, element.stiff, 1);
        add_block(model, model->mass, 2 * e, element.mass, 1);
        add_block(model, model->mass, 2 * e, element.rotary, 1);
        add_block(model, model->gyro, 2 * e, element.rotary, 2);
    }
    return NULL;
}

static void add_body(struct wh_rotor_model *model, const struct wh_rotor_body *body)
{
    size_t way = 2 * wh_rotor_node(model, body->held), slope = way + 1, n = model->n;
    double arm = body->middle - body->held;
    model->mass[way * n + way] += body->mass;
    model->mass[way * n + slope] += body->mass * arm;
    model->mass[slope * n + way] += body->mass * arm;
    model->mass[slope * n + slope] += body->tilting + body->mass * arm * arm;
    model->gyro[slope * n + slope] += body->polar;
}

static void add_tie(struct wh_arena *arena, struct wh_rotor_model *model, size_t i)
{
    const struct wh_rotor_support *support = &model->rotor->supports[i];
    struct wh_rotor_tie *tie = &model->ties[i];
    *tie = (struct wh_rotor_tie){WH_NEW(arena, model->n, double), support->stiffness, support->damping};
    tie->row[2 * wh_rotor_node(model, support->at)] = 1;
}

/* A movement that nothing holds leaves a pivot that is only rounding. */
static bool is_held(struct wh_arena *arena, const struct wh_rotor_model *model)
{
    size_t n = 2 * model->n;
    double *stiff = wh_rotor_stiffness(arena, model), most = 0, least = INFINITY;
    int *turned = WH_NEW(arena, n, int);
    for (size_t i = 0; i < n * n; i++) most = fmax(most, fabs(stiff[i]));
    int info = isfinite(most) ? LAPACKE_dgetrf_work(LAPACK_COL_MAJOR, (int)n, (int)n, stiff, (int)n, turned) : 1;
    for (size_t i = 0; i < n; i++) least = fmin(least, fabs(stiff[i * n + i]));
    return info == 0 && least > 1e-14 * most;
}

enum wh_status wh_rotor_make(struct wh_arena *arena, const struct wh_rotor *rotor, struct wh_rotor_model **ret,
                             const char **ret_why)
{
    struct wh_rotor_model *model = WH_NEW(arena, 1, struct wh_rotor_model);
    *ret_why = wrong_with(arena, rotor);
    if (*ret_why) return WH_ERR_INPUT;
    model->rotor = rotor;
    model->nodes = wh_rotor_place_nodes(arena, rotor, &model->z);
    if (model->nodes > WH_ROTOR_NODES) {
        *ret_why = "it has more steps, bodies and supports than can be worked";
        return WH_ERR_LIMIT;
    }
    model->n = 2 * model->nodes;
    model->mass = WH_NEW(arena, model->n * model->n, double);
    model->gyro = WH_NEW(arena, model->n * model->n, double);
    model->stiff = WH_NEW(arena, model->n * model->n, double);
    model->ties = WH_NEW(arena, rotor->support_count + 1, struct wh_rotor_tie);
    *ret_why = add_shaft(arena, model);
    if (*ret_why) return WH_ERR_INPUT;
    for (size_t i = 0; i < rotor->body_count; i++) add_body(model, &rotor->bodies[i]);
    for (size_t i = 0; i < rotor->support_count; i++) add_tie(arena, model, i);
    if (!is_held(arena, model)) {
        *ret_why = "its bearings and mounts do not hold it: it takes two places, each with a stiffness both ways";
        return WH_ERR_NO_ANSWER;
    }
    *ret = model;
    return WH_OK;
}

size_t wh_rotor_nodes(const struct wh_rotor_model *model, const double **ret_z)
{
    *ret_z = model->z;
    return model->nodes;
}

size_t wh_rotor_unknowns(const struct wh_rotor_model *model)
{
    return 2 * model->n;
}

size_t wh_rotor_node(const struct wh_rotor_model *model, double z)
{
    size_t best = 0;
    for (size_t i = 1; i < model->nodes; i++)
        if (fabs(model->z[i] - z) < fabs(model->z[best] - z)) best = i;
    return best;
}

/* ---- both planes ----------------------------------------------------------------------------------------------- */

static void add_ties(const struct wh_rotor_model *model, bool damping, double *to)
{
    size_t n = model->n;
    for (size_t t = 0; t < model->rotor->support_count; t++) {
        const struct wh_rotor_tie *tie = &model->ties[t];
        for (size_t a = 0; a < 2; a++)
            for (size_t b = 0; b < 2; b++) {
                double value = damping ? tie->damping[a][b] : tie->stiffness[a][b];
                for (size_t j = 0; j < n; j++)
                    for (size_t i = 0; i < n; i++)
                        to[(b * n + j) * 2 * n + a * n + i] += value * tie->row[i] * tie->row[j];
            }
    }
}

double *wh_rotor_stiffness(struct wh_arena *arena, const struct wh_rotor_model *model)
{
    size_t n = model->n;
    double *both = WH_NEW(arena, 4 * n * n, double);
    for (size_t j = 0; j < n; j++)
        for (size_t i = 0; i < n; i++) both[j * 2 * n + i] = both[(n + j) * 2 * n + n + i] = model->stiff[j * n + i];
    add_ties(model, false, both);
    return both;
}

double *wh_rotor_damping(struct wh_arena *arena, const struct wh_rotor_model *model, double speed)
{
    size_t n = model->n;
    double *both = WH_NEW(arena, 4 * n * n, double);
    for (size_t j = 0; j < n; j++)
        for (size_t i = 0; i < n; i++) {
            both[(n + j) * 2 * n + i] = speed * model->gyro[j * n + i];
            both[j * 2 * n + n + i] = -speed * model->gyro[j * n + i];
        }
    add_ties(model, true, both);
    return both;
}

/* ---- reduction ------------------------------------------------------------------------------------------------- */

/* One plane with the supports at the mean of both. */
static double *mean_stiffness(struct wh_arena *arena, const struct wh_rotor_model *model)
{
    size_t n = model->n;
    double *stiff = WH_NEW(arena, n * n, double);
    memcpy(stiff, model->stiff, n * n * sizeof *stiff);
    for (size_t t = 0; t < model->rotor->support_count; t++) {
        const struct wh_rotor_tie *tie = &model->ties[t];
        double mean = (tie->stiffness[0][0] + tie->stiffness[1][1]) / 2;
        for (size_t j = 0; j < n; j++)
            for (size_t i = 0; i < n; i++) stiff[j * n + i] += mean * tie->row[i] * tie->row[j];
    }
    return stiff;
}

static double *copy(struct wh_arena *arena, const double *from, size_t n)
{
    double *to = WH_NEW(arena, n + 1, double);
    memcpy(to, from, n * sizeof *to);
    return to;
}

/* a x = b in place of b, a symmetric and positive; both are overwritten. */
static bool solve(size_t n, double *a, size_t right, double *b)
{
    return LAPACKE_dposv_work(LAPACK_COL_MAJOR, 'L', (int)n, (int)right, a, (int)n, b, (int)n) == 0;
}

/* The first modes at rest, as columns of n. */
static size_t first_modes(struct wh_arena *arena, const struct wh_rotor_model *model, size_t modes, double *to)
{
    int n = (int)model->n, found = 0, room = 64 * n;
    double *stiff = mean_stiffness(arena, model), *mass = copy(arena, model->mass, model->n * model->n);
    double *values = WH_NEW(arena, model->n, double), *work = WH_NEW(arena, (size_t)room, double);
    int *whole = WH_NEW(arena, 5 * model->n, int), *failed = WH_NEW(arena, model->n, int);
    int info = LAPACKE_dsygvx_work(LAPACK_COL_MAJOR, 1, 'V', 'I', 'L', n, stiff, n, mass, n, 0, 0, 1, (int)modes, 0,
                                   &found, values, to, n, work, room, whole, failed);
    return info == 0 ? (size_t)found : 0;
}

/* How the shaft gives way to a moment at each body, which gyroscopic effect puts on it, and to a force at each support:
 * what the first modes lack most. */
static size_t ways_to_give(struct wh_arena *arena, const struct wh_rotor_model *model, double *to)
{
    size_t n = model->n, count = 0;
    for (size_t i = 0; i < model->rotor->body_count; i++)
        to[count++ * n + 2 * wh_rotor_node(model, model->rotor->bodies[i].held) + 1] = 1;
    for (size_t i = 0; i < model->rotor->support_count; i++)
        memcpy(to + count++ * n, model->ties[i].row, n * sizeof *to);
    return solve(n, mean_stiffness(arena, model), count, to) ? count : 0;
}

static double product(size_t n, const double *a, const double *b)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) sum += a[i] * b[i];
    return sum;
}

static void times(size_t n, const double *matrix, const double *x, double *to)
{
    memset(to, 0, n * sizeof *to);
    for (size_t j = 0; j < n; j++)
        for (size_t i = 0; i < n; i++) to[i] += matrix[j * n + i] * x[j];
}

/* Makes the columns right-angled to each other by mass, each of unit size, and leaves out what adds nothing new. */
static size_t straighten(struct wh_arena *arena, const struct wh_rotor_model *model, double *columns, size_t count)
{
    size_t n = model->n, kept = 0;
    double *heavy = WH_NEW(arena, n, double);
    for (size_t c = 0; c < count; c++) {
        double *x = columns + kept * n, before, left;
        memmove(x, columns + c * n, n * sizeof *x);
        times(n, model->mass, x, heavy);
        before = product(n, x, heavy);
        for (int twice = 0; twice < 2; twice++) {
            for (size_t k = 0; k < kept; k++) {
                double share = product(n, columns + k * n, heavy);
                for (size_t i = 0; i < n; i++) x[i] -= share * columns[k * n + i];
            }
            times(n, model->mass, x, heavy);
        }
        left = product(n, x, heavy);
        if (!(left > 1e-12 * before)) continue;
        for (size_t i = 0; i < n; i++) x[i] /= sqrt(left);
        kept++;
    }
    return kept;
}

/* columns' matrix columns, of count by count. */
static double *squeeze(struct wh_arena *arena, size_t n, const double *matrix, const double *columns, size_t count)
{
    double *to = WH_NEW(arena, count * count, double), *x = WH_NEW(arena, n, double);
    for (size_t j = 0; j < count; j++) {
        times(n, matrix, columns + j * n, x);
        for (size_t i = 0; i < count; i++) to[j * count + i] = product(n, columns + i * n, x);
    }
    return to;
}

struct wh_rotor_model *wh_rotor_reduce(struct wh_arena *arena, const struct wh_rotor_model *model, size_t modes)
{
    size_t n = model->n, supports = model->rotor->support_count, most = n < modes ? n : modes;
    double *columns = WH_NEW(arena, (most + model->rotor->body_count + supports) * n, double);
    size_t count = first_modes(arena, model, most, columns);
    count += ways_to_give(arena, model, columns + count * n);
    count = straighten(arena, model, columns, count);
    struct wh_rotor_model *less = WH_NEW(arena, 1, struct wh_rotor_model);
    *less = *model;
    less->n = count;
    less->mass = squeeze(arena, n, model->mass, columns, count);
    less->gyro = squeeze(arena, n, model->gyro, columns, count);
    less->stiff = squeeze(arena, n, model->stiff, columns, count);
    less->ties = WH_NEW(arena, supports + 1, struct wh_rotor_tie);
    less->shapes = columns;
    for (size_t t = 0; t < supports; t++) {
        less->ties[t] = model->ties[t];
        less->ties[t].row = WH_NEW(arena, count, double);
        for (size_t c = 0; c < count; c++) less->ties[t].row[c] = product(n, model->ties[t].row, columns + c * n);
    }
    return less;
}

/* ---- between nodes and unknowns -------------------------------------------------------------------------------- */

void wh_rotor_push(const struct wh_rotor_model *model, size_t node, double arm, double force, double to[])
{
    if (!model->shapes) {
        to[2 * node] += force;
        to[2 * node + 1] += force * arm;
        return;
    }
    for (size_t c = 0; c < model->n; c++) {
        const double *shape = model->shapes + c * 2 * model->nodes + 2 * node;
        to[c] += force * (shape[0] + arm * shape[1]);
    }
}

void wh_rotor_ways(const struct wh_rotor_model *model, const double complex unknowns[], double complex ret[])
{
    for (size_t i = 0; i < model->nodes; i++) {
        ret[i] = model->shapes ? 0 : unknowns[2 * i];
        for (size_t c = 0; model->shapes && c < model->n; c++)
            ret[i] += model->shapes[c * 2 * model->nodes + 2 * i] * unknowns[c];
    }
}
