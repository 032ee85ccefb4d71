#include "machine/reader.h"

#include "base/text.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

void wh_read_error(struct wh_reader *reader, const struct wh_tree *node, const char *right, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *says = wh_arena_vprint(reader->arena, format, args);
    va_end(args);
    wh_errors_add(reader->errors, WH_ERR_INPUT, node->place, right, "%s", says);
}

const char *wh_read_text(struct wh_reader *reader, const struct wh_tree *node)
{
    if (node->is == WH_TREE_TEXT && *node->text) return node->text;
    wh_read_error(reader, node, NULL, "\"%s\" takes one text on its line", node->key ? node->key : "an item");
    return NULL;
}

/* "did you mean …?" from n names. */
static const char *did_you_mean(struct wh_reader *reader, const char *word, const char *const names[], size_t n)
{
    const char *nearest = wh_nearest(word, names, n);
    return nearest ? wh_arena_print(reader->arena, "did you mean \"%s\"?", nearest) : NULL;
}

size_t wh_read_thing(struct wh_reader *reader, const struct wh_tree *node, const char *id)
{
    size_t found = wh_machine_thing(reader->machine, id), count;
    if (found != WH_NONE) return found;
    const char **ids = wh_machine_ids(reader->arena, reader->machine, &count);
    const char *right = did_you_mean(reader, id, ids, count);
    wh_read_error(reader, node, right ? right : "name the id of a part, feature or fixture of this file",
                  "there is no part \"%s\"", id);
    return WH_NONE;
}

const struct wh_tree *wh_read_list(struct wh_reader *reader, const struct wh_tree *file, const char *key)
{
    const struct wh_tree *list = wh_tree_get(file, key);
    if (!list) return NULL;
    if (list->is != WH_TREE_LIST) {
        wh_read_error(reader, list, "write each item after \"- id: …\"", "\"%s\" is a list", key);
        return NULL;
    }
    for (const struct wh_tree *item = list->first; item; item = item->next)
        if (item->is != WH_TREE_MAP) {
            wh_read_error(reader, item, "write \"- id: …\" and its keys below", "an item of \"%s\" has keys", key);
            return NULL;
        }
    return list;
}

/* The texts of a node: the items of a list, or the pieces of a line. */
static struct wh_words texts_of(struct wh_reader *reader, const struct wh_tree *node, char separator)
{
    if (node->is != WH_TREE_LIST) {
        const char *text = wh_read_text(reader, node);
        return text ? wh_split(reader->arena, text, separator) : (struct wh_words){0};
    }
    const char **at = WH_NEW(reader->arena, node->count + 1, const char *);
    size_t count = 0;
    for (const struct wh_tree *item = node->first; item; item = item->next) {
        const char *text = wh_read_text(reader, item);
        if (text) at[count++] = text;
    }
    return (struct wh_words){at, count};
}

/* Ids with a separator; " or " parts alternatives. */
static struct wh_indices things_of(struct wh_reader *reader, const struct wh_tree *node, struct wh_words ids)
{
    size_t *at = WH_NEW(reader->arena, ids.count + 1, size_t), count = 0;
    for (size_t i = 0; i < ids.count; i++) {
        size_t thing = wh_read_thing(reader, node, ids.at[i]);
        if (thing != WH_NONE) at[count++] = thing;
    }
    return (struct wh_indices){at, count};
}

static struct wh_conditions conditions_of(struct wh_reader *reader, const struct wh_tree *node)
{
    struct wh_words each = texts_of(reader, node, ',');
    struct wh_indices *at = WH_NEW(reader->arena, each.count + 1, struct wh_indices);
    for (size_t i = 0; i < each.count; i++) {
        char *text = wh_arena_text(reader->arena, each.at[i]);
        for (char * or = strstr(text, " or "); or ; or = strstr(or, " or ")) memcpy(or, " |  ", 4);
        at[i] = things_of(reader, node, wh_split(reader->arena, text, '|'));
    }
    return (struct wh_conditions){at, each.count};
}

