/* Reads the things of a machine file: the machine itself, parts, features and fixtures. */
#include "base/text.h"
#include "machine/reader.h"
#include "trade/iso286.h"

#include <math.h>
#include <string.h>

#define WAY(key_, is_, member)                                                                                         \
    {                                                                                                                  \
        .key = key_, .is = is_, .offset = offsetof(struct wh_way, member)                                              \
    }
#define WAY_FORM(key_, is_, member, form_)                                                                             \
    {                                                                                                                  \
        .key = key_, .is = is_, .offset = offsetof(struct wh_way, member), .form = form_                               \
    }
static const struct wh_field way_fields[] = {
    WAY("title", WH_FIELD_TEXT, title),
    WAY("off first", WH_FIELD_CONDITIONS, off_first),
    WAY_FORM("in the way", WH_FIELD_CHOICE, drawn, "declared|from drawing|from drawing, up|from drawing, down|across"),
    WAY("with", WH_FIELD_THINGS, with),
    WAY("off with", WH_FIELD_THINGS, off_with),
    WAY("on with", WH_FIELD_THINGS, on_with),
    WAY("way up", WH_FIELD_WAY_UP, way_up),
    WAY_FORM("at", WH_FIELD_YES, bench, "frame|bench"),
    WAY_FORM("off", WH_FIELD_QUANTITY, off, "0..480 min"),
    WAY_FORM("on", WH_FIELD_QUANTITY, on, "0..480 min"),
    WAY_FORM("crew", WH_FIELD_COUNT, crew, "1..4 1"),
    WAY("off tool", WH_FIELD_TEXT, off_tool),
    WAY("on tool", WH_FIELD_TEXT, on_tool),
};
enum { WAY_FIELDS = sizeof way_fields / sizeof *way_fields };

#define THING(key_, is_, member)                                                                                       \
    {                                                                                                                  \
        .key = key_, .is = is_, .offset = offsetof(struct wh_thing, member)                                            \
    }
#define THING_FORM(key_, is_, member, form_)                                                                           \
    {                                                                                                                  \
        .key = key_, .is = is_, .offset = offsetof(struct wh_thing, member), .form = form_                             \
    }
static const struct wh_field thing_fields[] = {
    {.key = "id", .is = WH_FIELD_TEXT, .offset = offsetof(struct wh_thing, id), .needed = true},
    {.key = "is", .is = WH_FIELD_ELSEWHERE},
    THING("title", WH_FIELD_TEXT, title),
    THING_FORM("mass", WH_FIELD_QUANTITY, mass, "0..100000 kg"),
    THING_FORM("wash", WH_FIELD_QUANTITY, wash, "0..480 min"),
    THING_FORM("renew", WH_FIELD_CHOICE, renew, "always|worn|never"),
    THING("look when renewed", WH_FIELD_THINGS, look_when),
    THING("look with off", WH_FIELD_THINGS, look_with),
    THING("disturbed by", WH_FIELD_THINGS, disturbed_by),
    THING("carries", WH_FIELD_THINGS, carries),
    THING("off words", WH_FIELD_TEXTS, off_words),
    THING("on words", WH_FIELD_TEXTS, on_words),
    THING("off cautions", WH_FIELD_TEXTS, off_cautions),
    THING("on cautions", WH_FIELD_TEXTS, on_cautions),
    THING("needs", WH_FIELD_TEXTS, needs),
    THING("round", WH_FIELD_TEXT, round),
    THING("by", WH_FIELD_TRADE, by),
    THING("stays", WH_FIELD_YES, stays),
    THING_FORM("due after", WH_FIELD_QUANTITY, due_after, "1..1000000 h"),
    THING_FORM("due at age", WH_FIELD_QUANTITY, due_at_age, "1..36525 days"),
    THING("due with", WH_FIELD_THINGS, due_with),
    THING("out before", WH_FIELD_EVENTS, out_before),
    THING("stands on", WH_FIELD_THINGS, stands_on),
    {.key = "section", .is = WH_FIELD_OWN, .own = wh_read_section},
    {.key = "one way", .is = WH_FIELD_ELSEWHERE},
    {.key = "other way", .is = WH_FIELD_ELSEWHERE},
};
enum { THING_FIELDS = sizeof thing_fields / sizeof *thing_fields };

