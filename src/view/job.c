#include "view/job.h"

#include "base/text.h"
#include "job/entry.h"

#include <math.h>

const char *wh_view_mark(enum wh_mark mark)
{
    static const char *const words[] = {"to do", "in hand", "done", "left out"};
    return words[mark];
}

const char *wh_view_clock(struct wh_arena *arena, int64_t at)
{
    int64_t of_day = at % 86400000;
    int minutes = (int)((of_day < 0 ? of_day + 86400000 : of_day) / 60000);
    return wh_arena_print(arena, "%s %02d:%02d", wh_day(arena, at), minutes / 60, minutes % 60);
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

static void add_steps(struct wh_arena *arena, struct wh_tree *map, const struct wh_job *job)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "steps", WH_TREE_LIST);
    size_t number = 0;
    for (size_t i = 0; i < job->steps.count; i++) {
        const struct wh_job_step *step = &job->steps.at[i];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_number(arena, item, "number", (double)++number);
        wh_tree_add_text(arena, item, "id", step->id);
        wh_tree_add_text(arena, item, "stage", step->stage);
        wh_tree_add_text(arena, item, "what", step->what);
        wh_tree_add_text(arena, item, "mark", wh_view_mark(step->mark));
        add_some(arena, item, "part", step->part);
        add_some(arena, item, "check", step->check);
        add_some(arena, item, "hold", step->hold);
        wh_tree_add_number(arena, item, "minutes", step->minutes);
        if (!isnan(step->actual)) wh_tree_add_number(arena, item, "actual minutes", step->actual);
        add_some(arena, item, "who", step->who);
        add_some(arena, item, "manner", step->manner);
        add_some(arena, item, "because", step->because);
        if (step->gone) wh_tree_add_truth(arena, item, "no longer planned", true);
    }
}

static void add_releases(struct wh_arena *arena, struct wh_tree *map, const struct wh_job_hold *hold)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "releases", WH_TREE_LIST);
    for (size_t i = 0; i < hold->releases.count; i++) {
        const struct wh_job_release *release = &hold->releases.at[i];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_number(arena, item, "entry", (double)release->seq);
        wh_tree_add_text(arena, item, "who", release->who);
        wh_tree_add_text(arena, item, "tried", release->tried);
        add_some(arena, item, "lock", release->lock);
        if (release->lapsed) wh_tree_add_number(arena, item, "lapsed by entry", (double)release->lapsed);
    }
}

/* "not yet", "released by Ada, Ben", "lapsed: to be released again", "refused because …". */
static const char *hold_words(struct wh_arena *arena, const struct wh_job_hold *hold)
{
    struct wh_text names = {.arena = arena};
    if (hold->refused) return wh_arena_print(arena, "refused by %s because %s", hold->refused_by, hold->refused);
    for (size_t i = 0; i < hold->releases.count; i++)
        if (hold->releases.at[i].lapsed == 0)
            wh_text_print(&names, "%s%s", names.count ? ", " : "", hold->releases.at[i].who);
    if (names.count) return wh_arena_print(arena, "released by %s", names.at);
    return hold->releases.count ? "lapsed: to be released again" : "not yet";
}

static void add_holds(struct wh_arena *arena, struct wh_tree *map, const struct wh_job *job)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "holds", WH_TREE_LIST);
    for (size_t i = 0; i < job->holds.count; i++) {
        const struct wh_job_hold *hold = &job->holds.at[i];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "id", hold->id);
        wh_tree_add_text(arena, item, "title", hold->title);
        wh_tree_add_text(arena, item, "is",
                         hold->energy  ? "energy"
                         : hold->power ? "before power"
                                       : "before the first spanner");
        wh_tree_add_text(arena, item, "stands", hold_words(arena, hold));
        add_some(arena, item, "to be tried", hold->tried);
        add_releases(arena, item, hold);
    }
}

