/* Makes the steps of a plan from the found order: words, figures, cautions, what is needed. */
#include "base/text.h"
#include "plan/builder.h"

#include <math.h>
#include <string.h>

struct writer {
    struct wh_arena *arena;
    struct wh_plan *plan;
    const struct wh_machine *machine;
    bool ahead;         /* the step is still to be done */
    const bool *is_off; /* by thing, before the step */
    WH_LIST(const char *) lines;
    WH_LIST(const char *) needs;
    WH_LIST(struct wh_step_figure) figures;
    WH_LIST(struct wh_step_caution) cautions;
};

/* A capital at the start of what people wrote, and an end to the sentence. */
static const char *sentence(struct wh_arena *arena, const char *text, const char *end)
{
    size_t n = strlen(text);
    char *whole = wh_arena_print(arena, "%s%s", text, n > 0 && strchr(".!?:", text[n - 1]) ? "" : end);
    if (whole[0] >= 'a' && whole[0] <= 'z') whole[0] = (char)(whole[0] - 'a' + 'A');
    return whole;
}

static void add_line(struct writer *writer, const char *line)
{
    *WH_PUSH(writer->arena, &writer->lines) = sentence(writer->arena, line, ".");
}

/* "mounting-temperature", or "most mounting-temperature" where the careful end is what the step goes by. */
static void add_figure(struct writer *writer, size_t thing, const char *figure)
{
    enum wh_end end;
    figure = wh_sheet_end(figure, &end);
    for (size_t i = 0; i < writer->figures.count; i++)
        if (writer->figures.at[i].thing == thing && wh_same(writer->figures.at[i].figure, figure)) return;
    *WH_PUSH(writer->arena, &writer->figures) =
        (struct wh_step_figure){wh_sheet_figure(writer->plan->sheet, thing, figure), thing, figure, end};
}

static void add_caution(struct writer *writer, const char *signal, const char *sign, const char *text)
{
    text = sentence(writer->arena, text, ".");
    for (size_t i = 0; i < writer->cautions.count; i++)
        if (wh_same(writer->cautions.at[i].text, text)) return;
    *WH_PUSH(writer->arena, &writer->cautions) = (struct wh_step_caution){signal, sign, text};
}

/* A hand-written caution stands as it was written; "hot: …" names one of the drawn signs first. */
static void add_written_cautions(struct writer *writer, struct wh_words written)
{
    static const char *const signs[] = {"lock-out",     "hot", "crush",  "electricity", "rotating",
                                        "hanging-load", "eye", "gloves", "manual"};
    for (size_t i = 0; i < written.count; i++) {
        const char *colon = strstr(written.at[i], ": "), *sign = "";
        for (size_t s = 0; colon && s < sizeof signs / sizeof *signs; s++)
            if (strlen(signs[s]) == (size_t)(colon - written.at[i]) && wh_starts(written.at[i], signs[s]))
                sign = signs[s];
        add_caution(writer, *sign ? "warning" : "caution", sign, *sign ? colon + 2 : written.at[i]);
    }
}

static void add_lines(struct writer *writer, struct wh_words lines)
{
    for (size_t i = 0; i < lines.count; i++) add_line(writer, lines.at[i]);
}

static void add_kind_step(struct writer *writer, size_t thing, const struct wh_kind_step *step)
{
    add_line(writer, wh_words_fill(writer->arena, writer->machine, thing, step->words));
    for (size_t f = 0; f < WH_STEP_FIGURES && step->figures[f]; f++) add_figure(writer, thing, step->figures[f]);
    for (size_t c = 0; c < WH_STEP_CAUTIONS && step->cautions[c]; c++) {
        const struct wh_caution *caution = wh_caution_find(step->cautions[c]);
        if (caution) add_caution(writer, caution->signal, caution->sign, caution->text);
    }
    if (step->consumable)
        *WH_PUSH(writer->arena, &writer->needs) =
            wh_words_fill(writer->arena, writer->machine, thing, step->consumable);
}

