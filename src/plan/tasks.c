#include "plan/tasks.h"

#include "base/text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The dimensions of a set-up. */
enum { TOOL, WAY_UP, PLACE };
enum { AT_FRAME, ON_BENCH };
enum { DOWN, UP, PHASES };

/* The natural order: places of the stages, and of the parts within them in the sequence of the file (going up, in the
 * opposite one). */
static const double at_running = 0, at_holds = 100, at_down = 1000, at_wash = 30000, at_bench = 40000, at_clean = 50000,
                    at_up = 100000, at_fill = 150000, at_power = 160000, at_test = 200000, at_later = 300000,
                    per_part = 8;

struct builder {
    struct wh_arena *arena;
    const struct wh_machine *machine;
    const struct wh_sheet *sheet;
    const bool *renewed;
    const int *banned;
    int fitters;
    uint64_t most_nodes;
    WH_LIST(struct wh_task) tasks;
    WH_LIST(struct wh_order_task) orders;
    WH_LIST(struct wh_order_need) needs;
    WH_LIST(struct wh_order_link) links;
    WH_LIST(const char *) because;
    WH_LIST(struct wh_order_window) windows;
    WH_LIST(const char *) tools;
    /* Tasks by thing; of parts by way. WH_NONE where there is none. */
    size_t (*off)[2], (*on_first)[2], (*on_last)[2];
    size_t (*fixture_on)[PHASES], (*fixture_off)[PHASES];
    size_t *fill, *check;
    size_t *turnable; /* by way up */
    size_t wash, clean, last_hold, first_test;
};

/* At a mark all tools are laid back: it is the first value of the dimension, got to from any tool for nothing. */
static int tool_value(struct builder *b, const char *tool)
{
    if (b->tools.count == 0) *WH_PUSH(b->arena, &b->tools) = NULL;
    if (!tool || wh_same(tool, "by hand")) return WH_ORDER_ANY;
    for (size_t t = 1; t < b->tools.count; t++)
        if (wh_same(b->tools.at[t], tool)) return (int)t;
    *WH_PUSH(b->arena, &b->tools) = tool;
    return (int)b->tools.count - 1;
}

struct set_up {
    const char *tool;
    size_t way_up;
    bool bench;
    int crew;
};

static size_t add_task(struct builder *b, struct wh_task task, const char *name, double seconds, struct set_up set_up)
{
    int way = set_up.bench ? WH_ORDER_ANY : set_up.way_up == WH_NONE ? 0 : (int)set_up.way_up;
    struct wh_order_task order = {
        .name = name, .minutes = seconds / 60, .crew = set_up.crew < b->fitters ? set_up.crew : b->fitters};
    order.set_up[TOOL] = tool_value(b, set_up.tool);
    order.set_up[WAY_UP] = way;
    order.set_up[PLACE] = set_up.bench ? ON_BENCH : AT_FRAME;
    *WH_PUSH(b->arena, &b->tasks) = task;
    *WH_PUSH(b->arena, &b->orders) = order;
    return b->tasks.count - 1;
}

/* A task that is always done: all tools are laid back for it. */
static size_t add_mark(struct builder *b, struct wh_task task, const char *name, double seconds, bool bench)
{
    size_t t = add_task(b, task, name, seconds, (struct set_up){.bench = bench, .crew = 1});
    b->orders.at[t].set_up[TOOL] = 0;
    b->orders.at[t].set_up[WAY_UP] = WH_ORDER_ANY;
    b->orders.at[t].wanted = true;
    return t;
}

static void add_link(struct builder *b, size_t first, size_t after, double least, double most, const char *because)
{
    if (first == WH_NONE || after == WH_NONE || first == after) return;
    *WH_PUSH(b->arena, &b->links) =
        (struct wh_order_link){.first = first, .after = after, .least = least / 60, .most = most / 60};
    *WH_PUSH(b->arena, &b->because) = because;
}

static void add_before(struct builder *b, size_t first, size_t after)
{
    add_link(b, first, after, 0, INFINITY, NULL);
}

/* `task` needs one of these tasks; nothing is added when the list is empty. */
static void add_need(struct builder *b, size_t task, bool before, const size_t alternatives[], size_t n)
{
    if (n == 0) return;
    struct wh_order_way *ways = WH_NEW(b->arena, n, struct wh_order_way);
    size_t *tasks = WH_NEW(b->arena, n, size_t);
    for (size_t i = 0; i < n; i++) {
        tasks[i] = alternatives[i];
        ways[i] = (struct wh_order_way){&tasks[i], 1};
    }
    *WH_PUSH(b->arena, &b->needs) = (struct wh_order_need){task, before, ways, n};
}

static bool is_fixture(const struct builder *b, size_t thing)
{
    return b->machine->things[thing].section == WH_SECTION_FIXTURES;
}

/* A sump stands in a condition for its oil being out: the part that drains it. */
static size_t drain_of(const struct builder *b, size_t thing)
{
    return wh_thing_role(b->machine, thing, "drained-by");
}

/* ---- one task each ------------------------------------------------------------------------------------------- */

