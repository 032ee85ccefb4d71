/* The engine in memory: lists that are walked through. It serves tests of what stands on a store. */
#include "base/text.h"
#include "store/engine.h"

#include <string.h>

struct kept {
    struct wh_hash hash;
    const char *bytes;
    size_t size;
};

struct memory {
    struct wh_store store;
    struct wh_arena *arena;
    WH_LIST(struct wh_record) records;
    WH_LIST(struct wh_head) heads; /* one of every record, as it stood then: an undo cuts both */
    WH_LIST(struct kept) kept;
    bool open;
    size_t begun, marked; /* records at the begin of the transaction, at the mark */
};

static struct memory *memory_of(const struct wh_store *store)
{
    return (struct memory *)(uintptr_t)store;
}

static enum wh_status begin(struct wh_store *store, struct wh_errors *reterr)
{
    struct memory *memory = memory_of(store);
    if (memory->open)
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){0}, NULL, "a transaction stands already");
    memory->open = true;
    memory->begun = memory->marked = memory->records.count;
    return WH_OK;
}

static enum wh_status commit(struct wh_store *store, struct wh_errors *reterr)
{
    struct memory *memory = memory_of(store);
    if (!memory->open) return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){0}, NULL, "no transaction stands");
    memory->open = false;
    return WH_OK;
}

static void cut(struct memory *memory, size_t count)
{
    memory->records.count = memory->heads.count = count;
}

static void rollback(struct wh_store *store)
{
    struct memory *memory = memory_of(store);
    if (memory->open) cut(memory, memory->begun);
    memory->open = false;
}

static bool stands(const struct wh_store *store)
{
    return memory_of(store)->open;
}

static enum wh_status mark(struct wh_store *store, struct wh_errors *reterr)
{
    (void)reterr;
    memory_of(store)->marked = memory_of(store)->records.count;
    return WH_OK;
}

static enum wh_status keep_mark(struct wh_store *store, struct wh_errors *reterr)
{
    (void)store, (void)reterr;
    return WH_OK;
}

static enum wh_status undo(struct wh_store *store, struct wh_errors *reterr)
{
    (void)reterr;
    cut(memory_of(store), memory_of(store)->marked);
    return WH_OK;
}

static enum wh_status head(struct wh_store *store, struct wh_arena *arena, int64_t job, struct wh_head *ret,
                           struct wh_errors *reterr)
{
    (void)arena, (void)reterr;
    struct memory *memory = memory_of(store);
    *ret = (struct wh_head){.job = job, .machine = "", .title = "", .state = ""};
    for (size_t i = memory->heads.count; i > 0; i--)
        if (memory->heads.at[i - 1].job == job) {
            *ret = memory->heads.at[i - 1];
            break;
        }
    return WH_OK;
}

static enum wh_status end(struct wh_store *store, int64_t job, int64_t *seq, struct wh_hash *hash,
                          struct wh_errors *reterr)
{
    struct wh_head last;
    enum wh_status status = head(store, NULL, job, &last, reterr);
    *seq = last.seq;
    *hash = last.hash;
    return status;
}

static enum wh_status insert(struct wh_store *store, const struct wh_record *record, const struct wh_head *index,
                             struct wh_errors *reterr)
{
    struct memory *memory = memory_of(store);
    struct wh_head last;
    for (size_t i = 0; i < memory->records.count; i++)
        if (memory->records.at[i].job == record->job && wh_same(memory->records.at[i].key, record->key))
            return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "the key \"%s\" is there already",
                                 record->key);
    head(store, NULL, record->job, &last, reterr);
    struct wh_record copy = *record;
    copy.who = wh_arena_text(memory->arena, record->who);
    copy.key = wh_arena_text(memory->arena, record->key);
    copy.kind = wh_arena_text(memory->arena, record->kind);
    copy.body = wh_arena_slice(memory->arena, record->body, record->size);
    struct wh_head now = {
        .job = record->job,
        .seq = record->seq,
        .hash = record->hash,
        .opened = record->seq == 1 ? record->at : last.opened,
        .changed = record->at,
        .machine = wh_arena_text(memory->arena, index->machine),
        .title = wh_arena_text(memory->arena, index->title),
        .state = wh_arena_text(memory->arena, index->state),
    };
    *WH_PUSH(memory->arena, &memory->records) = copy;
    *WH_PUSH(memory->arena, &memory->heads) = now;
    return WH_OK;
}

static enum wh_status last(struct wh_store *store, int64_t *ret, struct wh_errors *reterr)
{
    (void)reterr;
    struct memory *memory = memory_of(store);
    *ret = 0;
    for (size_t i = 0; i < memory->records.count; i++)
        if (memory->records.at[i].job > *ret) *ret = memory->records.at[i].job;
    return WH_OK;
}

