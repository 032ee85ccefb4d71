/* What binds the tasks of a job: what came off first goes on last, what must stand open, one stage after another. */
#include "plan/builder.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

/* What came off before it goes on after it: a part, or the oil into its sump. */
static void mirror(struct wh_builder *b, size_t p, size_t w)
{
    const struct wh_conditions *conditions = &b->machine->things[p].ways[w].off_first;
    for (size_t i = 0; i < conditions->count; i++)
        for (size_t j = 0; j < conditions->at[i].count; j++) {
            size_t thing = conditions->at[i].at[j];
            if (wh_build_drain_of(b, thing) != WH_NONE) {
                wh_build_before(b, b->on_last[p][w], b->fill[thing]);
                thing = wh_build_drain_of(b, thing);
            }
            if (wh_build_is_fixture(b, thing)) {
                if (b->machine->things[thing].stays)
                    wh_build_before(b, b->on_last[p][w], b->fixture_off[thing][WH_PLAN_DOWN]);
                continue;
            }
            for (size_t v = 0; v < 2; v++) wh_build_before(b, b->on_last[p][w], b->on_first[thing][v]);
        }
}

void wh_build_bind_way_up(struct wh_builder *b, size_t task, size_t way_up, int phase)
{
    if (way_up == WH_NONE || way_up == 0) return;
    size_t *turnable = &b->turnable[way_up];
    if (*turnable == WH_NONE) {
        struct wh_task mark = {.is = WH_TASK_MARK,
                               .stage = WH_STAGE_DOWN,
                               .thing = WH_NONE,
                               .check = WH_NONE,
                               .hold = WH_NONE,
                               .natural = b->tasks.at[task].natural};
        *turnable = wh_build_task(b, mark, wh_arena_print(b->arena, "turnable to %s", b->machine->ways_up[way_up].id),
                                  0, (struct wh_set_up){.bench = true, .crew = 1, .trade = WH_ORDER_ANY});
        b->orders.at[*turnable].set_up[WH_PLAN_PLACE] = WH_ORDER_ANY;
        wh_build_need_off(b, *turnable, &b->machine->ways_up[way_up].off, phase);
    }
    wh_build_need(b, task, true, turnable, 1);
    b->tasks.at[*turnable].natural = fmin(b->tasks.at[*turnable].natural, b->tasks.at[task].natural - 1);
    for (size_t i = 0; i < b->machine->ways_up[way_up].off.count; i++) { /* fixtures stand until all of it is done */
        const struct wh_indices *any = &b->machine->ways_up[way_up].off.at[i];
        for (size_t j = 0; j < any->count; j++)
            if (wh_build_is_fixture(b, any->at[j])) wh_build_before(b, task, b->fixture_off[any->at[j]][phase]);
    }
}

static void bind_part(struct wh_builder *b, size_t p, size_t w)
{
    const struct wh_way *way = &b->machine->things[p].ways[w];
    size_t off = b->off[p][w], first = b->on_first[p][w], last = b->on_last[p][w];
    wh_build_need_off(b, off, &way->off_first, WH_PLAN_DOWN);
    if (!way->bench) wh_build_bind_way_up(b, off, way->way_up, WH_PLAN_DOWN);
    wh_build_need(b, off, false, &first, 1);
    wh_build_need(b, first, false, &last, first == last ? 0 : 1);
    for (size_t piece = first; piece < last; piece++) {
        size_t next = piece + 1;
        wh_build_need(b, piece, false, &next, 1);
    }
    const struct wh_indices *sets[] = {&way->with, &way->off_with, &way->on_with};
    for (size_t s = 0; s < 3; s++)
        for (size_t i = 0; i < sets[s]->count; i++) {
            if (s != 2) wh_build_use_fixture(b, off, sets[s]->at[i], WH_PLAN_DOWN);
            if (s != 1) wh_build_use_fixture(b, last, sets[s]->at[i], WH_PLAN_UP);
        }
    mirror(b, p, w);
}

/* What leaves with another part is off before it where it comes off in the frame, and goes on after it. */
static void bind_carried(struct wh_builder *b, size_t carrier)
{
    const struct wh_thing *part = &b->machine->things[carrier];
    for (size_t i = 0; i < part->carries.count; i++)
        for (size_t w = 0, carried = part->carries.at[i]; w < 2; w++) {
            if (b->off[carried][w] == WH_NONE || b->machine->things[carried].ways[w].bench) continue;
            for (size_t v = 0; v < 2; v++) {
                wh_build_before(b, b->off[carried][w], b->off[carrier][v]);
                wh_build_before(b, b->on_last[carrier][v], b->on_first[carried][w]);
            }
        }
}

