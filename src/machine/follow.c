/* Values that follow each other ("as …") in a ring have no value at all: refused when the file is read. */
#include "base/text.h"
#include "machine/reader.h"

#include <string.h>

/* The value of the file that this one follows; NULL where it follows a figure, or nothing. */
static const struct wh_given_value *followed(struct wh_reader *reader, const struct wh_given_value *value)
{
    const char *dot = value->follows ? strchr(value->follows, '.') : NULL;
    if (!dot) return NULL;
    const char *id = wh_arena_slice(reader->arena, value->follows, (size_t)(dot - value->follows));
    size_t thing = wh_machine_thing(reader->machine, id);
    return thing == WH_NONE ? NULL : wh_thing_value(&reader->machine->things[thing], dot + 1);
}

static bool comes_back(struct wh_reader *reader, const struct wh_given_value *value)
{
    const struct wh_given_value *at = followed(reader, value);
    for (size_t i = 0; at && at != value && i < reader->machine->thing_count * WH_KIND_KEYS; i++)
        at = followed(reader, at);
    return at == value;
}

void wh_check_follows(struct wh_reader *reader)
{
    for (size_t t = 0; t < reader->machine->thing_count; t++)
        for (size_t v = 0; v < reader->machine->things[t].value_count; v++) {
            const struct wh_given_value *value = &reader->machine->things[t].values[v];
            if (comes_back(reader, value))
                wh_errors_add(reader->errors, WH_ERR_INPUT, value->place, "give one of them a value",
                              "%s: \"%s\" leads back to itself", value->name, value->written);
        }
}
