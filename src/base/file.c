#include "base/file.h"

#include "base/fault.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Each system call goes through one of these, so that a test can fail any of them. */
#define TRY(call) (wh_fault_strikes(WH_FAULT_FILE) ? (errno = EIO, -1) : (call))

static enum wh_status complain(struct wh_errors *reterr, const char *path, const char *deed)
{
    return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = path}, NULL, "%s: %s", deed, strerror(errno));
}

/* Reads until the end or until `room` bytes are full; -1 on an error. */
static ssize_t read_all(int fd, char *to, size_t room)
{
    size_t got = 0;
    while (got < room) {
        ssize_t n = TRY(read(fd, to + got, room - got));
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return -1;
        if (n == 0) break;
        got += (size_t)n;
    }
    return (ssize_t)got;
}

enum wh_status wh_file_read(struct wh_arena *arena, const char *path, size_t cap, char **ret_bytes, size_t *ret_size,
                            struct wh_errors *reterr)
{
    int fd = TRY(open(path, O_RDONLY | O_CLOEXEC));
    if (fd < 0) return complain(reterr, path, "cannot be read");
    struct stat state;
    bool known = fstat(fd, &state) == 0 && S_ISREG(state.st_mode) && (uintmax_t)state.st_size <= cap;
    size_t room = known ? (size_t)state.st_size : cap;
    char *bytes = wh_arena_get(arena, room + 2);
    ssize_t n = read_all(fd, bytes, room + 1);
    int reason = errno;
    close(fd);
    errno = reason;
    if (n < 0) return complain(reterr, path, "cannot be read");
    if ((size_t)n > room && known)
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = path}, NULL,
                             "it grew while it was read");
    if ((size_t)n > room)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = path}, NULL,
                             "too large: the file has more than %zu bytes", cap);
    bytes[n] = '\0';
    *ret_bytes = bytes;
    *ret_size = (size_t)n;
    return WH_OK;
}

struct wh_file {
    const char *path;
    int fd;
    uint64_t at, size;
};

static void close_file(void *handle)
{
    struct wh_file *file = handle;
    close(file->fd);
}

enum wh_status wh_file_open(struct wh_arena *arena, const char *path, struct wh_file **ret, struct wh_errors *reterr)
{
    struct wh_file *file = WH_NEW(arena, 1, struct wh_file);
    struct stat state;
    *file = (struct wh_file){.path = path, .fd = TRY(open(path, O_RDONLY | O_CLOEXEC))};
    if (file->fd < 0) return complain(reterr, path, "cannot be read");
    wh_arena_defer(arena, close_file, file);
    if (TRY(fstat(file->fd, &state)) != 0) return complain(reterr, path, "cannot be read");
    if (!S_ISREG(state.st_mode))
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = path}, NULL, "is no file");
    file->size = (uint64_t)state.st_size;
    *ret = file;
    return WH_OK;
}

enum wh_status wh_file_take(struct wh_file *file, void *to, size_t room, size_t *ret_count, struct wh_errors *reterr)
{
    ssize_t n = read_all(file->fd, to, room);
    if (n < 0) return complain(reterr, file->path, "cannot be read");
    file->at += (uint64_t)n;
    *ret_count = (size_t)n;
    return WH_OK;
}

enum wh_status wh_file_seek(struct wh_file *file, uint64_t at, struct wh_errors *reterr)
{
    if (TRY(lseek(file->fd, (off_t)at, SEEK_SET)) < 0) return complain(reterr, file->path, "cannot be read");
    file->at = at;
    return WH_OK;
}

uint64_t wh_file_tell(const struct wh_file *file)
{
    return file->at;
}

uint64_t wh_file_size(const struct wh_file *file)
{
    return file->size;
}

static int write_all(int fd, const char *bytes, size_t size)
{
    while (size > 0) {
        ssize_t n = TRY(write(fd, bytes, size));
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return -1;
        bytes += n;
        size -= (size_t)n;
    }
    return 0;
}

/* Makes the folders on the way to a file. */
static int make_folders(struct wh_arena *arena, const char *path)
{
    char *copy = wh_arena_text(arena, path);
    for (char *slash = strchr(copy + 1, '/'); slash; slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        if (TRY(mkdir(copy, 0777)) != 0 && errno != EEXIST) return -1;
        *slash = '/';
    }
    return 0;
}

