/* One transaction: up to 64 entries, each under a mark. What is answered is on the disk. */
#include "base/text.h"
#include "desk/inside.h"

#include <inttypes.h>
#include <string.h>

/* A folded state, locked until the commit is over: for folding, or so that it stays as it is. Only the writer holds
 * several at once, in any order; nobody else may hold two. */
struct held {
    struct wh_kept *kept;
    bool folding, fresh;
};

struct batch {
    struct wh_desk *desk;
    struct wh_request **requests;
    size_t count;
    struct held held[2 * WH_DESK_GROUP];
    size_t held_count;
    bool touched; /* the entry in hand has changed a folded state */
};

static struct held *find_held(struct batch *b, int64_t number)
{
    for (size_t i = 0; i < b->held_count; i++)
        if (b->held[i].kept->number == number) return &b->held[i];
    struct wh_kept *kept = b->held_count < 2 * WH_DESK_GROUP ? wh_kept_take(b->desk, number) : NULL;
    if (!kept) return NULL;
    struct held *held = &b->held[b->held_count++];
    *held = (struct held){.kept = kept};
    pthread_rwlock_rdlock(&kept->lock);
    return held;
}

/* Nothing is committed beside this transaction: between the two locks the state stays as it is. */
static void hold_for_folding(struct held *held)
{
    if (held->folding) return;
    pthread_rwlock_unlock(&held->kept->lock);
    pthread_rwlock_wrlock(&held->kept->lock);
    held->folding = true;
}

static struct wh_kept *hold(struct batch *b, int64_t number, bool folding, struct wh_errors *errors)
{
    struct held *held = find_held(b, number);
    if (!held) {
        wh_errors_add(errors, WH_ERR_LIMIT, (struct wh_place){0}, "send it again", "too many jobs at once");
        return NULL;
    }
    struct wh_kept *kept = held->kept;
    struct wh_store *store = b->desk->write;
    if (!held->fresh && wh_kept_is_fresh(kept, store, &held->fresh, errors) != WH_OK) return NULL;
    if (folding || !held->fresh) hold_for_folding(held);
    held->fresh &= kept->job != NULL; /* an undone entry, or a reader that failed between the locks, has forgotten it */
    if (!held->fresh && wh_kept_catch_up(kept, store, errors) != WH_OK) return NULL;
    held->fresh = true;
    return kept;
}

/* Only what is locked for folding can have changed. */
static void forget_folded(struct batch *b)
{
    for (size_t i = 0; i < b->held_count; i++)
        if (b->held[i].folding) wh_kept_forget(b->held[i].kept);
}

static void let_go(struct batch *b)
{
    for (size_t i = 0; i < b->held_count; i++) {
        pthread_rwlock_unlock(&b->held[i].kept->lock);
        wh_kept_let_go(b->desk, b->held[i].kept);
    }
    b->held_count = 0;
}

/* What can be looked up of a job without folding it. */
static struct wh_head words_of(const struct wh_kept *kept)
{
    if (kept->number == 0) return (struct wh_head){.machine = "", .title = "the workshop", .state = ""};
    return (struct wh_head){.machine = kept->job->machine ? kept->job->machine : "",
                            .title = kept->job->title ? kept->job->title : "",
                            .state = wh_job_state_words(wh_job_state(kept->job))};
}

/* Folds the record and adds it: a body that does not fold is never stored. */
static enum wh_status put(struct batch *b, struct wh_kept *kept, struct wh_record *record, struct wh_errors *errors)
{
    struct wh_record ahead = *record;
    b->touched = true;
    ahead.seq = (kept->number == 0 ? kept->workshop->seq : kept->job->seq) + 1;
    enum wh_status status = wh_kept_fold(kept, &ahead, errors);
    if (status != WH_OK) return status;
    struct wh_head words = words_of(kept);
    status = wh_store_add(b->desk->write, record, &words, errors);
    if (status == WH_OK && record->seq != ahead.seq)
        status = wh_errors_add(errors, WH_ERR_FILE, (struct wh_place){0}, NULL, "the store went on by itself");
    if (status != WH_OK) wh_kept_forget(kept);
    return status;
}

