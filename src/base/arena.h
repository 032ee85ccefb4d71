/* arena.h - memory by lifetime: everything of one command, request or machine is given back at once.
 *
 * This is the only place that calls malloc. An arena is opened for the run of one function, wh_arena_run; an
 * allocation that cannot be met jumps back to there, so no caller ever sees NULL. Foreign handles (a parser, a drawing
 * surface) are handed over with wh_arena_defer and closed with the arena, in reverse order, whatever happens. */
#ifndef WH_BASE_ARENA_H
#define WH_BASE_ARENA_H

#include "base/status.h"

#include <stdarg.h>
#include <stddef.h>

struct wh_arena;

/* Opens an arena of at most `cap` bytes, calls body(arena, context), closes the arena and returns what body returned;
 * WH_ERR_NOMEM when memory ran out in between. Runs may be nested: one that is jumped out of, because an outer arena
 * has no room, is closed on the way. */
enum wh_status wh_arena_run(size_t cap, enum wh_status (*body)(struct wh_arena *arena, void *context), void *context);

/* Runs body(arena, context) inside an arena that is open already: an allocation that cannot be met ends this body only,
 * with WH_ERR_NOMEM. For who has something to put right before the arena's own run may end. */
enum wh_status wh_arena_within(struct wh_arena *arena, enum wh_status (*body)(struct wh_arena *arena, void *context),
                               void *context);

/* An arena that outlives the function that makes it, of at most `cap` bytes; NULL: no memory. It is used in
 * wh_arena_within only, and its owner frees it. */
struct wh_arena *wh_arena_new(size_t cap);
void wh_arena_free(struct wh_arena *arena);

/* `size` bytes set to zero, aligned for anything. Never NULL. */
void *wh_arena_get(struct wh_arena *arena, size_t size) __attribute__((malloc, returns_nonnull));

/* n zeroed things of a type. */
#define WH_NEW(arena, n, type) ((type *)wh_arena_get_many((arena), (n), sizeof(type)))
void *wh_arena_get_many(struct wh_arena *arena, size_t n, size_t size) __attribute__((malloc, returns_nonnull));

/* A copy of a string; of its first n bytes; a formatted string. */
char *wh_arena_text(struct wh_arena *arena, const char *text);
char *wh_arena_slice(struct wh_arena *arena, const char *text, size_t n);
char *wh_arena_print(struct wh_arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));
char *wh_arena_vprint(struct wh_arena *arena, const char *format, va_list args) __attribute__((format(printf, 2, 0)));

/* Calls release(handle) when the arena closes, after those handed over later. */
void wh_arena_defer(struct wh_arena *arena, void (*release)(void *handle), void *handle);

/* Ends the arena's run as when memory has run out: for who opened another arena inside and saw that fail. */
_Noreturn void wh_arena_give_up(struct wh_arena *arena);

/* Bytes taken so far. */
size_t wh_arena_used(const struct wh_arena *arena);

/* A list that grows in an arena: `struct { type *at; size_t count, room; }`; WH_PUSH gives the new last element. */
#define WH_LIST(type)                                                                                                  \
    struct {                                                                                                           \
        type *at;                                                                                                      \
        size_t count, room;                                                                                            \
    }
#define WH_PUSH(arena, list)                                                                                           \
    (((list)->count == (list)->room                                                                                    \
          ? (void)((list)->at = wh_arena_grow((arena), (list)->at, (list)->count, &(list)->room, sizeof *(list)->at))  \
          : (void)0),                                                                                                  \
     &(list)->at[(list)->count++])
void *wh_arena_grow(struct wh_arena *arena, void *at, size_t count, size_t *room, size_t size);

#endif
