/* machine.h - a described machine as people look through it. */
#ifndef WH_VIEW_MACHINE_H
#define WH_VIEW_MACHINE_H

#include "base/tree.h"
#include "sheet/sheet.h"

/* The machine as a map: title, of, section (a drawing), parts (id, title, kind, renew), energies, ways to stand. */
struct wh_tree *wh_view_machine(struct wh_arena *arena, const struct wh_sheet *sheet);

/* One thing: title, kind, what it is, where it sits, section with it in wide line, its figures with their working. */
struct wh_tree *wh_view_part(struct wh_arena *arena, const struct wh_sheet *sheet, size_t thing);

/* The same figures in inches, pounds and degrees Fahrenheit, where their units have such a counterpart. */
const struct wh_sheet *wh_view_in_inches(struct wh_arena *arena, const struct wh_sheet *sheet);

/* Writes inches behind the limits and readings of a whole tree: "0.02 mm (0.0008 in)". */
void wh_view_also_in_inches(struct wh_arena *arena, struct wh_tree *tree);

/* Writes the units of a whole tree's texts as a hand does: degC as °C, um as µm. */
void wh_view_units(struct wh_arena *arena, struct wh_tree *tree);
const char *wh_view_units_text(struct wh_arena *arena, const char *text);

#endif
