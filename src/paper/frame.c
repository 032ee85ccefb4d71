#include "paper/frame.h"

static const double ROW = 8; /* of the title block, mm */

/* A field of the title block: small name above, what it says below; an empty one is filled in by hand. */
static void field(const struct wh_paper_work *work, struct wh_paper_piece *piece, const char *name, double x, double y,
                  double wide, const char *says)
{
    wh_paper_box(work, piece, WH_PAPER_NARROW, x, y, wide, ROW);
    wh_paper_put_at(work, piece, x + 1.2, y + 1, 0, WH_PAPER_CAPTION, WH_ANCHOR_LEFT, wh_paper_word(work, name));
    wh_paper_put_at(work, piece, x + 1.2, y + 3.8, wide - 2.4, WH_PAPER_L30, WH_ANCHOR_LEFT, says);
}

static void title_block(const struct wh_paper_work *work, struct wh_paper_piece *piece,
                        const struct wh_paper_sheet *sheet, double wide)
{
    const struct wh_tree *said = work->document;
    double third = 36, rest = wide - 2 * third, half = rest / 2;

    field(work, piece, "Machine", 0, 0, rest, wh_tree_text(said, "machine", ""));
    field(work, piece, "Kind of paper", rest, 0, third, wh_tree_text(said, "title", ""));
    field(work, piece, "Sheet", rest + third, 0, third,
          wh_arena_print(work->arena, "%zu %s %zu", sheet->number, wh_paper_word(work, "of"), sheet->count));
    field(work, piece, "What for", 0, ROW, rest, wh_tree_text(said, "job", ""));
    field(work, piece, "Date of issue", rest, ROW, third, wh_tree_text(said, "date", ""));
    field(work, piece, "Drawn by", rest + third, ROW, third, wh_tree_text(said, "maker", ""));
    field(work, piece, "Fitter", 0, 2 * ROW, half, "");
    field(work, piece, "Date of the work", half, 2 * ROW, half, "");
    field(work, piece, "Charge hand", rest, 2 * ROW, 2 * third, "");
    wh_paper_line(work, piece, WH_PAPER_WIDE, 0, 0, wide, 0);
}

void wh_paper_frame(const struct wh_paper_work *work, cairo_t *canvas, const struct wh_paper_sheet *sheet)
{
    struct wh_paper_piece piece = {0}, foot = {0};
    double left = WH_PAPER_FRAME_LEFT, top = WH_PAPER_FRAME_EDGE;
    double wide = sheet->format->width - left - WH_PAPER_FRAME_EDGE, high = sheet->format->height - 2 * top;
    const char *more = sheet->continued ? wh_paper_word(work, "continued") : "";
    double said;

    wh_paper_line(work, &piece, WH_PAPER_WIDE, left - 5, top + high / 2, 5, 0);
    said = wh_paper_put_at(work, &piece, left + 5, top + 5, wide - 40, WH_PAPER_L50, WH_ANCHOR_LEFT, sheet->heading);
    wh_paper_put_at(work, &piece, left + 8 + said, top + 7.5, 0, WH_PAPER_L25, WH_ANCHOR_LEFT, more);
    wh_paper_line(work, &piece, WH_PAPER_COPPER, left + 5, top + 14, wide - 10, 0);
    wh_paper_box(work, &piece, WH_PAPER_WIDE, left, top, wide, high);
    wh_paper_piece_draw(canvas, work->letters, &piece, 0, 0);
    title_block(work, &foot, sheet, wide);
    wh_paper_piece_draw(canvas, work->letters, &foot, left, top + high - WH_PAPER_FOOT);
}
