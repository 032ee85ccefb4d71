#include "plan_sample.h"

#include <string.h>

size_t sample_below(uint64_t *seed, size_t n)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (size_t)((*seed >> 33) % n);
}

static bool one_in(uint64_t *seed, size_t n)
{
    return sample_below(seed, n) == 0;
}

/* What has to be off first are parts before this one: it can always be reached. */
static void make_way(struct sample *s, uint64_t *seed, int part, struct sample_way *way)
{
    way->firsts = part > 0 ? (int)sample_below(seed, CONDITIONS + 1) : 0;
    for (int i = 0; i < way->firsts; i++) {
        way->first[i].any[0] = (int)sample_below(seed, (size_t)part);
        way->first[i].any[1] = one_in(seed, 4) ? (int)sample_below(seed, (size_t)part) : -1;
        if (way->first[i].any[1] == way->first[i].any[0]) way->first[i].any[1] = -1;
    }
    way->with = s->fixtures > 0 && one_in(seed, 4) ? (int)sample_below(seed, (size_t)s->fixtures) : -1;
    way->off = 1 + (int)sample_below(seed, 12);
    way->on = 1 + (int)sample_below(seed, 12);
    way->bench = part > 0 && one_in(seed, 5);
    way->back = s->ways_up && !way->bench && part > s->back_first && one_in(seed, 4);
}

static void make_part(struct sample *s, uint64_t *seed, int p)
{
    struct sample_part *part = &s->parts[p];
    part->way_count = p > 1 && one_in(seed, 5) ? 2 : 1;
    for (int w = 0; w < part->way_count; w++) make_way(s, seed, p, &part->ways[w]);
    part->tool = (int)sample_below(seed, 4);
    part->crew = 1 + one_in(seed, 6);
    part->warm = one_in(seed, 5);
    part->renewed_always = one_in(seed, 3);
    part->disturbed_by = p > 0 && one_in(seed, 8) ? (int)sample_below(seed, (size_t)p) : -1;
    part->look_when = p > 0 && one_in(seed, 8) ? (int)sample_below(seed, (size_t)p) : -1;
    part->caution = one_in(seed, 3);
}

/* Does a part, or anything that may have to be off before it, have this one off first? */
static bool waits_for(const struct sample *s, int part, int other)
{
    if (part == other) return true;
    for (int w = 0; w < s->parts[part].way_count; w++)
        for (int i = 0; i < s->parts[part].ways[w].firsts; i++)
            for (int k = 0; k < 2; k++) {
                int first = s->parts[part].ways[w].first[i].any[k];
                if (first >= 0 && first < PARTS && waits_for(s, first, other)) return true;
            }
    return false;
}

/* A fixture may stand on a part that nothing done with it needs off. */
static int stand_of(const struct sample *s, uint64_t *seed, int fixture)
{
    int on = (int)sample_below(seed, (size_t)s->count);
    if (s->ways_up && on == s->back_first) return -1;
    for (int p = 0; p < s->count; p++)
        for (int w = 0; w < s->parts[p].way_count; w++)
            if (s->parts[p].ways[w].with == fixture && waits_for(s, p, on)) return -1;
    return one_in(seed, 3) ? -1 : on;
}

void sample_make(struct sample *s, uint64_t seed)
{
    seed = seed * 2654435761u + 1;
    *s = (struct sample){0};
    s->count = 3 + (int)sample_below(&seed, PARTS - 2);
    s->fixtures = (int)sample_below(&seed, FIXTURES + 1);
    s->ways_up = one_in(&seed, 3);
    s->back_first = 0;
    for (int f = 0; f < s->fixtures; f++) s->stays[f] = one_in(&seed, 3);
    for (int p = 0; p < s->count; p++) make_part(s, &seed, p);
    s->checks = (int)sample_below(&seed, CHECKS + 1);
    for (int c = 0; c < s->checks; c++) {
        struct sample_check *check = &s->check[c];
        int part = (int)sample_below(&seed, (size_t)s->count);
        *check = (struct sample_check){part,
                                       1 + (int)sample_below(&seed, 5),
                                       one_in(&seed, 2),
                                       one_in(&seed, 3),
                                       s->fixtures > 0 && !s->stays[0] && one_in(&seed, 4),
                                       -1};
    }
    s->wait = one_in(&seed, 3);
    s->wait_after = (int)sample_below(&seed, (size_t)s->count);
    s->wait_before = (int)sample_below(&seed, (size_t)s->count);
    if (s->wait_after <= s->wait_before) s->wait = false; /* the deeper goes on first */
    s->renews = 1 + one_in(&seed, 3);
    for (int r = 0; r < s->renews; r++) s->renew[r] = (int)sample_below(&seed, (size_t)s->count);
    if (s->renew[0] == s->renew[1]) s->renews = 1;
    for (int f = 0; f < s->fixtures; f++) s->stands_on[f] = stand_of(s, &seed, f);
}

