/* Gives every file of a corpus folder to a fuzz target: what a fuzzer once found stays a test. One TAP line a file. */
#include "base/file.h"
#include "fuzz.h"

#include <dirent.h>

enum { CAP = 1 << 20 };

static int seen(const struct dirent *entry)
{
    return entry->d_name[0] != '.';
}

static enum wh_status replay(struct wh_arena *arena, void *path)
{
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes;
    size_t size;
    enum wh_status status = wh_file_read(arena, path, CAP, &bytes, &size, &errors);
    if (status == WH_OK) LLVMFuzzerTestOneInput((const uint8_t *)bytes, size);
    return status;
}

int main(int argc, char **argv)
{
    struct dirent **entries;
    int n = argc == 2 ? scandir(argv[1], &entries, seen, alphasort) : -1;
    if (n < 1) {
        printf("Bail out! give one folder that holds a corpus\n");
        return 1;
    }
    printf("1..%d\n", n);
    for (int i = 0; i < n; i++) {
        char path[4096];
        snprintf(path, sizeof path, "%s/%s", argv[1], entries[i]->d_name);
        enum wh_status status = wh_arena_run((size_t)4 << 20, replay, path);
        printf("%s %d - %s\n", status == WH_OK ? "ok" : "not ok", i + 1, entries[i]->d_name);
        fflush(stdout);
        free(entries[i]);
    }
    free(entries);
    return 0;
}
