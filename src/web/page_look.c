/* A reading while it is typed: how it would be judged, and which figures would change with it. Nothing is kept. */
#include "desk/desk.h"
#include "view/figure.h"
#include "view/machine.h"
#include "web/pages.h"

#include <string.h>

enum { MOST_CHANGED = 8 };

struct looking {
    const struct wh_house *house;
    const struct wh_request *request;
    struct wh_tree *page, *said;
    struct wh_workshop workshop; /* a copy of its gauges: two states are never looked at at once */
    const char *sets, *value;    /* what the reading sets in the machine; or NULL */
};

static struct wh_tree *said_of(const struct wh_request *request)
{
    static const char *const texts[] = {"check", "gauge", "as expected", "part temperature", "gauge temperature"};
    struct wh_tree *said = wh_tree_new(request->arena, WH_TREE_MAP),
                   *list = wh_tree_add_new(request->arena, said, "value", WH_TREE_LIST);
    struct wh_words values = wh_split(request->arena, wh_form_text(&request->query, "value", ""), ';');
    for (size_t i = 0; i < values.count; i++) wh_tree_add_text(request->arena, list, NULL, values.at[i]);
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        const char *text = wh_form_text(&request->query, texts[i], "");
        if (*text) wh_tree_add_text(request->arena, said, texts[i], text);
    }
    return said;
}

static void add_verdict(struct wh_arena *arena, struct looking *l, const char *body)
{
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_tree *judged;
    if (wh_tree_read(arena, "entry", body, strlen(body), &judged, &errors) != WH_OK) return;
    const struct wh_tree *by = wh_tree_get(judged, "judged");
    static const char *const keys[] = {"verdict", "says", "settles"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        wh_tree_add_text(arena, l->page, keys[i], wh_tree_text(by, keys[i], ""));
    l->value = wh_tree_text(by, "value", NULL);
}

static enum wh_status copy_gauges(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct looking *l = look->context;
    for (size_t i = 0; i < look->workshop->gauges.count; i++) {
        struct wh_workshop_gauge *gauge = WH_PUSH(arena, &l->workshop.gauges);
        *gauge = look->workshop->gauges.at[i];
        gauge->name = wh_arena_text(arena, gauge->name);
        gauge->is = wh_arena_text(arena, gauge->is);
        gauge->title = wh_arena_text(arena, gauge->title);
        gauge->uncertainty = wh_arena_text(arena, gauge->uncertainty);
        gauge->unit.name = wh_arena_slice(arena, gauge->unit.name, gauge->unit.length);
        if (gauge->due) gauge->due = wh_arena_text(arena, gauge->due);
    }
    return WH_OK;
}

static enum wh_status look(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct looking *l = look->context;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_accepted accepted;
    struct wh_entry entry = {.job = look->job->number,
                             .who = l->request->person,
                             .key = "only looked at",
                             .kind = "reading",
                             .said = l->said,
                             .seen = -1};
    struct wh_entry_round round = {
        .workshop = &l->workshop, .at = l->request->now, .program = l->house->program, .rules = l->house->program};
    struct wh_tree *wrong = wh_tree_add_new(arena, l->page, "wrong", WH_TREE_LIST);
    if (wh_entry_accept(arena, look->job, &round, &entry, &accepted, &errors) == WH_OK) {
        const struct wh_job_check *check = wh_job_check(look->job, wh_tree_text(l->said, "check", ""));
        add_verdict(arena, l, accepted.body);
        if (check && check->sets) l->sets = wh_arena_text(arena, check->sets);
    }
    for (const struct wh_error *error = errors.first; error; error = error->next)
        wh_tree_add_text(arena, wrong, NULL, error->says);
    return WH_OK;
}

/* Figures of the machine that change with the reading. */
static void add_changed(struct looking *l, int64_t job)
{
    struct wh_arena *arena = l->request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    const struct wh_sheet *before, *after;
    struct wh_setting also = {l->sets, l->value, WH_ORIGIN_READ};
    if (!l->sets || !l->value || wh_desk_machine(l->house->desk, arena, job, NULL, NULL, &before, &errors) != WH_OK ||
        wh_desk_machine(l->house->desk, arena, job, &also, NULL, &after, &errors) != WH_OK)
        return;
    struct wh_words changed = wh_sheet_changed(arena, before, after);
    struct wh_tree *list = wh_tree_add_new(arena, l->page, "changed", WH_TREE_LIST);
    for (size_t i = 0; i < changed.count && list->count < MOST_CHANGED; i++) {
        size_t was = wh_sheet_cell(before, changed.at[i]), now = wh_sheet_cell(after, changed.at[i]);
        if (was == WH_NONE || now == WH_NONE || after->cells[now].use == WH_NONE) continue;
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "title", after->cells[now].title ? after->cells[now].title : changed.at[i]);
        wh_tree_add_text(arena, item, "was", wh_view_shown(arena, before, was, WH_END_BEST).value);
        wh_tree_add_text(arena, item, "now", wh_view_shown(arena, after, now, WH_END_BEST).value);
    }
}

void wh_page_job_look(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_errors errors = wh_errors_in(request->arena);
    struct looking l = {.house = house, .request = request, .said = said_of(request)};
    struct wh_desk_look gauges = {.context = &l, .body = copy_gauges}, desk_look = {.context = &l, .body = look};
    int64_t job;
    l.page = wh_page_new(house, request, "");
    if (!wh_job_number(request->held[0], &job) ||
        wh_desk_workshop(house->desk, request->arena, &gauges, &errors) != WH_OK ||
        wh_desk_state(house->desk, request->arena, job, &desk_look, &errors) != WH_OK) {
        wh_page_wrong(house, request, 404, "There is no such job.", NULL, reply);
        return;
    }
    add_changed(&l, job);
    wh_view_units(request->arena, l.page);
    wh_page_fill(house, request, "look", l.page, reply);
}
