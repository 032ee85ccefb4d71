/* piece.h - what is printed, cut into pieces that are never split: each holds marks, placed from its top left corner.
 * Blocks make pieces, the flow puts them on sheets. All in mm of paper, y downward. */
#ifndef WH_PAPER_PIECE_H
#define WH_PAPER_PIECE_H

#include "base/picture.h"
#include "base/tree.h"
#include "paper/draw.h"
#include "paper/sign.h"

enum wh_paper_mark_is {
    WH_PAPER_LINE,
    WH_PAPER_BOX,
    WH_PAPER_BAND, /* tinted */
    WH_PAPER_RING,
    WH_PAPER_WORDS,
    WH_PAPER_SIGN,
    WH_PAPER_SCENE,
    WH_PAPER_PICTURE
};

/* A line ruled on paper; dashes shorter than it is wide are round dots. */
struct wh_paper_rule {
    double width;
    enum wh_ink ink;
    double dash, gap;
};

struct wh_paper_mark {
    enum wh_paper_mark_is is;
    double x, y;
    double wide, high; /* of a box; of a line to its end; of a ring its radius; of a sign its size */
    struct wh_paper_rule rule;
    enum wh_anchor anchor;
    struct wh_paper_words words;
    const struct wh_paper_sign *sign;
    const struct wh_scene *scene;
    struct wh_paper_fit fit;
    const struct wh_picture *picture;
};

struct wh_paper_piece {
    double height, after;              /* the space that follows it, unless it is the last on its sheet */
    bool keep;                         /* with the next piece */
    bool aside;                        /* it writes in the right margin, which is ruled off beside it */
    double aside_from;                 /* from this height on */
    bool fresh;                        /* it begins a sheet */
    const struct wh_paper_piece *head; /* drawn again above it where it begins a sheet */
    const char *heading;               /* of its sheets, printed at their top */
    WH_LIST(struct wh_paper_mark) marks;
};

/* One document being made: the room of a sheet and the pieces so far. */
struct wh_paper_work {
    struct wh_arena *arena;
    struct wh_errors *errors;
    const struct wh_paper_letters *letters;
    const struct wh_tree *document;
    double wide, high;  /* inside the frame, between heading and title block */
    double main, aside; /* width of the column of steps; where the right margin's words begin */
    bool fresh;         /* the next piece begins a sheet */
    const char *heading;
    WH_LIST(struct wh_paper_piece *) pieces;
};

extern const struct wh_paper_rule WH_PAPER_HEAVY, WH_PAPER_WIDE, WH_PAPER_NARROW, WH_PAPER_HAIR, WH_PAPER_COPPER,
    WH_PAPER_DOTS, WH_PAPER_CUT;
extern const struct wh_paper_style WH_PAPER_BODY, WH_PAPER_BOLD, WH_PAPER_SMALL, WH_PAPER_FAINT, WH_PAPER_CAPTION,
    WH_PAPER_L25, WH_PAPER_L30, WH_PAPER_L35, WH_PAPER_L50;

/* A new piece at the end of the work. */
struct wh_paper_piece *wh_paper_piece(struct wh_paper_work *work);

/* A fixed word of the papers in the document's language. */
const char *wh_paper_word(const struct wh_paper_work *work, const char *english);

/* Puts words with their top at x, y, broken at `width` (0: one line), and gives their height, 0 for no words. */
double wh_paper_put(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double width,
                    struct wh_paper_style style, const char *text);
/* One line at an anchor, fitted into `width` when it is above 0; gives its width. */
double wh_paper_put_at(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double width,
                       struct wh_paper_style style, enum wh_anchor anchor, const char *text);

void wh_paper_line(const struct wh_paper_work *work, struct wh_paper_piece *piece, struct wh_paper_rule rule, double x,
                   double y, double wide, double high);
void wh_paper_box(const struct wh_paper_work *work, struct wh_paper_piece *piece, struct wh_paper_rule rule, double x,
                  double y, double wide, double high);
void wh_paper_band(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double wide,
                   double high);
void wh_paper_ring(const struct wh_paper_work *work, struct wh_paper_piece *piece, struct wh_paper_rule rule, double x,
                   double y, double radius);
void wh_paper_put_sign(const struct wh_paper_work *work, struct wh_paper_piece *piece, const struct wh_paper_sign *sign,
                       double x, double y, double size);
void wh_paper_put_scene(const struct wh_paper_work *work, struct wh_paper_piece *piece, const struct wh_scene *scene,
                        const struct wh_paper_fit *fit, double x, double y);

void wh_paper_put_picture(const struct wh_paper_work *work, struct wh_paper_piece *piece,
                          const struct wh_picture *picture, double x, double y, double wide, double high);

/* A named line to write on, "Name ________"; x and width of the whole. y is the line itself. */
void wh_paper_write_on(const struct wh_paper_work *work, struct wh_paper_piece *piece, const char *name, double x,
                       double y, double width);

/* Draws all marks of a piece with its corner at x, y. */
void wh_paper_piece_draw(cairo_t *canvas, const struct wh_paper_letters *letters, const struct wh_paper_piece *piece,
                         double x, double y);

#endif
