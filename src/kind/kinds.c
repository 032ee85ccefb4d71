#include "kind/kind.h"

#include "study/study.h"

#include <math.h>
#include <string.h>

/* One line a kind. */
#define KINDS(X)      \
    X(machine)        \
    X(seat)           \
    X(bore)           \
    X(screws)         \
    X(sump)           \
    X(bearing)        \
    X(lip_seal)       \
    X(mechanical_seal) \
    X(o_ring)         \
    X(gasket)         \
    X(belt)           \
    X(pulley)         \
    X(mount)          \
    X(spindle)        \
    X(sleeve)         \
    X(rotor)          \
    X(retaining_ring) \
    X(pin)            \
    X(key)            \
    X(nut)            \
    X(plug)           \
    X(cover)          \
    X(housing)        \
    X(guard)          \
    X(switch)         \
    X(motor)          \
    X(clutch)         \
    X(coupling)       \
    X(coupling_element) \
    X(v_belts)        \
    X(taper_bush)     \
    X(plummer_block)  \
    X(strip_seal)     \
    X(shaft)          \
    X(wheel)          \
    X(wear_ring)      \
    X(float_switch)   \
    X(seal_seat)      \
    X(plate)          \
    X(pipe)           \
    X(adjuster)       \
    X(body)           \
    X(support)        \
    X(side_pull)      \
    X(fixture)

#define DECLARE(kind) extern const struct wh_kind wh_##kind##_kind;
KINDS(DECLARE)
#undef DECLARE

const struct wh_kind *const wh_kinds[] = {
#define ADDRESS(kind) &wh_##kind##_kind,
    KINDS(ADDRESS)
#undef ADDRESS
};
const size_t wh_kind_count = sizeof wh_kinds / sizeof *wh_kinds;

const struct wh_kind *wh_kind_find(const char *name)
{
    for (size_t i = 0; i < wh_kind_count; i++)
        if (strcmp(wh_kinds[i]->name, name) == 0) return wh_kinds[i];
    return NULL;
}

const struct wh_rule *wh_kind_rule(const struct wh_kind_rule *bound)
{
    const struct wh_study *study = wh_study_find(bound->rule);
    return study ? &study->rule : wh_rule_find(bound->rule);
}

size_t wh_kind_keys(const struct wh_kind *kind)
{
    size_t n = 0;
    while (n < WH_KIND_KEYS && kind->keys[n].name) n++;
    return n;
}

size_t wh_kind_rules(const struct wh_kind *kind)
{
    size_t n = 0;
    while (n < WH_KIND_RULES && kind->rules[n].rule) n++;
    return n;
}

size_t wh_kind_steps(const struct wh_kind *kind)
{
    size_t n = 0;
    while (n < WH_KIND_STEPS && kind->steps[n].words) n++;
    return n;
}

const struct wh_key *wh_kind_key(const struct wh_kind *kind, const char *name)
{
    for (size_t i = 0; i < wh_kind_keys(kind); i++)
        if (strcmp(kind->keys[i].name, name) == 0) return &kind->keys[i];
    return NULL;
}

void wh_outline_plain(struct wh_scene *scene, const struct wh_ring *ring, enum wh_pen pen, enum wh_fill fill)
{
    const struct wh_point corners[] = {{ring->inner_low, ring->low},
                                       {ring->outer_low, ring->low},
                                       {ring->outer_high, ring->high},
                                       {ring->inner_high, ring->high}};
    /* A solid one has no edge on the axis: the centre line is there. On the left side radii are negative. */
    bool solid = fabs(ring->inner_low) + fabs(ring->inner_high) < 1e-6;
    wh_scene_area(scene, solid ? WH_PEN_NONE : pen, fill, corners, 4);
    if (solid) wh_scene_line(scene, pen, corners, 4);
}
