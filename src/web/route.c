#include "web/pages.h"

#include <string.h>

/* One piece of a path against one of a pattern; what stands in a place {…} is undone and held. */
static bool piece_fits(struct wh_arena *arena, const char *pattern, size_t p, const char *path, size_t n,
                       const char *held[], size_t *count)
{
    if (p == 0 || pattern[0] != '{') return p == n && memcmp(pattern, path, n) == 0;
    struct wh_form_sent sent;
    if (n == 0 || *count == WH_HELD) return false;
    const char *as_form = wh_arena_print(arena, "x=%.*s", (int)n, path);
    if (memchr(path, '+', n) || memchr(path, '&', n) || !wh_form_read_line(arena, as_form, n + 2, &sent)) return false;
    held[(*count)++] = sent.fields[0].text;
    return true;
}

static bool fits(struct wh_arena *arena, const char *pattern, const char *path, const char *held[])
{
    size_t count = 0;
    while (*pattern == '/' && *path == '/') {
        size_t p = strcspn(++pattern, "/"), n = strcspn(++path, "/");
        if (!piece_fits(arena, pattern, p, path, n, held, &count)) return false;
        pattern += p;
        path += n;
    }
    return !*pattern && !*path;
}

const struct wh_route *wh_route_find(struct wh_arena *arena, const char *method, const char *path,
                                     const char *held[WH_HELD], bool *ret_known)
{
    *ret_known = false;
    for (size_t i = 0; i < wh_route_count; i++) {
        if (!fits(arena, wh_routes[i].pattern, path, held)) continue;
        *ret_known = true;
        if (wh_same(wh_routes[i].method, method)) return &wh_routes[i];
    }
    return NULL;
}

size_t wh_route_most(const char *path)
{
    size_t most = 0;
    for (size_t i = 0; i < wh_route_count; i++) {
        const char *brace = strchr(wh_routes[i].pattern, '{');
        size_t n = brace ? (size_t)(brace - wh_routes[i].pattern) : strlen(wh_routes[i].pattern);
        if (strncmp(path, wh_routes[i].pattern, n) != 0) continue;
        size_t takes = wh_routes[i].most ? wh_routes[i].most : WH_USUAL_BODY;
        if (takes > most) most = takes;
    }
    return most;
}
