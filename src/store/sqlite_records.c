/* The engine on a database file: records and heads. */
#include "store/sqlite.h"

#include <string.h>

static void bind_text(sqlite3_stmt *statement, int at, const char *text)
{
    sqlite3_bind_text(statement, at, text, -1, SQLITE_STATIC);
}

static void bind_hash(sqlite3_stmt *statement, int at, const struct wh_hash *hash)
{
    sqlite3_bind_blob(statement, at, hash->at, sizeof hash->at, SQLITE_STATIC);
}

/* A copy in the arena with its size: texts are stored without zero bytes inside, a damaged one may have some. */
static const char *column_text(sqlite3_stmt *statement, int at, struct wh_arena *arena, size_t *ret_size)
{
    const unsigned char *text = sqlite3_column_text(statement, at);
    size_t size = (size_t)sqlite3_column_bytes(statement, at);
    if (ret_size) *ret_size = size;
    return wh_arena_slice(arena, text ? (const char *)text : "", text ? size : 0);
}

/* A stored hash of another length is no hash: it fits nothing. */
static struct wh_hash column_hash(sqlite3_stmt *statement, int at)
{
    struct wh_hash hash = {{0}};
    const void *bytes = sqlite3_column_blob(statement, at);
    if (bytes && sqlite3_column_bytes(statement, at) == (int)sizeof hash.at) memcpy(hash.at, bytes, sizeof hash.at);
    return hash;
}

static struct wh_record column_record(sqlite3_stmt *statement, struct wh_arena *arena)
{
    struct wh_record record = {
        .job = sqlite3_column_int64(statement, 0),
        .seq = sqlite3_column_int64(statement, 1),
        .at = sqlite3_column_int64(statement, 2),
        .who = column_text(statement, 3, arena, NULL),
        .key = column_text(statement, 4, arena, NULL),
        .kind = column_text(statement, 5, arena, NULL),
        .hash = column_hash(statement, 7),
    };
    record.body = column_text(statement, 6, arena, &record.size);
    return record;
}

static struct wh_head column_head(sqlite3_stmt *statement, struct wh_arena *arena)
{
    return (struct wh_head){
        .job = sqlite3_column_int64(statement, 0),
        .seq = sqlite3_column_int64(statement, 1),
        .hash = column_hash(statement, 2),
        .opened = sqlite3_column_int64(statement, 3),
        .changed = sqlite3_column_int64(statement, 4),
        .machine = column_text(statement, 5, arena, NULL),
        .title = column_text(statement, 6, arena, NULL),
        .state = column_text(statement, 7, arena, NULL),
    };
}

/* After the last step: the end of the rows, or an error. */
static enum wh_status ended(struct wh_sqlite *sqlite, sqlite3_stmt *statement, int code, struct wh_errors *reterr)
{
    enum wh_status status =
        code == SQLITE_DONE ? WH_OK : wh_sqlite_complain(sqlite, "the store cannot be read", reterr);
    sqlite3_reset(statement);
    return status;
}

enum wh_status wh_sqlite_end(struct wh_store *store, int64_t job, int64_t *seq, struct wh_hash *hash,
                             struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    sqlite3_stmt *statement;
    enum wh_status status = wh_sqlite_statement(sqlite, WH_SQL_END, &statement, reterr);
    if (status != WH_OK) return status;
    sqlite3_bind_int64(statement, 1, job);
    int code = sqlite3_step(statement);
    *seq = 0;
    *hash = (struct wh_hash){{0}};
    if (code == SQLITE_ROW) {
        *seq = sqlite3_column_int64(statement, 0);
        *hash = column_hash(statement, 1);
        code = SQLITE_DONE;
    }
    return ended(sqlite, statement, code, reterr);
}

static void bind_words(sqlite3_stmt *statement, int at, const struct wh_head *index)
{
    bind_text(statement, at, index->machine);
    bind_text(statement, at + 1, index->title);
    bind_text(statement, at + 2, index->state);
}

/* The words are written only where they change: they stand in indices of their own. */
static enum wh_status name_head(struct wh_sqlite *sqlite, int64_t job, const struct wh_head *index,
                                struct wh_errors *reterr)
{
    sqlite3_stmt *statement;
    enum wh_status status = wh_sqlite_statement(sqlite, WH_SQL_NAME_HEAD, &statement, reterr);
    if (status != WH_OK) return status;
    sqlite3_bind_int64(statement, 1, job);
    bind_words(statement, 2, index);
    return wh_sqlite_done(sqlite, statement, "the store cannot be written", reterr);
}

static enum wh_status move_head(struct wh_sqlite *sqlite, const struct wh_record *record, const struct wh_head *index,
                                struct wh_errors *reterr)
{
    sqlite3_stmt *statement;
    bool first = record->seq == 1;
    enum wh_status status = wh_sqlite_statement(sqlite, first ? WH_SQL_NEW_HEAD : WH_SQL_MOVE_HEAD, &statement, reterr);
    if (status != WH_OK) return status;
    sqlite3_bind_int64(statement, 1, record->job);
    sqlite3_bind_int64(statement, 2, record->seq);
    bind_hash(statement, 3, &record->hash);
    sqlite3_bind_int64(statement, 4, record->at);
    if (first) bind_words(statement, 5, index);
    status = wh_sqlite_done(sqlite, statement, "the store cannot be written", reterr);
    return status == WH_OK && !first ? name_head(sqlite, record->job, index, reterr) : status;
}

