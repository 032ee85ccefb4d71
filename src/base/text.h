/* text.h - words and longer texts: building, comparing, looking up. */
#ifndef WH_BASE_TEXT_H
#define WH_BASE_TEXT_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* A text under construction. It grows in its arena. */
struct wh_text {
    struct wh_arena *arena;
    char *at; /* always ended by a zero byte once something was added */
    size_t count, room;
};

void wh_text_add(struct wh_text *text, const char *more);
void wh_text_add_slice(struct wh_text *text, const char *more, size_t n);
void wh_text_print(struct wh_text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* The text so far, "" for none. */
const char *wh_text_of(const struct wh_text *text);

bool wh_same(const char *a, const char *b);                /* both may be NULL */
bool wh_starts(const char *text, const char *with);

/* The entry of a list of n words (NULL is none) that is most like `word`, or NULL when none is near: "did you mean". */
const char *wh_nearest(const char *word, const char *const list[], size_t n);

/* Splits at a separator, white space at both ends of each piece dropped, empty pieces left out. */
struct wh_words {
    const char **at;
    size_t count;
};
struct wh_words wh_split(struct wh_arena *arena, const char *text, char separator);

/* Valid UTF-8 without control characters but tab and newline? */
bool wh_text_is_plain(const char *text, size_t n);

/* Valid UTF-8 without a zero byte? */
bool wh_text_is_utf8(const char *text, size_t n);

/* The number of characters (not bytes) of a UTF-8 text. */
size_t wh_text_width(const char *text);

#endif
