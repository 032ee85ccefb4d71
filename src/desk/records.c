/* What the desk passes on to the store: lists, entries after one, kept files, the check, the copy. */
#include "base/text.h"
#include "desk/inside.h"

#include <inttypes.h>

/* The store's part of a call, under its lock; memory that runs out must not leave the lock behind. */
struct call {
    struct wh_desk *desk;
    int64_t job, after;
    const char *machine, *state, *path, *bytes;
    size_t most, size;
    struct wh_records *records;
    struct wh_heads *heads;
    struct wh_hash *hash;
    const struct wh_hash *wanted;
    char **ret;
    size_t *ret_size;
    struct wh_errors *errors;
};

static enum wh_status locked(struct wh_arena *arena, struct call *call,
                             enum wh_status (*body)(struct wh_arena *, void *))
{
    pthread_mutex_lock(&call->desk->read_lock);
    enum wh_status status = wh_arena_within(arena, body, call);
    pthread_mutex_unlock(&call->desk->read_lock);
    if (status == WH_ERR_NOMEM) wh_arena_give_up(arena);
    return status;
}

static enum wh_status records_within(struct wh_arena *arena, void *context)
{
    struct call *c = context;
    return wh_store_records(c->desk->read, arena, c->job, c->after, c->most, c->records, c->errors);
}

enum wh_status wh_desk_since(struct wh_desk *desk, struct wh_arena *arena, int64_t job, int64_t after, size_t most,
                             struct wh_records *ret, struct wh_errors *reterr)
{
    struct call call = {.desk = desk, .job = job, .after = after, .most = most, .records = ret, .errors = reterr};
    return locked(arena, &call, records_within);
}

static enum wh_status heads_within(struct wh_arena *arena, void *context)
{
    struct call *c = context;
    return wh_store_heads(c->desk->read, arena, c->machine, c->state, c->most, c->heads, c->errors);
}

/* Without the workshop's own chain. */
enum wh_status wh_desk_jobs(struct wh_desk *desk, struct wh_arena *arena, const char *machine, const char *state,
                            size_t most, struct wh_heads *ret, struct wh_errors *reterr)
{
    struct wh_heads heads = {0};
    struct call call = {
        .desk = desk, .machine = machine, .state = state, .most = most, .heads = &heads, .errors = reterr};
    enum wh_status status = locked(arena, &call, heads_within);
    if (status != WH_OK) return status;
    if (heads.count && heads.at[heads.count - 1].job == 0) heads.count--;
    *ret = heads;
    return WH_OK;
}

static enum wh_status keep_within(struct wh_arena *arena, void *context)
{
    struct call *c = context;
    return wh_store_keep(c->desk->read, arena, c->bytes, c->size, c->hash, c->errors);
}

enum wh_status wh_desk_keep(struct wh_desk *desk, struct wh_arena *arena, const char *bytes, size_t size,
                            struct wh_hash *ret, struct wh_errors *reterr)
{
    struct call call = {.desk = desk, .bytes = bytes, .size = size, .hash = ret, .errors = reterr};
    return locked(arena, &call, keep_within);
}

static enum wh_status fetch_within(struct wh_arena *arena, void *context)
{
    struct call *c = context;
    return wh_store_fetch(c->desk->read, arena, c->wanted, c->ret, c->ret_size, c->errors);
}

enum wh_status wh_desk_fetch(struct wh_desk *desk, struct wh_arena *arena, const struct wh_hash *hash, char **ret,
                             size_t *ret_size, struct wh_errors *reterr)
{
    struct call call = {.desk = desk, .wanted = hash, .ret = ret, .ret_size = ret_size, .errors = reterr};
    return locked(arena, &call, fetch_within);
}

static enum wh_status backup_within(struct wh_arena *arena, void *context)
{
    struct call *c = context;
    return wh_store_backup(c->desk->read, arena, c->path, c->errors);
}

enum wh_status wh_desk_backup(struct wh_desk *desk, struct wh_arena *arena, const char *path, struct wh_errors *reterr)
{
    struct call call = {.desk = desk, .path = path, .errors = reterr};
    return locked(arena, &call, backup_within);
}

/* Of one job: it folds, and every file that it names is kept. */
struct checking {
    struct wh_desk *desk;
    int64_t job;
    const struct wh_workshop_job *noted; /* what the workshop says of it; NULL: nothing */
    struct wh_errors *errors;
};

