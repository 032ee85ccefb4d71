/* Figures in inch units, for who reads those. Limits and readings stay as they were written, the inches stand behind.
 */
#include "view/machine.h"

#include <math.h>
#include <string.h>

/* Its name, NULL for none. */
static const char *counterpart(const struct wh_unit *unit)
{
    static const char *const units[][2] = {
        {"mm", "in"},     {"um", "in"},   {"m", "ft"},      {"N", "lbf"},     {"kN", "lbf"},      {"N m", "lbf ft"},
        {"kg", "lb"},     {"g", "lb"},    {"degC", "degF"}, {"°C", "degF"},   {"µm", "in"},       {"MPa", "psi"},
        {"N/mm2", "psi"}, {"bar", "psi"}, {"m/s", "ft/s"},  {"mm/s", "in/s"}, {"N/mm", "lbf/in"}, {"kW", "hp"}};
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (strlen(units[i][0]) == unit->length && strncmp(units[i][0], unit->name, unit->length) == 0)
            return units[i][1];
    return NULL;
}

/* The unit that stands for one of ours; false: there is none. */
static bool inch_unit(const struct wh_unit *unit, struct wh_unit *ret)
{
    const char *name = counterpart(unit);
    return name && wh_unit_read(name, strlen(name), ret) && wh_dimension_same(ret->dimension, unit->dimension);
}

const struct wh_sheet *wh_view_in_inches(struct wh_arena *arena, const struct wh_sheet *sheet)
{
    struct wh_sheet *copy = WH_NEW(arena, 1, struct wh_sheet);
    *copy = *sheet;
    copy->cells = WH_NEW(arena, sheet->cell_count, struct wh_cell);
    for (size_t c = 0; c < sheet->cell_count; c++) {
        struct wh_cell *cell = &copy->cells[c];
        *cell = sheet->cells[c];
        struct wh_unit inch;
        if (!cell->form.vocabulary && inch_unit(&cell->form.unit, &inch)) cell->form.unit = inch;
    }
    return copy;
}

/* Digits after the point of the number a text begins with. */
static int decimals_of(const char *text)
{
    const char *point = strpbrk(text, ".,");
    return point ? (int)strspn(point + 1, "0123456789") : 0;
}

/* Decimals in another unit that are as fine as those a text is written with. */
static int decimals_in(const char *text, const struct wh_unit *from, const struct wh_unit *to)
{
    int decimals = decimals_of(text) + (int)ceil(log10(to->factor / from->factor));
    return decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
}

/* A reading, with as many decimals as it was read with in its own unit. */
static const char *reading(struct wh_arena *arena, const char *text)
{
    struct wh_value value;
    struct wh_unit unit, inch;
    if (wh_value_read(text, NULL, &value, &unit) != WH_READ_WELL || !inch_unit(&unit, &inch)) return NULL;
    return wh_quantity_fixed(arena, value.best, &inch, decimals_in(text, &unit, &inch));
}

static bool is_whole(const struct wh_unit *unit, double si, int decimals)
{
    double steps = (si - unit->offset) / unit->factor * pow(10, decimals);
    return fabs(steps - round(steps)) <= 1e-9 * fmax(1, fabs(steps));
}

/* A limit rounded up or down to a decimal of a unit, SI; what is written whole stays. */
static double rounded(double si, const struct wh_unit *unit, int decimals, bool up)
{
    double steps = (si - unit->offset) / unit->factor * pow(10, decimals);
    double whole = is_whole(unit, si, decimals) ? round(steps) : up ? ceil(steps) : floor(steps);
    return whole / pow(10, decimals) * unit->factor + unit->offset;
}

/* Limits are rounded inward: nothing passes in inches that does not pass in millimetres. */
static const char *limits(struct wh_arena *arena, const char *text)
{
    struct wh_value value;
    struct wh_unit unit, inch;
    bool most = wh_starts(text, "at most "), least = wh_starts(text, "at least ");
    const char *number = text + (most ? strlen("at most ") : least ? strlen("at least ") : 0);
    if (wh_value_read(number, NULL, &value, &unit) != WH_READ_WELL || !inch_unit(&unit, &inch)) return NULL;
    int decimals = decimals_in(number, &unit, &inch) + 1;
    while (decimals > 0 && is_whole(&inch, value.least, decimals - 1) && is_whole(&inch, value.most, decimals - 1))
        decimals--;
    struct wh_unit bare = inch;
    bare.length = 0;
    const char *from = wh_quantity_fixed(arena, rounded(value.least, &inch, decimals, true), least ? &inch : &bare,
                                         decimals),
               *to = wh_quantity_fixed(arena, rounded(value.most, &inch, decimals, false), &inch, decimals);
    return most    ? wh_arena_print(arena, "at most %s", to)
           : least ? wh_arena_print(arena, "at least %s", from)
                   : wh_arena_print(arena, "%s..%s", from, to);
}

void wh_view_also_in_inches(struct wh_arena *arena, struct wh_tree *tree)
{
    static const char *const keys[] = {"limits", "wear limit", "value", "gauge uncertainty", "first value"};
    enum { LIMITS = 2 };
    for (size_t i = 0; tree->is == WH_TREE_TEXT && tree->key && i < sizeof keys / sizeof *keys; i++) {
        if (!wh_same(tree->key, keys[i])) continue;
        const char *inches = i < LIMITS ? limits(arena, tree->text) : reading(arena, tree->text);
        if (inches) tree->text = wh_arena_print(arena, "%s (%s)", tree->text, wh_view_units_text(arena, inches));
    }
    for (struct wh_tree *node = tree->first; node; node = node->next) wh_view_also_in_inches(arena, node);
}
