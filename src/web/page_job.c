/* The pages of one job: at the bench, all steps, holds, readings, what else was entered. */
#include "desk/desk.h"
#include "view/bench.h"
#include "view/machine.h"
#include "web/pages.h"

#include <string.h>

/* What a page of a job is made from, while the job stands still. */
struct looking {
    const struct wh_house *house;
    const struct wh_request *request;
    struct wh_tree *page;
    const struct wh_sheet *sheet;
    const char *step; /* id of the step asked for; NULL: the next */
    void (*add)(struct looking *looking, const struct wh_job *job);
};

bool wh_job_number(const char *text, int64_t *ret)
{
    double number;
    const char *rest = wh_number_read(text, &number);
    if (!rest || *rest || number < 1 || number > 1e9) return false;
    *ret = (int64_t)number;
    return (double)*ret >= number && strspn(text, "0123456789") == strlen(text);
}

static enum wh_status look(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct looking *l = look->context;
    wh_tree_add(arena, l->page, "job", wh_view_bench_head(arena, look->job));
    wh_tree_add(arena, l->page, "contests", wh_view_bench_contests(arena, look->job));
    wh_tree_add_text(arena, l->page, "machine id", look->job->machine);
    l->add(l, look->job);
    if (l->request->inch) wh_view_also_in_inches(arena, l->page);
    return WH_OK;
}

static void add_key(const struct looking *l)
{
    wh_tree_add_text(l->request->arena, l->page, "key", wh_key_new(l->request->arena));
}

/* Fills a page of the job whose number stands in the address. */
static void fill_job(struct looking *l, const char *template, bool figures, struct wh_reply *reply)
{
    struct wh_arena *arena = l->request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    const struct wh_sheet *sheet = NULL;
    struct wh_desk_look desk_look = {.context = l, .body = look};
    int64_t number = 0;
    bool named = wh_job_number(l->request->held[0], &number);
    l->page = wh_page_new(l->house, l->request, "");
    wh_tree_add_text(arena, l->page, "number", l->request->held[0]);
    enum wh_status status = named ? WH_OK : WH_ERR_INPUT;
    if (status == WH_OK && figures)
        status = wh_desk_machine(l->house->desk, arena, number, NULL, NULL, &sheet, &errors);
    l->sheet = sheet && l->request->inch ? wh_view_in_inches(arena, sheet) : sheet;
    if (status == WH_OK) status = wh_desk_state(l->house->desk, arena, number, &desk_look, &errors);
    if (status != WH_OK) {
        wh_page_wrong(l->house, l->request, status == WH_ERR_INPUT ? 404 : 503,
                      named ? wh_errors_text(arena, &errors) : "There is no such job.", NULL, reply);
        return;
    }
    add_key(l);
    wh_page_fill(l->house, l->request, template, l->page, reply);
}

static void set_title(struct looking *l, const char *words)
{
    wh_tree_get(l->page, "page title")->text = words;
}

