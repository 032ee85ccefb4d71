#include "job/job.h"

#include "base/text.h"

const char *wh_job_state_words(enum wh_job_state state)
{
    static const char *const words[] = {"being planned", "on the bench", "waiting for parts",
                                        "on test",       "handed back",  "put away"};
    return words[state];
}

struct wh_job_step *wh_job_step(const struct wh_job *job, const char *id)
{
    for (size_t i = 0; i < job->steps.count; i++)
        if (wh_same(job->steps.at[i].id, id)) return &job->steps.at[i];
    return NULL;
}

struct wh_job_check *wh_job_check(const struct wh_job *job, const char *id)
{
    for (size_t i = 0; i < job->checks.count; i++)
        if (wh_same(job->checks.at[i].id, id)) return &job->checks.at[i];
    return NULL;
}

struct wh_job_hold *wh_job_hold(const struct wh_job *job, const char *id)
{
    for (size_t i = 0; i < job->holds.count; i++)
        if (wh_same(job->holds.at[i].id, id)) return &job->holds.at[i];
    return NULL;
}

struct wh_job_reading *wh_job_reading(const struct wh_job *job, int64_t seq)
{
    for (size_t i = 0; i < job->readings.count; i++)
        if (job->readings.at[i].seq == seq) return &job->readings.at[i];
    return NULL;
}

struct wh_job_reading *wh_job_read(const struct wh_job *job, const char *check)
{
    for (size_t i = job->readings.count; i > 0; i--)
        if (wh_same(job->readings.at[i - 1].check, check)) return &job->readings.at[i - 1];
    return NULL;
}

const struct wh_job_step *wh_job_next(const struct wh_job *job)
{
    const struct wh_job_step *first = NULL;
    for (size_t i = 0; i < job->steps.count; i++) {
        const struct wh_job_step *step = &job->steps.at[i];
        if (step->gone) continue;
        if (step->mark == WH_MARK_IN_HAND) return step;
        if (step->mark == WH_MARK_TO_DO && !first) first = step;
    }
    return first;
}

/* Something was released, done or read: it has left the planning. */
static bool begun(const struct wh_job *job)
{
    for (size_t i = 0; i < job->steps.count; i++)
        if (job->steps.at[i].mark != WH_MARK_TO_DO) return true;
    for (size_t i = 0; i < job->holds.count; i++)
        if (job->holds.at[i].releases.count) return true;
    return false;
}

static bool all_signed(const struct wh_job *job)
{
    for (int i = 0; i < WH_SIGNS; i++)
        if (!job->signed_by[i]) return false;
    return true;
}

/* A job is put away when no visit is open any more and all three have signed. */
enum wh_job_state wh_job_state(const struct wh_job *job)
{
    if (job->handed) return all_signed(job) && !wh_job_next(job) ? WH_JOB_PUT_AWAY : WH_JOB_HANDED_BACK;
    if (job->waiting) return WH_JOB_WAITING;
    if (job->tested) return WH_JOB_ON_TEST;
    return begun(job) ? WH_JOB_ON_BENCH : WH_JOB_PLANNED;
}

struct open {
    struct wh_arena *arena;
    WH_LIST(const char *) at;
};

static void add_readings(struct open *open, const struct wh_job *job)
{
    for (size_t i = 0; i < job->readings.count; i++) {
        const struct wh_job_reading *r = &job->readings.at[i];
        const struct wh_job_check *check = wh_job_check(job, r->check);
        if (r->verdict == WH_WITHIN || r->decided || wh_job_read(job, r->check) != r || !check) continue;
        if (wh_same(r->when, "as found") && !check->hold) continue; /* how it came in; what was done stands elsewhere */
        *WH_PUSH(open->arena, &open->at) = wh_arena_print(open->arena, "%s, %s: %s", check->title, r->value, r->says);
    }
}

static void add_steps(struct open *open, const struct wh_job *job)
{
    for (size_t i = 0; i < job->steps.count; i++) {
        const struct wh_job_step *step = &job->steps.at[i];
        if (step->gone) continue;
        if (step->mark == WH_MARK_LEFT_OUT)
            *WH_PUSH(open->arena, &open->at) = wh_arena_print(open->arena, "%s: left out, %s", step->what,
                                                              step->because ? step->because : "no reason given");
        else if (wh_same(step->stage, "come back") && step->mark != WH_MARK_DONE)
            *WH_PUSH(open->arena, &open->at) = wh_arena_print(open->arena, "visit open: %s", step->what);
    }
}

struct wh_words wh_job_open(struct wh_arena *arena, const struct wh_job *job)
{
    struct open open = {.arena = arena};
    add_readings(&open, job);
    for (size_t i = 0; i < job->contests.count; i++)
        if (!job->contests.at[i].settled)
            *WH_PUSH(arena, &open.at) =
                wh_arena_print(arena, "entry %lld by %s is contested: %s", (long long)job->contests.at[i].seq,
                               job->contests.at[i].who, job->contests.at[i].why);
    for (size_t i = 0; i < job->holds.count; i++)
        if (job->holds.at[i].refused)
            *WH_PUSH(arena, &open.at) = wh_arena_print(arena, "%s: refused by %s because %s", job->holds.at[i].title,
                                                       job->holds.at[i].refused_by, job->holds.at[i].refused);
    add_steps(&open, job);
    return (struct wh_words){open.at.at, open.at.count};
}
