/* A step: cautions above it, the box for the pencil, its number, the deed, what it takes; figures and readings stand
 * in the right margin. */
#include "paper/block.h"

#include <math.h>

static const double BOX = 5, NUMBER = 7.5, WORDS = 20, SMALL_BOX = 3.4, BALLOON = 2.9;

/* Minutes, place, people, tools and what is used up: one line. */
static const char *meta(const struct wh_paper_work *work, const struct wh_tree *step)
{
    static const char *const KEYS[] = {"part", "minutes", "way", "crew"};
    struct wh_text text = {.arena = work->arena};
    const char *tool = wh_tree_text(step, "tool", "");
    const char *with = wh_paper_joined(work, wh_tree_get(step, "with"), ", ");

    for (size_t i = 0; i < sizeof KEYS / sizeof *KEYS; i++) {
        const char *says = wh_tree_text(step, KEYS[i], "");

        if (*says) wh_text_print(&text, "%s%s", text.count ? " · " : "", says);
    }
    if (*tool || *with)
        wh_text_print(&text, "%s%s: %s%s%s", text.count ? " · " : "", wh_paper_word(work, "With"), tool,
                      *tool && *with ? ", " : "", with);
    return wh_text_of(&text);
}

/* The number of the part in the drawing, as a balloon (ISO 6433) under the number of the step; its height. */
static double put_item(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, const char *item)
{
    if (!*item) return 0;
    wh_paper_ring(work, piece, WH_PAPER_NARROW, NUMBER + BALLOON + 1, y + BALLOON, BALLOON);
    wh_paper_put_at(work, piece, NUMBER + BALLOON + 1, y + BALLOON - 1.25, 2 * BALLOON - 1.2, WH_PAPER_L25,
                    WH_ANCHOR_MIDDLE, item);
    return 2 * BALLOON;
}

static double put_lines(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, double width,
                        const struct wh_tree *lines)
{
    double start = y;

    for (const struct wh_tree *line = lines ? lines->first : NULL; line; line = line->next) {
        wh_paper_box(work, piece, WH_PAPER_NARROW, WORDS + 0.2, y + 0.1, SMALL_BOX, SMALL_BOX);
        y += fmax(SMALL_BOX, wh_paper_put(work, piece, WORDS + 6, y + 0.5, width - 6, WH_PAPER_BODY, line->text)) + 1.6;
    }
    return y - start;
}

/* "LH" and its like, too large to be overlooked; gives the width it takes from the words. */
static double put_mark(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, double edge,
                       const char *mark)
{
    static const double HIGH = 11;
    double wide = fmax(14, 5 * (double)wh_text_width(mark) + 4);

    if (!*mark) return 0;
    wh_paper_box(work, piece, WH_PAPER_HEAVY, edge - wide, y, wide - 0.5, HIGH);
    wh_paper_put_at(work, piece, edge - wide / 2 - 0.25, y + 2.25, wide - 2,
                    (struct wh_paper_style){WH_PAPER_LETTER, 6.5, WH_INK}, WH_ANCHOR_MIDDLE, mark);
    return wide + 3;
}

static double put_hold(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y)
{
    static const double HIGH = 9.5;
    double width = work->main - WORDS;

    wh_paper_box(work, piece, WH_PAPER_WIDE, WORDS, y + 1.5, width - 0.25, HIGH);
    wh_paper_line(work, piece, WH_PAPER_WIDE, WORDS + 14, y + 1.5, 0, HIGH);
    wh_paper_put_at(work, piece, WORDS + 7, y + 5, 12, WH_PAPER_L25, WH_ANCHOR_MIDDLE, wh_paper_word(work, "Hold"));
    wh_paper_write_on(work, piece, wh_paper_word(work, "Released by"), WORDS + 16, y + 8.5, width - 46);
    wh_paper_write_on(work, piece, wh_paper_word(work, "Time"), WORDS + width - 27, y + 8.5, 25);
    return HIGH + 3;
}

/* Something to read or to write stands in the margin beside it; otherwise the words have its room too. */
static bool has_margin(const struct wh_tree *step)
{
    const struct wh_tree *figures = wh_tree_get(step, "figures"), *readings = wh_tree_get(step, "readings");
    return (figures && figures->first) || (readings && readings->first);
}

void wh_paper_block_step(struct wh_paper_work *work, const struct wh_tree *block)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    const char *mark = wh_tree_text(block, "mark", "");
    bool hold = wh_same(wh_tree_text(block, "hold", "false"), "true");
    double wide = has_margin(block) ? work->main : work->wide, low;
    double top = wh_paper_put_cautions(work, piece, 0, work->wide, wh_tree_get(block, "cautions")), y = top;
    double width = wide - WORDS - put_mark(work, piece, top, wide, mark);

    wh_paper_box(work, piece, WH_PAPER_WIDE, 0.25, top + 0.25, BOX, BOX);
    wh_paper_put_at(work, piece, NUMBER, top + 0.75, WORDS - NUMBER - 1,
                    (struct wh_paper_style){WH_PAPER_LETTER, 4.5, WH_INK}, WH_ANCHOR_LEFT,
                    wh_tree_text(block, "number", ""));
    low = top + BOX + 1.6 + put_item(work, piece, top + BOX + 1.6, wh_tree_text(block, "item", ""));
    y += 0.8 + wh_paper_put(work, piece, WORDS, y + 0.8, width, WH_PAPER_BOLD, wh_tree_text(block, "words", ""));
    y += 0.5 + wh_paper_put(work, piece, WORDS, y + 0.5, width, WH_PAPER_FAINT, meta(work, block));
    if (*mark) y = fmax(y, top + 12);
    y += 0.8 + wh_paper_put(work, piece, WORDS, y + 0.8, wide - WORDS, WH_PAPER_BODY, wh_tree_text(block, "text", ""));
    y += put_lines(work, piece, y + 1.0, wide - WORDS, wh_tree_get(block, "lines"));
    if (hold) y += put_hold(work, piece, y);
    low = fmax(low, top + wh_paper_put_margin(work, piece, top, block));
    piece->height = fmax(y, low) + 1;
    piece->after = 2;
    piece->aside = wide < work->wide;
    piece->aside_from = top;
    wh_paper_line(work, piece, WH_PAPER_HAIR, 0, piece->height, work->wide, 0);
}
