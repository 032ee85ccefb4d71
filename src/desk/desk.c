#include "desk/desk.h"

#include "base/text.h"
#include "desk/inside.h"

#include <inttypes.h>

/* Takes what waits, without waiting for more. */
static size_t take(struct wh_desk *desk, struct wh_request *requests[])
{
    size_t n = 0;
    while (desk->first && n < WH_DESK_GROUP) {
        requests[n++] = desk->first;
        desk->first = desk->first->next;
    }
    if (!desk->first) desk->last = NULL;
    return n;
}

static void note_plans(struct wh_desk *desk, struct wh_request *requests[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        bool wanted = requests[i]->status == WH_OK && requests[i]->replan > 0;
        for (size_t p = 0; p < desk->plan_count; p++) wanted &= desk->plans[p] != requests[i]->replan;
        if (wanted && desk->plan_count < WH_DESK_KEPT) desk->plans[desk->plan_count++] = requests[i]->replan;
    }
}

static bool has_housework(const struct wh_desk *desk)
{
    return desk->plan_count > 0 || desk->waiting >= WH_DESK_TIDY;
}

static void *write_on(void *context)
{
    struct wh_desk *desk = context;
    struct wh_request *requests[WH_DESK_GROUP];
    pthread_mutex_lock(&desk->queue_lock);
    for (;;) {
        while (!desk->first && !desk->ending) pthread_cond_wait(&desk->came, &desk->queue_lock);
        size_t n = take(desk, requests);
        if (n == 0) break;
        pthread_mutex_unlock(&desk->queue_lock);
        wh_desk_work(desk, requests, n);
        pthread_mutex_lock(&desk->queue_lock);
        note_plans(desk, requests, n);
        desk->waiting = wh_store_waiting(desk->write);
        if (has_housework(desk)) pthread_cond_signal(&desk->untidy);
        pthread_mutex_unlock(&desk->queue_lock);
        for (size_t i = 0; i < n; i++) sem_post(&requests[i]->answered); /* who wakes up finds the lock free */
        pthread_mutex_lock(&desk->queue_lock);
    }
    pthread_mutex_unlock(&desk->queue_lock);
    return NULL;
}

struct planning {
    struct wh_desk *desk;
    int64_t job;
};

/* What goes wrong in planning leaves the plan as it was; the job goes on saying that it waits for another. */
static enum wh_status plan_one(struct wh_arena *arena, void *context)
{
    struct planning *planning = context;
    struct wh_errors errors = wh_errors_in(arena);
    return wh_desk_replan(planning->desk, arena, planning->job, &errors);
}

static enum wh_status tidy_within(struct wh_arena *arena, void *context)
{
    struct wh_errors errors = wh_errors_in(arena);
    return wh_store_tidy(((struct wh_desk *)context)->tidy, &errors);
}

void wh_desk_tidy(struct wh_desk *desk)
{
    if (wh_arena_run(1 << 20, tidy_within, desk) != WH_OK && wh_store_unsure(desk->tidy)) desk->stopped = true;
}

/* The bulk is carried over beside the writer; what came meanwhile while nobody writes or reads, so that the log begins
 * again at its front: syncing a file that grows takes twice as long. */
static void tidy_beside(struct wh_desk *desk)
{
    wh_desk_tidy(desk);
    pthread_mutex_lock(&desk->write_lock);
    pthread_mutex_lock(&desk->read_lock);
    wh_desk_tidy(desk);
    pthread_mutex_unlock(&desk->read_lock);
    pthread_mutex_unlock(&desk->write_lock);
}

/* Beside the writer: new plans, and carrying the entries over into the database. */
static void *keep_house(void *context)
{
    struct wh_desk *desk = context;
    pthread_mutex_lock(&desk->queue_lock);
    while (!desk->ending) {
        if (!has_housework(desk)) {
            pthread_cond_wait(&desk->untidy, &desk->queue_lock);
            continue;
        }
        bool tidy = desk->waiting >= WH_DESK_TIDY;
        int64_t job = desk->plan_count ? desk->plans[--desk->plan_count] : 0;
        if (tidy) desk->waiting = 0; /* told anew by the next commit */
        pthread_mutex_unlock(&desk->queue_lock);
        struct planning planning = {desk, job};
        if (tidy) tidy_beside(desk);
        if (job) wh_arena_run(WH_DESK_MEMORY, plan_one, &planning);
        pthread_mutex_lock(&desk->queue_lock);
    }
    pthread_mutex_unlock(&desk->queue_lock);
    return NULL;
}

