#include "view/bench.h"

#include "view/dimension.h"
#include "view/machine.h"
#include "view/plan.h"

static void add_number(struct wh_arena *arena, struct wh_tree *map, const char *key, long long number)
{
    wh_tree_add_text(arena, map, key, wh_arena_print(arena, "%lld", number));
}

static void add_some(struct wh_arena *arena, struct wh_tree *map, const char *key, const char *text)
{
    if (text && *text) wh_tree_add_text(arena, map, key, text);
}

static void add_words(struct wh_arena *arena, struct wh_tree *map, const char *key, struct wh_words words)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (size_t i = 0; i < words.count; i++) wh_tree_add_text(arena, list, NULL, words.at[i]);
}

/* Steps that are still to be done, and their minutes. */
static size_t still_to_do(const struct wh_job *job, double *ret_seconds)
{
    size_t n = 0;
    *ret_seconds = 0;
    for (size_t s = 0; s < job->steps.count; s++) {
        const struct wh_job_step *step = &job->steps.at[s];
        if (step->gone || step->mark >= WH_MARK_DONE) continue;
        n++;
        *ret_seconds += step->minutes * 60;
    }
    return n;
}

/* The place of a step among those of the plan. */
static size_t place_of(const struct wh_job *job, const struct wh_job_step *step, size_t *ret_all)
{
    size_t place = 0;
    *ret_all = 0;
    for (size_t s = 0; s < job->steps.count; s++) {
        if (job->steps.at[s].gone) continue;
        ++*ret_all;
        if (&job->steps.at[s] == step) place = *ret_all;
    }
    return place;
}

static const char *how_far(struct wh_arena *arena, const struct wh_job *job, const struct wh_job_step *step)
{
    size_t all, place = place_of(job, step, &all);
    double seconds;
    size_t left = still_to_do(job, &seconds);
    if (left == 0) return "all steps are done";
    if (!step) return wh_arena_print(arena, "%zu steps, %s of work left", left, wh_view_minutes(arena, seconds));
    return wh_arena_print(arena, "step %zu of %zu, %s of work left", place, all, wh_view_minutes(arena, seconds));
}

struct wh_tree *wh_view_bench_head(struct wh_arena *arena, const struct wh_job *job)
{
    static const char *const signs[] = {"fitter", "charge hand", "customer"};
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    add_number(arena, map, "number", job->number);
    add_number(arena, map, "last", job->seq);
    add_some(arena, map, "title", job->title);
    add_some(arena, map, "machine", job->machine_title);
    add_some(arena, map, "machine id", job->machine);
    add_some(arena, map, "brought", job->brought);
    add_some(arena, map, "hours", job->hours);
    add_some(arena, map, "waiting", job->waiting);
    wh_tree_add_text(arena, map, "state", wh_job_state_words(wh_job_state(job)));
    wh_tree_add_text(arena, map, "opened", wh_view_clock(arena, job->opened_at));
    wh_tree_add_text(arena, map, "how far", how_far(arena, job, wh_job_next(job)));
    if (job->replan) add_some(arena, map, "planning", job->replan_because);
    add_words(arena, map, "open", wh_job_open(arena, job));
    struct wh_tree *signed_by = wh_tree_add_new(arena, map, "signed", WH_TREE_LIST);
    for (int s = 0; s < WH_SIGNS; s++) {
        if (!job->signed_by[s]) continue;
        struct wh_tree *item = wh_tree_add_new(arena, signed_by, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "as", signs[s]);
        wh_tree_add_text(arena, item, "who", job->signed_by[s]);
    }
    wh_view_units(arena, map);
    return map;
}

static struct wh_tree *add_stage(struct wh_arena *arena, struct wh_tree *stages, const char *name)
{
    struct wh_tree *stage = wh_tree_add_new(arena, stages, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, stage, "stage", name);
    return wh_tree_add_new(arena, stage, "steps", WH_TREE_LIST);
}

static void add_step_line(struct wh_arena *arena, struct wh_tree *list, const struct wh_job_step *step, size_t place)
{
    struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    add_number(arena, item, "place", (long long)place);
    wh_tree_add_text(arena, item, "id", step->id);
    wh_tree_add_text(arena, item, "what", step->what);
    wh_tree_add_text(arena, item, "mark", wh_view_mark(step->mark));
    wh_tree_add_text(arena, item, "minutes", wh_view_minutes(arena, step->minutes * 60));
    wh_tree_add_text(arena, item, "fitter", wh_tree_text(step->issued, "fitter", "1"));
    add_some(arena, item, "waits", wh_tree_text(step->issued, "waits", NULL));
    add_some(arena, item, "turned", wh_tree_text(step->issued, "turned", NULL));
    add_some(arena, item, "hold", step->hold);
    add_some(arena, item, "who", step->mark ? step->who : NULL);
    add_some(arena, item, "manner", step->manner);
    add_some(arena, item, "because", step->because);
    wh_tree_add_truth(arena, item, "gone", step->gone);
}

