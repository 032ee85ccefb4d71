/* The schema of the database file and its changes, by number. A change that was ever used is never edited: a new one is
 * put behind it. */
#include "base/file.h"
#include "store/sqlite.h"

#include <inttypes.h>

enum { OURS = 0x77687276 }; /* "whrv" at the head of the file */

static const char *const changes[WH_STORE_SCHEMA] = {
    /* 1 */
    "CREATE TABLE head ("
    "  job INTEGER PRIMARY KEY, seq INTEGER NOT NULL, hash BLOB NOT NULL,"
    "  opened INTEGER NOT NULL, changed INTEGER NOT NULL,"
    "  machine TEXT NOT NULL, title TEXT NOT NULL, state TEXT NOT NULL"
    ") STRICT;"
    "CREATE TABLE event ("
    "  job INTEGER NOT NULL REFERENCES head (job) DEFERRABLE INITIALLY DEFERRED, seq INTEGER NOT NULL,"
    "  at INTEGER NOT NULL, who TEXT NOT NULL, key TEXT NOT NULL, kind TEXT NOT NULL, body TEXT NOT NULL,"
    "  hash BLOB NOT NULL,"
    "  PRIMARY KEY (job, seq), UNIQUE (job, key)"
    ") STRICT, WITHOUT ROWID;"
    "CREATE INDEX head_machine ON head (machine, job);"
    "CREATE INDEX head_state ON head (state, job);",
};

static enum wh_status apply(struct wh_sqlite *sqlite, int64_t from, struct wh_errors *reterr)
{
    const char *deed = "the store cannot be brought up to date";
    enum wh_status status = WH_OK;
    for (int64_t i = from; i < WH_STORE_SCHEMA && status == WH_OK; i++)
        status = wh_sqlite_text(sqlite, changes[i], deed, reterr);
    const char *mark =
        wh_arena_print(sqlite->arena, "PRAGMA application_id = %d; PRAGMA user_version = %d", OURS, WH_STORE_SCHEMA);
    return status == WH_OK ? wh_sqlite_text(sqlite, mark, deed, reterr) : status;
}

/* The version of the schema, 0 for an empty file; looks whether the file is ours at all. */
static enum wh_status version(struct wh_sqlite *sqlite, int64_t *ret, struct wh_errors *reterr)
{
    int64_t owner = 0, objects = 0;
    struct wh_place place = {.file = sqlite->store.path};
    enum wh_status status = wh_sqlite_number(sqlite, "SELECT count(*) FROM sqlite_schema", &objects, reterr);
    if (status == WH_OK) status = wh_sqlite_number(sqlite, "PRAGMA application_id", &owner, reterr);
    if (status == WH_OK) status = wh_sqlite_number(sqlite, "PRAGMA user_version", ret, reterr);
    if (status != WH_OK) return status;
    if (owner != OURS && (objects > 0 || owner != 0 || *ret != 0))
        return wh_errors_add(reterr, WH_ERR_FILE, place, NULL, "this is a database, but no store of this program");
    if (*ret > WH_STORE_SCHEMA)
        return wh_errors_add(reterr, WH_ERR_INPUT, place, "use that program, or a newer one",
                             "the store was made by a newer program: its form is %" PRId64 ", this one knows up to %d",
                             *ret, WH_STORE_SCHEMA);
    return WH_OK;
}

static enum wh_status bring_up(struct wh_sqlite *sqlite, struct wh_errors *reterr)
{
    int64_t from;
    enum wh_status status = wh_sqlite_text(sqlite, "BEGIN EXCLUSIVE", "the store cannot be brought up to date", reterr);
    if (status == WH_OK) status = version(sqlite, &from, reterr); /* another program may have been quicker */
    if (status == WH_OK && from < WH_STORE_SCHEMA) status = apply(sqlite, from, reterr);
    if (status == WH_OK) return wh_sqlite_text(sqlite, "COMMIT", "the store cannot be brought up to date", reterr);
    sqlite3_exec(sqlite->db, "ROLLBACK", NULL, NULL, NULL);
    return status;
}

/* The size of a page counts for a new file only: an entry changes three pages, and each goes into the log whole. */
static enum wh_status write_ahead(struct wh_sqlite *sqlite, struct wh_errors *reterr)
{
    int64_t ahead = 0;
    enum wh_status status = wh_sqlite_text(sqlite, "PRAGMA page_size = 2048; PRAGMA journal_mode = WAL",
                                           "the store cannot be opened", reterr);
    if (status == WH_OK)
        status = wh_sqlite_number(sqlite, "SELECT journal_mode = 'wal' FROM pragma_journal_mode", &ahead, reterr);
    if (status == WH_OK && !ahead)
        status = wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = sqlite->store.path}, NULL,
                               "the store cannot be opened: its folder does not allow a file beside it");
    return status;
}

enum wh_status wh_sqlite_schema(struct wh_sqlite *sqlite, bool write, struct wh_errors *reterr)
{
    int64_t from;
    enum wh_status status = version(sqlite, &from, reterr);
    if (status != WH_OK) return status;
    if (from < WH_STORE_SCHEMA && !write)
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = sqlite->store.path}, NULL,
                             from == 0 ? "the store is empty" : "the store is of an older form: write to it once");
    if (!write) return WH_OK;
    if ((status = write_ahead(sqlite, reterr)) != WH_OK || from == WH_STORE_SCHEMA) return status;
    if ((status = bring_up(sqlite, reterr)) != WH_OK) return status;
    return wh_file_settle(sqlite->arena, sqlite->store.path, reterr);
}
