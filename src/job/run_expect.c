#include "job/run_expect.h"

#include "job/run_ask.h"

#include <math.h>

static const double RUN_UP_OFF = 0.2, CURRENT_OFF = 0.1;

/* A figure of a thing, 0 when it has none. */
static double figure(const struct wh_sheet *sheet, size_t thing, const char *name)
{
    size_t cell = wh_sheet_figure(sheet, thing, name);
    return cell != WH_NONE && isfinite(sheet->value[cell]) ? sheet->value[cell] : 0;
}

/* The thing that turns: the one with drags of its own. */
static size_t turning_thing(const struct wh_sheet *sheet)
{
    for (size_t t = 0; t < sheet->machine->thing_count; t++)
        if (figure(sheet, t, "steady-drag") > 0) return t;
    return WH_NONE;
}

/* The current that the motors expect at the start; 0: none says. */
static double start_current(const struct wh_sheet *sheet)
{
    double sum = 0;
    for (size_t t = 0; t < sheet->machine->thing_count; t++) sum += figure(sheet, t, "start-current");
    return sum;
}

struct wh_run_ask wh_run_expected(const struct wh_sheet *sheet)
{
    size_t thing = turning_thing(sheet);
    struct wh_run_ask ask = {.speed = wh_run_speed(sheet),
                             .stamped = figure(sheet, 0, "stamped-speed"),
                             .inertia = figure(sheet, 0, "inertia")};
    double current = start_current(sheet);
    ask.full_speed = ask.speed;
    ask.current_least = current * (1 - CURRENT_OFF);
    ask.current_most = current * (1 + CURRENT_OFF);
    if (thing == WH_NONE) return ask;
    double inertia = figure(sheet, thing, "inertia"), time = figure(sheet, thing, "run-up-time");
    if (inertia > 0) ask.inertia = inertia;
    ask.steady = figure(sheet, thing, "steady-drag");
    ask.free_steady = figure(sheet, thing, "free-drag");
    ask.air = figure(sheet, thing, "air-drag");
    ask.run_up_least = time * (1 - RUN_UP_OFF);
    ask.run_up_most = time * (1 + RUN_UP_OFF);
    return ask;
}

size_t wh_run_predicted(const struct wh_sheet *sheet, double ret[WH_RUN_PREDICTED_MOST])
{
    static const char *const names[] = {"first-critical", "critical-below", "critical-above"};
    size_t thing = turning_thing(sheet), n = 0;
    for (size_t i = 0; thing != WH_NONE && i < sizeof names / sizeof *names; i++) {
        double speed = figure(sheet, thing, names[i]);
        bool known = n > 0 && fabs(speed / ret[n - 1] - 1) < 1e-6;
        if (speed > 0 && !known) ret[n++] = speed;
    }
    return n;
}
