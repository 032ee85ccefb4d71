/* The reasons of a plan for a terminal. */
#include "view/plan.h"
#include "view/why.h"

enum { MOST_NAMED = 4 };

static void print_names(struct wh_text *text, const char *lead, const struct wh_tree *list)
{
    size_t n = 0;
    if (!list || list->count == 0) return;
    wh_text_print(text, "  %-12s ", lead);
    for (const struct wh_tree *item = list->first; item && n < MOST_NAMED; item = item->next, n++)
        wh_text_print(text, "%s%s", n ? "; " : "", item->text);
    if (list->count > MOST_NAMED) wh_text_print(text, "; and %zu more", (size_t)list->count - MOST_NAMED);
    wh_text_add(text, "\n");
}

static void print_line(struct wh_text *text, const struct wh_tree *map, const char *key, const char *lead)
{
    const char *words = wh_tree_text(map, key, NULL);
    if (words) wh_text_print(text, "  %-12s %s\n", lead, words);
}

static double number(const struct wh_tree *map, const char *key)
{
    double value = 0;
    wh_number_read(wh_tree_text(map, key, "0"), &value);
    return value;
}

static void print_way(struct wh_text *text, const struct wh_tree *way)
{
    wh_text_print(text, "\n%s leaves %s\n", wh_tree_text(way, "part", ""), wh_tree_text(way, "way", ""));
    wh_text_print(text, "  %-12s %s: %s\n", "other way", wh_tree_text(way, "other way", ""),
                  wh_tree_text(way, "other way costs", ""));
    const struct wh_tree *changes = wh_tree_get(way, "it would be quicker if");
    for (const struct wh_tree *c = changes ? changes->first : NULL; c; c = c->next)
        wh_text_print(text, "  %-12s %s\n", c == changes->first ? "quicker if" : "or if", c->text);
}

static void print_step(struct wh_text *text, const struct wh_tree *step)
{
    wh_text_print(text, "\n%.0f  %s%s\n", number(step, "number"), wh_tree_text(step, "what", ""),
                  wh_tree_get(step, "done") ? ", done" : "");
    print_line(text, step, "because", "because");
    print_names(text, "waits for", wh_tree_get(step, "waits for"));
    print_names(text, "before", wh_tree_get(step, "waited for by"));
    print_line(text, step, "earlier", "earlier");
    print_line(text, step, "later", "later");
    print_line(text, step, "place", "elsewhere");
    print_line(text, step, "minutes", "minutes");
}

const char *wh_view_why_text(struct wh_arena *arena, const struct wh_tree *why)
{
    struct wh_text text = {.arena = arena};
    const struct wh_tree *steps = wh_tree_get(why, "steps"), *longer = wh_tree_get(why, "may take longer");
    for (const struct wh_tree *step = steps ? steps->first : NULL; step; step = step->next) print_step(&text, step);
    for (const struct wh_tree *way = wh_tree_get(why, "ways")->first; way; way = way->next) print_way(&text, way);
    if (!longer) return wh_text_of(&text);
    wh_text_print(&text, "\n%.0f steps lengthen the whole by each minute more that they take\n",
                  number(why, "steps that lengthen the whole at once"));
    for (const struct wh_tree *item = longer->first; item; item = item->next)
        wh_text_print(&text, "  %-12s %s: %s\n", item == longer->first ? "may longer" : "",
                      wh_tree_text(item, "what", ""), wh_view_minutes(arena, number(item, "spare minutes") * 60));
    return wh_text_of(&text);
}
