#include "view/spread.h"

#include "view/figure.h"

#include <math.h>

/* A share in per cent, two digits; one that no trial showed is less than one trial. */
static const char *share_words(struct wh_arena *arena, double share, size_t trials)
{
    if (share <= 0) return wh_arena_print(arena, "none of %zu", trials);
    int decimals = share < 0.1 ? (int)fmin(1 - floor(log10(100 * share)), 6) : 1;
    return wh_arena_print(arena, "%.*f %%", decimals, 100 * share);
}

static void add_limits(struct wh_arena *arena, struct wh_tree *map, const struct wh_form *form, struct wh_limits limits,
                       const struct wh_spread *spread, size_t trials)
{
    if (!isfinite(limits.least) && !isfinite(limits.most)) return;
    wh_tree_add_text(arena, map, "limits", wh_view_limits(arena, form, limits.least, limits.most));
    wh_tree_add_number(arena, map, "share below", spread->below);
    wh_tree_add_number(arena, map, "share above", spread->above);
    wh_tree_add_text(arena, map, "outside", share_words(arena, spread->below + spread->above, trials));
}

/* Does it move by more than the last bit of a sum? */
static bool moves(const struct wh_spread *spread)
{
    return spread->u > 1e-9 * fabs(spread->mean) || (spread->none > 0 && spread->none < 1);
}

static void add_matters(struct wh_arena *arena, struct wh_tree *map, const struct wh_sheet *sheet,
                        const struct wh_spread *spread)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "hangs most on", WH_TREE_LIST);
    for (size_t m = 0; moves(spread) && m < spread->matter_count; m++) {
        struct wh_tree *item = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(arena, item, "name", sheet->cells[spread->matters[m].cell].name);
        wh_tree_add_number(arena, item, "rank correlation", spread->matters[m].rank);
    }
}

static void add_spread(struct wh_arena *arena, struct wh_tree *list, const struct wh_sheet *sheet,
                       const struct wh_spread_wish *wish, size_t f, const struct wh_spread *spread)
{
    const struct wh_cell *cell = &sheet->cells[wish->cells[f]];
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    struct wh_unit bare = cell->form.unit;
    bare.offset = 0;
    bare.length = 0;
    wh_tree_add_text(arena, map, "name", cell->name);
    wh_tree_add_text(arena, map, "title", cell->title ? cell->title : "");
    wh_tree_add_text(arena, map, "value", wh_view_value(arena, &cell->form, spread->mean, spread->u / 10));
    wh_tree_add_text(arena, map, "u", isfinite(spread->u) ? wh_quantity_print(arena, spread->u, &bare, 2) : "-");
    wh_tree_add_text(arena, map, "span", wh_view_span(arena, &cell->form, spread->low, spread->high, spread->u / 10));
    wh_tree_add_number(arena, map, "mean", spread->mean);
    wh_tree_add_number(arena, map, "standard uncertainty", spread->u);
    wh_tree_add_number(arena, map, "low", spread->low);
    wh_tree_add_number(arena, map, "high", spread->high);
    wh_tree_add_number(arena, map, "share without an answer", spread->none);
    if (spread->none > 0) wh_tree_add_text(arena, map, "no answer", share_words(arena, spread->none, wish->trials));
    if (wish->limits) add_limits(arena, map, &cell->form, wish->limits[f], spread, wish->trials);
    if (wish->matters && cell->use != WH_NONE) add_matters(arena, map, sheet, spread);
}

struct wh_tree *wh_view_spreads(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_spread_wish *wish,
                                const struct wh_spread spreads[], bool steady)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    size_t left_out = 0;
    wh_tree_add_number(arena, map, "trials", (double)wish->trials);
    wh_tree_add_text(arena, map, "seed", wh_arena_print(arena, "%llu", (unsigned long long)wish->seed));
    struct wh_tree *list = wh_tree_add_new(arena, map, "spreads", WH_TREE_LIST);
    for (size_t f = 0; f < wish->count; f++) {
        if (steady || (moves(&spreads[f]) && sheet->cells[wish->cells[f]].use != WH_NONE))
            add_spread(arena, list, sheet, wish, f, &spreads[f]);
        else if (sheet->cells[wish->cells[f]].use != WH_NONE)
            left_out++;
    }
    wh_tree_add_number(arena, map, "steady", (double)left_out);
    return map;
}

static void print_spread(struct wh_text *text, const struct wh_tree *spread)
{
    const char *outside = wh_tree_text(spread, "outside", NULL), *none = wh_tree_text(spread, "no answer", NULL);
    const struct wh_tree *matters = wh_tree_get(spread, "hangs most on");
    wh_text_print(text, "%-44s %-16s u %-9s 95 %% in %-26s %s\n", wh_tree_text(spread, "name", ""),
                  wh_tree_text(spread, "value", ""), wh_tree_text(spread, "u", ""), wh_tree_text(spread, "span", ""),
                  wh_tree_text(spread, "title", ""));
    if (outside) wh_text_print(text, "    outside %s: %s\n", wh_tree_text(spread, "limits", ""), outside);
    if (none) wh_text_print(text, "    no answer: %s, not averaged in\n", none);
    if (!matters || !matters->first) return;
    wh_text_add(text, "    hangs most on");
    for (const struct wh_tree *m = matters->first; m; m = m->next) {
        double rank = 0;
        wh_number_read(wh_tree_text(m, "rank correlation", "0"), &rank);
        wh_text_print(text, "%s %s %+.2f", m == matters->first ? "" : ",", wh_tree_text(m, "name", ""), rank);
    }
    wh_text_add(text, "\n");
}

const char *wh_view_spreads_text(struct wh_arena *arena, const struct wh_tree *spreads)
{
    struct wh_text text = {.arena = arena};
    const char *steady = wh_tree_text(spreads, "steady", "0");
    wh_text_print(&text, "%s trials, seed %s; u is the standard uncertainty, %s\n", wh_tree_text(spreads, "trials", ""),
                  wh_tree_text(spreads, "seed", ""), "hangs on by rank correlation");
    for (const struct wh_tree *s = wh_tree_get(spreads, "spreads")->first; s; s = s->next) print_spread(&text, s);
    if (*steady != '0') wh_text_print(&text, "%s more hang on nothing uncertain and stand still\n", steady);
    return wh_text_of(&text);
}
