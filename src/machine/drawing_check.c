/* Compares what is declared to be off first with the axial section. */
#include "base/text.h"
#include "machine/along.h"

#include <string.h>

enum { MOST_CASES = 200 }; /* ways looked at in which what is declared can be met */

struct todo {
    const struct wh_indices *any;
    const struct todo *next;
};

struct compare {
    struct wh_arena *arena;
    const struct wh_machine *machine;
    struct wh_errors *errors;
    struct wh_bodies bodies;
    size_t part;
    const struct wh_way *way;
    bool told; /* something is in the way of this part */
    size_t cases;
    bool *always; /* by thing: off in every case; of the part looked at last */
};

static const struct todo *push_all(struct compare *c, const struct wh_conditions *conditions, const struct todo *next)
{
    for (size_t i = 0; i < conditions->count; i++) {
        struct todo *todo = WH_NEW(c->arena, 1, struct todo);
        *todo = (struct todo){&conditions->at[i], next};
        next = todo;
    }
    return next;
}

static const struct todo *push_way(struct compare *c, const struct wh_way *way, const struct todo *next)
{
    next = push_all(c, &way->off_first, next);
    return way->way_up == WH_NONE ? next : push_all(c, &c->machine->ways_up[way->way_up].off, next);
}

/* A sump stands for the part that drains it. */
static size_t meant(const struct wh_machine *machine, size_t thing)
{
    size_t drain = wh_thing_role(machine, thing, "drained-by");
    return drain == WH_NONE ? thing : drain;
}

typedef void (*case_found)(struct compare *c, const bool off[]);

/* Every way in which a list of conditions can be met: which parts are then off. */
static void each_case(struct compare *c, const bool before[], const struct todo *todo, case_found found)
{
    size_t n = c->machine->thing_count;
    for (; todo; todo = todo->next) {
        bool met = todo->any->count == 0;
        for (size_t i = 0; i < todo->any->count; i++) met |= before[meant(c->machine, todo->any->at[i])];
        if (!met) break;
    }
    if (!todo) {
        c->cases++;
        found(c, before);
    }
    for (size_t i = 0; todo && i < todo->any->count; i++) {
        size_t thing = meant(c->machine, todo->any->at[i]);
        const struct wh_thing *t = &c->machine->things[thing];
        for (size_t w = 0; w < (t->way_count ? t->way_count : 1) && c->cases < MOST_CASES; w++) {
            bool *off = WH_NEW(c->arena, n + 1, bool);
            memcpy(off, before, n * sizeof *off);
            off[thing] = true;
            each_case(c, off, t->way_count ? push_way(c, &t->ways[w], todo->next) : todo->next, found);
        }
    }
}

/* Can this still be in the way of the part in this case? Not what is off, what leaves with the part, nor what is now
 * elsewhere: the part and the other are both at the frame, or both on the same part that is off. */
static bool counts(const struct compare *c, const bool off[], size_t carrier, size_t other)
{
    if (other == c->part || (off[other] && other != carrier)) return false;
    if (wh_body_has(&c->bodies, c->part, other)) return false;
    return other == carrier || wh_body_carrier(&c->bodies, other, off) == carrier;
}

/* What stands in the way, and of what: of the part itself, or of something that leaves with it. */
struct found {
    size_t thing, of;
    struct wh_clash clash;
};

static bool body_meets(const struct compare *c, const bool off[], size_t other, enum wh_along along, struct found *ret)
{
    const struct wh_thing *things = c->machine->things;
    *ret = (struct found){.thing = other, .of = c->part};
    if (wh_along_meets(&things[c->part], &things[other], along, &ret->clash)) return true;
    for (size_t t = 0; t < c->machine->thing_count; t++) {
        ret->of = t;
        if (!off[t] && wh_body_has(&c->bodies, c->part, t) &&
            wh_along_meets(&things[t], &things[other], along, &ret->clash))
            return true;
    }
    return false;
}

static size_t in_the_way(const struct compare *c, const bool off[], size_t carrier, enum wh_along along,
                         struct found at[])
{
    size_t count = 0;
    for (size_t t = 0; t < c->machine->thing_count; t++)
        count += counts(c, off, carrier, t) && body_meets(c, off, t, along, &at[count]);
    return count;
}

static bool stays(const struct compare *c, size_t other)
{
    return c->machine->things[other].way_count == 0 || wh_body_has(&c->bodies, other, c->part);
}

static size_t staying(const struct compare *c, const struct found at[], size_t n)
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++) count += stays(c, at[i].thing);
    return count;
}

static void keep_always(struct compare *c, const bool off[])
{
    for (size_t t = 0; t < c->machine->thing_count; t++) c->always[t] = c->always[t] && off[t];
}

