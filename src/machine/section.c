/* Reads the place of a part in the axial section. */
#include "base/text.h"
#include "machine/reader.h"

#include <string.h>

/* Two numbers "a..b" of a section, in the line's unit. */
static const char *read_pair(const char *text, double pair[2])
{
    const char *at = wh_number_read(text, &pair[0]);
    if (!at || !wh_starts(at, "..")) return NULL;
    return wh_number_read(at + 2, &pair[1]);
}

/* "r 15..31, z -44..-36 mm", or of a taper "r 0..20 to 0..17, z 388..436 mm". */
static bool read_ring(const char *text, struct wh_ring *ring)
{
    double low[2], high[2], z[2];
    struct wh_unit unit;
    const char *at = wh_starts(text, "r ") ? read_pair(text + 2, low) : NULL;
    if (!at) return false;
    memcpy(high, low, sizeof high);
    if (wh_starts(at, " to ") && !(at = read_pair(at + 4, high))) return false;
    if (!wh_starts(at, ", z ") || !(at = read_pair(at + 4, z))) return false;
    if (!wh_unit_read(at, strlen(at), &unit) || unit.dimension.of[0] != 1) return false;
    *ring = (struct wh_ring){z[0] * unit.factor,   z[1] * unit.factor,    low[0] * unit.factor,
                             low[1] * unit.factor, high[0] * unit.factor, high[1] * unit.factor};
    return true;
}

void wh_read_section(struct wh_reader *reader, const struct wh_tree *node, void *to)
{
    struct wh_thing *thing = to;
    const struct wh_tree *first = node->is == WH_TREE_LIST ? node->first : node;
    struct wh_ring *rings = WH_NEW(reader->arena, node->count + 1, struct wh_ring);
    size_t count = 0;
    for (const struct wh_tree *line = first; line; line = node->is == WH_TREE_LIST ? line->next : NULL) {
        const char *text = wh_read_text(reader, line);
        struct wh_ring *ring = &rings[count];
        if (!text) continue;
        if (!read_ring(text, ring)) {
            wh_read_error(reader, line, "write \"r 15..31, z -44..-36 mm\", radii first, then heights",
                          "section: \"%s\" is no ring", text);
        } else if (ring->low >= ring->high || ring->inner_low >= ring->outer_low ||
                   ring->inner_high > ring->outer_high || ring->inner_low < 0) {
            wh_read_error(reader, line, "write the smaller one first", "section: \"%s\" has its limits reversed", text);
        } else {
            count++;
        }
    }
    thing->rings = rings;
    thing->ring_count = count;
}