static void add_kind_steps(struct writer *writer, size_t thing, enum wh_when when, size_t from, size_t count)
{
    const struct wh_thing *t = &writer->machine->things[thing];
    size_t end = from + count < wh_kind_steps(t->kind) ? from + count : wh_kind_steps(t->kind);
    for (size_t s = from; s < end; s++)
        if (t->kind->steps[s].when == when && wh_step_stands(t, &t->kind->steps[s], writer->plan->renewed[thing]))
            add_kind_step(writer, thing, &t->kind->steps[s]);
}

/* The rings of screws that hold a part and are no step of their own. */
static void add_screws(struct writer *writer, size_t part, enum wh_when when)
{
    for (size_t s = 0; s < writer->machine->thing_count; s++)
        if (writer->machine->things[s].kind->fastens && writer->machine->things[s].way_count == 0 &&
            wh_thing_role(writer->machine, s, "holds") == part)
            add_kind_steps(writer, s, when, 0, WH_KIND_STEPS);
}

/* The last of the kind's steps on the way in is the parting: what is made ready stands before it. */
static size_t parting(const struct writer *writer, size_t thing)
{
    const struct wh_thing *t = &writer->machine->things[thing];
    size_t last = 0;
    for (size_t s = 0; s < wh_kind_steps(t->kind); s++)
        if (t->kind->steps[s].when == WH_WHEN_STRIP &&
            wh_step_stands(t, &t->kind->steps[s], writer->plan->renewed[thing]))
            last = s;
    return last;
}

static void write_off(struct writer *writer, const struct wh_task *task)
{
    const struct wh_thing *part = &writer->machine->things[task->thing];
    size_t last = parting(writer, task->thing);
    add_kind_steps(writer, task->thing, WH_WHEN_STRIP, 0, last);
    add_screws(writer, task->thing, WH_WHEN_STRIP);
    add_lines(writer, part->off_words);
    add_kind_steps(writer, task->thing, WH_WHEN_STRIP, last, WH_KIND_STEPS);
    add_written_cautions(writer, part->off_cautions);
    struct wh_text with = {.arena = writer->arena};
    for (size_t i = 0; i < part->carries.count; i++)
        if (!writer->is_off[part->carries.at[i]])
            wh_text_print(&with, "%s%s", with.count ? ", " : "", writer->machine->things[part->carries.at[i]].title);
    if (with.count > 0) add_line(writer, wh_arena_print(writer->arena, "Still on it: %s.", wh_text_of(&with)));
}

/* Do the kind's own words say which way round it goes? */
static bool says_round(const struct wh_kind *kind)
{
    for (size_t s = 0; s < wh_kind_steps(kind); s++)
        if (strstr(kind->steps[s].words, "{round}")) return true;
    return false;
}

static void write_on(struct writer *writer, const struct wh_task *task)
{
    const struct wh_thing *part = &writer->machine->things[task->thing];
    add_kind_steps(writer, task->thing, WH_WHEN_REBUILD, task->first_step, task->step_count);
    if (!task->last_piece) return;
    if (task->for_a_while) add_line(writer, "It comes off again after: no new seal or gasket is spent on it.");
    if (part->round && !says_round(part->kind))
        add_line(writer, wh_arena_print(writer->arena, "Way round: %s.", part->round));
    add_lines(writer, part->on_words);
    add_screws(writer, task->thing, WH_WHEN_REBUILD);
    add_written_cautions(writer, part->on_cautions);
    for (size_t i = 0; i < part->needs.count; i++) *WH_PUSH(writer->arena, &writer->needs) = part->needs.at[i];
}

static void write_check(struct writer *writer, const struct wh_check *check)
{
    if (check->reads) add_line(writer, check->reads);
    if (check->outside) add_line(writer, wh_arena_print(writer->arena, "Outside: %s.", check->outside));
    add_written_cautions(writer, check->cautions);
}

