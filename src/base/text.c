#include "base/text.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

void wh_text_add_slice(struct wh_text *text, const char *more, size_t n)
{
    if (text->room - text->count < n + 1) {
        size_t room = text->room ? 2 * text->room : 256;
        while (room - text->count < n + 1) room *= 2;
        char *fresh = wh_arena_get(text->arena, room);
        if (text->count) memcpy(fresh, text->at, text->count);
        text->at = fresh;
        text->room = room;
    }
    memcpy(text->at + text->count, more, n);
    text->count += n;
    text->at[text->count] = '\0';
}

void wh_text_add(struct wh_text *text, const char *more)
{
    wh_text_add_slice(text, more, strlen(more));
}

void wh_text_print(struct wh_text *text, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    wh_text_add(text, wh_arena_vprint(text->arena, format, args));
    va_end(args);
}

const char *wh_text_of(const struct wh_text *text)
{
    return text->at ? text->at : "";
}

bool wh_same(const char *a, const char *b)
{
    return a == b || (a && b && strcmp(a, b) == 0);
}

bool wh_starts(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

/* Edit distance with swapped neighbours counted once; words over 63 bytes are not near anything. */
static size_t distance(const char *a, const char *b)
{
    enum { ROOM = 64 };
    size_t n = strlen(a), m = strlen(b), row[3][ROOM];
    if (n >= ROOM || m >= ROOM) return SIZE_MAX;
    for (size_t j = 0; j <= m; j++) row[0][j] = j;
    for (size_t i = 1; i <= n; i++) {
        size_t *now = row[i % 3], *last = row[(i + 2) % 3], *before = row[(i + 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= m; j++) {
            size_t best = last[j - 1] + (a[i - 1] != b[j - 1]);
            if (last[j] + 1 < best) best = last[j] + 1;
            if (now[j - 1] + 1 < best) best = now[j - 1] + 1;
            bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped && before[j - 2] + 1 < best) best = before[j - 2] + 1;
            now[j] = best;
        }
    }
    return row[n % 3][m];
}

const char *wh_nearest(const char *word, const char *const list[], size_t n)
{
    const char *nearest = NULL;
    size_t least = 1 + strlen(word) / 3; /* one slip in three letters */
    for (size_t i = 0; i < n; i++) {
        size_t d = list[i] ? distance(word, list[i]) : SIZE_MAX;
        if (d <= least && (!nearest || d < least)) {
            least = d;
            nearest = list[i];
        }
    }
    return nearest;
}

struct wh_words wh_split(struct wh_arena *arena, const char *text, char separator)
{
    WH_LIST(const char *) list = {0};
    while (*text) {
        const char *end = strchr(text, separator);
        size_t n = end ? (size_t)(end - text) : strlen(text);
        size_t from = 0, to = n;
        while (from < to && (text[from] == ' ' || text[from] == '\t')) from++;
        while (to > from && (text[to - 1] == ' ' || text[to - 1] == '\t')) to--;
        if (to > from) *WH_PUSH(arena, &list) = wh_arena_slice(arena, text + from, to - from);
        text += n + (end ? 1 : 0);
    }
    return (struct wh_words){list.at, list.count};
}

/* Length of the UTF-8 character at text, 0 when it is none: no overlong forms, no halves of pairs. */
static size_t character(const unsigned char *text, size_t n)
{
    size_t more = text[0] < 0x80 ? 0 : text[0] >> 5 == 6 ? 1 : text[0] >> 4 == 14 ? 2 : text[0] >> 3 == 30 ? 3 : 9;
    if (more > 3 || more >= n) return 0;
    uint32_t code = more == 0 ? text[0] : text[0] & (0x3Fu >> more);
    for (size_t i = 1; i <= more; i++) {
        if (text[i] >> 6 != 2) return 0;
        code = code << 6 | (text[i] & 0x3Fu);
    }
    static const uint32_t least[] = {0, 0x80, 0x800, 0x10000};
    bool half = code >= 0xD800 && code <= 0xDFFF;
    return code < least[more] || code > 0x10FFFF || half ? 0 : more + 1;
}

bool wh_text_is_plain(const char *text, size_t n)
{
    for (size_t i = 0; i < n;) {
        unsigned char c = (unsigned char)text[i];
        if ((c < ' ' && c != '\t' && c != '\n' && c != '\r') || c == 0x7F) return false;
        size_t step = character((const unsigned char *)text + i, n - i);
        if (step == 0) return false;
        i += step;
    }
    return true;
}

bool wh_text_is_utf8(const char *text, size_t n)
{
    for (size_t i = 0; i < n;) {
        bool ascii = (signed char)text[i] > 0;
        size_t step = ascii ? 1 : text[i] ? character((const unsigned char *)text + i, n - i) : 0;
        if (step == 0) return false;
        i += step;
    }
    return true;
}

size_t wh_text_width(const char *text)
{
    size_t width = 0;
    for (; *text; text++) width += ((unsigned char)*text & 0xC0) != 0x80;
    return width;
}
