/* Finds parts that can never come off: those in a ring, each waiting for the next, and those behind a part that stays.
 */
#include "base/text.h"
#include "machine/reader.h"

/* Can this condition be met by what is known to come off? Fixtures and features always can. */
static bool met(const struct wh_machine *machine, const struct wh_indices *any, const bool off[])
{
    for (size_t i = 0; i < any->count; i++) {
        size_t thing = any->at[i];
        if (machine->things[thing].section != WH_SECTION_PARTS && machine->things[thing].way_count == 0) return true;
        if (off[thing]) return true;
    }
    return any->count == 0;
}

static const struct wh_indices *first_unmet(const struct wh_machine *machine, const struct wh_way *way,
                                            const bool off[])
{
    for (size_t i = 0; i < way->off_first.count; i++)
        if (!met(machine, &way->off_first.at[i], off)) return &way->off_first.at[i];
    if (way->way_up == WH_NONE) return NULL;
    const struct wh_conditions *turned = &machine->ways_up[way->way_up].off;
    for (size_t i = 0; i < turned->count; i++)
        if (!met(machine, &turned->at[i], off)) return &turned->at[i];
    return NULL;
}

static bool comes_off(const struct wh_machine *machine, const struct wh_thing *thing, const bool off[])
{
    for (size_t w = 0; w < thing->way_count; w++)
        if (!first_unmet(machine, &thing->ways[w], off)) return true;
    return false;
}

/* Follows what a part waits for until it meets itself again or a part that stays; names the way. */
static void report(struct wh_reader *reader, size_t from, const bool off[], bool told[])
{
    const struct wh_machine *machine = reader->machine;
    struct wh_text path = {.arena = reader->arena};
    bool *seen = WH_NEW(reader->arena, machine->thing_count, bool);
    size_t at = from;
    while (!seen[at] && machine->things[at].way_count > 0) {
        seen[at] = told[at] = true;
        size_t next = first_unmet(machine, &machine->things[at].ways[0], off)->at[0];
        wh_text_print(&path, "%s%s waits for %s", path.count ? ", " : "", machine->things[at].id,
                      machine->things[next].id);
        at = next;
    }
    bool stays = machine->things[at].way_count == 0;
    wh_errors_add(reader->errors, WH_ERR_INPUT, machine->things[from].place,
                  stays ? "give the part that stays its minutes \"off\" and \"on\", or take it out of \"off first\""
                        : "take one of them out of \"off first\"",
                  stays ? "nobody can reach \"%s\": %s, which stays" : "\"%s\" can never come off: %s",
                  machine->things[from].id, wh_text_of(&path));
}

void wh_check_reach(struct wh_reader *reader)
{
    const struct wh_machine *machine = reader->machine;
    bool *off = WH_NEW(reader->arena, machine->thing_count, bool),
         *told = WH_NEW(reader->arena, machine->thing_count, bool);
    bool again = true;
    while (again) {
        again = false;
        for (size_t i = 0; i < machine->thing_count; i++)
            if (!off[i] && comes_off(machine, &machine->things[i], off)) off[i] = again = true;
    }
    for (size_t i = 0; i < machine->thing_count; i++)
        if (!off[i] && !told[i] && machine->things[i].way_count > 0) report(reader, i, off, told);
}
