#include "store/store.h"

#include "base/text.h"
#include "store/engine.h"

#include <inttypes.h>
#include <string.h>

enum { CHECK_MEMORY = 1 << 30, CHECK_AT_ONCE = 100 }; /* 100 records of the greatest size fit */

enum wh_status wh_store_begin(struct wh_store *store, struct wh_errors *reterr)
{
    if (store->unsure)
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = store->path},
                             "look at the disk, then start again",
                             "a sync has failed: what is on the disk is unknown, nothing more is taken");
    return store->engine->begin(store, reterr);
}

enum wh_status wh_store_commit(struct wh_store *store, struct wh_errors *reterr)
{
    return store->engine->commit(store, reterr);
}

void wh_store_rollback(struct wh_store *store)
{
    store->engine->rollback(store);
}

bool wh_store_stands(const struct wh_store *store)
{
    return store->engine->stands(store);
}

enum wh_status wh_store_mark(struct wh_store *store, struct wh_errors *reterr)
{
    return store->engine->mark(store, reterr);
}

enum wh_status wh_store_keep_mark(struct wh_store *store, struct wh_errors *reterr)
{
    return store->engine->keep_mark(store, reterr);
}

enum wh_status wh_store_undo(struct wh_store *store, struct wh_errors *reterr)
{
    return store->engine->undo(store, reterr);
}

bool wh_store_unsure(const struct wh_store *store)
{
    return store->unsure;
}

static enum wh_status refuse(const struct wh_store *store, struct wh_errors *reterr, const char *says)
{
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = store->path}, NULL, "%s", says);
}

static bool is_word(const char *text)
{
    size_t n = text ? strlen(text) : 0;
    return n > 0 && n <= WH_RECORD_WORD && wh_text_is_plain(text, n);
}

static enum wh_status check_record(const struct wh_store *store, const struct wh_record *record,
                                   struct wh_errors *reterr)
{
    if (record->job < 0) return refuse(store, reterr, "a chain has a number from 0");
    if (!is_word(record->who)) return refuse(store, reterr, "an entry has a name, of at most 200 bytes");
    if (!is_word(record->key)) return refuse(store, reterr, "an entry has a key, of at most 200 bytes");
    if (!is_word(record->kind)) return refuse(store, reterr, "an entry has a kind, of at most 200 bytes");
    if (record->size > WH_RECORD_BODY) return refuse(store, reterr, "an entry is longer than 8 MiB");
    if (strlen(record->body) != record->size || !wh_text_is_utf8(record->body, record->size))
        return refuse(store, reterr, "an entry is no text in UTF-8");
    return WH_OK;
}

enum wh_status wh_store_add(struct wh_store *store, struct wh_record *record, const struct wh_head *index,
                            struct wh_errors *reterr)
{
    int64_t seq;
    struct wh_hash before;
    enum wh_status status = check_record(store, record, reterr);
    if (status == WH_OK) status = store->engine->end(store, record->job, &seq, &before, reterr);
    if (status != WH_OK) return status;
    struct wh_record whole = *record;
    whole.seq = seq + 1;
    whole.hash = wh_chain_hash(&before, &whole);
    status = store->engine->insert(store, &whole, index, reterr);
    if (status == WH_OK) *record = whole;
    return status;
}

enum wh_status wh_store_head(struct wh_store *store, struct wh_arena *arena, int64_t job, struct wh_head *ret,
                             struct wh_errors *reterr)
{
    return store->engine->head(store, arena, job, ret, reterr);
}

enum wh_status wh_store_reached(struct wh_store *store, int64_t job, int64_t *ret, struct wh_errors *reterr)
{
    struct wh_hash hash;
    return store->engine->end(store, job, ret, &hash, reterr);
}

enum wh_status wh_store_last(struct wh_store *store, int64_t *ret, struct wh_errors *reterr)
{
    return store->engine->last(store, ret, reterr);
}

static enum wh_status broken(const struct wh_store *store, int64_t job, int64_t seq, const char *says,
                             struct wh_errors *reterr)
{
    return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = store->path},
                         "the store is damaged: see wharve store check, and bring back a backup",
                         "job %" PRId64 ", entry %" PRId64 ": %s", job, seq, says);
}

/* Do these records follow each other and the one with that hash? */
static enum wh_status check_chain(const struct wh_store *store, const struct wh_records *records, int64_t job,
                                  int64_t after, struct wh_hash *before, struct wh_errors *reterr)
{
    for (size_t i = 0; i < records->count; i++) {
        const struct wh_record *record = &records->at[i];
        if (record->seq != ++after) return broken(store, job, after, "it is missing", reterr);
        struct wh_hash hash = wh_chain_hash(before, record);
        if (!wh_hash_same(&hash, &record->hash))
            return broken(store, job, after, "what is stored does not fit its hash", reterr);
        *before = hash;
    }
    return WH_OK;
}

enum wh_status wh_store_records(struct wh_store *store, struct wh_arena *arena, int64_t job, int64_t after, size_t most,
                                struct wh_records *ret, struct wh_errors *reterr)
{
    struct wh_records records;
    struct wh_hash before = {{0}};
    int64_t from = after > 0 ? after - 1 : 0; /* the one before, for its hash */
    enum wh_status status =
        store->engine->records(store, arena, job, from, most < SIZE_MAX ? most + 1 : most, &records, reterr);
    if (status != WH_OK) return status;
    if (after > 0) {
        if (records.count == 0 || records.at[0].seq != after) return broken(store, job, after, "it is missing", reterr);
        before = records.at[0].hash;
        records.at++, records.count--;
    } else if (records.count > most) {
        records.count = most;
    }
    if ((status = check_chain(store, &records, job, after, &before, reterr)) == WH_OK) *ret = records;
    return status;
}