static int write_synced(const char *path, const char *bytes, size_t size)
{
    int fd = TRY(open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666));
    if (fd < 0) return -1;
    int failed = write_all(fd, bytes, size) != 0 || TRY(fsync(fd)) != 0 ? -1 : 0;
    int reason = errno;
    if (TRY(close(fd)) != 0 && !failed) {
        failed = -1;
        reason = errno;
    }
    errno = reason;
    return failed;
}

/* The temporary that a process writes before it takes the place of the file. */
static const char *beside_of(struct wh_arena *arena, const char *path, long process)
{
    return wh_arena_print(arena, "%s.%ld.new", path, process);
}

void wh_file_clear_up(struct wh_arena *arena, const char *path, long process)
{
    unlink(beside_of(arena, path, process));
}

enum wh_status wh_file_write(struct wh_arena *arena, const char *path, const char *bytes, size_t size,
                             struct wh_errors *reterr)
{
    const char *beside = beside_of(arena, path, (long)getpid());
    if (make_folders(arena, path) == 0 && write_synced(beside, bytes, size) == 0 && TRY(rename(beside, path)) == 0)
        return WH_OK;
    int reason = errno;
    unlink(beside);
    errno = reason;
    return complain(reterr, path, "cannot be written");
}

static int sync_folder(const char *folder)
{
    int fd = TRY(open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (fd < 0) return -1;
    int failed = TRY(fsync(fd)), reason = errno;
    close(fd);
    errno = reason;
    return failed;
}

enum wh_status wh_file_settle(struct wh_arena *arena, const char *path, struct wh_errors *reterr)
{
    char *folder = wh_arena_print(arena, "./%s", path), *end = folder + 2;
    if (*path == '/') folder += 2;
    for (int level = 0; level < 2; level++) {
        char *slash = strrchr(end, '/');
        if (slash) slash[slash == folder] = '\0';
        if (sync_folder(slash ? folder : ".") != 0) return complain(reterr, path, "cannot be kept");
        if (!slash) break;
    }
    return WH_OK;
}

bool wh_file_there(const char *path)
{
    struct stat state;
    return lstat(path, &state) == 0;
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

struct listing {
    DIR *dir;
    WH_LIST(const char *) names;
};

static enum wh_status read_names(struct wh_arena *arena, void *context)
{
    struct listing *listing = context;
    errno = 0;
    for (struct dirent *entry; (entry = readdir(listing->dir)); errno = 0)
        if (entry->d_name[0] != '.') *WH_PUSH(arena, &listing->names) = wh_arena_text(arena, entry->d_name);
    return errno ? WH_ERR_FILE : WH_OK;
}

enum wh_status wh_file_list(struct wh_arena *arena, const char *folder, struct wh_words *ret, struct wh_errors *reterr)
{
    DIR *dir = wh_fault_strikes(WH_FAULT_FILE) ? (errno = EIO, NULL) : opendir(folder);
    *ret = (struct wh_words){0};
    if (!dir) return errno == ENOENT ? WH_OK : complain(reterr, folder, "cannot be read");
    struct listing listing = {.dir = dir};
    enum wh_status status = wh_arena_within(arena, read_names, &listing);
    int reason = errno;
    closedir(dir);
    errno = reason;
    if (status == WH_ERR_NOMEM) wh_arena_give_up(arena);
    if (status != WH_OK) return complain(reterr, folder, "cannot be read");
    if (listing.names.count) qsort(listing.names.at, listing.names.count, sizeof *listing.names.at, by_name);
    *ret = (struct wh_words){listing.names.at, listing.names.count};
    return WH_OK;
}

enum wh_status wh_file_rename(struct wh_arena *arena, const char *from, const char *to, struct wh_errors *reterr)
{
    if (TRY(rename(from, to)) != 0) return complain(reterr, to, "cannot be written");
    return wh_file_settle(arena, to, reterr);
}

void wh_file_remove(const char *path)
{
    unlink(path);
}

enum wh_status wh_file_print(int stream, const char *bytes, size_t size)
{
    return write_all(stream, bytes, size) == 0 ? WH_OK : WH_ERR_FILE;
}
