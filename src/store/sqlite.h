/* sqlite.h - the engine on a database file, shared among its own files: the open handle, its statements, its errors. */
#ifndef WH_STORE_SQLITE_H
#define WH_STORE_SQLITE_H

#include "store/engine.h"

#include <sqlite3.h>

enum wh_sql {
    WH_SQL_BEGIN,
    WH_SQL_COMMIT,
    WH_SQL_ROLLBACK,
    WH_SQL_MARK,
    WH_SQL_KEEP_MARK,
    WH_SQL_UNDO,
    WH_SQL_END,
    WH_SQL_INSERT,
    WH_SQL_NEW_HEAD,
    WH_SQL_MOVE_HEAD,
    WH_SQL_NAME_HEAD,
    WH_SQL_HEAD,
    WH_SQL_LAST,
    WH_SQL_RECORDS,
    WH_SQL_FIND,
    WH_SQL_HEADS,
    WH_SQL_COUNT
};

struct wh_sqlite {
    struct wh_store store; /* first: a struct wh_store of this engine is one of these */
    sqlite3 *db;
    sqlite3_stmt *statements[WH_SQL_COUNT]; /* made when first used */
    const char *files;                      /* the folder of the kept files */
    int waiting;                            /* pages beside the database after the last commit */
    struct wh_arena *arena;
};

struct wh_sqlite *wh_sqlite_of(const struct wh_store *store);

/* What went wrong last, in words of this program; `deed` is what was being done. Notes a failed sync. */
enum wh_status wh_sqlite_complain(struct wh_sqlite *sqlite, const char *deed, struct wh_errors *reterr);

/* A statement ready for values: made when first used, else reset; steps it to its end; both at once. */
enum wh_status wh_sqlite_statement(struct wh_sqlite *sqlite, enum wh_sql sql, sqlite3_stmt **ret,
                                   struct wh_errors *reterr);
enum wh_status wh_sqlite_done(struct wh_sqlite *sqlite, sqlite3_stmt *statement, const char *deed,
                              struct wh_errors *reterr);
enum wh_status wh_sqlite_run(struct wh_sqlite *sqlite, enum wh_sql sql, const char *deed, struct wh_errors *reterr);

/* Runs statements that give nothing back; reads one number. */
enum wh_status wh_sqlite_text(struct wh_sqlite *sqlite, const char *statements, const char *deed,
                              struct wh_errors *reterr);
enum wh_status wh_sqlite_number(struct wh_sqlite *sqlite, const char *statement, int64_t *ret,
                                struct wh_errors *reterr);

/* Brings the schema up to WH_STORE_SCHEMA, or says that it is newer or none of ours. */
enum wh_status wh_sqlite_schema(struct wh_sqlite *sqlite, bool write, struct wh_errors *reterr);

/* The rest of the engine. */
enum wh_status wh_sqlite_end(struct wh_store *store, int64_t job, int64_t *seq, struct wh_hash *hash,
                             struct wh_errors *reterr);
enum wh_status wh_sqlite_insert(struct wh_store *store, const struct wh_record *record, const struct wh_head *index,
                                struct wh_errors *reterr);
enum wh_status wh_sqlite_head(struct wh_store *store, struct wh_arena *arena, int64_t job, struct wh_head *ret,
                              struct wh_errors *reterr);
enum wh_status wh_sqlite_last(struct wh_store *store, int64_t *ret, struct wh_errors *reterr);
enum wh_status wh_sqlite_records(struct wh_store *store, struct wh_arena *arena, int64_t job, int64_t after,
                                 size_t most, struct wh_records *ret, struct wh_errors *reterr);
enum wh_status wh_sqlite_find(struct wh_store *store, struct wh_arena *arena, int64_t job, const char *key,
                              struct wh_records *ret, struct wh_errors *reterr);
enum wh_status wh_sqlite_heads(struct wh_store *store, struct wh_arena *arena, const char *machine, const char *state,
                               size_t most, struct wh_heads *ret, struct wh_errors *reterr);
enum wh_status wh_sqlite_keep(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash,
                              const char *bytes, size_t size, struct wh_errors *reterr);
enum wh_status wh_sqlite_fetch(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash, char **ret,
                               size_t *ret_size, struct wh_errors *reterr);
enum wh_status wh_sqlite_kept(struct wh_store *store, struct wh_arena *arena, struct wh_hash **ret, size_t *ret_count,
                              struct wh_errors *reterr);
enum wh_status wh_sqlite_sound(struct wh_store *store, struct wh_errors *reterr);
enum wh_status wh_sqlite_backup(struct wh_store *store, struct wh_arena *arena, const char *path,
                                struct wh_errors *reterr);

#endif
