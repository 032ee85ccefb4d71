/* Cautions, holds and signatures: what a person answers for. */
#include "paper/block.h"

#include <math.h>

static const double PAD = 2.8, SIGN = 12, SMALL_SIGN = 8, SIGNAL_WORD = 23, FRAME = 1.9, LINE_PITCH = 8.5;

struct signal {
    const char *name, *word;
    double border;
};

/* The signal words of ISO 3864-2; the graver, the heavier the border. Colour stays with the signs. */
static const struct signal *signal_of(const struct wh_paper_work *work, const struct wh_tree *caution)
{
    static const struct signal SIGNALS[] = {{"danger", "DANGER", 0.9},
                                            {"warning", "WARNING", 0.7},
                                            {"caution", "CAUTION", 0.5},
                                            {"notice", "NOTICE", 0.25}};
    const char *name = wh_tree_text(caution, "signal", "notice");

    for (size_t i = 0; i < sizeof SIGNALS / sizeof *SIGNALS; i++) {
        if (wh_same(SIGNALS[i].name, name)) return &SIGNALS[i];
    }
    wh_errors_add(work->errors, WH_ERR_INPUT, caution->place, "danger, warning, caution or notice",
                  "there is no signal word \"%s\"", name);
    return &SIGNALS[0];
}

/* One caution of a frame: sign, signal word, words; gives its height. */
static double put_row(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, double width,
                      const struct wh_tree *caution)
{
    const struct signal *signal = signal_of(work, caution);
    const struct wh_paper_sign *sign = wh_paper_sign_of(work, caution);
    size_t said = piece->marks.count;
    double words = PAD + SMALL_SIGN + 2, text = words + SIGNAL_WORD;
    double high =
        wh_paper_put(work, piece, text, y, width - text - PAD, WH_PAPER_BODY, wh_tree_text(caution, "text", ""));

    wh_paper_put(work, piece, words, y, 0, WH_PAPER_BOLD, wh_paper_word(work, signal->word));
    if (!sign) return high;
    for (; high < SMALL_SIGN && said < piece->marks.count; said++) piece->marks.at[said].y += (SMALL_SIGN - high) / 2;
    wh_paper_put_sign(work, piece, sign, PAD, y + fmax(0, (high - SMALL_SIGN) / 2), SMALL_SIGN);
    return fmax(high, SMALL_SIGN);
}

double wh_paper_put_cautions(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, double width,
                             const struct wh_tree *list)
{
    struct wh_paper_rule border = WH_PAPER_WIDE;
    double inner = y + FRAME;

    if (!list || !list->first) return 0;
    border.width = 0;
    for (const struct wh_tree *caution = list->first; caution; caution = caution->next) {
        border.width = fmax(border.width, signal_of(work, caution)->border);
        inner += put_row(work, piece, inner, width, caution) + (caution->next ? 1 : 0);
    }
    wh_paper_box(work, piece, border, border.width / 2, y + border.width / 2, width - border.width,
                 inner + FRAME - y - border.width);
    return inner + FRAME - y + 1.6;
}

void wh_paper_block_caution(struct wh_paper_work *work, const struct wh_tree *block)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    struct wh_tree list = {0}, *alone = wh_tree_new(work->arena, block->is);

    *alone = *block;
    alone->next = NULL;
    list.first = alone;
    piece->height = wh_paper_put_cautions(work, piece, 0, work->wide, &list);
    piece->after = 2;
    piece->keep = true;
}

/* One line of a hold: what was tried, who, when. */
static void name_line(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double width)
{
    double gap = 3, tried = 0.44 * width, time = 0.20 * width;

    wh_paper_write_on(work, piece, wh_paper_word(work, "Tried"), x, y, tried);
    wh_paper_write_on(work, piece, wh_paper_word(work, "Name"), x + tried + gap, y, width - tried - time - 2 * gap);
    wh_paper_write_on(work, piece, wh_paper_word(work, "Time"), x + width - time, y, time);
}

void wh_paper_block_hold(struct wh_paper_work *work, const struct wh_tree *block)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    const struct wh_paper_sign *sign = wh_paper_sign_of(work, block);
    const char *tried = wh_tree_text(block, "tried", "");
    double x = 18, y = 3.2, width = work->wide - x - 3 - (sign ? SIGN + 4 : 0);
    int lines = wh_paper_whole(block, "lines", 1);

    wh_paper_put_at(work, piece, 7.5, 3.4, 13, WH_PAPER_L50, WH_ANCHOR_MIDDLE, wh_tree_text(block, "number", ""));
    y += 0.6 + wh_paper_put(work, piece, x, y + 0.6, width, WH_PAPER_BOLD, wh_tree_text(block, "title", ""));
    y += 0.8 + wh_paper_put(work, piece, x, y + 0.8, width, WH_PAPER_BODY, wh_tree_text(block, "text", ""));
    if (*tried) {
        tried = wh_arena_print(work->arena, "%s: %s", wh_paper_word(work, "To be tried"), tried);
        y += 1 + wh_paper_put(work, piece, x, y + 1, width, WH_PAPER_SMALL, tried);
    }
    if (sign) {
        wh_paper_put_sign(work, piece, sign, work->wide - SIGN - 3, 3, SIGN);
        y = fmax(y, SIGN + 3);
    }
    for (int i = 0; i < lines; i++) {
        y += LINE_PITCH - (i ? 0 : 1);
        name_line(work, piece, x, y, work->wide - x - 4);
    }
    piece->height = y + 2.5;
    piece->after = 2;
    wh_paper_box(work, piece, WH_PAPER_WIDE, 0, 0, work->wide, piece->height);
    wh_paper_line(work, piece, WH_PAPER_WIDE, 15, 0, 0, piece->height);
    wh_paper_put_at(work, piece, 7.5, 11.5, 13, WH_PAPER_CAPTION, WH_ANCHOR_MIDDLE, wh_paper_word(work, "Hold"));
}

void wh_paper_block_signatures(struct wh_paper_work *work, const struct wh_tree *block)
{
    const struct wh_tree *lines = wh_tree_get(block, "lines");

    for (const struct wh_tree *line = lines ? lines->first : NULL; line; line = line->next) {
        struct wh_paper_piece *piece = wh_paper_piece(work);
        double y = wh_paper_put(work, piece, 0, 0, 52, WH_PAPER_BOLD, wh_tree_text(line, "role", ""));

        y += wh_paper_put(work, piece, 0, y + 0.5, 140, WH_PAPER_SMALL, wh_tree_text(line, "text", ""));
        wh_paper_write_on(work, piece, wh_paper_word(work, "Name"), 0, y + 8, 60);
        wh_paper_write_on(work, piece, wh_paper_word(work, "Signature"), 64, y + 8, 62);
        wh_paper_write_on(work, piece, wh_paper_word(work, "Date, time"), 130, y + 8, work->wide - 130);
        piece->height = y + 9;
        piece->after = 6;
        piece->keep = line->next != NULL;
    }
}
