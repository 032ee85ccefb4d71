#include "order/sequence_trail.h"

void wh_sequence_trail_make(struct wh_arena *arena, size_t room, size_t places, size_t width,
                            struct wh_sequence_trail *ret)
{
    *ret = (struct wh_sequence_trail){.room = room};
    ret->at = WH_NEW(arena, room, struct wh_sequence_link);
    ret->first = WH_NEW(arena, places + 1, size_t);
    ret->moved = WH_NEW(arena, width, uint32_t);
}

static void mark_living(struct wh_sequence_trail *trail)
{
    for (size_t i = 0; i < trail->first[trail->places - 1]; i++) trail->at[i].lives = false;
    for (size_t place = trail->places - 1; place > 0; place--) {
        struct wh_sequence_link *before = &trail->at[trail->first[place - 1]];
        for (size_t i = trail->first[place]; i < trail->first[place + 1]; i++) {
            if (trail->at[i].lives) before[trail->at[i].from].lives = true;
        }
    }
}

/* Moves the living links of a place down to `to`; `moved` says where those of the place before went, and then where
 * these went. The end of those moved. */
static size_t move_place(struct wh_sequence_trail *trail, size_t place, size_t end, size_t to)
{
    size_t from = trail->first[place], start = to;
    for (size_t i = from; i < end; i++) {
        if (!trail->at[i].lives) continue;
        if (place > 0) trail->at[i].from = trail->moved[trail->at[i].from];
    }
    for (size_t i = from; i < end; i++) {
        if (!trail->at[i].lives) continue;
        trail->moved[i - from] = (uint32_t)(to - start);
        trail->at[to++] = trail->at[i];
    }
    trail->first[place] = start;
    return to;
}

static void drop_dead(struct wh_sequence_trail *trail)
{
    size_t to = 0;
    mark_living(trail);
    for (size_t place = 0; place < trail->places; place++) to = move_place(trail, place, trail->first[place + 1], to);
    trail->first[trail->places] = to;
}

struct wh_sequence_link *wh_sequence_trail_add(struct wh_sequence_trail *trail, size_t count)
{
    size_t used = trail->first[trail->places];
    if (trail->room - used < count && trail->places > 0) {
        drop_dead(trail);
        used = trail->first[trail->places];
    }
    if (trail->room - used < count) return NULL;
    trail->first[++trail->places] = used + count;
    return &trail->at[used];
}

void wh_sequence_trail_read(const struct wh_sequence_trail *trail, size_t link, size_t tasks[])
{
    for (size_t place = trail->places; place-- > 0;) {
        const struct wh_sequence_link *at = &trail->at[trail->first[place] + link];
        tasks[place] = at->task;
        link = at->from;
    }
}
