/* example.h - a worked example of every rule, taken from the reference tables when the program is built
 * (tools/examples-into-c); each is a row that the tests work. */
#ifndef WH_VIEW_EXAMPLE_H
#define WH_VIEW_EXAMPLE_H

#include "trade/rule.h"

struct wh_example {
    const char *rule;
    const char *kind;     /* "source", "hand", "practice", "memory", "pinned" */
    const char *source;   /* the publication, or how it was worked */
    const char *expected; /* "interference=14 um": as printed there */
    struct {
        const char *name, *text;
    } given[WH_RULE_IN]; /* up to the first without a name */
};

extern const struct wh_example wh_examples[];
extern const size_t wh_example_count;

#endif
