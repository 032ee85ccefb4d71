/* When the parts of a machine come round again, from the jobs that are kept. */
#include "desk/desk.h"

#include "desk/inside.h"

enum { MOST_JOBS = 50 }; /* the newest; what was renewed before these is not known */

static enum wh_status take(struct wh_arena *arena, struct wh_desk_look *look)
{
    *(struct wh_due_job *)look->context = wh_due_job(arena, look->job);
    return WH_OK;
}

enum wh_status wh_desk_due(struct wh_desk *desk, struct wh_arena *arena, const char *machine,
                           const struct wh_sheet *sheet, double hours, int64_t now, struct wh_due **ret,
                           struct wh_errors *reterr)
{
    struct wh_heads heads = {0};
    enum wh_status status = wh_desk_jobs(desk, arena, machine, NULL, MOST_JOBS, &heads, reterr);
    if (status != WH_OK) return status;
    struct wh_due_job *jobs = WH_NEW(arena, heads.count + 1, struct wh_due_job);
    for (size_t i = 0; i < heads.count && status == WH_OK; i++) { /* the oldest first */
        struct wh_desk_look look = {.context = &jobs[i], .body = take};
        status = wh_desk_state(desk, arena, heads.at[heads.count - 1 - i].job, &look, reterr);
    }
    if (status == WH_OK) *ret = wh_due_make(arena, sheet, jobs, heads.count, hours, now);
    return status;
}
