/* Solves a job: what went back and is in the way comes off again, what a fixture stands on goes back for it, and a plan
 * made anew keeps its ways out. */
#include "base/text.h"
#include "plan/tasks.h"

#include <string.h>

/* Parts that went back and yet are taken as off by a step still ahead: they come off again. False: there are none. */
static bool reopen_taken(struct wh_arena *arena, const struct wh_tasks *tasks, const struct wh_order *order,
                         struct wh_so_far *so_far, size_t things)
{
    const struct wh_order_problem *problem = &tasks->problem;
    bool *back = WH_NEW(arena, things, bool), *done = WH_NEW(arena, tasks->count, bool), found = false;
    for (size_t i = 0; i < problem->done_count; i++) {
        const struct wh_task *task = &tasks->tasks[problem->done[i]];
        done[problem->done[i]] = true;
        if (task->is == WH_TASK_OFF || task->is == WH_TASK_ON)
            back[task->thing] = task->is == WH_TASK_ON && task->last_piece;
    }
    for (size_t k = 0; k < problem->need_count; k++) {
        const struct wh_order_need *need = &problem->needs[k];
        int way = order->chosen_way[k];
        for (size_t i = 0; need->before && way >= 0 && !done[need->task] && i < need->ways[way].count; i++) {
            const struct wh_task *task = &tasks->tasks[need->ways[way].tasks[i]];
            bool taken = task->is == WH_TASK_OFF && done[need->ways[way].tasks[i]] && back[task->thing];
            if (!taken || so_far->reopened[task->thing]) continue;
            so_far->reopened[task->thing] = so_far->again = found = true;
        }
    }
    return found;
}

/* The first fixture still to be set that stands on a part which is off then. False: there is none. */
static bool stand_lost(struct wh_arena *arena, const struct wh_job *job, const struct wh_tasks *tasks,
                       const struct wh_order *order, size_t *ret_fixture, size_t *ret_part)
{
    bool *off = WH_NEW(arena, job->machine->thing_count, bool);
    for (size_t i = 0; i < order->step_count; i++) {
        const struct wh_task *task = &tasks->tasks[order->steps[i].task];
        if (task->is == WH_TASK_OFF) off[task->thing] = true;
        if (task->is == WH_TASK_ON && task->last_piece) off[task->thing] = false;
        if (task->is != WH_TASK_FIXTURE_ON || task->stage != WH_STAGE_DOWN || i < tasks->problem.done_count) continue;
        const struct wh_indices *stands_on = &job->machine->things[task->thing].stands_on;
        for (size_t k = 0; k < stands_on->count; k++) {
            if (!off[stands_on->at[k]]) continue;
            *ret_fixture = task->thing, *ret_part = stands_on->at[k];
            return true;
        }
    }
    return false;
}

static struct wh_so_far another(struct wh_arena *arena, const struct wh_so_far *so_far, size_t things)
{
    struct wh_so_far copy = *so_far;
    copy.reopened = WH_NEW(arena, things, bool), copy.without = WH_NEW(arena, things, bool);
    copy.refit = WH_NEW(arena, things, size_t);
    memcpy(copy.reopened, so_far->reopened, things * sizeof *copy.reopened);
    if (so_far->without) memcpy(copy.without, so_far->without, things * sizeof *copy.without);
    if (so_far->refit) memcpy(copy.refit, so_far->refit, things * sizeof *copy.refit);
    copy.notes.at = NULL, copy.notes.count = copy.notes.room = 0;
    return copy;
}

static enum wh_status solve(struct wh_arena *arena, const struct wh_job *job, struct wh_so_far *so_far,
                            struct wh_tasks **ret_tasks, struct wh_order **ret, struct wh_errors *reterr);

/* Is it warmed before it goes on? Nobody does that for a while only. */
static bool is_warmed(const struct wh_tasks *tasks, size_t part)
{
    bool warmed = false;
    for (size_t t = 0; t < tasks->count; t++)
        warmed |= tasks->tasks[t].thing == part && tasks->tasks[t].is == WH_TASK_ON && !tasks->tasks[t].last_piece;
    return warmed;
}

