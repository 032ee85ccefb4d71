/* engine.h - what an engine has to do for store.c, which does the hashing and the checking of what comes in. */
#ifndef WH_STORE_ENGINE_H
#define WH_STORE_ENGINE_H

#include "store/store.h"

struct wh_store_engine {
    enum wh_status (*begin)(struct wh_store *store, struct wh_errors *reterr);
    enum wh_status (*commit)(struct wh_store *store, struct wh_errors *reterr);
    void (*rollback)(struct wh_store *store);
    bool (*stands)(const struct wh_store *store);
    enum wh_status (*mark)(struct wh_store *store, struct wh_errors *reterr);
    enum wh_status (*keep_mark)(struct wh_store *store, struct wh_errors *reterr);
    enum wh_status (*undo)(struct wh_store *store, struct wh_errors *reterr);
    /* The end of a chain: seq and hash, zero for a chain that is not there. */
    enum wh_status (*end)(struct wh_store *store, int64_t job, int64_t *seq, struct wh_hash *hash,
                          struct wh_errors *reterr);
    enum wh_status (*insert)(struct wh_store *store, const struct wh_record *record, const struct wh_head *index,
                             struct wh_errors *reterr);
    enum wh_status (*head)(struct wh_store *store, struct wh_arena *arena, int64_t job, struct wh_head *ret,
                           struct wh_errors *reterr);
    enum wh_status (*last)(struct wh_store *store, int64_t *ret, struct wh_errors *reterr);
    enum wh_status (*records)(struct wh_store *store, struct wh_arena *arena, int64_t job, int64_t after, size_t most,
                              struct wh_records *ret, struct wh_errors *reterr);
    enum wh_status (*find)(struct wh_store *store, struct wh_arena *arena, int64_t job, const char *key,
                           struct wh_records *ret, struct wh_errors *reterr);
    enum wh_status (*heads)(struct wh_store *store, struct wh_arena *arena, const char *machine, const char *state,
                            size_t most, struct wh_heads *ret, struct wh_errors *reterr);
    enum wh_status (*keep)(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash,
                           const char *bytes, size_t size, struct wh_errors *reterr);
    enum wh_status (*fetch)(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash, char **ret,
                            size_t *ret_size, struct wh_errors *reterr);
    /* The hashes of all kept files. */
    enum wh_status (*kept)(struct wh_store *store, struct wh_arena *arena, struct wh_hash **ret, size_t *ret_count,
                           struct wh_errors *reterr);
    enum wh_status (*sound)(struct wh_store *store, struct wh_errors *reterr); /* the engine's own check of itself */
    enum wh_status (*backup)(struct wh_store *store, struct wh_arena *arena, const char *path,
                             struct wh_errors *reterr);
    enum wh_status (*tidy)(struct wh_store *store, struct wh_errors *reterr);
    int (*waiting)(const struct wh_store *store);
};

struct wh_store {
    const struct wh_store_engine *engine;
    const char *path;
    bool unsure; /* a sync has failed */
};

/* The hash of a record that follows one with the hash `before` (zero: it is the first). */
struct wh_hash wh_chain_hash(const struct wh_hash *before, const struct wh_record *record);

#endif
