/* A trim balance as plain text. */
#include "view/balance.h"

static void add_says(struct wh_text *out, const struct wh_tree *list, const char *head)
{
    for (const struct wh_tree *item = list ? list->first : NULL; item; item = item->next) {
        const char *right = wh_tree_text(item, "right", NULL);
        wh_text_print(out, "%s%s%s%s\n", head, wh_tree_text(item, "says", ""), right ? "\n            " : "",
                      right ? right : "");
    }
}

static void add_plane(struct wh_text *out, const struct wh_tree *plane, const char *head)
{
    const char *doubt = wh_tree_text(plane, "doubt", NULL), *proof = wh_tree_text(plane, "proof", NULL);
    wh_text_print(out, "\n%s%s\n", head, wh_tree_text(plane, "plane", ""));
    wh_text_print(out, "  wanted    %s%s%s\n", wh_tree_text(plane, "wanted", ""), doubt ? "  " : "",
                  doubt ? doubt : "");
    const struct wh_tree *masses = wh_tree_get(plane, "masses");
    for (const struct wh_tree *item = masses->first; item; item = item->next)
        wh_text_print(out, "  %-9s %s  %s  (pulls %s)\n", wh_tree_text(plane, "deed", ""),
                      wh_tree_text(item, "mass", ""), wh_tree_text(item, "where", ""), wh_tree_text(item, "pull", ""));
    wh_text_print(out, "  leaves    %s%s%s\n", wh_tree_text(plane, "left", ""), proof ? ", " : "", proof ? proof : "");
    const struct wh_tree *choices = wh_tree_get(plane, "choices");
    for (const struct wh_tree *item = choices->first; item; item = item->next)
        wh_text_print(out, "            %s %s: %s\n", wh_tree_text(item, "masses", ""),
                      wh_same(wh_tree_text(item, "masses", ""), "1") ? "mass" : "masses",
                      wh_tree_text(item, "leaves", ""));
}

static void add_permissible(struct wh_text *out, const struct wh_tree *map)
{
    const struct wh_tree *places = wh_tree_get(map, "places");
    if (!map) return;
    wh_text_print(out, "\nPermissible residual unbalance %s (%s)\n", wh_tree_text(map, "whole", ""),
                  wh_tree_text(map, "from", ""));
    for (const struct wh_tree *item = places->first; item; item = item->next) {
        const char *doubt = wh_tree_text(item, "doubt", NULL);
        wh_text_print(out, "  %-14s allowed %s, now %s (%s), then %s%s%s: %s\n", wh_tree_text(item, "name", ""),
                      wh_tree_text(item, "allowed", ""), wh_tree_text(item, "before", ""),
                      wh_tree_text(item, "verdict before", ""), wh_tree_text(item, "left", ""), doubt ? " +- " : "",
                      doubt ? doubt : "", wh_tree_text(item, "verdict", ""));
    }
}

static void add_readings(struct wh_text *out, const struct wh_tree *list)
{
    if (!list) return;
    wh_text_add(out, "\nReadings at once a turn\n");
    for (const struct wh_tree *item = list->first; item; item = item->next) {
        const char *most = wh_tree_text(item, "at most", NULL);
        wh_text_print(out, "  %-14s now %s, then %s%s%s\n", wh_tree_text(item, "sensor", ""),
                      wh_tree_text(item, "now", ""), wh_tree_text(item, "after", ""), most ? ", at most " : "",
                      most ? most : "");
    }
}

static void add_effects(struct wh_text *out, const struct wh_tree *list)
{
    if (!list || !list->first) return;
    wh_text_add(out, "\nKeep for next time, for the same speed, angles and phases:\nknown effects:\n");
    for (const struct wh_tree *item = list->first; item; item = item->next)
        for (const struct wh_tree *line = item->first; line; line = line->next)
            wh_text_print(out, "%s%s: %s\n", line == item->first ? "  - " : "    ", line->key, line->text);
}

const char *wh_view_balance_text(struct wh_arena *arena, const struct wh_tree *balance)
{
    struct wh_text out = {.arena = arena};
    wh_text_print(&out, "%s\n", wh_tree_text(balance, "says", ""));
    add_says(&out, wh_tree_get(balance, "refused"), "  refused:  ");
    add_says(&out, wh_tree_get(balance, "doubts"), "  doubtful: ");
    add_says(&out, wh_tree_get(balance, "mind"), "  mind:     ");
    wh_text_print(&out, "\nAngles: %s.\nRuns at %s.\n", wh_tree_text(balance, "counting", ""),
                  wh_tree_text(balance, "speed", ""));
    for (const struct wh_tree *item = wh_tree_get(balance, "fitted")->first; item; item = item->next)
        wh_text_print(&out, "  %-14s %s  %s of %s, pulls %s; fastened: %s\n", wh_tree_text(item, "run", ""),
                      wh_tree_text(item, "mass", ""), wh_tree_text(item, "where", ""), wh_tree_text(item, "plane", ""),
                      wh_tree_text(item, "pull", ""), wh_tree_text(item, "fastened", ""));
    const struct wh_tree *planes = wh_tree_get(balance, "planes"), *other = wh_tree_get(balance, "or else");
    for (const struct wh_tree *item = planes ? planes->first : NULL; item; item = item->next)
        add_plane(&out, item, "Plane ");
    if (other) add_plane(&out, other, "Or, where that is worse, plane ");
    add_permissible(&out, wh_tree_get(balance, "permissible"));
    add_readings(&out, wh_tree_get(balance, "readings"));
    add_effects(&out, wh_tree_get(balance, "known effects"));
    return wh_text_of(&out);
}
