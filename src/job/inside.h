/* inside.h - private to job/: what the table of kinds points at, and what folding and accepting share. */
#ifndef WH_JOB_INSIDE_H
#define WH_JOB_INSIDE_H

#include "job/entry.h"

/* One event on its way into the state. */
struct wh_folding {
    struct wh_arena *arena;
    struct wh_job *job;
    const struct wh_event_in *event;
    const struct wh_tree *body;
};

/* One entry on its way into a body. */
struct wh_accepting {
    struct wh_arena *arena;
    const struct wh_job *job;
    const struct wh_entry_round *round;
    const struct wh_entry *entry;
    const struct wh_tree *said;
    struct wh_tree *judged; /* what the program adds; empty: nothing */
    struct wh_errors *errors;
};

enum wh_status wh_refuse(struct wh_accepting *accepting, const char *right, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The texts of a list, of texts parted by commas, or of one text; none for NULL. */
struct wh_words wh_body_words(struct wh_arena *arena, const struct wh_tree *body, const char *key);
int64_t wh_body_seq(const struct wh_tree *body, const char *key);

/* plan_read.c: the plan as issued becomes steps, checks and holds; what was entered for them stays. */
void wh_job_take_plan(struct wh_folding *folding, const struct wh_tree *plan);

/* hold.c */
void wh_job_lapse(struct wh_folding *folding, bool power, bool others);
void wh_fold_released(struct wh_folding *folding);
void wh_fold_refused(struct wh_folding *folding);
void wh_fold_lapsed(struct wh_folding *folding);
enum wh_status wh_accept_released(struct wh_accepting *accepting);

/* step.c */
void wh_fold_started(struct wh_folding *folding);
void wh_fold_done(struct wh_folding *folding);
void wh_fold_left_out(struct wh_folding *folding);
enum wh_status wh_accept_started(struct wh_accepting *accepting);
enum wh_status wh_accept_done(struct wh_accepting *accepting);
enum wh_status wh_accept_left_out(struct wh_accepting *accepting);

/* reading.c */
void wh_fold_reading(struct wh_folding *folding);
void wh_fold_unmeasured(struct wh_folding *folding);
void wh_fold_amended(struct wh_folding *folding);
void wh_fold_decided(struct wh_folding *folding);
enum wh_status wh_accept_reading(struct wh_accepting *accepting);
enum wh_status wh_accept_amended(struct wh_accepting *accepting);
enum wh_status wh_accept_decided(struct wh_accepting *accepting);

/* fold.c */
void wh_fold_opened(struct wh_folding *folding);
void wh_fold_replanned(struct wh_folding *folding);
void wh_fold_line(struct wh_folding *folding);
void wh_fold_found(struct wh_folding *folding);
void wh_fold_renewed(struct wh_folding *folding);
void wh_fold_waiting(struct wh_folding *folding);
void wh_fold_resumed(struct wh_folding *folding);
void wh_fold_handed(struct wh_folding *folding);
void wh_fold_signed(struct wh_folding *folding);
void wh_fold_contested(struct wh_folding *folding);
void wh_fold_settled(struct wh_folding *folding);

/* accept.c */
enum wh_status wh_accept_waiting(struct wh_accepting *accepting);
enum wh_status wh_accept_resumed(struct wh_accepting *accepting);
enum wh_status wh_accept_handed(struct wh_accepting *accepting);
enum wh_status wh_accept_signed(struct wh_accepting *accepting);
enum wh_status wh_accept_settled(struct wh_accepting *accepting);
enum wh_status wh_accept_fields(struct wh_accepting *accepting, const struct wh_entry_kind *kind);

#endif