static bool read_event(struct wh_reader *reader, const struct wh_tree *node, const char *text, struct wh_event *ret)
{
    static const char *const words[] = {"off ", "on ", "check ", "fill "};
    for (size_t w = 0; w < 4; w++) {
        if (!wh_starts(text, words[w])) continue;
        const char *id = text + strlen(words[w]);
        ret->is = (enum wh_event_is)w;
        if (ret->is != WH_EVENT_CHECK) {
            ret->index = wh_read_thing(reader, node, id);
            return ret->index != WH_NONE;
        }
        ret->index = wh_machine_check(reader->machine, id);
        if (ret->index == WH_NONE) wh_read_error(reader, node, NULL, "there is no check \"%s\"", id);
        return ret->index != WH_NONE;
    }
    wh_read_error(reader, node, "write \"off …\", \"on …\", \"check …\" or \"fill …\" with an id",
                  "\"%s\" says nothing that happens", text);
    return false;
}

static struct wh_events events_of(struct wh_reader *reader, const struct wh_tree *node)
{
    struct wh_words each = texts_of(reader, node, ',');
    struct wh_event *at = WH_NEW(reader->arena, each.count + 1, struct wh_event);
    size_t count = 0;
    for (size_t i = 0; i < each.count; i++) count += read_event(reader, node, each.at[i], &at[count]);
    return (struct wh_events){at, count};
}

static size_t way_up_of(struct wh_reader *reader, const struct wh_tree *node, const char *text)
{
    const struct wh_machine *machine = reader->machine;
    for (size_t i = 0; i < machine->way_up_count; i++)
        if (wh_same(machine->ways_up[i].id, text)) return i;
    wh_read_error(reader, node, "name one of the list \"ways up\"", "there is no way up \"%s\"", text);
    return WH_NONE;
}

static size_t gauge_of(struct wh_reader *reader, const struct wh_tree *node, const char *text)
{
    const struct wh_machine *machine = reader->machine;
    const char **ids = WH_NEW(reader->arena, machine->gauge_count + 1, const char *);
    for (size_t i = 0; i < machine->gauge_count; i++) {
        ids[i] = machine->gauges[i].id;
        if (wh_same(ids[i], text)) return i;
    }
    const char *right = did_you_mean(reader, text, ids, machine->gauge_count);
    wh_read_error(reader, node, right ? right : "name one of the list \"gauges\"", "there is no gauge \"%s\"", text);
    return WH_NONE;
}

size_t wh_machine_trade(const struct wh_machine *machine, const char *id)
{
    for (size_t i = 0; i < machine->trade_count; i++)
        if (wh_same(machine->trades[i].id, id)) return i;
    return WH_NONE;
}

static size_t trade_of(struct wh_reader *reader, const struct wh_tree *node, const char *text)
{
    size_t trade = wh_machine_trade(reader->machine, text);
    if (trade == WH_NONE)
        wh_read_error(reader, node, "name one of the list \"trades\"", "there is no trade \"%s\"", text);
    return trade;
}

static double quantity_of(struct wh_reader *reader, const struct wh_tree *node, const char *form_text)
{
    struct wh_form form;
    struct wh_value value = wh_exact(NAN);
    const char *text = wh_read_text(reader, node);
    bool good = wh_form_read(form_text, &form);
    if (text && good) wh_form_value(&form, node->key, text, node->place, &value, reader->errors);
    return value.best;
}

static int choice_of(struct wh_reader *reader, const struct wh_tree *node, const char *form)
{
    struct wh_words words = wh_split(reader->arena, form, '|');
    const char *text = wh_read_text(reader, node);
    for (size_t i = 0; text && i < words.count; i++)
        if (wh_same(words.at[i], text)) return (int)i;
    if (text)
        wh_read_error(reader, node, wh_arena_print(reader->arena, "write one of: %s", form),
                      "%s: \"%s\" is not one of its words", node->key, text);
    return 0;
}

