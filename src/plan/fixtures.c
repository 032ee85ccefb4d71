/* Events and conditions as tasks; fixtures, each fitted before its first user and taken away after the last. */
#include "plan/builder.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

size_t wh_build_event_tasks(const struct wh_builder *b, struct wh_event event, bool ends, size_t to[2])
{
    size_t n = 0;
    for (size_t w = 0; w < 2; w++) {
        bool fixture = event.is <= WH_EVENT_ON && wh_build_is_fixture(b, event.index);
        size_t t = fixture ? (event.is == WH_EVENT_OFF ? b->fixture_off : b->fixture_on)[event.index][w] /* by phase */
                   : event.is == WH_EVENT_OFF  ? b->off[event.index][w]
                   : event.is == WH_EVENT_ON   ? (ends ? b->on_last : b->on_first)[event.index][w]
                   : w > 0                     ? WH_NONE
                   : event.is == WH_EVENT_FILL ? b->fill[event.index]
                                               : b->check[event.index];
        if (t != WH_NONE) to[n++] = t;
    }
    return n;
}

static size_t fixture_task(struct wh_builder *b, size_t f, int phase, bool on)
{
    const struct wh_thing *fixture = &b->machine->things[f];
    const struct wh_way *way = &fixture->ways[0];
    bool up = phase == WH_PLAN_UP || (fixture->stays && !on);
    struct wh_task task = {.is = on ? WH_TASK_FIXTURE_ON : WH_TASK_FIXTURE_OFF,
                           .stage = up ? WH_STAGE_UP : WH_STAGE_DOWN,
                           .thing = f,
                           .check = WH_NONE,
                           .hold = WH_NONE,
                           .step_count = wh_kind_steps(fixture->kind),
                           .natural = on ? 1e9 : 0};
    return wh_build_task(
        b, task,
        wh_arena_print(b->arena, "%s %s%s", on ? "set" : "away", fixture->id, phase == WH_PLAN_UP ? ", way back" : ""),
        on ? way->on : way->off,
        (struct wh_set_up){on ? way->on_tool : way->off_tool, way->way_up, way->bench, way->crew,
                           wh_build_trade(fixture->by)});
}

/* What a fixture stands on is on meanwhile: it is away before that comes off, and set only when it is back. */
static void bind_stand(struct wh_builder *b, size_t f, int pair)
{
    const struct wh_thing *fixture = &b->machine->things[f];
    size_t on = b->fixture_on[f][pair], off = b->fixture_off[f][pair];
    for (size_t i = 0; i < fixture->stands_on.count; i++)
        for (size_t w = 0, part = fixture->stands_on.at[i]; w < 2; w++) {
            if (b->off[part][w] == WH_NONE) continue;
            if (fixture->stays)
                *WH_PUSH(b->arena, &b->rivals) = (struct wh_order_rivals){on, b->off[part][w]};
            else if (pair == WH_PLAN_DOWN)
                wh_build_before(b, off, b->off[part][w]);
            else
                wh_build_before(b, b->on_last[part][w], on);
        }
}

/* The pair of tasks of a fixture in a phase, made when first used. */
static void make_fixture(struct wh_builder *b, size_t f, int phase)
{
    const struct wh_thing *fixture = &b->machine->things[f];
    int pair = fixture->stays ? WH_PLAN_DOWN : phase;
    if (b->fixture_on[f][pair] == WH_NONE) {
        size_t on = fixture_task(b, f, pair, true), off = fixture_task(b, f, pair, false), found[2];
        b->fixture_on[f][pair] = on, b->fixture_off[f][pair] = off;
        wh_build_need(b, on, false, &off, 1);
        wh_build_before(b, on, off);
        *WH_PUSH(b->arena, &b->windows) = (struct wh_order_window){on, off};
        wh_build_need_off(b, on, &fixture->ways[0].off_first, pair);
        for (size_t e = 0; e < fixture->out_before.count; e++)
            for (size_t n = wh_build_event_tasks(b, fixture->out_before.at[e], false, found); n > 0; n--)
                if ((b->tasks.at[found[n - 1]].stage == WH_STAGE_DOWN) == (b->tasks.at[off].stage == WH_STAGE_DOWN))
                    wh_build_before(b, off, found[n - 1]);
        bind_stand(b, f, pair);
        for (size_t i = 0; i < fixture->ways[0].off_first.count; i++)
            for (size_t j = 0; j < fixture->ways[0].off_first.at[i].count; j++)
                for (size_t w = 0; w < 2; w++)
                    wh_build_before(b, off, b->on_first[fixture->ways[0].off_first.at[i].at[j]][w]);
    }
    b->fixture_on[f][phase] = b->fixture_on[f][pair];
    b->fixture_off[f][phase] = b->fixture_off[f][pair];
}

static size_t times_named(const struct wh_indices *things, size_t thing)
{
    size_t n = 0;
    for (size_t i = 0; i < things->count; i++) n += things->at[i] == thing;
    return n;
}

static size_t times_asked(const struct wh_conditions *conditions, size_t thing)
{
    size_t n = 0;
    for (size_t i = 0; i < conditions->count; i++) n += times_named(&conditions->at[i], thing);
    return n;
}

/* How often the machine file asks for a fixture in a phase, whichever way is gone. */
static size_t users_of(const struct wh_machine *machine, size_t f, int phase)
{
    size_t n = 0;
    for (size_t p = 0; p < machine->thing_count; p++)
        for (size_t w = 0; w < machine->things[p].way_count; w++) {
            const struct wh_way *way = &machine->things[p].ways[w];
            n += times_named(&way->with, f) + times_named(phase == WH_PLAN_UP ? &way->on_with : &way->off_with, f);
            n += times_asked(&way->off_first, f);
        }
    for (size_t u = 0; u < machine->way_up_count; u++) n += times_asked(&machine->ways_up[u].off, f);
    for (size_t c = 0; c < machine->check_count; c++)
        if ((machine->checks[c].phase == WH_PHASE_STRIP) == (phase == WH_PLAN_DOWN))
            n += times_named(&machine->checks[c].with, f);
    return n;
}

