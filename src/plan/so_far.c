/* A job planned anew: what is done stands first, as it was done; what went back and has to come off again is untouched
 * once more. An event that another of the same sort has overtaken is history: a task that nothing hangs on. */
#include "plan/builder.h"

#include "base/text.h"

#include <string.h>

struct past {
    struct wh_builder *b;
    size_t *task;      /* of each done step */
    bool *history;     /* of each done step: overtaken */
    size_t *overtaken; /* by task: how often */
    bool *is_done;     /* by task: done, and it still holds */
    size_t *refit;     /* by thing: the task of fitting it again for a fixture; WH_NONE */
};

/* "off casing again 2" is another "off casing". */
static const char *base_of(struct wh_arena *arena, const char *id)
{
    const char *again = strstr(id, " again");
    return again ? wh_arena_slice(arena, id, (size_t)(again - id)) : id;
}

static enum wh_status find_steps(struct past *p, struct wh_errors *reterr)
{
    struct wh_builder *b = p->b;
    const char **ids = WH_NEW(b->arena, b->tasks.count + 1, const char *);
    size_t before = reterr->count;
    for (size_t t = 0; t < b->tasks.count; t++) ids[t] = b->tasks.at[t].id;
    for (size_t i = 0; i < b->ask->done.count; i++) {
        p->task[i] = wh_build_find(b, base_of(b->arena, b->ask->done.at[i]));
        if (p->task[i] != WH_NONE) continue;
        const char *nearest = wh_nearest(b->ask->done.at[i], ids, b->tasks.count);
        wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0},
                      nearest ? wh_arena_print(b->arena, "did you mean \"%s\"?", nearest) : NULL,
                      "no step of %s is \"%s\"", b->machine->path, b->ask->done.at[i]);
    }
    return reterr->count > before ? WH_ERR_INPUT : WH_OK;
}

static bool is_part(const struct wh_task *task)
{
    return task->is == WH_TASK_OFF || task->is == WH_TASK_ON;
}

static bool is_fixture(const struct wh_task *task)
{
    return task->is == WH_TASK_FIXTURE_ON || task->is == WH_TASK_FIXTURE_OFF;
}

static bool went_back(const struct past *p, size_t thing)
{
    bool back = false;
    for (size_t i = 0; i < p->b->ask->done.count; i++) {
        const struct wh_task *task = &p->b->tasks.at[p->task[i]];
        if (task->thing == thing && is_part(task)) back = task->is == WH_TASK_ON && task->last_piece;
    }
    return back;
}

/* Is a later done step the beginning of the same sort of thing once more? */
static bool overtaken_later(const struct past *p, size_t i)
{
    const struct wh_task *task = &p->b->tasks.at[p->task[i]];
    for (size_t j = i + 1; j < p->b->ask->done.count; j++) {
        const struct wh_task *later = &p->b->tasks.at[p->task[j]];
        if (p->task[j] == p->task[i]) return true;
        if (is_part(task) && later->is == WH_TASK_OFF && later->thing == task->thing) return true;
        if (task->is == WH_TASK_FIXTURE_OFF || task->is != WH_TASK_FIXTURE_ON) continue;
        if (later->is == WH_TASK_FIXTURE_OFF && later->thing == task->thing) return true;
    }
    return is_fixture(task) && task->is == WH_TASK_FIXTURE_OFF;
}

static const struct wh_events *triggers(const struct wh_check *check)
{
    return check->needed_when.count > 0 ? &check->needed_when : &check->after;
}

static bool names_reopened(const struct wh_builder *b, const struct wh_events *events)
{
    for (size_t e = 0; e < events->count; e++) {
        struct wh_event event = events->at[e];
        if (event.is == WH_EVENT_CHECK) continue;
        size_t thing = event.is == WH_EVENT_FILL ? wh_build_drain_of(b, event.index) : event.index;
        if (b->so_far->reopened[thing]) return true;
    }
    return false;
}

/* Does what was done no longer hold once these parts come off again? */
static bool lapses(const struct past *p, const struct wh_task *task)
{
    const struct wh_builder *b = p->b;
    const struct wh_check *check = task->check == WH_NONE ? NULL : &b->machine->checks[task->check];
    bool warmed = task->is == WH_TASK_ON && !task->last_piece && !went_back(p, task->thing);
    if (is_part(task) && b->so_far->refit && b->so_far->refit[task->thing] > 0) return true;
    if (is_part(task)) return b->so_far->reopened[task->thing] || (warmed && b->so_far->again);
    if (task->is == WH_TASK_FILL) return b->so_far->reopened[wh_build_drain_of(b, task->thing)];
    if (task->is == WH_TASK_WASH || task->is == WH_TASK_CLEAN || task->stage == WH_STAGE_RUN) return b->so_far->again;
    return check && check->phase == WH_PHASE_REBUILD && names_reopened(b, triggers(check));
}