bool wh_step_stands(const struct wh_thing *thing, const struct wh_kind_step *step, bool renewed)
{
    bool warm = wh_same(wh_thing_words(thing, "fitted"), "warm");
    const char *equals = step->key ? strchr(step->key, '=') : NULL;
    bool has = false;
    if (step->key && equals) {
        size_t n = (size_t)(equals - step->key);
        for (size_t w = 0; w < thing->word_count; w++)
            has |= strlen(thing->words[w].key) == n && strncmp(thing->words[w].key, step->key, n) == 0 &&
                   wh_same(thing->words[w].text, equals + 1);
    } else if (step->key) {
        has = wh_thing_words(thing, step->key) || wh_thing_value(thing, step->key);
        for (size_t r = 0; r < thing->role_count; r++) has |= wh_same(thing->roles[r].name, step->key);
    }
    switch (step->only) {
    case WH_ALWAYS: return true;
    case WH_ONLY_RENEWED: return renewed;
    case WH_ONLY_KEPT: return !renewed;
    case WH_ONLY_WARM: return warm;
    case WH_ONLY_COLD: return !warm;
    case WH_ONLY_WITH_KEY: return has;
    case WH_ONLY_WITHOUT_KEY: return !has;
    }
    return false;
}

/* The first tool that the kind's steps of a moment name, from one step on and before another. */
static const char *kind_tool(const struct wh_thing *thing, enum wh_when when, bool renewed, size_t from, size_t to)
{
    for (size_t s = from; s < to && s < wh_kind_steps(thing->kind); s++) {
        const struct wh_kind_step *step = &thing->kind->steps[s];
        if (step->when == when && step->tool && wh_step_stands(thing, step, renewed)) return step->tool;
    }
    return NULL;
}

static void add_off(struct builder *b, size_t p, size_t w)
{
    const struct wh_thing *part = &b->machine->things[p];
    const struct wh_way *way = &part->ways[w];
    const char *tool = way->off_tool ? way->off_tool : kind_tool(part, WH_WHEN_STRIP, b->renewed[p], 0, WH_KIND_STEPS);
    struct wh_task task = {.is = WH_TASK_OFF,
                           .stage = WH_STAGE_DOWN,
                           .thing = p,
                           .way = w,
                           .check = WH_NONE,
                           .hold = WH_NONE,
                           .step_count = wh_kind_steps(part->kind),
                           .last_piece = true,
                           .natural = at_down + per_part * (double)p};
    b->off[p][w] = add_task(b, task, wh_arena_print(b->arena, "off %s", part->id), way->off,
                            (struct set_up){tool, way->way_up, way->bench, way->crew});
}

static size_t add_piece(struct builder *b, size_t p, size_t w, size_t from, size_t to, double seconds, bool last)
{
    const struct wh_thing *part = &b->machine->things[p];
    const struct wh_way *way = &part->ways[w];
    const char *tool = last && way->on_tool ? way->on_tool : kind_tool(part, WH_WHEN_REBUILD, b->renewed[p], from, to);
    struct wh_task task = {.is = WH_TASK_ON,
                           .stage = WH_STAGE_UP,
                           .thing = p,
                           .way = w,
                           .check = WH_NONE,
                           .hold = WH_NONE,
                           .first_step = from,
                           .step_count = to - from,
                           .last_piece = last,
                           .natural = at_up + per_part * (double)(b->machine->thing_count - p)};
    return add_task(b, task, wh_arena_print(b->arena, "on %s", part->id), seconds,
                    (struct set_up){tool, way->way_up, way->bench, way->crew});
}

/* Fitting a part is one task, or several where it warms or rests in between. */
static void add_on(struct builder *b, size_t p, size_t w)
{
    const struct wh_thing *part = &b->machine->things[p];
    size_t from = 0, n = wh_kind_steps(part->kind), before = WH_NONE;
    double seconds = 0, alone = 0, within = 0;
    const char *wait = NULL;
    for (size_t s = 0; s <= n; s++) {
        const struct wh_kind_step *step = s < n ? &part->kind->steps[s] : NULL;
        bool stands = step && step->when == WH_WHEN_REBUILD && wh_step_stands(part, step, b->renewed[p]);
        if (step && !stands) continue;
        if (step) seconds += step->minutes * 60;
        if (step && step->alone <= 0) continue;
        size_t piece = add_piece(b, p, w, from, step ? s + 1 : n, seconds + (step ? 0 : part->ways[w].on), !step);
        if (before == WH_NONE)
            b->on_first[p][w] = piece;
        else
            add_link(b, before, piece, alone, within > 0 ? alone + within : INFINITY, wait);
        if (step) {
            b->tasks.at[piece].waits = step->wait;
            alone = step->alone * 60, within = step->within * 60, wait = step->wait;
        }
        before = piece;
        from = s + 1;
        seconds = 0;
    }
    b->on_last[p][w] = before;
}

static struct wh_task check_task(size_t check, enum wh_stage stage, size_t thing, double natural)
{
    return (struct wh_task){
        .is = WH_TASK_CHECK, .stage = stage, .thing = thing, .check = check, .hold = WH_NONE, .natural = natural};
}