struct wh_tree *wh_view_job_reading(struct wh_arena *arena, const struct wh_job *job,
                                    const struct wh_job_reading *reading)
{
    const struct wh_job_check *check = wh_job_check(job, reading->check);
    const struct wh_tree *judged = wh_tree_get(reading->body, "judged");
    struct wh_tree *item = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_number(arena, item, "entry", (double)reading->seq);
    wh_tree_add_text(arena, item, "check", reading->check);
    wh_tree_add_text(arena, item, "title", check ? check->title : reading->check);
    wh_tree_add_text(arena, item, "when", reading->when);
    wh_tree_add_text(arena, item, "value", reading->value);
    add_some(arena, item, "limits", wh_tree_text(judged, "limits", NULL));
    wh_tree_add_text(arena, item, "verdict", wh_verdict_words(reading->verdict));
    wh_tree_add_text(arena, item, "says", reading->says);
    add_some(arena, item, "would settle it", reading->settles);
    add_some(arena, item, "gauge", wh_tree_text(judged, "gauge title", NULL));
    add_some(arena, item, "gauge uncertainty", wh_tree_text(judged, "gauge uncertainty", NULL));
    add_some(arena, item, "remark", wh_tree_text(judged, "remark", NULL));
    add_some(arena, item, "hold", wh_tree_text(judged, "hold", NULL));
    wh_tree_add_text(arena, item, "who", reading->who);
    wh_tree_add_text(arena, item, "at", wh_view_clock(arena, reading->at));
    add_some(arena, item, "decided", reading->decided);
    add_some(arena, item, "decided by", reading->decided_by);
    if (reading->amendments.count == 0) return item;
    wh_tree_add_text(arena, item, "first value", reading->first);
    struct wh_tree *amendments = wh_tree_add_new(arena, item, "amendments", WH_TREE_LIST);
    for (size_t i = 0; i < reading->amendments.count; i++) {
        const struct wh_job_amendment *amendment = &reading->amendments.at[i];
        struct wh_tree *one = wh_tree_add_new(arena, amendments, NULL, WH_TREE_MAP);
        wh_tree_add_number(arena, one, "entry", (double)amendment->seq);
        wh_tree_add_text(arena, one, "who", amendment->who);
        wh_tree_add_text(arena, one, "value", amendment->value);
        wh_tree_add_text(arena, one, "because", amendment->because);
    }
    return item;
}

/* A value of a body in one text: lists parted by commas. */
static const char *value_text(struct wh_arena *arena, const struct wh_tree *node)
{
    if (node->text) return node->text;
    struct wh_text text = {.arena = arena};
    for (const struct wh_tree *item = node->first; item; item = item->next)
        if (item->text) wh_text_print(&text, "%s%s", text.count ? ", " : "", item->text);
    return wh_text_of(&text);
}

/* What else was entered, with the titles of its fields. */
static void add_lines(struct wh_arena *arena, struct wh_tree *map, const struct wh_job *job)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "entries", WH_TREE_LIST);
    for (size_t i = 0; i < job->lines.count; i++) {
        const struct wh_job_line *line = &job->lines.at[i];
        const struct wh_entry_kind *kind = wh_entry_kind(line->kind);
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_number(arena, item, "entry", (double)line->seq);
        wh_tree_add_text(arena, item, "kind", line->kind);
        wh_tree_add_text(arena, item, "title", kind ? kind->title : line->kind);
        wh_tree_add_text(arena, item, "who", line->who);
        wh_tree_add_text(arena, item, "at", wh_view_clock(arena, line->at));
        for (size_t f = 0; kind && f < WH_ENTRY_FIELDS && kind->fields[f].name; f++) {
            const struct wh_tree *node = wh_tree_get(line->body, kind->fields[f].name);
            if (node && kind->fields[f].form != WH_ENTRY_TREE && !wh_tree_get(item, kind->fields[f].name))
                wh_tree_add_text(arena, item, kind->fields[f].name, value_text(arena, node));
        }
    }
}

static void add_contests(struct wh_arena *arena, struct wh_tree *map, const struct wh_job *job)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "contests", WH_TREE_LIST);
    for (size_t i = 0; i < job->contests.count; i++) {
        const struct wh_job_contest *contest = &job->contests.at[i];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_number(arena, item, "entry", (double)contest->seq);
        wh_tree_add_number(arena, item, "against", (double)contest->against);
        wh_tree_add_text(arena, item, "who", contest->who);
        wh_tree_add_text(arena, item, "kind", contest->kind);
        wh_tree_add_text(arena, item, "why", contest->why);
        wh_tree_add_text(arena, item, "says", contest->entry ? wh_tree_line(arena, contest->entry) : "");
        wh_tree_add_text(arena, item, "settled",
                         contest->settled
                             ? wh_arena_print(arena, "the %s stands, by %s", contest->settled, contest->settled_by)
                             : "open");
    }
}

