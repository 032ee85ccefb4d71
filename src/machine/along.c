#include "machine/along.h"

#include <math.h>

#define FIT 1e-4 /* m: less is a fit, a press or the lip of a seal */

struct span {
    double from, to;
};

/* Of a fraction t from 0 to 1: where a + (b - a) t is at most r. */
static struct span at_most(double a, double b, double r)
{
    bool low = a <= r, high = b <= r;
    double t = (r - a) / (b - a);
    return low && high ? (struct span){0, 1}
           : low       ? (struct span){0, t}
           : high      ? (struct span){t, 1}
                       : (struct span){1, 0};
}

/* The heights that a ring takes up at a radius; from > to: none. */
static struct span heights(const struct wh_ring *ring, double r)
{
    struct span inner = at_most(ring->inner_low, ring->inner_high, r),
                outer = at_most(-ring->outer_low, -ring->outer_high, -r);
    double from = fmax(inner.from, outer.from), to = fmin(inner.to, outer.to), high = ring->high - ring->low;
    return (struct span){ring->low + from * high, ring->low + to * high};
}

static double least_radius(const struct wh_ring *ring)
{
    return fmin(ring->inner_low, ring->inner_high);
}

static double greatest_radius(const struct wh_ring *ring)
{
    return fmax(ring->outer_low, ring->outer_high);
}

/* How far two rings get in each other's way at one radius: up, down, or in place as they stand. */
enum { UP, DOWN, IN_PLACE };

static double reach(const struct wh_ring *a, const struct wh_ring *b, double r, int how)
{
    struct span own = heights(a, r), other = heights(b, r);
    if (own.from > own.to || other.from > other.to) return -INFINITY;
    return how == UP     ? other.to - own.from
           : how == DOWN ? own.to - other.from
                         : fmin(own.to, other.to) - fmax(own.from, other.from);
}

/* It is greatest where one of them has a corner, or at an end of the radii they share. */
static bool rings_meet(const struct wh_ring *a, const struct wh_ring *b, int how)
{
    double from = fmax(least_radius(a), least_radius(b)) + FIT / 2,
           to = fmin(greatest_radius(a), greatest_radius(b)) - FIT / 2;
    const double at[] = {from,          to,           a->inner_low,  a->inner_high, a->outer_low,
                         a->outer_high, b->inner_low, b->inner_high, b->outer_low,  b->outer_high};
    for (size_t i = 0; i < sizeof at / sizeof *at && from < to; i++)
        if (at[i] >= from && at[i] <= to && reach(a, b, at[i], how) > FIT) return true;
    return false;
}

static struct wh_clash clash_of(const struct wh_ring *a, const struct wh_ring *b)
{
    struct wh_clash over = {least_radius(a), greatest_radius(b)}, through = {greatest_radius(a), least_radius(b)};
    return over.other - over.own < through.own - through.other ? over : through;
}

bool wh_along_meets(const struct wh_thing *part, const struct wh_thing *other, enum wh_along along,
                    struct wh_clash *ret)
{
    double most = -INFINITY;
    for (size_t i = 0; i < part->ring_count; i++)
        for (size_t j = 0; j < other->ring_count; j++) {
            const struct wh_ring *a = &part->rings[i], *b = &other->rings[j];
            if (!rings_meet(a, b, along == WH_ALONG_UP ? UP : DOWN)) continue;
            struct wh_clash clash = clash_of(a, b);
            double lacks = fabs(clash.own - clash.other);
            if (lacks > most) *ret = clash;
            most = fmax(most, lacks);
        }
    return most >= 0;
}

bool wh_along_overlap(const struct wh_thing *part, const struct wh_thing *other)
{
    for (size_t i = 0; i < part->ring_count; i++)
        for (size_t j = 0; j < other->ring_count; j++)
            if (rings_meet(&part->rings[i], &other->rings[j], IN_PLACE)) return true;
    return false;
}

/* Adds a thing to a body, and what is on it. */
static void join(struct wh_bodies *bodies, size_t part, size_t thing, const bool *on)
{
    size_t n = bodies->machine->thing_count;
    if (bodies->with[part * n + thing]) return;
    bodies->with[part * n + thing] = true;
    bodies->count[part]++;
    for (size_t t = 0; t < n; t++)
        if (on[thing * n + t]) join(bodies, part, t, on);
}

/* The part that the seat of a thing is on, or WH_NONE. */
static size_t seated_on(const struct wh_machine *machine, size_t thing)
{
    size_t seat = wh_thing_role(machine, thing, "seat");
    return seat == WH_NONE ? WH_NONE : wh_thing_role(machine, seat, "of");
}

/* What is directly on what: on[part * n + thing]. */
static bool *directly_on(struct wh_arena *arena, const struct wh_machine *machine)
{
    size_t n = machine->thing_count;
    bool *on = WH_NEW(arena, n * n + 1, bool);
    for (size_t t = 0; t < n; t++) {
        const struct wh_indices *carries = &machine->things[t].carries;
        size_t shaft = seated_on(machine, t);
        for (size_t i = 0; i < carries->count; i++) on[t * n + carries->at[i]] = true;
        if (shaft != WH_NONE && machine->things[t].section == WH_SECTION_PARTS) on[shaft * n + t] = true;
    }
    return on;
}

struct wh_bodies wh_bodies_of(struct wh_arena *arena, const struct wh_machine *machine)
{
    size_t n = machine->thing_count;
    struct wh_bodies bodies = {machine, WH_NEW(arena, n * n + 1, bool), WH_NEW(arena, n + 1, size_t)};
    const bool *on = directly_on(arena, machine);
    for (size_t t = 0; t < n; t++) join(&bodies, t, t, on);
    return bodies;
}

size_t wh_body_carrier(const struct wh_bodies *bodies, size_t part, const bool among[])
{
    size_t found = WH_NONE;
    for (size_t c = 0; c < bodies->machine->thing_count; c++)
        if (c != part && (!among || among[c]) && wh_body_has(bodies, c, part) &&
            (found == WH_NONE || bodies->count[c] < bodies->count[found]))
            found = c;
    return found;
}
