/* The right margin of a step: figures to work to, and readings with their limits and a line to write on. */
#include "paper/block.h"

#include <math.h>
#include <string.h>

static const double WRITING = 9.5; /* room for handwriting, mm */

static double put_figure(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                         const struct wh_tree *figure)
{
    double x = work->aside, width = work->wide - x;
    const char *name = wh_tree_text(figure, "name", wh_tree_text(figure, "symbol", ""));
    double value = wh_paper_put_at(work, piece, work->wide, y, width, WH_PAPER_L30, WH_ANCHOR_RIGHT,
                                   wh_tree_text(figure, "value", ""));
    double beside = width - value - 2.5, height;

    if (beside < 16) {
        piece->marks.at[piece->marks.count - 1].y += 4.6;
        height = 4.6 + fmax(4.2, wh_paper_put(work, piece, x, y + 0.3, width, WH_PAPER_SMALL, name));
    } else {
        height = fmax(4.2, 0.5 + wh_paper_put(work, piece, x, y + 0.5, beside, WH_PAPER_SMALL, name));
    }
    height +=
        0.5 + wh_paper_put(work, piece, x, y + height + 0.5, width, WH_PAPER_FAINT, wh_tree_text(figure, "note", ""));
    return height + 2;
}

/* An arrow head of ISO 129, 15 degrees, its point at x, 0. */
static void arrow(struct wh_scene *scene, double x, double back)
{
    const struct wh_point head[] = {{x, 0}, {x + back, 0.34}, {x + back, -0.34}};

    wh_scene_area(scene, WH_PEN_NONE, WH_FILL_SOLID, head, 3);
}

/* Limits as a dimension between two extension lines: the reading may be dotted in by hand. */
static const struct wh_scene *limits_drawn(const struct wh_paper_work *work, double width, bool least, bool most)
{
    struct wh_scene *scene = wh_scene_new(work->arena, "limits");
    double inset = 2.5, right = width - inset;

    wh_scene_frame(scene, 0, -2, width, 2);
    wh_scene_segment(scene, WH_PEN_NARROW, least ? inset : 0, 0, most ? right : width, 0);
    if (least) {
        arrow(scene, inset, 2.5);
        wh_scene_segment(scene, WH_PEN_NARROW, inset, -1.6, inset, 1.6);
    }
    if (most) {
        arrow(scene, right, -2.5);
        wh_scene_segment(scene, WH_PEN_NARROW, right, -1.6, right, 1.6);
    }
    return scene;
}

static double put_limits(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, const char *limits)
{
    double x = work->aside, width = work->wide - x;
    bool both = strstr(limits, " to ") || strstr(limits, "..") || strstr(limits, "±") || strstr(limits, "–");
    bool least = both || wh_starts(limits, "at least"), most = both || wh_starts(limits, "at most");
    const struct wh_scene *scene = limits_drawn(work, width, least, most);
    struct wh_paper_fit fit = {.scale = 1, .left = 0, .top = 2, .width = width, .height = 4};

    if (!*limits) return 0;
    if (!least && !most) return 0.6 + wh_paper_put(work, piece, x, y, width, WH_PAPER_SMALL, limits);
    wh_paper_put_at(work, piece, x + width / 2, y, width - 8, WH_PAPER_L30, WH_ANCHOR_MIDDLE, limits);
    wh_paper_put_scene(work, piece, scene, &fit, x, y + 3);
    return 7;
}

/* The line to write on, its name above or beside it, its unit behind it; gives the height. */
static double put_line(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y, double from,
                       const char *unit)
{
    double taken = wh_paper_put_at(work, piece, work->wide, y + WRITING - 4.1, 0, WH_PAPER_L25, WH_ANCHOR_RIGHT, unit);
    double end = work->wide - (taken > 0 ? taken + 1.5 : 0);

    wh_paper_line(work, piece, WH_PAPER_NARROW, from, y + WRITING - 1.5, end - from, 0);
    return WRITING - 1.5;
}

