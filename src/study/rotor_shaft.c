/* The shaft of a rotor: its nodes and beam elements. */
#include "study/rotor_shaft.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.14159265358979323846;
static const double close = 1e-4; /* of the whole length: nodes nearer than this are one */

/* ---- nodes ----------------------------------------------------------------------------------------------------- */

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Where a node has to be, sorted, each once. */
static size_t find_marks(const struct wh_rotor *rotor, double *marks)
{
    size_t n = 0, kept = 0;
    for (size_t i = 0; i < rotor->piece_count; i++) {
        marks[n++] = rotor->pieces[i].from;
        marks[n++] = rotor->pieces[i].to;
    }
    for (size_t i = 0; i < rotor->body_count; i++) marks[n++] = rotor->bodies[i].held;
    for (size_t i = 0; i < rotor->support_count; i++) marks[n++] = rotor->supports[i].at;
    for (size_t i = 0; i < rotor->pull_count; i++) marks[n++] = rotor->pulls[i].at;
    qsort(marks, n, sizeof *marks, by_size);
    double room = close * (marks[n - 1] - marks[0]);
    for (size_t i = 0; i < n; i++)
        if (kept == 0 || marks[i] - marks[kept - 1] > room) marks[kept++] = marks[i];
    return kept;
}

static size_t parts_of(double length, double most)
{
    return (size_t)fmax(1, ceil(length / most - 1e-9));
}

size_t wh_rotor_place_nodes(struct wh_arena *arena, const struct wh_rotor *rotor, double **ret)
{
    size_t room = 2 * rotor->piece_count + rotor->body_count + rotor->support_count + rotor->pull_count;
    double *marks = WH_NEW(arena, room + 1, double);
    size_t count = find_marks(rotor, marks), nodes = 1;
    double most = (marks[count - 1] - marks[0]) / (double)(rotor->elements > 0 ? rotor->elements : 1);
    for (size_t i = 0; i + 1 < count; i++) nodes += parts_of(marks[i + 1] - marks[i], most);
    double *z = WH_NEW(arena, nodes, double);
    size_t n = 0;
    for (size_t i = 0; i + 1 < count; i++) {
        size_t parts = parts_of(marks[i + 1] - marks[i], most);
        for (size_t p = 0; p < parts; p++) z[n++] = marks[i] + (marks[i + 1] - marks[i]) * (double)p / (double)parts;
    }
    z[n] = marks[count - 1];
    *ret = z;
    return nodes;
}

/* ---- sections -------------------------------------------------------------------------------------------------- */

double wh_rotor_shear_coefficient(double poisson, double hollow)
{
    double one = (1 + hollow * hollow) * (1 + hollow * hollow);
    return 6 * (1 + poisson) * one / ((7 + 6 * poisson) * one + (20 + 12 * poisson) * hollow * hollow);
}

static double between(double a, double b, double share)
{
    return a + (b - a) * share;
}

bool wh_rotor_section(const struct wh_rotor *rotor, double from, double to, struct wh_rotor_section *ret)
{
    double middle = (from + to) / 2, least = INFINITY, most = 0;
    *ret = (struct wh_rotor_section){.length = to - from};
    for (size_t i = 0; i < rotor->piece_count; i++) {
        const struct wh_rotor_piece *piece = &rotor->pieces[i];
        double share = (middle - piece->from) / (piece->to - piece->from);
        if (share < 0 || share > 1) continue;
        double outer = between(piece->outer_from, piece->outer_to, share);
        double inner = between(piece->inner_from, piece->inner_to, share);
        ret->area += pi * (outer * outer - inner * inner);
        ret->second += pi / 4 * (pow(outer, 4) - pow(inner, 4));
        least = fmin(least, inner);
        most = fmax(most, outer);
    }
    if (!(ret->area > 0)) return false;
    double poisson = rotor->modulus / (2 * rotor->shear_modulus) - 1;
    double sheared = wh_rotor_shear_coefficient(poisson, least / most) * rotor->shear_modulus * ret->area;
    ret->shear = 12 * rotor->modulus * ret->second / (sheared * ret->length * ret->length);
    if (rotor->stiff_in_shear) ret->shear = 0;
    return true;
}

/* ---- one element: way and slope at its lower node, way and slope at its upper node ----------------------------- */

/* Lays the four kinds of entry of a symmetric element matrix out: way-way, way-slope, slope-slope, near and far. */
static void lay(double to[4][4], double scale, const double near[3], const double far[3])
{
    const double rows[4][4] = {{near[0], near[1], far[0], far[1]},
                               {near[1], near[2], -far[1], far[2]},
                               {far[0], -far[1], near[0], -near[1]},
                               {far[1], far[2], -near[1], near[2]}};
    for (int i = 0; i < 4; i++)
        for (int j = 0; j < 4; j++) to[i][j] = scale * rows[i][j];
}

void wh_rotor_element(const struct wh_rotor *rotor, const struct wh_rotor_section *section,
                      struct wh_rotor_element *ret)
{
    double l = section->length, p = section->shear, one = (1 + p) * (1 + p);
    double stiff = rotor->modulus * section->second / ((1 + p) * l * l * l);
    lay(ret->stiff, stiff, (double[]){12, 6 * l, (4 + p) * l * l}, (double[]){-12, 6 * l, (2 - p) * l * l});
    double line = rotor->density * section->area * l / (840 * one);
    lay(ret->mass, line,
        (double[]){312 + 588 * p + 280 * p * p, (44 + 77 * p + 35 * p * p) * l, (8 + 14 * p + 7 * p * p) * l * l},
        (double[]){108 + 252 * p + 140 * p * p, -(26 + 63 * p + 35 * p * p) * l, -(6 + 14 * p + 7 * p * p) * l * l});
    double turning = rotor->density * section->second / (30 * one * l);
    lay(ret->rotary, turning, (double[]){36, (3 - 15 * p) * l, (4 + 5 * p + 10 * p * p) * l * l},
        (double[]){-36, (3 - 15 * p) * l, (-1 - 5 * p + 5 * p * p) * l * l});
}
