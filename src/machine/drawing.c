/* Works out from the axial section what has to be off first, for the parts that say "in the way: from drawing". */
#include "base/text.h"
#include "machine/along.h"
#include "machine/reader.h"

struct drawing {
    struct wh_reader *reader;
    struct wh_bodies bodies;
    size_t part, carrier; /* the part that is looked at; what it is taken off on the bench, or WH_NONE */
};

/* May this be in the way of the part at all? What leaves with it is not, nor what stays behind with the frame. */
static bool counts(const struct drawing *d, size_t other)
{
    if (wh_body_has(&d->bodies, d->part, other)) return false;
    return d->carrier == WH_NONE || wh_body_has(&d->bodies, d->carrier, other);
}

/* Meets the body of the part another one, going up or down? The part itself is asked first. */
static bool body_meets(const struct drawing *d, size_t other, enum wh_along along, struct wh_clash *ret)
{
    const struct wh_thing *things = d->reader->machine->things;
    if (wh_along_meets(&things[d->part], &things[other], along, ret)) return true;
    for (size_t t = 0; t < d->reader->machine->thing_count; t++)
        if (wh_body_has(&d->bodies, d->part, t) && wh_along_meets(&things[t], &things[other], along, ret)) return true;
    return false;
}

/* It cannot be taken out of the way: it stays for good, or the part is on it. */
static bool stays(const struct drawing *d, size_t other)
{
    return d->reader->machine->things[other].way_count == 0 || wh_body_has(&d->bodies, other, d->part);
}

/* Does it leave with another that is in the way? */
static bool leaves_with(const struct drawing *d, const size_t at[], size_t n, size_t thing)
{
    for (size_t i = 0; i < n; i++)
        if (at[i] != thing && wh_body_has(&d->bodies, at[i], thing)) return true;
    return false;
}

/* What meets the part on its way, written to at[]; *ret_stays says, in words, what cannot be taken out of it. */
static size_t in_the_way(const struct drawing *d, enum wh_along along, size_t at[], const char **ret_stays)
{
    const struct wh_machine *machine = d->reader->machine;
    struct wh_clash clash;
    size_t count = 0, kept = 0;
    *ret_stays = NULL;
    if (machine->things[d->part].kind->yields) return 0;
    for (size_t t = 0; t < machine->thing_count; t++) {
        if (!counts(d, t) || !body_meets(d, t, along, &clash)) continue;
        if (stays(d, t) && !*ret_stays)
            *ret_stays = wh_arena_print(d->reader->arena, "%s it cannot pass the %s, radius %.4g mm against %.4g mm",
                                        along == WH_ALONG_UP ? "up" : "down", machine->things[t].title,
                                        clash.own * 1000, clash.other * 1000);
        at[count++] = t;
    }
    for (size_t i = 0; i < count; i++)
        if (!leaves_with(d, at, count, at[i])) at[kept++] = at[i];
    return kept;
}

static void add_condition(struct drawing *d, struct wh_conditions *to, const size_t any[], size_t n)
{
    struct wh_indices *at = WH_NEW(d->reader->arena, to->count + 1, struct wh_indices);
    size_t *copy = WH_NEW(d->reader->arena, n, size_t);
    for (size_t i = 0; i < to->count; i++) at[i] = to->at[i];
    for (size_t i = 0; i < n; i++) copy[i] = any[i];
    at[to->count] = (struct wh_indices){copy, n};
    *to = (struct wh_conditions){at, to->count + 1};
}

static void add_each(struct drawing *d, struct wh_conditions *to, const size_t at[], size_t n)
{
    for (size_t i = 0; i < n; i++) add_condition(d, to, &at[i], 1);
}

/* All that is above it is off, or all that is below it: each of the one or each of the other. */
static void add_either(struct drawing *d, struct wh_conditions *to, const size_t up[], size_t ups, const size_t down[],
                       size_t downs)
{
    for (size_t i = 0; i < ups; i++)
        for (size_t j = 0; j < downs; j++) add_condition(d, to, (size_t[]){up[i], down[j]}, up[i] == down[j] ? 1 : 2);
}

static void read_way(struct drawing *d, struct wh_way *way)
{
    const struct wh_thing *part = &d->reader->machine->things[d->part];
    size_t n = d->reader->machine->thing_count;
    size_t *up = WH_NEW(d->reader->arena, n, size_t), *down = WH_NEW(d->reader->arena, n, size_t);
    const char *no_up = "it is told to go down", *no_down = "it is told to go up";
    size_t ups = 0, downs = 0;
    d->carrier = way->bench ? wh_body_carrier(&d->bodies, d->part, NULL) : WH_NONE;
    if (part->ring_count == 0) {
        wh_errors_add(d->reader->errors, WH_ERR_INPUT, part->place, "give it its \"section\"",
                      "\"%s\" is not in the drawing: nothing tells what is in its way", part->id);
        return;
    }
    if (way->drawn != WH_DRAWN_DOWN) ups = in_the_way(d, WH_ALONG_UP, up, &no_up);
    if (way->drawn != WH_DRAWN_UP) downs = in_the_way(d, WH_ALONG_DOWN, down, &no_down);
    if (no_up && no_down) {
        wh_errors_add(d->reader->errors, WH_ERR_INPUT, part->place,
                      "mend one of the outlines, or say what is off first",
                      "by the drawing \"%s\" never comes off: %s; %s", part->id, no_up, no_down);
        return;
    }
    if (d->carrier != WH_NONE) add_condition(d, &way->off_first, &d->carrier, 1);
    if (no_up) {
        add_each(d, &way->off_first, down, downs);
    } else if (no_down) {
        add_each(d, &way->off_first, up, ups);
    } else {
        add_either(d, &way->off_first, up, ups, down, downs);
    }
}

void wh_read_drawing(struct wh_reader *reader)
{
    struct wh_machine *machine = reader->machine;
    bool asked = false;
    for (size_t p = 0; p < machine->thing_count; p++)
        for (size_t w = 0; w < machine->things[p].way_count; w++)
            asked |= wh_is_drawn(machine->things[p].ways[w].drawn);
    if (!asked) return;
    struct drawing d = {.reader = reader, .bodies = wh_bodies_of(reader->arena, machine)};
    for (d.part = 0; d.part < machine->thing_count; d.part++)
        for (size_t w = 0; w < machine->things[d.part].way_count; w++)
            if (wh_is_drawn(machine->things[d.part].ways[w].drawn)) read_way(&d, &machine->things[d.part].ways[w]);
}