/* The steps after this one in its stage that hands may do in one go with it. */
static void add_block(struct looking *l, const struct wh_job *job, const struct wh_job_step *step)
{
    struct wh_tree *list = wh_tree_add_new(l->request->arena, l->page, "block", WH_TREE_LIST);
    size_t from = (size_t)(step - job->steps.at);
    for (size_t s = from + 1; s < job->steps.count && list->count < 6; s++) {
        const struct wh_job_step *next = &job->steps.at[s];
        if (!wh_same(next->stage, step->stage) || next->hold || next->check) break;
        if (next->gone || next->mark >= WH_MARK_DONE) continue;
        struct wh_tree *item = wh_tree_add_new(l->request->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(l->request->arena, item, "id", next->id);
        wh_tree_add_text(l->request->arena, item, "what", next->what);
    }
}

static void add_bench(struct looking *l, const struct wh_job *job)
{
    struct wh_arena *arena = l->request->arena;
    const struct wh_job_step *step = l->step ? wh_job_step(job, l->step) : wh_job_next(job);
    set_title(l, step ? step->what : "All steps are done");
    if (!step) return;
    wh_tree_add(arena, l->page, "step", wh_view_bench_step(arena, job, step, l->sheet, l->request->person));
    if (!step->hold && !step->check) add_block(l, job, step);
}

void wh_page_job(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const char *step = wh_form_text(&request->query, "step", NULL);
    fill_job(&(struct looking){.house = house, .request = request, .add = add_bench, .step = step}, "bench", true,
             reply);
}

static void add_steps(struct looking *l, const struct wh_job *job)
{
    set_title(l, "All steps");
    wh_tree_add(l->request->arena, l->page, "stages", wh_view_bench_steps(l->request->arena, job));
}

void wh_page_job_steps(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    fill_job(&(struct looking){.house = house, .request = request, .add = add_steps}, "steps", false, reply);
}

static void add_holds(struct looking *l, const struct wh_job *job)
{
    set_title(l, "Holds");
    wh_tree_add(l->request->arena, l->page, "holds", wh_view_bench_holds(l->request->arena, job, l->request->person));
}

void wh_page_job_holds(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    fill_job(&(struct looking){.house = house, .request = request, .add = add_holds}, "holds", false, reply);
}

static void add_hold(struct looking *l, const struct wh_job *job)
{
    struct wh_arena *arena = l->request->arena;
    struct wh_tree *holds = wh_view_bench_holds(arena, job, l->request->person);
    for (struct wh_tree *hold = holds->first; hold; hold = hold->next) {
        if (!wh_same(wh_tree_text(hold, "id", NULL), l->step)) continue;
        set_title(l, wh_tree_text(hold, "title", "Hold"));
        struct wh_tree *list = wh_tree_add_new(arena, l->page, "holds", WH_TREE_LIST);
        *list = (struct wh_tree){
            .is = WH_TREE_LIST, .key = "holds", .first = hold, .last = hold, .count = 1, .next = list->next};
        hold->next = NULL;
        return;
    }
    set_title(l, "There is no such hold in this job");
}

void wh_page_job_hold(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    fill_job(&(struct looking){.house = house, .request = request, .add = add_hold, .step = request->held[1]}, "holds",
             false, reply);
}

static void add_readings(struct looking *l, const struct wh_job *job)
{
    set_title(l, "Readings");
    wh_tree_add(l->request->arena, l->page, "view", wh_view_bench_readings(l->request->arena, job));
}

void wh_page_job_readings(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    fill_job(&(struct looking){.house = house, .request = request, .add = add_readings}, "readings", false, reply);
}

static void add_entries(struct looking *l, const struct wh_job *job)
{
    struct wh_arena *arena = l->request->arena;
    set_title(l, "Entered");
    wh_tree_add(arena, l->page, "lines", wh_view_bench_lines(arena, job));
    struct wh_tree *kinds = wh_tree_add_new(arena, l->page, "kinds", WH_TREE_LIST);
    for (size_t k = 0; k < wh_entry_kind_count; k++) {
        if (!wh_entry_kinds[k].people) continue;
        struct wh_tree *item = wh_tree_add_new(arena, kinds, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "kind", wh_address_text(arena, wh_entry_kinds[k].name));
        wh_tree_add_text(arena, item, "title", wh_entry_kinds[k].title);
    }
}

void wh_page_job_entries(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    fill_job(&(struct looking){.house = house, .request = request, .add = add_entries}, "entries", false, reply);
}

/* A form for any kind of entry; what the address says already stands in its places. */
static void add_form(struct looking *l, const struct wh_job *job)
{
    struct wh_arena *arena = l->request->arena;
    const struct wh_entry_kind *kind = wh_entry_kind(l->step);
    (void)job;
    if (!kind || !kind->people) {
        set_title(l, "There is no such entry");
        return;
    }
    struct wh_tree *form = wh_view_entry_form(arena, kind);
    for (struct wh_tree *field = wh_tree_get(form, "fields")->first; field; field = field->next)
        wh_tree_add_text(arena, field, "typed", wh_form_text(&l->request->query, wh_tree_text(field, "name", ""), ""));
    set_title(l, kind->title);
    wh_tree_add(arena, l->page, "form", form);
}

void wh_page_job_form(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    fill_job(&(struct looking){.house = house, .request = request, .add = add_form, .step = request->held[1]}, "enter",
             false, reply);
}

/* The last entry: what a page asks every few seconds, to see what others have entered. */
void wh_page_job_since(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_arena *arena = request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_records records = {0};
    int64_t number = 0, after = 0;
    bool named =
        wh_job_number(request->held[0], &number) && wh_job_number(wh_form_text(&request->query, "after", ""), &after);
    if (!named || wh_desk_since(house->desk, arena, number, after, 1000, &records, &errors) != WH_OK) {
        wh_page_wrong(house, request, 404, "There is no such job.", NULL, reply);
        return;
    }
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP), *list = wh_tree_add_new(arena, map, "entries", WH_TREE_LIST);
    for (size_t i = 0; i < records.count; i++) {
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        const struct wh_entry_kind *kind = wh_entry_kind(records.at[i].kind);
        wh_tree_add_number(arena, item, "seq", (double)records.at[i].seq);
        wh_tree_add_text(arena, item, "who", records.at[i].who);
        wh_tree_add_text(arena, item, "title", kind ? kind->title : records.at[i].kind);
    }
    reply->type = "application/json";
    reply->bytes = wh_tree_json(arena, map);
    reply->size = strlen(reply->bytes);
}