static enum wh_status insert_event(struct wh_sqlite *sqlite, const struct wh_record *record, struct wh_errors *reterr)
{
    sqlite3_stmt *statement;
    enum wh_status status = wh_sqlite_statement(sqlite, WH_SQL_INSERT, &statement, reterr);
    if (status != WH_OK) return status;
    sqlite3_bind_int64(statement, 1, record->job);
    sqlite3_bind_int64(statement, 2, record->seq);
    sqlite3_bind_int64(statement, 3, record->at);
    bind_text(statement, 4, record->who);
    bind_text(statement, 5, record->key);
    bind_text(statement, 6, record->kind);
    sqlite3_bind_text64(statement, 7, record->body, record->size, SQLITE_STATIC, SQLITE_UTF8);
    bind_hash(statement, 8, &record->hash);
    int code = sqlite3_step(statement);
    if (code == SQLITE_DONE) {
        status = WH_OK;
    } else if (code == SQLITE_CONSTRAINT_UNIQUE) {
        status = wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = sqlite->store.path}, NULL,
                               "the key \"%s\" is there already", record->key);
    } else {
        status = wh_sqlite_complain(sqlite, "the store cannot be written", reterr);
    }
    sqlite3_reset(statement);
    return status;
}

enum wh_status wh_sqlite_insert(struct wh_store *store, const struct wh_record *record, const struct wh_head *index,
                                struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    enum wh_status status = insert_event(sqlite, record, reterr);
    return status == WH_OK ? move_head(sqlite, record, index, reterr) : status;
}

enum wh_status wh_sqlite_head(struct wh_store *store, struct wh_arena *arena, int64_t job, struct wh_head *ret,
                              struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    sqlite3_stmt *statement;
    enum wh_status status = wh_sqlite_statement(sqlite, WH_SQL_HEAD, &statement, reterr);
    if (status != WH_OK) return status;
    sqlite3_bind_int64(statement, 1, job);
    int code = sqlite3_step(statement);
    *ret = (struct wh_head){.job = job, .machine = "", .title = "", .state = ""};
    if (code == SQLITE_ROW) {
        *ret = column_head(statement, arena);
        code = SQLITE_DONE;
    }
    return ended(sqlite, statement, code, reterr);
}

enum wh_status wh_sqlite_last(struct wh_store *store, int64_t *ret, struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    sqlite3_stmt *statement;
    enum wh_status status = wh_sqlite_statement(sqlite, WH_SQL_LAST, &statement, reterr);
    if (status != WH_OK) return status;
    int code = sqlite3_step(statement);
    *ret = code == SQLITE_ROW ? sqlite3_column_int64(statement, 0) : 0;
    return ended(sqlite, statement, code == SQLITE_ROW ? SQLITE_DONE : code, reterr);
}

static enum wh_status all_records(struct wh_sqlite *sqlite, sqlite3_stmt *statement, struct wh_arena *arena,
                                  struct wh_records *ret, struct wh_errors *reterr)
{
    WH_LIST(struct wh_record) list = {0};
    int code;
    while ((code = sqlite3_step(statement)) == SQLITE_ROW) *WH_PUSH(arena, &list) = column_record(statement, arena);
    *ret = (struct wh_records){list.at, list.count};
    return ended(sqlite, statement, code, reterr);
}

static int64_t limit(size_t most)
{
    return most > INT64_MAX ? -1 : (int64_t)most;
}

enum wh_status wh_sqlite_records(struct wh_store *store, struct wh_arena *arena, int64_t job, int64_t after,
                                 size_t most, struct wh_records *ret, struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    sqlite3_stmt *statement;
    enum wh_status status = wh_sqlite_statement(sqlite, WH_SQL_RECORDS, &statement, reterr);
    if (status != WH_OK) return status;
    sqlite3_bind_int64(statement, 1, job);
    sqlite3_bind_int64(statement, 2, after);
    sqlite3_bind_int64(statement, 3, limit(most));
    return all_records(sqlite, statement, arena, ret, reterr);
}

enum wh_status wh_sqlite_find(struct wh_store *store, struct wh_arena *arena, int64_t job, const char *key,
                              struct wh_records *ret, struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    sqlite3_stmt *statement;
    enum wh_status status = wh_sqlite_statement(sqlite, WH_SQL_FIND, &statement, reterr);
    if (status != WH_OK) return status;
    sqlite3_bind_int64(statement, 1, job);
    bind_text(statement, 2, key);
    return all_records(sqlite, statement, arena, ret, reterr);
}

enum wh_status wh_sqlite_heads(struct wh_store *store, struct wh_arena *arena, const char *machine, const char *state,
                               size_t most, struct wh_heads *ret, struct wh_errors *reterr)
{
    struct wh_sqlite *sqlite = wh_sqlite_of(store);
    sqlite3_stmt *statement;
    WH_LIST(struct wh_head) list = {0};
    int code;
    enum wh_status status = wh_sqlite_statement(sqlite, WH_SQL_HEADS, &statement, reterr);
    if (status != WH_OK) return status;
    bind_text(statement, 1, machine);
    bind_text(statement, 2, state);
    sqlite3_bind_int64(statement, 3, limit(most));
    while ((code = sqlite3_step(statement)) == SQLITE_ROW) *WH_PUSH(arena, &list) = column_head(statement, arena);
    *ret = (struct wh_heads){list.at, list.count};
    return ended(sqlite, statement, code, reterr);
}
