#include "machine/machine.h"

#include "base/file.h"
#include "base/text.h"
#include "machine/reader.h"
#include "machine/yaml_tree.h"

#include <math.h>
#include <string.h>

#define FIELDS(table) table, sizeof table / sizeof *table

size_t wh_machine_thing(const struct wh_machine *machine, const char *id)
{
    for (size_t i = 0; i < machine->thing_count; i++)
        if (wh_same(machine->things[i].id, id)) return i;
    return WH_NONE;
}

size_t wh_machine_check(const struct wh_machine *machine, const char *id)
{
    for (size_t i = 0; i < machine->check_count; i++)
        if (wh_same(machine->checks[i].id, id)) return i;
    return WH_NONE;
}

size_t wh_thing_role(const struct wh_machine *machine, size_t thing, const char *role)
{
    const struct wh_thing *t = &machine->things[thing];
    for (size_t i = 0; i < t->role_count; i++)
        if (wh_same(t->roles[i].name, role)) return t->roles[i].thing;
    return wh_same(role, "machine") ? 0 : WH_NONE;
}

const struct wh_given_value *wh_thing_value(const struct wh_thing *thing, const char *name)
{
    for (size_t i = 0; i < thing->value_count; i++)
        if (wh_same(thing->values[i].name, name)) return &thing->values[i];
    return NULL;
}

const char *wh_thing_words(const struct wh_thing *thing, const char *key)
{
    for (size_t i = 0; i < thing->word_count; i++)
        if (wh_same(thing->words[i].key, key)) return thing->words[i].text;
    return NULL;
}

const char **wh_machine_ids(struct wh_arena *arena, const struct wh_machine *machine, size_t *ret_count)
{
    const char **ids = WH_NEW(arena, machine->thing_count + 1, const char *);
    for (size_t i = 0; i < machine->thing_count; i++) ids[i] = machine->things[i].id;
    *ret_count = machine->thing_count;
    return ids;
}

static void read_gauge_uncertainty(struct wh_reader *reader, const struct wh_tree *node, void *to)
{
    struct wh_gauge *gauge = to;
    const char *text = wh_read_text(reader, node);
    if (!text) return;
    enum wh_misread misread = wh_value_read(text, NULL, &gauge->uncertainty, &gauge->unit);
    if (misread == WH_READ_WELL && gauge->unit.length == 0) misread = WH_READ_NO_UNIT;
    if (misread != WH_READ_WELL)
        wh_read_error(reader, node, NULL, "uncertainty: %s", wh_misread_words(reader->arena, misread, text, NULL));
}

static const struct wh_field gauge_fields[] = {
    {.key = "id", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_gauge, id), .needed = true},
    {.key = "title", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_gauge, title), .needed = true},
    {.key = "uncertainty", .is = WH_FIELD_OWN, .own = read_gauge_uncertainty, .needed = true},
};

static const struct wh_field energy_fields[] = {
    {.key = "id", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_energy, id), .needed = true},
    {.key = "title", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_energy, title), .needed = true},
    {.key = "off", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_energy, off), .needed = true},
    {.key = "tried", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_energy, tried), .needed = true},
};

static const struct wh_field hold_fields[] = {
    {.key = "id", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_hold, id), .needed = true},
    {.key = "title", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_hold, title), .needed = true},
    {.key = "text", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_hold, text), .needed = true},
    {.key = "tried", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_hold, tried)},
    {.key = "takes", .is = WH_FIELD_QUANTITY, .offset = offsetof(struct wh_hold, minutes), .form = "0..480 min"},
    {.key = "before power", .is = WH_FIELD_YES, .offset = offsetof(struct wh_hold, released)},
    {.key = "lasts", .is = WH_FIELD_YES, .offset = offsetof(struct wh_hold, lasts)},
    {.key = "cautions", .is = WH_FIELD_TEXTS, .offset = offsetof(struct wh_hold, cautions)},
};