static void add_check(struct builder *b, size_t c)
{
    static const struct {
        enum wh_stage stage;
        const double *at;
    } where[] = {{WH_STAGE_BEFORE, &at_running}, {WH_STAGE_DOWN, &at_down}, {WH_STAGE_BENCH, &at_bench},
                 {WH_STAGE_UP, &at_up},          {WH_STAGE_RUN, &at_test},  {WH_STAGE_LATER, &at_later}};
    const struct wh_check *check = &b->machine->checks[c];
    struct wh_task task = check_task(c, where[check->phase].stage, check->of, *where[check->phase].at + (double)c);
    const char *tool = check->tool               ? check->tool
                       : check->gauge != WH_NONE ? b->machine->gauges[check->gauge].title
                                                 : NULL;
    bool bench = check->bench || check->phase == WH_PHASE_WASHED;
    b->check[c] = add_task(b, task, wh_arena_print(b->arena, "check %s", check->id), check->minutes,
                           (struct set_up){tool, check->way_up, bench, check->crew});
}

/* ---- events and conditions as tasks -------------------------------------------------------------------------- */

/* The tasks in which an event happens, at most 2; `ends`: the last piece of fitting rather than the first. */
static size_t event_tasks(const struct builder *b, struct wh_event event, bool ends, size_t to[2])
{
    size_t n = 0;
    for (size_t w = 0; w < 2; w++) {
        size_t t = event.is == WH_EVENT_OFF    ? b->off[event.index][w]
                   : event.is == WH_EVENT_ON   ? (ends ? b->on_last : b->on_first)[event.index][w]
                   : w > 0                     ? WH_NONE
                   : event.is == WH_EVENT_FILL ? b->fill[event.index]
                                               : b->check[event.index];
        if (t != WH_NONE) to[n++] = t;
    }
    return n;
}

static size_t fixture_task(struct builder *b, size_t f, int phase, bool on)
{
    const struct wh_thing *fixture = &b->machine->things[f];
    const struct wh_way *way = &fixture->ways[0];
    bool up = phase == UP || (fixture->stays && !on);
    struct wh_task task = {.is = on ? WH_TASK_FIXTURE_ON : WH_TASK_FIXTURE_OFF,
                           .stage = up ? WH_STAGE_UP : WH_STAGE_DOWN,
                           .thing = f,
                           .check = WH_NONE,
                           .hold = WH_NONE,
                           .step_count = wh_kind_steps(fixture->kind),
                           .natural = on ? 1e9 : 0};
    return add_task(b, task, wh_arena_print(b->arena, on ? "fit %s" : "take away %s", fixture->id),
                    on ? way->on : way->off,
                    (struct set_up){on ? way->on_tool : way->off_tool, way->way_up, way->bench, way->crew});
}

static void need_off(struct builder *b, size_t task, const struct wh_conditions *conditions, int phase);

/* What is out before a part comes off is set again only when that part is back. */
static void after_return(struct builder *b, const struct wh_events *out_before, size_t task)
{
    for (size_t e = 0; e < out_before->count; e++)
        for (size_t w = 0; w < 2 && out_before->at[e].is == WH_EVENT_OFF; w++)
            add_before(b, b->on_last[out_before->at[e].index][w], task);
}

/* The pair of tasks of a fixture in a phase, made when first used. */
static void make_fixture(struct builder *b, size_t f, int phase)
{
    const struct wh_thing *fixture = &b->machine->things[f];
    int pair = fixture->stays ? DOWN : phase;
    if (b->fixture_on[f][pair] == WH_NONE) {
        size_t on = fixture_task(b, f, pair, true), off = fixture_task(b, f, pair, false), found[2];
        b->fixture_on[f][pair] = on, b->fixture_off[f][pair] = off;
        add_need(b, on, false, &off, 1);
        add_before(b, on, off);
        *WH_PUSH(b->arena, &b->windows) = (struct wh_order_window){on, off};
        need_off(b, on, &fixture->ways[0].off_first, pair);
        for (size_t e = 0; e < fixture->out_before.count; e++)
            for (size_t n = event_tasks(b, fixture->out_before.at[e], false, found); n > 0; n--)
                if ((b->tasks.at[found[n - 1]].stage == WH_STAGE_DOWN) == (b->tasks.at[off].stage == WH_STAGE_DOWN))
                    add_before(b, off, found[n - 1]);
        if (pair == UP) after_return(b, &fixture->out_before, on);
        for (size_t i = 0; i < fixture->ways[0].off_first.count; i++)
            for (size_t j = 0; j < fixture->ways[0].off_first.at[i].count; j++)
                for (size_t w = 0; w < 2; w++)
                    add_before(b, off, b->on_first[fixture->ways[0].off_first.at[i].at[j]][w]);
    }
    b->fixture_on[f][phase] = b->fixture_on[f][pair];
    b->fixture_off[f][phase] = b->fixture_off[f][pair];
}

