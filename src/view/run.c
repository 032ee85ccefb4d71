#include "view/run.h"

#include "base/scene_tree.h"
#include "trade/rule.h"

#include <math.h>

static const double RPM = 2 * WH_PI / 60;
static const double NEAR = 0.15; /* of a predicted speed: the same resonance */

static const char *rpm(struct wh_arena *arena, double speed)
{
    return wh_arena_print(arena, "%.0f rpm", speed / RPM);
}

static void add_texts(struct wh_arena *arena, struct wh_tree *list, const char *path, const struct wh_doubts *texts)
{
    for (size_t i = 0; i < texts->count; i++)
        wh_tree_add_text(arena, list, NULL, path ? wh_arena_print(arena, "%s: %s", path, texts->at[i]) : texts->at[i]);
}

static void add_number(struct wh_arena *arena, struct wh_tree *map, const char *key, double number)
{
    if (isfinite(number)) wh_tree_add_number(arena, map, key, number);
}

/* ---- run-down -------------------------------------------------------------------------------------------------- */

static void add_slowing(struct wh_arena *arena, struct wh_tree *map, const struct wh_run *run)
{
    const double *of = run->down.fit.slowing.of;
    struct wh_tree *slowing = wh_tree_add_new(arena, map, "slowing", WH_TREE_MAP);
    wh_tree_add_number(arena, slowing, "steady", of[WH_SLOWED_STEADY]);
    wh_tree_add_number(arena, slowing, "viscous", of[WH_SLOWED_VISCOUS]);
    wh_tree_add_number(arena, slowing, "air", of[WH_SLOWED_AIR]);
    wh_tree_add_number(arena, slowing, "speed", run->top);
    add_number(arena, slowing, "time", run->down.stands);
    add_number(arena, slowing, "uncertainty", run->down.stands_u);
}

/* A drag with twice its uncertainty, where that can be seen in three digits. */
static const char *drag(struct wh_arena *arena, double value, double u)
{
    if (2 * u < 0.005 * value) return wh_arena_print(arena, "%.3g N m", value);
    return wh_arena_print(arena, "%.3g ± %.1g N m", value, 2 * u);
}

static void add_drags(struct wh_arena *arena, struct wh_tree *map, const struct wh_run *run)
{
    const struct wh_run_down *down = &run->down;
    double square = run->top * run->top;
    if (!(down->steady > 0)) return;
    wh_tree_add_text(arena, map, "steady drag", drag(arena, down->steady, down->steady_u));
    wh_tree_add_text(arena, map, "drag of the air at full speed",
                     drag(arena, down->air * square, down->air_u * square));
}

static void add_down(struct wh_arena *arena, struct wh_tree *tree, const struct wh_run *run)
{
    static const char *const from[] = {"its speed channel", "its tacho", "its vibration alone"};
    const struct wh_run_down *down = &run->down;
    struct wh_tree *map = wh_tree_add_new(arena, tree, "run down", WH_TREE_MAP);
    wh_tree_add_text(arena, map, "record", run->record->path);
    wh_tree_add_text(arena, map, "says",
                     wh_arena_print(arena, "From %s%s: %s.", rpm(arena, run->top),
                                    run->drive_off ? ", the belt off" : "", wh_not_before(arena, down->not_before)));
    if (!run->drive_off)
        wh_tree_add_text(
            arena, map, "drive off",
            down->free_not_before > 0
                ? wh_arena_print(arena, "With the belt off or broken: %s.", wh_not_before(arena, down->free_not_before))
                : "With the belt off or broken it runs longer; how much is not known.");
    wh_tree_add_text(arena, map, "read",
                     wh_arena_print(arena, "from %s down to %s in %s, by %s", rpm(arena, down->from),
                                    rpm(arena, down->to), wh_run_time(arena, down->seconds), from[run->from]));
    add_number(arena, map, "not before", down->not_before);
    if (down->free_not_before > 0) add_number(arena, map, "drive off not before", down->free_not_before);
    add_drags(arena, map, run);
    if (down->expected > 0)
        wh_tree_add_text(
            arena, map, "expected",
            wh_arena_print(arena, "%s by the drags of the machine file", wh_run_time(arena, down->expected)));
    add_slowing(arena, map, run);
    add_texts(arena, wh_tree_add_new(arena, map, "warnings", WH_TREE_LIST), NULL, &run->warnings);
}

