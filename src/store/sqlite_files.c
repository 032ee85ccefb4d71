/* The engine on a database file: kept files in a folder beside it, the check of the database, the copy while in use. */
#include "base/file.h"
#include "base/text.h"
#include "store/sqlite.h"

#include <string.h>

static const char *path_of(const struct wh_sqlite *sqlite, struct wh_arena *arena, const struct wh_hash *hash)
{
    return wh_arena_print(arena, "%s/%s", sqlite->files, wh_hash_text(arena, hash));
}

static enum wh_status write_settled(struct wh_arena *arena, const char *path, const char *bytes, size_t size,
                                    struct wh_errors *reterr)
{
    enum wh_status status = wh_file_write(arena, path, bytes, size, reterr);
    return status == WH_OK ? wh_file_settle(arena, path, reterr) : status;
}

/* Is it there already, whole? */
static bool holds(struct wh_arena *arena, const char *path, const struct wh_hash *hash)
{
    struct wh_errors errors = wh_errors_in(arena);
    char *bytes;
    size_t size;
    if (!wh_file_there(path) || wh_file_read(arena, path, WH_STORE_FILE, &bytes, &size, &errors) != WH_OK) return false;
    struct wh_hash found = wh_hash_of(bytes, size);
    return wh_hash_same(&found, hash);
}

enum wh_status wh_sqlite_keep(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash,
                              const char *bytes, size_t size, struct wh_errors *reterr)
{
    const char *path = path_of(wh_sqlite_of(store), arena, hash);
    return holds(arena, path, hash) ? wh_file_settle(arena, path, reterr)
                                    : write_settled(arena, path, bytes, size, reterr);
}

enum wh_status wh_sqlite_fetch(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash, char **ret,
                               size_t *ret_size, struct wh_errors *reterr)
{
    const char *path = path_of(wh_sqlite_of(store), arena, hash);
    if (!wh_file_there(path))
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = store->path}, NULL,
                             "no file %s is kept here", wh_hash_text(arena, hash));
    return wh_file_read(arena, path, WH_STORE_FILE, ret, ret_size, reterr);
}

/* What does not have a hash for a name is left over from a write that was cut off. */
enum wh_status wh_sqlite_kept(struct wh_store *store, struct wh_arena *arena, struct wh_hash **ret, size_t *ret_count,
                              struct wh_errors *reterr)
{
    struct wh_words names;
    enum wh_status status = wh_file_list(arena, wh_sqlite_of(store)->files, &names, reterr);
    if (status != WH_OK) return status;
    struct wh_hash *hashes = WH_NEW(arena, names.count + 1, struct wh_hash);
    size_t count = 0;
    for (size_t i = 0; i < names.count; i++)
        if (wh_hash_read(names.at[i], &hashes[count])) count++;
    *ret = hashes;
    *ret_count = count;
    return WH_OK;
}

/* The first line of what the database says of itself; "ok" is none. */
static enum wh_status look(struct wh_sqlite *sqlite, const char *statement, struct wh_errors *reterr)
{
    sqlite3_stmt *reading;
    if (sqlite3_prepare_v2(sqlite->db, statement, -1, &reading, NULL) != SQLITE_OK)
        return wh_sqlite_complain(sqlite, "the store cannot be read", reterr);
    int code = sqlite3_step(reading);
    const char *says = code == SQLITE_ROW ? (const char *)sqlite3_column_text(reading, 0) : "ok";
    enum wh_status status = WH_OK;
    if (code != SQLITE_ROW && code != SQLITE_DONE) {
        status = wh_sqlite_complain(sqlite, "the store cannot be read", reterr);
    } else if (!wh_same(says, "ok")) {
        status = wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = sqlite->store.path},
                               "the store is damaged: bring back a backup", "the database says: %s", says ? says : "");
    }
    sqlite3_finalize(reading);
    return status;
}

