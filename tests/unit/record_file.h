/* record_file.h - files of records for tests, made on the spot in a folder of their own. */
#ifndef WH_TESTS_UNIT_RECORD_FILE_H
#define WH_TESTS_UNIT_RECORD_FILE_H

#include "base/file.h"
#include "check.h"

#include <stdint.h>
#include <string.h>
#include <unistd.h>

/* The path of a file with these bytes. */
static inline const char *file_of(struct wh_arena *arena, const char *name, const void *bytes, size_t size)
{
    struct wh_errors errors = wh_errors_in(arena);
    const char *path = wh_arena_print(arena, "/tmp/wharve-record-%ld-%s", (long)getpid(), name);
    assert_int_equal(wh_file_write(arena, path, bytes, size, &errors), WH_OK);
    return path;
}

static inline void put(uint8_t *to, uint32_t value, size_t bytes)
{
    for (size_t i = 0; i < bytes; i++) to[i] = (uint8_t)(value >> 8 * i);
}

enum { WAV_HEAD = 44 };

/* The head of a WAV file: coded 1 (whole numbers) or 3 (floating), bits a sample. */
static inline void wav_head(uint8_t *to, uint32_t coded, uint32_t bits, uint32_t channels, uint32_t rate,
                            uint32_t bytes)
{
    memcpy(to, "RIFF....WAVEfmt ....", 20);
    put(to + 4, bytes + 36, 4);
    put(to + 16, 16, 4);
    put(to + 20, coded, 2);
    put(to + 22, channels, 2);
    put(to + 24, rate, 4);
    put(to + 28, rate * channels * bits / 8, 4);
    put(to + 32, channels * bits / 8, 2);
    put(to + 34, bits, 2);
    memcpy(to + 36, "data", 4);
    put(to + 40, bytes, 4);
}

/* A WAV file of floating samples, the channels side by side. */
static inline const char *wav_of(struct wh_arena *arena, const char *name, size_t channels, uint32_t rate,
                                 const float *samples, size_t count)
{
    uint8_t *bytes = wh_arena_get(arena, WAV_HEAD + 4 * count);
    wav_head(bytes, 3, 32, (uint32_t)channels, rate, (uint32_t)(4 * count));
    memcpy(bytes + WAV_HEAD, samples, 4 * count);
    return file_of(arena, name, bytes, WAV_HEAD + 4 * count);
}

#endif