/* The lists of a thing while it is read. */
struct growing {
    WH_LIST(struct wh_given_value) values;
    WH_LIST(struct wh_role) roles;
    WH_LIST(struct wh_word) words;
};

struct filling {
    struct wh_reader *reader;
    struct wh_thing *thing;
    const struct wh_tree *node;
};

static void publish(struct wh_thing *thing, const struct growing *growing)
{
    thing->values = growing->values.at, thing->value_count = growing->values.count;
    thing->roles = growing->roles.at, thing->role_count = growing->roles.count;
    thing->words = growing->words.at, thing->word_count = growing->words.count;
}

static void add_value(struct wh_reader *reader, struct growing *to, struct wh_given_value value)
{
    *WH_PUSH(reader->arena, &to->values) = value;
}

static const struct wh_value *one_value(struct wh_reader *reader, struct wh_value value)
{
    struct wh_value *at = WH_NEW(reader->arena, 1, struct wh_value);
    *at = value;
    return at;
}

/* "45 mm k5": a nominal size and its zone; gives the size as an interval and "<name>-nominal" exactly. */
static void read_size(struct wh_reader *reader, const struct wh_tree *node, struct growing *to,
                      struct wh_given_value value)
{
    static const char *const range = "0.. mm";
    wh_form_read(range, &value.form);
    const char *zone = strrchr(value.written, ' ');
    double code, lower = 0, upper = 0;
    struct wh_value size = wh_exact(NAN);
    struct wh_unit unit;
    const struct wh_vocabulary *zones = wh_vocabulary_find("zone", 4);
    bool is_zone =
        zone && zones->read(zone + 1, strlen(zone + 1), &code); /* before units: h6 is no hour, m6 no metre */
    if (!zone || (!is_zone && wh_unit_read(zone + 1, strlen(zone + 1), &unit))) {
        wh_form_value(&value.form, node->key, value.written, node->place, &size, reader->errors);
    } else {
        struct wh_form form = {.vocabulary = zones};
        struct wh_value zone_value;
        const char *nominal = wh_arena_slice(reader->arena, value.written, (size_t)(zone - value.written));
        if (wh_form_value(&form, node->key, zone + 1, node->place, &zone_value, reader->errors) != WH_OK ||
            wh_form_value(&value.form, node->key, nominal, node->place, &size, reader->errors) != WH_OK)
            return;
        code = zone_value.best;
        if (!wh_iso286_limits(size.best, code, &lower, &upper)) {
            wh_read_error(reader, node, NULL, "%s: ISO 286 gives no %s at %s", node->key, zone + 1, nominal);
            return;
        }
        size = wh_between(size.best + lower, size.best + upper);
        value.origin = WH_ORIGIN_TABLE;
        value.source = wh_arena_print(reader->arena, "ISO 286, %s", zone + 1);
    }
    if (isnan(size.best)) return;
    struct wh_given_value nominal = value;
    double middle = value.origin == WH_ORIGIN_TABLE ? size.best - (lower + upper) / 2 : size.best;
    nominal.name = wh_arena_print(reader->arena, "%s-nominal", value.name);
    nominal.at = one_value(reader, wh_exact(middle));
    value.at = one_value(reader, size);
    add_value(reader, to, value);
    add_value(reader, to, nominal);
}

/* A quantity, a designation, a list of readings, or "as thing.figure". */
static void read_quantity(struct wh_reader *reader, const struct wh_tree *node, const struct wh_key *key,
                          struct growing *to, struct wh_given_value value)
{
    wh_form_read(key->form, &value.form);
    if (wh_same(value.written, "as")) {
        wh_read_error(reader, node, "write \"as spindle.mount-load\"", "%s: \"as\" follows nothing", node->key);
        return;
    }
    if (wh_starts(value.written, "as ")) {
        value.follows = value.written + 3;
        add_value(reader, to, value);
        return;
    }
    struct wh_words texts =
        key->many ? wh_split(reader->arena, value.written, ';') : (struct wh_words){&value.written, 1};
    struct wh_value *at = WH_NEW(reader->arena, texts.count + 1, struct wh_value);
    for (size_t i = 0; i < texts.count; i++)
        if (wh_form_value(&value.form, node->key, texts.at[i], node->place, &at[i], reader->errors) != WH_OK) return;
    if (key->many && texts.count > key->many) {
        wh_read_error(reader, node, NULL, "%s takes at most %zu values", node->key, key->many);
        return;
    }
    value.at = at;
    value.count = texts.count;
    add_value(reader, to, value);
}

