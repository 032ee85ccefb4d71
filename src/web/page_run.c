/* The test run of a job: records sent, read and kept; has the machine proven itself? */
#include "desk/desk.h"
#include "view/bench.h"
#include "view/test_run.h"
#include "web/pages.h"

struct looking {
    struct wh_tree *page;
    const struct wh_machine *machine;
};

static enum wh_status look(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct looking *l = look->context;
    wh_tree_add(arena, l->page, "job", wh_view_bench_head(arena, look->job));
    wh_tree_add(arena, l->page, "contests", wh_view_bench_contests(arena, look->job));
    wh_tree_add_text(arena, l->page, "machine id", look->job->machine);
    wh_tree_add(arena, l->page, "run", wh_view_test_run(arena, look->job, l->machine));
    return WH_OK;
}

static void show(const struct wh_house *house, const struct wh_request *request, const struct wh_errors *refused,
                 struct wh_reply *reply)
{
    struct wh_arena *arena = request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    struct looking l = {.page = wh_page_new(house, request, "Test run")};
    struct wh_desk_look desk_look = {.context = &l, .body = look};
    int64_t number;
    bool there = wh_job_number(request->held[0], &number);
    there = there && wh_desk_machine(house->desk, arena, number, NULL, &l.machine, NULL, &errors) == WH_OK;
    if (!there || wh_desk_state(house->desk, arena, number, &desk_look, &errors) != WH_OK) {
        wh_page_wrong(house, request, 404, "There is no such job.", NULL, reply);
        return;
    }
    wh_tree_add_text(arena, l.page, "number", request->held[0]);
    wh_tree_add_text(arena, l.page, "key", wh_key_new(arena));
    struct wh_tree *reasons = wh_tree_add_new(arena, l.page, "reasons", WH_TREE_LIST);
    for (const struct wh_error *error = refused ? refused->first : NULL; error; error = error->next)
        wh_tree_add_text(arena, reasons, NULL,
                         error->right ? wh_arena_print(arena, "%s; %s", error->says, error->right) : error->says);
    wh_page_fill(house, request, "test_run", l.page, reply);
}

void wh_page_test_run(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    show(house, request, NULL, reply);
}

static struct wh_tree *said_of(const struct wh_request *request)
{
    static const char *const names[] = {"what", "when",       "name",        "speed", "channels",
                                        "unit", "full scale", "sensitivity", "drive"};
    struct wh_tree *said = wh_tree_new(request->arena, WH_TREE_MAP);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *text = wh_form_text(&request->form, names[i], "");
        if (*text) wh_tree_add_text(request->arena, said, names[i], text);
    }
    return said;
}

static enum wh_status enter(const struct wh_house *house, const struct wh_request *request, struct wh_errors *errors)
{
    struct wh_arena *arena = request->arena;
    const struct wh_field *file = wh_form_file(&request->form, "record");
    struct wh_entry entry = {
        .who = request->person, .key = wh_form_text(&request->form, "key", ""), .kind = "record", .seen = -1};
    struct wh_answer answer;
    struct wh_hash hash;
    if (!wh_job_number(request->held[0], &entry.job) || !file)
        return wh_errors_add(errors, WH_ERR_INPUT, (struct wh_place){0}, "choose a WAV, a CSV or a universal file",
                             "no record was sent");
    struct wh_tree *said = said_of(request);
    enum wh_status status = wh_desk_read_record(house->desk, arena, entry.job, said, file->bytes, file->size, errors);
    if (status == WH_OK) status = wh_desk_keep(house->desk, arena, file->bytes, file->size, &hash, errors);
    if (status != WH_OK) return status;
    wh_tree_add_text(arena, wh_tree_add_new(arena, said, "files", WH_TREE_LIST), NULL, wh_hash_text(arena, &hash));
    entry.said = said;
    return wh_desk_submit(house->desk, arena, &entry, true, &answer, errors);
}

void wh_page_enter_record(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_errors errors = wh_errors_in(request->arena);
    enum wh_status status = enter(house, request, &errors);
    if (status == WH_OK) {
        wh_page_go(reply, wh_arena_print(request->arena, "/jobs/%s/test-run", request->held[0]));
        return;
    }
    reply->code = status == WH_ERR_INPUT ? 422 : 503;
    show(house, request, &errors, reply);
}
