#include "paper/draw.h"

#include "paper/ink.h"

#include <math.h>
#include <string.h>

static const double PI = 3.14159265358979323846;

void wh_paper_set_ink(cairo_t *canvas, struct wh_paper_colour colour)
{
    cairo_set_source_rgb(canvas, colour.red, colour.green, colour.blue);
}

static void stroke_with(cairo_t *canvas, enum wh_pen is, enum wh_ink ink)
{
    struct wh_paper_pen pen = wh_paper_pen(is);

    wh_paper_set_ink(canvas, wh_paper_colour(ink));
    cairo_set_line_width(canvas, pen.width);
    cairo_set_line_cap(canvas, pen.dashes ? CAIRO_LINE_CAP_BUTT : CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(canvas, CAIRO_LINE_JOIN_ROUND);
    cairo_set_dash(canvas, pen.dash, pen.dashes, 0);
    cairo_stroke(canvas);
    cairo_set_dash(canvas, NULL, 0, 0);
}

static void trace(cairo_t *canvas, const struct wh_paper_fit *fit, const struct wh_stroke *stroke)
{
    cairo_new_path(canvas);
    for (size_t i = 0; i < stroke->count; i++) {
        struct wh_point at = wh_paper_place(fit, stroke->at[i]);

        if (stroke->is == WH_STROKE_CIRCLE) {
            cairo_arc(canvas, at.x, at.y, fit->scale * stroke->radius, 0, 2 * PI);
        } else {
            cairo_line_to(canvas, at.x, at.y);
        }
    }
    if (stroke->is != WH_STROKE_LINE) cairo_close_path(canvas);
}

static void draw_lining(cairo_t *canvas, struct wh_arena *arena, const struct wh_paper_fit *fit,
                        const struct wh_stroke *stroke)
{
    size_t n;
    const struct wh_point *outline = wh_paper_outline(arena, fit, stroke, &n);
    struct wh_paper_segments lines = wh_paper_lines(arena, stroke, outline, n);

    for (size_t i = 0; i < lines.count; i++) {
        cairo_move_to(canvas, lines.at[i].from.x, lines.at[i].from.y);
        cairo_line_to(canvas, lines.at[i].to.x, lines.at[i].to.y);
    }
    wh_paper_set_ink(canvas, wh_paper_colour(stroke->ink));
    cairo_set_line_width(canvas, WH_PAPER_HATCH_WIDTH);
    cairo_stroke(canvas);
}

static void draw_shape(cairo_t *canvas, struct wh_arena *arena, const struct wh_paper_fit *fit,
                       const struct wh_stroke *stroke)
{
    struct wh_paper_colour cover;

    if (stroke->is != WH_STROKE_LINE && wh_paper_cover(stroke->fill, stroke->ink, &cover)) {
        trace(canvas, fit, stroke);
        wh_paper_set_ink(canvas, cover);
        cairo_set_fill_rule(canvas, CAIRO_FILL_RULE_EVEN_ODD);
        cairo_fill(canvas);
        draw_lining(canvas, arena, fit, stroke);
    }
    if (stroke->pen == WH_PEN_NONE) return;
    trace(canvas, fit, stroke);
    stroke_with(canvas, stroke->pen, stroke->ink);
}

void wh_paper_draw(cairo_t *canvas, const struct wh_paper_letters *letters, const struct wh_scene *scene,
                   const struct wh_paper_fit *fit)
{
    for (size_t i = 0; i < scene->strokes.count; i++) {
        const struct wh_stroke *stroke = &scene->strokes.at[i];

        if (stroke->is == WH_STROKE_LABEL) {
            wh_paper_label_draw(canvas, letters, stroke, wh_paper_place(fit, *stroke->at));
        } else {
            draw_shape(canvas, letters->arena, fit, stroke);
        }
    }
}

struct wh_paper_bytes *wh_paper_bytes(struct wh_arena *arena, size_t room)
{
    struct wh_paper_bytes *bytes = WH_NEW(arena, 1, struct wh_paper_bytes);

    *bytes = (struct wh_paper_bytes){.at = wh_arena_get(arena, room), .room = room};
    return bytes;
}

cairo_status_t wh_paper_bytes_take(void *closure, const unsigned char *more, unsigned int n)
{
    struct wh_paper_bytes *bytes = closure;

    if (n > bytes->room - bytes->count) return CAIRO_STATUS_WRITE_ERROR;
    memcpy(bytes->at + bytes->count, more, n);
    bytes->count += n;
    return CAIRO_STATUS_SUCCESS;
}

static void release(void *handle)
{
    struct wh_paper_canvas *canvas = handle;

    cairo_destroy(canvas->canvas);
    cairo_surface_destroy(canvas->surface);
}

struct wh_paper_canvas *wh_paper_canvas(struct wh_arena *arena)
{
    struct wh_paper_canvas *canvas = WH_NEW(arena, 1, struct wh_paper_canvas);

    wh_arena_defer(arena, release, canvas);
    return canvas;
}

enum wh_status wh_paper_drawn(cairo_status_t status, const char *path, struct wh_errors *errors)
{
    struct wh_place place = {.file = path};

    switch (status) {
    case CAIRO_STATUS_SUCCESS:
        return WH_OK;
    case CAIRO_STATUS_NO_MEMORY:
        return wh_errors_add(errors, WH_ERR_NOMEM, place, NULL, "no memory left for drawing");
    case CAIRO_STATUS_WRITE_ERROR:
        return wh_errors_add(errors, WH_ERR_LIMIT, place, "fewer sheets, or fewer dots",
                             "the drawing is larger than the room for it");
    default:
        return wh_errors_add(errors, WH_ERR_LIMIT, place, NULL, "cannot be drawn: %s", cairo_status_to_string(status));
    }
}