static const struct wh_field wait_fields[] = {
    {.key = "id", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_wait, id), .needed = true},
    {.key = "after", .is = WH_FIELD_EVENT, .offset = offsetof(struct wh_wait, after), .needed = true},
    {.key = "before", .is = WH_FIELD_EVENT, .offset = offsetof(struct wh_wait, before), .needed = true},
    {.key = "at least", .is = WH_FIELD_QUANTITY, .offset = offsetof(struct wh_wait, least), .form = "0.. min"},
    {.key = "at most", .is = WH_FIELD_QUANTITY, .offset = offsetof(struct wh_wait, most), .form = "0.. min"},
    {.key = "because", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_wait, because), .needed = true},
};

static const struct wh_field way_up_fields[] = {
    {.key = "id", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_way_up, id), .needed = true},
    {.key = "title", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_way_up, title), .needed = true},
    {.key = "turning", .is = WH_FIELD_QUANTITY, .offset = offsetof(struct wh_way_up, minutes), .form = "0.. min"},
    {.key = "crew", .is = WH_FIELD_COUNT, .offset = offsetof(struct wh_way_up, crew), .form = "1..4 1"},
    {.key = "off first", .is = WH_FIELD_CONDITIONS, .offset = offsetof(struct wh_way_up, off)},
    {.key = "cautions", .is = WH_FIELD_TEXTS, .offset = offsetof(struct wh_way_up, cautions)},
};

static const struct wh_field trade_fields[] = {
    {.key = "id", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_called, id), .needed = true},
    {.key = "title", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_called, title), .needed = true},
    {.key = "call", .is = WH_FIELD_QUANTITY, .offset = offsetof(struct wh_called, call), .form = "0..480 min"},
};

static const struct wh_field change_fields[] = {
    {.key = "tool", .is = WH_FIELD_QUANTITY, .offset = offsetof(struct wh_machine, tool_change), .form = "0..60 min"},
    {.key = "bench", .is = WH_FIELD_QUANTITY, .offset = offsetof(struct wh_machine, bench_change), .form = "0..60 min"},
};

/* The items of a list as an array of structs, each read by the same fields. */
static void *read_items(struct wh_reader *reader, const struct wh_tree *file, const char *key,
                        const struct wh_field fields[], size_t n, size_t size, size_t *ret_count)
{
    const struct wh_tree *list = wh_read_list(reader, file, key);
    if (!list) return NULL;
    char *items = wh_arena_get_many(reader->arena, list->count + 1, size);
    size_t i = 0;
    for (const struct wh_tree *item = list->first; item; item = item->next, i++)
        wh_read_fields(reader, item, fields, n, items + i * size, NULL);
    *ret_count = list->count;
    return items;
}

static void read_waits(struct wh_reader *reader, const struct wh_tree *file)
{
    struct wh_machine *machine = reader->machine;
    machine->waits =
        read_items(reader, file, "waits", FIELDS(wait_fields), sizeof(struct wh_wait), &machine->wait_count);
    const struct wh_tree *list = wh_tree_get(file, "waits");
    struct wh_wait *wait = machine->waits;
    if (!list || !wait) return;
    for (const struct wh_tree *item = list->first; item; item = item->next, wait++) {
        const struct wh_tree *most = wh_tree_get(item, "at most");
        if (!most) wait->most = INFINITY;
        if (wait->least > wait->most)
            wh_read_error(reader, most, "\"at least\" is the smaller one", "the wait \"%s\" has its limits reversed",
                          wait->id ? wait->id : "?");
    }
}

/* The ways up come before all parts, their conditions after: a part names a way up, a way up names parts. */
static void read_ways_up(struct wh_reader *reader, const struct wh_tree *file)
{
    struct wh_machine *machine = reader->machine;
    const struct wh_tree *list = wh_read_list(reader, file, "ways up");
    machine->ways_up = WH_NEW(reader->arena, 1, struct wh_way_up);
    machine->ways_up[0] = (struct wh_way_up){.id = "upright", .title = "at the machine", .crew = 1};
    machine->way_up_count = 1;
    if (!list || list->count == 0) return;
    machine->ways_up = WH_NEW(reader->arena, list->count, struct wh_way_up);
    machine->way_up_count = 0;
    for (const struct wh_tree *item = list->first; item; item = item->next)
        machine->ways_up[machine->way_up_count++] = (struct wh_way_up){.id = wh_tree_text(item, "id", NULL), .crew = 1};
}

