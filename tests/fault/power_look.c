/* Opens stores as a program does that starts after a loss of power, goes through all of each, and says what is there.
 *
 * Paths come by standard input, one a line. For each: "sound" or "broken: WHY", then "entry JOB SEQ KEY" for each entry
 * and "photo HASH" for each kept file, then "end". */
#include "store/engine.h"

#include <stdio.h>
#include <string.h>

static void print_chain(struct wh_arena *arena, struct wh_store *store, int64_t job)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_records records = {0};
    wh_store_records(store, arena, job, 0, SIZE_MAX, &records, &errors);
    for (size_t i = 0; i < records.count; i++)
        printf("entry %d %d %s\n", (int)job, (int)records.at[i].seq, records.at[i].key);
}

static void print_photos(struct wh_arena *arena, struct wh_store *store)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_hash *hashes;
    size_t count = 0;
    store->engine->kept(store, arena, &hashes, &count, &errors);
    for (size_t i = 0; i < count; i++) printf("photo %s\n", wh_hash_text(arena, &hashes[i]));
}

static enum wh_status look(struct wh_arena *arena, void *path)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store = NULL;
    struct wh_store_count count;
    enum wh_status status = wh_store_open(arena, path, WH_STORE_WRITE, &store, &errors);
    if (status == WH_OK) status = wh_store_check(store, arena, &count, &errors);
    printf("%s%s\n", status == WH_OK ? "sound" : "broken: ", errors.first ? errors.first->says : "");
    for (int64_t job = 0; status == WH_OK && job < 3; job++) print_chain(arena, store, job);
    if (status == WH_OK) print_photos(arena, store);
    return WH_OK;
}

int main(void)
{
    char path[4096];
    while (fgets(path, sizeof path, stdin)) {
        path[strcspn(path, "\n")] = '\0';
        wh_arena_run(256 << 20, look, path);
        printf("end\n");
        fflush(stdout);
    }
    return 0;
}
