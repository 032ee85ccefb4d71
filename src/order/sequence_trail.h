/* sequence_trail.h - where partial sequences came from, so that the found one can be read back.
 *
 * One link for each kept partial sequence of each place. When the room is used up, links that no link of the last place
 * came over are dropped. */
#ifndef WH_ORDER_SEQUENCE_TRAIL_H
#define WH_ORDER_SEQUENCE_TRAIL_H

#include "base/arena.h"

#include <stdbool.h>
#include <stdint.h>

struct wh_sequence_link {
    uint32_t from; /* index among the links of the place before */
    uint16_t task;
    bool lives;
};

struct wh_sequence_trail {
    struct wh_sequence_link *at;
    size_t room, places;
    size_t *first;   /* of each place the first of its links; the next free one at the end */
    uint32_t *moved; /* room for where the links of a place move to */
};

/* Room for so many links, for so many places of at most `width` links. */
void wh_sequence_trail_make(struct wh_arena *arena, size_t room, size_t places, size_t width,
                            struct wh_sequence_trail *ret);

/* The links of the next place, to be filled by the caller; those of the last place keep their index. NULL: no room. */
struct wh_sequence_link *wh_sequence_trail_add(struct wh_sequence_trail *trail, size_t count);

/* Reads the sequence that ends in a link of the last place: one task for each place. */
void wh_sequence_trail_read(const struct wh_sequence_trail *trail, size_t link, size_t tasks[]);

#endif
