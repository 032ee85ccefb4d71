/* The state of a job, folded from its events: opening and planning anew, waiting, handing over, signing, contests. */
#include "base/text.h"
#include "job/inside.h"

#include <string.h>

struct wh_words wh_body_words(struct wh_arena *arena, const struct wh_tree *body, const char *key)
{
    const struct wh_tree *node = wh_tree_get(body, key);
    WH_LIST(const char *) words = {0};
    if (node && node->is == WH_TREE_TEXT) return wh_split(arena, node->text, strchr(node->text, ';') ? ';' : ',');
    for (const struct wh_tree *item = node ? node->first : NULL; item; item = item->next)
        if (item->text) *WH_PUSH(arena, &words) = item->text;
    return (struct wh_words){words.at, words.count};
}

int64_t wh_body_seq(const struct wh_tree *body, const char *key)
{
    double number = wh_tree_number(body, key, 0);
    return number >= 1 && number < 9e15 ? (int64_t)number : 0;
}

static void note_files(struct wh_folding *f)
{
    struct wh_words files = wh_body_words(f->arena, f->body, "files");
    for (size_t i = 0; i < files.count; i++) *WH_PUSH(f->arena, &f->job->files) = files.at[i];
}

void wh_fold_line(struct wh_folding *f)
{
    *WH_PUSH(f->arena, &f->job->lines) =
        (struct wh_job_line){f->event->seq, f->event->at, f->event->who, f->event->kind, f->body};
}

void wh_fold_opened(struct wh_folding *f)
{
    struct wh_job *job = f->job;
    job->machine = wh_tree_text(f->body, "machine", "");
    job->machine_title = wh_tree_text(f->body, "machine title", "");
    job->file = wh_tree_text(f->body, "file", "");
    job->title = wh_tree_text(f->body, "title", "");
    job->brought = wh_tree_text(f->body, "brought", NULL);
    job->hours = wh_tree_text(f->body, "hours", NULL);
    job->renew = wh_body_words(f->arena, f->body, "renew");
    if (*job->file) *WH_PUSH(f->arena, &job->files) = job->file;
    const struct wh_tree *plan = wh_tree_get(f->body, "plan");
    if (plan) wh_job_take_plan(f, plan);
}

void wh_fold_replanned(struct wh_folding *f)
{
    const struct wh_tree *plan = wh_tree_get(f->body, "plan");
    if (plan) wh_job_take_plan(f, plan);
    f->job->renew = wh_body_words(f->arena, f->body, "renew");
    if (f->job->replan <= wh_body_seq(f->body, "asked")) f->job->replan = 0;
    wh_fold_line(f);
}

static void ask_for_plan(struct wh_folding *f, const char *because)
{
    f->job->replan = f->event->seq;
    f->job->replan_because = because;
}

void wh_fold_found(struct wh_folding *f)
{
    if (wh_tree_get(f->body, "add")) ask_for_plan(f, wh_tree_text(f->body, "what", "found"));
    wh_fold_line(f);
}

void wh_fold_renewed(struct wh_folding *f)
{
    if (wh_tree_get(f->body, "instead of")) ask_for_plan(f, "another part was fitted");
    wh_fold_line(f);
}

void wh_fold_waiting(struct wh_folding *f)
{
    f->job->waiting = wh_tree_text(f->body, "for", "");
    wh_job_lapse(f, true, true);
    wh_fold_line(f);
}

void wh_fold_resumed(struct wh_folding *f)
{
    f->job->waiting = NULL;
    wh_fold_line(f);
}

void wh_fold_handed(struct wh_folding *f)
{
    f->job->handed = true;
    wh_job_lapse(f, true, true);
    wh_fold_line(f);
}

static const char *const signs[WH_SIGNS] = {"fitter", "charge hand", "customer"};

void wh_fold_signed(struct wh_folding *f)
{
    for (int i = 0; i < WH_SIGNS; i++)
        if (wh_same(wh_tree_text(f->body, "as", ""), signs[i])) f->job->signed_by[i] = f->event->who;
    wh_fold_line(f);
}

void wh_fold_contested(struct wh_folding *f)
{
    *WH_PUSH(f->arena, &f->job->contests) = (struct wh_job_contest){.seq = f->event->seq,
                                                                    .against = wh_body_seq(f->body, "against"),
                                                                    .who = f->event->who,
                                                                    .kind = wh_tree_text(f->body, "kind", ""),
                                                                    .why = wh_tree_text(f->body, "because", ""),
                                                                    .entry = wh_tree_get(f->body, "entry")};
}

static struct wh_job_contest *contest_of(const struct wh_job *job, int64_t seq)
{
    for (size_t i = 0; i < job->contests.count; i++)
        if (job->contests.at[i].seq == seq) return &job->contests.at[i];
    return NULL;
}

/* Where the second stands it counts from now on, as an entry of who made it. */
void wh_fold_settled(struct wh_folding *f)
{
    struct wh_job_contest *contest = contest_of(f->job, wh_body_seq(f->body, "entry"));
    if (!contest) return;
    contest->settled = wh_tree_text(f->body, "stands", "");
    contest->settled_by = f->event->who;
    wh_fold_line(f);
    const struct wh_entry_kind *kind = wh_entry_kind(contest->kind);
    if (!wh_same(contest->settled, "second") || !kind || !kind->people || wh_same(kind->name, "settled")) return;
    struct wh_event_in event = *f->event;
    event.who = contest->who, event.kind = contest->kind;
    const struct wh_tree *whole = wh_tree_get(f->body, "second");
    struct wh_folding second = {f->arena, f->job, &event, whole ? whole : contest->entry};
    kind->fold(&second);
}

enum wh_status wh_job_fold(struct wh_arena *arena, struct wh_job *job, const struct wh_event_in *event,
                           struct wh_errors *reterr)
{
    const char *name = wh_arena_print(arena, "job %lld, entry %lld", (long long)event->job, (long long)event->seq);
    const struct wh_entry_kind *kind = wh_entry_kind(event->kind);
    struct wh_tree *body;
    if (event->seq != job->seq + 1)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = name}, NULL,
                             "it does not follow entry %lld", (long long)job->seq);
    if (!kind)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = name},
                             "it was made by a newer program: use that one", "\"%s\" is no kind of entry", event->kind);
    if (!wh_same(event->kind, "opened") && job->seq == 0)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = name}, NULL,
                             "a job begins with \"opened\"");
    enum wh_status status = wh_tree_read(arena, name, event->body, event->size, &body, reterr);
    if (status != WH_OK) return status;
    if (wh_tree_number(body, "v", 1) > WH_JOB_FORM)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = name},
                             "it was made by a newer program: use that one", "its form is %s",
                             wh_tree_text(body, "v", ""));
    struct wh_event_in kept = *event;
    kept.who = wh_arena_text(arena, event->who), kept.kind = kind->name;
    struct wh_folding folding = {arena, job, &kept, body};
    if (job->seq == 0) job->number = event->job, job->opened_at = event->at;
    job->seq = event->seq;
    job->changed_at = event->at;
    note_files(&folding);
    kind->fold(&folding);
    return WH_OK;
}
