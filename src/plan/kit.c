/* What must lie on the bench before the first spanner: parts, consumables, tools, gauges, bags. */
#include "base/text.h"
#include "plan/tasks.h"

#include <math.h>
#include <string.h>

static bool listed(const char *const at[], size_t count, const char *text)
{
    for (size_t i = 0; i < count; i++)
        if (wh_same(at[i], text)) return true;
    return false;
}

static const char *detail_of(struct wh_arena *arena, const struct wh_machine *machine, size_t thing)
{
    const char *template = machine->things[thing].kind->detail;
    return template ? wh_words_fill(arena, machine, thing, template) : "";
}

static void list_parts(struct wh_arena *arena, struct wh_plan *plan)
{
    WH_LIST(struct wh_kit_item) parts = {0};
    for (size_t p = 0; p < plan->machine->thing_count; p++)
        if (plan->off[p] && plan->renewed[p])
            *WH_PUSH(arena, &parts) = (struct wh_kit_item){
                plan->machine->things[p].title, detail_of(arena, plan->machine, p), p, plan->asked[p] || plan->also[p]};
    plan->kit.parts = parts.at;
    plan->kit.part_count = parts.count;
}

/* "2 x 40 kN puller": where several fitters have it in hand at once. */
static const char *so_many(struct wh_arena *arena, const struct wh_plan *plan, const char *tool)
{
    size_t most = 1;
    for (size_t s = 0; s < plan->step_count; s++) {
        const struct wh_step *step = &plan->steps[s];
        size_t count = 1;
        bool warms = step->task->is == WH_TASK_ON && !step->task->last_piece;
        if (warms && wh_same(step->tool, tool)) return tool; /* of a heater there is one */
        for (size_t k = 0; k < s && wh_same(step->tool, tool); k++) {
            const struct wh_step *other = &plan->steps[k];
            count += wh_same(other->tool, tool) && other->fitter != step->fitter && other->end > step->start + 1;
        }
        most = count > most ? count : most;
    }
    return most > 1 ? wh_arena_print(arena, "%zu x %s", most, tool) : tool;
}

/* The torque wrench by what it is set to: least and most of all steps. NULL: none is. */
static const char *torque_wrench(struct wh_arena *arena, const struct wh_plan *plan)
{
    double least = INFINITY, most = 0;
    for (size_t s = 0; s < plan->step_count; s++)
        for (size_t f = 0; f < plan->steps[s].figure_count; f++) {
            const struct wh_step_figure *figure = &plan->steps[s].figures[f];
            double torque = figure->cell == WH_NONE ? NAN : plan->sheet->value[figure->cell];
            if (!wh_same(figure->figure, "wrench-setting") || !(torque > 0)) continue;
            least = fmin(least, torque), most = fmax(most, torque);
        }
    if (!(most > 0)) return NULL;
    return least < most ? wh_arena_print(arena, "torque wrench, %g to %g N m", least, most)
                        : wh_arena_print(arena, "torque wrench, %g N m", most);
}

static void list_from_steps(struct wh_arena *arena, struct wh_plan *plan)
{
    const char *wrench = torque_wrench(arena, plan);
    WH_LIST(struct wh_consumable) consumables = {0};
    WH_LIST(const char *) tools = {0}, gauges = {0}, texts = {0};
    for (size_t s = 0; s < plan->step_count; s++) {
        const struct wh_step *step = &plan->steps[s];
        bool check = step->task->is == WH_TASK_CHECK;
        size_t gauge = check ? plan->machine->checks[step->task->check].gauge : WH_NONE;
        const char *measure = gauge == WH_NONE ? NULL : plan->machine->gauges[gauge].title;
        bool told = wrench && wh_same(step->tool, "torque wrench");
        if (step->tool && !told && !wh_same(step->tool, measure) && !listed(tools.at, tools.count, step->tool))
            *WH_PUSH(arena, &tools) = step->tool;
        if (measure && !listed(gauges.at, gauges.count, measure)) *WH_PUSH(arena, &gauges) = measure;
        for (size_t i = 0; i < step->needs.count; i++) {
            if (listed(texts.at, texts.count, step->needs.at[i])) continue;
            *WH_PUSH(arena, &texts) = step->needs.at[i];
            *WH_PUSH(arena, &consumables) = (struct wh_consumable){step->needs.at[i], WH_NONE};
        }
        if (step->task->is == WH_TASK_FILL) {
            size_t cell = wh_sheet_figure(plan->sheet, step->task->thing, "purchase");
            const char *oil = wh_words_fill(arena, plan->machine, step->task->thing, "oil {oil} for the {title}");
            if (cell != WH_NONE && !(plan->sheet->value[cell] > 0)) cell = WH_NONE; /* its pot is not described */
            *WH_PUSH(arena, &consumables) = (struct wh_consumable){oil, cell};
        }
    }
    for (size_t i = 0; i < tools.count; i++) tools.at[i] = so_many(arena, plan, tools.at[i]);
    for (size_t i = 0; i < gauges.count; i++) gauges.at[i] = so_many(arena, plan, gauges.at[i]);
    if (wrench) *WH_PUSH(arena, &tools) = wrench;
    plan->kit.consumables = consumables.at, plan->kit.consumable_count = consumables.count;
    plan->kit.tools = (struct wh_words){tools.at, tools.count};
    plan->kit.gauges = (struct wh_words){gauges.at, gauges.count};
}

/* A bag for each ring of screws whose part comes off, in the order in which they come. */
static void list_tags(struct wh_arena *arena, struct wh_plan *plan)
{
    WH_LIST(struct wh_kit_item) tags = {0};
    for (size_t i = 0; i < plan->step_count; i++) {
        const struct wh_step *step = &plan->steps[i];
        for (size_t s = 0; s < plan->machine->thing_count && step->task->is == WH_TASK_OFF; s++) {
            if (!plan->machine->things[s].kind->fastens) continue;
            size_t held = wh_thing_role(plan->machine, s, "holds");
            bool stay_in = wh_same(wh_thing_words(&plan->machine->things[s], "stay-in"), "yes");
            bool own_step = plan->machine->things[s].way_count > 0 && !stay_in;
            if (step->task->thing == (own_step ? s : held))
                *WH_PUSH(arena, &tags) = (struct wh_kit_item){plan->machine->things[held].title,
                                                              detail_of(arena, plan->machine, s), s, false};
        }
    }
    plan->kit.tags = tags.at;
    plan->kit.tag_count = tags.count;
}

void wh_plan_kit(struct wh_arena *arena, struct wh_plan *plan)
{
    list_parts(arena, plan);
    list_from_steps(arena, plan);
    list_tags(arena, plan);
}
