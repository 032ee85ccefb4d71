/* Plans of random machines: what holds for every one of them, and for every plan made anew from any prefix.
 *
 * plan [SEED [CASES]] prints one TAP line a property; a failing case is named by its seed. */
#include "plan/plan.h"
#include "plan_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NODES = 300, MEMORY = 256 << 20 };

struct trial {
    struct wh_arena *arena;
    struct sample sample;
    uint64_t seed;
    struct wh_machine *machine;
    struct wh_indices renew;
    struct wh_sheet *sheet;
    const char *fault;
};

static struct wh_plan *plan_of(struct trial *t, struct sample_guise guise, const struct wh_plan_ask *ask)
{
    struct wh_errors errors = wh_errors_in(t->arena);
    const char *text = sample_text(t->arena, &t->sample, guise);
    struct wh_plan *plan = NULL;
    enum wh_status status = wh_machine_read_text(t->arena, "sample.yaml", text, strlen(text), &t->machine, &errors);
    if (status == WH_OK) status = wh_sheet_make(t->arena, t->machine, NULL, 0, &t->sheet, &errors);
    if (status == WH_OK)
        status =
            wh_plan_parts(t->arena, t->machine, sample_renew(t->arena, &t->sample, guise.prefix), &t->renew, &errors);
    if (status == WH_OK)
        status = wh_plan_make(t->arena, t->machine, t->sheet, t->renew.at, t->renew.count, ask, &plan, &errors);
    if (status != WH_OK && !strstr(wh_errors_text(t->arena, &errors), "no order"))
        t->fault = wh_errors_text(t->arena, &errors);
    return status == WH_OK ? plan : NULL;
}

static struct wh_words ids_of(struct wh_arena *arena, const struct wh_plan *plan, size_t from, size_t to)
{
    struct wh_words ids = {WH_NEW(arena, plan->step_count + 1, const char *), 0};
    for (size_t s = from; s < to; s++) ids.at[ids.count++] = plan->steps[s].task->id;
    return ids;
}

static const char *line_of(struct wh_arena *arena, struct wh_words ids)
{
    struct wh_text text = {.arena = arena};
    for (size_t i = 0; i < ids.count; i++) wh_text_print(&text, "%s%s", i ? "; " : "", ids.at[i]);
    return wh_text_of(&text);
}

/* ---- a fitter who does what stands there ---------------------------------------------------------------------- */

struct floor {
    const struct wh_plan *plan;
    const struct wh_machine *machine;
    bool *off, *stands, *warm;
    bool *stood;  /* fixtures that stood when the job was planned anew */
    bool *before; /* [part * things + thing]: was off when the part came off */
    double *warm_end;
    bool dirty;
    int cycles;
};

static bool is_met(const struct floor *f, const struct wh_indices *any)
{
    bool met = any->count == 0;
    for (size_t i = 0; i < any->count; i++) met |= f->off[any->at[i]] || f->stands[any->at[i]];
    return met;
}

/* What a fixture stands on is on meanwhile, unless the plan says that no order lets it be. */
static const char *stand(const struct floor *f)
{
    for (size_t i = 0; i < f->plan->notes.count; i++)
        if (strstr(f->plan->notes.at[i], "see first how that goes on again")) return NULL;
    for (size_t t = 0; t < f->machine->thing_count; t++) {
        const struct wh_thing *fixture = &f->machine->things[t];
        for (size_t i = 0; i < fixture->stands_on.count && f->stands[t]; i++)
            if (f->off[fixture->stands_on.at[i]] && !f->stood[t]) return "a fixture has lost what it stands on";
    }
    return NULL;
}

static const char *take_off(struct floor *f, const struct wh_task *task)
{
    const struct wh_way *way = &f->machine->things[task->thing].ways[task->way];
    if (f->off[task->thing]) return "it is off already";
    for (size_t i = 0; i < way->off_first.count; i++)
        if (!is_met(f, &way->off_first.at[i])) return "something is still in its way";
    for (size_t i = 0; i < way->with.count; i++)
        if (!f->stands[way->with.at[i]]) return "its fixture does not stand";
    for (size_t i = 0; i < way->off_first.count; i++)
        for (size_t j = 0; j < way->off_first.at[i].count; j++) {
            size_t first = way->off_first.at[i].at[j];
            f->before[task->thing * f->machine->thing_count + first] = f->off[first];
        }
    f->off[task->thing] = true, f->dirty = true;
    return NULL;
}

