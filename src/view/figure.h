/* figure.h - figures as people read them: rounded, with unit, span and working. */
#ifndef WH_VIEW_FIGURE_H
#define WH_VIEW_FIGURE_H

#include "base/scene.h"
#include "base/tree.h"
#include "sheet/ask.h"
#include "sheet/sheet.h"

/* A value with its unit: as many decimals as its standard uncertainty u deserves; a designation as its words. */
const char *wh_view_value(struct wh_arena *arena, const struct wh_form *form, double value, double u);

/* The best value of a result in the unit of its form: where that is not its rule's own, no coarser than in that. */
const char *wh_view_result(struct wh_arena *arena, const struct wh_asked_result *result);

/* "42..85 degC"; "" when least and most are one. */
const char *wh_view_span(struct wh_arena *arena, const struct wh_form *form, double least, double most, double u);

/* Limits, "45.002..45.013 mm", "at most 3 mm/s": whole where a few decimals hold them, else rounded inward, so that
 * what is read off never lets pass what the limits do not. An open side is infinite. */
const char *wh_view_limits(struct wh_arena *arena, const struct wh_form *form, double least, double most);

/* A figure as a step shows it: the value at the end it goes by, the span, and what is to be said about it. */
struct wh_shown {
    const char *value, *span, *remark; /* span "" and remark NULL for none */
};
struct wh_shown wh_view_shown(struct wh_arena *arena, const struct wh_sheet *sheet, size_t cell, enum wh_end end);

/* The figure in the window that its kind names for it (clearance, temperature), as a dimension; NULL: it has none. */
struct wh_scene *wh_view_window(struct wh_arena *arena, const struct wh_sheet *sheet, size_t cell);

/* The five lines of a working, as a map: says, with, gives, from, hangs on. */
struct wh_tree *wh_view_working(struct wh_arena *arena, const struct wh_sheet *sheet, size_t cell);
struct wh_tree *wh_view_asked_working(struct wh_arena *arena, const struct wh_asked *asked);

/* The same as text, five lines, each led by its word. */
const char *wh_view_working_text(struct wh_arena *arena, const struct wh_tree *working);

/* All figures of a sheet, or of one thing (WH_NONE: of all): a list of maps; and one of those not worked out. */
struct wh_tree *wh_view_figures(struct wh_arena *arena, const struct wh_sheet *sheet, size_t thing, bool working);
/* The same of some cells. */
struct wh_tree *wh_view_named_figures(struct wh_arena *arena, const struct wh_sheet *sheet, const size_t cells[],
                                      size_t count, bool working);
/* One line a figure: name, value, span, origin, title; with the working under it when asked for. */
const char *wh_view_figures_text(struct wh_arena *arena, const struct wh_tree *figures);

#endif
