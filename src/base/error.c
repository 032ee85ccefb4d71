#include "base/error.h"

#include "base/text.h"

#include <stdarg.h>
#include <string.h>

struct wh_errors wh_errors_in(struct wh_arena *arena)
{
    return (struct wh_errors){.arena = arena};
}

enum wh_status wh_errors_add(struct wh_errors *errors, enum wh_status status, struct wh_place place, const char *right,
                             const char *format, ...)
{
    struct wh_error *error = WH_NEW(errors->arena, 1, struct wh_error);
    va_list args;
    va_start(args, format);
    error->says = wh_arena_vprint(errors->arena, format, args);
    va_end(args);
    error->status = status;
    error->place = place;
    error->right = right ? wh_arena_text(errors->arena, right) : NULL;
    if (errors->last) {
        errors->last->next = error;
    } else {
        errors->first = error;
    }
    errors->last = error;
    errors->count++;
    return status;
}

enum wh_status wh_errors_status(const struct wh_errors *errors)
{
    return errors->first ? errors->first->status : WH_OK;
}

void wh_errors_show(struct wh_errors *errors, const char *file, const char *text)
{
    errors->file = file;
    errors->text = text;
}

/* The line of the shown file that an error speaks of, or NULL. */
static const char *line_of(const struct wh_errors *errors, const struct wh_place *place)
{
    const char *line = errors->text;
    if (place->line == 0 || !wh_same(place->file, errors->file)) return NULL;
    for (int i = 1; line && i < place->line; i++) line = (line = strchr(line, '\n')) ? line + 1 : NULL;
    return line ? wh_arena_slice(errors->arena, line, strcspn(line, "\r\n")) : NULL;
}

/* The caret stands under the column, counted in characters; tabs before it are kept so that it lines up. */
static void add_caret(struct wh_text *text, const char *line, int column)
{
    wh_text_print(text, "  | %s\n  | ", line);
    const char *c = line;
    for (int i = 1; i < column && *c; i++) {
        wh_text_add(text, *c == '\t' ? "\t" : " ");
        c++;
        while (((unsigned char)*c & 0xC0) == 0x80) c++;
    }
    wh_text_add(text, "^\n");
}

static void add_error(struct wh_text *text, const struct wh_errors *errors, const struct wh_error *error)
{
    const char *line = line_of(errors, &error->place);
    if (error->place.file) wh_text_print(text, "%s:", error->place.file);
    if (error->place.line) wh_text_print(text, "%d:%d:", error->place.line, error->place.column);
    wh_text_print(text, "%s%s\n", error->place.file || error->place.line ? " " : "wharve: ", error->says);
    if (line) add_caret(text, line, error->place.column);
    if (error->right) wh_text_print(text, "  %s\n", error->right);
}

const char *wh_errors_text(struct wh_arena *arena, const struct wh_errors *errors)
{
    struct wh_text text = {.arena = arena};
    for (const struct wh_error *e = errors->first; e; e = e->next) add_error(&text, errors, e);
    return wh_text_of(&text);
}