static void write_wash(struct writer *writer, size_t thing)
{
    struct wh_text kept = {.arena = writer->arena};
    for (size_t p = 0; p < writer->machine->thing_count; p++) {
        const struct wh_thing *part = &writer->machine->things[p];
        bool now = thing == WH_NONE ? !isfinite(part->wash) : p == thing;
        if (now && writer->plan->off[p] && !writer->plan->renewed[p] && !(writer->ahead && writer->plan->washed[p]))
            wh_text_print(&kept, "%s%s", kept.count ? ", " : "", part->title);
    }
    if (thing == WH_NONE) add_line(writer, "As-found readings and photos of both sides are taken before this.");
    add_line(writer, wh_arena_print(writer->arena, "Wash and wipe: %s.", wh_text_of(&kept)));
    if (thing != WH_NONE) return;
    add_line(
        writer,
        "A cleaner for each material: no chlorine on stainless steel, no mineral oil on EPDM, soap water on rubber.");
}

static const char *what_of(struct writer *writer, const struct wh_task *task)
{
    const char *title = task->thing == WH_NONE ? "" : writer->machine->things[task->thing].title;
    const struct wh_kind *kind = task->thing == WH_NONE ? NULL : writer->machine->things[task->thing].kind;
    const char *off = kind && kind->off_verb ? kind->off_verb : "take off";
    const char *on = kind && kind->on_verb ? kind->on_verb : "fit";
    switch (task->is) {
    case WH_TASK_CHECK: return writer->machine->checks[task->check].title;
    case WH_TASK_HOLD: return writer->machine->holds[task->hold].title;
    case WH_TASK_OFF: return wh_arena_print(writer->arena, "%s the %s", off, title);
    case WH_TASK_WASH: return *title ? wh_arena_print(writer->arena, "Wash the %s", title) : "Wash";
    case WH_TASK_CLEAN: return "Dirty work ends";
    case WH_TASK_ON:
        if (task->for_fixture > 0)
            return wh_arena_print(writer->arena, "%s the %s for the %s", on, title,
                                  writer->machine->things[task->for_fixture].title);
        return wh_arena_print(writer->arena, "%s the %s", task->last_piece ? on : "warm", title);
    case WH_TASK_FIXTURE_ON: return wh_arena_print(writer->arena, "Set the %s", title);
    case WH_TASK_FIXTURE_OFF: return wh_arena_print(writer->arena, "Take away the %s", title);
    case WH_TASK_FILL: return wh_arena_print(writer->arena, "Fill the %s", title);
    case WH_TASK_ISOLATE: return "Isolate again";
    case WH_TASK_WHOLE: return "Everything is back";
    case WH_TASK_MARK: break;
    }
    return "";
}

static void write_task(struct writer *writer, const struct wh_task *task)
{
    switch (task->is) {
    case WH_TASK_CHECK: write_check(writer, &writer->machine->checks[task->check]); break;
    case WH_TASK_HOLD:
        add_line(writer, writer->machine->holds[task->hold].text);
        add_written_cautions(writer, writer->machine->holds[task->hold].cautions);
        break;
    case WH_TASK_OFF: write_off(writer, task); break;
    case WH_TASK_WASH: write_wash(writer, task->thing); break;
    case WH_TASK_CLEAN: add_line(writer, "Wipe the bench, change gloves; only then is a new part unwrapped."); break;
    case WH_TASK_ON: write_on(writer, task); break;
    case WH_TASK_FIXTURE_ON:
        add_kind_steps(writer, task->thing, WH_WHEN_REBUILD, 0, WH_KIND_STEPS);
        add_lines(writer, writer->machine->things[task->thing].on_words);
        add_written_cautions(writer, writer->machine->things[task->thing].on_cautions);
        break;
    case WH_TASK_FIXTURE_OFF:
        add_lines(writer, writer->machine->things[task->thing].off_words);
        add_kind_steps(writer, task->thing, WH_WHEN_STRIP, 0, WH_KIND_STEPS);
        add_written_cautions(writer, writer->machine->things[task->thing].off_cautions);
        break;
    case WH_TASK_FILL: add_kind_steps(writer, task->thing, WH_WHEN_REBUILD, 0, WH_KIND_STEPS); break;
    case WH_TASK_MARK: break;
    case WH_TASK_WHOLE:
        add_line(writer, "Count tools, rags and fixtures: nothing is missing, nothing is left over.");
        break;
    case WH_TASK_ISOLATE:
        add_line(writer, "Power was on: every energy is switched off, locked by each fitter and tried again.");
        add_caution(writer, "warning", "lock-out",
                    "The isolation lapsed with the power; it is made again, line by line.");
        break;
    }
}