static const char *fit(struct floor *f, const struct wh_step *step)
{
    const struct wh_task *task = step->task;
    const struct wh_thing *thing = &f->machine->things[task->thing];
    const struct wh_way *way = &thing->ways[task->way];
    if (!f->off[task->thing]) return "it is on already";
    if (f->dirty && task->for_fixture == 0) return "dirty work has not ended";
    for (size_t i = 0; i < way->off_first.count; i++)
        for (size_t j = 0; j < way->off_first.at[i].count; j++)
            if (f->before[task->thing * f->machine->thing_count + way->off_first.at[i].at[j]] &&
                !f->off[way->off_first.at[i].at[j]])
                return "what goes on after it is on already";
    if (!task->last_piece) {
        f->warm[task->thing] = true, f->warm_end[task->thing] = step->end;
        return NULL;
    }
    for (size_t i = 0; i < way->with.count; i++)
        if (!f->stands[way->with.at[i]]) return "its fixture does not stand";
    for (size_t s = 0; s < wh_kind_steps(thing->kind) && f->warm[task->thing]; s++) {
        const struct wh_kind_step *kind = &thing->kind->steps[s];
        double waited = step->start - f->warm_end[task->thing];
        if (step->number <= f->plan->done_count) continue; /* what is done has no times of its own */
        if (kind->alone <= 0 || !(kind->only == WH_ALWAYS || kind->only == WH_ONLY_WARM)) continue;
        if (waited < kind->alone * 60 - 1e-3) return "it is not warm yet";
        if (kind->within > 0 && waited > (kind->alone + kind->within) * 60 + 1e-3) return "it is cold again";
    }
    f->off[task->thing] = false;
    return NULL;
}

static bool warned(const struct wh_step *step, const char *words)
{
    for (size_t i = 0; i < step->caution_count; i++)
        if (strstr(step->cautions[i].text, words)) return true;
    return false;
}

static const char *do_step(struct floor *f, const struct wh_step *step)
{
    const struct wh_task *task = step->task;
    if (step->turned_to != WH_NONE && f->machine->way_up_count > 1) {
        const struct wh_conditions *off = &f->machine->ways_up[1].off;
        for (size_t i = 0; i < off->count; i++)
            if (!is_met(f, &off->at[i])) return "the machine is turned with a part on that must be off";
    }
    switch (task->is) {
    case WH_TASK_OFF:
        if (f->machine->things[task->thing].off_cautions.count > 0 && !warned(step, "Mind the edge"))
            return "its caution is missing";
        return take_off(f, task);
    case WH_TASK_ON:
        if (task->last_piece && f->machine->things[task->thing].on_cautions.count > 0 &&
            !warned(step, "Mind the other edge"))
            return "its caution is missing";
        return fit(f, step);
    case WH_TASK_FIXTURE_ON:
        if (f->stands[task->thing]) return "it stands already";
        f->stands[task->thing] = true;
        f->stood[task->thing] = step->number <= f->plan->done_count;
        return NULL;
    case WH_TASK_FIXTURE_OFF:
        if (!f->stands[task->thing]) return "it does not stand";
        f->stands[task->thing] = false;
        return NULL;
    case WH_TASK_CLEAN: f->dirty = false; return NULL;
    case WH_TASK_HOLD: f->cycles++; return NULL;
    default: return NULL;
    }
}

/* What is wrong with a plan for somebody who works it off line by line; NULL: nothing. */
static const char *work_off(struct wh_arena *arena, const struct wh_plan *plan)
{
    size_t n = plan->machine->thing_count;
    struct floor f = {plan,
                      plan->machine,
                      WH_NEW(arena, n, bool),
                      WH_NEW(arena, n, bool),
                      WH_NEW(arena, n, bool),
                      WH_NEW(arena, n, bool),
                      WH_NEW(arena, n * n, bool),
                      WH_NEW(arena, n, double),
                      false,
                      0};
    const struct wh_step **steps = WH_NEW(arena, plan->step_count + 1, const struct wh_step *);
    for (size_t s = 0; s < plan->step_count; s++) {
        steps[s] = &plan->steps[s];
        const char *fault = do_step(&f, steps[s]);
        if (!fault) fault = stand(&f);
        if (fault)
            return wh_arena_print(arena, "%s: %s: %s", steps[s]->task->id, fault,
                                  line_of(arena, ids_of(arena, plan, 0, plan->step_count)));
    }
    for (size_t t = 0; t < n; t++)
        if (f.off[t] || f.stands[t]) return wh_arena_print(arena, "%s is not back", plan->machine->things[t].id);
    return f.cycles >= 2 ? NULL : "a hold is missing";
}

