#include "paper/sign.h"

#include "base/quantity.h"
#include "base/text.h"

#include <stddef.h>

enum paint { BLACK, WHITE, YELLOW, BLUE };
enum ground { WARNS, COMMANDS };
enum { SHAPES = 8 };

/* A path in a square of 100: M and L to a point, C a curve, O a circle (centre and radius), Z closes. width 0: filled.
 */
struct shape {
    enum paint paint;
    double width;
    const char *path;
};

struct wh_paper_sign {
    const char *name;
    enum ground ground;
    struct shape shapes[SHAPES];
};

/* The ground of a sign: a yellow triangle warns, a blue disc commands. */
static const struct shape GROUNDS[][2] = {
    [WARNS] = {{BLACK, 10, "M50 12 L92 85 L8 85 Z"}, {YELLOW, 0, "M50 12 L92 85 L8 85 Z"}},
    [COMMANDS] = {{BLUE, 0, "O50 50 47"}},
};

static const struct wh_paper_sign SIGNS[] = {
    {"lock-out",
     COMMANDS,
     {{WHITE, 8, "M36 50 L36 36 C36 17 64 17 64 36 L64 50"},
      {WHITE, 0, "M27 47 L73 47 L73 80 L27 80 Z"},
      {BLUE, 0, "O50 60 5.5"},
      {BLUE, 5, "M50 60 L50 72"}}},
    {"hot",
     WARNS,
     {{BLACK, 5, "M28 78 L72 78"},
      {BLACK, 4.5, "M38 71 C31 64 45 58 38 50"},
      {BLACK, 4.5, "M50 71 C42 62 58 52 50 40"},
      {BLACK, 4.5, "M62 71 C55 64 69 58 62 50"}}},
    {"crush",
     WARNS,
     {{BLACK, 0, "M37 44 L63 44 L63 55 L37 55 Z"},
      {BLACK, 4, "M50 30 L50 44"},
      {BLACK, 0, "M20 79 L80 79 L76 71 L24 71 Z"},
      {BLACK, 0, "M26 69 L30 61 L42 61 L50 57 L60 58 L72 62 C76 64 75 68 71 68 L60 66 L54 69 Z"}}},
    {"electricity", WARNS, {{BLACK, 0, "M56 30 L39 57 L49 55 L44 70 L39 68 L44 83 L55 72 L50 71 L62 49 L51 51 Z"}}},
    {"rotating",
     WARNS,
     {{BLACK, 4.5, "O36 66 10"},
      {BLACK, 4.5, "O64 66 10"},
      {BLACK, 0, "O36 66 3"},
      {BLACK, 0, "O64 66 3"},
      {BLACK, 3.5, "M33 50 C38 46 43 46 47 50"},
      {BLACK, 0, "M50 54 L42.5 52 L48 46 Z"},
      {BLACK, 3.5, "M67 50 C62 46 57 46 53 50"},
      {BLACK, 0, "M50 54 L57.5 52 L52 46 Z"}}},
    {"hanging-load",
     WARNS,
     {{BLACK, 4, "M50 27 L50 38"},
      {BLACK, 3.5, "M50 38 C58 40 57 49 50 49 C46 49 45 47 44.5 45"},
      {BLACK, 3, "M50 49 L34 63"},
      {BLACK, 3, "M50 49 L66 63"},
      {BLACK, 0, "M30 62 L70 62 L70 79 L30 79 Z"}}},
    {"eye",
     COMMANDS,
     {{WHITE, 0, "M50 14 C72 14 77 32 75 50 C73 70 64 86 50 86 C36 86 27 70 25 50 C23 32 28 14 50 14 Z"},
      {BLUE, 5, "M24 43 L76 43"},
      {BLUE, 0, "O38 46 11"},
      {BLUE, 0, "O62 46 11"},
      {WHITE, 0, "O38 46 6.5"},
      {WHITE, 0, "O62 46 6.5"},
      {BLUE, 3.5, "M41 71 L59 71"}}},
    {"gloves",
     COMMANDS,
     {{WHITE, 0,
       "M39 68 L27 50 C24 45 29 41 33 45 L41 53 L39 24 C39 19 45 19 46 24 L48 40 L49 19 C49 14 56 14 56 19 "
       "L57 40 L60 23 C61 18 67 19 66 24 L64 44 L68 33 C70 28 76 30 74 35 L67 68 Z"},
      {WHITE, 0, "M38 72 L68 72 L69 84 L37 84 Z"}}},
    {"manual",
     COMMANDS,
     {{WHITE, 0, "O50 24 10"},
      {WHITE, 0, "M30 44 C38 36 62 36 70 44 L76 66 L68 66 L62 54 L38 54 L32 66 L24 66 Z"},
      {WHITE, 0, "M20 62 C32 57 42 58 48.5 63 L48.5 86 C42 81 32 80 20 85 Z"},
      {WHITE, 0, "M80 62 C68 57 58 58 51.5 63 L51.5 86 C58 81 68 80 80 85 Z"}}},
};
enum { COUNT = sizeof SIGNS / sizeof *SIGNS };