/* A task is done while a fixture stands. */
static void use_fixture(struct builder *b, size_t task, size_t f, int phase)
{
    if (b->machine->things[f].way_count == 0) return; /* a mere aid: listed, not fitted */
    make_fixture(b, f, phase);
    size_t on = b->fixture_on[f][phase], off = b->fixture_off[f][phase];
    double natural = b->tasks.at[task].natural;
    add_need(b, task, true, &on, 1);
    add_before(b, task, off);
    if (natural - 2 < b->tasks.at[on].natural) b->tasks.at[on].natural = natural - 2;
    if (natural + 2 > b->tasks.at[off].natural) b->tasks.at[off].natural = natural + 2;
}

/* The tasks that meet one condition: a part off, a sump drained, a fixture standing. */
static size_t condition_tasks(struct builder *b, const struct wh_indices *any, int phase, size_t to[])
{
    size_t n = 0;
    for (size_t i = 0; i < any->count; i++) {
        size_t thing = any->at[i], drain = drain_of(b, thing);
        if (is_fixture(b, thing)) {
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

static void need_off(struct builder *b, size_t task, const struct wh_conditions *conditions, int phase)
{
    for (size_t i = 0; i < conditions->count; i++) {
        const struct wh_indices *any = &conditions->at[i];
        size_t *tasks = WH_NEW(b->arena, 2 * any->count + 1, size_t);
        add_need(b, task, true, tasks, condition_tasks(b, any, phase, tasks));
        for (size_t j = 0; j < any->count; j++)
            if (is_fixture(b, any->at[j])) {
                double natural = b->tasks.at[task].natural;
                size_t on = b->fixture_on[any->at[j]][phase], off = b->fixture_off[any->at[j]][phase];
                add_before(b, task, off);
                if (natural - 2 < b->tasks.at[on].natural) b->tasks.at[on].natural = natural - 2;
                if (natural + 2 > b->tasks.at[off].natural) b->tasks.at[off].natural = natural + 2;
            }
    }
}

/* ---- what binds them ----------------------------------------------------------------------------------------- */

/* What came off before it goes on after it: a part, or the oil into its sump. */
static void mirror(struct builder *b, size_t p, size_t w)
{
    const struct wh_conditions *conditions = &b->machine->things[p].ways[w].off_first;
    for (size_t i = 0; i < conditions->count; i++)
        for (size_t j = 0; j < conditions->at[i].count; j++) {
            size_t thing = conditions->at[i].at[j];
            if (drain_of(b, thing) != WH_NONE) {
                add_before(b, b->on_last[p][w], b->fill[thing]);
                thing = drain_of(b, thing);
            }
            if (is_fixture(b, thing)) {
                if (b->machine->things[thing].stays) add_before(b, b->on_last[p][w], b->fixture_off[thing][DOWN]);
                continue;
            }
            for (size_t v = 0; v < 2; v++) add_before(b, b->on_last[p][w], b->on_first[thing][v]);
        }
}

/* What must be off for the machine to stand in another way up: met once, whatever is then done so. */
static void bind_way_up(struct builder *b, size_t task, size_t way_up, int phase)
{
    if (way_up == WH_NONE || way_up == 0) return;
    size_t *turnable = &b->turnable[way_up];
    if (*turnable == WH_NONE) {
        struct wh_task mark = {.is = WH_TASK_TURNABLE,
                               .stage = WH_STAGE_DOWN,
                               .thing = WH_NONE,
                               .check = WH_NONE,
                               .hold = WH_NONE,
                               .natural = b->tasks.at[task].natural};
        *turnable = add_task(b, mark, "turnable", 0, (struct set_up){.bench = true, .crew = 1});
        b->orders.at[*turnable].set_up[PLACE] = WH_ORDER_ANY;
        need_off(b, *turnable, &b->machine->ways_up[way_up].off, phase);
    }
    add_need(b, task, true, turnable, 1);
    b->tasks.at[*turnable].natural = fmin(b->tasks.at[*turnable].natural, b->tasks.at[task].natural - 1);
    for (size_t i = 0; i < b->machine->ways_up[way_up].off.count; i++) { /* fixtures stand until all of it is done */
        const struct wh_indices *any = &b->machine->ways_up[way_up].off.at[i];
        for (size_t j = 0; j < any->count; j++)
            if (is_fixture(b, any->at[j])) add_before(b, task, b->fixture_off[any->at[j]][phase]);
    }
}

static void bind_part(struct builder *b, size_t p, size_t w)
{
    const struct wh_way *way = &b->machine->things[p].ways[w];
    size_t off = b->off[p][w], first = b->on_first[p][w], last = b->on_last[p][w];
    need_off(b, off, &way->off_first, DOWN);
    if (!way->bench) bind_way_up(b, off, way->way_up, DOWN);
    add_need(b, off, false, &first, 1);
    add_need(b, first, false, &last, first == last ? 0 : 1);
    for (size_t piece = first; piece < last; piece++) {
        size_t next = piece + 1;
        add_need(b, piece, false, &next, 1);
    }
    const struct wh_indices *sets[] = {&way->with, &way->off_with, &way->on_with};
    for (size_t s = 0; s < 3; s++)
        for (size_t i = 0; i < sets[s]->count; i++) {
            if (s != 2) use_fixture(b, off, sets[s]->at[i], DOWN);
            if (s != 1) use_fixture(b, last, sets[s]->at[i], UP);
        }
    mirror(b, p, w);
}

static double natural_of_check(const struct builder *b, const struct wh_check *check, double otherwise)
{
    size_t found[2];
    double place = -1;
    for (size_t e = 0; e < check->before.count; e++)
        if (check->before.at[e].is != WH_EVENT_CHECK && event_tasks(b, check->before.at[e], false, found) > 0 &&
            b->tasks.at[found[0]].stage == (check->phase == WH_PHASE_STRIP ? WH_STAGE_DOWN : WH_STAGE_UP) &&
            (place < 0 || b->tasks.at[found[0]].natural - 1 < place))
            place = b->tasks.at[found[0]].natural - 1;
    for (size_t e = 0; e < check->after.count && place < 0; e++)
        if (check->after.at[e].is != WH_EVENT_CHECK && event_tasks(b, check->after.at[e], true, found) > 0)
            place = fmax(place, b->tasks.at[found[0]].natural + 1);
    return place < 0 ? otherwise : place;
}

/* A check is made when one of its events happens: those it names, else any it stands before or after. */
static void need_check(struct builder *b, size_t c, const struct wh_events *events)
{
    size_t found[2];
    for (size_t e = 0; e < events->count; e++)
        for (size_t n = event_tasks(b, events->at[e], false, found); n > 0; n--)
            if (events->at[e].is != WH_EVENT_CHECK) add_need(b, found[n - 1], false, &b->check[c], 1);
}

/* A fixture of a check is set only when the parts that the check waits for are done. */
static void use_for_check(struct builder *b, size_t c, size_t f, int phase)
{
    const struct wh_events *after = &b->machine->checks[c].after;
    size_t found[2];
    use_fixture(b, b->check[c], f, phase);
    for (size_t e = 0; e < after->count; e++)
        for (size_t n = event_tasks(b, after->at[e], true, found); n > 0 && after->at[e].is != WH_EVENT_CHECK; n--)
            add_before(b, found[n - 1], b->fixture_on[f][phase]);
}

static void bind_check(struct builder *b, size_t c)
{
    const struct wh_check *check = &b->machine->checks[c];
    size_t task = b->check[c], found[2];
    bool stripping = check->phase == WH_PHASE_STRIP, rebuilding = check->phase == WH_PHASE_REBUILD;
    if (stripping || rebuilding) b->tasks.at[task].natural = natural_of_check(b, check, b->tasks.at[task].natural);
    if (check->needed_when.count > 0 && check->phase != WH_PHASE_LATER) {
        need_check(b, c, &check->needed_when);
    } else if (stripping || rebuilding || check->phase == WH_PHASE_WASHED) {
        need_check(b, c, &check->after);
        need_check(b, c, &check->before);
    } else {
        b->orders.at[task].wanted = check->phase != WH_PHASE_LATER; /* a later visit is no part of this order */
    }
    for (size_t e = 0; e < check->after.count; e++)
        for (size_t n = event_tasks(b, check->after.at[e], true, found); n > 0; n--) add_before(b, found[n - 1], task);
    for (size_t e = 0; e < check->before.count; e++)
        for (size_t n = event_tasks(b, check->before.at[e], false, found); n > 0; n--)
            add_before(b, task, found[n - 1]);
    for (size_t i = 0; i < check->with.count; i++) use_for_check(b, c, check->with.at[i], stripping ? DOWN : UP);
    if (!check->bench) bind_way_up(b, task, check->way_up, stripping ? DOWN : UP);
    if (check->power && rebuilding) {
        struct wh_task isolate = {.is = WH_TASK_ISOLATE,
                                  .stage = WH_STAGE_UP,
                                  .thing = WH_NONE,
                                  .check = WH_NONE,
                                  .hold = WH_NONE,
                                  .natural = b->tasks.at[task].natural + 0.5};
        size_t again = add_task(b, isolate, "isolate again", 300, (struct set_up){.crew = 1});
        add_need(b, task, false, &again, 1);
        add_before(b, task, again);
        b->links.at[b->links.count - 1].joined = true;
    }
}

static void bind_fill(struct builder *b, size_t sump)
{
    size_t drain = drain_of(b, sump);
    for (size_t w = 0; w < 2; w++) {
        if (b->off[drain][w] == WH_NONE) continue;
        add_need(b, b->off[drain][w], false, &b->fill[sump], 1);
        add_before(b, b->on_last[drain][w], b->fill[sump]);
        *WH_PUSH(b->arena, &b->windows) = (struct wh_order_window){b->off[drain][w], b->fill[sump]};
    }
}

static void bind_waits(struct builder *b)
{
    size_t first[2], after[2];
    for (size_t i = 0; i < b->machine->wait_count; i++) {
        const struct wh_wait *wait = &b->machine->waits[i];
        size_t n = event_tasks(b, wait->after, true, first), m = event_tasks(b, wait->before, false, after);
        for (size_t x = 0; x < n; x++)
            for (size_t y = 0; y < m; y++)
                add_link(b, first[x], after[y], wait->least, wait->most > 1e8 ? INFINITY : wait->most, wait->because);
    }
    for (size_t s = 0; s < b->machine->thing_count; s++) {
        const struct wh_thing *screws = &b->machine->things[s];
        size_t cell = wh_sheet_figure(b->sheet, s, "cure-time"), holds = wh_thing_role(b->machine, s, "holds");
        bool locked = wh_same(wh_thing_words(screws, "locked"), "adhesive");
        if (!locked || cell == WH_NONE || !isfinite(b->sheet->value[cell])) continue;
        size_t part = screws->way_count > 0 ? s : holds;
        for (size_t w = 0; part != WH_NONE && w < 2; w++)
            add_link(b, b->on_last[part][w], b->first_test, b->sheet->value[cell], INFINITY,
                     "the thread adhesive cures");
    }
}

/* All tasks of a stage stand between two marks. */
static void bind_stages(struct builder *b)
{
    for (size_t t = 0; t < b->tasks.count; t++) {
        enum wh_stage stage = b->tasks.at[t].stage;
        if (t == b->wash || t == b->clean) continue;
        if (stage == WH_STAGE_DOWN) {
            add_before(b, b->last_hold, t);
            add_before(b, t, b->wash);
        } else if (stage == WH_STAGE_BENCH) {
            add_before(b, b->wash, t);
            add_before(b, t, b->clean);
        } else if (stage == WH_STAGE_UP) {
            add_before(b, b->clean, t);
            add_before(b, t, b->first_test);
        }
    }
    add_before(b, b->last_hold, b->wash);
    add_before(b, b->wash, b->clean);
    add_before(b, b->clean, b->first_test);
}

/* Running checks, holds, tests and later visits stand in the sequence of the file. */
static size_t chain_checks(struct builder *b, enum wh_phase phase, size_t before)
{
    for (size_t c = 0; c < b->machine->check_count; c++)
        if (b->machine->checks[c].phase == phase) {
            add_before(b, before, b->check[c]);
            if (b->orders.at[b->check[c]].wanted) before = b->check[c];
        }
    return before;
}

static size_t chain_holds(struct builder *b, bool released, size_t before, size_t *ret_first)
{
    for (size_t h = 0; h < b->machine->hold_count; h++) {
        const struct wh_hold *hold = &b->machine->holds[h];
        if (hold->released != released) continue;
        struct wh_task task = {.is = WH_TASK_HOLD,
                               .stage = released ? WH_STAGE_RUN : WH_STAGE_BEFORE,
                               .thing = WH_NONE,
                               .check = WH_NONE,
                               .hold = h,
                               .natural = (released ? at_power : at_holds) + (double)h};
        size_t t = add_mark(b, task, wh_arena_print(b->arena, "hold %s", hold->id), 300, false);
        add_before(b, before, t);
        if (ret_first && *ret_first == WH_NONE) *ret_first = t;
        before = t;
    }
    return before;
}

/* ---- the whole ----------------------------------------------------------------------------------------------- */

static void *nones(struct builder *b, size_t each)
{
    size_t n = each * (b->machine->thing_count + 1), *at = WH_NEW(b->arena, n, size_t);
    for (size_t i = 0; i < n; i++) at[i] = WH_NONE;
    return at;
}

static void add_all_tasks(struct builder *b)
{
    const struct wh_machine *machine = b->machine;
    b->off = nones(b, 2), b->on_first = nones(b, 2), b->on_last = nones(b, 2);
    b->fixture_on = nones(b, PHASES), b->fixture_off = nones(b, PHASES);
    b->fill = nones(b, 1);
    b->turnable = WH_NEW(b->arena, machine->way_up_count, size_t);
    for (size_t u = 0; u < machine->way_up_count; u++) b->turnable[u] = WH_NONE;
    b->check = WH_NEW(b->arena, machine->check_count + 1, size_t);
    for (size_t p = 0; p < machine->thing_count; p++) {
        const struct wh_thing *part = &machine->things[p];
        for (size_t w = 0; w < part->way_count && part->section != WH_SECTION_FIXTURES; w++) {
            if (b->banned && b->banned[p] == (int)w) continue;
            add_off(b, p, w);
            add_on(b, p, w);
        }
        if (drain_of(b, p) != WH_NONE) {
            struct wh_task fill = {.is = WH_TASK_FILL,
                                   .stage = WH_STAGE_UP,
                                   .thing = p,
                                   .check = WH_NONE,
                                   .hold = WH_NONE,
                                   .step_count = wh_kind_steps(part->kind),
                                   .natural = at_fill};
            b->fill[p] =
                add_task(b, fill, wh_arena_print(b->arena, "fill %s", part->id), 600, (struct set_up){.crew = 1});
        }
    }
    for (size_t c = 0; c < machine->check_count; c++) add_check(b, c);
    double wash_seconds = b->sheet->value[wh_sheet_figure(b->sheet, 0, "washing")];
    b->wash = add_mark(b,
                       (struct wh_task){.is = WH_TASK_WASH,
                                        .stage = WH_STAGE_BENCH,
                                        .thing = WH_NONE,
                                        .check = WH_NONE,
                                        .hold = WH_NONE,
                                        .natural = at_wash},
                       "wash", wash_seconds, true);
    b->clean = add_mark(b,
                        (struct wh_task){.is = WH_TASK_CLEAN,
                                         .stage = WH_STAGE_BENCH,
                                         .thing = WH_NONE,
                                         .check = WH_NONE,
                                         .hold = WH_NONE,
                                         .natural = at_clean},
                        "clean", 600, true);
}

static void bind_all(struct builder *b)
{
    const struct wh_machine *machine = b->machine;
    for (size_t p = 0; p < machine->thing_count; p++) {
        for (size_t w = 0; w < 2; w++)
            if (b->off[p][w] != WH_NONE) bind_part(b, p, w);
        if (b->fill[p] != WH_NONE) bind_fill(b, p);
    }
    for (size_t c = 0; c < machine->check_count; c++) bind_check(b, c);
    b->last_hold = chain_holds(b, false, chain_checks(b, WH_PHASE_RUNNING, WH_NONE), NULL);
    b->first_test = WH_NONE;
    size_t last = chain_holds(b, true, b->clean, &b->first_test);
    if (b->first_test == WH_NONE)
        b->first_test = last = add_mark(b,
                                        (struct wh_task){.is = WH_TASK_WHOLE,
                                                         .stage = WH_STAGE_RUN,
                                                         .thing = WH_NONE,
                                                         .check = WH_NONE,
                                                         .hold = WH_NONE,
                                                         .natural = at_power},
                                        "whole", 0, false);
    chain_checks(b, WH_PHASE_TEST, last);
    bind_waits(b);
    bind_stages(b);
}

/* A part that another disturbs comes off with it, by whichever way. */
static void bind_disturbed(struct builder *b)
{
    for (size_t t = 0; t < b->machine->thing_count; t++)
        for (size_t i = 0; i < b->machine->things[t].disturbed_by.count; i++)
            for (size_t w = 0, by = b->machine->things[t].disturbed_by.at[i]; w < 2; w++) {
                size_t offs[2], n = event_tasks(b, (struct wh_event){WH_EVENT_OFF, t}, true, offs);
                if (b->off[by][w] != WH_NONE) add_need(b, b->off[by][w], false, offs, n);
            }
}

/* The named parts come off, and with them what is looked at whenever they are renewed. */
static void want(struct builder *b, const size_t named[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct wh_conditions one = {&(struct wh_indices){&named[i], 1}, 1};
        need_off(b, b->clean, &one, DOWN);
        for (size_t t = 0; t < b->machine->thing_count; t++) {
            const struct wh_thing *thing = &b->machine->things[t];
            for (size_t j = 0; j < thing->look_when.count; j++) {
                if (thing->look_when.at[j] != named[i]) continue;
                need_off(b, b->clean, &(struct wh_conditions){&(struct wh_indices){&t, 1}, 1}, DOWN);
                for (size_t k = 0; k < thing->look_with.count; k++)
                    need_off(b, b->clean, &(struct wh_conditions){&(struct wh_indices){&thing->look_with.at[k], 1}, 1},
                             DOWN);
            }
        }
    }
}

/* n x n costs of changing a value: what leaving the one and getting the other take. */
static const double *costs(struct builder *b, size_t n, const double leaving[], const double getting[])
{
    double *cost = WH_NEW(b->arena, n * n + 1, double);
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) cost[i * n + j] = i == j ? 0 : leaving[i] + getting[j];
    return cost;
}

/* The windows that keep each condition of the other ways up. */
static void turning_windows(struct builder *b, struct wh_order_dimension *dimension)
{
    WH_LIST(struct wh_order_way) sets = {0};
    for (size_t u = 1; u < b->machine->way_up_count; u++)
        for (size_t i = 0; i < b->machine->ways_up[u].off.count; i++) {
            const struct wh_indices *any = &b->machine->ways_up[u].off.at[i];
            WH_LIST(size_t) set = {0};
            for (size_t j = 0; j < any->count; j++) {
                size_t thing = any->at[j], drain = drain_of(b, thing);
                for (size_t x = 0; x < b->windows.count; x++) {
                    size_t opens = b->windows.at[x].opens;
                    const struct wh_task *task = &b->tasks.at[opens];
                    bool drains = drain != WH_NONE && b->windows.at[x].closes == b->fill[thing];
                    bool parts = drain == WH_NONE && task->thing == thing;
                    if (drains || parts) *WH_PUSH(b->arena, &set) = x;
                }
            }
            *WH_PUSH(b->arena, &sets) = (struct wh_order_way){set.at, set.count};
        }
    dimension->open_sets = sets.at;
    dimension->open_set_count = sets.count;
}

static void part_windows(struct builder *b)
{
    for (size_t p = 0; p < b->machine->thing_count; p++)
        for (size_t w = 0; w < 2; w++)
            if (b->off[p][w] != WH_NONE)
                *WH_PUSH(b->arena, &b->windows) = (struct wh_order_window){b->off[p][w], b->on_first[p][w]};
}

static void set_dimensions(struct builder *b, struct wh_order_problem *problem)
{
    const struct wh_machine *machine = b->machine;
    double *turn = WH_NEW(b->arena, machine->way_up_count, double),
           *nothing = WH_NEW(b->arena, b->tools.count + 2, double);
    double *tool = WH_NEW(b->arena, b->tools.count, double),
           bench[2] = {machine->bench_change / 60, machine->bench_change / 60};
    for (size_t u = 1; u < machine->way_up_count; u++) turn[u] = machine->ways_up[u].minutes / 60;
    for (size_t t = 1; t < b->tools.count; t++) tool[t] = machine->tool_change / 60;
    problem->dimensions[TOOL] = (struct wh_order_dimension){
        .name = "tool", .values = b->tools.count, .cost = costs(b, b->tools.count, nothing, tool), .start = 0};
    problem->dimensions[WAY_UP] = (struct wh_order_dimension){.name = "way up",
                                                              .values = machine->way_up_count,
                                                              .cost = costs(b, machine->way_up_count, turn, turn),
                                                              .start = 0,
                                                              .shared = true};
    problem->dimensions[PLACE] = (struct wh_order_dimension){
        .name = "place", .values = 2, .cost = costs(b, 2, nothing, bench), .start = AT_FRAME};
    turning_windows(b, &problem->dimensions[WAY_UP]);
}

struct placed {
    double natural;
    size_t task;
};

static int by_place(const void *a, const void *b)
{
    const struct placed *x = a, *y = b;
    if (x->natural < y->natural || x->natural > y->natural) return x->natural < y->natural ? -1 : 1;
    return x->task < y->task ? -1 : x->task > y->task;
}

/* Puts the tasks into their natural order and everything that names them after them. */
static struct wh_tasks *sorted(struct builder *b)
{
    size_t n = b->tasks.count, *now = WH_NEW(b->arena, n + 1, size_t);
    struct placed *placed = WH_NEW(b->arena, n + 1, struct placed);
    struct wh_tasks *tasks = WH_NEW(b->arena, 1, struct wh_tasks);
    struct wh_order_task *orders = WH_NEW(b->arena, n + 1, struct wh_order_task);
    tasks->tasks = WH_NEW(b->arena, n + 1, struct wh_task);
    tasks->count = n;
    for (size_t t = 0; t < n; t++) placed[t] = (struct placed){b->tasks.at[t].natural, t};
    qsort(placed, n, sizeof *placed, by_place);
    for (size_t t = 0; t < n; t++) {
        now[placed[t].task] = t;
        tasks->tasks[t] = b->tasks.at[placed[t].task];
        orders[t] = b->orders.at[placed[t].task];
    }
    for (size_t i = 0; i < b->needs.count; i++) {
        struct wh_order_need *need = &b->needs.at[i];
        need->task = now[need->task];
        for (size_t w = 0; w < need->way_count; w++)
            for (size_t j = 0; j < need->ways[w].count; j++)
                ((size_t *)need->ways[w].tasks)[j] = now[need->ways[w].tasks[j]];
    }
    for (size_t i = 0; i < b->links.count; i++) {
        b->links.at[i].first = now[b->links.at[i].first];
        b->links.at[i].after = now[b->links.at[i].after];
    }
    for (size_t i = 0; i < b->windows.count; i++)
        b->windows.at[i] = (struct wh_order_window){now[b->windows.at[i].opens], now[b->windows.at[i].closes]};
    tasks->problem = (struct wh_order_problem){.tasks = orders,
                                               .task_count = n,
                                               .needs = b->needs.at,
                                               .need_count = b->needs.count,
                                               .links = b->links.at,
                                               .link_count = b->links.count,
                                               .windows = b->windows.at,
                                               .window_count = b->windows.count,
                                               .fitters = b->fitters,
                                               .keep = 5,
                                               .most_nodes = b->most_nodes};
    tasks->link_because = b->because.at;
    tasks->tools = b->tools.at;
    return tasks;
}

struct wh_tasks *wh_tasks_make(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_sheet *sheet,
                               const bool renewed[], const size_t named[], size_t named_count, const int banned[],
                               const struct wh_plan_ask *ask)
{
    struct builder b = {.arena = arena,
                        .machine = machine,
                        .sheet = sheet,
                        .renewed = renewed,
                        .banned = banned,
                        .fitters = ask->fitters,
                        .most_nodes = banned ? ask->most_nodes / 5 : ask->most_nodes};
    struct wh_order_problem dimensions;
    add_all_tasks(&b);
    part_windows(&b);
    bind_all(&b);
    bind_disturbed(&b);
    want(&b, named, named_count);
    set_dimensions(&b, &dimensions);
    struct wh_tasks *tasks = sorted(&b);
    memcpy(tasks->problem.dimensions, dimensions.dimensions, sizeof dimensions.dimensions);
    return tasks;
}
