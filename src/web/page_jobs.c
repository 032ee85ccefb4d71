/* At the bench: what lies there today; gauges. */
#include "desk/desk.h"
#include "view/bench.h"
#include "view/machine.h"
#include "web/pages.h"

enum { MOST_JOBS = 200 };

void wh_page_jobs(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_arena *arena = request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_heads heads = {0};
    if (wh_desk_jobs(house->desk, arena, NULL, NULL, MOST_JOBS, &heads, &errors) != WH_OK) {
        wh_page_wrong(house, request, 503, wh_errors_text(arena, &errors), NULL, reply);
        return;
    }
    struct wh_tree *page = wh_page_new(house, request, "At the bench");
    struct wh_tree *list = wh_tree_add_new(arena, page, "jobs", WH_TREE_LIST);
    for (size_t i = 0; i < heads.count; i++) {
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "number", wh_arena_print(arena, "%lld", (long long)heads.at[i].job));
        wh_tree_add_text(arena, item, "title", heads.at[i].title);
        wh_tree_add_text(arena, item, "machine", heads.at[i].machine);
        wh_tree_add_text(arena, item, "state", heads.at[i].state);
        wh_tree_add_text(arena, item, "changed", wh_view_clock(arena, heads.at[i].changed));
    }
    wh_page_fill(house, request, "jobs", page, reply);
}

struct gauges {
    struct wh_tree *page;
    int64_t now;
};

static enum wh_status add_gauges(struct wh_arena *arena, struct wh_desk_look *look)
{
    struct gauges *gauges = look->context;
    struct wh_tree *list = wh_view_gauges(arena, look->workshop, gauges->now);
    wh_view_units(arena, list);
    wh_tree_add(arena, gauges->page, "gauges", list);
    return WH_OK;
}

void wh_page_gauges(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_errors errors = wh_errors_in(request->arena);
    struct wh_tree *page = wh_page_new(house, request, "Gauges");
    struct gauges gauges = {page, request->now};
    struct wh_desk_look look = {.context = &gauges, .body = add_gauges};
    wh_tree_add_text(request->arena, page, "key", wh_key_new(request->arena));
    if (wh_desk_workshop(house->desk, request->arena, &look, &errors) != WH_OK) {
        wh_page_wrong(house, request, 503, wh_errors_text(request->arena, &errors), NULL, reply);
        return;
    }
    wh_page_fill(house, request, "gauges", page, reply);
}

void wh_page_enter_gauge(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    static const char *const fields[] = {"name", "is", "title", "uncertainty", "due"};
    struct wh_errors errors = wh_errors_in(request->arena);
    struct wh_answer answer;
    struct wh_tree *said = wh_tree_new(request->arena, WH_TREE_MAP);
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) {
        const char *text = wh_form_text(&request->form, fields[i], "");
        if (*text) wh_tree_add_text(request->arena, said, fields[i], text);
    }
    struct wh_entry entry = {.who = request->person,
                             .key = wh_form_text(&request->form, "key", ""),
                             .kind = "gauge",
                             .said = said,
                             .seen = -1};
    if (wh_desk_submit(house->desk, request->arena, &entry, true, &answer, &errors) != WH_OK) {
        wh_page_wrong(house, request, 422, errors.first ? errors.first->says : "That is not taken.",
                      errors.first ? errors.first->right : NULL, reply);
        return;
    }
    wh_page_go(reply, "/gauges");
}
