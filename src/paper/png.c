#include "base/file.h"
#include "paper/draw.h"
#include "paper/paper.h"

#include <math.h>

static const double MOST_WIDE = 180, MOST_HIGH = 240;
enum { MOST_PIXELS = 8192 };

enum wh_status wh_paper_png(struct wh_arena *arena, const struct wh_scene *scene, double pixels_per_mm,
                            const char *path, struct wh_errors *errors)
{
    struct wh_paper_fit fit = wh_paper_fit(scene, MOST_WIDE, MOST_HIGH, 1);
    double wide = ceil(fit.width * pixels_per_mm), high = ceil(fit.height * pixels_per_mm);

    if (!(pixels_per_mm > 0 && wide <= MOST_PIXELS && high <= MOST_PIXELS)) {
        return wh_errors_add(errors, WH_ERR_INPUT, (struct wh_place){.file = path},
                             "above 0, a picture of at most 8192 dots", "%g dots per mm cannot be drawn",
                             pixels_per_mm);
    }
    struct wh_paper_bytes *bytes = wh_paper_bytes(arena, (size_t)(4 * wide * high) + (64 << 10));
    struct wh_paper_canvas *on = wh_paper_canvas(arena);

    on->surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)wide, (int)high);
    on->canvas = cairo_create(on->surface);
    wh_paper_set_ink(on->canvas, (struct wh_paper_colour){1, 1, 1});
    cairo_paint(on->canvas);
    cairo_scale(on->canvas, pixels_per_mm, pixels_per_mm);
    wh_paper_draw(on->canvas, wh_paper_letters(arena, on->canvas), scene, &fit);
    cairo_surface_flush(on->surface);

    enum wh_status status = wh_paper_drawn(cairo_status(on->canvas), path, errors);
    if (status != WH_OK) return status;
    status = wh_paper_drawn(cairo_surface_write_to_png_stream(on->surface, wh_paper_bytes_take, bytes), path, errors);
    return status == WH_OK ? wh_file_write(arena, path, bytes->at, bytes->count, errors) : status;
}