static enum wh_status records(struct wh_store *store, struct wh_arena *arena, int64_t job, int64_t after, size_t most,
                              struct wh_records *ret, struct wh_errors *reterr)
{
    (void)reterr;
    struct memory *memory = memory_of(store);
    WH_LIST(struct wh_record) list = {0};
    for (size_t i = 0; i < memory->records.count && list.count < most; i++)
        if (memory->records.at[i].job == job && memory->records.at[i].seq > after)
            *WH_PUSH(arena, &list) = memory->records.at[i];
    *ret = (struct wh_records){list.at, list.count};
    return WH_OK;
}

static enum wh_status find(struct wh_store *store, struct wh_arena *arena, int64_t job, const char *key,
                           struct wh_records *ret, struct wh_errors *reterr)
{
    (void)reterr;
    struct memory *memory = memory_of(store);
    WH_LIST(struct wh_record) list = {0};
    for (size_t i = 0; i < memory->records.count; i++)
        if (memory->records.at[i].job == job && wh_same(memory->records.at[i].key, key))
            *WH_PUSH(arena, &list) = memory->records.at[i];
    *ret = (struct wh_records){list.at, list.count};
    return WH_OK;
}

static enum wh_status heads(struct wh_store *store, struct wh_arena *arena, const char *machine, const char *state,
                            size_t most, struct wh_heads *ret, struct wh_errors *reterr)
{
    int64_t job;
    WH_LIST(struct wh_head) list = {0};
    last(store, &job, reterr);
    for (; job >= 0 && list.count < most; job--) {
        struct wh_head found;
        head(store, arena, job, &found, reterr);
        bool wanted =
            found.seq > 0 && (!machine || wh_same(machine, found.machine)) && (!state || wh_same(state, found.state));
        if (wanted) *WH_PUSH(arena, &list) = found;
    }
    *ret = (struct wh_heads){list.at, list.count};
    return WH_OK;
}

static const struct kept *find_kept(const struct memory *memory, const struct wh_hash *hash)
{
    for (size_t i = 0; i < memory->kept.count; i++)
        if (wh_hash_same(&memory->kept.at[i].hash, hash)) return &memory->kept.at[i];
    return NULL;
}

static enum wh_status keep(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash,
                           const char *bytes, size_t size, struct wh_errors *reterr)
{
    (void)arena, (void)reterr;
    struct memory *memory = memory_of(store);
    if (!find_kept(memory, hash))
        *WH_PUSH(memory->arena, &memory->kept) = (struct kept){*hash, wh_arena_slice(memory->arena, bytes, size), size};
    return WH_OK;
}

static enum wh_status fetch(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash, char **ret,
                            size_t *ret_size, struct wh_errors *reterr)
{
    const struct kept *kept = find_kept(memory_of(store), hash);
    if (!kept)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "no file %s is kept here",
                             wh_hash_text(arena, hash));
    *ret = wh_arena_slice(arena, kept->bytes, kept->size);
    *ret_size = kept->size;
    return WH_OK;
}

static enum wh_status kept(struct wh_store *store, struct wh_arena *arena, struct wh_hash **ret, size_t *ret_count,
                           struct wh_errors *reterr)
{
    (void)reterr;
    struct memory *memory = memory_of(store);
    *ret = WH_NEW(arena, memory->kept.count + 1, struct wh_hash);
    *ret_count = memory->kept.count;
    for (size_t i = 0; i < memory->kept.count; i++) (*ret)[i] = memory->kept.at[i].hash;
    return WH_OK;
}

static enum wh_status sound(struct wh_store *store, struct wh_errors *reterr)
{
    (void)store, (void)reterr;
    return WH_OK;
}

static enum wh_status backup(struct wh_store *store, struct wh_arena *arena, const char *path, struct wh_errors *reterr)
{
    (void)store, (void)arena;
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = path}, NULL, "memory is not backed up");
}

static int waiting(const struct wh_store *store)
{
    (void)store;
    return 0;
}

struct wh_store *wh_store_memory(struct wh_arena *arena)
{
    static const struct wh_store_engine engine = {begin, commit, rollback, stands, mark,    keep_mark, undo,
                                                  end,   insert, head,     last,   records, find,      heads,
                                                  keep,  fetch,  kept,     sound,  backup,  sound,     waiting};
    struct memory *memory = WH_NEW(arena, 1, struct memory);
    memory->store = (struct wh_store){&engine, "memory", false};
    memory->arena = arena;
    return &memory->store;
}