static void bind_fill(struct wh_builder *b, size_t sump)
{
    size_t drain = wh_build_drain_of(b, sump);
    for (size_t w = 0; w < 2; w++) {
        if (b->off[drain][w] == WH_NONE) continue;
        wh_build_need(b, b->off[drain][w], false, &b->fill[sump], 1);
        wh_build_before(b, b->on_last[drain][w], b->fill[sump]);
        *WH_PUSH(b->arena, &b->windows) = (struct wh_order_window){b->off[drain][w], b->fill[sump]};
    }
}

static void bind_waits(struct wh_builder *b)
{
    size_t first[2], after[2];
    for (size_t i = 0; i < b->machine->wait_count; i++) {
        const struct wh_wait *wait = &b->machine->waits[i];
        size_t n = wh_build_event_tasks(b, wait->after, true, first),
               m = wh_build_event_tasks(b, wait->before, false, after);
        for (size_t x = 0; x < n; x++)
            for (size_t y = 0; y < m; y++) wh_build_link(b, first[x], after[y], wait->least, wait->most, wait->because);
    }
    for (size_t s = 0; s < b->machine->thing_count; s++) {
        const struct wh_thing *screws = &b->machine->things[s];
        size_t cell = wh_sheet_figure(b->sheet, s, "cure-time"), holds = wh_thing_role(b->machine, s, "holds");
        bool locked = wh_same(wh_thing_words(screws, "locked"), "adhesive");
        if (!locked || cell == WH_NONE || !isfinite(b->sheet->value[cell])) continue;
        size_t part = screws->way_count > 0 ? s : holds;
        for (size_t w = 0; part != WH_NONE && w < 2; w++)
            wh_build_link(b, b->on_last[part][w], b->first_test, b->sheet->value[cell], INFINITY,
                          "the thread adhesive cures");
    }
}

/* What is measured on the bench is clean. */
static void wash_before_checks(struct wh_builder *b, size_t wash)
{
    for (size_t t = 0; t < b->tasks.count; t++)
        if (b->tasks.at[t].stage == WH_STAGE_BENCH && b->tasks.at[t].is == WH_TASK_CHECK) wh_build_before(b, wash, t);
}

/* All tasks of a stage stand between two marks. */
static void bind_stages(struct wh_builder *b)
{
    for (size_t t = 0; t < b->tasks.count; t++) {
        enum wh_stage stage = b->tasks.at[t].stage;
        if (t == b->down || t == b->clean) continue;
        if (stage == WH_STAGE_DOWN) {
            wh_build_before(b, b->last_hold, t);
            wh_build_before(b, t, b->down);
        } else if (stage == WH_STAGE_BENCH) {
            wh_build_before(b, b->down, t);
            wh_build_before(b, t, b->clean);
            if (b->tasks.at[t].is == WH_TASK_WASH) wash_before_checks(b, t);
        } else if (stage == WH_STAGE_UP) {
            wh_build_before(b, b->clean, t);
            wh_build_before(b, t, b->first_test);
        }
    }
    wh_build_before(b, b->last_hold, b->down);
    wh_build_before(b, b->down, b->clean);
    wh_build_before(b, b->clean, b->first_test);
}

/* Running checks, holds, tests and later visits stand in the sequence of the file. */
static size_t chain_checks(struct wh_builder *b, enum wh_phase phase, size_t before)
{
    for (size_t c = 0; c < b->machine->check_count; c++)
        if (b->machine->checks[c].phase == phase) {
            wh_build_before(b, before, b->check[c]);
            if (b->orders.at[b->check[c]].wanted) before = b->check[c];
        }
    return before;
}

static size_t chain_holds(struct wh_builder *b, bool released, size_t before, size_t *ret_first)
{
    for (size_t h = 0; h < b->machine->hold_count; h++) {
        const struct wh_hold *hold = &b->machine->holds[h];
        if (hold->released != released) continue;
        struct wh_task task = {.is = WH_TASK_HOLD,
                               .stage = released ? WH_STAGE_RUN : WH_STAGE_BEFORE,
                               .thing = WH_NONE,
                               .check = WH_NONE,
                               .hold = h,
                               .natural = (released ? WH_AT_POWER : WH_AT_HOLDS) + (double)h};
        size_t t = wh_build_mark(b, task, wh_arena_print(b->arena, "hold %s", hold->id),
                                 hold->minutes > 0 ? hold->minutes : 300, false);
        b->orders.at[t].crew = b->fitters; /* a hold is everybody's */
        wh_build_before(b, before, t);
        if (ret_first && *ret_first == WH_NONE) *ret_first = t;
        before = t;
    }
    return before;
}