void wh_desk_hand_in(struct wh_desk *desk, struct wh_request *request)
{
    if (!desk->writer_runs) {
        wh_desk_work(desk, &request, 1);
        return;
    }
    sem_init(&request->answered, 0, 0);
    pthread_mutex_lock(&desk->queue_lock);
    if (desk->last) {
        desk->last->next = request;
    } else {
        desk->first = request;
    }
    desk->last = request;
    pthread_mutex_unlock(&desk->queue_lock);
    pthread_cond_signal(&desk->came);
    while (sem_wait(&request->answered) != 0) continue; /* a signal came in between */
    sem_destroy(&request->answered);
}

enum wh_status wh_desk_submit(struct wh_desk *desk, struct wh_arena *arena, const struct wh_entry *entry, bool live,
                              struct wh_answer *ret, struct wh_errors *reterr)
{
    struct wh_request request = {.arena = arena, .entry = entry, .live = live, .answer = ret, .errors = reterr};
    *ret = (struct wh_answer){0};
    if (entry->job < 0)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "a job has a number from 1");
    if (desk->stopped)
        return wh_errors_add(reterr, WH_ERR_FILE, (struct wh_place){.file = desk->ask.path},
                             "look at the disk, then start again",
                             "a sync has failed: what is on the disk is unknown, nothing more is taken");
    wh_desk_hand_in(desk, &request);
    if (request.status == WH_ERR_NOMEM) wh_arena_give_up(arena);
    if (request.status == WH_OK && request.replan && !desk->writer_runs) {
        struct wh_errors planning = wh_errors_in(arena); /* the entry is kept whatever becomes of the plan */
        if (wh_desk_replan(desk, arena, request.replan, &planning) != WH_OK && planning.first)
            ret->remark = wh_arena_print(arena, "the plan stays as it was: %s", planning.first->says);
    }
    return request.status;
}

/* Brings a kept job up to what others wrote, and locks it for looking. */
static enum wh_status lock_fresh(struct wh_desk *desk, struct wh_kept *kept, struct wh_errors *reterr)
{
    bool fresh = false;
    pthread_rwlock_rdlock(&kept->lock);
    pthread_mutex_lock(&desk->read_lock);
    enum wh_status status = wh_kept_is_fresh(kept, desk->read, &fresh, reterr);
    pthread_mutex_unlock(&desk->read_lock);
    if (fresh) return WH_OK;
    pthread_rwlock_unlock(&kept->lock);
    if (status != WH_OK) return status;
    pthread_rwlock_wrlock(&kept->lock);
    pthread_mutex_lock(&desk->read_lock);
    status = wh_kept_catch_up(kept, desk->read, reterr);
    pthread_mutex_unlock(&desk->read_lock);
    if (status != WH_OK) pthread_rwlock_unlock(&kept->lock);
    return status;
}

struct looking {
    struct wh_desk *desk;
    struct wh_kept *kept;
    struct wh_desk_look *look;
    struct wh_errors *errors;
    bool locked;
};

static enum wh_status look_within(struct wh_arena *arena, void *context)
{
    struct looking *l = context;
    enum wh_status status = lock_fresh(l->desk, l->kept, l->errors);
    l->locked = status == WH_OK;
    if (status != WH_OK) return status;
    l->look->job = l->kept->number == 0 ? NULL : l->kept->job;
    l->look->workshop = l->kept->number == 0 ? l->kept->workshop : NULL;
    if (l->kept->number != 0 && l->kept->job->seq == 0)
        return wh_errors_add(l->errors, WH_ERR_INPUT, (struct wh_place){0}, "see wharve job list",
                             "there is no job %" PRId64, l->kept->number);
    return l->look->body(arena, l->look);
}

static enum wh_status look_at(struct wh_desk *desk, struct wh_arena *arena, int64_t number, struct wh_desk_look *look,
                              struct wh_errors *reterr)
{
    struct looking looking = {desk, wh_kept_take(desk, number), look, reterr, false};
    if (!looking.kept)
        return wh_errors_add(reterr, WH_ERR_LIMIT, (struct wh_place){0}, "ask again", "too many jobs at once");
    enum wh_status status = wh_arena_within(arena, look_within, &looking);
    if (looking.locked) pthread_rwlock_unlock(&looking.kept->lock);
    wh_kept_let_go(desk, looking.kept);
    if (status == WH_ERR_NOMEM) wh_arena_give_up(arena);
    return status;
}

