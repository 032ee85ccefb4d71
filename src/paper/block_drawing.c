/* A drawing with the key to its item numbers. */
#include "paper/block.h"

#include <math.h>

static const double BESIDE = 50, GAP = 5, CAPTION = 6, HEADING = 12;
enum { COLUMNS = 3 };

static const struct wh_paper_style KEY = {WH_PAPER_PLAIN, 2.7, WH_INK}, KEY_NUMBER = {WH_PAPER_LETTER, 2.2, WH_INK};

static double put_item(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double width,
                       const struct wh_tree *item)
{
    bool gone = wh_same(wh_tree_text(item, "gone", "false"), "true");
    struct wh_paper_style words = KEY, number = KEY_NUMBER;
    const char *text = wh_tree_text(item, "text", "");

    if (gone) {
        words.ink = number.ink = WH_INK_GREY;
        text = wh_arena_print(work->arena, "%s (%s)", text, wh_paper_word(work, "off"));
    }
    wh_paper_put_at(work, piece, x + 5.5, y, 0, number, WH_ANCHOR_RIGHT, wh_tree_text(item, "number", ""));
    return fmax(wh_paper_put(work, piece, x + 8, y, width - 8, words, text), 2.6) + 1.2;
}

/* Sets the key in columns of equal count, read downward; gives its height. */
static double put_key(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double width,
                      size_t columns, const struct wh_tree *key)
{
    size_t count = key ? key->count : 0, rows = (count + columns - 1) / columns, i = 0;
    double down = y, height = 0, each = (width - GAP * (double)(columns - 1)) / (double)columns;

    for (const struct wh_tree *item = key ? key->first : NULL; item; item = item->next, i++) {
        if (i % rows == 0) down = y;
        down += put_item(work, piece, x + (double)(i / rows) * (each + GAP), down, each, item);
        height = fmax(height, down - y);
    }
    return height;
}

static double key_height(const struct wh_paper_work *work, double width, size_t columns, const struct wh_tree *key)
{
    struct wh_paper_piece trial = {0};

    return put_key(work, &trial, 0, 0, width, columns, key);
}

/* Where the key goes: beside or below, whichever leaves the drawing larger. */
struct arrangement {
    bool beside;
    struct wh_paper_fit fit;
};

static struct arrangement arrange(const struct wh_paper_work *work, const struct wh_scene *scene,
                                  const struct wh_tree *key)
{
    double room = work->high - HEADING - CAPTION, below = key ? key_height(work, work->wide, COLUMNS, key) + GAP : 0;
    struct wh_paper_fit under = wh_paper_fit(scene, work->wide, fmax(room - below, room / 3), INFINITY), by;

    if (!key || key_height(work, BESIDE, 1, key) > room) return (struct arrangement){false, under};
    by = wh_paper_fit(scene, work->wide - BESIDE - GAP, room, INFINITY);
    return by.scale > under.scale ? (struct arrangement){true, by} : (struct arrangement){false, under};
}

void wh_paper_block_drawing(struct wh_paper_work *work, const struct wh_tree *block)
{
    const struct wh_tree *drawing = wh_tree_get(block, "scene"), *key = wh_tree_get(block, "key");
    struct wh_paper_piece *piece = wh_paper_piece(work);

    if (!drawing || !drawing->scene) {
        wh_errors_add(work->errors, WH_ERR_INPUT, block->place, NULL, "a drawing without a scene");
        return;
    }
    struct arrangement how = arrange(work, drawing->scene, key);
    double wide = how.beside ? work->wide - BESIDE - GAP : work->wide, high = how.fit.height + 2;

    wh_paper_put_scene(work, piece, drawing->scene, &how.fit, how.beside ? 0 : (wide - how.fit.width) / 2, 0);
    high += wh_paper_put(work, piece, 0, high + 1, wide, WH_PAPER_FAINT, wh_tree_text(block, "caption", ""));
    if (how.beside) {
        high = fmax(high, put_key(work, piece, wide + GAP, 0, BESIDE, 1, key));
    } else {
        high += GAP + put_key(work, piece, 0, high + GAP, work->wide, COLUMNS, key);
    }
    piece->height = high;
    piece->after = 4;
}
