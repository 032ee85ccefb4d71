/* Hashes of records and of kept files: BLAKE2b, 256 bits (RFC 7693), from libsodium. */
#include "store/engine.h"

#include <sodium.h>
#include <string.h>

struct wh_hash wh_hash_of(const char *bytes, size_t size)
{
    struct wh_hash hash;
    crypto_generichash(hash.at, sizeof hash.at, (const unsigned char *)bytes, size, NULL, 0);
    return hash;
}

static void add_number(crypto_generichash_state *state, uint64_t number)
{
    unsigned char bytes[8];
    for (size_t i = 0; i < sizeof bytes; i++) bytes[i] = (unsigned char)(number >> 8 * i);
    crypto_generichash_update(state, bytes, sizeof bytes);
}

/* Its length first, so that no two records give the same bytes. */
static void add_bytes(crypto_generichash_state *state, const char *bytes, size_t size)
{
    add_number(state, size);
    crypto_generichash_update(state, (const unsigned char *)bytes, size);
}

struct wh_hash wh_chain_hash(const struct wh_hash *before, const struct wh_record *record)
{
    struct wh_hash hash;
    crypto_generichash_state state;
    crypto_generichash_init(&state, NULL, 0, sizeof hash.at);
    crypto_generichash_update(&state, before->at, sizeof before->at);
    add_number(&state, (uint64_t)record->job);
    add_number(&state, (uint64_t)record->seq);
    add_number(&state, (uint64_t)record->at);
    add_bytes(&state, record->who, strlen(record->who));
    add_bytes(&state, record->key, strlen(record->key));
    add_bytes(&state, record->kind, strlen(record->kind));
    add_bytes(&state, record->body, record->size);
    crypto_generichash_final(&state, hash.at, sizeof hash.at);
    return hash;
}

const char *wh_hash_text(struct wh_arena *arena, const struct wh_hash *hash)
{
    char *text = wh_arena_get(arena, WH_HASH_TEXT);
    return sodium_bin2hex(text, WH_HASH_TEXT, hash->at, sizeof hash->at);
}

bool wh_hash_read(const char *text, struct wh_hash *ret)
{
    size_t got;
    return strlen(text) == WH_HASH_TEXT - 1 &&
           sodium_hex2bin(ret->at, sizeof ret->at, text, WH_HASH_TEXT - 1, NULL, &got, NULL) == 0 &&
           got == sizeof ret->at;
}

bool wh_hash_same(const struct wh_hash *a, const struct wh_hash *b)
{
    return memcmp(a->at, b->at, sizeof a->at) == 0;
}

const char *wh_key_new(struct wh_arena *arena)
{
    unsigned char bytes[16];
    char *text = wh_arena_get(arena, 2 * sizeof bytes + 1);
    randombytes_buf(bytes, sizeof bytes);
    return sodium_bin2hex(text, 2 * sizeof bytes + 1, bytes, sizeof bytes);
}

const char *wh_word_hash(struct wh_arena *arena, const char *word)
{
    char *hash = wh_arena_get(arena, crypto_pwhash_STRBYTES);
    int failed = crypto_pwhash_str(hash, word, strlen(word), crypto_pwhash_OPSLIMIT_INTERACTIVE,
                                   crypto_pwhash_MEMLIMIT_INTERACTIVE);
    if (failed) wh_arena_give_up(arena); /* it only fails for want of memory */
    return hash;
}

bool wh_word_fits(const char *hash, const char *word)
{
    char copy[crypto_pwhash_STRBYTES] = {0};
    size_t n = strlen(hash);
    if (n >= sizeof copy) return false;
    memcpy(copy, hash, n);
    return crypto_pwhash_str_verify(copy, word, strlen(word)) == 0;
}