/* ---- properties ----------------------------------------------------------------------------------------------- */

static const char *works(struct trial *t)
{
    struct wh_plan_ask ask = {.fitters = 1, .most_nodes = NODES};
    struct wh_plan *plan = plan_of(t, (struct sample_guise){.prefix = ""}, &ask);
    return plan ? work_off(t->arena, plan) : t->fault;
}

/* Several fitters: by the time at which each step begins, ends before beginnings. */
static const char *works_for_several(struct trial *t)
{
    struct wh_plan_ask ask = {.fitters = 2 + (int)(t->seed % 3), .most_nodes = NODES};
    struct wh_plan *plan = plan_of(t, (struct sample_guise){.prefix = ""}, &ask);
    return plan ? work_off(t->arena, plan) : t->fault;
}

static const char *same_guise(struct trial *t, struct sample_guise guise)
{
    struct wh_plan_ask ask = {.fitters = 1, .most_nodes = NODES};
    struct wh_plan *one = plan_of(t, (struct sample_guise){.prefix = ""}, &ask);
    struct wh_plan *other = plan_of(t, guise, &ask);
    if (!one || !other) return one || other ? "only one of the two has a plan" : t->fault;
    if (one->step_count != other->step_count) return "it has other steps";
    for (size_t s = 0; s < one->step_count; s++) {
        const char *id = one->steps[s].task->id, *found = other->steps[s].task->id, *at = strstr(found, guise.prefix);
        if (at && *guise.prefix)
            found = wh_arena_print(t->arena, "%.*s%s", (int)(at - found), found, at + strlen(guise.prefix));
        if (!wh_same(id, found)) return wh_arena_print(t->arena, "\"%s\" stands for \"%s\"", found, id);
        if (fabs(one->steps[s].start - other->steps[s].start) > 1e-6) return "it has other times";
    }
    return NULL;
}

static const char *renamed(struct trial *t)
{
    return same_guise(t, (struct sample_guise){.prefix = "zz-"});
}

static const char *keys_shuffled(struct trial *t)
{
    return same_guise(t, (struct sample_guise){.prefix = "", .keys = t->seed + 1});
}

static const char *parts_shuffled(struct trial *t)
{
    struct wh_plan_ask ask = {.fitters = 1, .most_nodes = NODES};
    struct wh_plan *one = plan_of(t, (struct sample_guise){.prefix = ""}, &ask);
    struct wh_plan *other = plan_of(t, (struct sample_guise){.prefix = "", .order = t->seed + 1}, &ask);
    if (!one || !other) return one || other ? "only one of the two has a plan" : t->fault;
    const char *fault = work_off(t->arena, other);
    if (fault) return fault;
    if (!one->proven || !other->proven) return NULL;
    if (fabs(one->least_total - other->least_total) > 1) return "another order is the quickest";
    return fabs(one->total - other->total) > WH_PLAN_KEEP + 1 ? "it differs by more than five minutes" : NULL;
}

static const char *same_prefix(const struct wh_plan *plan, const struct wh_plan *anew, size_t k)
{
    if (anew->done_count != k) return "not all that is done stands there as done";
    for (size_t s = 0; s < k; s++)
        if (!wh_same(plan->steps[s].task->id, anew->steps[s].task->id)) return "what is done was changed";
    return NULL;
}

static struct wh_plan *plan_anew(struct trial *t, const struct wh_plan *plan, size_t k, struct wh_indices also)
{
    struct wh_plan_ask ask = {.fitters = 1,
                              .most_nodes = NODES,
                              .also = also,
                              .done = ids_of(t->arena, plan, 0, k),
                              .ahead = ids_of(t->arena, plan, k, plan->step_count)};
    return plan_of(t, (struct sample_guise){.prefix = ""}, &ask);
}

