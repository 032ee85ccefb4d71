/* Planning: a job is opened with a plan, and planned anew when something turned up. It runs where it is called, never
 * on the writer; the writer gets the finished entry. */
#include "base/text.h"
#include "desk/inside.h"
#include "job/issue.h"

#include <inttypes.h>
#include <string.h>

enum { USUAL_FITTERS = 1 };

static const char *joined(struct wh_arena *arena, const struct wh_tree *list)
{
    struct wh_text text = {.arena = arena};
    for (const struct wh_tree *item = list->first; item; item = item->next)
        wh_text_print(&text, "%s%s", item == list->first ? "" : ", ", item->text);
    return wh_text_of(&text);
}

static void add_renew(struct wh_arena *arena, struct wh_tree *body, const struct wh_machine *machine,
                      const struct wh_indices *renew)
{
    struct wh_tree *list = wh_tree_add_new(arena, body, "renew", WH_TREE_LIST);
    for (size_t i = 0; i < renew->count; i++) wh_tree_add_text(arena, list, NULL, machine->things[renew->at[i]].id);
}

static void add_some(struct wh_arena *arena, struct wh_tree *body, const char *key, const char *text)
{
    if (text && *text) wh_tree_add_text(arena, body, key, text);
}

static enum wh_status make_plan(struct wh_desk *desk, struct wh_arena *arena, const struct wh_opening *opening,
                                struct wh_tree *body, struct wh_errors *reterr)
{
    struct wh_machine *machine;
    struct wh_sheet *sheet;
    struct wh_indices renew;
    struct wh_plan *plan;
    struct wh_plan_ask ask = {.fitters = opening->fitters ? opening->fitters : USUAL_FITTERS,
                              .most_nodes = desk->ask.plan_nodes ? desk->ask.plan_nodes : WH_PLAN_NODES};
    const char *name = wh_arena_print(arena, "%s.yaml", opening->machine);
    enum wh_status status = wh_machine_read_text(arena, name, opening->bytes, opening->size, &machine, reterr);
    if (status == WH_OK) status = wh_sheet_make(arena, machine, NULL, 0, &sheet, reterr);
    if (status == WH_OK) status = wh_plan_parts(arena, machine, opening->renew, &renew, reterr);
    if (status == WH_OK) status = wh_plan_make(arena, machine, sheet, renew.at, renew.count, &ask, &plan, reterr);
    if (status != WH_OK) return status;
    wh_tree_add_text(arena, body, "machine title", machine->title);
    add_renew(arena, body, machine, &renew);
    add_some(arena, body, "title",
             opening->title ? opening->title
                            : wh_arena_print(arena, "renew %s", joined(arena, wh_tree_get(body, "renew"))));
    wh_tree_add(arena, body, "plan", wh_job_issue(arena, plan));
    return WH_OK;
}

static enum wh_status hand_in(struct wh_desk *desk, struct wh_arena *arena, const struct wh_entry *entry,
                              const struct wh_tree *body, struct wh_answer *ret, struct wh_errors *reterr)
{
    struct wh_request request = {
        .arena = arena, .entry = entry, .ready = wh_tree_line(arena, body), .answer = ret, .errors = reterr};
    *ret = (struct wh_answer){0};
    wh_desk_hand_in(desk, &request);
    if (request.status == WH_ERR_NOMEM) wh_arena_give_up(arena);
    return request.status;
}

enum wh_status wh_desk_open_job(struct wh_desk *desk, struct wh_arena *arena, const struct wh_opening *opening,
                                struct wh_answer *ret, struct wh_errors *reterr)
{
    struct wh_hash hash;
    struct wh_tree *body = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_number(arena, body, "v", WH_JOB_FORM);
    wh_tree_add_text(arena, body, "machine", opening->machine);
    add_some(arena, body, "brought", opening->brought);
    add_some(arena, body, "hours", opening->hours);
    add_some(arena, body, "starts", opening->starts);
    enum wh_status status = make_plan(desk, arena, opening, body, reterr);
    if (status == WH_OK) status = wh_desk_keep(desk, arena, opening->bytes, opening->size, &hash, reterr);
    if (status != WH_OK) return status;
    wh_tree_add_text(arena, body, "file", wh_hash_text(arena, &hash));
    wh_tree_add_text(arena, body, "program", desk->ask.program);
    struct wh_entry entry = {.job = -1, .who = opening->who, .key = opening->key, .kind = "opened", .seen = -1};
    return hand_in(desk, arena, &entry, body, ret, reterr);
}

/* What of a job its machine and its planning need, copied out of the state. */
struct gist {
    struct wh_hash file;
    const char *machine, *because;
    int64_t replan;
    WH_LIST(const char *) renew;
    WH_LIST(const char *) also;
    WH_LIST(const char *) done;
    WH_LIST(const char *) ahead;
    WH_LIST(struct wh_setting) settings;
    bool good;
};

