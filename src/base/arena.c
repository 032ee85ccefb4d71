#include "base/arena.h"

#include "base/fault.h"

#include <malloc.h>
#include <setjmp.h>
#include <stdbool.h>
#include <stdalign.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <threads.h>

enum { BLOCK = 64 * 1024, LARGE = BLOCK / 4, KEPT = 64 << 20, HEAPS = 2, LINE = 256 };

struct block {
    struct block *before;
    size_t used, room;
    alignas(max_align_t) unsigned char bytes[];
};

struct deferred {
    struct deferred *before;
    void (*release)(void *handle);
    void *handle;
};

struct wh_arena {
    jmp_buf *out;
    struct wh_arena *outer;  /* of a run: the one it was opened in */
    struct wh_arena *opened; /* the innermost run of this thread when `out` was set */
    struct block *block;
    struct deferred *deferred;
    size_t taken, cap;
};

static void close_arena(struct wh_arena *arena)
{
    for (struct deferred *d = arena->deferred; d; d = d->before) d->release(d->handle);
    for (struct block *b = arena->block; b;) {
        struct block *before = b->before;
        free(b);
        b = before;
    }
}

/* The innermost run of this thread. Who jumps out of several closes them on the way. */
static _Thread_local struct wh_arena *innermost;

static _Noreturn void jump_out(struct wh_arena *arena)
{
    while (innermost != arena->opened) {
        struct wh_arena *left = innermost;
        innermost = left->outer;
        close_arena(left);
    }
    longjmp(*arena->out, 1);
}

enum wh_status wh_arena_within(struct wh_arena *arena, enum wh_status (*body)(struct wh_arena *arena, void *context),
                               void *context)
{
    jmp_buf here, *volatile before = arena->out;
    struct wh_arena *volatile opened = arena->opened;
    arena->out = &here;
    arena->opened = innermost;
    enum wh_status status = setjmp(here) == 0 ? body(arena, context) : WH_ERR_NOMEM;
    arena->out = before;
    arena->opened = opened;
    return status;
}

/* What one arena gives back serves the next, without a way round by the system; nor does each thread keep its own. */
static void set_heaps(void)
{
    mallopt(M_TRIM_THRESHOLD, KEPT);
    mallopt(M_ARENA_MAX, HEAPS);
}

enum wh_status wh_arena_run(size_t cap, enum wh_status (*body)(struct wh_arena *arena, void *context), void *context)
{
    struct wh_arena arena = {.cap = cap, .outer = innermost};
    static once_flag heaps_are_set = ONCE_FLAG_INIT;
    call_once(&heaps_are_set, set_heaps);
    innermost = &arena;
    enum wh_status status = wh_arena_within(&arena, body, context);
    innermost = arena.outer;
    close_arena(&arena);
    return status;
}

struct wh_arena *wh_arena_new(size_t cap)
{
    struct wh_arena *arena = wh_fault_strikes(WH_FAULT_MEMORY) ? NULL : calloc(1, sizeof *arena);
    if (arena) arena->cap = cap;
    return arena;
}

void wh_arena_free(struct wh_arena *arena)
{
    if (!arena) return;
    close_arena(arena);
    free(arena);
}

void wh_arena_give_up(struct wh_arena *arena)
{
    jump_out(arena);
}

/* The large ones come zeroed from the system, which need not touch them for it. */
static struct block *new_block(struct wh_arena *arena, size_t room)
{
    if (room > arena->cap || arena->taken > arena->cap - room) jump_out(arena);
    struct block *block = wh_fault_strikes(WH_FAULT_MEMORY) ? NULL
                          : room > BLOCK                    ? calloc(1, sizeof *block + room)
                                                            : malloc(sizeof *block + room);
    if (!block) jump_out(arena);
    *block = (struct block){.room = room};
    arena->taken += room;
    return block;
}

/* A large piece has a block to itself, behind the open block, which stays open. */
static void *take_large(struct wh_arena *arena, size_t size)
{
    struct block *block = new_block(arena, size), **place = arena->block ? &arena->block->before : &arena->block;
    block->used = size;
    block->before = *place;
    *place = block;
    return block->bytes;
}

/* A piece not zeroed. */
static void *take(struct wh_arena *arena, size_t size)
{
    size_t step = alignof(max_align_t);
    if (size > SIZE_MAX - 2 * step) jump_out(arena);
    size = size == 0 ? step : (size + step - 1) / step * step;
    if (size > LARGE) return take_large(arena, size);
    struct block *block = arena->block;
    if (!block || block->room - block->used < size) {
        block = new_block(arena, BLOCK);
        block->before = arena->block;
        arena->block = block;
    }
    void *at = block->bytes + block->used;
    block->used += size;
    return at;
}

void *wh_arena_get(struct wh_arena *arena, size_t size)
{
    void *at = take(arena, size);
    return size > BLOCK ? at : memset(at, 0, size);
}

void *wh_arena_get_many(struct wh_arena *arena, size_t n, size_t size)
{
    if (size != 0 && n > SIZE_MAX / size) jump_out(arena);
    return wh_arena_get(arena, n * size);
}

void *wh_arena_grow(struct wh_arena *arena, void *at, size_t count, size_t *room, size_t size)
{
    size_t more = *room == 0 ? 8 : 2 * *room;
    void *fresh = wh_arena_get_many(arena, more, size);
    if (count) memcpy(fresh, at, count * size);
    *room = more;
    return fresh;
}

char *wh_arena_slice(struct wh_arena *arena, const char *text, size_t n)
{
    char *copy = take(arena, n + 1);
    memcpy(copy, text, n);
    copy[n] = 0;
    return copy;
}

char *wh_arena_text(struct wh_arena *arena, const char *text)
{
    return wh_arena_slice(arena, text, strlen(text));
}

char *wh_arena_vprint(struct wh_arena *arena, const char *format, va_list args)
{
    char shorter[LINE];
    va_list again;
    va_copy(again, args);
    int n = vsnprintf(shorter, sizeof shorter, format, args);
    if (n < 0) jump_out(arena);
    char *text = take(arena, (size_t)n + 1);
    if (n < LINE) {
        memcpy(text, shorter, (size_t)n + 1);
    } else {
        vsnprintf(text, (size_t)n + 1, format, again);
    }
    va_end(again);
    return text;
}

char *wh_arena_print(struct wh_arena *arena, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    char *text = wh_arena_vprint(arena, format, args);
    va_end(args);
    return text;
}

void wh_arena_defer(struct wh_arena *arena, void (*release)(void *handle), void *handle)
{
    struct deferred *d = wh_arena_get(arena, sizeof *d);
    *d = (struct deferred){arena->deferred, release, handle};
    arena->deferred = d;
}

size_t wh_arena_used(const struct wh_arena *arena)
{
    return arena->taken;
}
