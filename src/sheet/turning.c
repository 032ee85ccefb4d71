#include "sheet/turning.h"

#include <math.h>
#include <string.h>

static bool is_support(const struct wh_thing *thing)
{
    return wh_same(thing->kind->name, "support");
}

bool wh_stands_about(const struct wh_machine *machine, size_t thing, size_t shaft)
{
    const char *kind = machine->things[thing].kind->name;
    return (wh_same(kind, "body") || wh_same(kind, "support") || wh_same(kind, "side pull")) &&
           wh_thing_role(machine, thing, "of") == shaft;
}

/* ---- a body by its drawing ------------------------------------------------------------------------------------- */

/* Sums of a ring at density 1 about the origin, along and across the axis. */
struct bulk {
    double mass, first, polar, tilting;
};

/* Three places that give the integral of a polynomial of the fifth degree exactly. */
static void add_ring(struct bulk *bulk, const struct wh_ring *ring)
{
    static const double at[] = {0.112701665379258311, 0.5, 0.887298334620741689},
                        weight[] = {5. / 18, 8. / 18, 5. / 18};
    double length = ring->high - ring->low;
    for (int i = 0; i < 3; i++) {
        double z = ring->low + length * at[i];
        double in = ring->inner_low + (ring->inner_high - ring->inner_low) * at[i];
        double out = ring->outer_low + (ring->outer_high - ring->outer_low) * at[i];
        double slice = WH_PI * (out * out - in * in) * length * weight[i], round = slice * (out * out + in * in);
        bulk->mass += slice;
        bulk->first += slice * z;
        bulk->polar += round / 2;
        bulk->tilting += round / 4 + slice * z * z;
    }
}

/* A part of the same stuff throughout, of the mass that the file states. */
static struct wh_rotor_body drawn_body(const struct wh_thing *part)
{
    struct bulk bulk = {0};
    for (size_t i = 0; i < part->ring_count; i++) add_ring(&bulk, &part->rings[i]);
    if (!(bulk.mass > 0) || isnan(part->mass)) return (struct wh_rotor_body){NAN, NAN, part->mass, NAN, NAN};
    double scale = part->mass / bulk.mass, middle = bulk.first / bulk.mass;
    return (struct wh_rotor_body){middle, middle, part->mass, scale * bulk.polar,
                                  scale * (bulk.tilting - bulk.mass * middle * middle)};
}

static const char *body_lacks(struct wh_arena *arena, const struct wh_machine *machine, size_t thing)
{
    const struct wh_thing *t = &machine->things[thing];
    size_t part = wh_thing_role(machine, thing, "part");
    struct wh_rotor_body drawn = {NAN, NAN, NAN, NAN, NAN};
    if (part != WH_NONE) drawn = drawn_body(&machine->things[part]);
    if (isnan(drawn.mass) && !wh_thing_value(t, "mass"))
        return wh_arena_print(arena, "%s needs a mass, or a part that has one", t->id);
    if (isnan(drawn.middle) && !wh_thing_value(t, "height"))
        return wh_arena_print(arena, "%s needs a height, or a part with a section", t->id);
    return NULL;
}

const char *wh_about_lacks(struct wh_arena *arena, const struct wh_machine *machine, size_t shaft)
{
    const char *why = "it needs supports placed on it";
    for (size_t t = 0; t < machine->thing_count; t++)
        if (wh_stands_about(machine, t, shaft) && is_support(&machine->things[t])) why = NULL;
    if (!why && machine->things[shaft].ring_count == 0) why = "it needs a section";
    for (size_t t = 0; t < machine->thing_count && !why; t++)
        if (wh_stands_about(machine, t, shaft) && wh_same(machine->things[t].kind->name, "body"))
            why = body_lacks(arena, machine, t);
    return why;
}

/* ---- gathering ------------------------------------------------------------------------------------------------- */

/* A value of a thing about it, from the inputs of the use. */
static double taken(const struct wh_sheet *sheet, const struct wh_use *use, size_t thing, const char *name,
                    double otherwise)
{
    for (size_t i = 0; i < use->inputs; i++)
        if (use->about[i] == thing && wh_same(use->slot[i]->name, name)) return sheet->value[use->in[i]];
    return otherwise;
}

static void gather_pieces(struct wh_arena *arena, const struct wh_thing *shaft, struct wh_rotor *rotor)
{
    struct wh_rotor_piece *pieces = WH_NEW(arena, shaft->ring_count + 1, struct wh_rotor_piece);
    for (size_t i = 0; i < shaft->ring_count; i++) {
        const struct wh_ring *ring = &shaft->rings[i];
        pieces[i] = (struct wh_rotor_piece){ring->low,        ring->high,      ring->outer_low,
                                            ring->outer_high, ring->inner_low, ring->inner_high};
    }
    rotor->pieces = pieces;
    rotor->piece_count = shaft->ring_count;
}

