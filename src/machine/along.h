/* along.h - private to machine/: which parts meet when one is moved along the axis, and what leaves together.
 *
 * The rings of the axial section are all that is known of a part here. What is less than a tenth of a millimetre is a
 * fit and not in the way. */
#ifndef WH_MACHINE_ALONG_H
#define WH_MACHINE_ALONG_H

#include "machine/machine.h"

enum wh_along { WH_ALONG_UP, WH_ALONG_DOWN };

/* Two radii that do not let a part pass another, m: its free bore and the other's outside, or its outside and the
 * other's free bore, whichever lacks less. */
struct wh_clash {
    double own, other;
};

/* Does a part that is moved along the axis, however far, meet another that stays where it is? */
bool wh_along_meets(const struct wh_thing *part, const struct wh_thing *other, enum wh_along along,
                    struct wh_clash *ret);

/* Do two parts take up the same place in the drawing? */
bool wh_along_overlap(const struct wh_thing *part, const struct wh_thing *other);

/* What leaves together: with a part goes what it carries and what sits on it, its seat being one of its features. */
struct wh_bodies {
    const struct wh_machine *machine;
    bool *with; /* [part * things + thing]: the thing leaves with the part; itself too */
    size_t *count;
};

struct wh_bodies wh_bodies_of(struct wh_arena *arena, const struct wh_machine *machine);

static inline bool wh_body_has(const struct wh_bodies *bodies, size_t part, size_t thing)
{
    return bodies->with[part * bodies->machine->thing_count + thing];
}

/* The part that another is on: the one with the smallest body of those in `among` (by thing; NULL: any), or WH_NONE. */
size_t wh_body_carrier(const struct wh_bodies *bodies, size_t part, const bool among[]);

#endif
