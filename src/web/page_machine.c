/* Machines, one machine, one part. */
#include "view/due.h"
#include "view/machine.h"
#include "web/pages.h"

#include <math.h>

static const struct wh_shelf *wanted(const struct wh_house *house, const struct wh_request *request,
                                     struct wh_reply *reply)
{
    const struct wh_shelf *shelf = wh_house_machine(house, request->held[0]);
    if (!shelf)
        wh_page_wrong(house, request, 404,
                      wh_arena_print(request->arena, "There is no machine \"%s\" here.", request->held[0]),
                      "The first page lists all our machines.", reply);
    return shelf;
}

void wh_page_machines(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_tree *page = wh_page_new(house, request, "Machines");
    struct wh_tree *list = wh_tree_add_new(request->arena, page, "machines", WH_TREE_LIST);
    for (size_t i = 0; i < house->machine_count; i++) {
        struct wh_tree *item = wh_tree_add_new(request->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(request->arena, item, "id", house->machines[i].id);
        wh_tree_add_text(request->arena, item, "title", house->machines[i].machine->title);
        wh_tree_add_text(request->arena, item, "of",
                         house->machines[i].machine->of ? house->machines[i].machine->of : "");
    }
    wh_page_fill(house, request, "machines", page, reply);
}

enum { MOST_JOBS = 20 };

/* The jobs of a machine, the newest first. */
static void add_jobs(const struct wh_house *house, const struct wh_request *request, const char *machine,
                     struct wh_tree *page)
{
    struct wh_arena *arena = request->arena;
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_heads heads = {0};
    struct wh_tree *list = wh_tree_add_new(arena, page, "jobs", WH_TREE_LIST);
    if (wh_desk_jobs(house->desk, arena, machine, NULL, MOST_JOBS, &heads, &errors) != WH_OK) return;
    for (size_t i = 0; i < heads.count; i++) {
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "number", wh_arena_print(arena, "%lld", (long long)heads.at[i].job));
        wh_tree_add_text(arena, item, "title", heads.at[i].title);
        wh_tree_add_text(arena, item, "state", heads.at[i].state);
    }
}

/* What comes round again; the page does without it where the jobs cannot be read. */
static const struct wh_due *due_of(const struct wh_house *house, const struct wh_request *request,
                                   const struct wh_shelf *shelf)
{
    struct wh_errors errors = wh_errors_in(request->arena);
    struct wh_due *due = NULL;
    wh_desk_due(house->desk, request->arena, shelf->id, shelf->sheet, NAN, request->now, &due, &errors);
    return due;
}

void wh_page_due(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    struct wh_tree *page = wh_page_new(house, request, "Due");
    struct wh_tree *list = wh_tree_add_new(request->arena, page, "machines", WH_TREE_LIST);
    for (size_t i = 0; i < house->machine_count; i++) {
        const struct wh_shelf *shelf = &house->machines[i];
        const struct wh_due *due = due_of(house, request, shelf);
        if (!due) continue;
        struct wh_tree *item =
            wh_tree_add(request->arena, list, NULL, wh_view_due(request->arena, shelf->machine, due, WH_DUE_SOON));
        wh_tree_add_text(request->arena, item, "machine id", shelf->id);
        wh_tree_add_text(request->arena, item, "machine", shelf->machine->title);
    }
    wh_page_fill(house, request, "due", page, reply);
}

void wh_page_machine(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const struct wh_shelf *shelf = wanted(house, request, reply);
    if (!shelf) return;
    struct wh_tree *page = wh_page_new(house, request, shelf->machine->title);
    wh_tree_add_text(request->arena, page, "machine id", shelf->id);
    wh_tree_add(request->arena, page, "view", wh_view_machine(request->arena, shelf->sheet));
    add_jobs(house, request, shelf->id, page);
    const struct wh_due *due = due_of(house, request, shelf);
    if (due)
        wh_tree_add(request->arena, page, "due", wh_view_due(request->arena, shelf->machine, due, WH_DUE_NOT_KNOWN));
    wh_page_fill(house, request, "machine", page, reply);
}

void wh_page_part(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply)
{
    const struct wh_shelf *shelf = wanted(house, request, reply);
    if (!shelf) return;
    size_t thing = wh_machine_thing(shelf->machine, request->held[1]);
    if (thing == WH_NONE) {
        wh_page_wrong(house, request, 404,
                      wh_arena_print(request->arena, "This machine has no part \"%s\".", request->held[1]), NULL,
                      reply);
        return;
    }
    const struct wh_sheet *sheet = request->inch ? wh_view_in_inches(request->arena, shelf->sheet) : shelf->sheet;
    struct wh_tree *page = wh_page_new(house, request, shelf->machine->things[thing].title);
    wh_tree_add_text(request->arena, page, "machine id", shelf->id);
    if (shelf->machine->things[thing].kind->balancing != WH_BALANCING_NONE)
        wh_tree_add_text(request->arena, page, "balance", shelf->machine->things[thing].id);
    wh_tree_add(request->arena, page, "view", wh_view_part(request->arena, sheet, thing));
    wh_page_fill(house, request, "part", page, reply);
}
