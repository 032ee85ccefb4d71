#include "paper/piece.h"

#include "paper/photo.h"

const struct wh_paper_rule WH_PAPER_HEAVY = {.width = 0.9, .ink = WH_INK};
const struct wh_paper_rule WH_PAPER_WIDE = {.width = 0.5, .ink = WH_INK};
const struct wh_paper_rule WH_PAPER_NARROW = {.width = 0.25, .ink = WH_INK};
const struct wh_paper_rule WH_PAPER_HAIR = {.width = 0.18, .ink = WH_INK_PALE};
const struct wh_paper_rule WH_PAPER_COPPER = {.width = 0.4, .ink = WH_INK_COPPER};
const struct wh_paper_rule WH_PAPER_DOTS = {.width = 0.5, .ink = WH_INK, .dash = 0.01, .gap = 1.8};
const struct wh_paper_rule WH_PAPER_CUT = {.width = 0.18, .ink = WH_INK_GREY, .dash = 2.4, .gap = 1.6};

const struct wh_paper_style WH_PAPER_BODY = {WH_PAPER_PLAIN, 3.5, WH_INK};
const struct wh_paper_style WH_PAPER_BOLD = {WH_PAPER_STRONG, 3.8, WH_INK};
const struct wh_paper_style WH_PAPER_SMALL = {WH_PAPER_PLAIN, 3.0, WH_INK};
const struct wh_paper_style WH_PAPER_FAINT = {WH_PAPER_PLAIN, 2.8, WH_INK_GREY};
const struct wh_paper_style WH_PAPER_CAPTION = {WH_PAPER_LETTER, 1.8, WH_INK_GREY};
const struct wh_paper_style WH_PAPER_L25 = {WH_PAPER_LETTER, 2.5, WH_INK};
const struct wh_paper_style WH_PAPER_L30 = {WH_PAPER_LETTER, 3.0, WH_INK};
const struct wh_paper_style WH_PAPER_L35 = {WH_PAPER_TITLE, 3.5, WH_INK};
const struct wh_paper_style WH_PAPER_L50 = {WH_PAPER_TITLE, 5.0, WH_INK};

struct wh_paper_piece *wh_paper_piece(struct wh_paper_work *work)
{
    struct wh_paper_piece *piece = WH_NEW(work->arena, 1, struct wh_paper_piece);

    piece->fresh = work->fresh;
    piece->heading = work->heading;
    work->fresh = false;
    *WH_PUSH(work->arena, &work->pieces) = piece;
    return piece;
}

const char *wh_paper_word(const struct wh_paper_work *work, const char *english)
{
    return wh_tree_text(wh_tree_get(work->document, "words"), english, english);
}

static struct wh_paper_mark *add(const struct wh_paper_work *work, struct wh_paper_piece *piece,
                                 struct wh_paper_mark mark)
{
    struct wh_paper_mark *added = WH_PUSH(work->arena, &piece->marks);

    *added = mark;
    return added;
}

double wh_paper_put(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double width,
                    struct wh_paper_style style, const char *text)
{
    if (!text || !*text) return 0;
    return add(work, piece,
               (struct wh_paper_mark){
                   .is = WH_PAPER_WORDS, .x = x, .y = y, .words = wh_paper_words(work->letters, style, width, text)})
        ->words.height;
}

double wh_paper_put_at(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double width,
                       struct wh_paper_style style, enum wh_anchor anchor, const char *text)
{
    if (!text || !*text) return 0;
    struct wh_paper_mark mark = {.is = WH_PAPER_WORDS, .x = x, .y = y, .anchor = anchor};

    mark.words = width > 0 ? wh_paper_words_fitted(work->letters, style, width, text)
                           : wh_paper_words(work->letters, style, 0, text);
    return add(work, piece, mark)->words.width;
}

void wh_paper_line(const struct wh_paper_work *work, struct wh_paper_piece *piece, struct wh_paper_rule rule, double x,
                   double y, double wide, double high)
{
    add(work, piece,
        (struct wh_paper_mark){.is = WH_PAPER_LINE, .x = x, .y = y, .wide = wide, .high = high, .rule = rule});
}

void wh_paper_box(const struct wh_paper_work *work, struct wh_paper_piece *piece, struct wh_paper_rule rule, double x,
                  double y, double wide, double high)
{
    add(work, piece,
        (struct wh_paper_mark){.is = WH_PAPER_BOX, .x = x, .y = y, .wide = wide, .high = high, .rule = rule});
}

void wh_paper_band(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double wide,
                   double high)
{
    add(work, piece, (struct wh_paper_mark){.is = WH_PAPER_BAND, .x = x, .y = y, .wide = wide, .high = high});
}

