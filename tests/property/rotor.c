/* Works rotors for rotor.py. Of each it reads "E G rho stiff elements speed unbalance-at unbalance" and four lists,
 * each led by its count: pieces (from to, outer and inner radii at both ends), bodies (held middle mass polar tilting),
 * supports (at, stiffness and damping row by row), pulls (at x y). It answers with lines of numbers: whirl speeds,
 * damping and turning of six ways of whirling; those of the reduced rotor; critical speeds and turning; the nodes'
 * deflection; their response as real and imaginary parts. */
#include "study/rotor.h"

#include <stdio.h>

enum { MOST = 64, WAYS = 6, MODES = 10 };

static bool read(size_t count, double *to)
{
    for (size_t i = 0; i < count; i++)
        if (scanf("%lf", &to[i]) != 1) return false;
    return true;
}

static size_t read_list(struct wh_arena *arena, size_t width, double **to)
{
    size_t count;
    if (scanf("%zu", &count) != 1 || count > MOST) return 0;
    *to = WH_NEW(arena, count * width + 1, double);
    return read(count * width, *to) ? count : 0;
}

static struct wh_rotor read_rotor(struct wh_arena *arena, const double head[8])
{
    double *pieces, *bodies, *supports, *pulls;
    struct wh_rotor r = {.modulus = head[0],
                         .shear_modulus = head[1],
                         .density = head[2],
                         .stiff_in_shear = head[3] > 0,
                         .elements = (size_t)head[4]};
    r.piece_count = read_list(arena, sizeof *r.pieces / sizeof(double), &pieces);
    r.body_count = read_list(arena, sizeof *r.bodies / sizeof(double), &bodies);
    r.support_count = read_list(arena, sizeof *r.supports / sizeof(double), &supports);
    r.pull_count = read_list(arena, sizeof *r.pulls / sizeof(double), &pulls);
    r.pieces = (const struct wh_rotor_piece *)pieces;
    r.bodies = (const struct wh_rotor_body *)bodies;
    r.supports = (const struct wh_rotor_support *)supports;
    r.pulls = (const struct wh_rotor_pull *)pulls;
    return r;
}

static void print_whirls(const struct wh_whirl *whirls, size_t count)
{
    for (size_t i = 0; i < count; i++)
        printf("%.17g %.17g %.17g ", whirls[i].speed, whirls[i].damping, whirls[i].turning);
    printf("\n");
}

static enum wh_status run(struct wh_arena *arena, void *context)
{
    const double *head = context;
    const struct wh_rotor rotor = read_rotor(arena, head);
    const struct wh_rotor_unbalance off = {head[6], head[7], 0.3};
    struct wh_rotor_model *model;
    struct wh_whirl *whirls;
    const char *why;
    const double *z;
    enum wh_status status = wh_rotor_make(arena, &rotor, &model, &why);
    if (status != WH_OK) return status;
    size_t nodes = wh_rotor_nodes(model, &z);
    size_t count = wh_rotor_whirls(arena, model, head[5], WAYS, &whirls);
    print_whirls(whirls, count);
    struct wh_rotor_model *few = wh_rotor_reduce(arena, model, MODES);
    count = wh_rotor_whirls(arena, few, head[5], WAYS, &whirls);
    print_whirls(whirls, count);
    count = wh_rotor_criticals(arena, model, WAYS, &whirls);
    print_whirls(whirls, count);
    double *still = WH_NEW(arena, 2 * nodes, double);
    wh_rotor_deflection(arena, model, still, still + nodes);
    for (size_t i = 0; i < 2 * nodes; i++) printf("%.17g ", still[i]);
    double complex *moving = WH_NEW(arena, 2 * nodes, double complex);
    if (!wh_rotor_response(arena, model, head[5], &off, 1, moving, moving + nodes)) return WH_ERR_NO_ANSWER;
    printf("\n");
    for (size_t i = 0; i < 2 * nodes; i++) printf("%.17g %.17g ", creal(moving[i]), cimag(moving[i]));
    printf("\n");
    return WH_OK;
}

int main(void)
{
    double head[8];
    while (read(8, head))
        if (wh_arena_run((size_t)64 << 20, run, head) != WH_OK) return 1;
    return 0;
}
