#include "testrun/record_lines.h"

#include <string.h>

enum { ROOM = 1 << 16 };

struct wh_lines *wh_lines_open(struct wh_arena *arena, struct wh_file *file, const char *path)
{
    struct wh_lines *lines = WH_NEW(arena, 1, struct wh_lines);
    *lines = (struct wh_lines){.file = file, .path = path, .bytes = WH_NEW(arena, ROOM + 1, char)};
    return lines;
}

uint64_t wh_lines_tell(const struct wh_lines *lines)
{
    return lines->behind - (lines->count - lines->at);
}

void wh_lines_go(struct wh_lines *lines, uint64_t at, int line)
{
    lines->at = lines->count = 0;
    lines->behind = at;
    lines->end = false;
    lines->line = line;
}

/* More bytes behind those that are held. */
static enum wh_status fill(struct wh_lines *lines, struct wh_errors *reterr)
{
    size_t got;
    lines->count -= lines->at;
    memmove(lines->bytes, lines->bytes + lines->at, lines->count);
    lines->at = 0;
    struct wh_place place = {lines->path, lines->line + 1, 1};
    if (lines->count == ROOM)
        return wh_errors_add(reterr, WH_ERR_INPUT, place, NULL, "a line of more than 65536 bytes: this is no record");
    enum wh_status status = WH_OK;
    if (wh_file_tell(lines->file) != lines->behind) status = wh_file_seek(lines->file, lines->behind, reterr);
    if (status != WH_OK) return status;
    size_t room = ROOM - lines->count;
    status = wh_file_take(lines->file, lines->bytes + lines->count, room, &got, reterr);
    if (status != WH_OK) return status;
    lines->end = got < room;
    lines->count += got;
    lines->behind += got;
    return WH_OK;
}

enum wh_status wh_lines_next(struct wh_lines *lines, char **ret, struct wh_errors *reterr)
{
    for (;;) {
        char *from = lines->bytes + lines->at, *last = lines->bytes + lines->count;
        char *newline = memchr(from, '\n', (size_t)(last - from));
        if (!newline && lines->end && from < last) newline = last;
        if (newline) {
            lines->at = (size_t)(newline - lines->bytes) + (newline < last);
            lines->line++;
            *newline = '\0';
            if (newline > from && newline[-1] == '\r') newline[-1] = '\0';
            *ret = from;
            return WH_OK;
        }
        if (lines->end) return *ret = NULL, WH_OK;
        enum wh_status status = fill(lines, reterr);
        if (status != WH_OK) return status;
    }
}

enum wh_status wh_lines_count(struct wh_lines *lines, size_t *ret, struct wh_errors *reterr)
{
    char last = '\n';
    *ret = 0;
    wh_lines_go(lines, 0, 0);
    while (!lines->end) {
        enum wh_status status = fill(lines, reterr);
        if (status != WH_OK) return status;
        const char *at = lines->bytes, *end = at + lines->count;
        if (lines->count) last = end[-1];
        for (; (at = memchr(at, '\n', (size_t)(end - at))); at++) ++*ret;
        lines->at = lines->count;
    }
    *ret += last != '\n';
    wh_lines_go(lines, 0, 0);
    return WH_OK;
}