enum wh_status wh_desk_state(struct wh_desk *desk, struct wh_arena *arena, int64_t job, struct wh_desk_look *look,
                             struct wh_errors *reterr)
{
    if (job < 1)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, "see wharve job list",
                             "a job has a number from 1");
    return look_at(desk, arena, job, look, reterr);
}

enum wh_status wh_desk_workshop(struct wh_desk *desk, struct wh_arena *arena, struct wh_desk_look *look,
                                struct wh_errors *reterr)
{
    return look_at(desk, arena, 0, look, reterr);
}

static void end_desk(void *handle)
{
    struct wh_desk *desk = handle;
    pthread_mutex_lock(&desk->queue_lock);
    desk->ending = true;
    pthread_cond_signal(&desk->came);
    pthread_cond_signal(&desk->untidy);
    pthread_mutex_unlock(&desk->queue_lock);
    if (desk->writer_runs) pthread_join(desk->writer, NULL);
    if (desk->keeper_runs) pthread_join(desk->keeper, NULL);
    for (size_t i = 0; i < WH_DESK_KEPT; i++) {
        wh_kept_forget(&desk->kept[i]);
        pthread_rwlock_destroy(&desk->kept[i].lock);
    }
    for (size_t i = 0; i < WH_DESK_MADE; i++) {
        wh_made_forget(&desk->made[i]);
        pthread_mutex_destroy(&desk->made[i].lock);
    }
}

static void make_locks(struct wh_desk *desk)
{
    pthread_mutex_init(&desk->write_lock, NULL);
    pthread_mutex_init(&desk->read_lock, NULL);
    pthread_mutex_init(&desk->kept_lock, NULL);
    pthread_mutex_init(&desk->queue_lock, NULL);
    pthread_cond_init(&desk->came, NULL);
    pthread_cond_init(&desk->untidy, NULL);
    for (size_t i = 0; i < WH_DESK_KEPT; i++) {
        desk->kept[i].number = -1;
        pthread_rwlock_init(&desk->kept[i].lock, NULL);
    }
    for (size_t i = 0; i < WH_DESK_MADE; i++) {
        desk->made[i].desk = desk;
        pthread_mutex_init(&desk->made[i].lock, NULL);
    }
}

static enum wh_status open_stores(struct wh_arena *arena, struct wh_desk *desk, struct wh_errors *reterr)
{
    if (!desk->ask.path) {
        desk->write = desk->read = desk->tidy = wh_store_memory(arena);
        return WH_OK;
    }
    enum wh_status status = WH_OK;
    if (!desk->ask.read_only) status = wh_store_open(arena, desk->ask.path, WH_STORE_WRITE, &desk->write, reterr);
    if (status == WH_OK) status = wh_store_open(arena, desk->ask.path, WH_STORE_READ, &desk->read, reterr);
    if (desk->ask.read_only) desk->write = desk->read;
    desk->tidy = desk->write;
    if (status == WH_OK && desk->ask.threads)
        status = wh_store_open(arena, desk->ask.path, WH_STORE_WRITE, &desk->tidy, reterr);
    return status;
}

enum wh_status wh_desk_open(struct wh_arena *arena, const struct wh_desk_ask *ask, struct wh_desk **ret,
                            struct wh_errors *reterr)
{
    struct wh_desk *desk = WH_NEW(arena, 1, struct wh_desk);
    desk->ask = *ask;
    enum wh_status status = open_stores(arena, desk, reterr);
    if (status != WH_OK) return status;
    make_locks(desk);
    wh_arena_defer(arena, end_desk, desk); /* before the stores are closed */
    if (ask->threads && ask->path) {
        desk->writer_runs = pthread_create(&desk->writer, NULL, write_on, desk) == 0;
        desk->keeper_runs = desk->writer_runs && pthread_create(&desk->keeper, NULL, keep_house, desk) == 0;
        if (!desk->keeper_runs)
            return wh_errors_add(reterr, WH_ERR_NO_ANSWER, (struct wh_place){0}, NULL, "a thread cannot be started");
    }
    *ret = desk;
    return WH_OK;
}
