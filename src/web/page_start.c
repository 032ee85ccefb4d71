/* Start a job: choose the parts to renew, look at the way in and the way back, kit and minutes. */
#include "desk/desk.h"
#include "plan/plan.h"
#include "view/due.h"
#include "view/machine.h"
#include "view/plan.h"
#include "web/pages.h"

#include <string.h>

/* Every part of the machine with a box to cross, and why it is proposed; crossed where it was sent. Returns the ids
 * sent, parted by commas. */
static const char *add_choice(const struct wh_request *request, const struct wh_machine *machine,
                              const struct wh_due *due, struct wh_tree *page)
{
    struct wh_tree *list = wh_tree_add_new(request->arena, page, "choice", WH_TREE_LIST);
    struct wh_text ids = {.arena = request->arena};
    for (size_t t = 0; t < machine->thing_count; t++) {
        const struct wh_thing *thing = &machine->things[t];
        if (thing->section != WH_SECTION_PARTS || thing->way_count == 0 || thing->renew == WH_RENEW_NEVER) continue;
        struct wh_tree *item = wh_tree_add_new(request->arena, list, NULL, WH_TREE_MAP);
        bool crossed = wh_same(wh_form_text(&request->query, thing->id, ""), "renew");
        wh_tree_add_text(request->arena, item, "id", thing->id);
        wh_tree_add_text(request->arena, item, "title", thing->title);
        wh_tree_add_truth(request->arena, item, "crossed", crossed);
        const char *proposed = due ? wh_view_proposal(request->arena, due, t) : NULL;
        if (proposed) wh_tree_add_text(request->arena, item, "proposed", proposed);
        if (crossed) wh_text_print(&ids, "%s%s", ids.count ? "," : "", thing->id);
    }
    return wh_text_of(&ids);
}

static void add_fitters(const struct wh_request *request, struct wh_tree *page, int fitters)
{
    static const char *const words[] = {"one fitter", "two fitters", "three fitters", "four fitters"};
    struct wh_tree *list = wh_tree_add_new(request->arena, page, "fitters", WH_TREE_LIST);
    for (int i = 1; i <= 4; i++) {
        struct wh_tree *item = wh_tree_add_new(request->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(request->arena, item, "number", wh_arena_print(request->arena, "%d", i));
        wh_tree_add_text(request->arena, item, "words", words[i - 1]);
        wh_tree_add_truth(request->arena, item, "crossed", i == fitters);
    }
}

static enum wh_status make_plan(const struct wh_request *request, const struct wh_shelf *shelf, const char *ids,
                                int fitters, struct wh_plan **ret, struct wh_errors *errors)
{
    struct wh_indices renew;
    struct wh_plan_ask ask = {.fitters = fitters, .most_nodes = WH_PLAN_NODES};
    enum wh_status status = wh_plan_parts(request->arena, shelf->machine, ids, &renew, errors);
    if (status != WH_OK) return status;
    return wh_plan_make(request->arena, shelf->machine, shelf->sheet, renew.at, renew.count, &ask, ret, errors);
}

static int fitters_of(const struct wh_request *request)
{
    const char *text = wh_form_text(&request->query, "fitters", "1");
    return strlen(text) == 1 && *text >= '1' && *text <= '4' ? *text - '0' : 1;
}

void wh_page_start(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const struct wh_shelf *shelf = wh_house_machine(house, request->held[0]);
    if (!shelf) {
        wh_page_wrong(house, request, 404, "There is no such machine here.", NULL, reply);
        return;
    }
    struct wh_tree *page = wh_page_new(house, request, "Start a job");
    struct wh_errors errors = wh_errors_in(request->arena);
    struct wh_plan *plan;
    int fitters = fitters_of(request);
    wh_tree_add_text(request->arena, page, "machine id", shelf->id);
    wh_tree_add_text(request->arena, page, "machine", shelf->machine->title);
    const char *hours = wh_form_text(&request->query, "hours", "");
    struct wh_errors unread = wh_errors_in(request->arena);
    struct wh_due *due = NULL;
    wh_tree_add_text(request->arena, page, "hours", hours);
    wh_desk_due(house->desk, request->arena, shelf->id, shelf->sheet, wh_due_hours(hours), request->now, &due, &unread);
    const char *ids = add_choice(request, shelf->machine, due, page);
    add_fitters(request, page, fitters);
    wh_tree_add_text(request->arena, page, "key", wh_key_new(request->arena));
    wh_tree_add_text(request->arena, page, "renew ids", ids);
    wh_tree_add_text(request->arena, page, "hands", wh_arena_print(request->arena, "%d", fitters));
    if (*ids && make_plan(request, shelf, ids, fitters, &plan, &errors) == WH_OK) {
        struct wh_tree *view = wh_view_plan(request->arena, plan);
        wh_view_units(request->arena, view);
        wh_tree_add_text(request->arena, view, "work",
                         wh_view_work(request->arena, plan->total, plan->hands, plan->fitters));
        wh_tree_add(request->arena, page, "plan", view);
    } else if (*ids) {
        reply->code = 422;
        wh_tree_add_text(request->arena, page, "wrong", wh_errors_text(request->arena, &errors));
    }
    wh_page_fill(house, request, "start", page, reply);
}
