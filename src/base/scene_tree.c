#include "base/scene_tree.h"

#include "base/quantity.h"

#include <math.h>

/* Words for the stroke's choices, by their place in the enums of scene.h. */
static const char *const strokes[] = {"line", "area", "circle", "label", NULL};
static const char *const pens[] = {"none", "wide", "narrow", "dashed", "chain", "gone", "dotted", NULL};
static const char *const fills[] = {"none",  "paper", "hatch a", "hatch b", "hatch wide",
                                    "cross", "solid", "tint",    NULL};
static const char *const inks[] = {"ink", "grey", "pale", "copper", NULL};
static const char *const anchors[] = {"left", "middle", "right", NULL};

enum { MOST_POINTS = 100000 };

/* ---- to a tree ------------------------------------------------------------------------------------------------- */

static void add_choice(struct wh_arena *arena, struct wh_tree *map, const char *key, const char *const words[],
                       size_t place)
{
    if (place > 0) wh_tree_add_text(arena, map, key, words[place]);
}

static void add_number(struct wh_arena *arena, struct wh_tree *map, const char *key, double number)
{
    if (fabs(number) > 0) wh_tree_add_text(arena, map, key, wh_arena_print(arena, "%.2f", number));
}

static void add_stroke(struct wh_arena *arena, struct wh_tree *list, const struct wh_stroke *stroke)
{
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    struct wh_text at = {.arena = arena};
    for (size_t i = 0; i < stroke->count; i++)
        wh_text_print(&at, "%s%.2f %.2f", i ? ";" : "", stroke->at[i].x, stroke->at[i].y);
    wh_tree_add_text(arena, map, "is", strokes[stroke->is]);
    wh_tree_add_text(arena, map, "at", wh_text_of(&at));
    add_choice(arena, map, "pen", pens, stroke->pen);
    add_choice(arena, map, "fill", fills, stroke->fill);
    add_choice(arena, map, "ink", inks, stroke->ink);
    add_choice(arena, map, "anchor", anchors, stroke->anchor);
    add_number(arena, map, "radius", stroke->radius);
    add_number(arena, map, "height", stroke->height);
    add_number(arena, map, "turned", stroke->turned);
    if (stroke->text) wh_tree_add_text(arena, map, "text", stroke->text);
    if (stroke->part) wh_tree_add_text(arena, map, "part", stroke->part);
}

struct wh_tree *wh_scene_to_tree(struct wh_arena *arena, const struct wh_scene *scene)
{
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_text(arena, map, "title", scene->title);
    wh_tree_add_text(
        arena, map, "frame",
        wh_arena_print(arena, "%.2f %.2f;%.2f %.2f", scene->left, scene->bottom, scene->right, scene->top));
    struct wh_tree *list = wh_tree_add_new(arena, map, "strokes", WH_TREE_LIST);
    for (size_t i = 0; i < scene->strokes.count; i++) add_stroke(arena, list, &scene->strokes.at[i]);
    return map;
}

/* ---- of a tree ------------------------------------------------------------------------------------------------- */

static bool read_choice(const struct wh_tree *map, const char *key, const char *const words[], size_t *ret)
{
    const char *text = wh_tree_text(map, key, words[0]);
    for (*ret = 0; words[*ret]; ++*ret)
        if (wh_same(words[*ret], text)) return true;
    return false;
}

static bool read_number(const struct wh_tree *map, const char *key, double *ret)
{
    const char *text = wh_tree_text(map, key, NULL), *rest;
    *ret = 0;
    if (!text) return true;
    rest = wh_number_read(text, ret);
    return rest && !*rest && isfinite(*ret);
}

/* "1.00 2.00;3.00 4.00". */
static bool read_points(struct wh_arena *arena, const struct wh_tree *map, const char *key, struct wh_point **ret,
                        size_t *ret_count)
{
    const char *text = wh_tree_text(map, key, NULL);
    size_t most = 1;
    for (const char *c = text ? text : ""; *c; c++) most += *c == ';';
    if (!text || most > MOST_POINTS) return false;
    *ret = WH_NEW(arena, most, struct wh_point);
    for (*ret_count = 0; *text; ++*ret_count) {
        struct wh_point *point = &(*ret)[*ret_count];
        text = wh_number_read(text, &point->x);
        if (!text || *text != ' ') return false;
        text = wh_number_read(text + 1, &point->y);
        if (!text || (*text && *text != ';')) return false;
        if (!isfinite(point->x) || !isfinite(point->y)) return false;
        if (*text) text++;
    }
    return true;
}

static bool read_stroke(struct wh_scene *scene, const struct wh_tree *map)
{
    struct wh_stroke stroke = {0};
    struct wh_point *at;
    size_t is, pen, fill, ink, anchor;
    if (!read_choice(map, "is", strokes, &is) || !read_choice(map, "pen", pens, &pen) ||
        !read_choice(map, "fill", fills, &fill) || !read_choice(map, "ink", inks, &ink) ||
        !read_choice(map, "anchor", anchors, &anchor) || !read_points(scene->arena, map, "at", &at, &stroke.count) ||
        !read_number(map, "radius", &stroke.radius) || !read_number(map, "height", &stroke.height) ||
        !read_number(map, "turned", &stroke.turned))
        return false;
    const char *text = wh_tree_text(map, "text", NULL), *part = wh_tree_text(map, "part", NULL);
    bool one = is == WH_STROKE_CIRCLE || is == WH_STROKE_LABEL;
    if ((one && stroke.count != 1) || (is == WH_STROKE_LABEL && (!text || !(stroke.height > 0)))) return false;
    stroke.is = (enum wh_stroke_is)is;
    stroke.pen = (enum wh_pen)pen;
    stroke.fill = (enum wh_fill)fill;
    stroke.ink = (enum wh_ink)ink;
    stroke.anchor = (enum wh_anchor)anchor;
    stroke.at = at;
    stroke.text = text ? wh_arena_text(scene->arena, text) : NULL;
    stroke.part = part ? wh_arena_text(scene->arena, part) : NULL;
    *WH_PUSH(scene->arena, &scene->strokes) = stroke;
    return true;
}

struct wh_scene *wh_scene_of_tree(struct wh_arena *arena, const struct wh_tree *tree)
{
    const struct wh_tree *list = wh_tree_get(tree, "strokes");
    struct wh_scene *scene = wh_scene_new(arena, wh_tree_text(tree, "title", ""));
    struct wh_point *frame;
    size_t count;
    if (!list || list->is != WH_TREE_LIST || !read_points(arena, tree, "frame", &frame, &count) || count != 2)
        return NULL;
    for (const struct wh_tree *item = list->first; item; item = item->next)
        if (!read_stroke(scene, item)) return NULL;
    wh_scene_frame(scene, frame[0].x, frame[0].y, frame[1].x, frame[1].y);
    return scene;
}