/* The keys of a part, so that they can be shuffled. */
struct keys {
    struct wh_arena *arena;
    const char *at[32];
    size_t count;
};

static void add(struct keys *keys, const char *key)
{
    keys->at[keys->count++] = key;
}

static const char *thing_name(struct wh_arena *arena, const char *prefix, int thing)
{
    return thing < PARTS ? wh_arena_print(arena, "%spart-%d", prefix, thing)
                         : wh_arena_print(arena, "%sprop-%d", prefix, thing - PARTS);
}

static const char *conditions(struct wh_arena *arena, const struct sample_way *way, const char *prefix)
{
    struct wh_text text = {.arena = arena};
    for (int i = 0; i < way->firsts; i++) {
        wh_text_print(&text, "%s%s", i ? ", " : "", thing_name(arena, prefix, way->first[i].any[0]));
        if (way->first[i].any[1] >= 0) wh_text_print(&text, " or %s", thing_name(arena, prefix, way->first[i].any[1]));
    }
    return wh_text_of(&text);
}

static void add_way(struct keys *keys, const struct sample_way *way, const char *prefix, const char *indent)
{
    struct wh_arena *arena = keys->arena;
    if (way->firsts > 0) add(keys, wh_arena_print(arena, "%soff first: %s\n", indent, conditions(arena, way, prefix)));
    if (way->with >= 0)
        add(keys, wh_arena_print(arena, "%swith: %s\n", indent, thing_name(arena, prefix, PARTS + way->with)));
    add(keys, wh_arena_print(arena, "%soff: %d min\n", indent, way->off));
    add(keys, wh_arena_print(arena, "%son: %d min\n", indent, way->on));
    if (way->bench) add(keys, wh_arena_print(arena, "%sat: bench\n", indent));
    if (way->back) add(keys, wh_arena_print(arena, "%sway up: back\n", indent));
}

static const char *joined(struct keys *keys, uint64_t seed)
{
    struct wh_text text = {.arena = keys->arena};
    for (size_t i = keys->count; seed && i > 1; i--) {
        size_t j = sample_below(&seed, i);
        const char *swap = keys->at[i - 1];
        keys->at[i - 1] = keys->at[j], keys->at[j] = swap;
    }
    for (size_t i = 0; i < keys->count; i++) wh_text_add(&text, keys->at[i]);
    return wh_text_of(&text);
}

static const char *way_block(struct wh_arena *arena, const char *key, const struct sample_way *way,
                             const struct sample_guise *guise)
{
    struct keys keys = {.arena = arena};
    add_way(&keys, way, guise->prefix, "      ");
    return wh_arena_print(arena, "    %s:\n%s", key, joined(&keys, guise->keys));
}