static const struct wh_tree *list_of(const struct wh_tree *body, const char *key)
{
    const struct wh_tree *list = wh_tree_get(body, key);
    return list ? list->first : NULL;
}

static void copy_found(struct wh_arena *arena, struct gist *gist, const struct wh_job *job)
{
    for (size_t i = 0; i < job->renew.count; i++)
        *WH_PUSH(arena, &gist->renew) = wh_arena_text(arena, job->renew.at[i]);
    for (size_t l = 0; l < job->lines.count; l++) {
        if (!wh_same(job->lines.at[l].kind, "found")) continue;
        for (const struct wh_tree *add = list_of(job->lines.at[l].body, "add"); add; add = add->next)
            if (add->text) *WH_PUSH(arena, &gist->also) = wh_arena_text(arena, add->text);
    }
}

/* A reading that sets a value of the machine: the mean of what was read, with the gauge's uncertainty. What a rule
 * makes one value of is no value of the machine. */
static void copy_settings(struct wh_arena *arena, struct gist *gist, const struct wh_job *job)
{
    for (size_t c = 0; c < job->checks.count; c++) {
        const struct wh_job_check *check = &job->checks.at[c];
        const struct wh_job_reading *reading = check->sets ? wh_job_read(job, check->id) : NULL;
        if (!reading || check->judged_by || !check->has_limits) continue;
        struct wh_words texts = wh_split(arena, reading->value, ';');
        const char *gauge = wh_tree_text(wh_tree_get(reading->body, "judged"), "gauge uncertainty", "");
        const char *unit = wh_arena_slice(arena, check->unit.name, check->unit.length);
        struct wh_value value, U;
        double sum = 0;
        for (size_t v = 0; v < texts.count; v++)
            if (wh_value_read(texts.at[v], &check->unit, &value, NULL) == WH_READ_WELL) sum += value.best;
        double mean = (sum / (double)texts.count - check->unit.offset) / check->unit.factor;
        bool known = wh_value_read(gauge, &check->unit, &U, NULL) == WH_READ_WELL;
        *WH_PUSH(arena, &gist->settings) = (struct wh_setting){
            wh_arena_text(arena, check->sets),
            known ? wh_arena_print(arena, "%.9g +- %.3g %s", mean, U.best / check->unit.factor, unit)
                  : wh_arena_print(arena, "%.9g %s", mean, unit),
            WH_ORIGIN_READ};
    }
}

static enum wh_status copy_gist(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct gist *gist = look->context;
    const struct wh_job *job = look->job;
    gist->good = wh_hash_read(job->file, &gist->file);
    gist->machine = wh_arena_print(arena, "%s.yaml", job->machine);
    gist->replan = job->replan;
    gist->because = wh_arena_text(arena, job->replan_because ? job->replan_because : "asked for");
    copy_found(arena, gist, job);
    copy_settings(arena, gist, job);
    for (size_t s = 0; s < job->steps.count; s++) {
        const struct wh_job_step *step = &job->steps.at[s];
        if (step->mark == WH_MARK_DONE)
            *WH_PUSH(arena, &gist->done) = wh_arena_text(arena, step->id);
        else if (!step->gone && step->mark != WH_MARK_LEFT_OUT)
            *WH_PUSH(arena, &gist->ahead) = wh_arena_text(arena, step->id);
    }
    return WH_OK;
}

static enum wh_status read_gist(struct wh_desk *desk, struct wh_arena *arena, int64_t job, struct gist *gist,
                                struct wh_errors *reterr)
{
    struct wh_desk_look look = {.context = gist, .body = copy_gist};
    enum wh_status status = wh_desk_state(desk, arena, job, &look, reterr);
    if (status == WH_OK && !gist->good)
        status = wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL,
                               "job %" PRId64 " names no machine file", job);
    return status;
}

static enum wh_status machine_of(struct wh_desk *desk, struct wh_arena *arena, const struct gist *gist,
                                 const struct wh_made **ret, struct wh_errors *reterr)
{
    struct wh_making making = {gist->file, gist->machine, gist->settings.at, gist->settings.count};
    return wh_made_take(desk, arena, &making, ret, reterr);
}

