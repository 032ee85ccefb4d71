#include "testrun/tacho.h"

#include "trade/rule.h"

#include <math.h>

struct wh_tacho wh_tacho_open(struct wh_arena *arena, double rate)
{
    return (struct wh_tacho){.pulses = wh_pulses_open(arena, rate), .least = INFINITY};
}

/* Takes over what was found since the last look. */
static void look(struct wh_tacho *t, struct wh_pulses_found found)
{
    if (found.count == 0) return;
    if (!t->begun) {
        *t = (struct wh_tacho){t->pulses, 0, found.first, found.first, true, INFINITY, 0};
        found.count--;
    }
    if (found.count == 0) return;
    double often = (double)found.count / (found.last - t->last);
    t->least = fmin(t->least, often);
    t->most = fmax(t->most, often);
    t->count += found.count;
    t->last = found.last;
}

void wh_tacho_add(struct wh_tacho *t, size_t n, const double samples[])
{
    wh_pulses_add(t->pulses, n, samples);
    look(t, wh_pulses_forget(t->pulses, false));
}

double wh_tacho_speed(struct wh_tacho *t, double pulses, double *ret_drift)
{
    look(t, wh_pulses_forget(t->pulses, true));
    *ret_drift = 0;
    if (t->count < 2) return 0;
    double often = (double)t->count / (t->last - t->first);
    *ret_drift = (t->most - t->least) / often;
    return 2 * WH_PI * often / pulses;
}