static void read_key(struct wh_reader *reader, const struct wh_tree *node, const struct wh_key *key, struct growing *to,
                     enum wh_origin origin)
{
    const char *text = origin == WH_ORIGIN_USUAL ? key->usual : wh_read_text(reader, node);
    if (!text) return;
    bool words = wh_starts(key->form, "words ");
    if (words || wh_same(key->form, "text")) {
        struct wh_words choices = words ? wh_split(reader->arena, key->form + 6, '|') : (struct wh_words){0};
        bool known = !words;
        for (size_t i = 0; i < choices.count; i++) known |= wh_same(choices.at[i], text);
        if (!known)
            wh_read_error(reader, node, wh_arena_print(reader->arena, "write one of: %s", key->form + 6),
                          "%s: \"%s\" is not one of its words", node->key, text);
        *WH_PUSH(reader->arena, &to->words) = (struct wh_word){key->name, text};
    } else if (wh_same(key->form, "thing")) {
        size_t thing = wh_read_thing(reader, node, text);
        if (thing != WH_NONE) *WH_PUSH(reader->arena, &to->roles) = (struct wh_role){key->name, thing};
    } else {
        struct wh_given_value value = {
            .name = key->name, .written = text, .origin = origin, .place = node->place, .count = 1};
        if (wh_same(key->form, "size")) {
            read_size(reader, node, to, value);
        } else {
            read_quantity(reader, node, key, to, value);
        }
    }
}

/* A key of the kind: its name in the file has spaces for hyphens. */
static const struct wh_key *key_of(struct wh_reader *reader, const struct wh_kind *kind, const char *written)
{
    char *name = wh_arena_text(reader->arena, written);
    if (strchr(name, '-')) return NULL;
    for (char *c = name; *c; c++) *c = *c == ' ' ? '-' : *c;
    return wh_kind_key(kind, name);
}

static bool known_elsewhere(struct wh_reader *reader, const struct wh_tree *node, void *to)
{
    for (size_t i = 0; i < WAY_FIELDS; i++)
        if (wh_same(way_fields[i].key, node->key)) return true;
    const struct wh_thing *thing = to;
    return key_of(reader, thing->kind, node->key) != NULL;
}

static const char *written_key(void *context, const char *key)
{
    const struct filling *filling = context;
    const struct wh_given_value *value = wh_thing_value(filling->thing, key);
    return value ? value->written : wh_thing_words(filling->thing, key);
}

/* What the file gives itself goes before what a designation fills in. */
static void set_filled(void *context, const char *name, const char *range, struct wh_value value, const char *source)
{
    struct filling *filling = context;
    struct wh_thing *thing = filling->thing;
    if (wh_thing_value(thing, name) && wh_thing_value(thing, name)->origin != WH_ORIGIN_USUAL) return;
    struct growing growing = {
        .values = {(struct wh_given_value *)thing->values, thing->value_count, thing->value_count},
        .roles = {(struct wh_role *)thing->roles, thing->role_count, thing->role_count},
        .words = {(struct wh_word *)thing->words, thing->word_count, thing->word_count}};
    struct wh_given_value filled = {
        .name = name, .origin = WH_ORIGIN_TABLE, .source = source, .count = 1, .place = filling->node->place};
    wh_form_read(range, &filled.form);
    filled.at = one_value(filling->reader, value);
    for (size_t i = 0; i < growing.values.count; i++)
        if (wh_same(growing.values.at[i].name, name)) {
            growing.values.at[i] = filled;
            return;
        }
    add_value(filling->reader, &growing, filled);
    publish(thing, &growing);
}

static enum wh_status complain(void *context, const char *key, const char *right, const char *says)
{
    struct filling *filling = context;
    const struct wh_tree *node = wh_tree_get(filling->node, key);
    wh_read_error(filling->reader, node ? node : filling->node, right, "%s", says);
    return WH_ERR_INPUT;
}

/* A key that stands in the file is not missing, whatever is wrong with its value. */
static bool is_written(struct wh_reader *reader, const struct wh_tree *item, const struct wh_kind *kind,
                       const struct wh_key *key)
{
    for (const struct wh_tree *node = item->first; node; node = node->next)
        if (key_of(reader, kind, node->key) == key) return true;
    return false;
}