static void publish(const struct writer *writer, struct wh_step *step)
{
    step->lines = (struct wh_words){writer->lines.at, writer->lines.count};
    step->needs = (struct wh_words){writer->needs.at, writer->needs.count};
    step->figures = writer->figures.at;
    step->figure_count = writer->figures.count;
    step->cautions = writer->cautions.at;
    step->caution_count = writer->cautions.count;
}

/* The words of a placed step. */
static void write_step(struct wh_arena *arena, struct wh_plan *plan, struct wh_step *step, const bool is_off[])
{
    struct writer writer = {.arena = arena,
                            .plan = plan,
                            .machine = plan->machine,
                            .ahead = step->number > plan->done_count,
                            .is_off = is_off};
    step->what = sentence(arena, what_of(&writer, step->task), "");
    if (step->turned_to != WH_NONE) add_written_cautions(&writer, plan->machine->ways_up[step->turned].cautions);
    write_task(&writer, step->task);
    publish(&writer, step);
}

static int crew_of(const struct wh_machine *machine, const struct wh_task *task)
{
    if (task->is == WH_TASK_CHECK) return machine->checks[task->check].crew;
    bool part = task->is == WH_TASK_OFF || task->is == WH_TASK_ON;
    bool fixture = task->is == WH_TASK_FIXTURE_ON || task->is == WH_TASK_FIXTURE_OFF;
    return part      ? machine->things[task->thing].ways[task->way].crew
           : fixture ? machine->things[task->thing].ways[0].crew
                     : 1;
}

/* The checks of a later visit that what was off asks for. */
static size_t add_later(struct wh_arena *arena, struct wh_plan *plan, struct wh_step *steps, size_t count)
{
    for (size_t c = 0; c < plan->machine->check_count; c++) {
        const struct wh_check *check = &plan->machine->checks[c];
        bool asked = check->needed_when.count == 0;
        for (size_t e = 0; e < check->needed_when.count; e++)
            asked |= check->needed_when.at[e].is <= WH_EVENT_ON && plan->off[check->needed_when.at[e].index];
        if (check->phase != WH_PHASE_LATER || !asked) continue;
        struct wh_task *task = WH_NEW(arena, 1, struct wh_task);
        *task = (struct wh_task){.id = wh_arena_print(arena, "check %s", check->id),
                                 .is = WH_TASK_CHECK,
                                 .stage = WH_STAGE_LATER,
                                 .thing = check->of,
                                 .check = c,
                                 .hold = WH_NONE};
        steps[count] = (struct wh_step){.task = task,
                                        .number = count + 1,
                                        .turned_to = WH_NONE,
                                        .way_up = WH_NONE,
                                        .crew = 1,
                                        .start = plan->total,
                                        .end = plan->total + check->minutes};
        write_step(arena, plan, &steps[count], NULL);
        count++;
    }
    return count;
}

/* Says of each step that had to wait what for. */
static void explain_waits(struct wh_arena *arena, const struct wh_tasks *tasks, const struct wh_order *order,
                          struct wh_step *const step_of[])
{
    double *end = WH_NEW(arena, tasks->count + 1, double);
    const char **what = WH_NEW(arena, tasks->count + 1, const char *);
    for (size_t t = 0; t < tasks->count; t++) end[t] = NAN;
    for (size_t i = 0; i < order->step_count; i++) {
        size_t task = order->steps[i].task;
        end[task] = order->steps[i].end;
        if (step_of[task]) what[task] = step_of[task]->what;
    }
    for (size_t i = 0; i < order->step_count; i++) {
        size_t task = order->steps[i].task;
        if (step_of[task] && step_of[task]->waited > 0)
            step_of[task]->wait_because = wh_plan_wait_because(arena, tasks, task, order->steps[i].start, end, what);
    }
}

