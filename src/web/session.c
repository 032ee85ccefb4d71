#include "web/session.h"

#include <pthread.h>
#include <sodium.h>
#include <string.h>
#include <time.h>

enum { VISITS = 256, NAMES = 128, IDLE = 12 * 3600, FREE_TRIES = 5, LONGEST_WAIT = 900 };

struct visit {
    char word[WH_VISIT + 1], person[WH_PERSON + 1];
    enum wh_standing standing;
    long long used; /* seconds of a clock that never goes back */
};

struct tried {
    char name[WH_PERSON + 1];
    int wrong;
    long long next; /* when it may be tried again */
};

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static struct visit visits[VISITS];
static struct tried names[NAMES];
static unsigned char secret[crypto_auth_KEYBYTES];

static long long now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return time.tv_sec + 1; /* never 0: that is an empty place */
}

enum wh_standing wh_standing_of(const char *role)
{
    return wh_same(role, "charge hand") ? WH_STANDING_CHARGE_HAND
           : wh_same(role, "fitter")    ? WH_STANDING_FITTER
                                        : WH_STANDING_READER;
}

bool wh_sessions_start(void)
{
    if (sodium_init() < 0) return false;
    crypto_auth_keygen(secret);
    return true;
}

bool wh_visit_read(const char *cookie, char visit[WH_VISIT + 1])
{
    const char *at = strstr(cookie, "visit=");
    if (!at || (at > cookie && at[-1] != ' ' && at[-1] != ';')) return false;
    at += strlen("visit=");
    if (strspn(at, "0123456789abcdef") != WH_VISIT) return false;
    memcpy(visit, at, WH_VISIT);
    visit[WH_VISIT] = 0;
    return true;
}

void wh_visit_new(char visit[WH_VISIT + 1])
{
    unsigned char word[WH_VISIT / 2];
    randombytes_buf(word, sizeof word);
    sodium_bin2hex(visit, WH_VISIT + 1, word, sizeof word);
}

void wh_visit_token(const char visit[WH_VISIT + 1], char token[WH_TOKEN + 1])
{
    unsigned char mac[crypto_auth_BYTES];
    crypto_auth(mac, (const unsigned char *)visit, WH_VISIT, secret);
    sodium_bin2hex(token, WH_TOKEN + 1, mac, sizeof mac);
}

bool wh_token_fits(const char own[WH_TOKEN + 1], const char *token)
{
    return strlen(token) == WH_TOKEN && sodium_memcmp(own, token, WH_TOKEN) == 0;
}

static struct visit *find_visit(const char *word)
{
    for (size_t i = 0; i < VISITS; i++)
        if (visits[i].used && sodium_memcmp(visits[i].word, word, WH_VISIT) == 0) return &visits[i];
    return NULL;
}

bool wh_sign_in(const char visit[WH_VISIT + 1], const char *person, enum wh_standing standing)
{
    size_t n = strlen(person);
    if (n == 0 || n > WH_PERSON) return false;
    pthread_mutex_lock(&lock);
    struct visit *known = find_visit(visit), *place = known ? known : &visits[0];
    for (size_t i = 0; i < VISITS && !known; i++)
        if (visits[i].used < place->used) place = &visits[i];
    *place = (struct visit){.standing = standing, .used = now()};
    memcpy(place->word, visit, WH_VISIT + 1);
    memcpy(place->person, person, n + 1);
    pthread_mutex_unlock(&lock);
    return true;
}

void wh_sign_out(const char visit[WH_VISIT + 1])
{
    pthread_mutex_lock(&lock);
    struct visit *known = find_visit(visit);
    if (known) sodium_memzero(known, sizeof *known);
    pthread_mutex_unlock(&lock);
}

bool wh_signed_in(const char visit[WH_VISIT + 1], char person[WH_PERSON + 1], enum wh_standing *ret)
{
    pthread_mutex_lock(&lock);
    struct visit *known = find_visit(visit);
    bool good = known && now() - known->used < IDLE;
    if (good) {
        known->used = now();
        memcpy(person, known->person, sizeof known->person);
        *ret = known->standing;
    }
    pthread_mutex_unlock(&lock);
    return good;
}

/* The place of a name, or the one that was idle longest. */
static struct tried *find_name(const char *name)
{
    struct tried *idle = &names[0];
    for (size_t i = 0; i < NAMES; i++) {
        if (strncmp(names[i].name, name, WH_PERSON) == 0) return &names[i];
        if (names[i].next < idle->next) idle = &names[i];
    }
    *idle = (struct tried){0};
    memcpy(idle->name, name, strnlen(name, WH_PERSON));
    return idle;
}

bool wh_sign_in_may_try(const char *name)
{
    pthread_mutex_lock(&lock);
    bool may = find_name(name)->next <= now();
    pthread_mutex_unlock(&lock);
    return may;
}

void wh_sign_in_tried(const char *name, bool good)
{
    pthread_mutex_lock(&lock);
    struct tried *tried = find_name(name);
    tried->wrong = good ? 0 : tried->wrong + 1;
    long long wait = 0;
    for (int i = FREE_TRIES; i <= tried->wrong && wait < LONGEST_WAIT; i++) wait = wait ? 2 * wait : 5;
    tried->next = now() + (wait < LONGEST_WAIT ? wait : LONGEST_WAIT);
    if (good || wait == 0) tried->next = now();
    pthread_mutex_unlock(&lock);
}
