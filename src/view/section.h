/* section.h - the axial section of a machine as a drawing. */
#ifndef WH_VIEW_SECTION_H
#define WH_VIEW_SECTION_H

#include "base/scene.h"
#include "base/tree.h"
#include "machine/machine.h"

struct wh_section_ask {
    size_t part;          /* the part in question, wide and hatched; WH_NONE: all alike */
    const bool *gone;     /* by thing: already off, drawn as gone; or NULL */
    const size_t *number; /* by thing: item number from 1, 0 for none; or NULL: no numbers */
};

/* The section, both sides of the axis; item numbers on leader lines in two columns. Heights are drawn upward. */
struct wh_scene *wh_view_section(struct wh_arena *arena, const struct wh_machine *machine,
                                 const struct wh_section_ask *ask);

#endif