static bool same_limits(const struct wh_tree *a, const struct wh_tree *b)
{
    return b && wh_same(wh_tree_text(a, "limits", ""), wh_tree_text(b, "limits", "")) &&
           wh_same(wh_tree_text(a, "unit", ""), wh_tree_text(b, "unit", ""));
}

/* What belongs below a reading or a run of them. */
static double put_remarks(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                          const struct wh_tree *reading)
{
    static const char *const KEYS[] = {"gauge", "note"};
    double start = y, x = work->aside;

    for (size_t i = 0; i < sizeof KEYS / sizeof *KEYS; i++) {
        const char *says = wh_tree_text(reading, KEYS[i], "");

        if (*says) y += 1 + wh_paper_put(work, piece, x, y + 1, work->wide - x, WH_PAPER_FAINT, says);
    }
    return y - start;
}

static double put_reading(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                          const struct wh_tree *reading)
{
    double x = work->aside, start = y;

    y +=
        1.6 + wh_paper_put(work, piece, x, y + 0.4, work->wide - x, WH_PAPER_SMALL, wh_tree_text(reading, "title", ""));
    y += put_limits(work, piece, y, wh_tree_text(reading, "limits", ""));
    y += put_line(work, piece, y, x, wh_tree_text(reading, "unit", ""));
    return y + put_remarks(work, piece, y + 0.4, reading) + 3.4 - start;
}

/* A line to write on that begins and ends in a column of the margin, its name before it. */
static void put_cell(const struct wh_paper_work *work, struct wh_paper_piece *piece, double x, double y, double width,
                     const char *name)
{
    double taken =
        wh_paper_put_at(work, piece, x, y + WRITING - 4.1, 0.6 * width, WH_PAPER_L25, WH_ANCHOR_LEFT, name);
    wh_paper_line(work, piece, WH_PAPER_NARROW, x + taken + 1, y + WRITING - 1.5, width - taken - 1, 0);
}

/* Numbered readings go two in a row; named ones have a row each. */
static bool are_numbered(const struct wh_tree *first, const struct wh_tree *end)
{
    bool numbered = true;
    for (const struct wh_tree *it = first; it != end; it = it->next)
        numbered &= wh_text_width(wh_tree_text(it, "title", "")) <= 2;
    return numbered;
}

/* A run of readings with the same limits: limits and unit once, then the lines to write on. */
static double put_run(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                      const struct wh_tree *first, const struct wh_tree *end)
{
    double x = work->aside, start = y, gap = 3;
    int columns = are_numbered(first, end) ? 2 : 1, n = 0;
    double width = (work->wide - x - gap * (columns - 1)) / columns;
    const char *unit = wh_tree_text(first, "unit", ""), *limits = wh_tree_text(first, "limits", "");

    if (*unit) limits = wh_arena_print(work->arena, "%s %s", limits, unit);
    y += put_limits(work, piece, y + 0.4, limits);
    for (const struct wh_tree *it = first; it != end; it = it->next, n++) {
        put_cell(work, piece, x + n % columns * (width + gap), y, width, wh_tree_text(it, "title", ""));
        if (n % columns == columns - 1 || it->next == end) y += WRITING - 1.5;
    }
    return y + put_remarks(work, piece, y + 0.4, first) + 2.8 - start;
}

static double put_readings(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                           const struct wh_tree *readings)
{
    double start = y;

    for (const struct wh_tree *it = readings ? readings->first : NULL, *end; it; it = end) {
        for (end = it->next; same_limits(it, end);) end = end->next;
        y += end == it->next ? put_reading(work, piece, y, it) : put_run(work, piece, y, it, end);
    }
    return y - start;
}

double wh_paper_put_margin(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                           const struct wh_tree *step)
{
    const struct wh_tree *figures = wh_tree_get(step, "figures");
    double start = y;

    y += 1.3;
    for (const struct wh_tree *it = figures ? figures->first : NULL; it; it = it->next) {
        y += put_figure(work, piece, y, it);
    }
    y += put_readings(work, piece, y, wh_tree_get(step, "readings"));
    return y - start;
}
