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
    double value = wh_paper_put_at(work, piece, work->wide, y, width, (struct wh_paper_style){WH_PAPER_LETTER, 3, WH_INK},
                                   WH_ANCHOR_RIGHT, wh_tree_text(figure, "value", ""));
    double beside = width - value - 2.5, height;

    if (beside < 16) {
        piece->marks.at[piece->marks.count - 1].y += 4.6;
        height = 4.6 + fmax(4.2, wh_paper_put(work, piece, x, y + 0.3, width, WH_PAPER_SMALL, name));
    } else {
        height = fmax(4.2, 0.5 + wh_paper_put(work, piece, x, y + 0.5, beside, WH_PAPER_SMALL, name));
    }
    return height + wh_paper_put(work, piece, x, y + height, width, WH_PAPER_FAINT, wh_tree_text(figure, "note", "")) +
           1.6;
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
    wh_paper_put_at(work, piece, x + width / 2, y, width - 8, (struct wh_paper_style){WH_PAPER_LETTER, 3, WH_INK},
                    WH_ANCHOR_MIDDLE, limits);
    if (!least && !most) return 4.4;
    wh_paper_put_scene(work, piece, scene, &fit, x, y + 3);
    return 7;
}

static double put_reading(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                          const struct wh_tree *reading)
{
    double x = work->aside, width = work->wide - x, start = y;
    const char *unit = wh_tree_text(reading, "unit", ""), *gauge = wh_tree_text(reading, "gauge", "");

    y += wh_paper_put(work, piece, x, y + 0.4, width, WH_PAPER_SMALL, wh_tree_text(reading, "title", "")) + 1;
    y += put_limits(work, piece, y, wh_tree_text(reading, "limits", ""));
    y += WRITING - 1.5;
    double taken = wh_paper_put_at(work, piece, work->wide, y - 2.6, 0, WH_PAPER_L25, WH_ANCHOR_RIGHT, unit);
    wh_paper_line(work, piece, WH_PAPER_NARROW, x, y, width - (taken > 0 ? taken + 1.5 : 0), 0);
    y += 1.2;
    if (*gauge) y += wh_paper_put(work, piece, x, y, width, WH_PAPER_FAINT, gauge);
    y += wh_paper_put(work, piece, x, y, width, WH_PAPER_FAINT, wh_tree_text(reading, "note", ""));
    return y - start + 2.4;
}

double wh_paper_put_margin(const struct wh_paper_work *work, struct wh_paper_piece *piece, double y,
                           const struct wh_tree *step)
{
    const struct wh_tree *figures = wh_tree_get(step, "figures"), *readings = wh_tree_get(step, "readings");
    double start = y;

    y += 0.8;
    for (const struct wh_tree *it = figures ? figures->first : NULL; it; it = it->next) {
        y += put_figure(work, piece, y, it);
    }
    for (const struct wh_tree *it = readings ? readings->first : NULL; it; it = it->next) {
        y += put_reading(work, piece, y, it);
    }
    return y - start;
}
