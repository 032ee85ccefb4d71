#include "order_roster.h"

#include <math.h>

static const double ROUNDING = 1e-6;

static const struct wh_order_step *step_of(const struct wh_order *order, size_t task)
{
    for (size_t i = 0; i < order->step_count; i++) {
        if (order->steps[i].task == task) return &order->steps[i];
    }
    return NULL;
}

/* Until when a step holds its fitter and what he holds in hand. */
static double holds_until(const struct wh_order_problem *p, const struct wh_order_step *step)
{
    return p->tasks[step->task].alone ? step->start : step->end;
}

static bool way_is_done(const struct wh_order *order, const struct wh_order_need *need, const struct wh_order_way *way)
{
    const struct wh_order_step *step = step_of(order, need->task);
    for (size_t k = 0; k < way->count; k++) {
        const struct wh_order_step *done = step_of(order, way->tasks[k]);
        if (!done || (need->before && done->end > step->start + ROUNDING)) return false;
    }
    return true;
}

static bool needs_are_met(const struct wh_order_problem *p, const struct wh_order *order)
{
    for (size_t t = 0; t < p->task_count; t++) {
        if (p->tasks[t].wanted && !step_of(order, t)) return false;
    }
    for (size_t i = 0; i < p->need_count; i++) {
        bool met = !step_of(order, p->needs[i].task);
        for (size_t w = 0; w < p->needs[i].way_count && !met; w++)
            met = way_is_done(order, &p->needs[i], &p->needs[i].ways[w]);
        if (!met) return false;
    }
    return true;
}

static bool waits_are_kept(const struct wh_order_problem *p, const struct wh_order *order)
{
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_step *first = step_of(order, p->links[i].first);
        const struct wh_order_step *after = step_of(order, p->links[i].after);
        if (!first || !after) continue;
        double wait = after->start - first->end;
        if (wait < p->links[i].least - ROUNDING || wait > p->links[i].most + ROUNDING) return false;
    }
    return true;
}

/* Nothing of the same fitter's between two joined steps. */
static bool joined_stay_together(const struct wh_order_problem *p, const struct wh_order *order)
{
    for (size_t i = 0; i < p->link_count; i++) {
        const struct wh_order_step *first = step_of(order, p->links[i].first);
        const struct wh_order_step *after = step_of(order, p->links[i].after);
        if (!p->links[i].joined || !first || !after) continue;
        if (first->fitter != after->fitter || after != first + 1) return false;
    }
    return true;
}

/* No use begins while another of the same thing goes on. */
static bool uses_do_not_meet(const struct wh_order_problem *p, const struct wh_order *order)
{
    for (size_t u = 0; u < p->use_count; u++) {
        const struct wh_order_step *from = step_of(order, p->uses[u].from), *to = step_of(order, p->uses[u].to);
        for (size_t k = 0; k < p->use_count; k++) {
            const struct wh_order_step *begins = step_of(order, p->uses[k].from);
            if (k == u || p->uses[k].thing != p->uses[u].thing || !from || !to || !begins || to < from) continue;
            if (step_of(order, p->uses[k].to) < begins || begins == from) continue;
            if (from->start < begins->start - ROUNDING && begins->start < to->start - ROUNDING) return false;
        }
    }
    return true;
}

static bool hands_are_enough(const struct wh_order_problem *p, const struct wh_order *order)
{
    for (size_t i = 0; i < order->step_count; i++) {
        int crew = 0;
        for (size_t j = 0; j < order->step_count; j++) {
            const struct wh_order_step *step = &order->steps[j];
            const struct wh_order_task *task = &p->tasks[step->task];
            bool at_work = step->start <= order->steps[i].start + ROUNDING &&
                           holds_until(p, step) > order->steps[i].start + ROUNDING;
            if (at_work) crew += task->crew < p->fitters ? task->crew : p->fitters;
        }
        if (crew > p->fitters) return false;
    }
    return true;
}

static double change(const struct wh_order_dimension *dimension, int from, int to)
{
    if (from == WH_ORDER_ANY || from == to) return 0;
    return dimension->cost[(size_t)from * dimension->values + (size_t)to];
}

/* Of a fitter's own steps each leaves time for what he has to change; where all share a value, of all steps. */
static bool changes_have_time(const struct wh_order_problem *p, const struct wh_order *order, int fitter)
{
    double now = 0;
    int held[WH_ORDER_DIMENSIONS];
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) held[d] = p->dimensions[d].start;
    for (size_t i = 0; i < order->step_count; i++) {
        const struct wh_order_step *step = &order->steps[i];
        double changes = 0;
        if (step->fitter != fitter) continue;
        for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
            int to = p->tasks[step->task].set_up[d];
            if (to == WH_ORDER_ANY || p->dimensions[d].shared) continue;
            changes += change(&p->dimensions[d], held[d], to);
            held[d] = to;
        }
        if (step->start < now + changes - ROUNDING) return false;
        now = holds_until(p, step);
    }
    return true;
}

static bool shared_are_apart(const struct wh_order_problem *p, const struct wh_order *order, size_t d)
{
    int held = p->dimensions[d].start;
    double used = 0;
    for (size_t i = 0; i < order->step_count; i++) {
        const struct wh_order_step *step = &order->steps[i];
        int to = p->tasks[step->task].set_up[d];
        if (to == WH_ORDER_ANY) continue;
        if (held != WH_ORDER_ANY && to != held && step->start < used + change(&p->dimensions[d], held, to) - ROUNDING)
            return false;
        held = to;
        used = fmax(used, holds_until(p, step));
    }
    return true;
}

const char *roster_broken(const struct wh_order_problem *p, const struct wh_order *order)
{
    if (!needs_are_met(p, order)) return "a need is not met";
    if (!waits_are_kept(p, order)) return "a wait is not kept";
    if (!joined_stay_together(p, order)) return "joined steps are parted";
    if (!uses_do_not_meet(p, order)) return "of what there is one of two uses meet";
    if (!hands_are_enough(p, order)) return "there are not hands enough";
    for (int f = 0; f < p->fitters; f++) {
        if (!changes_have_time(p, order, f)) return "a change of a fitter's set-up has no time";
    }
    for (size_t d = 0; d < WH_ORDER_DIMENSIONS; d++) {
        if (p->dimensions[d].shared && !shared_are_apart(p, order, d))
            return "a shared set-up is used in two ways at once";
    }
    return NULL;
}
