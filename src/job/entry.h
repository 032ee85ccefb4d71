/* entry.h - what can be entered into a job, and what becomes of it. Can be read alone.
 *
 * One table says of each kind of entry which fields it has (kinds.c); forms, the command line and the check of what
 * comes in go by it. An entry is accepted, refused with the reason, or kept as contested. */
#ifndef WH_JOB_ENTRY_H
#define WH_JOB_ENTRY_H

#include "job/job.h"
#include "job/workshop.h"

enum wh_entry_form {
    WH_ENTRY_TEXT,
    WH_ENTRY_WORDS, /* a list of texts, or texts parted by commas */
    WH_ENTRY_NUMBER,
    WH_ENTRY_TRUTH,
    WH_ENTRY_CHOICE, /* one of the field's choices */
    WH_ENTRY_STEPS,  /* ids of steps */
    WH_ENTRY_CHECK,
    WH_ENTRY_HOLD,
    WH_ENTRY_PARTS, /* ids of parts, or of anything else that the machine file names */
    WH_ENTRY_SEQ,   /* the number of an earlier entry */
    WH_ENTRY_FILES, /* hashes of kept files */
    WH_ENTRY_TREE   /* of the program, not of a person */
};

struct wh_entry_field {
    const char *name, *title;
    enum wh_entry_form form;
    bool needed;
    const char *choices; /* "a|b|c" */
};

enum { WH_ENTRY_FIELDS = 12 };

struct wh_accepting;
struct wh_folding;

struct wh_entry_kind {
    const char *name, *title;
    bool people; /* entered by people; false: made by the program */
    struct wh_entry_field fields[WH_ENTRY_FIELDS];
    enum wh_status (*accept)(struct wh_accepting *accepting); /* what is asked beyond the fields; or NULL */
    void (*fold)(struct wh_folding *folding);
};

extern const struct wh_entry_kind wh_entry_kinds[];
extern const size_t wh_entry_kind_count;
const struct wh_entry_kind *wh_entry_kind(const char *name);

/* What a person enters. */
struct wh_entry {
    int64_t job;
    const char *who, *key, *kind;
    const struct wh_tree *said; /* a map of the kind's fields; NULL: none */
    int64_t seen;               /* the last entry that the sender had seen; -1: the newest */
};

/* What stands round a job when something is entered. */
struct wh_entry_round {
    const struct wh_workshop *workshop;
    int64_t at;          /* the clock */
    const char *program; /* "wharve 0.1.0" */
    const char *rules;   /* what stands for the set of rules in use */
    bool live;           /* the sender waits for the answer: holds are released only then */
};

enum wh_taken { WH_TAKEN, WH_TAKEN_BEFORE, WH_TAKEN_CONTESTED };

/* What is to be stored for it. */
struct wh_accepted {
    enum wh_taken how;
    const char *key, *kind, *body;
    const char *why; /* of a contest, or NULL */
    int64_t against; /* of a contest: the entry it met */
};

/* Accepts an entry into a job that has been folded up to its last event. Errors: WH_ERR_INPUT: refused, each reason an
 * error of its own. */
enum wh_status wh_entry_accept(struct wh_arena *arena, const struct wh_job *job, const struct wh_entry_round *round,
                               const struct wh_entry *entry, struct wh_accepted *ret, struct wh_errors *reterr);

/* The same for the workshop's own chain: kind "gauge" with name, is, title, uncertainty and due. */
enum wh_status wh_workshop_accept(struct wh_arena *arena, const struct wh_entry *entry, struct wh_accepted *ret,
                                  struct wh_errors *reterr);

/* The same key again: is it the same entry? `before` is what is stored under the key. */
bool wh_entry_same(struct wh_arena *arena, const struct wh_event_in *before, const struct wh_entry *entry);

/* What is to be stored for an entry that met another. */
void wh_entry_contest(struct wh_arena *arena, const struct wh_entry *entry, int64_t against, const char *why,
                      struct wh_accepted *ret);

/* Takes "name=value" texts into a map of the kind's fields. */
enum wh_status wh_entry_read(struct wh_arena *arena, const struct wh_entry_kind *kind, const char *const texts[],
                             size_t n, struct wh_tree **ret, struct wh_errors *reterr);

#endif
