/* Figures in inch units, for who reads those. Limits and readings stay as they were written. */
#include "view/machine.h"

#include <string.h>

/* The unit that stands for one of ours, NULL for none. */
static const char *counterpart(const struct wh_unit *unit)
{
    static const char *const units[][2] = {{"mm", "in"},     {"um", "in"},      {"m", "ft"},        {"N", "lbf"},
                                           {"kN", "lbf"},    {"N m", "lbf ft"}, {"kg", "lb"},       {"g", "lb"},
                                           {"degC", "degF"}, {"MPa", "psi"},    {"N/mm2", "psi"},   {"bar", "psi"},
                                           {"m/s", "ft/s"},  {"mm/s", "in/s"},  {"N/mm", "lbf/in"}, {"kW", "hp"}};
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (strlen(units[i][0]) == unit->length && strncmp(units[i][0], unit->name, unit->length) == 0)
            return units[i][1];
    return NULL;
}

const struct wh_sheet *wh_view_in_inches(struct wh_arena *arena, const struct wh_sheet *sheet)
{
    struct wh_sheet *copy = WH_NEW(arena, 1, struct wh_sheet);
    *copy = *sheet;
    copy->cells = WH_NEW(arena, sheet->cell_count, struct wh_cell);
    for (size_t c = 0; c < sheet->cell_count; c++) {
        struct wh_cell *cell = &copy->cells[c];
        *cell = sheet->cells[c];
        const char *name = cell->form.vocabulary ? NULL : counterpart(&cell->form.unit);
        struct wh_unit unit;
        if (name && wh_unit_read(name, strlen(name), &unit) &&
            wh_dimension_same(unit.dimension, cell->form.unit.dimension))
            cell->form.unit = unit;
    }
    return copy;
}
