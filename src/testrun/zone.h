/* zone.h - a machine's vibration against limits: its own first, else those of a published table, which says where it
 * does not hold. */
#ifndef WH_TESTRUN_ZONE_H
#define WH_TESTRUN_ZONE_H

#include "base/error.h"

#include <stdbool.h>

/* What is known of the machine. Values in SI; NAN where not known. */
struct wh_zone_ask {
    double own[3]; /* m/s r.m.s.: good up to, alarm, stop; as many as there are, rising */
    size_t own_count;
    const char *own_source; /* "the machine file"; NULL: as given */
    const char *table;      /* "group-2-rigid", "class-1", "pump-1-small" or a fan category "BV-3-rigid"; or NULL */
    double power;           /* W, of the motor */
    bool soft;              /* it stands or hangs on soft mounts */
};

struct wh_zone_limits {
    double at[3]; /* m/s r.m.s., rising; NAN: none */
    size_t count;
    const char *const *words; /* of what lies below the first, between …, above the last: count + 1 */
    const char *letters;      /* "ABCD"; NULL: these limits make no zones */
    const char *source;       /* "the machine's own limits", "ISO 10816-3, group-2-rigid" */
    const char *doubt;        /* why they do not hold, or NULL */
};

/* The limits to go by; count 0 where nothing is known. Errors: WH_ERR_INPUT: own limits that do not rise, an unknown
 * table. */
enum wh_status wh_zone_choose(struct wh_arena *arena, const struct wh_zone_ask *ask, struct wh_zone_limits *ret,
                              struct wh_errors *reterr);

/* The place of a velocity among them, 0 .. count; a reading on a limit belongs below it. */
size_t wh_zone_of(const struct wh_zone_limits *limits, double velocity);

#endif
