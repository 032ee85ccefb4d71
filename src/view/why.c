#include "view/why.h"

#include "view/plan.h"

#include <math.h>
#include <string.h>

static const char *name_of(struct wh_arena *arena, const struct wh_step *step)
{
    return wh_arena_print(arena, "%s (%zu)", step->what, step->number);
}

static void add_steps(struct wh_arena *arena, struct wh_tree *map, const char *key, const struct wh_step *const steps[],
                      size_t count)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (size_t i = 0; i < count; i++) wh_tree_add_text(arena, list, NULL, name_of(arena, steps[i]));
}

static const char *reason(struct wh_arena *arena, const struct wh_plan *plan, const struct wh_why *why)
{
    const struct wh_task *task = why->step->task;
    bool off = task->is == WH_TASK_OFF;
    if (off && plan->asked[task->thing]) return "it is asked for";
    if (off && plan->also[task->thing]) return "it was found on the way";
    if (!why->asked_by) return off ? "it is looked at when what was asked for is renewed" : "it belongs to every job";
    if (task->is == WH_TASK_ON && why->asked_by->task->is == WH_TASK_OFF) return "it came off, so it goes back";
    const char *to = why->toward == WH_NONE || !off
                         ? ""
                         : wh_arena_print(arena, ", on the way to the %s", plan->machine->things[why->toward].title);
    return wh_arena_print(arena, why->asked_before ? "%s cannot be done before it%s" : "%s asks for it%s",
                          name_of(arena, why->asked_by), to);
}

static const char *costs(struct wh_arena *arena, double seconds)
{
    if (fabs(seconds) < 6) return "that would take as long";
    if (seconds < 60)
        return wh_arena_print(arena, "that would take %.1f min %s", fabs(seconds) / 60, seconds > 0 ? "more" : "less");
    return wh_arena_print(arena, "that would take %s more", wh_view_minutes(arena, seconds));
}

static void add_places(struct wh_arena *arena, struct wh_tree *map, const struct wh_why *why)
{
    if (why->earliest) {
        wh_tree_add_text(arena, map, "earlier",
                         wh_arena_print(arena, "right after %s: %s", name_of(arena, why->earliest),
                                        costs(arena, why->earlier_costs)));
        wh_tree_add_number(arena, map, "earlier minutes more", why->earlier_costs / 60);
    }
    if (why->latest) {
        wh_tree_add_text(arena, map, "later",
                         wh_arena_print(arena, "as late as after %s: %s", name_of(arena, why->latest),
                                        costs(arena, why->later_costs)));
        wh_tree_add_number(arena, map, "later minutes more", why->later_costs / 60);
    }
    if (!why->earliest && !why->latest) wh_tree_add_text(arena, map, "place", "it can stand nowhere else");
}

static const char *minutes_words(struct wh_arena *arena, double spare)
{
    if (spare <= 0) return "a minute more here is a minute more for the whole";
    if (spare >= 470 * 60.0) return "they never lengthen the whole";
    return wh_arena_print(arena, "%s more here would not lengthen the whole", wh_view_minutes(arena, spare));
}

static void add_why(struct wh_arena *arena, struct wh_tree *list, const struct wh_plan *plan, size_t s)
{
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    const struct wh_step *step = &plan->steps[s];
    struct wh_why why = wh_plan_why(arena, plan, s);
    wh_tree_add_text(arena, map, "id", step->task->id);
    wh_tree_add_number(arena, map, "number", (double)step->number);
    wh_tree_add_text(arena, map, "what", step->what);
    if (step->number <= plan->done_count) wh_tree_add_truth(arena, map, "done", true);
    wh_tree_add_text(arena, map, "because", reason(arena, plan, &why));
    add_steps(arena, map, "waits for", why.after, why.after_count);
    add_steps(arena, map, "waited for by", why.before, why.before_count);
    if (step->number <= plan->done_count) return;
    add_places(arena, map, &why);
    wh_tree_add_text(arena, map, "minutes", minutes_words(arena, why.spare));
    wh_tree_add_number(arena, map, "spare minutes", why.spare / 60);
}

static bool is_of(const struct wh_plan *plan, const struct wh_step *step, const char *asked, double number)
{
    size_t thing = step->task->thing;
    if (isfinite(number)) return (double)step->number >= number && (double)step->number <= number;
    bool at_it = step->task->stage >= WH_STAGE_DOWN && step->task->stage <= WH_STAGE_UP;
    return wh_same(step->task->id, asked) ||
           (at_it && thing != WH_NONE && wh_same(plan->machine->things[thing].id, asked));
}

