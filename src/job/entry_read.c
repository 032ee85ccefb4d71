/* What a person typed, "name=value" by "name=value", becomes the map of a kind's fields. */
#include "base/text.h"
#include "job/inside.h"

#include <string.h>

static const struct wh_entry_field *field_of(const struct wh_entry_kind *kind, const char *name)
{
    for (size_t i = 0; i < WH_ENTRY_FIELDS && kind->fields[i].name; i++)
        if (wh_same(kind->fields[i].name, name)) return &kind->fields[i];
    return NULL;
}

static void add_value(struct wh_arena *arena, struct wh_tree *map, const struct wh_entry_field *field, const char *text)
{
    double number;
    const char *rest = wh_number_read(text, &number);
    bool numeric = field->form == WH_ENTRY_NUMBER || field->form == WH_ENTRY_SEQ;
    if (numeric && rest && !*rest) {
        wh_tree_add_number(arena, map, field->name, number);
    } else if (field->form == WH_ENTRY_TRUTH && (wh_same(text, "yes") || wh_same(text, "no"))) {
        wh_tree_add_truth(arena, map, field->name, wh_same(text, "yes"));
    } else if (field->form == WH_ENTRY_WORDS || field->form == WH_ENTRY_STEPS || field->form == WH_ENTRY_PARTS ||
               field->form == WH_ENTRY_FILES) {
        bool values = wh_same(field->name, "value"); /* a comma is a decimal sign in these */
        struct wh_words words = wh_split(arena, text, values || strchr(text, ';') ? ';' : ',');
        struct wh_tree *list = wh_tree_add_new(arena, map, field->name, WH_TREE_LIST);
        for (size_t i = 0; i < words.count; i++) wh_tree_add_text(arena, list, NULL, words.at[i]);
    } else {
        wh_tree_add_text(arena, map, field->name, text); /* one that is no number is told when it is accepted */
    }
}

enum wh_status wh_entry_read(struct wh_arena *arena, const struct wh_entry_kind *kind, const char *const texts[],
                             size_t n, struct wh_tree **ret, struct wh_errors *reterr)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    size_t before = reterr->count;
    for (size_t i = 0; i < n; i++) {
        const char *equals = strchr(texts[i], '=');
        const char *name = equals ? wh_arena_slice(arena, texts[i], (size_t)(equals - texts[i])) : texts[i];
        const struct wh_entry_field *field = field_of(kind, name);
        if (!equals) {
            wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, "write name=value",
                          "\"%s\" is no field with a value", texts[i]);
        } else if (!field) {
            const char *names[WH_ENTRY_FIELDS];
            size_t count = 0;
            while (count < WH_ENTRY_FIELDS && kind->fields[count].name)
                names[count] = kind->fields[count].name, count++;
            const char *nearest = wh_nearest(name, names, count);
            wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0},
                          nearest ? wh_arena_print(arena, "did you mean \"%s\"?", nearest) : NULL,
                          "%s has no field \"%s\"", kind->name, name);
        } else if (wh_tree_get(map, field->name)) {
            wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "\"%s\" is given twice", name);
        } else if (equals[1]) {
            add_value(arena, map, field, equals + 1);
        }
    }
    *ret = map;
    return reterr->count > before ? WH_ERR_INPUT : WH_OK;
}