static void read_field(struct wh_reader *reader, const struct wh_tree *node, const struct wh_field *field, void *to)
{
    void *at = (char *)to + field->offset;
    bool several = field->is == WH_FIELD_TEXTS || field->is == WH_FIELD_THINGS || field->is == WH_FIELD_CONDITIONS ||
                   field->is == WH_FIELD_EVENTS || field->is == WH_FIELD_OWN || field->is == WH_FIELD_ELSEWHERE;
    const char *text = several ? NULL : wh_read_text(reader, node);
    if (!several && !text) return;
    switch (field->is) {
    case WH_FIELD_TEXT: *(const char **)at = text; break;
    case WH_FIELD_TEXTS: *(struct wh_words *)at = texts_of(reader, node, ';'); break;
    case WH_FIELD_QUANTITY: *(double *)at = quantity_of(reader, node, field->form); break;
    case WH_FIELD_COUNT: {
        double number = quantity_of(reader, node, field->form);
        *(int *)at = isnan(number) ? 0 : (int)number;
        break;
    }
    case WH_FIELD_YES: *(bool *)at = choice_of(reader, node, field->form ? field->form : "no|yes") == 1; break;
    case WH_FIELD_THING: *(size_t *)at = wh_read_thing(reader, node, text); break;
    case WH_FIELD_THINGS: *(struct wh_indices *)at = things_of(reader, node, texts_of(reader, node, ',')); break;
    case WH_FIELD_CONDITIONS: *(struct wh_conditions *)at = conditions_of(reader, node); break;
    case WH_FIELD_WAY_UP: *(size_t *)at = way_up_of(reader, node, text); break;
    case WH_FIELD_GAUGE: *(size_t *)at = gauge_of(reader, node, text); break;
    case WH_FIELD_TRADE: *(size_t *)at = trade_of(reader, node, text); break;
    case WH_FIELD_EVENT: read_event(reader, node, text, at); break;
    case WH_FIELD_EVENTS: *(struct wh_events *)at = events_of(reader, node); break;
    case WH_FIELD_CHOICE: *(int *)at = choice_of(reader, node, field->form); break;
    case WH_FIELD_OWN: field->own(reader, node, to); break;
    case WH_FIELD_ELSEWHERE: break;
    }
}

static void unknown_key(struct wh_reader *reader, const struct wh_tree *node, const struct wh_field fields[], size_t n,
                        const struct wh_kind *kind)
{
    size_t more = kind ? wh_kind_keys(kind) : 0, count = 0;
    const char **names = WH_NEW(reader->arena, n + more + 1, const char *);
    for (size_t i = 0; i < n; i++) names[count++] = fields[i].key;
    for (size_t i = 0; i < more; i++) {
        char *name = wh_arena_text(reader->arena, kind->keys[i].name);
        for (char *c = name; *c; c++) *c = *c == '-' ? ' ' : *c;
        names[count++] = name;
    }
    struct wh_tree at_key = *node;
    at_key.place = wh_tree_key_place(node);
    wh_read_error(reader, &at_key, did_you_mean(reader, node->key, names, count), "\"%s\" is not a key here%s%s",
                  node->key, kind ? " of a " : "", kind ? kind->name : "");
}

void wh_read_fields(struct wh_reader *reader, const struct wh_tree *map, const struct wh_field fields[], size_t n,
                    void *to, bool (*other)(struct wh_reader *reader, const struct wh_tree *node, void *to))
{
    for (const struct wh_tree *node = map->first; node; node = node->next) {
        size_t f = 0;
        while (f < n && !wh_same(fields[f].key, node->key)) f++;
        if (f < n) {
            read_field(reader, node, &fields[f], to);
        } else if (!other || !other(reader, node, to)) {
            unknown_key(reader, node, fields, n, other ? ((const struct wh_thing *)to)->kind : NULL);
        }
    }
    for (size_t f = 0; f < n; f++)
        if (fields[f].needed && !wh_tree_get(map, fields[f].key))
            wh_read_error(reader, map, NULL, "\"%s\" is missing here", fields[f].key);
}