const struct wh_paper_sign *wh_paper_sign(const char *name)
{
    for (size_t i = 0; i < COUNT; i++) {
        if (wh_same(SIGNS[i].name, name)) return &SIGNS[i];
    }
    return NULL;
}

const char *wh_paper_sign_name(unsigned n)
{
    return n < COUNT ? SIGNS[n].name : NULL;
}

/* Reads n numbers of a path and gives what follows them. */
static const char *numbers(const char *path, double ret[], int n)
{
    for (int i = 0; i < n; i++) {
        while (*path == ' ') path++;
        path = wh_number_read(path, &ret[i]);
    }
    return path;
}

static void trace(cairo_t *canvas, const char *path)
{
    double at[6];

    cairo_new_path(canvas);
    while (*path) {
        switch (*path++) {
        case 'M':
            path = numbers(path, at, 2);
            cairo_move_to(canvas, at[0], at[1]);
            break;
        case 'L':
            path = numbers(path, at, 2);
            cairo_line_to(canvas, at[0], at[1]);
            break;
        case 'C':
            path = numbers(path, at, 6);
            cairo_curve_to(canvas, at[0], at[1], at[2], at[3], at[4], at[5]);
            break;
        case 'O':
            path = numbers(path, at, 3);
            cairo_new_sub_path(canvas);
            cairo_arc(canvas, at[0], at[1], at[2], 0, 6.283185307179586);
            break;
        case 'Z':
            cairo_close_path(canvas);
            break;
        default:
            break;
        }
    }
}

/* Draws up to n shapes, ending at the first without a path. */
static void draw_shapes(cairo_t *canvas, const struct shape shapes[], size_t n)
{
    static const double PAINTS[][3] = {
        [BLACK] = {0, 0, 0}, [WHITE] = {1, 1, 1}, [YELLOW] = {0.976, 0.659, 0}, [BLUE] = {0, 0.365, 0.620}};

    for (size_t i = 0; i < n && shapes[i].path; i++) {
        const double *paint = PAINTS[shapes[i].paint];

        trace(canvas, shapes[i].path);
        cairo_set_source_rgb(canvas, paint[0], paint[1], paint[2]);
        if (shapes[i].width > 0) {
            cairo_set_line_width(canvas, shapes[i].width);
            cairo_stroke(canvas);
        } else {
            cairo_fill(canvas);
        }
    }
}

void wh_paper_sign_draw(cairo_t *canvas, const struct wh_paper_sign *sign, double x, double y, double size)
{
    cairo_save(canvas);
    cairo_translate(canvas, x, y);
    cairo_scale(canvas, size / 100, size / 100);
    cairo_set_line_join(canvas, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(canvas, CAIRO_LINE_CAP_ROUND);
    draw_shapes(canvas, GROUNDS[sign->ground], 2);
    draw_shapes(canvas, sign->shapes, SHAPES);
    cairo_restore(canvas);
}
