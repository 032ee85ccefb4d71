#include "base/tree.h"

#include "base/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct wh_tree *wh_tree_new(struct wh_arena *arena, enum wh_tree_is is)
{
    struct wh_tree *tree = WH_NEW(arena, 1, struct wh_tree);
    tree->is = is;
    return tree;
}

struct wh_tree *wh_tree_add(struct wh_arena *arena, struct wh_tree *to, const char *key, struct wh_tree *node)
{
    if (key) node->key = wh_arena_text(arena, key);
    if (to->last) {
        to->last->next = node;
    } else {
        to->first = node;
    }
    to->last = node;
    to->count++;
    return node;
}

struct wh_tree *wh_tree_add_new(struct wh_arena *arena, struct wh_tree *to, const char *key, enum wh_tree_is is)
{
    return wh_tree_add(arena, to, key, wh_tree_new(arena, is));
}

static struct wh_tree *add_leaf(struct wh_arena *arena, struct wh_tree *to, const char *key, enum wh_tree_is is,
                                const char *text)
{
    struct wh_tree *leaf = wh_tree_add_new(arena, to, key, is);
    leaf->text = wh_arena_text(arena, text);
    return leaf;
}

struct wh_place wh_tree_key_place(const struct wh_tree *node)
{
    return (struct wh_place){node->place.file, node->key_line, node->key_column};
}

struct wh_tree *wh_tree_add_text(struct wh_arena *arena, struct wh_tree *to, const char *key, const char *text)
{
    return add_leaf(arena, to, key, WH_TREE_TEXT, text);
}

struct wh_tree *wh_tree_copy(struct wh_arena *arena, const struct wh_tree *tree)
{
    struct wh_tree *copy = wh_tree_new(arena, tree->is);
    copy->text = tree->text ? wh_arena_text(arena, tree->text) : NULL;
    copy->scene = tree->scene;
    copy->place = tree->place;
    copy->key_line = tree->key_line, copy->key_column = tree->key_column;
    for (const struct wh_tree *node = tree->first; node; node = node->next)
        wh_tree_add(arena, copy, node->key, wh_tree_copy(arena, node));
    return copy;
}

/* The shortest of 15, 16 and 17 digits that reads back as the same number. */
static const char *number_text(struct wh_arena *arena, double number)
{
    if (!isfinite(number)) return "null";
    for (int digits = 15; digits < 17; digits++) {
        const char *text = wh_arena_print(arena, "%.*g", digits, number);
        double back;
        if (sscanf(text, "%lf", &back) == 1 && back >= number && back <= number) return text;
    }
    return wh_arena_print(arena, "%.17g", number);
}

struct wh_tree *wh_tree_add_number(struct wh_arena *arena, struct wh_tree *to, const char *key, double number)
{
    return add_leaf(arena, to, key, WH_TREE_NUMBER, number_text(arena, number));
}

struct wh_tree *wh_tree_add_truth(struct wh_arena *arena, struct wh_tree *to, const char *key, bool truth)
{
    return add_leaf(arena, to, key, WH_TREE_TRUTH, truth ? "true" : "false");
}

struct wh_tree *wh_tree_get(const struct wh_tree *map, const char *key)
{
    if (!map) return NULL;
    for (struct wh_tree *node = map->first; node; node = node->next)
        if (node->key && node->key[0] == key[0] && strcmp(node->key, key) == 0) return node;
    return NULL;
}

const char *wh_tree_text(const struct wh_tree *map, const char *key, const char *otherwise)
{
    const struct wh_tree *node = wh_tree_get(map, key);
    return node && node->text ? node->text : otherwise;
}

double wh_tree_number(const struct wh_tree *map, const char *key, double otherwise)
{
    const struct wh_tree *node = wh_tree_get(map, key);
    double number;
    const char *end = node && node->is == WH_TREE_NUMBER ? wh_number_read(node->text, &number) : NULL;
    return end && !*end ? number : otherwise;
}

bool wh_tree_same(const struct wh_tree *a, const struct wh_tree *b)
{
    if (!a || !b) return a == b;
    if (a->is != b->is || a->count != b->count || !wh_same(a->key, b->key)) return false;
    if (a->is < WH_TREE_LIST) return wh_same(a->text, b->text);
    const struct wh_tree *x = a->first, *y = b->first;
    while (x && y && wh_tree_same(x, y)) x = x->next, y = y->next;
    return !x && !y;
}

static bool stands_for_itself(unsigned char c)
{
    return c != '"' && c != '\\' && c >= ' ';
}

static void json_string(struct wh_text *to, const char *text)
{
    wh_text_add(to, "\"");
    for (const char *c = text; *c;) {
        size_t n = 0;
        while (c[n] && stands_for_itself((unsigned char)c[n])) n++;
        wh_text_add_slice(to, c, n);
        c += n;
        if (*c == '"' || *c == '\\') {
            wh_text_print(to, "\\%c", *c++);
        } else if (*c == '\n') {
            wh_text_add(to, "\\n");
            c++;
        } else if (*c) {
            wh_text_print(to, "\\u%04x", *c++);
        }
    }
    wh_text_add(to, "\"");
}

/* level < 0: all in one line. */
static void json_node(struct wh_text *to, const struct wh_tree *tree, int level)
{
    if (tree->is == WH_TREE_NUMBER || tree->is == WH_TREE_TRUTH) {
        wh_text_add(to, tree->text);
        return;
    }
    if (tree->is == WH_TREE_TEXT || tree->is == WH_TREE_SCENE || tree->is == WH_TREE_PICTURE) {
        json_string(to, tree->text ? tree->text : "");
        return;
    }
    bool map = tree->is == WH_TREE_MAP, line = level < 0;
    wh_text_add(to, map ? "{" : "[");
    for (const struct wh_tree *node = tree->first; node; node = node->next) {
        if (!line) wh_text_print(to, "\n%*s", 2 * (level + 1), "");
        if (map) {
            json_string(to, node->key);
            wh_text_add(to, line ? ":" : ": ");
        }
        json_node(to, node, line ? level : level + 1);
        if (node->next) wh_text_add(to, ",");
    }
    if (tree->first && !line) wh_text_print(to, "\n%*s", 2 * level, "");
    wh_text_add(to, map ? "}" : "]");
}

const char *wh_tree_line(struct wh_arena *arena, const struct wh_tree *tree)
{
    struct wh_text text = {.arena = arena};
    json_node(&text, tree, -1);
    return wh_text_of(&text);
}

const char *wh_tree_json(struct wh_arena *arena, const struct wh_tree *tree)
{
    struct wh_text text = {.arena = arena};
    json_node(&text, tree, 0);
    wh_text_add(&text, "\n");
    return wh_text_of(&text);
}
