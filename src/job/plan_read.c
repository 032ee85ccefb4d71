/* The plan as issued becomes steps, checks and holds. What was entered for them stays with their ids; a step that the
 * new plan has no more is kept when something was entered for it. */
#include "base/text.h"
#include "job/inside.h"

#include <math.h>
#include <string.h>

static bool truth(const struct wh_tree *map, const char *key)
{
    return wh_same(wh_tree_text(map, key, ""), "true");
}

static const char *some(const struct wh_tree *map, const char *key)
{
    return wh_tree_text(map, key, NULL);
}

static const struct wh_tree *first_of(const struct wh_tree *map, const char *key)
{
    const struct wh_tree *list = wh_tree_get(map, key);
    return list ? list->first : NULL;
}

static struct wh_job_step step_of(const struct wh_tree *node)
{
    return (struct wh_job_step){.id = wh_tree_text(node, "id", ""),
                                .is = wh_tree_text(node, "is", ""),
                                .stage = wh_tree_text(node, "stage", ""),
                                .what = wh_tree_text(node, "what", ""),
                                .part = some(node, "part"),
                                .check = some(node, "check"),
                                .hold = some(node, "hold"),
                                .minutes = wh_tree_number(node, "minutes", 0),
                                .power = truth(node, "power"),
                                .bench = truth(node, "bench"),
                                .issued = node,
                                .actual = NAN};
}

static bool entered(const struct wh_job_step *step)
{
    return step->mark != WH_MARK_TO_DO;
}

/* First what was entered, in the order it had; then what the new plan has besides. */
static void take_steps(struct wh_folding *f, const struct wh_tree *plan)
{
    struct wh_job *job = f->job, before = *job;
    job->steps.at = NULL, job->steps.count = job->steps.room = 0;
    for (size_t i = 0; i < before.steps.count; i++) {
        if (!entered(&before.steps.at[i])) continue;
        struct wh_job_step *kept = WH_PUSH(f->arena, &job->steps);
        *kept = before.steps.at[i];
        kept->gone = true;
    }
    for (const struct wh_tree *node = first_of(plan, "steps"); node; node = node->next) {
        struct wh_job_step fresh = step_of(node), *kept = wh_job_step(job, fresh.id), *old;
        if (kept) {
            kept->gone = false;
            continue;
        }
        old = wh_job_step(&before, fresh.id);
        if (old) fresh.touched = old->touched;
        *WH_PUSH(f->arena, &job->steps) = fresh;
    }
}

static const struct wh_tree *by_id(const struct wh_tree *plan, const char *key, const char *id)
{
    for (const struct wh_tree *node = first_of(plan, key); node; node = node->next)
        if (wh_same(wh_tree_text(node, "id", ""), id)) return node;
    return NULL;
}

static void take_check(struct wh_folding *f, const struct wh_tree *plan, const struct wh_tree *node)
{
    struct wh_job_check *check = wh_job_check(f->job, wh_tree_text(node, "id", ""));
    struct wh_job_check before = check ? *check : (struct wh_job_check){0};
    const struct wh_tree *gauge = by_id(plan, "gauges", wh_tree_text(node, "gauge", ""));
    const char *unit = wh_tree_text(node, "unit", "");
    if (!check) check = WH_PUSH(f->arena, &f->job->checks);
    *check = (struct wh_job_check){.id = wh_tree_text(node, "id", ""),
                                   .title = wh_tree_text(node, "title", ""),
                                   .of = wh_tree_text(node, "of", ""),
                                   .when = wh_tree_text(node, "when", ""),
                                   .limits = some(node, "limits"),
                                   .expects = some(node, "expects"),
                                   .outside = some(node, "outside"),
                                   .reads = some(node, "reads"),
                                   .sets = some(node, "sets"),
                                   .judged_by = some(node, "judged by"),
                                   .hold = truth(node, "hold"),
                                   .gauge = some(node, "gauge"),
                                   .gauge_title = some(gauge, "title"),
                                   .uncertainty = wh_tree_number(gauge, "uncertainty", NAN),
                                   .least = wh_tree_number(node, "least", -INFINITY),
                                   .most = wh_tree_number(node, "most", INFINITY),
                                   .readings = (int)fmin(100, fmax(1, wh_tree_number(node, "readings", 1))),
                                   .issued = node,
                                   .unmeasured = before.unmeasured,
                                   .touched = before.touched};
    check->has_limits = some(node, "unit") && wh_unit_read(unit, strlen(unit), &check->unit);
}

static void take_hold(struct wh_folding *f, const struct wh_tree *node, bool energy)
{
    struct wh_job_hold *hold = wh_job_hold(f->job, wh_tree_text(node, "id", ""));
    if (!hold) {
        hold = WH_PUSH(f->arena, &f->job->holds);
        *hold = (struct wh_job_hold){0};
    }
    hold->id = wh_tree_text(node, "id", ""), hold->title = wh_tree_text(node, "title", "");
    hold->tried = some(node, "tried"), hold->text = some(node, energy ? "off" : "text");
    hold->energy = energy, hold->power = truth(node, "power"), hold->lasts = truth(node, "lasts");
}

void wh_job_take_plan(struct wh_folding *f, const struct wh_tree *plan)
{
    f->job->plan = plan;
    f->job->planned = f->event->seq;
    take_steps(f, plan);
    for (const struct wh_tree *n = first_of(plan, "checks"); n; n = n->next) take_check(f, plan, n);
    for (const struct wh_tree *n = first_of(plan, "energies"); n; n = n->next) take_hold(f, n, true);
    for (const struct wh_tree *n = first_of(plan, "holds"); n; n = n->next) take_hold(f, n, false);
}