static void mark_done(struct past *p)
{
    memset(p->is_done, 0, (p->b->tasks.count + 1) * sizeof *p->is_done);
    for (size_t i = 0; i < p->b->ask->done.count; i++) {
        p->history[i] = overtaken_later(p, i) || lapses(p, &p->b->tasks.at[p->task[i]]);
        if (!p->history[i]) p->is_done[p->task[i]] = true;
    }
}

/* Is this still to be done, and not only if something else is? A part that is off goes back; a check is read when what
 * asks for it was done. */
static bool is_due(const struct past *p, size_t task)
{
    const struct wh_builder *b = p->b;
    const struct wh_task *t = &b->tasks.at[task];
    size_t found[2];
    if (p->is_done[task]) return false;
    if (t->is == WH_TASK_ON) return p->is_done[b->off[t->thing][t->way]];
    if (t->is != WH_TASK_CHECK || b->machine->checks[t->check].phase != WH_PHASE_REBUILD) return false;
    const struct wh_events *events = triggers(&b->machine->checks[t->check]);
    for (size_t e = 0; e < events->count; e++)
        for (size_t n = wh_build_event_tasks(b, events->at[e], true, found); n > 0; n--)
            if (events->at[e].is != WH_EVENT_CHECK && p->is_done[found[n - 1]]) return true;
    return false;
}

static const char *why_again(const struct wh_builder *b, const struct wh_task *first, const struct wh_task *after)
{
    const char *part = b->machine->things[after->thing].title;
    if (first->is == WH_TASK_CHECK)
        return wh_arena_print(b->arena, "take the %s off again: \"%s\" is read before", part,
                              b->machine->checks[first->check].title);
    return wh_arena_print(b->arena, "take the %s off again: the %s goes on before", part,
                          b->machine->things[first->thing].title);
}

/* A part that went back although something was due before it comes off again. */
static bool reopen_blocked(struct past *p)
{
    struct wh_builder *b = p->b;
    bool found = false;
    for (size_t l = 0; l < b->links.count; l++) {
        size_t first = b->links.at[l].first, after = b->links.at[l].after;
        const struct wh_task *on = &b->tasks.at[after];
        bool other = on->is == WH_TASK_ON && b->tasks.at[first].thing != on->thing;
        if (b->tasks.at[first].is == WH_TASK_CHECK) other = on->is == WH_TASK_ON;
        if (!other || !p->is_done[after] || b->so_far->reopened[on->thing] || !is_due(p, first)) continue;
        b->so_far->reopened[on->thing] = found = true;
        *WH_PUSH(b->arena, &b->so_far->notes) = why_again(b, &b->tasks.at[first], on);
    }
    return found;
}

static void want_reopened(struct wh_builder *b)
{
    for (size_t t = 0; t < b->machine->thing_count; t++)
        if (b->so_far->reopened[t])
            wh_build_need_off(b, b->clean, &(struct wh_conditions){&(struct wh_indices){&t, 1}, 1}, WH_PLAN_DOWN);
}

/* A fixture that stands for the way back stands there for the way in, once that begins again. */
static void use_standing(struct past *p)
{
    struct wh_builder *b = p->b;
    for (size_t i = 0; i < b->ask->done.count && b->so_far->again; i++) {
        size_t task = p->task[i];
        if (b->tasks.at[task].is != WH_TASK_FIXTURE_ON || p->history[i]) continue;
        size_t down = b->fixture_on[b->tasks.at[task].thing][WH_PLAN_DOWN];
        if (down == WH_NONE || down == task) continue;
        p->overtaken[task]++;
        p->task[i] = down;
    }
    mark_done(p);
}

/* Looks for what may have to be undone, the first time; then which of it does is known. */
static void look_back(struct past *p)
{
    struct wh_so_far *so_far = p->b->so_far;
    bool past_the_way_in = false;
    for (size_t i = 0; i < p->b->ask->done.count; i++) {
        enum wh_stage stage = p->b->tasks.at[p->task[i]].stage;
        past_the_way_in |= stage == WH_STAGE_BENCH || stage == WH_STAGE_UP || stage == WH_STAGE_RUN;
    }
    so_far->plain = !past_the_way_in;
    mark_done(p);
    if (so_far->probing) so_far->again = past_the_way_in;
    while (so_far->probing && reopen_blocked(p)) mark_done(p);
    want_reopened(p->b);
    for (size_t t = 0; t < p->b->machine->thing_count && so_far->probing; t++) so_far->reopened[t] |= went_back(p, t);
    mark_done(p);
    use_standing(p);
}