/* Is this part off, by what is declared, whenever the other comes off, whichever way? */
static bool waits_for(const struct compare *asked, size_t thing, size_t other)
{
    struct compare c = *asked;
    const struct wh_thing *t = &c.machine->things[thing];
    c.always = WH_NEW(c.arena, c.machine->thing_count + 1, bool);
    memset(c.always, 1, c.machine->thing_count * sizeof *c.always);
    bool *none = WH_NEW(c.arena, c.machine->thing_count + 1, bool);
    c.cases = 0;
    for (size_t w = 0; w < t->way_count; w++) each_case(&c, none, push_way(&c, &t->ways[w], NULL), keep_always);
    return t->way_count > 0 && c.always[other];
}

static const char *remedy(struct compare *c, size_t other)
{
    const char *id = c->machine->things[other].id;
    if (waits_for(c, other, c->part))
        return wh_arena_print(c->arena, "yet \"%s\" comes off only after it: one of the two is the wrong way round",
                              id);
    if (stays(c, other)) return "it stays where it is: one of the two outlines is wrong";
    return wh_arena_print(c->arena, "write \"%s\" into its \"off first\"", id);
}

static void tell(struct compare *c, const struct found *found)
{
    const struct wh_thing *things = c->machine->things, *part = &things[c->part];
    const char *with = found->of == c->part ? "" : wh_arena_print(c->arena, " with the %s", things[found->of].title);
    wh_errors_add(c->errors, WH_ERR_INPUT, part->place, remedy(c, found->thing),
                  "the %s%s cannot pass the %s: radius %.4g mm against %.4g mm", part->title, with,
                  things[found->thing].title, found->clash.own * 1000, found->clash.other * 1000);
    c->told = true;
}

/* Of what is in the way only that is told which does not come off with another that is told. */
static bool is_implied(const struct compare *c, const struct found at[], size_t n, size_t i)
{
    for (size_t j = 0; j < n; j++)
        if (j != i && waits_for(c, at[j].thing, at[i].thing)) return true;
    return false;
}

static void compare_case(struct compare *c, const bool off[])
{
    size_t n = c->machine->thing_count, carrier = wh_body_carrier(&c->bodies, c->part, off);
    if (c->told || c->way->drawn == WH_DRAWN_ACROSS) return;
    struct found *up = WH_NEW(c->arena, n + 1, struct found), *down = WH_NEW(c->arena, n + 1, struct found);
    size_t ups = in_the_way(c, off, carrier, WH_ALONG_UP, up), downs = in_the_way(c, off, carrier, WH_ALONG_DOWN, down);
    if (ups == 0 || downs == 0) return;
    size_t up_stay = staying(c, up, ups), down_stay = staying(c, down, downs);
    bool goes_up = up_stay != down_stay ? up_stay < down_stay : ups <= downs;
    const struct found *at = goes_up ? up : down;
    size_t count = goes_up ? ups : downs;
    for (size_t i = 0; i < count; i++)
        if (!is_implied(c, at, count, i)) tell(c, &at[i]);
}

/* Two parts cannot be in one place, unless one of them springs into a groove that is not drawn. */
static void compare_places(struct compare *c)
{
    const struct wh_thing *things = c->machine->things;
    for (size_t i = 0; i < c->machine->thing_count; i++)
        for (size_t j = 0; j < i; j++)
            if (!things[i].kind->yields && !things[j].kind->yields && wh_along_overlap(&things[i], &things[j]))
                wh_errors_add(c->errors, WH_ERR_INPUT, things[i].place, "mend the section of one of them",
                              "the %s and the %s are drawn in the same place", things[i].title, things[j].title);
}

enum wh_status wh_machine_check_drawing(struct wh_arena *arena, const struct wh_machine *machine, size_t *ret_compared,
                                        struct wh_errors *reterr)
{
    size_t before = reterr->count;
    bool *none = WH_NEW(arena, machine->thing_count + 1, bool);
    struct compare c = {.arena = arena, .machine = machine, .errors = reterr, .bodies = wh_bodies_of(arena, machine)};
    *ret_compared = 0;
    for (c.part = 0; c.part < machine->thing_count; c.part++) {
        const struct wh_thing *part = &machine->things[c.part];
        if (part->ring_count == 0 || part->way_count == 0 || part->kind->yields) continue;
        ++*ret_compared;
        c.told = false;
        for (size_t w = 0; w < part->way_count && !c.told; w++) {
            c.cases = 0;
            c.way = &part->ways[w];
            each_case(&c, none, push_way(&c, c.way, NULL), compare_case);
        }
    }
    compare_places(&c);
    return reterr->count > before ? WH_ERR_INPUT : WH_OK;
}
