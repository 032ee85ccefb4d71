/* Tables, lists to tick off by pencil, and tags to cut out. */
#include "paper/block.h"

#include "base/quantity.h"

#include <math.h>

enum { COLUMNS = 12 };
static const double CELL = 1.6;

struct columns {
    size_t count;
    double x[COLUMNS], wide[COLUMNS];
    enum wh_anchor anchor[COLUMNS];
    const char *title[COLUMNS];
};

static enum wh_anchor anchor_of(const char *align)
{
    return wh_same(align, "right") ? WH_ANCHOR_RIGHT : wh_same(align, "middle") ? WH_ANCHOR_MIDDLE : WH_ANCHOR_LEFT;
}

static struct columns columns_of(const struct wh_paper_work *work, const struct wh_tree *list)
{
    struct columns columns = {0};
    double sum = 0, x = 0;

    for (const struct wh_tree *it = list ? list->first : NULL; it && columns.count < COLUMNS; it = it->next) {
        double weight = 1;

        wh_number_read(wh_tree_text(it, "weight", "1"), &weight);
        columns.wide[columns.count] = weight;
        columns.anchor[columns.count] = anchor_of(wh_tree_text(it, "align", "left"));
        columns.title[columns.count++] = wh_tree_text(it, "title", "");
        sum += weight;
    }
    for (size_t i = 0; i < columns.count; i++) {
        columns.wide[i] *= work->wide / sum;
        columns.x[i] = x;
        x += columns.wide[i];
    }
    return columns;
}

static double put_cell(const struct wh_paper_work *work, struct wh_paper_piece *piece, const struct columns *columns,
                       size_t i, double y, struct wh_paper_style style, const char *text)
{
    static const double AT[] = {[WH_ANCHOR_LEFT] = 0, [WH_ANCHOR_MIDDLE] = 0.5, [WH_ANCHOR_RIGHT] = 1};
    double inner = columns->wide[i] - 2 * CELL;
    double height =
        wh_paper_put(work, piece, columns->x[i] + CELL + AT[columns->anchor[i]] * inner, y, inner, style, text);

    if (height > 0) piece->marks.at[piece->marks.count - 1].anchor = columns->anchor[i];
    return height;
}

static struct wh_paper_piece *table_head(struct wh_paper_work *work, const struct columns *columns)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    double height = 0;

    for (size_t i = 0; i < columns->count; i++) {
        height = fmax(height, put_cell(work, piece, columns, i, 2,
                                       (struct wh_paper_style){WH_PAPER_LETTER, 2.2, WH_INK}, columns->title[i]));
    }
    piece->height = height + 3;
    piece->keep = true;
    wh_paper_line(work, piece, WH_PAPER_WIDE, 0, 0, work->wide, 0);
    wh_paper_line(work, piece, WH_PAPER_NARROW, 0, piece->height, work->wide, 0);
    return piece;
}

static void table_row(struct wh_paper_work *work, const struct columns *columns, const struct wh_tree *row,
                      const struct wh_paper_piece *head)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);
    const struct wh_tree *cell = row->first;
    double height = 3.2;

    for (size_t i = 0; i < columns->count && cell; i++, cell = cell->next) {
        bool written = cell->text && *cell->text;

        height = fmax(height, written ? put_cell(work, piece, columns, i, 1.7, WH_PAPER_SMALL, cell->text) : 5.5);
    }
    piece->height = height + 2.6;
    piece->head = head;
    for (size_t i = 1; i < columns->count; i++) {
        wh_paper_line(work, piece, WH_PAPER_HAIR, columns->x[i], 0, 0, piece->height);
    }
    wh_paper_line(work, piece, row->next ? WH_PAPER_HAIR : WH_PAPER_WIDE, 0, piece->height, work->wide, 0);
    piece->after = row->next ? 0 : 5;
}

void wh_paper_block_table(struct wh_paper_work *work, const struct wh_tree *block)
{
    const struct wh_tree *rows = wh_tree_get(block, "rows");
    struct columns columns = columns_of(work, wh_tree_get(block, "columns"));
    const struct wh_paper_piece *head = table_head(work, &columns);

    for (const struct wh_tree *row = rows ? rows->first : NULL; row; row = row->next) {
        table_row(work, &columns, row, head);
    }
}