static void read_kind_keys(struct wh_reader *reader, const struct wh_tree *item, struct wh_thing *thing)
{
    struct growing growing = {0};
    const struct wh_kind *kind = thing->kind;
    for (const struct wh_tree *node = item->first; node; node = node->next) {
        const struct wh_key *key = key_of(reader, kind, node->key);
        if (key) read_key(reader, node, key, &growing, WH_ORIGIN_GIVEN);
    }
    publish(thing, &growing);
    for (size_t k = 0; k < wh_kind_keys(kind); k++) {
        const struct wh_key *key = &kind->keys[k];
        if (is_written(reader, item, kind, key)) continue;
        if (key->usual) read_key(reader, item, key, &growing, WH_ORIGIN_USUAL);
        if (key->needed && !key->usual)
            wh_read_error(reader, item, NULL, "a %s needs \"%s\": %s", kind->name, key->name, key->title);
        publish(thing, &growing);
    }
    struct filling context = {reader, thing, item};
    struct wh_filling filling = {written_key, set_filled, complain, &context, reader->arena};
    if (kind->fill) kind->fill(&filling);
}

static void read_way_keys(struct wh_reader *reader, const struct wh_tree *map, struct wh_way *way, bool strict)
{
    struct wh_conditions base = way->off_first;
    struct wh_tree *own = wh_tree_new(reader->arena, WH_TREE_MAP);
    for (const struct wh_tree *node = map->first; node; node = node->next) {
        bool of_way = strict;
        for (size_t i = 0; i < WAY_FIELDS && !strict; i++)
            of_way |= wh_same(way_fields[i].key, node->key) && !wh_same(node->key, "title");
        if (!of_way) continue;
        struct wh_tree *copy = wh_tree_new(reader->arena, node->is);
        const char *key = node->key;
        *copy = *node;
        copy->next = NULL;
        wh_tree_add(reader->arena, own, key, copy);
    }
    wh_read_fields(reader, own, way_fields, WAY_FIELDS, way, NULL);
    way->place = map->place;
    if (base.count > 0 && way->off_first.at != base.at) {
        struct wh_indices *both = WH_NEW(reader->arena, base.count + way->off_first.count, struct wh_indices);
        memcpy(both, base.at, base.count * sizeof *both);
        if (way->off_first.count) memcpy(both + base.count, way->off_first.at, way->off_first.count * sizeof *both);
        way->off_first = (struct wh_conditions){both, base.count + way->off_first.count};
    }
}

static void read_ways(struct wh_reader *reader, const struct wh_tree *item, struct wh_thing *thing)
{
    struct wh_way base = {.way_up = WH_NONE, .off = NAN, .on = NAN, .crew = 1};
    read_way_keys(reader, item, &base, false);
    const struct wh_tree *ways[2] = {wh_tree_get(item, "one way"), wh_tree_get(item, "other way")};
    if ((ways[0] == NULL) != (ways[1] == NULL))
        wh_read_error(reader, ways[0] ? ways[0] : ways[1], NULL, "\"one way\" and \"other way\" go together");
    for (size_t w = 0; w < 2 && ways[0] && ways[1]; w++) {
        thing->ways[w] = base;
        if (ways[w]->is != WH_TREE_MAP) {
            wh_read_error(reader, ways[w], NULL, "\"%s\" has keys of its own below", ways[w]->key);
            return;
        }
        read_way_keys(reader, ways[w], &thing->ways[w], true);
        thing->way_count = w + 1;
    }
    if (!ways[0] && !isnan(base.off)) {
        thing->ways[0] = base;
        thing->way_count = 1;
    }
    for (size_t w = 0; w < thing->way_count; w++)
        if (isnan(thing->ways[w].off) || isnan(thing->ways[w].on))
            wh_read_error(reader, ways[w] ? ways[w] : item, NULL,
                          "\"off\" and \"on\" both need their minutes, or neither for a part that stays");
}