static enum wh_status fill_answer(struct wh_arena *arena, struct wh_request *r, enum wh_taken how,
                                  const struct wh_record *record)
{
    struct wh_answer *a = r->answer;
    a->how = how;
    a->job = record->job, a->seq = record->seq, a->at = record->at;
    a->kind = wh_arena_text(arena, record->kind);
    a->body = wh_arena_slice(arena, record->body, record->size);
    return WH_OK;
}

struct answering {
    struct wh_request *request;
    enum wh_taken how;
    const struct wh_record *record;
};

static enum wh_status answer_within(struct wh_arena *arena, void *context)
{
    const struct answering *a = context;
    return fill_answer(arena, a->request, a->how, a->record);
}

/* Into the memory of who waits, which is still while it waits. */
static enum wh_status answer(struct wh_request *r, enum wh_taken how, const struct wh_record *record)
{
    struct answering answering = {r, how, record};
    return wh_arena_within(r->arena, answer_within, &answering);
}

/* Why a folded job could not be held: what the errors say, else there was no room for it. */
static enum wh_status not_held(const struct wh_errors *errors)
{
    return wh_errors_status(errors) == WH_OK ? WH_ERR_NOMEM : wh_errors_status(errors);
}

/* The same key again: the first answer, or a contest under a key of its own. */
static enum wh_status known(struct batch *b, struct wh_arena *arena, struct wh_request *r, struct wh_record *record,
                            bool *ret_known, struct wh_errors *errors)
{
    struct wh_records found;
    enum wh_status status = wh_store_find(b->desk->write, arena, record->job, record->key, &found, errors);
    *ret_known = false;
    if (status != WH_OK || found.count == 0) return status;
    const struct wh_record *first = &found.at[0];
    struct wh_event_in before = {first->job, first->seq,  first->at,   first->who,
                                 first->key, first->kind, first->body, first->size};
    if (r->ready || wh_entry_same(arena, &before, r->entry)) {
        *ret_known = true;
        return answer(r, WH_TAKEN_BEFORE, first);
    }
    struct wh_accepted contest;
    wh_entry_contest(arena, r->entry, first->seq, "another entry was sent under the same key", &contest);
    struct wh_hash hash = wh_hash_of(contest.body, strlen(contest.body));
    record->key = wh_arena_print(arena, "%.150s~%.16s", record->key, wh_hash_text(arena, &hash));
    record->kind = contest.kind, record->body = contest.body;
    r->answer->against = first->seq;
    status = wh_store_find(b->desk->write, arena, record->job, record->key, &found, errors);
    if (status != WH_OK || found.count == 0) return status;
    *ret_known = true;
    return answer(r, WH_TAKEN_BEFORE, &found.at[0]);
}

static enum wh_status accept(struct batch *b, struct wh_arena *arena, struct wh_request *r, struct wh_kept *kept,
                             struct wh_record *record, struct wh_errors *errors)
{
    const struct wh_desk *desk = b->desk;
    struct wh_accepted accepted;
    enum wh_status status;
    if (r->ready) {
        record->kind = r->entry->kind, record->body = r->ready;
        return WH_OK;
    }
    if (kept->number == 0) {
        status = wh_workshop_accept(arena, r->entry, &accepted, errors);
    } else {
        struct wh_kept *workshop = hold(b, 0, false, errors);
        if (!workshop) return not_held(errors);
        struct wh_entry_round round = {workshop->workshop, record->at, desk->ask.program, desk->ask.rules, r->live};
        status = wh_entry_accept(arena, kept->job, &round, r->entry, &accepted, errors);
    }
    if (status != WH_OK) return status;
    record->kind = accepted.kind, record->body = accepted.body;
    r->answer->against = accepted.against;
    return WH_OK;
}

