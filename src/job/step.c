/* Steps: started, done alone or as a block, done otherwise than planned, left out; and what keeps somebody from one. */
#include "base/text.h"
#include "job/inside.h"

#include <math.h>

/* Hands go into the machine: it has to be isolated. */
static bool needs_isolation(const struct wh_job_step *step)
{
    bool inside =
        wh_same(step->stage, "taking down") || wh_same(step->stage, "building up") || wh_same(step->stage, "come back");
    return inside && !step->power && !step->bench && !wh_same(step->is, "isolate") && !step->hold;
}

static bool running(const struct wh_job_step *step)
{
    return step->power && wh_same(step->stage, "running it");
}

struct bars {
    struct wh_arena *arena;
    WH_LIST(const char *) at;
};

/* Has this person, where it is an energy, released it before? */
static bool lapsed(const struct wh_job_hold *hold, const char *who)
{
    for (size_t i = 0; i < hold->releases.count; i++)
        if (!hold->energy || wh_same(hold->releases.at[i].who, who)) return !hold->refused;
    return false;
}

static void add_holds(struct bars *bars, const struct wh_job *job, const struct wh_job_step *step, const char *who)
{
    bool isolates = wh_same(step->is, "isolate");
    for (size_t h = 0; h < job->holds.count; h++) {
        const struct wh_job_hold *hold = &job->holds.at[h];
        bool due = hold->power    ? running(step)
                   : hold->energy ? needs_isolation(step) || isolates
                                  : needs_isolation(step);
        if (!due || wh_job_released(hold, who)) continue;
        const char *again = lapsed(hold, who) ? " again" : "";
        *WH_PUSH(bars->arena, &bars->at) =
            hold->energy
                ? wh_arena_print(bars->arena, "energy \"%s\" is to be released%s by %s: %s", hold->title, again, who,
                                 hold->tried ? hold->tried : "off, locked, tried")
                : wh_arena_print(bars->arena, "hold \"%s\" is to be released%s%s%s", hold->title, again,
                                 hold->refused ? "; refused because " : "", hold->refused ? hold->refused : "");
    }
}

static bool names(const struct wh_tree *list, const char *id)
{
    for (const struct wh_tree *item = list ? list->first : NULL; item; item = item->next)
        if (wh_same(item->text, id)) return true;
    return false;
}

/* What is lost once the part is off is read before. */
static void add_readings(struct bars *bars, const struct wh_job *job, const struct wh_job_step *step)
{
    if (!wh_same(step->is, "off")) return;
    for (size_t c = 0; c < job->checks.count; c++) {
        const struct wh_job_check *check = &job->checks.at[c];
        if (!names(wh_tree_get(check->issued, "before off"), step->part)) continue;
        if (check->unmeasured || wh_job_read(job, check->id)) continue;
        *WH_PUSH(bars->arena, &bars->at) = wh_arena_print(
            bars->arena, "reading \"%s\" comes first; or enter why it could not be measured", check->title);
    }
}

struct wh_words wh_job_bars(struct wh_arena *arena, const struct wh_job *job, const struct wh_job_step *step,
                            const char *who)
{
    struct bars bars = {.arena = arena};
    if (job->waiting)
        *WH_PUSH(arena, &bars.at) = wh_arena_print(arena, "the job waits for %s: take it up again first", job->waiting);
    if (job->handed && !wh_same(step->stage, "come back")) *WH_PUSH(arena, &bars.at) = "the job is handed over";
    add_holds(&bars, job, step, who);
    add_readings(&bars, job, step);
    return (struct wh_words){bars.at.at, bars.at.count};
}

static struct wh_words ids_of(const struct wh_accepting *a)
{
    return wh_body_words(a->arena, a->said, "steps");
}

static void ask_bars(struct wh_accepting *a, const struct wh_job_step *step)
{
    struct wh_words bars = wh_job_bars(a->arena, a->job, step, a->entry->who);
    for (size_t b = 0; b < bars.count; b++) wh_refuse(a, NULL, "%s: %s", step->what, bars.at[b]);
}

enum wh_status wh_accept_started(struct wh_accepting *a)
{
    struct wh_words ids = ids_of(a);
    for (size_t i = 0; i < ids.count; i++) {
        const struct wh_job_step *step = wh_job_step(a->job, ids.at[i]);
        if (step->hold) wh_refuse(a, NULL, "%s: a hold is released by name, with what was tried", step->what);
        ask_bars(a, step);
    }
    return wh_errors_status(a->errors);
}

