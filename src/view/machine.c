#include "view/machine.h"

#include "view/dimension.h"
#include "view/figure.h"
#include "view/section.h"

static const char *renew_words(enum wh_renew renew)
{
    static const char *const words[] = {"always, once it is disturbed", "when it is worn",
                                        "never here, only with the maker"};
    return words[renew];
}

static void add_section(struct wh_arena *arena, struct wh_tree *map, const struct wh_machine *machine, size_t part)
{
    struct wh_section_ask ask = {.part = part};
    struct wh_tree *node = wh_tree_add_new(arena, map, "section", WH_TREE_SCENE);
    node->scene = wh_view_section(arena, machine, &ask);
    node->text = node->scene->title;
}

static void add_name(struct wh_arena *arena, struct wh_tree *map, const struct wh_thing *thing)
{
    wh_tree_add_text(arena, map, "id", thing->id);
    wh_tree_add_text(arena, map, "title", thing->title);
    wh_tree_add_text(arena, map, "kind", thing->kind->title);
}

static void add_things(struct wh_arena *arena, struct wh_tree *map, const char *key, const struct wh_machine *machine,
                       enum wh_section section)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (size_t t = 0; t < machine->thing_count; t++) {
        const struct wh_thing *thing = &machine->things[t];
        if (thing->section != section) continue;
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        add_name(arena, item, thing);
        if (section != WH_SECTION_PARTS) continue;
        wh_tree_add_text(arena, item, "renew", thing->way_count ? renew_words(thing->renew) : "it stays where it is");
        wh_tree_add_truth(arena, item, "can be renewed", thing->way_count && thing->renew != WH_RENEW_NEVER);
    }
}

struct wh_tree *wh_view_machine(struct wh_arena *arena, const struct wh_sheet *sheet)
{
    const struct wh_machine *machine = sheet->machine;
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "machine", machine->title);
    if (machine->of) wh_tree_add_text(arena, map, "of", machine->of);
    add_section(arena, map, machine, WH_NONE);
    add_things(arena, map, "the machine itself", machine, WH_SECTION_MACHINE);
    add_things(arena, map, "parts", machine, WH_SECTION_PARTS);
    add_things(arena, map, "features", machine, WH_SECTION_FEATURES);
    add_things(arena, map, "fixtures", machine, WH_SECTION_FIXTURES);
    struct wh_tree *energies = wh_tree_add_new(arena, map, "energies", WH_TREE_LIST);
    for (size_t i = 0; i < machine->energy_count; i++) {
        struct wh_tree *item = wh_tree_add_new(arena, energies, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "energy", machine->energies[i].title);
        wh_tree_add_text(arena, item, "off", machine->energies[i].off);
        wh_tree_add_text(arena, item, "tried", machine->energies[i].tried);
    }
    struct wh_tree *gauges = wh_tree_add_new(arena, map, "gauges", WH_TREE_LIST);
    for (size_t i = 0; i < machine->gauge_count; i++) {
        const struct wh_gauge *gauge = &machine->gauges[i];
        struct wh_tree *item = wh_tree_add_new(arena, gauges, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "title", gauge->title);
        wh_tree_add_text(
            arena, item, "uncertainty",
            wh_arena_print(arena, "± %s (k = 2)", wh_quantity_print(arena, gauge->uncertainty.best, &gauge->unit, 1)));
    }
    wh_view_units(arena, map);
    return map;
}

static void add_roles(struct wh_arena *arena, struct wh_tree *map, const struct wh_machine *machine,
                      const struct wh_thing *thing)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "belongs to", WH_TREE_LIST);
    for (size_t r = 0; r < thing->role_count; r++) {
        const struct wh_thing *other = &machine->things[thing->roles[r].thing];
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "role", thing->roles[r].name);
        add_name(arena, item, other);
    }
}

/* What is fitted for it and what it is taken off with is told by the plan; here only what a hand has written. */
static void add_words(struct wh_arena *arena, struct wh_tree *map, const char *key, struct wh_words words)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (size_t i = 0; i < words.count; i++) wh_tree_add_text(arena, list, NULL, words.at[i]);
}

static void add_windows(struct wh_arena *arena, struct wh_tree *part, const struct wh_sheet *sheet)
{
    for (struct wh_tree *item = wh_tree_get(part, "figures")->first; item; item = item->next) {
        size_t cell = wh_sheet_cell(sheet, wh_tree_text(item, "name", ""));
        if (cell != WH_NONE) wh_view_add_scene(arena, item, "drawn", wh_view_window(arena, sheet, cell));
    }
}

struct wh_tree *wh_view_part(struct wh_arena *arena, const struct wh_sheet *sheet, size_t t)
{
    const struct wh_machine *machine = sheet->machine;
    const struct wh_thing *thing = &machine->things[t];
    struct wh_tree *map = wh_view_figures(arena, sheet, t, true);
    add_windows(arena, map, sheet);
    add_name(arena, map, thing);
    wh_tree_add_text(arena, map, "machine", machine->title);
    if (thing->section == WH_SECTION_PARTS) wh_tree_add_text(arena, map, "renew", renew_words(thing->renew));
    if (thing->round) wh_tree_add_text(arena, map, "round", thing->round);
    if (thing->mass > 0) wh_tree_add_text(arena, map, "mass", wh_arena_print(arena, "%.3g kg", thing->mass));
    if (thing->ring_count) add_section(arena, map, machine, t);
    add_roles(arena, map, machine, thing);
    add_words(arena, map, "cautions off", thing->off_cautions);
    add_words(arena, map, "cautions on", thing->on_cautions);
    wh_view_units(arena, map);
    return map;
}