struct wh_run_down_was wh_view_run_down_was(const struct wh_tree *tree)
{
    const struct wh_tree *slowing = wh_tree_get(wh_tree_get(tree, "run down"), "slowing");
    struct wh_run_down_was was = {.speed = wh_tree_number(slowing, "speed", 0),
                                  .time = wh_tree_number(slowing, "time", 0),
                                  .u = wh_tree_number(slowing, "uncertainty", 0)};
    was.slowing.of[WH_SLOWED_STEADY] = wh_tree_number(slowing, "steady", 0);
    was.slowing.of[WH_SLOWED_VISCOUS] = wh_tree_number(slowing, "viscous", 0);
    was.slowing.of[WH_SLOWED_AIR] = wh_tree_number(slowing, "air", 0);
    if (!(was.time > 0)) was.speed = 0;
    return was;
}

/* ---- run-up, resonances ---------------------------------------------------------------------------------------- */

static void add_up(struct wh_arena *arena, struct wh_tree *tree, const struct wh_run *run)
{
    const struct wh_run_up *up = &run->up;
    struct wh_tree *map = wh_tree_add_new(arena, tree, "run up", WH_TREE_MAP);
    wh_tree_add_text(arena, map, "record", run->record->path);
    wh_tree_add_text(arena, map, "says",
                     wh_arena_print(arena, "To %s in %s.", rpm(arena, run->top), wh_run_time(arena, up->seconds)));
    wh_tree_add_number(arena, map, "seconds", up->seconds);
    if (up->torque > 0)
        wh_tree_add_text(arena, map, "torque",
                         wh_arena_print(arena, "%s speeds it up", drag(arena, up->torque, up->torque_u)));
    if (!isnan(up->current))
        wh_tree_add_text(
            arena, map, "current",
            wh_arena_print(arena, "%.1f A while it runs up, even within %.0f %%", up->current, 100 * up->even));
    if (!run->down.there) add_texts(arena, wh_tree_add_new(arena, map, "warnings", WH_TREE_LIST), NULL, &run->warnings);
}

static void add_resonance(struct wh_arena *arena, struct wh_tree *list, const struct wh_run_track *track,
                          const struct wh_resonance *r, const double predicted[], size_t count)
{
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    const char *beside = "no predicted one is near";
    for (size_t i = 0; i < count; i++)
        if (fabs(r->speed / predicted[i] - 1) < NEAR)
            beside = wh_arena_print(arena, "predicted at %s", rpm(arena, predicted[i]));
    wh_tree_add_text(arena, map, "channel", track->channel->name);
    wh_tree_add_number(arena, map, "rpm", r->speed / RPM);
    wh_tree_add_number(arena, map, "damping", r->damping);
    wh_tree_add_text(arena, map, "says",
                     wh_arena_print(arena, "%s shakes at %s, damping %.1f %%%s%s; %s", track->channel->name,
                                    rpm(arena, r->speed), 100 * r->damping, r->turned ? ", the phase turns there" : "",
                                    r->hurried ? ", passed so quickly that it is uncertain" : "", beside));
}

void wh_view_run_add(struct wh_arena *arena, struct wh_tree *tree, const struct wh_run *run, const double predicted[],
                     size_t count)
{
    struct wh_tree *list = wh_tree_get(tree, "resonances");
    if (run->down.there) add_down(arena, tree, run);
    if (run->up.there) add_up(arena, tree, run);
    if (!list) list = wh_tree_add_new(arena, tree, "resonances", WH_TREE_LIST);
    for (size_t t = 0; t < run->tracks; t++)
        for (size_t r = 0; r < run->track[t].resonances; r++)
            add_resonance(arena, list, &run->track[t], &run->track[t].resonance[r], predicted, count);
    add_texts(arena, wh_tree_get(tree, "doubts"), run->record->path, &run->record->doubts);
    add_texts(arena, wh_tree_get(tree, "doubts"), run->record->path, &run->doubts);
}

static void add_judged(struct wh_arena *arena, struct wh_tree *list, const struct wh_test_judged *judged)
{
    struct wh_tree *check = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, check, "check", judged->check->id);
    wh_tree_add_text(arena, check, "outcome", wh_outcome_words(judged->outcome));
    wh_tree_add_text(arena, check, "says", judged->says);
    if (judged->then) wh_tree_add_text(arena, check, "then", judged->then);
}

