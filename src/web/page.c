#include "web/page.h"

#include "web/pages.h"
#include "web/session.h"

#include <string.h>

struct wh_tree *wh_page_new(const struct wh_house *house, const struct wh_request *request, const char *title)
{
    struct wh_tree *page = wh_tree_new(request->arena, WH_TREE_MAP);
    wh_tree_add_text(request->arena, page, "page title", title);
    wh_tree_add_text(request->arena, page, "program", house->program);
    wh_tree_add_text(request->arena, page, "token", request->token);
    if (request->person) wh_tree_add_text(request->arena, page, "person", request->person);
    wh_tree_add_truth(request->arena, page, "inch", request->inch);
    wh_tree_add_text(request->arena, page, "here", request->path);
    return page;
}

void wh_page_fill(const struct wh_house *house, const struct wh_request *request, const char *name,
                  const struct wh_tree *page, struct wh_reply *reply)
{
    struct wh_text text = {.arena = request->arena};
    if (!wh_templates_fill(house->templates, name, page, &text)) {
        reply->code = 500;
        wh_text_add(&text, "This page cannot be drawn.\n");
    }
    reply->bytes = wh_text_of(&text);
    reply->size = text.count;
}

void wh_page_wrong(const struct wh_house *house, const struct wh_request *request, int code, const char *says,
                   const char *right, struct wh_reply *reply)
{
    struct wh_tree *page = wh_page_new(house, request, says);
    if (right) wh_tree_add_text(request->arena, page, "right", right);
    reply->code = code;
    wh_page_fill(house, request, "wrong", page, reply);
}

void wh_page_go(struct wh_reply *reply, const char *location)
{
    reply->code = 303;
    reply->location = location;
    reply->bytes = "";
}

static const char *type_of(const char *name)
{
    static const char *const types[][2] = {
        {".css", "text/css; charset=utf-8"}, {".js", "text/javascript; charset=utf-8"}, {".svg", "image/svg+xml"}};
    size_t n = strlen(name);
    for (size_t i = 0; i < sizeof types / sizeof *types; i++) {
        size_t end = strlen(types[i][0]);
        if (n > end && wh_same(name + n - end, types[i][0])) return types[i][1];
    }
    return NULL;
}

void wh_page_static(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const struct wh_page_file *file = wh_page_file(request->held[0]);
    const char *type = type_of(request->held[0]);
    if (!file || !type) {
        wh_page_wrong(house, request, 404, "There is no such page.", NULL, reply);
        return;
    }
    reply->type = type;
    reply->bytes = file->bytes;
    reply->size = file->size;
    reply->lasting = true;
}

enum { PHOTO = 12 << 20, RECORD = 24 << 20 };

const struct wh_route wh_routes[] = {
    {"GET", "/", wh_page_machines, WH_STANDING_READER, 0},
    {"GET", "/machines/{machine}", wh_page_machine, WH_STANDING_READER, 0},
    {"GET", "/machines/{machine}/parts/{part}", wh_page_part, WH_STANDING_READER, 0},
    {"GET", "/machines/{machine}/balance/{part}", wh_page_balance, WH_STANDING_READER, 0},
    {"POST", "/machines/{machine}/balance/{part}", wh_page_balance, WH_STANDING_READER, 0},
    {"GET", "/machines/{machine}/start", wh_page_start, WH_STANDING_READER, 0},
    {"POST", "/machines/{machine}/start", wh_page_open_job, WH_STANDING_FITTER, 0},
    {"GET", "/bench", wh_page_jobs, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}", wh_page_job, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/steps", wh_page_job_steps, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/holds", wh_page_job_holds, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/holds/{hold}", wh_page_job_hold, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/readings", wh_page_job_readings, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/entries", wh_page_job_entries, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/enter/{kind}", wh_page_job_form, WH_STANDING_FITTER, 0},
    {"GET", "/jobs/{job}/since", wh_page_job_since, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/test-run", wh_page_test_run, WH_STANDING_READER, 0},
    {"POST", "/jobs/{job}/test-run", wh_page_enter_record, WH_STANDING_FITTER, RECORD},
    {"GET", "/jobs/{job}/papers", wh_page_job_papers, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/report.pdf", wh_page_job_report, WH_STANDING_READER, 0},
    {"GET", "/jobs/{job}/look", wh_page_job_look, WH_STANDING_FITTER, 0},
    {"POST", "/jobs/{job}/enter", wh_page_enter, WH_STANDING_FITTER, PHOTO},
    {"GET", "/photos/{hash}", wh_page_photo, WH_STANDING_READER, 0},
    {"GET", "/due", wh_page_due, WH_STANDING_READER, 0},
    {"GET", "/gauges", wh_page_gauges, WH_STANDING_READER, 0},
    {"POST", "/gauges", wh_page_enter_gauge, WH_STANDING_CHARGE_HAND, 0},
    {"GET", "/work-it-out", wh_page_rules, WH_STANDING_READER, 0},
    {"GET", "/work-it-out/{rule}", wh_page_rule, WH_STANDING_READER, 0},
    {"GET", "/sign-in", wh_page_sign_in_form, WH_STANDING_NOBODY, 0},
    {"POST", "/sign-in", wh_page_sign_in, WH_STANDING_NOBODY, 0},
    {"POST", "/sign-out", wh_page_sign_out, WH_STANDING_NOBODY, 0},
    {"POST", "/units", wh_page_units, WH_STANDING_NOBODY, 0},
    {"GET", "/static/{file}", wh_page_static, WH_STANDING_NOBODY, 0},
};
const size_t wh_route_count = sizeof wh_routes / sizeof *wh_routes;