struct wh_tree *wh_view_bench_steps(struct wh_arena *arena, const struct wh_job *job)
{
    struct wh_tree *stages = wh_tree_new(arena, WH_TREE_LIST), *list = NULL;
    const char *stage = NULL;
    size_t place = 0;
    for (size_t s = 0; s < job->steps.count; s++) {
        const struct wh_job_step *step = &job->steps.at[s];
        if (!list || !wh_same(stage, step->stage)) list = add_stage(arena, stages, step->stage);
        stage = step->stage;
        if (!step->gone) place++;
        add_step_line(arena, list, step, place);
    }
    wh_view_units(arena, stages);
    return stages;
}

static void add_release(struct wh_arena *arena, struct wh_tree *list, const struct wh_job_release *release)
{
    struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, item, "who", release->who);
    wh_tree_add_text(arena, item, "tried", release->tried);
    add_some(arena, item, "lock", release->lock);
    wh_tree_add_truth(arena, item, "lapsed", release->lapsed != 0);
}

struct wh_tree *wh_view_bench_holds(struct wh_arena *arena, const struct wh_job *job, const char *who)
{
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    for (size_t h = 0; h < job->holds.count; h++) {
        const struct wh_job_hold *hold = &job->holds.at[h];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "id", hold->id);
        wh_tree_add_text(arena, item, "title", hold->title);
        add_some(arena, item, "text", hold->text);
        add_some(arena, item, "to try", hold->tried);
        wh_tree_add_truth(arena, item, "energy", hold->energy);
        wh_tree_add_truth(arena, item, "power", hold->power);
        wh_tree_add_text(arena, item, "state",
                         hold->refused                ? "refused"
                         : wh_job_released(hold, who) ? "released"
                                                      : "not yet");
        add_some(arena, item, "refused", hold->refused);
        add_some(arena, item, "refused by", hold->refused_by);
        struct wh_tree *releases = wh_tree_add_new(arena, item, "releases", WH_TREE_LIST);
        for (size_t r = 0; r < hold->releases.count; r++) add_release(arena, releases, &hold->releases.at[r]);
    }
    wh_view_units(arena, list);
    return list;
}

/* A reading with its drawing, and what is still asked for it. */
static void add_reading(struct wh_arena *arena, struct wh_tree *list, const struct wh_job *job,
                        const struct wh_job_reading *reading)
{
    const struct wh_job_check *check = wh_job_check(job, reading->check);
    struct wh_tree *item = wh_tree_add(arena, list, NULL, wh_view_job_reading(arena, job, reading));
    add_some(arena, item, "outside", check && reading->verdict == WH_OUTSIDE ? check->outside : NULL);
    wh_tree_add_truth(arena, item, "to decide", reading->verdict != WH_WITHIN && !reading->decided);
    if (check) wh_view_add_scene(arena, item, "drawn", wh_view_reading_drawn(arena, check, reading));
}

struct wh_tree *wh_view_bench_readings(struct wh_arena *arena, const struct wh_job *job)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP),
                   *list = wh_tree_add_new(arena, map, "readings", WH_TREE_LIST),
                   *missing = wh_tree_add_new(arena, map, "to read", WH_TREE_LIST);
    for (size_t r = 0; r < job->readings.count; r++) add_reading(arena, list, job, &job->readings.at[r]);
    for (size_t c = 0; c < job->checks.count; c++) {
        const struct wh_job_check *check = &job->checks.at[c];
        if (wh_job_read(job, check->id)) continue;
        struct wh_tree *item = wh_tree_add_new(arena, missing, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "check", check->id);
        wh_tree_add_text(arena, item, "title", check->title);
        wh_tree_add_text(arena, item, "when", check->when);
        add_some(arena, item, "limits", check->limits ? check->limits : check->expects);
        add_some(arena, item, "unmeasured", check->unmeasured);
    }
    wh_view_units(arena, map);
    return map;
}

struct wh_tree *wh_view_bench_contests(struct wh_arena *arena, const struct wh_job *job)
{
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    for (size_t c = 0; c < job->contests.count; c++) {
        const struct wh_job_contest *contest = &job->contests.at[c];
        if (contest->settled) continue;
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        add_number(arena, item, "entry", contest->seq);
        add_number(arena, item, "against", contest->against);
        wh_tree_add_text(arena, item, "who", contest->who);
        wh_tree_add_text(arena, item, "kind", contest->kind);
        wh_tree_add_text(arena, item, "why", contest->why);
        add_some(arena, item, "value", wh_tree_text(contest->entry, "value", NULL));
    }
    return list;
}
