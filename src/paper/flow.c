#include "paper/flow.h"

#include "paper/frame.h"

#include <cairo-pdf.h>
#include <math.h>
#include <stdio.h>

/* The frame stands 20 mm from the edge that is bound or punched, 10 mm from the others (ISO 5457). */
static const double INSET = 5, ASIDE = 52, GUTTER = 5, ROOM_UNDER = 4;

const struct wh_paper_format *wh_paper_format(const char *name)
{
    static const struct wh_paper_format FORMATS[] = {{"A4", 210, 297}, {"Letter", 215.9, 279.4}};

    for (size_t i = 0; i < sizeof FORMATS / sizeof *FORMATS; i++) {
        if (wh_same(FORMATS[i].name, name)) return &FORMATS[i];
    }
    return NULL;
}

void wh_paper_room(struct wh_paper_work *work, const struct wh_paper_format *format)
{
    work->wide = format->width - WH_PAPER_FRAME_LEFT - WH_PAPER_FRAME_EDGE - 2 * INSET;
    work->high = format->height - 2 * WH_PAPER_FRAME_EDGE - WH_PAPER_HEAD - WH_PAPER_FOOT - ROOM_UNDER;
    work->main = work->wide - ASIDE - GUTTER;
    work->aside = work->wide - ASIDE + GUTTER;
}

struct placed {
    const struct wh_paper_piece *piece;
    const struct wh_paper_piece *head; /* repeated above it, or NULL */
    size_t sheet;
    double y, scale;
};
typedef WH_LIST(struct placed) placed_list;

/* The pieces from i on that must stand together, and their height. */
static size_t together(const struct wh_paper_work *work, size_t i, double *ret_height)
{
    size_t n = 1;

    *ret_height = work->pieces.at[i]->height;
    while (i + n < work->pieces.count && work->pieces.at[i + n - 1]->keep && !work->pieces.at[i + n]->fresh) {
        *ret_height += work->pieces.at[i + n - 1]->after + work->pieces.at[i + n]->height;
        n++;
    }
    return n;
}

struct pen {
    size_t sheet;
    double y;
    bool empty; /* nothing on the sheet yet */
};

static void place(const struct wh_paper_work *work, const struct wh_paper_piece *piece, struct pen *pen,
                  placed_list *list)
{
    const struct wh_paper_piece *head = pen->empty ? piece->head : NULL;
    double above = head ? head->height + head->after : 0;
    double scale = fmin(1, (work->high - above) / piece->height);

    *WH_PUSH(work->arena, list) = (struct placed){piece, head, pen->sheet, pen->y + above, scale};
    pen->y += above + scale * piece->height + piece->after;
    pen->empty = false;
}

static void place_all(const struct wh_paper_work *work, placed_list *list)
{
    struct pen pen = {.empty = true};

    for (size_t i = 0; i < work->pieces.count;) {
        double height;
        size_t n = together(work, i, &height);

        if (!pen.empty && (work->pieces.at[i]->fresh || pen.y + fmin(height, work->high) > work->high + 1e-6)) {
            pen = (struct pen){.sheet = pen.sheet + 1, .empty = true};
        }
        for (size_t end = i + n; i < end; i++) {
            if (!pen.empty && pen.y + work->pieces.at[i]->height > work->high + 1e-6) {
                pen = (struct pen){.sheet = pen.sheet + 1, .empty = true};
            }
            place(work, work->pieces.at[i], &pen, list);
        }
    }
}

/* The right margin is ruled off beside every piece that writes in it. */
static void rule_margin(const struct wh_paper_work *work, cairo_t *canvas, const placed_list *list, size_t i)
{
    const struct placed *now = &list->at[i];
    bool last = i + 1 == list->count || list->at[i + 1].sheet != now->sheet;
    double bottom = now->y + now->scale * now->piece->height + (last ? 0 : now->piece->after);
    double x = work->aside - GUTTER;

    if (!now->piece->aside) return;
    wh_paper_set_ink(canvas, wh_paper_colour(WH_PAPER_COPPER.ink));
    cairo_set_line_width(canvas, WH_PAPER_COPPER.width);
    cairo_move_to(canvas, x, now->y + now->scale * now->piece->aside_from);
    cairo_line_to(canvas, x, bottom);
    cairo_stroke(canvas);
}

static void draw_placed(const struct wh_paper_work *work, cairo_t *canvas, const struct placed *now)
{
    if (now->head)
        wh_paper_piece_draw(canvas, work->letters, now->head, 0, now->y - now->head->height - now->head->after);
    cairo_save(canvas);
    cairo_translate(canvas, 0, now->y);
    cairo_scale(canvas, now->scale, now->scale);
    wh_paper_piece_draw(canvas, work->letters, now->piece, 0, 0);
    cairo_restore(canvas);
}

/* An entry in the reader's list of contents. */
static void add_outline(cairo_t *canvas, const struct wh_paper_sheet *sheet)
{
    char link[32];

    if (!*sheet->heading) return;
    snprintf(link, sizeof link, "page=%zu", sheet->number);
    cairo_pdf_surface_add_outline(cairo_get_target(canvas), CAIRO_PDF_OUTLINE_ROOT, sheet->heading, link, 0);
}

void wh_paper_print(const struct wh_paper_work *work, cairo_t *canvas, const struct wh_paper_format *format)
{
    placed_list list = {0};
    const char *heading = NULL;

    place_all(work, &list);
    for (size_t i = 0; i < list.count; i++) {
        const struct placed *now = &list.at[i];

        if (i == 0 || list.at[i - 1].sheet != now->sheet) {
            struct wh_paper_sheet sheet = {.format = format,
                                           .number = now->sheet + 1,
                                           .count = list.at[list.count - 1].sheet + 1,
                                           .heading = now->piece->heading,
                                           .continued = now->piece->heading == heading && !now->piece->fresh};

            if (!sheet.continued) add_outline(canvas, &sheet);
            heading = now->piece->heading;
            cairo_save(canvas);
            wh_paper_frame(work, canvas, &sheet);
            cairo_translate(canvas, WH_PAPER_FRAME_LEFT + INSET, WH_PAPER_FRAME_EDGE + WH_PAPER_HEAD);
        }
        rule_margin(work, canvas, &list, i);
        draw_placed(work, canvas, now);
        if (i + 1 == list.count || list.at[i + 1].sheet != now->sheet) {
            cairo_restore(canvas);
            cairo_show_page(canvas);
        }
    }
}
