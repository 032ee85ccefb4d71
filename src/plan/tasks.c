#include "plan/builder.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

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

/* "off casing", "on foot-bearing, other way", "warm foot-bearing": the word, the part, the way and the piece. */
static const char *part_id(struct wh_builder *b, const char *word, size_t p, size_t w, size_t piece)
{
    const char *id = b->machine->things[p].id, *way = w == 1 ? ", other way" : "";
    if (piece < 2) return wh_arena_print(b->arena, "%s %s%s", word, id, way);
    return wh_arena_print(b->arena, "%s %s%s, %zu", word, id, way, piece);
}

static void add_off(struct wh_builder *b, size_t p, size_t w)
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
                           .natural = WH_AT_DOWN + WH_PER_PART * (double)p};
    b->off[p][w] =
        wh_build_task(b, task, part_id(b, "off", p, w, 0), way->off,
                      (struct wh_set_up){tool, way->way_up, way->bench, way->crew, wh_build_trade(part->by)});
}

/* A piece of fitting a part: the first, second … that passes by itself, or 0, the last. */
static size_t add_piece(struct wh_builder *b, size_t p, size_t w, size_t from, size_t to, double seconds, size_t piece)
{
    bool last = piece == 0;
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
                           .natural = WH_AT_UP + WH_PER_PART * (double)(b->machine->thing_count - p)};
    return wh_build_task(b, task, part_id(b, last ? "on" : "warm", p, w, piece), seconds,
                         (struct wh_set_up){tool, way->way_up, way->bench, way->crew, wh_build_trade(part->by)});
}

/* What passes by itself has its tool until the next piece begins: one heater does not warm two rings. */
static void warm(struct wh_builder *b, size_t before, size_t piece, double alone, double within, const char *wait)
{
    int heater = b->orders.at[before].set_up[WH_PLAN_TOOL];
    wh_build_link(b, before, piece, alone, within > 0 ? alone + within : INFINITY, wait);
    if (heater != WH_ORDER_ANY) *WH_PUSH(b->arena, &b->uses) = (struct wh_order_use){(size_t)heater, before, piece};
}

