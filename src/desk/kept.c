/* Folded jobs, kept while there is room, each with its own memory and lock. */
#include "desk/inside.h"

static struct wh_kept *place_for(struct wh_desk *desk, int64_t number)
{
    struct wh_kept *oldest = NULL;
    for (size_t i = 0; i < WH_DESK_KEPT; i++) {
        struct wh_kept *kept = &desk->kept[i];
        if (kept->number == number) return kept;
        if (kept->users == 0 && (!oldest || kept->used < oldest->used)) oldest = kept;
    }
    if (!oldest) return NULL;
    wh_kept_forget(oldest);
    oldest->number = number;
    return oldest;
}

/* There are more places than threads that could use one, so that one is always free. */
struct wh_kept *wh_kept_take(struct wh_desk *desk, int64_t number)
{
    pthread_mutex_lock(&desk->kept_lock);
    struct wh_kept *kept = place_for(desk, number);
    if (kept) {
        kept->users++;
        kept->used = ++desk->clock;
    }
    pthread_mutex_unlock(&desk->kept_lock);
    return kept;
}

void wh_kept_let_go(struct wh_desk *desk, struct wh_kept *kept)
{
    pthread_mutex_lock(&desk->kept_lock);
    kept->users--;
    pthread_mutex_unlock(&desk->kept_lock);
}

void wh_kept_forget(struct wh_kept *kept)
{
    wh_arena_free(kept->arena);
    kept->arena = NULL;
    kept->job = NULL;
    kept->workshop = NULL;
}

struct folding {
    struct wh_kept *kept;
    struct wh_store *store;
    const struct wh_record *record;
    struct wh_errors *errors;
};

/* -1: nothing is folded. */
static int64_t reached(const struct wh_kept *kept)
{
    return !kept->job ? -1 : kept->number == 0 ? kept->workshop->seq : kept->job->seq;
}

enum wh_status wh_kept_is_fresh(const struct wh_kept *kept, struct wh_store *store, bool *ret, struct wh_errors *reterr)
{
    int64_t last = 0;
    enum wh_status status = wh_store_reached(store, kept->number, &last, reterr);
    *ret = status == WH_OK && reached(kept) >= last;
    return status;
}

static enum wh_status fold(struct wh_arena *arena, void *context)
{
    const struct folding *f = context;
    const struct wh_record *r = f->record;
    struct wh_event_in event = {r->job, r->seq, r->at, r->who, r->key, r->kind, r->body, r->size};
    return f->kept->number == 0 ? wh_workshop_fold(arena, f->kept->workshop, &event, f->errors)
                                : wh_job_fold(arena, f->kept->job, &event, f->errors);
}

/* A state that was left half folded is wrong: it is forgotten. */
enum wh_status wh_kept_fold(struct wh_kept *kept, const struct wh_record *record, struct wh_errors *reterr)
{
    struct folding folding = {kept, NULL, record, reterr};
    enum wh_status status = wh_arena_within(kept->arena, fold, &folding);
    if (status != WH_OK) wh_kept_forget(kept);
    return status;
}

static enum wh_status begin(struct wh_arena *arena, void *context)
{
    struct wh_kept *kept = context;
    kept->job = WH_NEW(arena, 1, struct wh_job);
    kept->workshop = WH_NEW(arena, 1, struct wh_workshop);
    return WH_OK;
}

static enum wh_status fold_rest(struct wh_arena *arena, void *context)
{
    const struct folding *f = context;
    struct wh_records records;
    enum wh_status status =
        wh_store_records(f->store, arena, f->kept->number, reached(f->kept), SIZE_MAX, &records, f->errors);
    for (size_t i = 0; i < records.count && status == WH_OK; i++)
        status = wh_kept_fold(f->kept, &records.at[i], f->errors);
    return status;
}

/* The bodies are read in memory that is given back; what the state keeps is copied by the reader of trees. */
enum wh_status wh_kept_catch_up(struct wh_kept *kept, struct wh_store *store, struct wh_errors *reterr)
{
    struct folding folding = {kept, store, NULL, reterr};
    if (!kept->arena && !(kept->arena = wh_arena_new(WH_DESK_JOB_MEMORY))) return WH_ERR_NOMEM;
    bool fresh = false;
    enum wh_status status = kept->job ? WH_OK : wh_arena_within(kept->arena, begin, kept);
    if (status == WH_OK) status = wh_kept_is_fresh(kept, store, &fresh, reterr);
    if (status == WH_OK && !fresh) status = wh_arena_run(WH_DESK_MEMORY, fold_rest, &folding);
    if (status != WH_OK) wh_kept_forget(kept);
    return status;
}