enum wh_status wh_sqlite_sound(struct wh_store *store, struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    enum wh_status status = look(sqlite, "PRAGMA integrity_check(1)", reterr);
    return status == WH_OK ? look(sqlite,
                                  "SELECT 'an entry of job ' || job || ' has no head' FROM event "
                                  "WHERE job NOT IN (SELECT job FROM head) LIMIT 1",
                                  reterr)
                           : status;
}

/* Copies the pages as they stood at one moment; others go on writing meanwhile. */
static enum wh_status copy_pages(struct wh_sqlite *sqlite, const char *path, struct wh_errors *reterr)
{
    struct wh_sqlite copy = {.store = {.path = path}};
    enum wh_status status = WH_OK;
    sqlite3_backup *backup = NULL;
    if (sqlite3_open_v2(path, &copy.db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL) == SQLITE_OK &&
        sqlite3_exec(copy.db, "PRAGMA synchronous = FULL", NULL, NULL, NULL) == SQLITE_OK)
        backup = sqlite3_backup_init(copy.db, "main", sqlite->db, "main");
    int code = backup ? sqlite3_backup_step(backup, -1) : SQLITE_ERROR;
    if (backup && sqlite3_backup_finish(backup) != SQLITE_OK && code == SQLITE_DONE) code = SQLITE_ERROR;
    if (code != SQLITE_DONE) status = wh_sqlite_complain(&copy, "the copy cannot be written", reterr);
    sqlite3_close(copy.db);
    return status;
}

struct file_copy {
    struct wh_sqlite *sqlite;
    const char *folder;
    const struct wh_hash *hash;
    struct wh_errors *errors;
};

static enum wh_status copy_file(struct wh_arena *arena, void *context)
{
    const struct file_copy *copy = context;
    const char *to = wh_arena_print(arena, "%s/%s", copy->folder, wh_hash_text(arena, copy->hash));
    char *bytes;
    size_t size;
    enum wh_status status = wh_store_fetch(&copy->sqlite->store, arena, copy->hash, &bytes, &size, copy->errors);
    return status == WH_OK ? write_settled(arena, to, bytes, size, copy->errors) : status;
}

/* All files kept by now: at least those that the copied records name. */
static enum wh_status copy_files(struct wh_sqlite *sqlite, struct wh_arena *arena, const char *folder,
                                 struct wh_errors *reterr)
{
    struct wh_hash *hashes;
    size_t count;
    enum wh_status status = wh_sqlite_kept(&sqlite->store, arena, &hashes, &count, reterr);
    for (size_t i = 0; i < count && status == WH_OK; i++) {
        struct file_copy copy = {sqlite, folder, &hashes[i], reterr};
        status = wh_arena_run(4 * (size_t)WH_STORE_FILE, copy_file, &copy);
    }
    return status;
}

static void remove_copy(struct wh_arena *arena, const char *path)
{
    static const char *const ends[] = {"", "-journal", "-wal", "-shm"};
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++)
        wh_file_remove(wh_arena_print(arena, "%s%s", path, ends[i]));
}

/* The copy has its name only once it is whole. */
enum wh_status wh_sqlite_backup(struct wh_store *store, struct wh_arena *arena, const char *path,
                                struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    const char *beside = wh_arena_print(arena, "%s.new", path), *files = wh_arena_print(arena, "%s.files", path);
    if (wh_file_there(path))
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = path}, "give the copy a name of its own",
                             "something of that name is there already");
    remove_copy(arena, beside);
    enum wh_status status = write_settled(arena, beside, "", 0, reterr); /* makes the folders */
    if (status == WH_OK) status = copy_pages(sqlite, beside, reterr);
    if (status == WH_OK) status = copy_files(sqlite, arena, files, reterr);
    if (status == WH_OK) status = wh_file_rename(arena, beside, path, reterr);
    if (status != WH_OK) remove_copy(arena, beside);
    return status;
}
