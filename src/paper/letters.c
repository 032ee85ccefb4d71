#include "paper/letters.h"

#include "paper/ink.h"

#include <math.h>
#include <pango/pangocairo.h>

static const double LETTER_PITCH = 1.65, TEXT_PITCH = 1.34; /* base line to base line, in sizes */
static const double LETTER_DROP = 0.40, TEXT_DROP = 0.30;   /* below the last base line, in sizes */
static const double CLOSER = -0.09;                         /* between the letters of titles, in heights of a capital */
static const double PI = 3.14159265358979323846;

/* A foreign object that goes with the arena. The place is made ready first, so that nothing is lost when memory runs
 * out in between. */
static void release(void *handle)
{
    GObject **held = handle;

    if (*held) g_object_unref(*held);
}

static void *hold(struct wh_arena *arena)
{
    GObject **held = WH_NEW(arena, 1, GObject *);

    wh_arena_defer(arena, release, held);
    return held;
}

static bool is_lettering(struct wh_paper_style style)
{
    return style.face == WH_PAPER_LETTER || style.face == WH_PAPER_TITLE;
}

static void set_closer(PangoLayout *layout, double size)
{
    PangoAttrList *list = pango_attr_list_new();

    pango_attr_list_insert(list, pango_attr_letter_spacing_new((int)lround(CLOSER * size * PANGO_SCALE)));
    pango_layout_set_attributes(layout, list);
    pango_attr_list_unref(list);
}

static PangoLayout *new_layout(const struct wh_paper_letters *letters, struct wh_paper_style style, double width,
                               const char *text)
{
    PangoLayout **layout = hold(letters->arena);
    double size = is_lettering(style) ? style.size / letters->capital[WH_PAPER_LETTER] : style.size;
    PangoFontDescription *font = pango_font_description_new();

    pango_font_description_set_family_static(font, is_lettering(style) ? WH_PAPER_LETTERING : WH_PAPER_TEXT_FACE);
    pango_font_description_set_weight(font, style.face == WH_PAPER_STRONG ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    *layout = pango_layout_new(letters->context);
    pango_layout_set_font_description(*layout, font);
    pango_font_description_free(font);
    pango_layout_set_text(*layout, text, -1);
    if (style.face == WH_PAPER_TITLE) set_closer(*layout, style.size);
    if (width > 0) pango_layout_set_width(*layout, (int)lround(width * PANGO_SCALE));
    pango_layout_set_wrap(*layout, PANGO_WRAP_WORD_CHAR);
    return *layout;
}

static double capital_of(const struct wh_paper_letters *letters, enum wh_paper_face face)
{
    PangoRectangle ink;

    pango_layout_get_extents(new_layout(letters, (struct wh_paper_style){.face = face, .size = 100}, 0, "H"), &ink,
                             NULL);
    return (double)ink.height / PANGO_SCALE / 100;
}

struct wh_paper_letters *wh_paper_letters(struct wh_arena *arena, cairo_t *canvas)
{
    struct wh_paper_letters *letters = WH_NEW(arena, 1, struct wh_paper_letters);
    PangoFontMap **map = hold(arena);
    PangoContext **context = hold(arena);
    cairo_font_options_t *options = cairo_font_options_create();

    *map = pango_cairo_font_map_new();
    *context = pango_font_map_create_context(*map);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(*context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(*context, FALSE);
    pango_cairo_update_context(canvas, *context);
    *letters = (struct wh_paper_letters){.arena = arena, .context = *context, .capital = {[WH_PAPER_LETTER] = 1}};
    for (int face = 0; face < WH_PAPER_FACES; face++)
        letters->capital[face] = capital_of(letters, (enum wh_paper_face)face);
    return letters;
}

struct wh_paper_words wh_paper_words(const struct wh_paper_letters *letters, struct wh_paper_style style, double width,
                                     const char *text)
{
    struct wh_paper_words words = {.layout = new_layout(letters, style, width, text), .ink = style.ink};
    bool lettering = is_lettering(style);
    PangoRectangle logical;

    pango_layout_get_extents(words.layout, NULL, &logical);
    words.rise = style.size * (lettering ? 1 : letters->capital[style.face]);
    words.pitch = style.size * (lettering ? LETTER_PITCH : TEXT_PITCH);
    words.width = (double)logical.width / PANGO_SCALE;
    words.height = words.rise + words.pitch * (pango_layout_get_line_count(words.layout) - 1) +
                   style.size * (lettering ? LETTER_DROP : TEXT_DROP);
    return words;
}

struct wh_paper_words wh_paper_words_fitted(const struct wh_paper_letters *letters, struct wh_paper_style style,
                                            double width, const char *text)
{
    double least = 0.6 * style.size;
    struct wh_paper_words words = wh_paper_words(letters, style, 0, text);

    while (words.width > width && style.size > least) {
        style.size *= 0.95;
        words = wh_paper_words(letters, style, 0, text);
    }
    if (words.width > width) {
        pango_layout_set_width(words.layout, (int)lround(width * PANGO_SCALE));
        pango_layout_set_height(words.layout, -1);
        pango_layout_set_ellipsize(words.layout, PANGO_ELLIPSIZE_END);
        words.width = width;
    }
    return words;
}

static double line_width(PangoLayoutLine *line)
{
    PangoRectangle logical;

    pango_layout_line_get_extents(line, NULL, &logical);
    return (double)logical.width / PANGO_SCALE;
}

void wh_paper_words_draw(cairo_t *canvas, const struct wh_paper_words *words, double x, double y, enum wh_anchor anchor)
{
    static const double BACK[] = {[WH_ANCHOR_LEFT] = 0, [WH_ANCHOR_MIDDLE] = 0.5, [WH_ANCHOR_RIGHT] = 1};
    struct wh_paper_colour colour = wh_paper_colour(words->ink);
    int count = pango_layout_get_line_count(words->layout);

    cairo_set_source_rgb(canvas, colour.red, colour.green, colour.blue);
    for (int i = 0; i < count; i++) {
        PangoLayoutLine *line = pango_layout_get_line_readonly(words->layout, i);

        cairo_move_to(canvas, x - BACK[anchor] * line_width(line), y + words->rise + i * words->pitch);
        pango_cairo_show_layout_line(canvas, line);
    }
}

void wh_paper_label_draw(cairo_t *canvas, const struct wh_paper_letters *letters, const struct wh_stroke *label,
                         struct wh_point at)
{
    struct wh_paper_style style = {WH_PAPER_LETTER, label->height, label->ink};
    struct wh_paper_words words = wh_paper_words(letters, style, 0, label->text);
    double start = label->anchor == WH_ANCHOR_LEFT ? 0 : label->anchor == WH_ANCHOR_MIDDLE ? 0.5 : 1;

    cairo_save(canvas);
    cairo_translate(canvas, at.x, at.y);
    cairo_rotate(canvas, -label->turned * PI / 180);
    cairo_move_to(canvas, -start * words.width, label->height / 2);
    pango_cairo_layout_line_path(canvas, pango_layout_get_line_readonly(words.layout, 0));
    cairo_set_source_rgb(canvas, 1, 1, 1);
    cairo_set_line_width(canvas, WH_PAPER_HALO_WIDTH);
    cairo_set_line_join(canvas, CAIRO_LINE_JOIN_ROUND);
    cairo_stroke(canvas);
    wh_paper_words_draw(canvas, &words, 0, -label->height / 2, label->anchor);
    cairo_restore(canvas);
}
