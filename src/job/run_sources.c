#include "job/run_sources.h"

#include "job/run_ask.h"
#include "trade/rule.h"

#include <math.h>

static double figure(const struct wh_sheet *sheet, size_t thing, const char *name)
{
    size_t cell = wh_sheet_figure(sheet, thing, name);
    return cell == WH_NONE ? NAN : sheet->value[cell];
}

/* A bearing that has its lines as figures, as times of a turn. */
static void add_bearing(struct wh_arena *arena, const struct wh_sheet *sheet, size_t thing, double turn,
                        struct wh_sources *sources)
{
    static const char *const lines[WH_BEARING_LINES] = {"outer-line", "inner-line", "strike-line", "cage-line"};
    struct wh_bearing_source bearing = {.title = sheet->machine->things[thing].title, .from = "the machine file"};
    bool known = false;
    for (size_t i = 0; i < WH_BEARING_LINES; i++) {
        bearing.order[i] = figure(sheet, thing, lines[i]) / turn;
        known = known || bearing.order[i] > 0;
    }
    if (known) *WH_PUSH(arena, &sources->bearings) = bearing;
}

static void add_order(struct wh_arena *arena, struct wh_sources *sources, const char *part, const char *title,
                      double order)
{
    if (order > 0 && isfinite(order)) *WH_PUSH(arena, &sources->orders) = (struct wh_order_source){part, title, order};
}

void wh_run_sources(struct wh_arena *arena, const struct wh_sheet *sheet, struct wh_sources *sources)
{
    double turn = wh_run_speed(sheet) / (2 * WH_PI); /* Hz */
    if (!(turn > 0)) return;
    for (size_t t = 0; t < sheet->machine->thing_count; t++) {
        add_bearing(arena, sheet, t, turn, sources);
        double length = figure(sheet, t, "length"), motor = figure(sheet, t, "motor-speed");
        if (!isfinite(motor)) continue; /* only what the motor drives by a belt has its speed */
        add_order(arena, sources, "belt", sheet->machine->things[t].title, figure(sheet, t, "speed") / length / turn);
        add_order(arena, sources, "motor", "the motor", motor / (2 * WH_PI) / turn);
    }
}