/* What holds from step to step: how the machine stands, and who was called by each fitter. */
struct standing {
    size_t way_up;
    int trade[4];
};

static void place_step(struct wh_step *step, const struct wh_machine *machine, const struct wh_order_step *found,
                       const struct wh_tasks *tasks, struct standing *standing)
{
    const struct wh_order_task *task = &tasks->problem.tasks[found->task];
    int way_up = task->set_up[WH_PLAN_WAY_UP], trade = task->set_up[WH_PLAN_TRADE],
        *called = &standing->trade[found->fitter];
    step->start = found->start * 60, step->end = found->end * 60;
    step->fitter = found->fitter;
    step->together = tasks->problem.fitters > 1 && task->crew >= tasks->problem.fitters;
    step->waited = found->waited < 0.01 ? 0 : found->waited * 60; /* less is the last bit of a sum */
    step->bench = task->set_up[WH_PLAN_PLACE] == WH_PLAN_ON_BENCH;
    step->tool = task->set_up[WH_PLAN_TOOL] > 0 ? tasks->tools[task->set_up[WH_PLAN_TOOL]] : NULL;
    if (trade > 0) step->by = machine->trades[trade - 1].title;
    if (trade > 0 && trade != *called) step->call = machine->trades[trade - 1].call;
    if (trade != WH_ORDER_ANY) *called = trade;
    if (way_up < 0) return;
    step->way_up = (size_t)way_up;
    if (step->way_up == standing->way_up) return;
    step->turned = step->way_up > 0 ? step->way_up : standing->way_up;
    step->turned_to = standing->way_up = step->way_up;
}

/* Of several fitters the steps stand as they begin, after those that are done. */
static const struct wh_order_step **by_beginning(struct wh_arena *arena, const struct wh_tasks *tasks,
                                                 const struct wh_order *order)
{
    const struct wh_order_step **steps = WH_NEW(arena, order->step_count + 1, const struct wh_order_step *);
    for (size_t i = 0; i < order->step_count; i++) {
        size_t to = i;
        while (to > tasks->problem.done_count && steps[to - 1]->start > order->steps[i].start) {
            steps[to] = steps[to - 1];
            to--;
        }
        steps[to] = &order->steps[i];
    }
    return steps;
}

void wh_plan_steps(struct wh_arena *arena, struct wh_plan *plan, const struct wh_tasks *tasks,
                   const struct wh_order *order)
{
    struct wh_step *steps = WH_NEW(arena, order->step_count + plan->machine->check_count + 1, struct wh_step);
    struct wh_step **step_of = WH_NEW(arena, tasks->count + 1, struct wh_step *);
    const struct wh_order_step **found_steps = by_beginning(arena, tasks, order);
    bool *is_off = WH_NEW(arena, plan->machine->thing_count, bool);
    struct standing standing = {0};
    size_t count = 0;
    for (size_t i = 0; i < order->step_count; i++) {
        const struct wh_order_step *found = found_steps[i];
        const struct wh_task *task = &tasks->tasks[found->task];
        if (task->is == WH_TASK_MARK) continue;
        struct wh_step *step = step_of[found->task] = &steps[count++];
        *step = (struct wh_step){.task = task, .number = count, .turned_to = WH_NONE, .way_up = WH_NONE};
        step->crew = crew_of(plan->machine, task);
        place_step(step, plan->machine, found, tasks, &standing);
        write_step(arena, plan, step, is_off);
        if (task->is == WH_TASK_OFF) is_off[task->thing] = true;
        if (task->is == WH_TASK_ON && task->last_piece) is_off[task->thing] = false;
    }
    explain_waits(arena, tasks, order, step_of);
    plan->steps = steps;
    plan->step_count = add_later(arena, plan, steps, count);
}
