/* A step: cautions above it, the box for the pencil, its number, the deed, what it takes; figures and readings stand
 * in the right margin. */
#include "paper/block.h"

#include <math.h>

static const double BOX = 5, NUMBER = 7.5, WORDS = 20, SMALL_BOX = 3.4, BALLOON = 2.9;

static const char *meta(const struct wh_paper_work *work, const struct wh_tree *step)
{
    static const char *const KEYS[] = {"minutes", "way", "crew"};
    struct wh_text text = {.arena = work->arena};

    for (size_t i = 0; i < sizeof KEYS / sizeof *KEYS; i++) {
        const char *says = wh_tree_text(step, KEYS[i], "");

        if (*says) wh_text_print(&text, "%s%s", text.count ? " · " : "", says);
    }
    return wh_text_of(&text);
}

/* The part it is done to, with its number in the drawing as a balloon (ISO 6433). */
static double put_part(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, double width,
                       const struct wh_tree *step)
{
    const char *part = wh_tree_text(step, "part", ""), *item = wh_tree_text(step, "item", "");
    const char *says = meta(work, step);
    double x = WORDS, top = 1;

    if (*part && *says) says = wh_arena_print(work->arena, "%s · %s", part, says);
    if (!*says) says = part;
    if (*item) {
        wh_paper_ring(work, piece, WH_PAPER_NARROW, x + BALLOON, y + BALLOON + 0.4, BALLOON);
        wh_paper_put_at(work, piece, x + BALLOON, y + BALLOON - 0.85, 2 * BALLOON - 1.2, WH_PAPER_L25, WH_ANCHOR_MIDDLE,
                        item);
        x += 2 * BALLOON + 1.6;
        top += BALLOON - 1.6;
    }
    return fmax(top + wh_paper_put(work, piece, x, y + top, width - (x - WORDS), WH_PAPER_FAINT, says),
                *item ? 2 * BALLOON + 0.8 : 0);
}

static double put_with(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, double width,
                       const struct wh_tree *step)
{
    const char *tool = wh_tree_text(step, "tool", "");
    const char *with = wh_paper_joined(work, wh_tree_get(step, "with"), ", ");
    const char *all = *tool && *with ? wh_arena_print(work->arena, "%s, %s", tool, with) : *tool ? tool : with;

    if (!*all) return 0;
    wh_paper_put_at(work, piece, WORDS, y + 0.5, 0, WH_PAPER_CAPTION, WH_ANCHOR_LEFT, wh_paper_word(work, "With"));
    return wh_paper_put(work, piece, WORDS + 9, y, width - 9, WH_PAPER_SMALL, all) + 0.8;
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
static double put_mark(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, const char *mark)
{
    static const double HIGH = 11;
    double wide = fmax(14, 5 * (double)wh_text_width(mark) + 4);

    if (!*mark) return 0;
    wh_paper_box(work, piece, WH_PAPER_HEAVY, work->main - wide, y, wide - 0.5, HIGH);
    wh_paper_put_at(work, piece, work->main - wide / 2 - 0.25, y + 2.25, wide - 2,
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

static double put_cautions(const struct wh_paper_work *work, struct wh_paper_piece *piece, const struct wh_tree *list)
{
    double y = 0;

    for (const struct wh_tree *caution = list ? list->first : NULL; caution; caution = caution->next) {
        y += wh_paper_put_caution(work, piece, y, work->main, caution) + 2;
    }
    return y > 0 ? y + 0.8 : 0;
}

void wh_paper_block_step(struct wh_paper_work *work, const struct wh_tree *block)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    const char *mark = wh_tree_text(block, "mark", "");
    bool hold = wh_same(wh_tree_text(block, "hold", "false"), "true");
    double top = put_cautions(work, piece, wh_tree_get(block, "cautions")), y = top;
    double width = work->main - WORDS - put_mark(work, piece, top, mark), margin;

    wh_paper_box(work, piece, WH_PAPER_WIDE, 0.25, top + 0.25, BOX, BOX);
    wh_paper_put_at(work, piece, NUMBER, top + 0.75, WORDS - NUMBER - 1,
                    (struct wh_paper_style){WH_PAPER_LETTER, 4.5, WH_INK}, WH_ANCHOR_LEFT,
                    wh_tree_text(block, "number", ""));
    y += 1.2 + wh_paper_put(work, piece, WORDS, top + 1.2, width, WH_PAPER_BOLD, wh_tree_text(block, "words", ""));
    y = fmax(y + 0.7, top + BOX + 0.8);
    y += put_part(work, piece, y, width, block);
    if (*mark) y = fmax(y, top + 12);
    y += put_with(work, piece, y + 1.2, work->main - WORDS, block) + 1.2;
    y += put_lines(work, piece, y + 1.0, work->main - WORDS, wh_tree_get(block, "lines"));
    if (hold) y += put_hold(work, piece, y);
    margin = top + wh_paper_put_margin(work, piece, top, block);
    piece->height = fmax(y, margin) + 1.6;
    piece->after = 3;
    piece->aside = true;
    wh_paper_line(work, piece, WH_PAPER_HAIR, 0, piece->height, work->wide, 0);
}