/* Is there anything still to go on before this part? */
static bool waited_for(const struct past *p, size_t part)
{
    const struct wh_builder *b = p->b;
    for (size_t l = 0; l < b->links.count; l++) {
        const struct wh_task *first = &b->tasks.at[b->links.at[l].first], *after = &b->tasks.at[b->links.at[l].after];
        bool goes_on = first->is == WH_TASK_ON && after->is == WH_TASK_ON && after->thing == part;
        if (goes_on && first->thing != part && is_due(p, b->links.at[l].first)) return true;
    }
    return false;
}

/* Parts that go on again for a fixture; a window of what is off ends there. */
static void refit_parts(struct past *p)
{
    struct wh_builder *b = p->b;
    for (size_t i = 0; i < b->ask->done.count && b->so_far->refit; i++) {
        const struct wh_task *task = &b->tasks.at[p->task[i]];
        size_t part = task->thing, way = task->way;
        if (task->is != WH_TASK_OFF || b->so_far->refit[part] == 0 || p->refit[part] != WH_NONE) continue;
        p->refit[part] = wh_build_refit(b, part, way, p->overtaken[b->on_last[part][way]], waited_for(p, part));
        p->overtaken[b->on_last[part][way]]++;
    }
}

/* What is history is a task of its own in the sequence, for the way up and the tools it left. */
static size_t history_task(struct wh_builder *b, size_t task, const char *id)
{
    struct wh_task copy = b->tasks.at[task];
    struct wh_order_task order = b->orders.at[task];
    order.name = copy.id = id;
    order.wanted = false;
    bool share = copy.is == WH_TASK_WASH && copy.thing == WH_NONE && b->so_far->again && b->so_far->washing > 0;
    if (share) order.minutes /= b->so_far->washing; /* it was all of the washing then */
    *WH_PUSH(b->arena, &b->tasks) = copy;
    *WH_PUSH(b->arena, &b->orders) = order;
    return b->tasks.count - 1;
}

/* The way in is over before the first step on the bench, unless it begins again. */
static void end_the_way_in(struct past *p, const struct wh_task *task, bool *ended)
{
    if (*ended || p->b->so_far->again || task->stage < WH_STAGE_BENCH) return;
    *WH_PUSH(p->b->arena, &p->b->done) = p->b->down;
    *ended = true;
}

static void list_done(struct past *p)
{
    struct wh_builder *b = p->b;
    bool ended = false;
    for (size_t l = 0; l < b->links.count; l++) /* what is done cannot be kept together with what is not */
        if (p->is_done[b->links.at[l].first]) b->links.at[l].joined = false;
    for (size_t i = 0; i < b->ask->done.count; i++) {
        size_t task = p->task[i];
        const char *id = b->ask->done.at[i];
        end_the_way_in(p, &b->tasks.at[task], &ended);
        if (p->history[i]) {
            p->overtaken[task]++;
            size_t part = b->tasks.at[task].is == WH_TASK_OFF ? b->tasks.at[task].thing : WH_NONE;
            task = history_task(b, task, id);
            if (part != WH_NONE && p->refit[part] != WH_NONE)
                *WH_PUSH(b->arena, &b->windows) = (struct wh_order_window){task, p->refit[part]};
        } else {
            b->tasks.at[task].id = b->orders.at[task].name = id;
        }
        *WH_PUSH(b->arena, &b->done) = task;
    }
}

/* "off casing again" for what stands in the past already. */
static void name_again(struct past *p, size_t count)
{
    struct wh_builder *b = p->b;
    for (size_t t = 0; t < count; t++) {
        if (p->overtaken[t] == 0 || p->is_done[t]) continue;
        const char *id = wh_build_again(b, b->tasks.at[t].id, p->overtaken[t]);
        b->tasks.at[t].id = b->orders.at[t].name = id;
    }
}

static void drop_needs_of(struct wh_builder *b, size_t needed)
{
    size_t kept = 0;
    for (size_t n = 0; n < b->needs.count; n++) {
        const struct wh_order_need *need = &b->needs.at[n];
        bool sole = need->way_count == 1 && need->ways[0].count == 1 && need->ways[0].tasks[0] == needed;
        if (!sole) b->needs.at[kept++] = *need;
    }
    b->needs.count = kept;
}

