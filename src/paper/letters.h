/* letters.h - words set in type: ISO 3098 lettering for numbers and drawings, a plain face for reading. mm of paper. */
#ifndef WH_PAPER_LETTERS_H
#define WH_PAPER_LETTERS_H

#include "base/scene.h"

#include <cairo.h>
#include <pango/pango.h>

/* Titles are lettering set a little closer; figures never are, lest the decimal sign be overlooked. */
enum wh_paper_face { WH_PAPER_LETTER, WH_PAPER_TITLE, WH_PAPER_PLAIN, WH_PAPER_STRONG, WH_PAPER_FACES };

/* The size is the height of a capital for lettering, the size of the type for the other faces. */
struct wh_paper_style {
    enum wh_paper_face face;
    double size;
    enum wh_ink ink;
};

struct wh_paper_letters {
    struct wh_arena *arena;
    PangoContext *context;
    double capital[WH_PAPER_FACES]; /* height of a capital, in sizes of the type */
};

/* Words broken into lines. Their top is the top of the first line's capitals. */
struct wh_paper_words {
    PangoLayout *layout;
    enum wh_ink ink;
    double rise, pitch; /* top to first base line, base line to base line */
    double width, height;
};

/* Type for drawing on this canvas, at its present scale; closed with the arena. */
struct wh_paper_letters *wh_paper_letters(struct wh_arena *arena, cairo_t *canvas);

/* Breaks words into lines at most `width` wide; 0: one line. */
struct wh_paper_words wh_paper_words(const struct wh_paper_letters *letters, struct wh_paper_style style, double width,
                                     const char *text);

/* One line, made smaller in steps down to 60 %, then cut with an ellipsis, so that it is at most `width` wide. */
struct wh_paper_words wh_paper_words_fitted(const struct wh_paper_letters *letters, struct wh_paper_style style,
                                            double width, const char *text);

/* Draws the words with the anchor of their top line at x, y. */
void wh_paper_words_draw(cairo_t *canvas, const struct wh_paper_words *words, double x, double y,
                         enum wh_anchor anchor);

/* Draws one line of lettering on the middle of its height, turned, with paper left free round it. */
void wh_paper_label_draw(cairo_t *canvas, const struct wh_paper_letters *letters, const struct wh_stroke *label,
                         struct wh_point at);

#endif
