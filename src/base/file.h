/* file.h - the only door to the disk and to standard output. */
#ifndef WH_BASE_FILE_H
#define WH_BASE_FILE_H

#include "base/error.h"
#include "base/text.h"

#include <stdint.h>

/* A whole file of at most `cap` bytes, ended by a zero byte that *ret_size does not count.
 * Errors: WH_ERR_FILE (cannot be read), WH_ERR_INPUT (longer than cap). */
enum wh_status wh_file_read(struct wh_arena *arena, const char *path, size_t cap, char **ret_bytes, size_t *ret_size,
                            struct wh_errors *reterr);

/* A file that is read in pieces; it is closed with the arena. Errors: WH_ERR_FILE. */
struct wh_file;
enum wh_status wh_file_open(struct wh_arena *arena, const char *path, struct wh_file **ret, struct wh_errors *reterr);

/* The next bytes, fewer than `room` only at the end of the file. Errors: WH_ERR_FILE. */
enum wh_status wh_file_take(struct wh_file *file, void *to, size_t room, size_t *ret_count, struct wh_errors *reterr);

/* Where the next piece begins, from the start of the file; the file's size when it was opened. Errors: WH_ERR_FILE. */
enum wh_status wh_file_seek(struct wh_file *file, uint64_t at, struct wh_errors *reterr);
uint64_t wh_file_tell(const struct wh_file *file);
uint64_t wh_file_size(const struct wh_file *file);

/* Writes a whole file: into a temporary beside it, synced, then renamed. Either all of it stands there or the old one.
 * The folder is made when it is missing. */
enum wh_status wh_file_write(struct wh_arena *arena, const char *path, const char *bytes, size_t size,
                             struct wh_errors *reterr);

/* After wh_file_write: syncs the file's folder and the one above, so that its name outlives a loss of power. */
enum wh_status wh_file_settle(struct wh_arena *arena, const char *path, struct wh_errors *reterr);

/* Is there anything of that name? */
bool wh_file_there(const char *path);

/* The names in a folder, sorted, without those that begin with a dot; none when there is no folder. */
enum wh_status wh_file_list(struct wh_arena *arena, const char *folder, struct wh_words *ret, struct wh_errors *reterr);

/* Gives a file another name, over what has it now, and settles it. */
enum wh_status wh_file_rename(struct wh_arena *arena, const char *from, const char *to, struct wh_errors *reterr);

/* Takes a file away; it is no error that there is none. */
void wh_file_remove(const char *path);

/* Takes away what wh_file_write of a process that died has left beside a file. */
void wh_file_clear_up(struct wh_arena *arena, const char *path, long process);

/* Writes to standard output (1) or standard error (2), all of it. */
enum wh_status wh_file_print(int stream, const char *bytes, size_t size);

#endif
