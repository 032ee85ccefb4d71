/* The engine on a database file: opening, transactions, errors. */
#include "store/sqlite.h"

#include "base/file.h"
#include "base/text.h"

#include <string.h>

enum { PATIENCE = 5000 }; /* ms that a writer waits for another */

static const char *const texts[WH_SQL_COUNT] = {
    [WH_SQL_BEGIN] = "BEGIN IMMEDIATE",
    [WH_SQL_COMMIT] = "COMMIT",
    [WH_SQL_ROLLBACK] = "ROLLBACK",
    [WH_SQL_MARK] = "SAVEPOINT entry",
    [WH_SQL_KEEP_MARK] = "RELEASE entry",
    [WH_SQL_UNDO] = "ROLLBACK TO entry",
    [WH_SQL_END] = "SELECT seq, hash FROM head WHERE job = ?1",
    [WH_SQL_INSERT] =
        "INSERT INTO event (job, seq, at, who, key, kind, body, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    [WH_SQL_NEW_HEAD] = "INSERT INTO head (job, seq, hash, opened, changed, machine, title, state) "
                        "VALUES (?1, ?2, ?3, ?4, ?4, ?5, ?6, ?7)",
    [WH_SQL_MOVE_HEAD] = "UPDATE head SET seq = ?2, hash = ?3, changed = ?4 WHERE job = ?1",
    [WH_SQL_NAME_HEAD] = "UPDATE head SET machine = ?2, title = ?3, state = ?4 "
                         "WHERE job = ?1 AND (machine, title, state) IS NOT (?2, ?3, ?4)",
    [WH_SQL_HEAD] = "SELECT job, seq, hash, opened, changed, machine, title, state FROM head WHERE job = ?1",
    [WH_SQL_LAST] = "SELECT coalesce(max(job), 0) FROM head",
    [WH_SQL_RECORDS] = "SELECT job, seq, at, who, key, kind, body, hash FROM event WHERE job = ?1 AND seq > ?2 "
                       "ORDER BY seq LIMIT ?3",
    [WH_SQL_FIND] = "SELECT job, seq, at, who, key, kind, body, hash FROM event WHERE job = ?1 AND key = ?2",
    [WH_SQL_HEADS] = "SELECT job, seq, hash, opened, changed, machine, title, state FROM head "
                     "WHERE (?1 IS NULL OR machine = ?1) AND (?2 IS NULL OR state = ?2) ORDER BY job DESC LIMIT ?3",
};

struct wh_sqlite *wh_sqlite_of(const struct wh_store *store)
{
    return (struct wh_sqlite *)(uintptr_t)store;
}

/* Words for what can befall a file, and what would help. */
static const char *words_of(int code, const char **right)
{
    *right = NULL;
    switch (code & 0xFF) {
    case SQLITE_FULL: *right = "make room, then enter it again"; return "the disk is full; nothing of this was taken";
    case SQLITE_READONLY:
        *right = "whoever runs the program must be allowed to write the store and its folder";
        return "it is read-only; nothing of this was taken";
    case SQLITE_BUSY:
    case SQLITE_LOCKED: return "another program has kept it locked for five seconds; nothing of this was taken";
    case SQLITE_CORRUPT:
        *right = "bring back a backup; what is still legible is told by wharve store check";
        return "the store is damaged";
    case SQLITE_NOTADB: return "this is no store of this program";
    case SQLITE_CANTOPEN: return "it cannot be opened";
    case SQLITE_IOERR:
        *right = "look at the disk";
        return "the disk cannot be read or written; nothing of this was taken";
    default: return NULL;
    }
}

enum wh_status wh_sqlite_complain(struct wh_sqlite *sqlite, const char *deed, struct wh_errors *reterr)
{
    int code = sqlite3_extended_errcode(sqlite->db);
    const char *right, *says = words_of(code, &right);
    if (code == SQLITE_IOERR_FSYNC || code == SQLITE_IOERR_DIR_FSYNC || code == SQLITE_IOERR_TRUNCATE)
        sqlite->store.unsure = true;
    struct wh_place place = {.file = sqlite->store.path};
    if ((code & 0xFF) == SQLITE_NOMEM) return wh_errors_add(reterr, WH_ERR_NOMEM, place, NULL, "%s: no memory", deed);
    return wh_errors_add(reterr, WH_ERR_FILE, place, right, "%s: %s", deed, says ? says : sqlite3_errmsg(sqlite->db));
}