/* What the fixture stands on goes on again for it, or another way is gone: whichever is quicker. */
static enum wh_status solve_stand(struct wh_arena *arena, const struct wh_job *job, size_t fixture, size_t part,
                                  struct wh_so_far *so_far, struct wh_tasks **ret_tasks, struct wh_order **ret,
                                  struct wh_errors *reterr)
{
    size_t things = job->machine->thing_count;
    struct wh_so_far without = another(arena, so_far, things), with = another(arena, so_far, things);
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tasks *tasks, *lacking_tasks = *ret_tasks;
    struct wh_order *order, *lacking = *ret;
    without.without[fixture] = true;
    with.refit[part] = fixture;
    enum wh_status other = solve(arena, job, &without, &tasks, &order, &errors);
    bool refits = !is_warmed(lacking_tasks, part);
    enum wh_status status = refits ? solve(arena, job, &with, ret_tasks, ret, &errors) : WH_ERR_INPUT;
    if (other == WH_ERR_INPUT && status == WH_ERR_INPUT) { /* the order without either is told with what it lacks */
        *ret_tasks = lacking_tasks, *ret = lacking;
        *WH_PUSH(arena, &so_far->notes) =
            wh_arena_print(arena, "the %s stands on the %s, which is off: see first how that goes on again",
                           job->machine->things[fixture].title, job->machine->things[part].title);
        return WH_OK;
    }
    *so_far = with;
    if (other != WH_OK && status != WH_OK) return solve(arena, job, &with, ret_tasks, ret, reterr); /* says why */
    if (other != WH_OK || (status == WH_OK && (*ret)->cost <= order->cost)) return status;
    *so_far = without, *ret_tasks = tasks, *ret = order;
    return WH_OK;
}

static enum wh_status solve(struct wh_arena *arena, const struct wh_job *job, struct wh_so_far *so_far,
                            struct wh_tasks **ret_tasks, struct wh_order **ret, struct wh_errors *reterr)
{
    size_t fixture, part;
    for (;;) {
        enum wh_status status = wh_tasks_make(arena, job, so_far, ret_tasks, reterr);
        if (status == WH_OK) status = wh_order_solve(arena, &(*ret_tasks)->problem, ret, reterr);
        if (status != WH_OK) return status;
        if (!reopen_taken(arena, *ret_tasks, *ret, so_far, job->machine->thing_count)) break;
        so_far->notes.count = 0; /* they are told anew */
    }
    if (!stand_lost(arena, job, *ret_tasks, *ret, &fixture, &part)) return WH_OK;
    return solve_stand(arena, job, fixture, part, so_far, ret_tasks, ret, reterr);
}

/* The ways not taken by the plan so far, of parts that come off by it and are still on. False: none had two. */
static bool other_ways(const struct wh_job *job, int banned[])
{
    bool found = false;
    for (size_t t = 0; t < job->machine->thing_count; t++) {
        const struct wh_thing *part = &job->machine->things[t];
        banned[t] = -1;
        for (size_t i = 0; i < job->ask->ahead.count && part->way_count == 2; i++) {
            const char *id = job->ask->ahead.at[i];
            size_t n = strlen(part->id);
            if (!wh_starts(id, "off ") || strncmp(id + 4, part->id, n) != 0) continue;
            if (id[4 + n] == '\0') banned[t] = 1;
            if (wh_same(id + 4 + n, ", other way")) banned[t] = 0;
        }
        found |= banned[t] >= 0;
    }
    return found;
}

/* Of what is taken away while parts still come off, the step is one of the way in. */
static void settle_stages(struct wh_tasks *tasks, const struct wh_order *order)
{
    bool down = false;
    for (size_t i = order->step_count; i > tasks->problem.done_count; i--) {
        struct wh_task *task = &tasks->tasks[order->steps[i - 1].task];
        down |= task->is == WH_TASK_OFF;
        if (down && task->is == WH_TASK_FIXTURE_OFF) task->stage = WH_STAGE_DOWN;
    }
}

static enum wh_status keep_ways(struct wh_arena *arena, struct wh_job *job, struct wh_so_far *so_far,
                                struct wh_tasks **ret_tasks, struct wh_order **ret, struct wh_errors *reterr)
{
    int *banned = WH_NEW(arena, job->machine->thing_count, int);
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_so_far kept_so_far = another(arena, so_far, job->machine->thing_count);
    struct wh_tasks *kept_tasks = NULL;
    struct wh_order *kept = NULL;
    if (!other_ways(job, banned)) return solve(arena, job, so_far, ret_tasks, ret, reterr);
    job->banned = banned;
    enum wh_status keeps = solve(arena, job, &kept_so_far, &kept_tasks, &kept, &errors);
    job->banned = NULL;
    enum wh_status status = solve(arena, job, so_far, ret_tasks, ret, keeps == WH_OK ? &errors : reterr);
    if (keeps != WH_OK || (status == WH_OK && (*ret)->cost < kept->cost - WH_PLAN_KEEP / 60)) return status;
    *so_far = kept_so_far, *ret_tasks = kept_tasks, *ret = kept;
    return WH_OK;
}

enum wh_status wh_plan_solve(struct wh_arena *arena, struct wh_job *job, struct wh_so_far *so_far,
                             struct wh_tasks **ret_tasks, struct wh_order **ret, struct wh_errors *reterr)
{
    enum wh_status status = keep_ways(arena, job, so_far, ret_tasks, ret, reterr);
    if (status == WH_OK) settle_stages(*ret_tasks, *ret);
    return status;
}