/* What the other way out of a part would take, and what would make it the quicker one. */
static void add_margin(struct wh_arena *arena, struct wh_tree *list, const struct wh_plan *plan,
                       const struct wh_other_way *other)
{
    const struct wh_thing *part = &plan->machine->things[other->thing];
    const struct wh_way *way = &part->ways[other->way], *rest = &part->ways[1 - other->way];
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "part", part->id);
    wh_tree_add_text(arena, map, "way", way->title ? way->title : "one way");
    wh_tree_add_text(arena, map, "other way", rest->title ? rest->title : "the other way");
    wh_tree_add_text(arena, map, "other way costs", wh_view_other_way(arena, other));
    wh_tree_add_number(arena, map, "other way minutes more", other->more / 60);
    if (!isfinite(other->more) || other->more < 60) return;
    struct wh_tree *changes = wh_tree_add_new(arena, map, "it would be quicker if", WH_TREE_LIST);
    int turnings = plan->turnings - other->turnings;
    wh_tree_add_text(
        arena, changes, NULL,
        wh_arena_print(arena, "the steps that only this way has took %s longer", wh_view_minutes(arena, other->more)));
    if (other->other_own >= other->more)
        wh_tree_add_text(arena, changes, NULL,
                         wh_arena_print(arena, "taking off and fitting it the other way took %s instead of %s",
                                        wh_view_minutes(arena, other->other_own - other->more),
                                        wh_view_minutes(arena, other->other_own)));
    if (turnings > 0)
        wh_tree_add_text(arena, changes, NULL,
                         wh_arena_print(arena, "each turning of the machine took %s longer",
                                        wh_view_minutes(arena, other->more / turnings)));
    if (turnings < 0)
        wh_tree_add_text(arena, changes, NULL,
                         wh_arena_print(arena, "each turning of the machine took %s less",
                                        wh_view_minutes(arena, other->more / -turnings)));
}

enum wh_status wh_view_why(struct wh_arena *arena, const struct wh_plan *plan, const char *asked, struct wh_tree **ret,
                           struct wh_errors *reterr)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP), *list = wh_tree_add_new(arena, map, "steps", WH_TREE_LIST);
    struct wh_tree *ways = wh_tree_add_new(arena, map, "ways", WH_TREE_LIST);
    double number = NAN;
    const char *rest = wh_number_read(asked, &number);
    if (!rest || *rest) number = NAN;
    for (size_t s = 0; s < plan->step_count; s++)
        if (is_of(plan, &plan->steps[s], asked, number)) add_why(arena, list, plan, s);
    for (size_t i = 0; i < plan->other_count; i++)
        if (wh_same(plan->machine->things[plan->others[i].thing].id, asked))
            add_margin(arena, ways, plan, &plan->others[i]);
    *ret = map;
    if (list->count > 0) return WH_OK;
    size_t thing = wh_machine_thing(plan->machine, asked), count = 0;
    if (thing != WH_NONE)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL,
                             "the %s has no step in this job: nothing that is renewed asks for it",
                             plan->machine->things[thing].title);
    const char **ids = WH_NEW(arena, plan->step_count + plan->machine->thing_count + 1, const char *);
    for (size_t s = 0; s < plan->step_count; s++) ids[count++] = plan->steps[s].task->id;
    for (size_t t = 0; t < plan->machine->thing_count; t++) ids[count++] = plan->machine->things[t].id;
    const char *nearest = wh_nearest(asked, ids, count);
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0},
                         nearest ? wh_arena_print(arena, "did you mean \"%s\"?", nearest)
                                 : "name a part, a step (\"off lid\") or its number",
                         "this plan has no part and no step \"%s\"", asked);
}

struct wh_tree *wh_view_matters(struct wh_arena *arena, const struct wh_plan *plan)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP), *ways = wh_tree_add_new(arena, map, "ways", WH_TREE_LIST);
    struct wh_tree *list = wh_tree_add_new(arena, map, "may take longer", WH_TREE_LIST);
    const double *spare = wh_plan_spare(arena, plan);
    size_t ahead = 0;
    for (size_t i = 0; i < plan->other_count; i++) add_margin(arena, ways, plan, &plan->others[i]);
    for (size_t s = plan->done_count; s < plan->step_count && plan->steps[s].task->stage != WH_STAGE_LATER; s++) {
        ahead++;
        if (spare[s] < 60) continue;
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "id", plan->steps[s].task->id);
        wh_tree_add_text(arena, item, "what", name_of(arena, &plan->steps[s]));
        wh_tree_add_number(arena, item, "spare minutes", spare[s] / 60);
    }
    wh_tree_add_number(arena, map, "steps that lengthen the whole at once", (double)(ahead - list->count));
    return map;
}
