/* Stands before the system's own calls on files and writes each down: kind, path, offset, bytes. One record is
 * "KIND PATH OFFSET SIZE OTHER\n" and SIZE bytes. Files that are only shared memory are left out. */
#undef _FILE_OFFSET_BITS
#define _GNU_SOURCE
#include "record.h"

#include <dlfcn.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static int out = -1;
static char root[4096];

/* The system's own function of that name, for the function that stands before it. */
#define OWN(type, name, ...)                                                                                           \
    static type (*own)(__VA_ARGS__);                                                                                   \
    if (!own) *(void **)&own = dlsym(RTLD_NEXT, name)

static void put(const char *bytes, size_t size)
{
    OWN(ssize_t, "write", int, const void *, size_t);
    while (size > 0) {
        ssize_t n = own(out, bytes, size);
        if (n <= 0) abort();
        bytes += n;
        size -= (size_t)n;
    }
}

/* The path below the root, or NULL when it is none of ours. */
static const char *below(const char *path, char whole[4096])
{
    char folder[4096];
    const char *slash = strrchr(path, '/');
    snprintf(folder, sizeof folder, "%.*s", slash ? (int)(slash - path) : 1, slash ? path : ".");
    char *real = realpath(slash == path ? "/" : folder, NULL);
    if (!real) return NULL;
    snprintf(whole, 4096, "%.3000s/%.1000s", real, slash ? slash + 1 : path);
    free(real);
    size_t n = strlen(root), end = strlen(whole);
    bool ours = strncmp(whole, root, n) == 0 && whole[n] == '/';
    return ours && !(end > 4 && strcmp(whole + end - 4, "-shm") == 0) ? whole + n + 1 : NULL;
}

static void note(char kind, const char *path, long long offset, const void *bytes, size_t size, const char *other)
{
    char head[9000];
    int n = snprintf(head, sizeof head, "%c %s %lld %zu %s\n", kind, path, offset, size, other);
    put(head, (size_t)n);
    if (size) put(bytes, size);
}

static void note_path(char kind, const char *path)
{
    char whole[4096];
    const char *ours = out < 0 ? NULL : below(path, whole);
    if (ours) note(kind, ours, 0, NULL, 0, "-");
}

/* Of an open file; a folder gets kind 'D' in place of 'S'. */
static void note_file(char kind, int fd, long long offset, const void *bytes, size_t size)
{
    char link[64], path[4096] = {0}, whole[4096];
    struct stat state;
    if (out < 0 || fd == out) return;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    if (readlink(link, path, sizeof path - 1) < 0 || fstat(fd, &state) != 0) return;
    bool folder = S_ISDIR(state.st_mode), top = strcmp(path, root) == 0;
    if (!folder && !S_ISREG(state.st_mode)) return;
    const char *ours = top ? "." : below(path, whole);
    if (ours) note(folder && kind == 'S' ? 'D' : kind, ours, offset, bytes, size, "-");
}

void record_start(const char *below_root, const char *record)
{
    if (!realpath(below_root, root)) abort();
    out = open(record, O_CREAT | O_TRUNC | O_WRONLY | O_APPEND, 0644);
    if (out < 0) abort();
}

void record_acknowledge(const char *words)
{
    if (out >= 0) {
        note('A', "-", 0, words, strlen(words), "-");
    } else {
        puts(words);
        fflush(stdout);
    }
}

ssize_t pwrite64(int fd, const void *bytes, size_t size, off64_t offset)
{
    OWN(ssize_t, "pwrite64", int, const void *, size_t, off64_t);
    ssize_t n = own(fd, bytes, size, offset);
    if (n > 0) note_file('W', fd, offset, bytes, (size_t)n);
    return n;
}

ssize_t pwrite(int fd, const void *bytes, size_t size, off_t offset)
{
    return pwrite64(fd, bytes, size, offset);
}

ssize_t write(int fd, const void *bytes, size_t size)
{
    OWN(ssize_t, "write", int, const void *, size_t);
    long long offset = out >= 0 && fd != out ? lseek(fd, 0, SEEK_CUR) : 0;
    ssize_t n = own(fd, bytes, size);
    if (n > 0) note_file('W', fd, offset, bytes, (size_t)n);
    return n;
}

int ftruncate64(int fd, off64_t size)
{
    OWN(int, "ftruncate64", int, off64_t);
    int failed = own(fd, size);
    if (!failed) note_file('T', fd, size, NULL, 0);
    return failed;
}

int ftruncate(int fd, off_t size)
{
    return ftruncate64(fd, size);
}

int fdatasync(int fd)
{
    OWN(int, "fdatasync", int);
    int failed = own(fd);
    if (!failed) note_file('S', fd, 0, NULL, 0);
    return failed;
}

int fsync(int fd)
{
    OWN(int, "fsync", int);
    int failed = own(fd);
    if (!failed) note_file('S', fd, 0, NULL, 0);
    return failed;
}

int unlink(const char *path)
{
    OWN(int, "unlink", const char *);
    int failed = own(path);
    if (!failed) note_path('U', path);
    return failed;
}

int mkdir(const char *path, mode_t mode)
{
    OWN(int, "mkdir", const char *, mode_t);
    int failed = own(path, mode);
    if (!failed) note_path('M', path);
    return failed;
}

int rename(const char *from, const char *to)
{
    OWN(int, "rename", const char *, const char *);
    char old[4096], fresh[4096];
    int failed = own(from, to);
    const char *a = failed || out < 0 ? NULL : below(from, old), *b = a ? below(to, fresh) : NULL;
    if (b) note('R', a, 0, NULL, 0, b);
    return failed;
}

/* A file that was not there before is a new name in its folder; one that is cut to nothing loses its bytes. */
static int open_noted(const char *path, int flags, mode_t mode)
{
    OWN(int, "open64", const char *, int, ...);
    struct stat state;
    bool there = stat(path, &state) == 0;
    int fd = own(path, flags, mode);
    if (fd >= 0 && !there && (flags & O_CREAT)) note_path('C', path);
    if (fd >= 0 && there && (flags & O_TRUNC)) note_file('T', fd, 0, NULL, 0);
    return fd;
}

int open64(const char *path, int flags, ...)
{
    va_list more;
    va_start(more, flags);
    mode_t mode = flags & O_CREAT ? va_arg(more, mode_t) : 0;
    va_end(more);
    return open_noted(path, flags, mode);
}

int open(const char *path, int flags, ...)
{
    va_list more;
    va_start(more, flags);
    mode_t mode = flags & O_CREAT ? va_arg(more, mode_t) : 0;
    va_end(more);
    return open_noted(path, flags, mode);
}