enum wh_status wh_desk_machine(struct wh_desk *desk, struct wh_arena *arena, int64_t job, const struct wh_setting *also,
                               const struct wh_machine **ret_machine, const struct wh_sheet **ret_sheet,
                               struct wh_errors *reterr)
{
    struct gist gist = {0};
    const struct wh_made *made;
    struct wh_sheet *sheet;
    enum wh_status status = read_gist(desk, arena, job, &gist, reterr);
    if (status == WH_OK) status = machine_of(desk, arena, &gist, &made, reterr);
    if (status != WH_OK) return status;
    if (ret_machine) *ret_machine = made->machine;
    if (ret_sheet) *ret_sheet = made->sheet;
    if (!also || !ret_sheet) return WH_OK;
    for (size_t i = 0; i < gist.settings.count; i++)
        if (wh_same(gist.settings.at[i].name, also->name))
            gist.settings.at[i--] = gist.settings.at[--gist.settings.count];
    *WH_PUSH(arena, &gist.settings) = *also;
    status = wh_sheet_make(arena, made->machine, gist.settings.at, gist.settings.count, &sheet, reterr);
    if (status == WH_OK) *ret_sheet = sheet;
    return status;
}

/* The parts asked for at first and those found since, each once. */
static struct wh_indices all_parts(struct wh_arena *arena, const struct wh_machine *machine, const struct gist *gist)
{
    size_t *at = WH_NEW(arena, gist->renew.count + gist->also.count + 1, size_t), count = 0;
    for (size_t i = 0; i < gist->renew.count + gist->also.count; i++) {
        const char *id = i < gist->renew.count ? gist->renew.at[i] : gist->also.at[i - gist->renew.count];
        size_t thing = wh_machine_thing(machine, id), k = 0;
        while (k < count && at[k] != thing) k++;
        if (thing != WH_NONE && k == count) at[count++] = thing;
    }
    return (struct wh_indices){at, count};
}

/* The parts of a list that are not in another. */
static struct wh_indices parts_besides(struct wh_arena *arena, const struct wh_machine *machine,
                                       const char *const ids[], size_t n, const struct wh_indices *known)
{
    size_t *at = WH_NEW(arena, n + 1, size_t), count = 0;
    for (size_t i = 0; i < n; i++) {
        size_t thing = wh_machine_thing(machine, ids[i]);
        bool twice = thing == WH_NONE;
        for (size_t k = 0; known && k < known->count; k++) twice |= known->at[k] == thing;
        for (size_t k = 0; k < count; k++) twice |= at[k] == thing;
        if (!twice) at[count++] = thing;
    }
    return (struct wh_indices){at, count};
}

/* What is done stays done and as little as can be changes ahead; where what was done fits no plan (hands went another
 * way), the whole is planned afresh, and the job keeps what was done. */
static enum wh_status plan_anew(struct wh_desk *desk, struct wh_arena *arena, const struct gist *gist,
                                const struct wh_machine *machine, const struct wh_sheet *sheet, struct wh_plan **ret,
                                struct wh_errors *reterr)
{
    struct wh_indices renew = parts_besides(arena, machine, gist->renew.at, gist->renew.count, NULL);
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_plan_ask ask = {.fitters = USUAL_FITTERS,
                              .most_nodes = desk->ask.plan_nodes ? desk->ask.plan_nodes : WH_PLAN_NODES,
                              .also = parts_besides(arena, machine, gist->also.at, gist->also.count, &renew),
                              .done = {gist->done.at, gist->done.count},
                              .ahead = {gist->ahead.at, gist->ahead.count}};
    if (wh_plan_make(arena, machine, sheet, renew.at, renew.count, &ask, ret, &errors) == WH_OK) return WH_OK;
    struct wh_indices all = all_parts(arena, machine, gist);
    struct wh_plan_ask afresh = {.fitters = ask.fitters, .most_nodes = ask.most_nodes};
    return wh_plan_make(arena, machine, sheet, all.at, all.count, &afresh, ret, reterr);
}

enum wh_status wh_desk_replan(struct wh_desk *desk, struct wh_arena *arena, int64_t job, struct wh_errors *reterr)
{
    struct gist gist = {0};
    const struct wh_made *made;
    struct wh_plan *plan;
    struct wh_answer answer;
    enum wh_status status = read_gist(desk, arena, job, &gist, reterr);
    if (status != WH_OK || gist.replan == 0) return status;
    if ((status = machine_of(desk, arena, &gist, &made, reterr)) != WH_OK) return status;
    struct wh_indices renew = all_parts(arena, made->machine, &gist);
    if ((status = plan_anew(desk, arena, &gist, made->machine, made->sheet, &plan, reterr)) != WH_OK) return status;
    struct wh_tree *body = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_number(arena, body, "v", WH_JOB_FORM);
    wh_tree_add_text(arena, body, "because", gist.because);
    wh_tree_add_number(arena, body, "asked", (double)gist.replan);
    add_renew(arena, body, made->machine, &renew);
    wh_tree_add(arena, body, "plan", wh_job_issue(arena, plan));
    const char *key = wh_arena_print(arena, "replan %" PRId64, gist.replan);
    struct wh_entry entry = {.job = job, .who = desk->ask.program, .key = key, .kind = "replanned", .seen = -1};
    return hand_in(desk, arena, &entry, body, &answer, reterr);
}