static const char *item_text(const struct wh_tree *item)
{
    return item->is == WH_TREE_MAP ? wh_tree_text(item, "text", "") : item->text;
}

static double list_item(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y,
                        double width, const struct wh_tree *item)
{
    const char *amount = item->is == WH_TREE_MAP ? wh_tree_text(item, "amount", "") : "";
    double taken = wh_paper_put_at(work, piece, x + width, y + 0.9, width / 2, WH_PAPER_L25, WH_ANCHOR_RIGHT, amount);
    double height;

    wh_paper_box(work, piece, WH_PAPER_NARROW, x + 0.2, y, 4, 4);
    height = wh_paper_put(work, piece, x + 7, y + 0.8, width - 7 - (taken > 0 ? taken + 3 : 0), WH_PAPER_BODY,
                          item_text(item));
    return fmax(height, 4) + 2;
}

/* Short lists stand in one column, long ones in two, read downward; a chunk is one piece. */
void wh_paper_block_list(struct wh_paper_work *work, const struct wh_tree *block)
{
    enum { SHORT = 6, CHUNK = 28 };
    const struct wh_tree *items = wh_tree_get(block, "items"), *item = items ? items->first : NULL;
    size_t left = items ? items->count : 0;

    while (item) {
        size_t chunk = left < CHUNK ? left : CHUNK, split = items->count > SHORT ? (chunk + 1) / 2 : chunk;
        double width = items->count > SHORT ? (work->wide - 8) / 2 : 120, y = 0, x = 0;
        struct wh_paper_piece *piece = wh_paper_piece(work);

        for (size_t i = 0; i < chunk; i++, item = item->next) {
            if (i == split) {
                x = width + 8;
                y = 0;
            }
            y += list_item(work, piece, x, y, width, item);
            piece->height = fmax(piece->height, y);
        }
        left -= chunk;
        piece->after = left ? 0 : 3;
    }
}

static const double TAG_WIDE = 54, TAG_HIGH = 34, TAG_GAP = 4;

static void put_tag(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, const struct wh_tree *tag)
{
    double y;

    wh_paper_box(work, piece, WH_PAPER_CUT, x, 0, TAG_WIDE, TAG_HIGH);
    wh_paper_ring(work, piece, WH_PAPER_NARROW, x + 7, 7, 2.75);
    wh_paper_line(work, piece, WH_PAPER_HAIR, x + 3, 7, 8, 0);
    wh_paper_line(work, piece, WH_PAPER_HAIR, x + 7, 3, 0, 8);
    wh_paper_put_at(work, piece, x + TAG_WIDE - 4, 4, TAG_WIDE - 20,
                    (struct wh_paper_style){WH_PAPER_LETTER, 7, WH_INK}, WH_ANCHOR_RIGHT,
                    wh_tree_text(tag, "number", ""));
    y = 15 + wh_paper_put(work, piece, x + 4, 15, TAG_WIDE - 7, WH_PAPER_BOLD, wh_tree_text(tag, "title", ""));
    wh_paper_put(work, piece, x + 4, y + 0.9, TAG_WIDE - 7, WH_PAPER_SMALL, wh_tree_text(tag, "text", ""));
    wh_paper_put_at(work, piece, x + 4, TAG_HIGH - 4, TAG_WIDE - 8, WH_PAPER_CAPTION, WH_ANCHOR_LEFT,
                    wh_tree_text(work->document, "machine", ""));
}

void wh_paper_block_tags(struct wh_paper_work *work, const struct wh_tree *block)
{
    const struct wh_tree *items = wh_tree_get(block, "items"), *tag = items ? items->first : NULL;

    while (tag) {
        struct wh_paper_piece *piece = wh_paper_piece(work);

        for (double x = 0; tag && x + TAG_WIDE <= work->wide; x += TAG_WIDE + TAG_GAP, tag = tag->next) {
            put_tag(work, piece, x, tag);
        }
        piece->height = TAG_HIGH;
        piece->after = 4;
    }
}