/* Fitting a part is one task, or several where it warms or rests in between. */
static void add_on(struct wh_builder *b, size_t p, size_t w)
{
    const struct wh_thing *part = &b->machine->things[p];
    size_t from = 0, n = wh_kind_steps(part->kind), before = WH_NONE, pieces = 0;
    double seconds = 0, alone = 0, within = 0;
    const char *wait = NULL;
    for (size_t s = 0; s <= n; s++) {
        const struct wh_kind_step *step = s < n ? &part->kind->steps[s] : NULL;
        bool stands = step && step->when == WH_WHEN_REBUILD && wh_step_stands(part, step, b->renewed[p]);
        if (step && !stands) continue;
        if (step) seconds += step->minutes * 60;
        if (step && step->alone <= 0) continue;
        size_t piece =
            add_piece(b, p, w, from, step ? s + 1 : n, seconds + (step ? 0 : part->ways[w].on), step ? ++pieces : 0);
        if (before == WH_NONE)
            b->on_first[p][w] = piece;
        else
            warm(b, before, piece, alone, within, wait);
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

static void add_check(struct wh_builder *b, size_t c)
{
    static const struct {
        enum wh_stage stage;
        double at;
    } where[] = {{WH_STAGE_BEFORE, WH_AT_RUNNING}, {WH_STAGE_DOWN, WH_AT_DOWN}, {WH_STAGE_BENCH, WH_AT_BENCH},
                 {WH_STAGE_UP, WH_AT_UP},          {WH_STAGE_RUN, WH_AT_TEST},  {WH_STAGE_LATER, WH_AT_LATER}};
    const struct wh_check *check = &b->machine->checks[c];
    struct wh_task task = check_task(c, where[check->phase].stage, check->of, where[check->phase].at + (double)c);
    const char *tool = check->tool               ? check->tool
                       : check->gauge != WH_NONE ? b->machine->gauges[check->gauge].title
                                                 : NULL;
    struct wh_set_up set_up = {tool, check->way_up, check->bench, check->crew, wh_build_trade(check->by)};
    if (check->power || check->phase == WH_PHASE_RUNNING) set_up.crew = b->fitters; /* all stand clear */
    b->check[c] = wh_build_task(b, task, wh_arena_print(b->arena, "check %s", check->id), check->minutes, set_up);
}

static size_t bench_mark(struct wh_builder *b, enum wh_task_is is, double natural, const char *name, double seconds)
{
    struct wh_task task = {
        .is = is, .stage = WH_STAGE_BENCH, .thing = WH_NONE, .check = WH_NONE, .hold = WH_NONE, .natural = natural};
    return wh_build_mark(b, task, name, seconds, true);
}

/* A part that goes back is washed: by itself where it says how long that takes, not at all where it takes nothing, else
 * with all others. */
static void add_washes(struct wh_builder *b)
{
    double seconds = b->sheet->value[wh_sheet_figure(b->sheet, 0, "washing")];
    if (b->so_far->again && b->so_far->washing > 0) seconds *= b->so_far->washing;
    size_t all = bench_mark(b, WH_TASK_WASH, WH_AT_WASH + 1, "wash", seconds / b->fitters);
    b->orders.at[all].crew = b->fitters; /* everybody washes */
    b->orders.at[all].wanted = false;
    for (size_t p = 0; p < b->machine->thing_count; p++) {
        const struct wh_thing *part = &b->machine->things[p];
        size_t wash = all;
        if (b->renewed[p] || part->section == WH_SECTION_FIXTURES || part->way_count == 0 || part->wash <= 0) continue;
        if (isfinite(part->wash)) {
            wash = bench_mark(b, WH_TASK_WASH, WH_AT_WASH + 2 + (double)p,
                              wh_arena_print(b->arena, "wash %s", part->id), part->wash);
            b->orders.at[wash].wanted = false;
            b->tasks.at[wash].thing = p;
        }
        for (size_t w = 0; w < 2; w++)
            if (b->off[p][w] != WH_NONE) wh_build_need(b, b->off[p][w], false, &wash, 1);
    }
}

static void *nones(struct wh_builder *b, size_t each)
{
    size_t n = each * (b->machine->thing_count + 1), *at = WH_NEW(b->arena, n, size_t);
    for (size_t i = 0; i < n; i++) at[i] = WH_NONE;
    return at;
}

static void add_all_tasks(struct wh_builder *b)
{
    const struct wh_machine *machine = b->machine;
    b->off = nones(b, 2), b->on_first = nones(b, 2), b->on_last = nones(b, 2);
    b->fixture_on = nones(b, WH_PLAN_PHASES), b->fixture_off = nones(b, WH_PLAN_PHASES);
    b->fixture_user = nones(b, WH_PLAN_PHASES);
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
        if (wh_build_drain_of(b, p) != WH_NONE) {
            struct wh_task fill = {.is = WH_TASK_FILL,
                                   .stage = WH_STAGE_UP,
                                   .thing = p,
                                   .check = WH_NONE,
                                   .hold = WH_NONE,
                                   .step_count = wh_kind_steps(part->kind),
                                   .natural = WH_AT_FILL};
            b->fill[p] = wh_build_task(b, fill, wh_arena_print(b->arena, "fill %s", part->id), 600,
                                       (struct wh_set_up){.crew = 1});
        }
    }
    for (size_t c = 0; c < machine->check_count; c++) add_check(b, c);
    b->down = bench_mark(b, WH_TASK_MARK, WH_AT_WASH, "all is down", 0);
    b->clean = bench_mark(b, WH_TASK_CLEAN, WH_AT_CLEAN, "clean", 600);
    b->orders.at[b->clean].crew = b->fitters; /* everybody changes gloves */
    add_washes(b);
}

enum wh_status wh_tasks_make(struct wh_arena *arena, const struct wh_job *job, struct wh_so_far *so_far,
                             struct wh_tasks **ret, struct wh_errors *reterr)
{
    const struct wh_plan_ask *ask = job->ask;
    struct wh_builder b = {.arena = arena,
                           .machine = job->machine,
                           .sheet = job->sheet,
                           .renewed = job->renewed,
                           .banned = job->banned,
                           .ask = ask,
                           .fitters = ask->fitters,
                           .most_nodes = ask->most_nodes,
                           .so_far = so_far};
    struct wh_order_problem dimensions;
    add_all_tasks(&b);
    wh_build_part_windows(&b);
    wh_build_bind(&b);
    wh_build_bind_disturbed(&b);
    wh_build_join(&b);
    enum wh_status status = wh_build_so_far(&b, job, reterr);
    if (status != WH_OK) return status;
    wh_build_dimensions(&b, &dimensions);
    *ret = wh_build_sorted(&b);
    memcpy((*ret)->problem.dimensions, dimensions.dimensions, sizeof dimensions.dimensions);
    return WH_OK;
}
