#include "sheet/sheet.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

size_t wh_sheet_cell(const struct wh_sheet *sheet, const char *name)
{
    for (size_t c = 0; c < sheet->cell_count; c++)
        if (strcmp(sheet->cells[c].name, name) == 0) return c;
    return WH_NONE;
}

size_t wh_sheet_figure(const struct wh_sheet *sheet, size_t thing, const char *figure)
{
    size_t n = strlen(sheet->machine->things[thing].id);
    for (size_t c = 0; c < sheet->cell_count; c++)
        if (sheet->cells[c].thing == thing && strcmp(sheet->cells[c].name + n + 1, figure) == 0) return c;
    return WH_NONE;
}

/* Is every input of a use a number inside its slot's range? */
static bool inside(const struct wh_use *use, const double *value)
{
    const double slack = 1e-12;
    for (size_t i = 0; i < use->inputs; i++) {
        double x = value[use->in[i]];
        bool good = x >= use->least[i] - slack * fabs(use->least[i]) && x <= use->most[i] + slack * fabs(use->most[i]);
        if (!good) return false;
    }
    return true;
}

/* Works one use for n rows; cell c has its rows at columns + c * n. */
static void work_use(const struct wh_use *use, size_t n, double *columns)
{
    const double *in[WH_RULE_COLUMNS];
    double *out[WH_RULE_OUT];
    for (size_t i = 0; i < use->inputs; i++) in[i] = columns + use->in[i] * n;
    for (size_t o = 0; o < use->results; o++) out[o] = columns + use->out[o] * n;
    use->rule->work(n, use->inputs, in, out);
}

static const char *remark_of(const struct wh_use *use, const double *value)
{
    double in[WH_RULE_COLUMNS], out[WH_RULE_OUT];
    if (!use->rule->remark) return NULL;
    for (size_t i = 0; i < use->inputs; i++) in[i] = value[use->in[i]];
    for (size_t o = 0; o < use->results; o++) out[o] = value[use->out[o]];
    return use->rule->remark(in, out);
}

void wh_sheet_settle(struct wh_sheet *sheet)
{
    for (size_t c = 0; c < sheet->cell_count; c++)
        if (sheet->cells[c].use == WH_NONE) sheet->value[c] = sheet->cells[c].given.best;
    for (size_t u = 0; u < sheet->use_count; u++) {
        struct wh_use *use = &sheet->uses[u];
        if (inside(use, sheet->value)) {
            work_use(use, 1, sheet->value);
            use->remark = remark_of(use, sheet->value);
        } else {
            for (size_t o = 0; o < use->results; o++) sheet->value[use->out[o]] = NAN;
            use->remark = "an input has no answer or is out of the range of this rule";
        }
    }
}

static bool touches(const struct wh_use *use, const double *moved)
{
    for (size_t i = 0; i < use->inputs; i++)
        if (moved[use->in[i]] > 0) return true;
    return false;
}

/* Adds the effect of one input on one result, whose values at the input's limits are `low` and `high`. */
static void add_effect(struct wh_sheet *sheet, size_t cell, const struct wh_value *in, double low, double high)
{
    double base = sheet->value[cell], half = (in->most - in->least) / 2;
    double part = half > 0 ? (high - low) / 2 / half * in->u : 0;
    sheet->u[cell] = sqrt(sheet->u[cell] * sheet->u[cell] + part * part);
    sheet->least[cell] += fmin(fmin(low, high) - base, 0);
    sheet->most[cell] += fmax(fmax(low, high) - base, 0);
}

/* Moves one given cell to its limits and works only what hangs on it. two: two rows a cell, at the best values before
 * and after; moved: one flag a cell, zero before and after. */
static void spread_one(struct wh_sheet *sheet, size_t cell, double *two, double *moved)
{
    const struct wh_value *given = &sheet->cells[cell].given;
    two[2 * cell] = given->least;
    two[2 * cell + 1] = given->most;
    moved[cell] = 1;
    for (size_t u = 0; u < sheet->use_count; u++) {
        const struct wh_use *use = &sheet->uses[u];
        if (!touches(use, moved)) continue;
        work_use(use, 2, two);
        for (size_t o = 0; o < use->results; o++) {
            moved[use->out[o]] = 1;
            add_effect(sheet, use->out[o], given, two[2 * use->out[o]], two[2 * use->out[o] + 1]);
        }
    }
    for (size_t c = 0; c < sheet->cell_count; c++)
        if (moved[c] > 0) {
            moved[c] = 0;
            two[2 * c] = two[2 * c + 1] = sheet->value[c];
        }
}

void wh_sheet_spread(struct wh_sheet *sheet, double *room)
{
    double *two = room, *moved = room + 2 * sheet->cell_count;
    for (size_t c = 0; c < sheet->cell_count; c++) {
        const struct wh_cell *cell = &sheet->cells[c];
        bool made = cell->use != WH_NONE;
        sheet->u[c] = made ? 0 : cell->given.u;
        sheet->least[c] = made ? sheet->value[c] : cell->given.least;
        sheet->most[c] = made ? sheet->value[c] : cell->given.most;
        two[2 * c] = two[2 * c + 1] = sheet->value[c];
        moved[c] = 0;
    }
    for (size_t c = 0; c < sheet->cell_count; c++)
        if (sheet->cells[c].use == WH_NONE && sheet->cells[c].given.shape != WH_EXACT) spread_one(sheet, c, two, moved);
}

static bool differs(double a, double b)
{
    return isnan(a) != isnan(b) || fabs(a - b) > 1e-12 * (fabs(a) + fabs(b));
}

struct wh_words wh_sheet_changed(struct wh_arena *arena, const struct wh_sheet *before, const struct wh_sheet *after)
{
    const char **names = WH_NEW(arena, after->cell_count + 1, const char *);
    size_t count = 0;
    for (size_t c = 0; c < after->cell_count; c++) {
        size_t was = wh_sheet_cell(before, after->cells[c].name);
        bool changed = was == WH_NONE || differs(before->value[was], after->value[c]) ||
                       differs(before->least[was], after->least[c]) || differs(before->most[was], after->most[c]);
        if (changed) names[count++] = after->cells[c].name;
    }
    return (struct wh_words){names, count};
}