static const char *prefix_kept(struct trial *t)
{
    struct wh_plan_ask ask = {.fitters = 1, .most_nodes = NODES};
    uint64_t seed = t->seed + 7;
    struct wh_plan *plan = plan_of(t, (struct sample_guise){.prefix = ""}, &ask);
    if (!plan) return t->fault;
    size_t k = 1 + sample_below(&seed, plan->step_count);
    struct wh_plan *anew = plan_anew(t, plan, k, (struct wh_indices){0});
    if (!anew)
        return t->fault ? t->fault
                        : wh_arena_print(t->arena, "no order after %zu of %s", k,
                                         line_of(t->arena, ids_of(t->arena, plan, 0, plan->step_count)));
    const char *fault = same_prefix(plan, anew, k);
    if (fault) return fault;
    const char *was = line_of(t->arena, ids_of(t->arena, plan, 0, plan->step_count)),
               *now = line_of(t->arena, ids_of(t->arena, anew, 0, anew->step_count));
    bool saves = anew->total < plan->total - WH_PLAN_KEEP;
    if (!wh_same(was, now) && !saves)
        return wh_arena_print(t->arena, "what was ahead changed: %s\n# after %zu: %s", was, k, now);
    return work_off(t->arena, anew);
}

static const char *found_too(struct trial *t)
{
    struct wh_plan_ask ask = {.fitters = 1, .most_nodes = NODES};
    uint64_t seed = t->seed + 11;
    struct wh_plan *plan = plan_of(t, (struct sample_guise){.prefix = ""}, &ask);
    if (!plan) return t->fault;
    size_t k = 1 + sample_below(&seed, plan->step_count), also = 1 + sample_below(&seed, (size_t)t->sample.count);
    struct wh_plan *anew = plan_anew(t, plan, k, (struct wh_indices){&also, 1});
    if (!anew) return t->fault;
    const char *fault = same_prefix(plan, anew, k);
    if (fault) return fault;
    bool fitted = false;
    for (size_t s = k; s < anew->step_count; s++)
        fitted |= anew->steps[s].task->is == WH_TASK_ON && anew->steps[s].task->thing == also;
    return fitted ? work_off(t->arena, anew) : "what was found is not renewed";
}

struct property {
    const char *title;
    const char *(*holds)(struct trial *trial);
};

static const struct property properties[] = {
    {"a fitter can work it off line by line, and everything goes back once", works},
    {"so can several, by the sequence of the beginnings", works_for_several},
    {"other names change nothing", renamed},
    {"the sequence of a part's keys changes nothing", keys_shuffled},
    {"the sequence of the parts changes the order among equals within five minutes", parts_shuffled},
    {"planned anew after any prefix, what is done stands and what is ahead too", prefix_kept},
    {"a part found on the way is renewed, and nothing done is forgotten", found_too},
};

static enum wh_status try_one(struct wh_arena *arena, void *context)
{
    struct trial *trial = context;
    const struct property *property = &properties[trial->seed % 100];
    trial->arena = arena;
    const char *fault = property->holds(trial);
    if (fault) printf("# %s\n", fault);
    trial->fault = fault ? "" : NULL;
    return WH_OK;
}

int main(int count, char **words)
{
    uint64_t first = count > 1 ? strtoull(words[1], NULL, 10) : 1,
             cases = count > 2 ? strtoull(words[2], NULL, 10) : 1000;
    size_t n = sizeof properties / sizeof *properties, failed = 0;
    printf("1..%zu\n", n);
    for (size_t p = 0; p < n; p++) {
        uint64_t bad = 0;
        for (uint64_t seed = first; seed < first + cases && !bad; seed++) {
            struct trial trial = {.seed = seed * 100 + p};
            sample_make(&trial.sample, seed);
            if (wh_arena_run(MEMORY, try_one, &trial) != WH_OK || trial.fault) bad = seed;
        }
        failed += bad > 0;
        if (bad)
            printf("not ok %zu - %s: seed %llu\n", p + 1, properties[p].title, (unsigned long long)bad);
        else
            printf("ok %zu - %s\n", p + 1, properties[p].title);
        fflush(stdout);
    }
    return failed > 0;
}