static struct wh_rotor_body body_of(const struct wh_sheet *sheet, const struct wh_use *use, size_t thing, double low,
                                    double high)
{
    size_t part = wh_thing_role(sheet->machine, thing, "part");
    struct wh_rotor_body body = {NAN, NAN, NAN, 0, 0};
    if (part != WH_NONE) body = drawn_body(&sheet->machine->things[part]);
    body.middle = taken(sheet, use, thing, "height", body.middle);
    body.held = taken(sheet, use, thing, "held-at", fmin(fmax(body.middle, low), high));
    body.mass = taken(sheet, use, thing, "mass", body.mass);
    body.polar = taken(sheet, use, thing, "polar-inertia", isnan(body.polar) ? 0 : body.polar);
    body.tilting = taken(sheet, use, thing, "tilting-inertia", isnan(body.tilting) ? 0 : body.tilting);
    return body;
}

static struct wh_rotor_support support_of(const struct wh_sheet *sheet, const struct wh_use *use, size_t thing)
{
    double stiff = taken(sheet, use, thing, "stiffness", NAN), damping = taken(sheet, use, thing, "damping", 0);
    return (struct wh_rotor_support){
        taken(sheet, use, thing, "height", NAN),
        {{stiff, taken(sheet, use, thing, "cross-stiffness", 0)},
         {taken(sheet, use, thing, "cross-stiffness-back", 0), taken(sheet, use, thing, "stiffness-across", stiff)}},
        {{damping, 0}, {0, damping}}};
}

static void gather_about(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_use *use,
                         struct wh_rotor *rotor)
{
    const struct wh_machine *machine = sheet->machine;
    struct wh_rotor_body *bodies = WH_NEW(arena, machine->thing_count, struct wh_rotor_body);
    struct wh_rotor_support *supports = WH_NEW(arena, machine->thing_count, struct wh_rotor_support);
    struct wh_rotor_pull *pulls = WH_NEW(arena, machine->thing_count, struct wh_rotor_pull);
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < rotor->piece_count; i++) {
        low = fmin(low, rotor->pieces[i].from);
        high = fmax(high, rotor->pieces[i].to);
    }
    for (size_t t = 0; t < machine->thing_count; t++) {
        const char *kind = machine->things[t].kind->name;
        if (!wh_stands_about(machine, t, use->thing)) continue;
        if (wh_same(kind, "body")) bodies[rotor->body_count++] = body_of(sheet, use, t, low, high);
        if (is_support(&machine->things[t])) supports[rotor->support_count++] = support_of(sheet, use, t);
        if (wh_same(kind, "side pull"))
            pulls[rotor->pull_count++] =
                (struct wh_rotor_pull){taken(sheet, use, t, "height", NAN), taken(sheet, use, t, "force", NAN), 0};
    }
    rotor->bodies = bodies;
    rotor->supports = supports;
    rotor->pulls = pulls;
}

static double own(const struct wh_sheet *sheet, const struct wh_use *use, const char *name)
{
    for (size_t i = 0; i < use->inputs; i++)
        if (use->about[i] == WH_NONE && wh_same(use->slot[i]->name, name)) return sheet->value[use->in[i]];
    return NAN;
}

struct wh_rotor *wh_sheet_rotor(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_use *use)
{
    struct wh_rotor *rotor = WH_NEW(arena, 1, struct wh_rotor);
    rotor->modulus = own(sheet, use, "elastic-modulus");
    rotor->shear_modulus = rotor->modulus / (2 * (1 + own(sheet, use, "poisson-ratio")));
    rotor->density = own(sheet, use, "density");
    rotor->elements = WH_STUDY_ELEMENTS;
    gather_pieces(arena, &sheet->machine->things[use->thing], rotor);
    gather_about(arena, sheet, use, rotor);
    return rotor;
}

const struct wh_use *wh_sheet_whirling(const struct wh_sheet *sheet, size_t thing)
{
    for (size_t u = 0; u < sheet->use_count; u++)
        if (sheet->uses[u].study && sheet->uses[u].thing == thing) return &sheet->uses[u];
    return NULL;
}

/* ---- working --------------------------------------------------------------------------------------------------- */

struct run {
    struct wh_sheet *sheet;
    struct wh_use *use;
    double in[WH_RULE_COLUMNS], out[WH_RULE_OUT];
};

static enum wh_status work(struct wh_arena *arena, void *context)
{
    struct run *run = context;
    const struct wh_rotor *rotor = wh_sheet_rotor(arena, run->sheet, run->use);
    const char *why = run->use->study->work(arena, rotor, run->in, run->out);
    run->use->reason = why ? wh_arena_text(run->sheet->arena, why) : NULL;
    return WH_OK;
}

void wh_sheet_work_study(struct wh_sheet *sheet, struct wh_use *use)
{
    struct run run = {.sheet = sheet, .use = use};
    double *seen = use->seen, *found = seen + use->inputs;
    bool changed = !use->worked;
    for (size_t i = 0; i < use->inputs; i++) {
        run.in[i] = sheet->value[use->in[i]];
        changed |= memcmp(&run.in[i], &seen[i], sizeof seen[i]) != 0;
        seen[i] = run.in[i];
    }
    for (size_t o = 0; o < use->results; o++) run.out[o] = NAN;
    if (changed && wh_arena_run((size_t)64 << 20, work, &run) != WH_OK) wh_arena_give_up(sheet->arena);
    use->worked = true;
    for (size_t o = 0; o < use->results; o++) {
        if (changed) found[o] = run.out[o];
        sheet->value[use->out[o]] = found[o];
    }
}
