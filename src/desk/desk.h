/* desk.h - the one place where jobs and the store meet: submit an entry, ask for a job's state. Can be read alone.
 *
 * The command line and the server call the same functions. With `threads` one thread of the desk's own does all the
 * writing: it takes what waits, up to 64 entries, into one transaction, each under a mark of its own, and answers when
 * they are on the disk. Every function here may be called from any thread. Folded jobs are kept; what another program
 * wrote into the store meanwhile is folded in before anything is answered. */
#ifndef WH_DESK_DESK_H
#define WH_DESK_DESK_H

#include "job/due.h"
#include "job/entry.h"
#include "plan/plan.h"
#include "store/store.h"

struct wh_desk;

struct wh_desk_ask {
    const char *path; /* of the store; NULL: in memory, for tests, without threads */
    bool read_only, threads;
    const char *program, *rules;     /* "wharve 0.1.0"; what stands for the set of rules */
    int64_t (*clock)(void *context); /* milliseconds since 1970; may be called from the desk's own threads */
    void *context;
    uint64_t plan_nodes; /* states that a re-planning may look at; 0: the usual */
};

/* Opens the store and starts the threads; all ends with the arena. Errors: those of wh_store_open; WH_ERR_NO_ANSWER: a
 * thread cannot be started. */
enum wh_status wh_desk_open(struct wh_arena *arena, const struct wh_desk_ask *ask, struct wh_desk **ret,
                            struct wh_errors *reterr);

/* What became of an entry. Texts live in the arena of the call. */
struct wh_answer {
    enum wh_taken how;
    int64_t job, seq, at;
    const char *kind, *body; /* as stored; kind "contested" where it met another */
    const char *why;         /* of a contest; or NULL */
    int64_t against;         /* of a contest */
    const char *remark;      /* "the clock stands before that of the entry before"; or NULL */
};

/* Enters something into a job, or into the workshop (job 0: kind "gauge"). WH_OK: it is on the disk. WH_ERR_INPUT: it
 * is refused, each reason an error. Else nothing was taken; it can be sent again with the same key. An entry that asks
 * for a new plan is answered before that is made; without threads it is made at once. */
enum wh_status wh_desk_submit(struct wh_desk *desk, struct wh_arena *arena, const struct wh_entry *entry, bool live,
                              struct wh_answer *ret, struct wh_errors *reterr);

/* A new job. The machine file is kept whole, the plan as issued is part of the job's first entry. */
struct wh_opening {
    const char *who, *key;
    const char *machine; /* its id, the file's name without ending */
    const char *bytes;   /* of the machine file */
    size_t size;
    const char *renew; /* "neck-bearing, foot-bearing" */
    const char *title, *brought, *hours,
        *starts; /* title NULL: "renew neck-bearing, foot-bearing"; the others or NULL */
    int fitters; /* 1 to 4 */
};
enum wh_status wh_desk_open_job(struct wh_desk *desk, struct wh_arena *arena, const struct wh_opening *opening,
                                struct wh_answer *ret, struct wh_errors *reterr);

/* Runs look->body while the job's folded state stands still: what it wants to keep it copies into the arena. It must
 * not ask the desk for anything else meanwhile. WH_ERR_INPUT: there is no such job. */
struct wh_desk_look {
    const struct wh_job *job;           /* of wh_desk_state */
    const struct wh_workshop *workshop; /* of wh_desk_workshop */
    void *context;
    enum wh_status (*body)(struct wh_arena *arena, struct wh_desk_look *look);
};
enum wh_status wh_desk_state(struct wh_desk *desk, struct wh_arena *arena, int64_t job, struct wh_desk_look *look,
                             struct wh_errors *reterr);

/* The same with the workshop's gauges and jobs. */
enum wh_status wh_desk_workshop(struct wh_desk *desk, struct wh_arena *arena, struct wh_desk_look *look,
                                struct wh_errors *reterr);

/* The entries of a job after one, up to `most`; what a page asks every few seconds. */
enum wh_status wh_desk_since(struct wh_desk *desk, struct wh_arena *arena, int64_t job, int64_t after, size_t most,
                             struct wh_records *ret, struct wh_errors *reterr);

/* Jobs, newest first; of one machine or in one state where not NULL. */
enum wh_status wh_desk_jobs(struct wh_desk *desk, struct wh_arena *arena, const char *machine, const char *state,
                            size_t most, struct wh_heads *ret, struct wh_errors *reterr);

/* The machine of a job as it was when it was opened, and its figures with what was read since, and with one value more
 * where `also` is not NULL. Either may be NULL. Both stand until the arena closes; others may look at them too. */
enum wh_status wh_desk_machine(struct wh_desk *desk, struct wh_arena *arena, int64_t job, const struct wh_setting *also,
                               const struct wh_machine **ret_machine, const struct wh_sheet **ret_sheet,
                               struct wh_errors *reterr);

/* When the parts of a machine come round again, from its file, its figures and its last 50 jobs. hours: run by now, s;
 * NaN: as the last job told. */
enum wh_status wh_desk_due(struct wh_desk *desk, struct wh_arena *arena, const char *machine,
                           const struct wh_sheet *sheet, double hours, int64_t now, struct wh_due **ret,
                           struct wh_errors *reterr);

/* A photo or another file: kept before an entry names it. */
enum wh_status wh_desk_keep(struct wh_desk *desk, struct wh_arena *arena, const char *bytes, size_t size,
                            struct wh_hash *ret, struct wh_errors *reterr);
enum wh_status wh_desk_fetch(struct wh_desk *desk, struct wh_arena *arena, const struct wh_hash *hash, char **ret,
                             size_t *ret_size, struct wh_errors *reterr);

/* Reads a record of a run and adds to `said`, the fields of an entry "record" (what, speed, channels …), its `run`:
 * what it tells of the job's machine beside its last one of the sort, as `wharve testrun --json` prints it, with its
 * drawings. Worked in a process of its own; nothing is kept. Errors: WH_ERR_INPUT: the record cannot
 * be read, with the reason; WH_ERR_CHILD: the process died. */
enum wh_status wh_desk_read_record(struct wh_desk *desk, struct wh_arena *arena, int64_t job,
                                   struct wh_tree *said, const char *bytes, size_t size, struct wh_errors *reterr);

/* Goes through the store; then every job folds, every job that the workshop opened is there and reaches as far as it
 * did when it was signed, every file that an entry names is kept. The first broken place is the error. */
enum wh_status wh_desk_check(struct wh_desk *desk, struct wh_arena *arena, struct wh_store_count *ret,
                             struct wh_errors *reterr);
enum wh_status wh_desk_backup(struct wh_desk *desk, struct wh_arena *arena, const char *path, struct wh_errors *reterr);

#endif