static const struct wh_kind *kind_of(struct wh_reader *reader, const struct wh_tree *item, const char *usual)
{
    const char *is = wh_tree_text(item, "is", usual);
    const struct wh_kind *kind = is ? wh_kind_find(is) : NULL;
    if (kind) return kind;
    const struct wh_tree *at = wh_tree_get(item, "is");
    if (!is) {
        wh_read_error(reader, item, "write \"is: bearing\" or another kind", "\"is\" is missing here");
        return NULL;
    }
    const char **names = WH_NEW(reader->arena, wh_kind_count + 1, const char *);
    for (size_t i = 0; i < wh_kind_count; i++) names[i] = wh_kinds[i]->name;
    const char *nearest = wh_nearest(is, names, wh_kind_count);
    wh_read_error(reader, at ? at : item,
                  nearest ? wh_arena_print(reader->arena, "did you mean \"%s\"?", nearest) : NULL,
                  "\"%s\" is no kind of part that is known here", is);
    return NULL;
}

static const char *title_of(struct wh_reader *reader, const char *id)
{
    char *title = wh_arena_text(reader->arena, id);
    for (char *c = title; *c; c++) *c = *c == '-' ? ' ' : *c;
    return title;
}

/* First all ids and kinds, so that things can name each other in any sequence. */
static void register_thing(struct wh_reader *reader, const struct wh_tree *item, enum wh_section section,
                           const char *usual)
{
    struct wh_machine *machine = reader->machine;
    const char *id = wh_tree_text(item, "id", section == WH_SECTION_MACHINE ? "machine" : NULL);
    struct wh_thing thing = {.id = id, .section = section, .place = item->place, .mass = NAN, .wash = NAN};
    thing.due_after = thing.due_at_age = NAN;
    thing.renew = WH_RENEW_WORN;
    thing.kind = kind_of(reader, item, usual);
    if (thing.kind && thing.kind->wiped) thing.wash = 0;
    thing.by = thing.kind && thing.kind->by ? wh_machine_trade(machine, thing.kind->by) : WH_NONE;
    if (!id) {
        wh_read_error(reader, item, "write \"- id: neck-bearing\", words joined by hyphens", "\"id\" is missing here");
        return;
    }
    if (wh_machine_thing(machine, id) != WH_NONE)
        wh_read_error(reader, wh_tree_get(item, "id") ? wh_tree_get(item, "id") : item, NULL,
                      "the id \"%s\" is doubled", id);
    if (!wh_text_width(id) || strpbrk(id, " .,=;|"))
        wh_read_error(reader, item, "join the words of an id by hyphens", "\"%s\" is no id", id);
    thing.title = title_of(reader, id);
    if (thing.kind) machine->things[machine->thing_count++] = thing;
}

static void read_thing(struct wh_reader *reader, const struct wh_tree *item, const char *usual)
{
    const char *id = wh_tree_text(item, "id", wh_same(usual, "machine") ? "machine" : NULL);
    size_t i = id ? wh_machine_thing(reader->machine, id) : WH_NONE;
    if (i == WH_NONE) return;
    struct wh_thing *thing = &reader->machine->things[i];
    bool machine = thing->section == WH_SECTION_MACHINE;
    wh_read_fields(reader, item, thing_fields + machine, THING_FIELDS - machine, thing, known_elsewhere);
    read_kind_keys(reader, item, thing);
    read_ways(reader, item, thing);
}

void wh_read_things(struct wh_reader *reader, const struct wh_tree *file)
{
    static const struct {
        const char *key, *usual;
        enum wh_section section;
    } lists[] = {{"parts", NULL, WH_SECTION_PARTS},
                 {"features", NULL, WH_SECTION_FEATURES},
                 {"fixtures", "fixture", WH_SECTION_FIXTURES}};
    const struct wh_tree *self = wh_tree_get(file, "machine"), *list[3];
    struct wh_machine *machine = reader->machine;
    size_t room = 1;
    for (size_t l = 0; l < 3; l++) {
        list[l] = wh_read_list(reader, file, lists[l].key);
        room += list[l] ? list[l]->count : 0;
    }
    machine->things = WH_NEW(reader->arena, room, struct wh_thing);
    if (!self || self->is != WH_TREE_MAP) return;
    register_thing(reader, self, WH_SECTION_MACHINE, "machine");
    for (size_t l = 0; l < 3; l++)
        for (const struct wh_tree *item = list[l] ? list[l]->first : NULL; item; item = item->next)
            register_thing(reader, item, lists[l].section, lists[l].usual);
    read_thing(reader, self, "machine");
    machine->title = machine->things[0].title;
    for (size_t l = 0; l < 3; l++)
        for (const struct wh_tree *item = list[l] ? list[l]->first : NULL; item; item = item->next)
            read_thing(reader, item, lists[l].usual);
}
