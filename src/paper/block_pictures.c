/* Photos and small drawings, one or two beside each other, each with its words below. */
#include "paper/block.h"

#include <math.h>

static const double GAP = 6, TALLEST = 92;

/* Puts a drawing, or a photo upright, into a width and gives the height it takes with its words. */
static double put_item(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double width,
                       const struct wh_tree *item)
{
    const struct wh_tree *node = wh_tree_get(item, "picture"), *drawing = wh_tree_get(item, "scene");
    const char *words = wh_tree_text(item, "text", "");
    double high = 0;

    if (node && node->is == WH_TREE_PICTURE) {
        bool lying = node->picture->turn >= 5;
        double across = lying ? node->picture->high : node->picture->wide,
               up = lying ? node->picture->wide : node->picture->high, scale = fmin(width / across, TALLEST / up);
        wh_paper_put_picture(work, piece, node->picture, x, 0, across * scale, up * scale);
        high = up * scale + 1.5;
    } else if (drawing && drawing->is == WH_TREE_SCENE) {
        struct wh_paper_fit fit = wh_paper_fit(drawing->scene, width, TALLEST, INFINITY);
        wh_paper_put_scene(work, piece, drawing->scene, &fit, x + (width - fit.width) / 2, 0);
        high = fit.height + 1.5;
    }
    return high + wh_paper_put(work, piece, x, high, width, WH_PAPER_FAINT, words);
}

void wh_paper_block_pictures(struct wh_paper_work *work, const struct wh_tree *block)
{
    const struct wh_tree *items = wh_tree_get(block, "items");
    bool alone = wh_paper_whole(block, "columns", 2) == 1;
    double width = alone ? work->wide : (work->wide - GAP) / 2;

    for (const struct wh_tree *item = items ? items->first : NULL; item; item = item->next) {
        struct wh_paper_piece *piece = wh_paper_piece(work);

        piece->after = 5;
        piece->height = put_item(work, piece, 0, width, item);
        if (alone) continue;
        if (!item->next) break;
        item = item->next;
        piece->height = fmax(piece->height, put_item(work, piece, width + GAP, width, item));
    }
}