enum wh_status wh_store_find(struct wh_store *store, struct wh_arena *arena, int64_t job, const char *key,
                             struct wh_records *ret, struct wh_errors *reterr)
{
    return store->engine->find(store, arena, job, key, ret, reterr);
}

enum wh_status wh_store_heads(struct wh_store *store, struct wh_arena *arena, const char *machine, const char *state,
                              size_t most, struct wh_heads *ret, struct wh_errors *reterr)
{
    return store->engine->heads(store, arena, machine, state, most, ret, reterr);
}

enum wh_status wh_store_keep(struct wh_store *store, struct wh_arena *arena, const char *bytes, size_t size,
                             struct wh_hash *ret, struct wh_errors *reterr)
{
    if (size > WH_STORE_FILE) return refuse(store, reterr, "a file to keep is longer than 32 MiB");
    struct wh_hash hash = wh_hash_of(bytes, size);
    enum wh_status status = store->engine->keep(store, arena, &hash, bytes, size, reterr);
    if (status == WH_OK) *ret = hash;
    return status;
}

enum wh_status wh_store_fetch(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash, char **ret,
                              size_t *ret_size, struct wh_errors *reterr)
{
    char *bytes;
    size_t size;
    enum wh_status status = store->engine->fetch(store, arena, hash, &bytes, &size, reterr);
    if (status != WH_OK) return status;
    struct wh_hash holds = wh_hash_of(bytes, size);
    if (!wh_hash_same(&holds, hash))
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = store->path},
                             "the store is damaged: bring back a backup", "the kept file %s does not fit its hash",
                             wh_hash_text(arena, hash));
    *ret = bytes;
    *ret_size = size;
    return WH_OK;
}

/* The check of a chain, piece by piece, or of one kept file: its memory is given back after each. */
struct checking {
    struct wh_store *store;
    const struct wh_head *head;
    const struct wh_hash *file;
    struct wh_errors *errors;
    struct wh_store_count *count;
    int64_t seq, clock;
    struct wh_hash hash;
};

/* WH_ERR_NO_ANSWER: there are no more. */
static enum wh_status check_piece(struct wh_arena *arena, void *context)
{
    struct checking *c = context;
    struct wh_records records;
    enum wh_status status =
        c->store->engine->records(c->store, arena, c->head->job, c->seq, CHECK_AT_ONCE, &records, c->errors);
    if (status == WH_OK) status = check_chain(c->store, &records, c->head->job, c->seq, &c->hash, c->errors);
    if (status != WH_OK) return status;
    for (size_t i = 0; i < records.count; i++) {
        c->count->clock_back += records.at[i].at < c->clock;
        c->clock = records.at[i].at;
    }
    c->seq += (int64_t)records.count;
    c->count->records += (int64_t)records.count;
    return records.count == 0 ? WH_ERR_NO_ANSWER : WH_OK;
}

static enum wh_status check_whole_chain(struct checking *c)
{
    enum wh_status status;
    c->seq = 0, c->clock = INT64_MIN, c->hash = (struct wh_hash){{0}};
    while ((status = wh_arena_run(CHECK_MEMORY, check_piece, c)) == WH_OK) continue;
    if (status != WH_ERR_NO_ANSWER) return status;
    int64_t job = c->head->job;
    if (c->seq < c->head->seq) return broken(c->store, job, c->seq + 1, "it is missing: the end is cut off", c->errors);
    if (c->seq > c->head->seq || !wh_hash_same(&c->hash, &c->head->hash))
        return broken(c->store, job, c->seq, "the head of the chain names another end", c->errors);
    c->count->chains++;
    return WH_OK;
}

static enum wh_status check_file(struct wh_arena *arena, void *context)
{
    struct checking *c = context;
    char *bytes;
    size_t size;
    enum wh_status status = wh_store_fetch(c->store, arena, c->file, &bytes, &size, c->errors);
    c->count->files += status == WH_OK;
    return status;
}

enum wh_status wh_store_check(struct wh_store *store, struct wh_arena *arena, struct wh_store_count *ret,
                              struct wh_errors *reterr)
{
    struct wh_heads heads;
    struct wh_hash *files;
    size_t file_count;
    *ret = (struct wh_store_count){0};
    struct checking c = {.store = store, .errors = reterr, .count = ret};
    enum wh_status status = store->engine->sound(store, reterr);
    if (status == WH_OK) status = wh_store_heads(store, arena, NULL, NULL, SIZE_MAX, &heads, reterr);
    if (status == WH_OK) status = store->engine->kept(store, arena, &files, &file_count, reterr);
    if (status != WH_OK) return status;
    for (size_t i = heads.count; i > 0 && status == WH_OK; i--) {
        c.head = &heads.at[i - 1];
        status = check_whole_chain(&c);
    }
    for (size_t i = 0; i < file_count && status == WH_OK; i++) {
        c.file = &files[i];
        status = wh_arena_run(CHECK_MEMORY, check_file, &c);
    }
    return status;
}

enum wh_status wh_store_backup(struct wh_store *store, struct wh_arena *arena, const char *path,
                               struct wh_errors *reterr)
{
    return store->engine->backup(store, arena, path, reterr);
}

enum wh_status wh_store_tidy(struct wh_store *store, struct wh_errors *reterr)
{
    return store->engine->tidy(store, reterr);
}

int wh_store_waiting(const struct wh_store *store)
{
    return store->engine->waiting(store);
}
