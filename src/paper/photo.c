#include "paper/photo.h"

#include <string.h>

enum { MOST_DOTS = 60000000 };

struct source {
    const struct wh_picture *picture;
    size_t read;
};

static cairo_status_t read_more(void *context, unsigned char *to, unsigned n)
{
    struct source *source = context;
    if (n > source->picture->size - source->read) return CAIRO_STATUS_READ_ERROR;
    memcpy(to, source->picture->bytes + source->read, n);
    source->read += n;
    return CAIRO_STATUS_SUCCESS;
}

/* The surface of a JPEG holds no dots of it: a PDF takes the bytes that hang on it. */
static cairo_surface_t *surface_of(const struct wh_picture *picture)
{
    struct source source = {picture, 0};
    if (picture->is == WH_PICTURE_PNG) return cairo_image_surface_create_from_png_stream(read_more, &source);
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)picture->wide, (int)picture->high);
    cairo_surface_set_mime_data(surface, CAIRO_MIME_TYPE_JPEG, (const unsigned char *)picture->bytes, picture->size,
                                NULL, NULL);
    return surface;
}

/* From dots as stored to a unit box, y downward, for the eight ways of Exif. */
static cairo_matrix_t upright(const struct wh_picture *picture)
{
    static const double turns[8][6] = {{1, 0, 0, 1, 0, 0},   {-1, 0, 0, 1, 1, 0}, {-1, 0, 0, -1, 1, 1},
                                       {1, 0, 0, -1, 0, 1},  {0, 1, 1, 0, 0, 0},  {0, 1, -1, 0, 1, 0},
                                       {0, -1, -1, 0, 1, 1}, {0, -1, 1, 0, 0, 1}};
    const double *t = turns[picture->turn - 1];
    cairo_matrix_t turn = {t[0], t[1], t[2], t[3], t[4], t[5]}, shrink, both;
    cairo_matrix_init_scale(&shrink, 1.0 / picture->wide, 1.0 / picture->high);
    cairo_matrix_multiply(&both, &shrink, &turn);
    return both;
}

void wh_paper_photo_draw(cairo_t *canvas, const struct wh_picture *picture, double x, double y, double wide,
                         double high)
{
    cairo_matrix_t matrix = upright(picture);
    cairo_surface_t *surface = (double)picture->wide * picture->high <= MOST_DOTS ? surface_of(picture) : NULL;

    cairo_save(canvas);
    cairo_translate(canvas, x, y);
    cairo_scale(canvas, wide, high);
    cairo_transform(canvas, &matrix);
    if (surface && cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS) {
        cairo_set_source_surface(canvas, surface, 0, 0);
        cairo_paint(canvas);
    }
    cairo_restore(canvas);
    if (surface) cairo_surface_destroy(surface);
}