static void read_ways_up_whole(struct wh_reader *reader, const struct wh_tree *file)
{
    const struct wh_tree *list = wh_tree_get(file, "ways up");
    if (!list || list->is != WH_TREE_LIST) return;
    size_t i = 0;
    for (const struct wh_tree *item = list->first; item && i < reader->machine->way_up_count; item = item->next, i++)
        if (item->is == WH_TREE_MAP)
            wh_read_fields(reader, item, FIELDS(way_up_fields), &reader->machine->ways_up[i], NULL);
}

static const struct wh_field file_fields[] = {
    {.key = "format", .is = WH_FIELD_ELSEWHERE, .needed = true},
    {.key = "machine", .is = WH_FIELD_ELSEWHERE, .needed = true},
    {.key = "changes", .is = WH_FIELD_ELSEWHERE},
    {.key = "ways up", .is = WH_FIELD_ELSEWHERE},
    {.key = "trades", .is = WH_FIELD_ELSEWHERE},
    {.key = "energies", .is = WH_FIELD_ELSEWHERE},
    {.key = "holds", .is = WH_FIELD_ELSEWHERE},
    {.key = "gauges", .is = WH_FIELD_ELSEWHERE},
    {.key = "parts", .is = WH_FIELD_ELSEWHERE, .needed = true},
    {.key = "features", .is = WH_FIELD_ELSEWHERE},
    {.key = "fixtures", .is = WH_FIELD_ELSEWHERE},
    {.key = "checks", .is = WH_FIELD_ELSEWHERE},
    {.key = "waits", .is = WH_FIELD_ELSEWHERE},
};

static void read_file(struct wh_reader *reader, const struct wh_tree *file)
{
    struct wh_machine *machine = reader->machine;
    wh_read_fields(reader, file, FIELDS(file_fields), machine, NULL);
    const struct wh_tree *format = wh_tree_get(file, "format"), *changes = wh_tree_get(file, "changes");
    if (format && !wh_same(format->text, "1"))
        wh_read_error(reader, format, "write \"format: 1\"", "this program reads machine files of format 1 only");
    if (changes && changes->is == WH_TREE_MAP) wh_read_fields(reader, changes, FIELDS(change_fields), machine, NULL);
    machine->gauges =
        read_items(reader, file, "gauges", FIELDS(gauge_fields), sizeof(struct wh_gauge), &machine->gauge_count);
    machine->trades =
        read_items(reader, file, "trades", FIELDS(trade_fields), sizeof(struct wh_called), &machine->trade_count);
    machine->energies =
        read_items(reader, file, "energies", FIELDS(energy_fields), sizeof(struct wh_energy), &machine->energy_count);
    machine->holds =
        read_items(reader, file, "holds", FIELDS(hold_fields), sizeof(struct wh_hold), &machine->hold_count);
    read_ways_up(reader, file);
    wh_register_checks(reader, file);
    wh_read_things(reader, file);
    wh_check_follows(reader);
    read_ways_up_whole(reader, file);
    wh_read_checks(reader, file);
    read_waits(reader, file);
    wh_read_drawing(reader);
    if (reader->errors->count == 0) wh_check_reach(reader);
}

enum wh_status wh_machine_read_text(struct wh_arena *arena, const char *path, const char *bytes, size_t size,
                                    struct wh_machine **ret, struct wh_errors *reterr)
{
    struct wh_tree *file = NULL;
    struct wh_reader reader = {arena, reterr, WH_NEW(arena, 1, struct wh_machine)};
    reader.machine->path = path;
    reader.machine->text = wh_arena_slice(arena, bytes, size);
    wh_errors_show(reterr, path, reader.machine->text);
    enum wh_status status = wh_yaml_read(arena, path, bytes, size, &file, reterr);
    if (status == WH_OK) read_file(&reader, file);
    if (status == WH_OK) status = wh_errors_status(reterr);
    if (status == WH_OK) *ret = reader.machine;
    return status;
}

enum wh_status wh_machine_read(struct wh_arena *arena, const char *path, struct wh_machine **ret,
                               struct wh_errors *reterr)
{
    char *bytes;
    size_t size;
    enum wh_status status = wh_file_read(arena, path, WH_MACHINE_BYTES, &bytes, &size, reterr);
    return status == WH_OK ? wh_machine_read_text(arena, path, bytes, size, ret, reterr) : status;
}