void wh_view_acceptance_add(struct wh_arena *arena, struct wh_tree *tree, const struct wh_acceptance *acceptance)
{
    struct wh_tree *map = wh_tree_add_new(arena, tree, "acceptance", WH_TREE_MAP);
    wh_tree_add_text(arena, map, "outcome", wh_outcome_words(acceptance->outcome));
    wh_tree_add_text(arena, map, "says", acceptance->says);
    struct wh_tree *list = wh_tree_add_new(arena, map, "checks", WH_TREE_LIST);
    for (int outcome = WH_TEST_STOP; outcome >= WH_TEST_WITHIN; outcome--)
        for (size_t i = 0; i < acceptance->count; i++)
            if ((int)acceptance->judged[i].outcome == outcome) add_judged(arena, list, &acceptance->judged[i]);
}

void wh_view_told_add(struct wh_arena *arena, struct wh_tree *tree, const struct wh_told told[], size_t count)
{
    struct wh_tree *list = wh_tree_add_new(arena, tree, "told", WH_TREE_LIST);
    for (size_t i = 0; i < count; i++) {
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "is", wh_record_figure_words(told[i].is));
        if (told[i].place) wh_tree_add_text(arena, item, "place", told[i].place);
        wh_tree_add_number(arena, item, "value", told[i].value);
        wh_tree_add_number(arena, item, "U", told[i].U);
        if (told[i].from) wh_tree_add_text(arena, item, "from", told[i].from);
    }
}

void wh_view_drawing_add(struct wh_arena *arena, struct wh_tree *tree, const struct wh_scene *scene)
{
    struct wh_tree *list = wh_tree_get(tree, "drawings");
    if (!list) list = wh_tree_add_new(arena, tree, "drawings", WH_TREE_LIST);
    wh_tree_add(arena, list, NULL, wh_scene_to_tree(arena, scene));
}

/* ---- as text --------------------------------------------------------------------------------------------------- */

static void print_list(struct wh_text *text, const struct wh_tree *list, const char *key, const char *begin)
{
    for (const struct wh_tree *item = list ? list->first : NULL; item; item = item->next)
        wh_text_print(text, "  %s%s\n", begin, key ? wh_tree_text(item, key, "") : item->text);
}

static void print_map(struct wh_text *text, const struct wh_tree *map, const char *title, const char *const keys[])
{
    if (!map) return;
    wh_text_print(text, "\n%s (%s)\n", title, wh_tree_text(map, "record", ""));
    print_list(text, wh_tree_get(map, "warnings"), NULL, "Mind: ");
    wh_text_print(text, "  %s\n", wh_tree_text(map, "says", ""));
    for (size_t i = 0; keys[i]; i++) {
        const char *value = wh_tree_text(map, keys[i], NULL);
        if (value && wh_same(keys[i], "drive off"))
            wh_text_print(text, "  %s\n", value);
        else if (value)
            wh_text_print(text, "    %-32s %s\n", keys[i], value);
    }
}

/* The worst first. */
static void print_acceptance(struct wh_text *text, const struct wh_tree *acceptance)
{
    wh_text_print(text, "\nTest run: %s\n", wh_tree_text(acceptance, "says", ""));
    for (const struct wh_tree *c = wh_tree_get(acceptance, "checks")->first; c; c = c->next) {
        const char *then = wh_tree_text(c, "then", NULL);
        wh_text_print(text, "  %-11s %s%s%s\n", wh_tree_text(c, "outcome", ""), wh_tree_text(c, "says", ""),
                      then ? "; " : "", then ? then : "");
    }
}

void wh_view_run_text(struct wh_text *text, const struct wh_tree *tree)
{
    static const char *const down[] = {"drive off", "read", "expected", "steady drag", "drag of the air at full speed",
                                       NULL};
    static const char *const up[] = {"torque", "current", NULL};
    const struct wh_tree *acceptance = wh_tree_get(tree, "acceptance"), *resonances = wh_tree_get(tree, "resonances");
    print_map(text, wh_tree_get(tree, "run down"), "Run-down", down);
    print_map(text, wh_tree_get(tree, "run up"), "Run-up", up);
    if (resonances && resonances->count > 0) wh_text_add(text, "\nResonances passed\n");
    print_list(text, resonances, "says", "");
    if (acceptance) print_acceptance(text, acceptance);
}
