/* A reading as a drawing: against its limits, or round the spindle with the circle fitted to it. */
#include "trade/rule.h"
#include "view/dimension.h"
#include "view/job.h"

#include <math.h>

/* What the program wrote beside a reading when it was entered. */
static const char *judged(const struct wh_job_reading *reading, const char *key, const char *otherwise)
{
    return wh_tree_text(wh_tree_get(reading->body, "judged"), key, otherwise);
}

/* Readings all round a spindle, with the circle that the rule of the trade fits to them. */
static struct wh_scene *drawn_round(struct wh_arena *arena, const struct wh_job_check *check,
                                    const struct wh_job_reading *reading)
{
    const struct wh_rule *rule = wh_rule_find("spindle.centre");
    struct wh_words words = wh_split(arena, reading->value, ';');
    double *values = WH_NEW(arena, words.count + 1, double), out[WH_RULE_OUT], *results[WH_RULE_OUT];
    const double **columns = WH_NEW(arena, words.count + 1, const double *);
    struct wh_value value;
    if (!rule || words.count < 3 || words.count > rule->in[0].many) return NULL;
    for (size_t i = 0; i < words.count; i++) {
        if (wh_value_read(words.at[i], &check->unit, &value, NULL) != WH_READ_WELL) return NULL;
        values[i] = value.best;
        columns[i] = &values[i];
    }
    for (size_t o = 0; o < WH_RULE_OUT; o++) results[o] = &out[o];
    rule->work(1, words.count, columns, results);
    struct wh_dial dial = {.readings = values,
                           .count = words.count,
                           .x = out[0],
                           .y = out[1],
                           .mean = out[2],
                           .limit = check->most,
                           .title = wh_arena_print(arena, "%s: %s", check->title, reading->says),
                           .from = "the motor",
                           .onward = "on the way it turns"};
    if (!isfinite(out[0]) || !isfinite(out[1])) return NULL;
    if (wh_value_read(judged(reading, "gauge uncertainty", "0 mm"), &check->unit, &value, NULL) == WH_READ_WELL)
        dial.uncertainty = value.best;
    return wh_view_dial(arena, &dial);
}

static bool reads_round(const struct wh_job_check *check)
{
    return check->has_limits && wh_same(check->judged_by, "spindle.eccentricity");
}

struct wh_scene *wh_view_reading_drawn(struct wh_arena *arena, const struct wh_job_check *check,
                                       const struct wh_job_reading *reading)
{
    if (!check->has_limits) return NULL;
    if (reading && reads_round(check)) return drawn_round(arena, check, reading);
    struct wh_limits_drawn drawn = {
        .least = check->least, .most = check->most, .reading = NAN, .unit = check->unit, .title = check->title};
    struct wh_value value;
    if (reading) {
        const char *gauge = judged(reading, "gauge uncertainty", NULL);
        double doubt = 0;
        if (gauge && wh_value_read(gauge, &check->unit, &value, NULL) == WH_READ_WELL) doubt = value.best;
        if (wh_value_read(reading->value, &check->unit, &value, NULL) == WH_READ_WELL) drawn.reading = value.best;
        drawn.low = drawn.reading - doubt;
        drawn.high = drawn.reading + doubt;
        drawn.verdict = reading->verdict == WH_NOT_PROVEN ? "not proven" : wh_verdict_words(reading->verdict);
    }
    return wh_view_dimension(arena, &drawn);
}

struct wh_tree *wh_view_centres(struct wh_arena *arena, const struct wh_job *job)
{
    struct wh_tree *list = wh_tree_new(arena, WH_TREE_LIST);
    for (size_t i = 0; i < job->readings.count; i++) {
        const struct wh_job_reading *reading = &job->readings.at[i];
        const struct wh_job_check *check = wh_job_check(job, reading->check);
        struct wh_scene *scene = check && reads_round(check) ? wh_view_reading_drawn(arena, check, reading) : NULL;
        if (!scene) continue;
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(
            arena, item, "text",
            wh_arena_print(arena, "%s, %s: %s. %s", check->title, reading->when, reading->says, reading->who));
        wh_view_add_scene(arena, item, "scene", scene);
    }
    return list;
}
