/* Holds: released by name with what was tried, each energy by each fitter; lapsed at every bump, test run, change of
 * shift and wait. Nothing here hangs on time. */
#include "base/text.h"
#include "job/inside.h"

bool wh_job_released(const struct wh_job_hold *hold, const char *who)
{
    for (size_t i = 0; i < hold->releases.count; i++) {
        const struct wh_job_release *release = &hold->releases.at[i];
        if (release->lapsed == 0 && (!who || !hold->energy || wh_same(release->who, who))) return true;
    }
    return false;
}

void wh_job_lapse(struct wh_folding *f, bool power, bool others)
{
    for (size_t h = 0; h < f->job->holds.count; h++) {
        struct wh_job_hold *hold = &f->job->holds.at[h];
        if (hold->lasts || !(hold->power ? power : others)) continue;
        for (size_t i = 0; i < hold->releases.count; i++)
            if (hold->releases.at[i].lapsed == 0) hold->releases.at[i].lapsed = f->event->seq;
    }
}

/* The step of a hold is done by its release. */
static void mark_step(struct wh_folding *f, const char *hold)
{
    for (size_t s = 0; s < f->job->steps.count; s++) {
        struct wh_job_step *step = &f->job->steps.at[s];
        if (!wh_same(step->hold, hold)) continue;
        step->mark = WH_MARK_DONE;
        step->who = f->event->who;
        step->touched = f->event->seq;
    }
}

void wh_fold_released(struct wh_folding *f)
{
    struct wh_job_hold *hold = wh_job_hold(f->job, wh_tree_text(f->body, "hold", ""));
    if (!hold) return;
    *WH_PUSH(f->arena, &hold->releases) = (struct wh_job_release){
        f->event->seq, 0, f->event->who, wh_tree_text(f->body, "tried", ""), wh_tree_text(f->body, "lock", NULL)};
    hold->refused = hold->refused_by = NULL;
    hold->touched = f->event->seq;
    mark_step(f, hold->id);
}

void wh_fold_refused(struct wh_folding *f)
{
    struct wh_job_hold *hold = wh_job_hold(f->job, wh_tree_text(f->body, "hold", ""));
    if (!hold) return;
    for (size_t i = 0; i < hold->releases.count; i++)
        if (hold->releases.at[i].lapsed == 0) hold->releases.at[i].lapsed = f->event->seq;
    hold->refused = wh_tree_text(f->body, "because", "");
    hold->refused_by = f->event->who;
    hold->touched = f->event->seq;
}

void wh_fold_lapsed(struct wh_folding *f)
{
    wh_job_lapse(f, true, true);
}

/* What stands before power is released when nothing before it is open. */
static void ask_for_work(struct wh_accepting *a, const struct wh_job_hold *hold)
{
    size_t open = 0;
    const char *first = NULL;
    for (size_t s = 0; s < a->job->steps.count; s++) {
        const struct wh_job_step *step = &a->job->steps.at[s];
        const struct wh_job_hold *own = step->hold ? wh_job_hold(a->job, step->hold) : NULL;
        if (wh_same(step->hold, hold->id) || wh_same(step->stage, "running it")) break;
        bool done = own ? wh_job_released(own, NULL) || !own->power : step->mark >= WH_MARK_DONE;
        if (done || step->gone) continue;
        if (open++ == 0) first = step->what;
    }
    if (open)
        wh_refuse(a, "enter what was done, or why it was left out", "%zu steps before it are open, first: %s", open,
                  first);
}

enum wh_status wh_accept_released(struct wh_accepting *a)
{
    const struct wh_job_hold *hold = wh_job_hold(a->job, wh_tree_text(a->said, "hold", ""));
    if (!a->round->live) return wh_refuse(a, "release it when there is an answer", "a hold is not taken from a queue");
    if (a->entry->seen >= 0 && hold->touched > a->entry->seen)
        return wh_refuse(a, "look at it again", "%s: entry %lld was made meanwhile", hold->title,
                         (long long)hold->touched);
    if (hold->power) ask_for_work(a, hold);
    return wh_errors_status(a->errors);
}