/* The workshop's chain notes what was opened and signed, so that a job gone missing is found. */
static enum wh_status note(struct batch *b, struct wh_arena *arena, const struct wh_record *of,
                           struct wh_errors *errors)
{
    bool opened = wh_same(of->kind, "opened");
    if (of->job == 0 || (!opened && !wh_same(of->kind, "signed"))) return WH_OK;
    struct wh_kept *workshop = hold(b, 0, true, errors);
    if (!workshop) return not_held(errors);
    struct wh_tree *body = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_number(arena, body, "v", WH_JOB_FORM);
    wh_tree_add_number(arena, body, "job", (double)of->job);
    wh_tree_add_number(arena, body, "entry", (double)of->seq);
    wh_tree_add_text(arena, body, "hash", wh_hash_text(arena, &of->hash));
    struct wh_record record = {.at = of->at, .who = of->who, .kind = of->kind, .body = wh_tree_line(arena, body)};
    record.key = opened ? of->key : wh_arena_print(arena, "signed %" PRId64 "/%" PRId64, of->job, of->seq);
    record.size = strlen(record.body);
    return put(b, workshop, &record, errors);
}

/* A new job has its number from the writer; its key counts once in the whole workshop. */
static enum wh_status number_job(struct batch *b, struct wh_arena *arena, struct wh_request *r,
                                 struct wh_record *record, bool *ret_known, struct wh_errors *errors)
{
    struct wh_records found;
    struct wh_tree *body;
    enum wh_status status = wh_store_find(b->desk->write, arena, 0, record->key, &found, errors);
    if (status != WH_OK) return status;
    if (found.count == 0) {
        status = wh_store_last(b->desk->write, &record->job, errors);
        record->job++;
        return status;
    }
    status = wh_tree_read(arena, "workshop", found.at[0].body, found.at[0].size, &body, errors);
    record->job = status == WH_OK ? (int64_t)wh_tree_number(body, "job", 0) : 0;
    return status == WH_OK ? known(b, arena, r, record, ret_known, errors) : status;
}

static enum wh_status enter(struct batch *b, struct wh_arena *arena, struct wh_request *r, struct wh_errors *errors)
{
    const struct wh_entry *entry = r->entry;
    struct wh_record record = {
        .job = entry->job, .at = b->desk->ask.clock(b->desk->ask.context), .who = entry->who, .key = entry->key};
    bool is_known = false;
    enum wh_status status = WH_OK;
    if (!entry->key || !*entry->key || !entry->who || !*entry->who)
        return wh_errors_add(errors, WH_ERR_INPUT, (struct wh_place){0}, NULL, "an entry has a name: who makes it");
    if (entry->job < 0) status = number_job(b, arena, r, &record, &is_known, errors);
    if (status != WH_OK || is_known) return status;
    struct wh_kept *kept = hold(b, record.job, true, errors);
    if (!kept) return not_held(errors);
    int64_t clock = record.job == 0 ? INT64_MIN : kept->job->changed_at;
    status = known(b, arena, r, &record, &is_known, errors);
    if (status == WH_OK && !is_known && !record.kind) status = accept(b, arena, r, kept, &record, errors);
    if (status != WH_OK || is_known) return status;
    record.size = strlen(record.body);
    bool contested = wh_same(record.kind, "contested");
    if ((status = put(b, kept, &record, errors)) != WH_OK) return status;
    if ((status = note(b, arena, &record, errors)) != WH_OK) return status;
    if (kept->job && kept->number != 0) r->replan = kept->job->replan == record.seq ? record.job : 0;
    if (record.at < clock)
        r->answer->remark = "the clock stands before that of the entry before; the order is that of the numbers";
    return answer(r, contested ? WH_TAKEN_CONTESTED : WH_TAKEN, &record);
}