static enum wh_status check_file(struct wh_arena *arena, struct checking *c, const char *text)
{
    struct wh_hash hash;
    char *bytes;
    size_t size;
    if (!wh_hash_read(text, &hash))
        return wh_errors_add(c->errors, WH_ERR_FILE, (struct wh_place){.file = c->desk->ask.path}, NULL,
                             "job %" PRId64 ": \"%s\" is no name of a kept file", c->job, text);
    if (wh_store_fetch(c->desk->read, arena, &hash, &bytes, &size, c->errors) == WH_OK) return WH_OK;
    return wh_errors_add(c->errors, WH_ERR_FILE, (struct wh_place){.file = c->desk->ask.path}, "bring back a backup",
                         "job %" PRId64 " names the file %s, which is not there", c->job, text);
}

static enum wh_status check_noted(struct wh_arena *arena, struct checking *c, const struct wh_records *records)
{
    if (!c->noted || c->noted->reached < 1) return WH_OK;
    struct wh_place place = {.file = c->desk->ask.path};
    if ((int64_t)records->count < c->noted->reached)
        return wh_errors_add(c->errors, WH_ERR_FILE, place, "bring back a backup",
                             "job %" PRId64 " was signed at entry %" PRId64 ", which is not there", c->job,
                             c->noted->reached);
    const struct wh_record *record = &records->at[c->noted->reached - 1];
    if (!wh_same(wh_hash_text(arena, &record->hash), c->noted->hash))
        return wh_errors_add(c->errors, WH_ERR_FILE, place, "bring back a backup",
                             "job %" PRId64 ", entry %" PRId64 ": it is not what was signed", c->job, record->seq);
    return WH_OK;
}

static enum wh_status check_job(struct wh_arena *arena, void *context)
{
    struct checking *c = context;
    struct wh_records records;
    struct wh_job job = {0};
    enum wh_status status = wh_store_records(c->desk->read, arena, c->job, 0, SIZE_MAX, &records, c->errors);
    if (status == WH_OK && records.count == 0)
        return wh_errors_add(c->errors, WH_ERR_FILE, (struct wh_place){.file = c->desk->ask.path},
                             "bring back a backup", "job %" PRId64 " was opened and is not there", c->job);
    for (size_t i = 0; i < records.count && status == WH_OK; i++) {
        const struct wh_record *r = &records.at[i];
        struct wh_event_in event = {r->job, r->seq, r->at, r->who, r->key, r->kind, r->body, r->size};
        status = wh_job_fold(arena, &job, &event, c->errors);
    }
    if (status == WH_OK) status = check_noted(arena, c, &records);
    for (size_t i = 0; i < job.files.count && status == WH_OK; i++) status = check_file(arena, c, job.files.at[i]);
    return status;
}

struct whole {
    struct wh_desk *desk;
    struct wh_store_count *count;
    struct wh_errors *errors;
};

static enum wh_status check_within(struct wh_arena *arena, void *context)
{
    struct whole *w = context;
    struct wh_records records;
    struct wh_workshop workshop = {0};
    struct wh_heads heads = {0};
    enum wh_status status = wh_store_check(w->desk->read, arena, w->count, w->errors);
    if (status == WH_OK) status = wh_store_records(w->desk->read, arena, 0, 0, SIZE_MAX, &records, w->errors);
    for (size_t i = 0; status == WH_OK && i < records.count; i++) {
        const struct wh_record *r = &records.at[i];
        struct wh_event_in event = {r->job, r->seq, r->at, r->who, r->key, r->kind, r->body, r->size};
        status = wh_workshop_fold(arena, &workshop, &event, w->errors);
    }
    for (size_t i = 0; status == WH_OK && i < workshop.jobs.count; i++) {
        struct checking checking = {w->desk, workshop.jobs.at[i].job, &workshop.jobs.at[i], w->errors};
        status = wh_arena_run(WH_DESK_MEMORY, check_job, &checking);
    }
    if (status == WH_OK) status = wh_store_heads(w->desk->read, arena, NULL, NULL, SIZE_MAX, &heads, w->errors);
    size_t jobs = status == WH_OK && heads.count ? heads.count - (heads.at[heads.count - 1].job == 0) : 0;
    if (status == WH_OK && jobs != workshop.jobs.count)
        status = wh_errors_add(w->errors, WH_ERR_FILE, (struct wh_place){.file = w->desk->ask.path}, NULL,
                               "there are %zu jobs, the workshop's own chain knows %zu", jobs, workshop.jobs.count);
    return status;
}

enum wh_status wh_desk_check(struct wh_desk *desk, struct wh_arena *arena, struct wh_store_count *ret,
                             struct wh_errors *reterr)
{
    struct whole whole = {desk, ret, reterr};
    pthread_mutex_lock(&desk->read_lock);
    enum wh_status status = wh_arena_within(arena, check_within, &whole);
    pthread_mutex_unlock(&desk->read_lock);
    if (status == WH_ERR_NOMEM) wh_arena_give_up(arena);
    return status;
}
