/* When the checks on the way in, on the bench and on the way back are made. */
#include "plan/builder.h"

#include <math.h>

/* The place of the first task before which, or of the last after which a check is made; negative: there is none. */
static double place_before(const struct wh_builder *b, const struct wh_check *check)
{
    enum wh_stage stage = check->phase == WH_PHASE_STRIP ? WH_STAGE_DOWN : WH_STAGE_UP;
    size_t found[2];
    double place = INFINITY;
    for (size_t e = 0; e < check->before.count; e++)
        for (size_t n = wh_build_event_tasks(b, check->before.at[e], false, found); n > 0; n--)
            if (check->before.at[e].is != WH_EVENT_CHECK && b->tasks.at[found[n - 1]].stage == stage)
                place = fmin(place, b->tasks.at[found[n - 1]].natural - 1);
    return isfinite(place) ? place : -1;
}

static double place_after(const struct wh_builder *b, const struct wh_check *check)
{
    size_t found[2];
    double place = -1;
    for (size_t e = 0; e < check->after.count; e++)
        for (size_t n = wh_build_event_tasks(b, check->after.at[e], true, found); n > 0; n--)
            place =
                fmax(place, b->tasks.at[found[n - 1]].natural + (check->after.at[e].is == WH_EVENT_CHECK ? 0.1 : 1));
    return place;
}

/* Is it read on the part that goes on next? */
static bool is_trial(const struct wh_check *check)
{
    bool trial = false;
    for (size_t e = 0; e < check->before.count; e++)
        trial |= check->before.at[e].is == WH_EVENT_ON && check->before.at[e].index == check->of;
    return trial;
}

/* On the way in it is read right before what would lose it, on the way back as soon as it can be. */
static double natural_of_check(const struct wh_builder *b, const struct wh_check *check, double otherwise)
{
    double before = place_before(b, check), after = place_after(b, check);
    bool late = check->phase == WH_PHASE_STRIP || is_trial(check);
    double place = late ? before : after;
    if (place < 0) place = late ? after : before;
    return place < 0 ? otherwise : place;
}

/* A check is made when one of its events happens: those it names, else any it stands before or after. */
static void need_check(struct wh_builder *b, size_t c, const struct wh_events *events)
{
    size_t found[2];
    for (size_t e = 0; e < events->count; e++)
        for (size_t n = wh_build_event_tasks(b, events->at[e], false, found); n > 0; n--)
            if (events->at[e].is != WH_EVENT_CHECK) wh_build_need(b, found[n - 1], false, &b->check[c], 1);
}

/* A fixture of a check is set only when the parts that the check waits for are done. */
static void use_for_check(struct wh_builder *b, size_t c, size_t f, int phase)
{
    const struct wh_events *after = &b->machine->checks[c].after;
    size_t found[2];
    wh_build_use_fixture(b, b->check[c], f, phase);
    for (size_t e = 0; e < after->count; e++)
        for (size_t n = wh_build_event_tasks(b, after->at[e], true, found); n > 0 && after->at[e].is != WH_EVENT_CHECK;
             n--)
            wh_build_before(b, found[n - 1], b->fixture_on[f][phase]);
}

static void isolate_after(struct wh_builder *b, size_t c)
{
    size_t task = b->check[c];
    struct wh_task isolate = {.is = WH_TASK_ISOLATE,
                              .stage = WH_STAGE_UP,
                              .thing = WH_NONE,
                              .check = c,
                              .hold = WH_NONE,
                              .natural = b->tasks.at[task].natural + 0.05};
    size_t again =
        wh_build_task(b, isolate, wh_arena_print(b->arena, "isolate after %s", b->machine->checks[c].id), 300,
                      (struct wh_set_up){.crew = b->fitters, .trade = WH_ORDER_ANY}); /* each has a lock of his own */
    wh_build_need(b, task, false, &again, 1);
    wh_build_before(b, task, again);
    b->links.at[b->links.count - 1].joined = true;
}

static void place_check(struct wh_builder *b, size_t c)
{
    const struct wh_check *check = &b->machine->checks[c];
    bool stripping = check->phase == WH_PHASE_STRIP, rebuilding = check->phase == WH_PHASE_REBUILD;
    double *natural = &b->tasks.at[b->check[c]].natural;
    if (stripping || rebuilding) *natural = natural_of_check(b, check, *natural);
    for (size_t i = 0; i < check->with.count; i++)
        use_for_check(b, c, check->with.at[i], stripping ? WH_PLAN_DOWN : WH_PLAN_UP);
    if (!check->bench) wh_build_bind_way_up(b, b->check[c], check->way_up, stripping ? WH_PLAN_DOWN : WH_PLAN_UP);
    if (check->power && rebuilding) isolate_after(b, c);
}

/* Whoever is called for a part, and for a check of it, goes on from the one to the other. */
static void stay_for_check(struct wh_builder *b, size_t c)
{
    const struct wh_check *check = &b->machine->checks[c];
    size_t found[2], last = WH_NONE;
    for (size_t e = 0; e < check->after.count && check->by != WH_NONE; e++)
        for (size_t n = wh_build_event_tasks(b, check->after.at[e], true, found); n > 0; n--)
            if (b->tasks.at[found[n - 1]].is == WH_TASK_ON &&
                b->machine->things[check->after.at[e].index].by == check->by)
                last = last == WH_NONE ? found[n - 1] : WH_NONE;
    if (last == WH_NONE) return;
    wh_build_before(b, last, b->check[c]);
    b->links.at[b->links.count - 1].joined = true;
}

static void bind_check(struct wh_builder *b, size_t c)
{
    const struct wh_check *check = &b->machine->checks[c];
    size_t task = b->check[c], found[2];
    if (check->needed_when.count > 0 && check->phase != WH_PHASE_LATER) {
        need_check(b, c, &check->needed_when);
    } else if (check->phase >= WH_PHASE_STRIP && check->phase <= WH_PHASE_REBUILD) {
        need_check(b, c, &check->after);
        need_check(b, c, &check->before);
    } else {
        b->orders.at[task].wanted = check->phase != WH_PHASE_LATER; /* a later visit is no part of this order */
    }
    for (size_t e = 0; e < check->after.count; e++)
        for (size_t n = wh_build_event_tasks(b, check->after.at[e], true, found); n > 0; n--)
            wh_build_before(b, found[n - 1], task);
    for (size_t e = 0; e < check->before.count; e++)
        for (size_t n = wh_build_event_tasks(b, check->before.at[e], false, found); n > 0; n--)
            wh_build_before(b, task, found[n - 1]);
    stay_for_check(b, c);
}

void wh_build_bind_checks(struct wh_builder *b)
{
    for (size_t c = 0; c < b->machine->check_count; c++) place_check(b, c);
    for (size_t c = 0; c < b->machine->check_count; c++) bind_check(b, c); /* once every fixture has its tasks */
}