/* Copies the errors of the writer into the list of who waits. */
struct telling {
    struct wh_errors *to;
    const struct wh_errors *from;
};

static enum wh_status tell_within(struct wh_arena *arena, void *context)
{
    const struct telling *t = context;
    for (const struct wh_error *e = t->from->first; e; e = e->next) {
        struct wh_place place = e->place;
        if (place.file) place.file = wh_arena_text(arena, place.file);
        wh_errors_add(t->to, e->status, place, e->right, "%s", e->says);
    }
    return WH_OK;
}

static void tell(struct wh_request *r, const struct wh_errors *errors)
{
    struct telling telling = {r->errors, errors};
    if (wh_arena_within(r->errors->arena, tell_within, &telling) != WH_OK) r->status = WH_ERR_NOMEM;
}

/* Alone, an entry needs no mark: what is undone is all there is. */
static void undo(struct batch *b, struct wh_arena *arena)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store = b->desk->write;
    if (b->touched) forget_folded(b);
    if (!wh_store_stands(store) || (b->count > 1 && wh_store_undo(store, &errors) == WH_OK)) return;
    wh_store_rollback(store);
}

/* False: the transaction does not stand any more. */
static bool enter_marked(struct batch *b, struct wh_arena *arena, struct wh_request *r)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_store *store = b->desk->write;
    b->touched = false;
    r->status = b->count > 1 ? wh_store_mark(store, &errors) : WH_OK;
    if (r->status == WH_OK) r->status = enter(b, arena, r, &errors);
    if (r->status == WH_OK && b->count > 1) r->status = wh_store_keep_mark(store, &errors);
    if (r->status != WH_OK) undo(b, arena);
    tell(r, &errors);
    return wh_store_stands(store);
}

/* Nothing of a transaction that fell was taken: every one that seemed to be is told. */
static void fail_all(struct batch *b, enum wh_status status, const struct wh_errors *errors)
{
    for (size_t i = 0; i < b->count; i++) {
        if (b->requests[i]->status != WH_OK) continue;
        b->requests[i]->status = status;
        tell(b->requests[i], errors);
    }
}

static enum wh_status work(struct wh_arena *arena, void *context)
{
    struct batch *b = context;
    struct wh_store *store = b->desk->write;
    struct wh_errors errors = wh_errors_in(arena);
    enum wh_status status = wh_store_begin(store, &errors);
    size_t i = 0;
    bool stands = status == WH_OK;
    for (; stands && i < b->count; i++) stands = enter_marked(b, arena, b->requests[i]);
    if (i == 1 && b->count == 1 && !stands) return WH_OK; /* refused, told, and nothing else was in it */
    if (stands) status = wh_store_commit(store, &errors);
    if (!stands && status == WH_OK)
        status = wh_errors_add(&errors, WH_ERR_FILE, (struct wh_place){0}, "send it again",
                               "the transaction fell; nothing of it was taken");
    if (status != WH_OK) {
        wh_store_rollback(store);
        fail_all(b, status, &errors);
    }
    return status;
}

void wh_desk_work(struct wh_desk *desk, struct wh_request *requests[], size_t n)
{
    struct batch batch = {.desk = desk, .requests = requests, .count = n};
    pthread_mutex_lock(&desk->write_lock);
    enum wh_status status = wh_arena_run(WH_DESK_MEMORY, work, &batch);
    if (status == WH_ERR_NOMEM) { /* it may have ended anywhere */
        wh_store_rollback(desk->write);
        for (size_t i = 0; i < n; i++) requests[i]->status = WH_ERR_NOMEM;
    }
    if (!desk->keeper_runs && wh_store_waiting(desk->write) >= WH_DESK_TIDY) wh_desk_tidy(desk);
    desk->stopped |= wh_store_unsure(desk->write);
    if (status != WH_OK) forget_folded(&batch);
    let_go(&batch);
    pthread_mutex_unlock(&desk->write_lock);
}