static void join(struct wh_builder *b, size_t first, size_t after)
{
    wh_build_before(b, first, after);
    b->links.at[b->links.count - 1].joined = true;
}

/* The first step of fitting a part, with what is set for that alone. */
static size_t first_of_fitting(const struct wh_builder *b, size_t part, size_t w)
{
    const struct wh_thing *things = b->machine->things;
    size_t first = b->on_first[part][w];
    for (size_t f = 0; f < b->machine->thing_count; f++)
        if (b->fixture_user[f][WH_PLAN_UP] == first && !things[f].stays && users_of(b->machine, f, WH_PLAN_UP) == 1)
            first = b->fixture_on[f][WH_PLAN_UP];
    return first;
}

/* Of several the first of the file comes off first and goes in last. */
static void join_laid(struct wh_builder *b, size_t part)
{
    const struct wh_thing *things = b->machine->things;
    if (things[part].way_count != 1 || b->on_first[part][0] == WH_NONE) return;
    size_t next = first_of_fitting(b, part, 0);
    for (size_t t = 0; t < b->machine->thing_count; t++) {
        bool laid = things[t].kind->laid && things[t].way_count == 1 && b->on_first[t][0] == b->on_last[t][0] &&
                    things[t].disturbed_by.count == 1 && things[t].disturbed_by.at[0] == part;
        if (!laid || b->on_first[t][0] == WH_NONE) continue;
        join(b, b->on_first[t][0], next);
        next = b->on_first[t][0];
    }
}

void wh_build_join(struct wh_builder *b)
{
    for (size_t f = 0; f < b->machine->thing_count; f++)
        for (int phase = 0; phase < WH_PLAN_PHASES; phase++) {
            if (b->fixture_on[f][phase] == WH_NONE || b->machine->things[f].stays) continue;
            if (b->fixture_user[f][phase] == WH_NONE || users_of(b->machine, f, phase) != 1) continue;
            join(b, b->fixture_on[f][phase], b->fixture_user[f][phase]);
            join(b, b->fixture_user[f][phase], b->fixture_off[f][phase]);
        }
    for (size_t p = 0; p < b->machine->thing_count; p++) join_laid(b, p);
}

void wh_build_use_fixture(struct wh_builder *b, size_t task, size_t f, int phase)
{
    if (b->machine->things[f].way_count == 0) return; /* a mere aid: listed, not fitted */
    make_fixture(b, f, phase);
    size_t on = b->fixture_on[f][phase], off = b->fixture_off[f][phase];
    double natural = b->tasks.at[task].natural;
    wh_build_need(b, task, true, &on, 1);
    wh_build_before(b, task, off);
    b->fixture_user[f][phase] = task;
    if (natural - 0.5 < b->tasks.at[on].natural) b->tasks.at[on].natural = natural - 0.5;
    if (natural + 0.5 > b->tasks.at[off].natural) b->tasks.at[off].natural = natural + 0.5;
}

/* The tasks that meet one condition: a part off, a sump drained, a fixture standing. */
static size_t condition_tasks(struct wh_builder *b, const struct wh_indices *any, int phase, size_t to[])
{
    size_t n = 0;
    for (size_t i = 0; i < any->count; i++) {
        size_t thing = any->at[i], drain = wh_build_drain_of(b, thing);
        if (wh_build_is_fixture(b, thing)) {
            make_fixture(b, thing, phase);
            to[n++] = b->fixture_on[thing][phase];
            continue;
        }
        if (drain != WH_NONE) thing = drain;
        for (size_t w = 0; w < 2; w++)
            if (b->off[thing][w] != WH_NONE) to[n++] = b->off[thing][w];
    }
    return n;
}

/* The oil has to run out. */
static void let_run_out(struct wh_builder *b, size_t sump, size_t task)
{
    size_t drain = wh_build_drain_of(b, sump), cell = wh_sheet_figure(b->sheet, sump, "drain-time");
    for (size_t w = 0; w < 2 && cell != WH_NONE; w++)
        wh_build_link(b, b->off[drain][w], task, b->sheet->value[cell], INFINITY, "the oil runs out");
}

void wh_build_need_off(struct wh_builder *b, size_t task, const struct wh_conditions *conditions, int phase)
{
    for (size_t i = 0; i < conditions->count; i++) {
        const struct wh_indices *any = &conditions->at[i];
        size_t *tasks = WH_NEW(b->arena, 2 * any->count + 1, size_t);
        wh_build_need(b, task, true, tasks, condition_tasks(b, any, phase, tasks));
        if (any->count == 1 && wh_build_drain_of(b, any->at[0]) != WH_NONE) let_run_out(b, any->at[0], task);
        for (size_t j = 0; j < any->count; j++)
            if (wh_build_is_fixture(b, any->at[j])) {
                double natural = b->tasks.at[task].natural;
                size_t on = b->fixture_on[any->at[j]][phase], off = b->fixture_off[any->at[j]][phase];
                wh_build_before(b, task, off);
                if (natural - 0.5 < b->tasks.at[on].natural) b->tasks.at[on].natural = natural - 0.5;
                if (natural + 0.5 > b->tasks.at[off].natural) b->tasks.at[off].natural = natural + 0.5;
            }
    }
}
