#include "sheet/turning.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

const char *wh_sheet_end(const char *figure, enum wh_end *ret)
{
    bool least = wh_starts(figure, "least "), most = wh_starts(figure, "most ");
    *ret = least ? WH_END_LEAST : most ? WH_END_MOST : WH_END_BEST;
    return figure + (least ? strlen("least ") : most ? strlen("most ") : 0);
}

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
    for (size_t i = 0; i < use->inputs; i++)
        if (!wh_form_between(value[use->in[i]], use->least[i], use->most[i])) return false;
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

/* The remark for one of n rows of the columns. */
static const char *remark_of(const struct wh_use *use, size_t n, size_t row, const double *columns)
{
    double in[WH_RULE_COLUMNS], out[WH_RULE_OUT];
    if (!use->rule->remark) return NULL;
    for (size_t i = 0; i < use->inputs; i++) in[i] = columns[use->in[i] * n + row];
    for (size_t o = 0; o < use->results; o++) out[o] = columns[use->out[o] * n + row];
    return use->rule->remark(in, out);
}

void wh_sheet_settle(struct wh_sheet *sheet)
{
    for (size_t c = 0; c < sheet->cell_count; c++)
        if (sheet->cells[c].use == WH_NONE) sheet->value[c] = sheet->cells[c].given.best;
    for (size_t u = 0; u < sheet->use_count; u++) {
        struct wh_use *use = &sheet->uses[u];
        if (inside(use, sheet->value)) {
            if (use->study) {
                wh_sheet_work_study(sheet, use);
            } else {
                work_use(use, 1, sheet->value);
            }
            use->remark = use->reason ? use->reason : remark_of(use, 1, 0, sheet->value);
        } else {
            for (size_t o = 0; o < use->results; o++) sheet->value[use->out[o]] = NAN;
            use->remark = "an input has no answer or is out of the range of this rule";
        }
    }
}

/* A study is worked once for a change: in a spread its results stand still. */
static bool touches(const struct wh_use *use, const double *moved)
{
    for (size_t i = 0; i < use->inputs; i++)
        if (!use->study && moved[use->in[i]] > 0) return true;
    return false;
}

/* Scratch of a spread: two rows a cell, and for each cell which way every uncertain input moves it. */
struct spread {
    double *two;      /* 2 a cell, at the best values before and after each use */
    double *moved;    /* a flag a cell, zero before and after */
    signed char *way; /* inputs a cell: +1 the cell rises with the input, -1 it falls, 0 it does not hang on it */
    size_t *inputs;   /* the uncertain given cells */
    size_t count;
};

static void rest(struct wh_sheet *sheet, struct spread *spread)
{
    for (size_t c = 0; c < sheet->cell_count; c++)
        if (spread->moved[c] > 0) {
            spread->moved[c] = 0;
            spread->two[2 * c] = spread->two[2 * c + 1] = sheet->value[c];
        }
}

/* Moves one given cell to its limits and works only what hangs on it. */
static void move_one(struct wh_sheet *sheet, struct spread *spread, size_t i)
{
    size_t cell = spread->inputs[i];
    const struct wh_value *given = &sheet->cells[cell].given;
    double half = (given->most - given->least) / 2;
    spread->two[2 * cell] = given->least;
    spread->two[2 * cell + 1] = given->most;
    spread->moved[cell] = 1;
    for (size_t u = 0; u < sheet->use_count; u++) {
        const struct wh_use *use = &sheet->uses[u];
        if (!touches(use, spread->moved)) continue;
        work_use(use, 2, spread->two);
        for (size_t o = 0; o < use->results; o++) {
            size_t c = use->out[o];
            double low = spread->two[2 * c], high = spread->two[2 * c + 1];
            double part = half > 0 ? (high - low) / 2 / half * given->u : 0;
            spread->moved[c] = 1;
            sheet->u[c] = sqrt(sheet->u[c] * sheet->u[c] + part * part);
            spread->way[c * spread->count + i] = (signed char)((high > low) - (high < low));
        }
    }
    rest(sheet, spread);
}

/* Marks what a cell is worked from, and sets its uncertain inputs to the corner where it is least and most. */
static void set_corner(const struct wh_sheet *sheet, struct spread *spread, size_t cell)
{
    for (size_t i = 0; i < spread->count; i++) {
        int way = spread->way[cell * spread->count + i];
        if (way == 0) continue;
        size_t in = spread->inputs[i];
        const struct wh_value *given = &sheet->cells[in].given;
        spread->moved[in] = 1;
        spread->two[2 * in] = way > 0 ? given->least : given->most;
        spread->two[2 * in + 1] = way > 0 ? given->most : given->least;
    }
}

/* Least and most of a figure: every input at the limit that lowers it, and at the one that raises it. Exact for figures
 * that rise or fall throughout. */
static void find_corners(struct wh_sheet *sheet, struct spread *spread, size_t cell)
{
    set_corner(sheet, spread, cell);
    for (size_t u = 0; u <= sheet->cells[cell].use; u++)
        if (touches(&sheet->uses[u], spread->moved)) {
            work_use(&sheet->uses[u], 2, spread->two);
            for (size_t o = 0; o < sheet->uses[u].results; o++) spread->moved[sheet->uses[u].out[o]] = 1;
        }
    const struct wh_use *use = &sheet->uses[sheet->cells[cell].use];
    size_t low = spread->two[2 * cell] > spread->two[2 * cell + 1];
    sheet->least[cell] = spread->two[2 * cell + low];
    sheet->most[cell] = spread->two[2 * cell + 1 - low];
    sheet->cells[cell].remark_least = remark_of(use, 2, low, spread->two);
    sheet->cells[cell].remark_most = remark_of(use, 2, 1 - low, spread->two);
    rest(sheet, spread);
}

void wh_sheet_spread(struct wh_sheet *sheet, struct wh_arena *arena)
{
    size_t n = sheet->cell_count;
    struct spread spread = {WH_NEW(arena, 2 * n + 1, double), WH_NEW(arena, n + 1, double), NULL,
                            WH_NEW(arena, n + 1, size_t), 0};
    for (size_t c = 0; c < n; c++) {
        const struct wh_cell *cell = &sheet->cells[c];
        bool made = cell->use != WH_NONE;
        sheet->u[c] = made ? 0 : cell->given.u;
        sheet->least[c] = made ? sheet->value[c] : cell->given.least;
        sheet->most[c] = made ? sheet->value[c] : cell->given.most;
        spread.two[2 * c] = spread.two[2 * c + 1] = sheet->value[c];
        if (!made && cell->given.shape != WH_EXACT) spread.inputs[spread.count++] = c;
    }
    spread.way = WH_NEW(arena, n * spread.count + 1, signed char);
    for (size_t i = 0; i < spread.count; i++) move_one(sheet, &spread, i);
    for (size_t c = 0; c < n; c++)
        if (sheet->cells[c].use != WH_NONE) {
            sheet->cells[c].remark_least = sheet->cells[c].remark_most = sheet->uses[sheet->cells[c].use].remark;
            if (sheet->u[c] > 0) find_corners(sheet, &spread, c);
        }
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
