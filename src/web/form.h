/* form.h - what a browser sends with a form, read into fields. Can be read alone.
 *
 * Two encodings: application/x-www-form-urlencoded, also of the part of an address after "?", and multipart/form-data
 * where a file comes with it. Names and texts have to be plain UTF-8; a file may be anything. */
#ifndef WH_WEB_FORM_H
#define WH_WEB_FORM_H

#include "base/arena.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

enum { WH_FORM_FIELDS = 400, WH_FORM_TEXT = 16 * 1024 };

struct wh_field {
    const char *name, *text; /* of a file: text is NULL */
    const char *bytes;       /* of a file; not ended by a zero */
    size_t size;
};

struct wh_form_sent {
    struct wh_field *fields;
    size_t count;
};

/* Reads "a=1&b=x+y%21". false: a wrong escape, no plain text, too many fields or too long a text. */
bool wh_form_read_line(struct wh_arena *arena, const char *bytes, size_t size, struct wh_form_sent *ret);

/* Reads multipart/form-data; `type` is the whole Content-Type, which names the boundary. Bytes of files are not
 * copied. false: as above, or a part without end or name. */
bool wh_form_read_parts(struct wh_arena *arena, const char *type, const char *bytes, size_t size,
                        struct wh_form_sent *ret);

/* The text of a field, white space at its ends dropped; `otherwise` where it was not sent. */
const char *wh_form_text(const struct wh_form_sent *form, const char *name, const char *otherwise);

/* The file sent under a name, NULL for none or an empty one. */
const struct wh_field *wh_form_file(const struct wh_form_sent *form, const char *name);

/* A text written so that it can stand in an address: "neck bearing" as "neck%20bearing". */
const char *wh_address_text(struct wh_arena *arena, const char *text);

#endif