void wh_paper_ring(const struct wh_paper_work *work, struct wh_paper_piece *piece, struct wh_paper_rule rule, double x,
                   double y, double radius)
{
    add(work, piece, (struct wh_paper_mark){.is = WH_PAPER_RING, .x = x, .y = y, .wide = radius, .rule = rule});
}

void wh_paper_put_sign(const struct wh_paper_work *work, struct wh_paper_piece *piece, const struct wh_paper_sign *sign,
                       double x, double y, double size)
{
    add(work, piece, (struct wh_paper_mark){.is = WH_PAPER_SIGN, .x = x, .y = y, .wide = size, .sign = sign});
}

void wh_paper_put_scene(const struct wh_paper_work *work, struct wh_paper_piece *piece, const struct wh_scene *scene,
                        const struct wh_paper_fit *fit, double x, double y)
{
    add(work, piece, (struct wh_paper_mark){.is = WH_PAPER_SCENE, .x = x, .y = y, .scene = scene, .fit = *fit});
}

void wh_paper_put_picture(const struct wh_paper_work *work, struct wh_paper_piece *piece,
                          const struct wh_picture *picture, double x, double y, double wide, double high)
{
    add(work, piece,
        (struct wh_paper_mark){.is = WH_PAPER_PICTURE, .x = x, .y = y, .wide = wide, .high = high, .picture = picture});
}

void wh_paper_write_on(const struct wh_paper_work *work, struct wh_paper_piece *piece, const char *name, double x,
                       double y, double width)
{
    double taken = wh_paper_put_at(work, piece, x, y - 2.2, 0, WH_PAPER_CAPTION, WH_ANCHOR_LEFT, name);
    double start = x + (taken > 0 ? taken + 1.5 : 0);

    wh_paper_line(work, piece, WH_PAPER_NARROW, start, y, x + width - start, 0);
}

static void draw_ruled(cairo_t *canvas, const struct wh_paper_rule *rule)
{
    bool dots = rule->dash > 0 && rule->dash < rule->width;

    wh_paper_set_ink(canvas, wh_paper_colour(rule->ink));
    cairo_set_line_width(canvas, rule->width);
    cairo_set_line_cap(canvas, dots ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(canvas, CAIRO_LINE_JOIN_MITER);
    cairo_set_dash(canvas, (double[]){rule->dash, rule->gap}, rule->dash > 0 ? 2 : 0, 0);
    cairo_stroke(canvas);
}

static void draw_band(cairo_t *canvas, const struct wh_paper_mark *mark)
{
    struct wh_paper_colour tint;

    if (!wh_paper_cover(WH_FILL_TINT, WH_INK, &tint)) return;
    wh_paper_set_ink(canvas, tint);
    cairo_rectangle(canvas, mark->x, mark->y, mark->wide, mark->high);
    cairo_fill(canvas);
}

static void draw_mark(cairo_t *canvas, const struct wh_paper_letters *letters, const struct wh_paper_mark *mark)
{
    cairo_new_path(canvas);
    switch (mark->is) {
    case WH_PAPER_LINE:
        cairo_move_to(canvas, mark->x, mark->y);
        cairo_rel_line_to(canvas, mark->wide, mark->high);
        draw_ruled(canvas, &mark->rule);
        break;
    case WH_PAPER_BOX:
        cairo_rectangle(canvas, mark->x, mark->y, mark->wide, mark->high);
        draw_ruled(canvas, &mark->rule);
        break;
    case WH_PAPER_BAND:
        draw_band(canvas, mark);
        break;
    case WH_PAPER_RING:
        cairo_arc(canvas, mark->x, mark->y, mark->wide, 0, 6.283185307179586);
        draw_ruled(canvas, &mark->rule);
        break;
    case WH_PAPER_WORDS:
        wh_paper_words_draw(canvas, &mark->words, mark->x, mark->y, mark->anchor);
        break;
    case WH_PAPER_SIGN:
        wh_paper_sign_draw(canvas, mark->sign, mark->x, mark->y, mark->wide);
        break;
    case WH_PAPER_SCENE:
        cairo_translate(canvas, mark->x, mark->y);
        wh_paper_draw(canvas, letters, mark->scene, &mark->fit);
        cairo_translate(canvas, -mark->x, -mark->y);
        break;
    case WH_PAPER_PICTURE:
        wh_paper_photo_draw(canvas, mark->picture, mark->x, mark->y, mark->wide, mark->high);
        break;
    }
}

void wh_paper_piece_draw(cairo_t *canvas, const struct wh_paper_letters *letters, const struct wh_paper_piece *piece,
                         double x, double y)
{
    cairo_save(canvas);
    cairo_translate(canvas, x, y);
    for (size_t i = 0; i < piece->marks.count; i++) {
        cairo_set_dash(canvas, NULL, 0, 0);
        draw_mark(canvas, letters, &piece->marks.at[i]);
    }
    cairo_restore(canvas);
}
