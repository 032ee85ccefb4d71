/* A figure in the window that its kind names for it: clearance, temperature. */
#include "base/text.h"
#include "view/dimension.h"
#include "view/figure.h"

#include <math.h>
#include <string.h>

static const struct wh_kind_window *window_of(const struct wh_sheet *sheet, const struct wh_cell *cell)
{
    const struct wh_kind *kind = sheet->machine->things[cell->thing].kind;
    const char *name = strchr(cell->name, '.');
    enum wh_end end;
    for (size_t i = 0; name && kind && i < WH_KIND_WINDOWS && kind->windows[i].figure; i++)
        if (wh_same(wh_sheet_end(kind->windows[i].figure, &end), name + 1)) return &kind->windows[i];
    return NULL;
}

static double at_end(const struct wh_sheet *sheet, size_t cell, enum wh_end end)
{
    return end == WH_END_LEAST ? sheet->least[cell] : end == WH_END_MOST ? sheet->most[cell] : sheet->value[cell];
}

/* A limit: a figure of the same thing, or a value; `open` where it is neither or has no answer. */
static double limit(const struct wh_sheet *sheet, const struct wh_cell *cell, const char *name, double open)
{
    struct wh_value value;
    enum wh_end end;
    if (!name) return open;
    if (wh_value_read(name, &cell->form.unit, &value, NULL) == WH_READ_WELL) return value.best;
    size_t found = wh_sheet_figure(sheet, cell->thing, wh_sheet_end(name, &end));
    double value_there = found == WH_NONE ? NAN : at_end(sheet, found, end);
    return isnan(value_there) ? open : value_there;
}

static const char *verdict(const struct wh_limits_drawn *d)
{
    if (d->low >= d->least && d->high <= d->most) return "within";
    return d->high < d->least || d->low > d->most ? "outside" : "may lie outside";
}

struct wh_scene *wh_view_window(struct wh_arena *arena, const struct wh_sheet *sheet, size_t c)
{
    const struct wh_cell *cell = &sheet->cells[c];
    const struct wh_kind_window *window = window_of(sheet, cell);
    enum wh_end end;
    if (!window) return NULL;
    wh_sheet_end(window->figure, &end);
    struct wh_limits_drawn drawn = {.least = limit(sheet, cell, window->least, -INFINITY),
                                    .most = limit(sheet, cell, window->most, INFINITY),
                                    .reading = at_end(sheet, c, end),
                                    .unit = cell->form.unit};
    drawn.low = end == WH_END_BEST ? sheet->least[c] : drawn.reading;
    drawn.high = end == WH_END_BEST ? sheet->most[c] : drawn.reading;
    if (isnan(drawn.reading) || isnan(drawn.low) || isnan(drawn.high)) return NULL;
    drawn.title = cell->title ? cell->title : cell->name;
    drawn.verdict = verdict(&drawn);
    return wh_view_dimension(arena, &drawn);
}
