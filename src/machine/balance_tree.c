/* A balancing sheet put together line by line. */
#include "machine/balance_read.h"

struct wh_tree *wh_balance_tree(struct wh_arena *arena)
{
    static const char *const lists[] = {"planes", "sensors", "runs"};
    struct wh_tree *tree = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, tree, "format", "1");
    for (size_t i = 0; i < 3; i++) wh_tree_add_new(arena, tree, lists[i], WH_TREE_LIST);
    return tree;
}

void wh_balance_line(struct wh_arena *arena, struct wh_tree *to, const char *key, const char *text)
{
    if (text && *text) wh_tree_add_text(arena, to, key, text);
}

struct wh_tree *wh_balance_item(struct wh_arena *arena, struct wh_tree *tree, const char *list, const char *id)
{
    struct wh_tree *item = wh_tree_add_new(arena, wh_tree_get(tree, list), NULL, WH_TREE_MAP);
    wh_tree_add_text(arena, item, "id", id);
    return item;
}

void wh_balance_sensors(struct wh_arena *arena, struct wh_tree *tree)
{
    const struct wh_tree *last = wh_tree_get(tree, "runs")->last;
    size_t count = last ? wh_split(arena, wh_tree_text(last, "reads", ""), ';').count : 0;
    for (size_t s = 1; s <= count; s++)
        wh_balance_item(arena, tree, "sensors", count == 1 ? "sensor" : wh_arena_print(arena, "sensor-%zu", s));
}
