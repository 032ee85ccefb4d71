/* store.h - records in, records out. Can be read alone.
 *
 * A store holds chains of records, one chain a job, that are only ever added to, and whole files kept under the hash of
 * what they hold. Each record's hash covers the record before and its own stored bytes; a head beside each chain says
 * where it ends. What a record means is the caller's business. Two engines stand behind this header: a database file
 * (with the kept files in a folder beside it), and memory, for tests.
 *
 * A writer works in transactions: begin, add …, commit. What commit has said WH_OK to outlives a loss of power. A store
 * is used by one thread at a time; several stores may be open on one file, one of them writing at a time. */
#ifndef WH_STORE_STORE_H
#define WH_STORE_STORE_H

#include "base/error.h"

#include <stdbool.h>
#include <stdint.h>

enum {
    WH_HASH_BYTES = 32,
    WH_HASH_TEXT = 2 * WH_HASH_BYTES + 1,
    WH_RECORD_WORD = 200,     /* most bytes of who, key and kind */
    WH_RECORD_BODY = 8 << 20, /* most bytes of a body */
    WH_STORE_FILE = 32 << 20, /* most bytes of a kept file */
    WH_STORE_SCHEMA = 1,      /* the newest this program knows */
};

struct wh_hash {
    unsigned char at[WH_HASH_BYTES];
};

struct wh_record {
    int64_t job, seq; /* seq counts from 1 in each chain */
    int64_t at;       /* milliseconds since 1970 as the clock said, raw */
    const char *who, *key, *kind;
    const char *body; /* ended by a zero byte that size does not count */
    size_t size;
    struct wh_hash hash;
};

/* Where a chain ends, and what can be looked up of it without reading it: the caller fills the words. */
struct wh_head {
    int64_t job, seq;
    struct wh_hash hash;
    int64_t opened, changed; /* clock of the first and the last record */
    const char *machine, *title, *state;
};

struct wh_records {
    const struct wh_record *at;
    size_t count;
};

struct wh_heads {
    const struct wh_head *at;
    size_t count;
};

enum wh_store_use {
    WH_STORE_READ, /* nothing can be written */
    WH_STORE_WRITE /* made when it is not there */
};

struct wh_store;

/* Opens the database file, closed with the arena. Older schemas are brought up to date by a writer.
 * Errors: WH_ERR_FILE (not there, not a store, damaged, locked, read-only), WH_ERR_INPUT (made by a newer program). */
enum wh_status wh_store_open(struct wh_arena *arena, const char *path, enum wh_store_use use, struct wh_store **ret,
                             struct wh_errors *reterr);

/* An empty store in the arena. */
struct wh_store *wh_store_memory(struct wh_arena *arena);

/* A transaction; other writers wait meanwhile, up to five seconds. After any error ask wh_store_stands: it may be gone.
 * A part can be undone alone: mark before it, and then keep or undo it. */
enum wh_status wh_store_begin(struct wh_store *store, struct wh_errors *reterr);
enum wh_status wh_store_commit(struct wh_store *store, struct wh_errors *reterr);
void wh_store_rollback(struct wh_store *store);
bool wh_store_stands(const struct wh_store *store);
enum wh_status wh_store_mark(struct wh_store *store, struct wh_errors *reterr);
enum wh_status wh_store_keep_mark(struct wh_store *store, struct wh_errors *reterr);
enum wh_status wh_store_undo(struct wh_store *store, struct wh_errors *reterr);

/* Has a sync failed? What is on the disk is then unknown; nothing more may be acknowledged. */
bool wh_store_unsure(const struct wh_store *store);

/* Adds a record after the last of its chain; a chain begins with its first. Fills in seq and hash. The words of `index`
 * replace those of the chain's head. Errors: WH_ERR_INPUT for a key that the chain has, for what is too long. */
enum wh_status wh_store_add(struct wh_store *store, struct wh_record *record, const struct wh_head *index,
                            struct wh_errors *reterr);

/* The head of a chain; a chain that is not there has seq 0. The number of the last chain, 0 for none. */
enum wh_status wh_store_head(struct wh_store *store, struct wh_arena *arena, int64_t job, struct wh_head *ret,
                             struct wh_errors *reterr);
enum wh_status wh_store_last(struct wh_store *store, int64_t *ret, struct wh_errors *reterr);

/* The last record's number of a chain, 0 when it is not there: all that a caller needs who has folded it before. */
enum wh_status wh_store_reached(struct wh_store *store, int64_t job, int64_t *ret, struct wh_errors *reterr);

/* Up to `most` records after `seq`, in order; the record of a key (count 0: none). All hashes are checked on the way.
 */
enum wh_status wh_store_records(struct wh_store *store, struct wh_arena *arena, int64_t job, int64_t after, size_t most,
                                struct wh_records *ret, struct wh_errors *reterr);
enum wh_status wh_store_find(struct wh_store *store, struct wh_arena *arena, int64_t job, const char *key,
                             struct wh_records *ret, struct wh_errors *reterr);

/* The heads of the chains, newest first, up to `most`; of one machine or in one state where these are not NULL. */
enum wh_status wh_store_heads(struct wh_store *store, struct wh_arena *arena, const char *machine, const char *state,
                              size_t most, struct wh_heads *ret, struct wh_errors *reterr);

/* Keeps a file under the hash of what it holds; kept once however often. It outlives a loss of power before this
 * returns, so that a record that names it can be added. Not part of the transaction. */
enum wh_status wh_store_keep(struct wh_store *store, struct wh_arena *arena, const char *bytes, size_t size,
                             struct wh_hash *ret, struct wh_errors *reterr);
/* What is kept under a hash, checked against it. Errors: WH_ERR_INPUT when nothing is, WH_ERR_FILE. */
enum wh_status wh_store_fetch(struct wh_store *store, struct wh_arena *arena, const struct wh_hash *hash, char **ret,
                              size_t *ret_size, struct wh_errors *reterr);

/* What a check went through. */
struct wh_store_count {
    int64_t chains, records, files;
    int64_t clock_back; /* records whose clock stood before that of the one before: told, no fault */
};

/* Goes through the database, every chain and every kept file; the first broken place is the error. */
enum wh_status wh_store_check(struct wh_store *store, struct wh_arena *arena, struct wh_store_count *ret,
                              struct wh_errors *reterr);

/* A consistent copy at `path` while others write, kept files too; whole or not there. WH_ERR_INPUT: something is there
 * already. */
enum wh_status wh_store_backup(struct wh_store *store, struct wh_arena *arena, const char *path,
                               struct wh_errors *reterr);

/* Carries what waits beside the database over into it, as far as nobody reads the old. Writers need not wait. */
enum wh_status wh_store_tidy(struct wh_store *store, struct wh_errors *reterr);
/* Pages that wait beside the database since the last commit of this store. */
int wh_store_waiting(const struct wh_store *store);

/* The hash of bytes (BLAKE2b, 256 bits); as 64 hexadecimal digits; read back, false when they are none. */
struct wh_hash wh_hash_of(const char *bytes, size_t size);
const char *wh_hash_text(struct wh_arena *arena, const struct wh_hash *hash);
bool wh_hash_read(const char *text, struct wh_hash *ret);
bool wh_hash_same(const struct wh_hash *a, const struct wh_hash *b);

/* The hash of a PIN or pass phrase, made slow on purpose (Argon2id); does a word fit one? */
const char *wh_word_hash(struct wh_arena *arena, const char *word);
bool wh_word_fits(const char *hash, const char *word);

/* A key that no other entry has: 128 random bits, as hexadecimal digits. */
const char *wh_key_new(struct wh_arena *arena);

#endif
