/* inside.h - private to desk/: the desk, its kept jobs, what waits for the writer. */
#ifndef WH_DESK_INSIDE_H
#define WH_DESK_INSIDE_H

#include "desk/desk.h"

#include <pthread.h>
#include <semaphore.h>
#include <stdatomic.h>

enum {
    WH_DESK_GROUP = 64, /* entries in one transaction */
    WH_DESK_KEPT = 32,  /* folded jobs */
    WH_DESK_MADE = 32,  /* machines with their figures */
    WH_DESK_JOB_MEMORY = 128 << 20,
    WH_DESK_MEMORY = 256 << 20, /* of one transaction, of one planning */
    WH_DESK_TIDY = 1000,        /* pages that may wait beside the database */
};

/* A folded job with the memory it lives in. The lock: many look, one folds. Kept while somebody uses it. */
struct wh_kept {
    int64_t number;
    struct wh_arena *arena; /* NULL: nothing folded */
    struct wh_job *job;
    struct wh_workshop *workshop; /* of number 0 */
    pthread_rwlock_t lock;
    int users;
    uint64_t used; /* when it was used last */
};

/* A machine as a job names it, with its figures. Never changed once it is made. */
struct wh_made {
    struct wh_desk *desk;
    struct wh_hash key;
    struct wh_arena *arena; /* NULL: nothing made */
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    pthread_mutex_t lock; /* held while it is made */
    int users;
    uint64_t used; /* when it was used last */
};

/* What one is made from. */
struct wh_making {
    struct wh_hash file;
    const char *name;
    const struct wh_setting *settings;
    size_t setting_count;
};

/* An entry on its way through the writer; lives on the stack of who waits for it. */
struct wh_request {
    struct wh_request *next;
    struct wh_arena *arena;
    const struct wh_entry *entry;
    bool live;
    const char *ready; /* the body of an entry that the program makes; NULL: it is a person's */
    const struct wh_head *words;
    struct wh_answer *answer;
    struct wh_errors *errors;
    enum wh_status status;
    int64_t replan; /* the job then waits for a new plan */
    sem_t answered;
};

struct wh_desk {
    struct wh_desk_ask ask;
    struct wh_store *write, *read, *tidy; /* a connection each */
    pthread_mutex_t write_lock, read_lock, kept_lock;
    struct wh_kept kept[WH_DESK_KEPT];
    struct wh_made made[WH_DESK_MADE];
    uint64_t clock;
    atomic_bool stopped; /* a sync failed: nothing more is taken */

    pthread_mutex_t queue_lock;
    pthread_cond_t came, untidy; /* something for the writer, for the keeper */
    struct wh_request *first, *last;
    int64_t plans[WH_DESK_KEPT]; /* jobs that wait for a new plan */
    size_t plan_count;
    int waiting; /* pages beside the database after the last commit */
    bool ending, writer_runs, keeper_runs;
    pthread_t writer, keeper;
};

/* kept.c: a kept job, in use until it is let go; is it folded up to the last entry that `store` has; is made so. The
 * caller holds the lock of the store. WH_ERR_INPUT: there is none. A kept job is forgotten when its state may be wrong.
 */
struct wh_kept *wh_kept_take(struct wh_desk *desk, int64_t number);
void wh_kept_let_go(struct wh_desk *desk, struct wh_kept *kept);
enum wh_status wh_kept_is_fresh(const struct wh_kept *kept, struct wh_store *store, bool *ret,
                                struct wh_errors *reterr);
enum wh_status wh_kept_catch_up(struct wh_kept *kept, struct wh_store *store, struct wh_errors *reterr);
enum wh_status wh_kept_fold(struct wh_kept *kept, const struct wh_record *record, struct wh_errors *reterr);
void wh_kept_forget(struct wh_kept *kept);

/* made.c: a machine with its figures, in use until the arena closes. */
enum wh_status wh_made_take(struct wh_desk *desk, struct wh_arena *arena, const struct wh_making *making,
                            const struct wh_made **ret, struct wh_errors *reterr);
void wh_made_forget(struct wh_made *made);

/* batch.c: one transaction of n requests. */
void wh_desk_work(struct wh_desk *desk, struct wh_request *requests[], size_t n);
/* desk.c: hands a request to the writer, or works it here when there is none, and waits. */
void wh_desk_hand_in(struct wh_desk *desk, struct wh_request *request);
/* desk.c: carries entries over from the log into the database; what stands in its way may be gone the next time. */
void wh_desk_tidy(struct wh_desk *desk);

/* plan.c */
enum wh_status wh_desk_replan(struct wh_desk *desk, struct wh_arena *arena, int64_t job, struct wh_errors *reterr);

#endif
