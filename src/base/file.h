/* file.h - the only door to the disk and to standard output. */
#ifndef WH_BASE_FILE_H
#define WH_BASE_FILE_H

#include "base/error.h"

/* A whole file of at most `cap` bytes, ended by a zero byte that *ret_size does not count.
 * Errors: WH_ERR_FILE (cannot be read), WH_ERR_INPUT (longer than cap). */
enum wh_status wh_file_read(struct wh_arena *arena, const char *path, size_t cap, char **ret_bytes, size_t *ret_size,
                            struct wh_errors *reterr);

/* Writes a whole file: into a temporary beside it, synced, then renamed. Either all of it stands there or the old one.
 * The folder is made when it is missing. */
enum wh_status wh_file_write(struct wh_arena *arena, const char *path, const char *bytes, size_t size,
                             struct wh_errors *reterr);

/* Takes away what wh_file_write of a process that died has left beside a file. */
void wh_file_clear_up(struct wh_arena *arena, const char *path, long process);

/* Writes to standard output (1) or standard error (2), all of it. */
enum wh_status wh_file_print(int stream, const char *bytes, size_t size);

#endif
