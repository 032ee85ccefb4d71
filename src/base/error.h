/* error.h - the list of errors that a function hands back beside its status.
 *
 * What a person should read about a failure is put into the list that the caller passed: place, value, what would be
 * right. Only the doors (cli, web) print the list. */
#ifndef WH_BASE_ERROR_H
#define WH_BASE_ERROR_H

#include "base/arena.h"
#include "base/status.h"

#include <stddef.h>

/* Where a value was read. line 0: the whole file; file NULL: the command line or nowhere. */
struct wh_place {
    const char *file;
    int line, column;
};

struct wh_error {
    struct wh_error *next;
    enum wh_status status;
    struct wh_place place;
    const char *says;  /* one line: what is wrong, with the value */
    const char *right; /* what would be right; NULL: nothing to add */
};

/* A list of errors in the order found; lives in the arena. */
struct wh_errors {
    struct wh_arena *arena;
    struct wh_error *first, *last;
    size_t count;
    const char *file, *text; /* a file whose lines are shown, and what stands in it; or NULL */
};

struct wh_errors wh_errors_in(struct wh_arena *arena);

/* Adds one error and returns its status, so that `return wh_errors_add(…)` reads well. `right` may be NULL. */
enum wh_status wh_errors_add(struct wh_errors *errors, enum wh_status status, struct wh_place place, const char *right,
                             const char *format, ...) __attribute__((format(printf, 5, 6)));

/* The first error's status, WH_OK for an empty list. */
enum wh_status wh_errors_status(const struct wh_errors *errors);

/* Errors in this file are shown with the line they speak of and a caret. Its text is kept, not copied. */
void wh_errors_show(struct wh_errors *errors, const char *file, const char *text);

/* All errors as text: "file:line:column: says", the line, a caret, and what would be right. */
const char *wh_errors_text(struct wh_arena *arena, const struct wh_errors *errors);

#endif
