/* Keeps jobs for a while, with photos, tidying up and a copy, and acknowledges what is kept. All it does to the disk is
 * written down.
 *
 *   power-run FOLDER RECORD full|normal|off SEED
 *
 * RECORD "-": nothing is written down, what is acknowledged is printed, and there is no end and no copy. Acknowledged
 * are: "entry JOB SEQ KEY", "photo HASH", "copy ENTRIES". */
#include "record.h"

#include "base/text.h"
#include "store/sqlite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { GROUPS = 70, TIDY = 9, PHOTO = 6, COPY = 40, LARGEST = 6000 };

struct run {
    const char *folder, *synchronous;
    unsigned seed, name;
    int entries;
    bool endless;
};

static unsigned chance(struct run *run, unsigned below)
{
    run->seed = run->seed * 1103515245u + 12345u;
    return (run->seed >> 16) % below;
}

static void must(enum wh_status status, const struct wh_errors *errors)
{
    if (status == WH_OK) return;
    fputs(wh_errors_text(errors->arena, errors), stderr);
    exit(1);
}

static const char *random_text(struct run *run, struct wh_arena *arena)
{
    size_t size = 20 + chance(run, chance(run, 8) ? 600 : LARGEST);
    char *text = wh_arena_get(arena, size + 1);
    for (size_t i = 0; i < size; i++) text[i] = (char)('a' + chance(run, 26));
    return text;
}

static const char *keep_photo(struct run *run, struct wh_arena *arena, struct wh_store *store)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_hash hash;
    const char *bytes = random_text(run, arena);
    must(wh_store_keep(store, arena, bytes, strlen(bytes), &hash, &errors), &errors);
    record_acknowledge(wh_arena_print(arena, "photo %s", wh_hash_text(arena, &hash)));
    return wh_hash_text(arena, &hash);
}

/* One to four entries in one transaction, acknowledged when it is over. */
static void write_group(struct run *run, struct wh_arena *arena, struct wh_store *store, const char *photo)
{
    struct wh_errors errors = wh_errors_in(arena);
    const struct wh_head words = {.machine = "clarifier", .title = "both bearings", .state = "on the bench"};
    struct wh_record records[4];
    size_t n = 1 + chance(run, 4);
    must(wh_store_begin(store, &errors), &errors);
    for (size_t i = 0; i < n; i++) {
        const char *body = photo ? photo : random_text(run, arena);
        records[i] = (struct wh_record){.job = chance(run, 3),
                                        .at = 1000 + run->entries,
                                        .who = "Ada",
                                        .kind = "note",
                                        .key = wh_arena_print(arena, "k%u/%d", run->name, run->entries++),
                                        .body = body,
                                        .size = strlen(body)};
        must(wh_store_add(store, &records[i], &words, &errors), &errors);
    }
    must(wh_store_commit(store, &errors), &errors);
    for (size_t i = 0; i < n; i++)
        record_acknowledge(
            wh_arena_print(arena, "entry %d %d %s", (int)records[i].job, (int)records[i].seq, records[i].key));
}

static void lower(struct wh_store *store, const char *synchronous)
{
    char statement[64];
    snprintf(statement, sizeof statement, "PRAGMA synchronous = %s", synchronous);
    if (sqlite3_exec(wh_sqlite_of(store)->db, statement, NULL, NULL, NULL) != SQLITE_OK) exit(1);
}

static enum wh_status work(struct wh_arena *arena, void *context)
{
    struct run *run = context;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store, *beside;
    const char *path = wh_arena_print(arena, "%s/jobs.db", run->folder);
    must(wh_store_open(arena, path, WH_STORE_WRITE, &store, &errors), &errors);
    must(wh_store_open(arena, path, WH_STORE_WRITE, &beside, &errors), &errors);
    lower(store, run->synchronous);
    lower(beside, run->synchronous);
    for (int group = 0; group < GROUPS || run->endless; group++) {
        write_group(run, arena, store, group % PHOTO == 0 ? keep_photo(run, arena, store) : NULL);
        if (group % TIDY == TIDY - 1) must(wh_store_tidy(beside, &errors), &errors);
        if (group != COPY || run->endless) continue;
        must(wh_store_backup(beside, arena, wh_arena_print(arena, "%s/copy.db", run->folder), &errors), &errors);
        record_acknowledge(wh_arena_print(arena, "copy %d", run->entries));
    }
    _Exit(0); /* as it stands: nothing is closed and tidied up */
}

int main(int argc, char **argv)
{
    if (argc != 5) return 2;
    struct run run = {.folder = argv[1], .synchronous = argv[3], .seed = (unsigned)strtoul(argv[4], NULL, 10)};
    run.name = run.seed;
    run.endless = wh_same(argv[2], "-");
    if (!run.endless) record_start(argv[1], argv[2]);
    return wh_arena_run((size_t)4 << 30, work, &run) == WH_OK ? 0 : 1;
}