/* A check is done by its reading; one that is a hold only when it is within, or decided by name. */
static void ask_check(struct wh_accepting *a, const struct wh_job_step *step)
{
    const struct wh_job_check *check = wh_job_check(a->job, step->check);
    const struct wh_job_reading *reading = wh_job_read(a->job, step->check);
    if (!reading && !(check && check->unmeasured))
        wh_refuse(a, NULL, "%s: enter the reading, or why it could not be measured", step->what);
    else if (check && check->hold && (!reading || (reading->verdict != WH_WITHIN && !reading->decided)))
        wh_refuse(a, NULL, "%s: it is a hold and not proven within; the charge hand decides by name", step->what);
}

enum wh_status wh_accept_done(struct wh_accepting *a)
{
    struct wh_words ids = ids_of(a);
    const char *manner = wh_tree_text(a->said, "manner", NULL);
    double minutes = wh_tree_number(a->said, "minutes", 0);
    if (minutes < 0 || minutes > 10000) return wh_refuse(a, NULL, "minutes: %g is no time for a step", minutes);
    for (size_t i = 0; i < ids.count; i++) {
        const struct wh_job_step *step = wh_job_step(a->job, ids.at[i]);
        if (step->hold) {
            wh_refuse(a, NULL, "%s: a hold is released by name, with what was tried", step->what);
        } else if (wh_same(manner, "already off")) {
            if (!wh_same(step->is, "off") && !wh_same(step->is, "take"))
                wh_refuse(a, NULL, "%s: only what comes off can be off already", step->what);
        } else {
            ask_bars(a, step);
            if (step->check) ask_check(a, step);
        }
    }
    return wh_errors_status(a->errors);
}

enum wh_status wh_accept_left_out(struct wh_accepting *a)
{
    struct wh_words ids = ids_of(a);
    for (size_t i = 0; i < ids.count; i++) {
        const struct wh_job_step *step = wh_job_step(a->job, ids.at[i]);
        const struct wh_job_check *check = step->check ? wh_job_check(a->job, step->check) : NULL;
        if (step->hold || (check && check->hold) || wh_same(step->is, "isolate"))
            wh_refuse(a, "it can be refused, with the reason; then it stays shut", "%s: a hold is not left out",
                      step->what);
        else if (step->mark == WH_MARK_DONE)
            wh_refuse(a, NULL, "%s: it is done already", step->what);
    }
    return wh_errors_status(a->errors);
}

/* Power, and the isolation that stood before it; hands in the machine, and the guards that stood before them. */
static void lapse_by(struct wh_folding *f, const struct wh_job_step *step)
{
    if (step->power) wh_job_lapse(f, false, true);
    if (needs_isolation(step)) wh_job_lapse(f, true, false);
    if (running(step)) f->job->tested = true;
}

static void ask_for_plan(struct wh_folding *f, const char *because)
{
    f->job->replan = f->event->seq;
    f->job->replan_because = because;
}

static void mark(struct wh_folding *f, enum wh_mark mark)
{
    struct wh_words ids = wh_body_words(f->arena, f->body, "steps");
    for (size_t i = 0; i < ids.count; i++) {
        struct wh_job_step *step = wh_job_step(f->job, ids.at[i]);
        if (!step) continue;
        bool begins = mark != WH_MARK_LEFT_OUT && step->mark != WH_MARK_IN_HAND;
        if (begins) lapse_by(f, step);
        step->mark = mark;
        step->who = f->event->who;
        step->touched = f->event->seq;
        step->manner = wh_tree_text(f->body, "manner", NULL);
        step->because = wh_tree_text(f->body, "because", NULL);
        if (mark == WH_MARK_DONE) step->actual = wh_tree_number(f->body, "minutes", NAN) / (double)ids.count;
    }
}

void wh_fold_started(struct wh_folding *f)
{
    mark(f, WH_MARK_IN_HAND);
}

void wh_fold_done(struct wh_folding *f)
{
    const char *manner = wh_tree_text(f->body, "manner", NULL);
    mark(f, WH_MARK_DONE);
    if (manner) ask_for_plan(f, manner);
}

void wh_fold_left_out(struct wh_folding *f)
{
    mark(f, WH_MARK_LEFT_OUT);
    ask_for_plan(f, "a step was left out");
}