/* What the caution says, and who did the steps it stood above. */
static void add_cautions(struct wh_arena *arena, struct wh_tree *map, const struct wh_job *job)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "cautions met", WH_TREE_LIST);
    for (size_t i = 0; i < job->steps.count; i++) {
        const struct wh_job_step *step = &job->steps.at[i];
        const struct wh_tree *cautions = wh_tree_get(step->issued, "cautions");
        if (step->mark != WH_MARK_DONE || !cautions) continue;
        for (const struct wh_tree *c = cautions->first; c; c = c->next) {
            struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
            wh_tree_add_text(arena, item, "step", step->what);
            wh_tree_add_text(arena, item, "who", step->who ? step->who : "");
            wh_tree_add_text(arena, item, "text", wh_tree_text(c, "text", ""));
        }
    }
}

struct wh_tree *wh_view_job(struct wh_arena *arena, const struct wh_job *job)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    const struct wh_job_step *next = wh_job_next(job);
    double left = 0;
    size_t open = 0;
    for (size_t i = 0; i < job->steps.count; i++)
        if (!job->steps.at[i].gone && job->steps.at[i].mark < WH_MARK_DONE) left += job->steps.at[i].minutes, open++;
    wh_tree_add_number(arena, map, "job", (double)job->number);
    wh_tree_add_number(arena, map, "entries made", (double)job->seq);
    wh_tree_add_text(arena, map, "machine", job->machine_title);
    wh_tree_add_text(arena, map, "machine id", job->machine);
    wh_tree_add_text(arena, map, "title", job->title);
    wh_tree_add_text(arena, map, "state", wh_job_state_words(wh_job_state(job)));
    wh_tree_add_text(arena, map, "opened", wh_view_clock(arena, job->opened_at));
    wh_tree_add_text(arena, map, "changed", wh_view_clock(arena, job->changed_at));
    add_some(arena, map, "brought in by", job->brought);
    add_some(arena, map, "hours run", job->hours);
    add_words(arena, map, "renew", job->renew);
    add_some(arena, map, "waits for", job->waiting);
    add_some(arena, map, "new plan wanted", job->replan ? job->replan_because : NULL);
    wh_tree_add_number(arena, map, "steps open", (double)open);
    wh_tree_add_number(arena, map, "minutes left", round(left));
    if (next) wh_tree_add_text(arena, map, "next", next->what);
    if (next) wh_tree_add_text(arena, map, "next step", next->id);
    add_words(arena, map, "open", wh_job_open(arena, job));
    add_steps(arena, map, job);
    add_holds(arena, map, job);
    struct wh_tree *readings = wh_tree_add_new(arena, map, "readings", WH_TREE_LIST);
    for (size_t i = 0; i < job->readings.count; i++)
        wh_tree_add(arena, readings, NULL, wh_view_job_reading(arena, job, &job->readings.at[i]));
    add_lines(arena, map, job);
    add_contests(arena, map, job);
    add_cautions(arena, map, job);
    static const char *const as[] = {"fitter", "charge hand", "customer"};
    struct wh_tree *signs = wh_tree_add_new(arena, map, "signatures", WH_TREE_MAP);
    for (int i = 0; i < WH_SIGNS; i++)
        wh_tree_add_text(arena, signs, as[i], job->signed_by[i] ? job->signed_by[i] : "");
    return map;
}

struct wh_tree *wh_view_gauges(struct wh_arena *arena, const struct wh_workshop *workshop, int64_t at)
{
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    for (size_t i = 0; i < workshop->gauges.count; i++) {
        const struct wh_workshop_gauge *gauge = &workshop->gauges.at[i];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "name", gauge->name);
        wh_tree_add_text(arena, item, "title", gauge->title);
        wh_tree_add_text(arena, item, "is", gauge->is);
        wh_tree_add_text(arena, item, "uncertainty", gauge->uncertainty);
        add_some(arena, item, "due", gauge->due);
        wh_tree_add_text(arena, item, "calibration",
                         wh_gauge_over(gauge, at) ? "over: proves nothing"
                         : gauge->due             ? "in calibration"
                                                  : "no day given");
    }
    return list;
}
