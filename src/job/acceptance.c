#include "job/acceptance.h"

#include "job/inside.h"

#include <math.h>
#include <string.h>

enum { TOLD_MOST = 512 };

struct taking {
    struct wh_arena *arena;
    const struct wh_job *job;
    struct wh_told told[TOLD_MOST];
    size_t told_count;
    struct wh_doubts warnings;
};

/* ---- records --------------------------------------------------------------------------------------------------- */

static void take_told(struct taking *t, const struct wh_tree *list)
{
    for (const struct wh_tree *item = list ? list->first : NULL; item && t->told_count < TOLD_MOST; item = item->next) {
        const char *place;
        enum wh_record_figure is = wh_record_figure_read(t->arena, wh_tree_text(item, "is", ""), &place);
        if (is == WH_RECORD_NONE) continue;
        t->told[t->told_count++] =
            (struct wh_told){is, wh_tree_text(item, "place", NULL), wh_tree_number(item, "value", NAN),
                             wh_tree_number(item, "U", 0), wh_tree_text(item, "from", NULL)};
    }
}

static void take_warnings(struct taking *t, const struct wh_tree *run)
{
    static const char *const parts[] = {"run down", "run up"};
    for (size_t p = 0; p < sizeof parts / sizeof *parts; p++) {
        const struct wh_tree *list = wh_tree_get(wh_tree_get(run, parts[p]), "warnings");
        for (const struct wh_tree *item = list ? list->first : NULL; item; item = item->next)
            if (item->text) wh_doubt(&t->warnings, "%s", item->text);
    }
}

/* The last record as left of each sort. */
static void take_records(struct taking *t)
{
    for (size_t i = 0; i < t->job->lines.count; i++) {
        const struct wh_job_line *line = &t->job->lines.at[i];
        const char *what = wh_tree_text(line->body, "what", "");
        bool last = wh_same(line->kind, "record") && wh_same(wh_tree_text(line->body, "when", ""), "as left");
        for (size_t later = i + 1; last && later < t->job->lines.count; later++) {
            const struct wh_job_line *other = &t->job->lines.at[later];
            last = !(wh_same(other->kind, "record") && wh_same(wh_tree_text(other->body, "what", ""), what) &&
                     wh_same(wh_tree_text(other->body, "when", ""), "as left"));
        }
        if (!last) continue;
        take_told(t, wh_tree_get(wh_tree_get(line->body, "run"), "told"));
        take_warnings(t, wh_tree_get(line->body, "run"));
    }
}

/* ---- readings -------------------------------------------------------------------------------------------------- */

static void take_values(struct taking *t, struct wh_test_check *check, const struct wh_job_reading *reading)
{
    struct wh_words words = wh_split(t->arena, reading->value, ';');
    double *values = WH_NEW(t->arena, words.count + 1, double);
    for (size_t i = 0; i < words.count; i++) {
        struct wh_value value;
        if (wh_value_read(words.at[i], &check->unit, &value, NULL) != WH_READ_WELL) return;
        values[i] = value.best;
    }
    check->values = values;
    check->count = words.count;
}

static void take_reading(struct taking *t, struct wh_test_check *check)
{
    const struct wh_job_reading *reading = wh_job_read(t->job, check->id);
    if (!reading) return;
    const char *gauge = wh_tree_text(wh_tree_get(reading->body, "judged"), "gauge uncertainty", NULL);
    struct wh_value U;
    if (gauge && wh_value_read(gauge, &check->unit, &U, NULL) == WH_READ_WELL) check->U = U.best;
    if (check->has_limits)
        take_values(t, check, reading);
    else
        check->answer = reading->verdict == WH_WITHIN ? WH_AS_EXPECTED : WH_NOT_SO;
}

static void take_release(struct taking *t, struct wh_test_check *check)
{
    const struct wh_job_step *step = wh_job_step(t->job, wh_arena_print(t->arena, "check %s", check->id));
    if (check->hold && step && step->mark == WH_MARK_DONE) check->released = step->who;
}

struct wh_acceptance wh_job_acceptance(struct wh_arena *arena, const struct wh_job *job,
                                       const struct wh_machine *machine)
{
    struct taking *t = WH_NEW(arena, 1, struct taking);
    size_t count;
    struct wh_test_check *checks = wh_test_checks(arena, machine, &count);
    *t = (struct taking){.arena = arena, .job = job, .warnings = {.arena = arena}};
    take_records(t);
    for (size_t i = 0; i < count; i++) {
        take_reading(t, &checks[i]);
        take_release(t, &checks[i]);
    }
    return wh_accept_run(arena, checks, count, t->told, t->told_count, &t->warnings);
}