enum wh_status wh_sqlite_statement(struct wh_sqlite *sqlite, enum wh_sql sql, sqlite3_stmt **ret,
                                   struct wh_errors *reterr)
{
    sqlite3_stmt **statement = &sqlite->statements[sql];
    if (*statement) {
        sqlite3_reset(*statement);
        sqlite3_clear_bindings(*statement);
    } else if (sqlite3_prepare_v3(sqlite->db, texts[sql], -1, SQLITE_PREPARE_PERSISTENT, statement, NULL) !=
               SQLITE_OK) {
        return wh_sqlite_complain(sqlite, "the store cannot be read", reterr);
    }
    *ret = *statement;
    return WH_OK;
}

enum wh_status wh_sqlite_done(struct wh_sqlite *sqlite, sqlite3_stmt *statement, const char *deed,
                              struct wh_errors *reterr)
{
    int code = sqlite3_step(statement);
    enum wh_status status = code == SQLITE_DONE ? WH_OK : wh_sqlite_complain(sqlite, deed, reterr);
    sqlite3_reset(statement);
    return status;
}

enum wh_status wh_sqlite_run(struct wh_sqlite *sqlite, enum wh_sql sql, const char *deed, struct wh_errors *reterr)
{
    sqlite3_stmt *statement;
    enum wh_status status = wh_sqlite_statement(sqlite, sql, &statement, reterr);
    return status == WH_OK ? wh_sqlite_done(sqlite, statement, deed, reterr) : status;
}

enum wh_status wh_sqlite_text(struct wh_sqlite *sqlite, const char *statements, const char *deed,
                              struct wh_errors *reterr)
{
    return sqlite3_exec(sqlite->db, statements, NULL, NULL, NULL) == SQLITE_OK
               ? WH_OK
               : wh_sqlite_complain(sqlite, deed, reterr);
}

enum wh_status wh_sqlite_number(struct wh_sqlite *sqlite, const char *statement, int64_t *ret, struct wh_errors *reterr)
{
    sqlite3_stmt *reading;
    if (sqlite3_prepare_v2(sqlite->db, statement, -1, &reading, NULL) != SQLITE_OK)
        return wh_sqlite_complain(sqlite, "the store cannot be read", reterr);
    bool row = sqlite3_step(reading) == SQLITE_ROW;
    *ret = row ? sqlite3_column_int64(reading, 0) : 0;
    enum wh_status status = row ? WH_OK : wh_sqlite_complain(sqlite, "the store cannot be read", reterr);
    sqlite3_finalize(reading);
    return status;
}

static enum wh_status begin(struct wh_store *store, struct wh_errors *reterr)
{
    return wh_sqlite_run(wh_sqlite_of(store), WH_SQL_BEGIN, "the store cannot be written", reterr);
}

static enum wh_status commit(struct wh_store *store, struct wh_errors *reterr)
{
    return wh_sqlite_run(wh_sqlite_of(store), WH_SQL_COMMIT, "the store cannot be written", reterr);
}

static bool stands(const struct wh_store *store)
{
    return !sqlite3_get_autocommit(wh_sqlite_of(store)->db);
}

static void rollback(struct wh_store *store)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    for (size_t i = 0; i < WH_SQL_COUNT; i++) sqlite3_reset(sqlite->statements[i]);
    if (stands(store)) sqlite3_exec(sqlite->db, "ROLLBACK", NULL, NULL, NULL);
}

static enum wh_status mark(struct wh_store *store, struct wh_errors *reterr)
{
    return wh_sqlite_run(wh_sqlite_of(store), WH_SQL_MARK, "the store cannot be written", reterr);
}

static enum wh_status keep_mark(struct wh_store *store, struct wh_errors *reterr)
{
    return wh_sqlite_run(wh_sqlite_of(store), WH_SQL_KEEP_MARK, "the store cannot be written", reterr);
}

static enum wh_status undo(struct wh_store *store, struct wh_errors *reterr)
{
    enum wh_status status = wh_sqlite_run(wh_sqlite_of(store), WH_SQL_UNDO, "the store cannot be written", reterr);
    return status == WH_OK ? keep_mark(store, reterr) : status;
}

