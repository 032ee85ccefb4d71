/* What runs across the whole sheet: turning the machine, waits, the end of a phase. */
#include "paper/block.h"

#include <math.h>

void wh_paper_block_turn(struct wh_paper_work *work, const struct wh_tree *block)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    const struct wh_tree *drawing = wh_tree_get(block, "scene");
    const char *minutes = wh_tree_text(block, "minutes", "");
    double x = 0, y, high = 16;

    if (drawing && drawing->scene) {
        struct wh_paper_fit fit = wh_paper_fit(drawing->scene, 64, 26, INFINITY);

        high = fit.height + 4;
        x = fit.width + 8;
        wh_paper_put_scene(work, piece, drawing->scene, &fit, 0, 2);
    }
    wh_paper_line(work, piece, WH_PAPER_HEAVY, 0, 0, work->wide, 0);
    wh_paper_line(work, piece, WH_PAPER_HEAVY, 0, high, work->wide, 0);
    y = high / 2 - (*minutes ? 4.2 : 1.75);
    y += wh_paper_put(work, piece, x, y, work->wide - x, WH_PAPER_L35, wh_tree_text(block, "text", ""));
    wh_paper_put(work, piece, x, y + 1.2, work->wide - x, WH_PAPER_L25, minutes);
    piece->height = high;
    piece->after = 5;
    piece->keep = true;
}

void wh_paper_block_wait(struct wh_paper_work *work, const struct wh_tree *block)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    const char *text = wh_tree_text(block, "text", ""), *minutes = wh_tree_text(block, "minutes", "");
    double middle = work->wide / 2, half;

    if (*minutes) text = wh_arena_print(work->arena, "%s, %s", text, minutes);
    half = wh_paper_put_at(work, piece, middle, 2, work->wide - 30, WH_PAPER_L25, WH_ANCHOR_MIDDLE, text) / 2 + 3;
    wh_paper_line(work, piece, WH_PAPER_DOTS, 0, 3.3, middle - half, 0);
    wh_paper_line(work, piece, WH_PAPER_DOTS, middle + half, 3.3, middle - half, 0);
    piece->height = 6.5;
    piece->after = 3;
    piece->keep = true;
}

void wh_paper_block_phase(struct wh_paper_work *work, const struct wh_tree *block)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    size_t ground = piece->marks.count;
    double high;

    wh_paper_band(work, piece, 0, 0, work->wide, 0);
    high = 6 + wh_paper_put(work, piece, 4, 3.6, work->wide - 8, WH_PAPER_L35, wh_tree_text(block, "text", ""));
    piece->marks.at[ground].high = high;
    wh_paper_line(work, piece, WH_PAPER_WIDE, 0, 0, work->wide, 0);
    wh_paper_line(work, piece, WH_PAPER_WIDE, 0, high, work->wide, 0);
    piece->height = high;
    piece->after = 5;
    piece->keep = true;
}
