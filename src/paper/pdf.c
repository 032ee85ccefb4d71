#include "base/file.h"
#include "paper/block.h"
#include "paper/flow.h"
#include "paper/paper.h"

#include <cairo-pdf.h>

static const double POINTS_PER_MM = 72 / 25.4;
enum { ROOM = 4 << 20 }; /* bytes of one document */

static enum wh_status wrong(const struct wh_tree *document, struct wh_errors *errors, const char *right,
                            const char *says, const char *value)
{
    return wh_errors_add(errors, WH_ERR_INPUT, document->place, right, "%s \"%s\"", says, value);
}

/* The date of issue, as the file itself bears it; NULL: it is not a date. */
static const char *creation(struct wh_arena *arena, const char *date)
{
    static const char FORM[] = "dddd-dd-dd";

    for (size_t i = 0; FORM[i]; i++) {
        bool digit = date[i] >= '0' && date[i] <= '9';

        if (FORM[i] == 'd' ? !digit : date[i] != FORM[i]) return NULL;
    }
    return wh_arena_print(arena, "%.10sT00:00:00Z", date);
}

static void add_sheets(struct wh_paper_work *work)
{
    const struct wh_tree *sheets = wh_tree_get(work->document, "sheets");

    for (const struct wh_tree *sheet = sheets ? sheets->first : NULL; sheet; sheet = sheet->next) {
        const struct wh_tree *blocks = wh_tree_get(sheet, "blocks");

        work->heading = wh_tree_text(sheet, "heading", "");
        work->fresh = true;
        for (const struct wh_tree *block = blocks ? blocks->first : NULL; block; block = block->next) {
            wh_paper_block(work, block);
        }
    }
}

static struct wh_paper_canvas *open_canvas(struct wh_arena *arena, const struct wh_paper_format *format,
                                           const struct wh_tree *document, struct wh_paper_bytes *bytes)
{
    struct wh_paper_canvas *on = wh_paper_canvas(arena);
    const char *title =
        wh_arena_print(arena, "%s: %s", wh_tree_text(document, "title", ""), wh_tree_text(document, "machine", ""));

    on->surface = cairo_pdf_surface_create_for_stream(wh_paper_bytes_take, bytes, POINTS_PER_MM * format->width,
                                                      POINTS_PER_MM * format->height);
    cairo_pdf_surface_set_metadata(on->surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(on->surface, CAIRO_PDF_METADATA_CREATOR, wh_tree_text(document, "maker", ""));
    cairo_pdf_surface_set_metadata(on->surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                   creation(arena, wh_tree_text(document, "date", "")));
    on->canvas = cairo_create(on->surface);
    cairo_scale(on->canvas, POINTS_PER_MM, POINTS_PER_MM);
    return on;
}

enum wh_status wh_paper_pdf(struct wh_arena *arena, const struct wh_tree *document, const char *path,
                            struct wh_errors *errors)
{
    const char *paper = wh_tree_text(document, "paper", "A4"), *date = wh_tree_text(document, "date", "");
    const struct wh_paper_format *format = wh_paper_format(paper);
    struct wh_paper_work work = {.arena = arena, .errors = errors, .document = document};

    if (!format) return wrong(document, errors, "A4 or Letter", "no sheet of paper is called", paper);
    if (!creation(arena, date)) return wrong(document, errors, "a day like 2026-11-25", "not a date of issue:", date);
    size_t before = errors->count;
    struct wh_paper_bytes *bytes = wh_paper_bytes(arena, ROOM);
    struct wh_paper_canvas *on = open_canvas(arena, format, document, bytes);

    work.letters = wh_paper_letters(arena, on->canvas);
    wh_paper_room(&work, format);
    add_sheets(&work);
    if (errors->count > before) return errors->last->status;
    if (!work.pieces.count)
        return wrong(document, errors, NULL, "nothing to print:", wh_tree_text(document, "title", ""));
    wh_paper_print(&work, on->canvas, format);
    cairo_surface_finish(on->surface);

    enum wh_status status = wh_paper_drawn(cairo_status(on->canvas), path, errors);
    if (status == WH_OK) status = wh_paper_drawn(cairo_surface_status(on->surface), path, errors);
    return status == WH_OK ? wh_file_write(arena, path, bytes->at, bytes->count, errors) : status;
}
