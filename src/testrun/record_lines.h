/* record_lines.h - the lines of a large file of text, one after the other, from any place in it. */
#ifndef WH_TESTRUN_RECORD_LINES_H
#define WH_TESTRUN_RECORD_LINES_H

#include "base/file.h"

struct wh_lines {
    struct wh_file *file; /* may be read by others between two lines */
    const char *path;
    char *bytes;
    size_t at, count; /* the next line begins at `at` of `count` bytes held */
    uint64_t behind;  /* place in the file behind the bytes held */
    bool end;         /* the file has no more */
    int line;         /* number of the line last read */
};

struct wh_lines *wh_lines_open(struct wh_arena *arena, struct wh_file *file, const char *path);

/* The next line without its end, a zero byte behind it, good until the next call; NULL at the end.
 * Errors: WH_ERR_FILE; WH_ERR_INPUT: a line of more than 65536 bytes. */
enum wh_status wh_lines_next(struct wh_lines *lines, char **ret, struct wh_errors *reterr);

/* How many lines the file has; the next line is then its first. */
enum wh_status wh_lines_count(struct wh_lines *lines, size_t *ret, struct wh_errors *reterr);

/* Where the next line begins; goes on from such a place, the line before it having this number. */
uint64_t wh_lines_tell(const struct wh_lines *lines);
void wh_lines_go(struct wh_lines *lines, uint64_t at, int line);

#endif