static enum wh_status tidy(struct wh_store *store, struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    int code = sqlite3_wal_checkpoint_v2(sqlite->db, NULL, SQLITE_CHECKPOINT_PASSIVE, NULL, NULL);
    if (code == SQLITE_OK || code == SQLITE_BUSY) return WH_OK;
    return wh_sqlite_complain(sqlite, "the store cannot be tidied", reterr);
}

static int waiting(const struct wh_store *store)
{
    return wh_sqlite_of(store)->waiting;
}

static const struct wh_store_engine engine = {begin,
                                              commit,
                                              rollback,
                                              stands,
                                              mark,
                                              keep_mark,
                                              undo,
                                              wh_sqlite_end,
                                              wh_sqlite_insert,
                                              wh_sqlite_head,
                                              wh_sqlite_last,
                                              wh_sqlite_records,
                                              wh_sqlite_find,
                                              wh_sqlite_heads,
                                              wh_sqlite_keep,
                                              wh_sqlite_fetch,
                                              wh_sqlite_kept,
                                              wh_sqlite_sound,
                                              wh_sqlite_backup,
                                              tidy,
                                              waiting};

static int note_waiting(void *context, sqlite3 *db, const char *name, int pages)
{
    (void)db, (void)name;
    ((struct wh_sqlite *)context)->waiting = pages;
    return SQLITE_OK;
}

static void close_store(void *handle)
{
    struct wh_sqlite *sqlite = handle;
    for (size_t i = 0; i < WH_SQL_COUNT; i++) sqlite3_finalize(sqlite->statements[i]);
    sqlite3_close(sqlite->db);
}

/* Sets what hangs on the connection and reads it back: a library built otherwise must not pass unseen. */
static enum wh_status set_up(struct wh_sqlite *sqlite, bool write, struct wh_errors *reterr)
{
    int64_t keys = 0, synchronous = 0;
    enum wh_status status = wh_sqlite_text(sqlite,
                                           "PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL; "
                                           "PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON",
                                           "the store cannot be opened", reterr);
    if (status == WH_OK) status = wh_sqlite_number(sqlite, "PRAGMA foreign_keys", &keys, reterr);
    if (status == WH_OK) status = wh_sqlite_number(sqlite, "PRAGMA synchronous", &synchronous, reterr);
    if (status == WH_OK && (keys != 1 || synchronous != 2))
        status = wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = sqlite->store.path}, NULL,
                               "the database library does not take \"synchronous full\" or \"foreign keys\"");
    if (status == WH_OK) status = wh_sqlite_schema(sqlite, write, reterr);
    if (status == WH_OK && !write)
        status = wh_sqlite_text(sqlite, "PRAGMA query_only = ON", "the store cannot be opened", reterr);
    return status;
}

enum wh_status wh_store_open(struct wh_arena *arena, const char *path, enum wh_store_use use, struct wh_store **ret,
                             struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = WH_NEW(arena, 1, struct wh_sqlite);
    bool write = use == WH_STORE_WRITE;
    sqlite->store = (struct wh_store){&engine, wh_arena_text(arena, path), false};
    sqlite->files = wh_arena_print(arena, "%s.files", path);
    sqlite->arena = arena;
    wh_arena_defer(arena, close_store, sqlite);
    struct wh_place place = {.file = sqlite->store.path};
    if (!write && !wh_file_there(path))
        return wh_errors_add(reterr, WH_ERR_FILE, place, "wharve job open makes one", "there is no store");
    int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | (write ? SQLITE_OPEN_CREATE : 0);
    sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0); /* nobody asks; counting takes a lock for every piece of memory */
    if (sqlite3_open_v2(path, &sqlite->db, flags, NULL) != SQLITE_OK)
        return wh_sqlite_complain(sqlite, "the store cannot be opened", reterr);
    sqlite3_extended_result_codes(sqlite->db, 1);
    sqlite3_busy_timeout(sqlite->db, PATIENCE);
    sqlite3_wal_hook(sqlite->db, note_waiting, sqlite); /* in place of checkpoints on the writer's path */
    if (write && sqlite3_db_readonly(sqlite->db, "main") == 1)
        return wh_errors_add(reterr, WH_ERR_FILE, place,
                             "whoever runs the program must be allowed to write the store and its folder",
                             "the store is read-only");
    enum wh_status status = set_up(sqlite, write, reterr);
    if (status == WH_OK) *ret = &sqlite->store;
    return status;
}