/* What a done step asked for and was done, is not asked for again, even if it is history now: washed, read, renewed. */
static void drop_met(struct past *p)
{
    struct wh_builder *b = p->b;
    bool *once = WH_NEW(b->arena, b->tasks.count + 1, bool);
    size_t kept = 0;
    for (size_t i = 0; i < b->ask->done.count; i++) {
        const struct wh_task *task = &b->tasks.at[p->task[i]];
        once[p->task[i]] =
            task->is != WH_TASK_ON || went_back(p, task->thing); /* what was warmed and is not on is not */
    }
    for (size_t n = 0; n < b->needs.count; n++) {
        const struct wh_order_need *need = &b->needs.at[n];
        bool met = false;
        bool done = p->is_done[need->task] && b->tasks.at[need->task].is != WH_TASK_FIXTURE_ON;
        for (size_t w = 0; w < need->way_count && done; w++)
            for (size_t i = 0; i < need->ways[w].count; i++) met |= once[need->ways[w].tasks[i]];
        if (!met) b->needs.at[kept++] = *need;
    }
    b->needs.count = kept;
}

/* Where power was on last and is not locked off again, that comes before anything else. */
static void isolate_first(struct past *p)
{
    struct wh_builder *b = p->b;
    for (size_t t = 0; t < b->tasks.count; t++) {
        size_t kept = 0;
        if (b->tasks.at[t].is != WH_TASK_ISOLATE || p->is_done[t] || !p->is_done[b->check[b->tasks.at[t].check]])
            continue;
        for (size_t l = 0; l < b->links.count; l++) {
            bool waits = b->links.at[l].after == t && !p->is_done[b->links.at[l].first];
            if (waits) continue;
            b->because.at[kept] = b->because.at[l];
            b->links.at[kept++] = b->links.at[l];
        }
        b->links.count = b->because.count = kept;
        for (size_t other = 0; other < b->tasks.count; other++)
            if (!p->is_done[other]) wh_build_before(b, t, other);
    }
}

/* A check that had to be made before a part came off, or before anything was touched, cannot be made any more. */
static void drop_missed(struct past *p)
{
    struct wh_builder *b = p->b;
    size_t found[2];
    bool begun = false;
    for (size_t i = 0; i < b->ask->done.count; i++) begun |= b->tasks.at[p->task[i]].stage > WH_STAGE_BEFORE;
    for (size_t c = 0; c < b->machine->check_count; c++) {
        const struct wh_check *check = &b->machine->checks[c];
        bool missed = false;
        if (check->phase > WH_PHASE_STRIP || p->is_done[b->check[c]]) continue;
        missed = check->phase == WH_PHASE_RUNNING && begun;
        for (size_t e = 0; e < check->before.count; e++)
            for (size_t n = wh_build_event_tasks(b, check->before.at[e], false, found); n > 0; n--)
                missed |= check->before.at[e].is == WH_EVENT_OFF && p->is_done[found[n - 1]];
        if (!missed) continue;
        drop_needs_of(b, b->check[c]);
        b->orders.at[b->check[c]].wanted = false;
        *WH_PUSH(b->arena, &b->so_far->notes) = wh_arena_print(b->arena, "\"%s\" can no longer be read", check->title);
    }
}

/* What was named and went back is renewed; what was found since is still to be. */
static void want_parts(const struct past *p, const struct wh_job *job)
{
    bool *back = WH_NEW(p->b->arena, p->b->machine->thing_count + 1, bool);
    for (size_t t = 0; t < p->b->machine->thing_count; t++) back[t] = went_back(p, t);
    for (size_t i = 0; i < job->named_count; i++) wh_build_want(p->b, job->named[i], back);
    for (size_t i = 0; i < job->ask->also.count; i++) wh_build_want(p->b, job->ask->also.at[i], NULL);
}

enum wh_status wh_build_so_far(struct wh_builder *b, const struct wh_job *job, struct wh_errors *reterr)
{
    size_t n = b->ask->done.count, count = b->tasks.count;
    struct past p = {b,
                     WH_NEW(b->arena, n + 1, size_t),
                     WH_NEW(b->arena, n + 1, bool),
                     WH_NEW(b->arena, count + 1, size_t),
                     WH_NEW(b->arena, count + 1, bool),
                     WH_NEW(b->arena, b->machine->thing_count, size_t)};
    for (size_t t = 0; t < b->machine->thing_count; t++) p.refit[t] = WH_NONE;
    b->so_far->plain = true;
    enum wh_status status = find_steps(&p, reterr);
    if (status != WH_OK) return status;
    want_parts(&p, job);
    if (n == 0 && b->ask->ahead.count == 0) return WH_OK;
    look_back(&p);
    wh_build_free(b, p.is_done);
    wh_build_without(b);
    wh_build_either_way(b, p.is_done);
    refit_parts(&p);
    drop_missed(&p);
    drop_met(&p);
    isolate_first(&p);
    list_done(&p);
    name_again(&p, count);
    wh_build_keep_order(b);
    return WH_OK;
}
