#include "paper/block.h"

#include <math.h>
#include <string.h>

static const double MEASURE = 140; /* of lines meant to be read, mm */

/* Paragraphs are pieces of their own, so that a long text may run over to the next sheet. */
static void paragraphs(struct wh_paper_work *work, const char *text, struct wh_paper_style style, double after)
{
    struct wh_words all = wh_split(work->arena, text, '\n');

    for (size_t i = 0; i < all.count; i++) {
        struct wh_paper_piece *piece = wh_paper_piece(work);

        piece->height = wh_paper_put(work, piece, 0, 0, MEASURE, style, all.at[i]);
        piece->after = i + 1 < all.count ? 1.5 : after;
    }
}

static void block_text(struct wh_paper_work *work, const struct wh_tree *block)
{
    paragraphs(work, wh_tree_text(block, "text", ""), WH_PAPER_BODY, 4);
}

static void block_note(struct wh_paper_work *work, const struct wh_tree *block)
{
    paragraphs(work, wh_tree_text(block, "text", ""), WH_PAPER_FAINT, 3.5);
}

static void block_heading(struct wh_paper_work *work, const struct wh_tree *block)
{
    struct wh_paper_piece *piece = wh_paper_piece(work);

    piece->height = 1 + wh_paper_put(work, piece, 0, 1, work->wide, WH_PAPER_L35, wh_tree_text(block, "text", ""));
    piece->after = 2.5;
    piece->keep = true;
}

static void block_space(struct wh_paper_work *work, const struct wh_tree *block)
{
    (void)block;
    wh_paper_piece(work)->height = 8;
}

static void block_new_sheet(struct wh_paper_work *work, const struct wh_tree *block)
{
    (void)block;
    work->fresh = true;
}

static const struct {
    const char *name;
    void (*add)(struct wh_paper_work *work, const struct wh_tree *block);
} BLOCKS[] = {
    {"text", block_text},
    {"heading", block_heading},
    {"note", block_note},
    {"caution", wh_paper_block_caution},
    {"hold", wh_paper_block_hold},
    {"step", wh_paper_block_step},
    {"turn", wh_paper_block_turn},
    {"wait", wh_paper_block_wait},
    {"phase", wh_paper_block_phase},
    {"table", wh_paper_block_table},
    {"list", wh_paper_block_list},
    {"tags", wh_paper_block_tags},
    {"drawing", wh_paper_block_drawing},
    {"pictures", wh_paper_block_pictures},
    {"signatures", wh_paper_block_signatures},
    {"space", block_space},
    {"new-sheet", block_new_sheet},
};
enum { COUNT = sizeof BLOCKS / sizeof *BLOCKS };

static void complain(const struct wh_paper_work *work, const struct wh_tree *block, const char *name)
{
    const char *names[COUNT], *near;

    for (size_t i = 0; i < COUNT; i++) names[i] = BLOCKS[i].name;
    near = wh_nearest(name, names, COUNT);
    wh_errors_add(work->errors, WH_ERR_INPUT, block->place,
                  near ? wh_arena_print(work->arena, "did you mean %s?", near) : NULL, "a paper has no block \"%s\"",
                  name);
}

void wh_paper_block(struct wh_paper_work *work, const struct wh_tree *block)
{
    const char *name = wh_tree_text(block, "is", "");

    for (size_t i = 0; i < COUNT; i++) {
        if (!wh_same(BLOCKS[i].name, name)) continue;
        BLOCKS[i].add(work, block);
        return;
    }
    complain(work, block, name);
}

const struct wh_paper_sign *wh_paper_sign_of(const struct wh_paper_work *work, const struct wh_tree *map)
{
    const char *name = wh_tree_text(map, "sign", ""), *names[32];
    const struct wh_paper_sign *sign = wh_paper_sign(name);
    unsigned n = 0;

    if (sign || !*name) return sign;
    while (n < 32 && wh_paper_sign_name(n)) {
        names[n] = wh_paper_sign_name(n);
        n++;
    }
    const char *near = wh_nearest(name, names, n);
    wh_errors_add(work->errors, WH_ERR_INPUT, map->place,
                  near ? wh_arena_print(work->arena, "did you mean %s?", near) : NULL, "there is no sign \"%s\"", name);
    return NULL;
}

const char *wh_paper_joined(const struct wh_paper_work *work, const struct wh_tree *list, const char *between)
{
    struct wh_text joined = {.arena = work->arena};

    for (const struct wh_tree *item = list ? list->first : NULL; item; item = item->next) {
        if (!item->text || !*item->text) continue;
        if (joined.count) wh_text_add(&joined, between);
        wh_text_add(&joined, item->text);
    }
    return wh_text_of(&joined);
}

int wh_paper_whole(const struct wh_tree *map, const char *key, int otherwise)
{
    const char *text = wh_tree_text(map, key, "");
    int whole = 0;

    if (!*text) return otherwise;
    for (; *text >= '0' && *text <= '9' && whole < 1000; text++) whole = 10 * whole + (*text - '0');
    return *text ? otherwise : whole;
}