/* The sequence of the file is that of the first ways out. By the other way a part goes back before what came off before
 * it by that way, wherever the file has it. */
static bool settle_other_way(struct wh_builder *b, size_t p)
{
    const struct wh_conditions *conditions = &b->machine->things[p].ways[1].off_first;
    double before = INFINITY;
    for (size_t i = 0; i < conditions->count; i++) {
        size_t thing = conditions->at[i].at[0], w = b->machine->things[thing].way_count == 2;
        if (conditions->at[i].count == 1 && b->on_first[thing][w] != WH_NONE)
            before = fmin(before, b->tasks.at[b->on_first[thing][w]].natural - 0.01);
    }
    if (b->tasks.at[b->on_first[p][1]].natural <= before) return false;
    for (size_t t = b->on_first[p][1]; t <= b->on_last[p][1]; t++) b->tasks.at[t].natural = before;
    return true;
}

static void settle_other_ways(struct wh_builder *b)
{
    bool again = true;
    for (size_t pass = 0; again && pass < b->machine->thing_count; pass++) {
        again = false;
        for (size_t p = 0; p < b->machine->thing_count; p++)
            if (b->on_first[p][1] != WH_NONE) again |= settle_other_way(b, p);
    }
}

void wh_build_bind(struct wh_builder *b)
{
    const struct wh_machine *machine = b->machine;
    settle_other_ways(b);
    for (size_t p = 0; p < machine->thing_count; p++) {
        for (size_t w = 0; w < 2; w++)
            if (b->off[p][w] != WH_NONE) bind_part(b, p, w);
        bind_carried(b, p);
        if (b->fill[p] != WH_NONE) bind_fill(b, p);
    }
    wh_build_bind_checks(b);
    b->last_hold = chain_holds(b, false, chain_checks(b, WH_PHASE_RUNNING, WH_NONE), NULL);
    b->first_test = WH_NONE;
    size_t last = chain_holds(b, true, b->clean, &b->first_test);
    if (b->first_test == WH_NONE)
        b->first_test = last = wh_build_mark(b,
                                             (struct wh_task){.is = WH_TASK_WHOLE,
                                                              .stage = WH_STAGE_RUN,
                                                              .thing = WH_NONE,
                                                              .check = WH_NONE,
                                                              .hold = WH_NONE,
                                                              .natural = WH_AT_POWER},
                                             "whole", 0, false);
    chain_checks(b, WH_PHASE_TEST, last);
    bind_waits(b);
    bind_stages(b);
}

void wh_build_bind_disturbed(struct wh_builder *b)
{
    for (size_t t = 0; t < b->machine->thing_count; t++)
        for (size_t i = 0; i < b->machine->things[t].disturbed_by.count; i++)
            for (size_t w = 0, by = b->machine->things[t].disturbed_by.at[i]; w < 2; w++) {
                size_t offs[2], n = wh_build_event_tasks(b, (struct wh_event){WH_EVENT_OFF, t}, true, offs);
                if (b->off[by][w] != WH_NONE) wh_build_need(b, b->off[by][w], false, offs, n);
            }
}

static void want_off(struct wh_builder *b, size_t thing, const bool *back)
{
    struct wh_conditions one = {&(struct wh_indices){&thing, 1}, 1};
    if (!back || !back[thing]) wh_build_need_off(b, b->clean, &one, WH_PLAN_DOWN);
}

void wh_build_want(struct wh_builder *b, size_t named, const bool *back)
{
    want_off(b, named, back);
    for (size_t t = 0; t < b->machine->thing_count; t++) {
        const struct wh_thing *thing = &b->machine->things[t];
        for (size_t j = 0; j < thing->look_when.count; j++) {
            if (thing->look_when.at[j] != named) continue;
            want_off(b, t, back);
            for (size_t k = 0; k < thing->look_with.count; k++) want_off(b, thing->look_with.at[k], back);
        }
    }
}