static const char *part_text(struct wh_arena *arena, const struct sample *s, int p, const struct sample_guise *guise)
{
    const struct sample_part *part = &s->parts[p];
    struct keys keys = {.arena = arena};
    add(&keys, part->warm ? wh_arena_print(arena,
                                           "    is: sleeve\n    seat: %sland\n    bore: 30 mm H7\n"
                                           "    outside: 40 mm\n    width: 20 mm\n    fitted: warm\n",
                                           guise->prefix)
                          : "    is: plate\n");
    if (part->way_count == 1) {
        add_way(&keys, &part->ways[0], guise->prefix, "    ");
    } else {
        add(&keys, way_block(arena, "one way", &part->ways[0], guise));
        add(&keys, way_block(arena, "other way", &part->ways[1], guise));
    }
    if (part->tool > 0) {
        add(&keys, wh_arena_print(arena, "    off tool: tool %d\n", part->tool));
        add(&keys, wh_arena_print(arena, "    on tool: tool %d\n", part->tool));
    }
    if (part->crew > 1) add(&keys, "    crew: 2\n");
    if (part->renewed_always) add(&keys, "    renew: always\n");
    if (part->caution) add(&keys, "    off cautions: Mind the edge\n");
    if (part->caution) add(&keys, "    on cautions: Mind the other edge\n");
    if (part->disturbed_by >= 0)
        add(&keys,
            wh_arena_print(arena, "    disturbed by: %s\n", thing_name(arena, guise->prefix, part->disturbed_by)));
    if (part->look_when >= 0)
        add(&keys,
            wh_arena_print(arena, "    look when renewed: %s\n", thing_name(arena, guise->prefix, part->look_when)));
    return wh_arena_print(arena, "  - id: %s\n%s", thing_name(arena, guise->prefix, p), joined(&keys, guise->keys));
}

static void add_checks(struct wh_text *text, const struct sample *s, const char *prefix)
{
    if (s->checks > 0) wh_text_add(text, "checks:\n");
    for (int c = 0; c < s->checks; c++) {
        const struct sample_check *check = &s->check[c];
        const char *part = thing_name(text->arena, prefix, check->part);
        wh_text_print(text,
                      "  - id: %slook-%d\n    title: look %d\n    of: %s\n    phase: %s\n    %s: %s %s\n"
                      "    expects: even\n    takes: %d min\n%s",
                      prefix, c, c, part, check->strip ? "strip" : "rebuild", check->strip ? "before" : "after",
                      check->strip ? "off" : "on", part, check->takes, check->hold ? "    hold: yes\n" : "");
        if (check->with) wh_text_print(text, "    with: %s\n", thing_name(text->arena, prefix, PARTS));
    }
}

const char *sample_text(struct wh_arena *arena, const struct sample *s, struct sample_guise guise)
{
    struct wh_text text = {.arena = arena};
    struct keys parts = {.arena = arena};
    wh_text_add(&text, "format: 1\nmachine:\n  title: sample\n  speed: 1000 rpm\n"
                       "changes:\n  tool: 0.5 min\n  bench: 1 min\n"
                       "holds:\n  - id: dead\n    title: dead\n    text: It is dead.\n"
                       "  - id: whole\n    title: whole\n    text: It is whole.\n    before power: yes\n");
    if (s->ways_up)
        wh_text_print(&text,
                      "ways up:\n  - id: upright\n    title: upright\n  - id: back\n    title: on its back\n"
                      "    turning: 6 min\n    off first: %s\n",
                      thing_name(arena, guise.prefix, s->back_first));
    for (int p = 0; p < s->count; p++) add(&parts, part_text(arena, s, p, &guise));
    wh_text_print(&text, "parts:\n%s", joined(&parts, guise.order));
    wh_text_print(&text, "features:\n  - id: %sland\n    is: seat\n    diameter: 30 mm n6\n", guise.prefix);
    if (s->fixtures > 0) wh_text_add(&text, "fixtures:\n");
    for (int f = 0; f < s->fixtures; f++) {
        wh_text_print(&text, "  - id: %s\n    off: 1 min\n    on: 2 min\n%s",
                      thing_name(arena, guise.prefix, PARTS + f), s->stays[f] ? "    stays: yes\n" : "");
        if (s->stands_on[f] >= 0)
            wh_text_print(&text, "    stands on: %s\n", thing_name(arena, guise.prefix, s->stands_on[f]));
    }
    add_checks(&text, s, guise.prefix);
    if (s->wait)
        wh_text_print(&text,
                      "waits:\n  - id: cools\n    after: on %s\n    before: on %s\n    at least: 7 min\n"
                      "    because: it cools\n",
                      thing_name(arena, guise.prefix, s->wait_after), thing_name(arena, guise.prefix, s->wait_before));
    return wh_text_of(&text);
}

const char *sample_renew(struct wh_arena *arena, const struct sample *s, const char *prefix)
{
    const char *first = thing_name(arena, prefix, s->renew[0]);
    return s->renews == 1 ? first : wh_arena_print(arena, "%s, %s", first, thing_name(arena, prefix, s->renew[1]));
}
