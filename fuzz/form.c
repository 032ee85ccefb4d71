/* Any bytes as the body of a form, in both encodings, and as a path. What is read is plain text inside its limits; a
 * text written for an address reads back as itself. The first byte says which. */
#include "fuzz.h"
#include "web/pages.h"

#include <string.h>

enum { CAP = 8 << 20 };

struct given {
    const char *bytes;
    size_t size;
};

static void check_fields(struct wh_arena *arena, const struct wh_form_sent *form, const struct given *given)
{
    must(form->count <= WH_FORM_FIELDS);
    for (size_t i = 0; i < form->count; i++) {
        const struct wh_field *field = &form->fields[i];
        must(wh_text_is_plain(field->name, strlen(field->name)));
        if (field->bytes) {
            must(field->bytes >= given->bytes && field->bytes + field->size <= given->bytes + given->size);
            continue;
        }
        must(strlen(field->text) <= WH_FORM_TEXT && wh_text_is_plain(field->text, strlen(field->text)));
        struct wh_form_sent back;
        const char *line = wh_arena_print(arena, "x=%s", wh_address_text(arena, field->text));
        must(wh_form_read_line(arena, line, strlen(line), &back) && wh_same(back.fields[0].text, field->text));
    }
}

static void check_path(struct wh_arena *arena, const struct given *given)
{
    const char *held[WH_HELD] = {NULL};
    bool known;
    const char *path = wh_arena_slice(arena, given->bytes, given->size);
    const struct wh_route *route = wh_route_find(arena, "GET", path, held, &known);
    must(!route || known);
    must(wh_route_most(path) <= 64u << 20);
    for (size_t i = 0; i < WH_HELD; i++) must(!route || !held[i] || wh_text_is_plain(held[i], strlen(held[i])));
}

static enum wh_status check(struct wh_arena *arena, void *context)
{
    const struct given *given = context;
    struct wh_form_sent form;
    if (given->size == 0) return WH_OK;
    struct given rest = {given->bytes + 1, given->size - 1};
    if (given->bytes[0] == 'p') {
        check_path(arena, &rest);
    } else if (given->bytes[0] == 'm') {
        if (wh_form_read_parts(arena, "multipart/form-data; boundary=b", rest.bytes, rest.size, &form))
            check_fields(arena, &form, &rest);
    } else if (wh_form_read_line(arena, rest.bytes, rest.size, &form)) {
        check_fields(arena, &form, &rest);
    }
    return WH_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct given given = {(const char *)data, size};
    wh_arena_run(CAP, check, &given);
    return 0;
}
