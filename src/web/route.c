#include "web/pages.h"

#include <string.h>

/* The same pieces, but for the places {…}, in which anything may stand. */
static bool looks_like(const char *pattern, const char *path)
{
    while (*pattern == '/' && *path == '/') {
        size_t p = strcspn(++pattern, "/"), n = strcspn(++path, "/");
        bool same = *pattern == '{' ? n > 0 : p == n && memcmp(pattern, path, n) == 0;
        if (!same) return false;
        pattern += p;
        path += n;
    }
    return !*pattern && !*path;
}

static const char *undone(struct wh_arena *arena, const char *piece, size_t n)
{
    struct wh_form_sent sent;
    if (memchr(piece, '+', n) || memchr(piece, '&', n)) return NULL;
    const char *as_form = wh_arena_print(arena, "x=%.*s", (int)n, piece);
    return wh_form_read_line(arena, as_form, n + 2, &sent) ? sent.fields[0].text : NULL;
}

/* What stands in the places is undone and held. */
static bool fits(struct wh_arena *arena, const char *pattern, const char *path, const char *held[])
{
    if (!looks_like(pattern, path)) return false;
    for (size_t count = 0; *pattern;) {
        size_t p = strcspn(++pattern, "/"), n = strcspn(++path, "/");
        if (*pattern == '{' && (count == WH_HELD || !(held[count++] = undone(arena, path, n)))) return false;
        pattern += p;
        path += n;
    }
    return true;
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
