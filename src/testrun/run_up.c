/* Running up: time to speed, the torque that is left for it, the motor's current meanwhile. */
#include "testrun/run_inside.h"

#include <math.h>

static const double TOP = 0.985; /* of the top speed: there it has run up */

/* When the shaft began to turn: the first points' line brought back to rest. */
static double began(const struct wh_speed_trace *rise, double top)
{
    double n = 0, t = 0, w = 0, tw = 0, ww = 0;
    for (size_t i = 0; i < rise->count && (n < 3 || rise->speed[i] < top / 4); i++, n++) {
        t += rise->time[i];
        w += rise->speed[i];
        tw += rise->time[i] * rise->speed[i];
        ww += rise->speed[i] * rise->speed[i];
    }
    double slope = (n * tw - t * w) / (n * ww - w * w); /* seconds for each rad/s */
    double start = (t - slope * w) / n;
    return slope > 0 && isfinite(start) ? fmin(start, rise->time[0]) : rise->time[0];
}

/* The time at which a speed is first reached, between two points by a straight line. */
static double reached(const struct wh_speed_trace *rise, double speed)
{
    for (size_t i = 0; i < rise->count; i++) {
        if (rise->speed[i] < speed) continue;
        if (i == 0) return rise->time[0];
        double share = (speed - rise->speed[i - 1]) / (rise->speed[i] - rise->speed[i - 1]);
        return rise->time[i - 1] + share * (rise->time[i] - rise->time[i - 1]);
    }
    return rise->time[rise->count - 1];
}

/* Mean acceleration between two times and its standard uncertainty, by a straight line. */
static double acceleration(const struct wh_speed_trace *rise, double from, double to, double *ret_u)
{
    double n = 0, t = 0, w = 0, tt = 0, tw = 0, rest = 0;
    for (size_t i = 0; i < rise->count; i++) {
        double x = rise->time[i] - from;
        if (x < 0 || rise->time[i] > to) continue;
        n++;
        t += x;
        w += rise->speed[i];
        tt += x * x;
        tw += x * rise->speed[i];
    }
    double under = tt - t * t / n, slope = (tw - t * w / n) / under, level = (w - slope * t) / n;
    for (size_t i = 0; i < rise->count; i++) {
        double x = rise->time[i] - from, off = rise->speed[i] - level - slope * x;
        if (x >= 0 && rise->time[i] <= to) rest += off * off;
    }
    *ret_u = n > 2 ? sqrt(rest / (n - 2) / under) : INFINITY;
    return slope;
}

/* R.m.s. of the current between two times; *ret_even is the greatest change from one tenth of it to another. */
static double current_between(const struct wh_thin *current, double from, double to, double *ret_even)
{
    double rate = wh_thin_rate(current), sum = 0, least = INFINITY, most = 0;
    size_t all = 0;
    for (int part = 0; part < 10; part++) {
        long first = (long)ceil((from + (to - from) * part / 10) * rate);
        long last = (long)floor((from + (to - from) * (part + 1) / 10) * rate);
        double square = 0, x;
        for (long i = first; i < last; i++) {
            wh_thin_copy(current, i, 1, &x);
            square += x * x;
        }
        if (last <= first) continue;
        sum += square;
        all += (size_t)(last - first);
        least = fmin(least, sqrt(square / (double)(last - first)));
        most = fmax(most, sqrt(square / (double)(last - first)));
    }
    *ret_even = most > 0 ? (most - least) / most : NAN;
    return all > 0 ? sqrt(sum / (double)all) : NAN;
}

static void against_expected(struct wh_arena *arena, struct wh_run *run, const struct wh_run_ask *ask)
{
    const struct wh_run_up *up = &run->up;
    if (ask->run_up_most > 0 && up->seconds > ask->run_up_most)
        wh_doubt(&run->warnings,
                 "it ran up in %s, at most %s is expected: the belt is slack, the clutch worn, or something drags",
                 wh_run_time(arena, up->seconds), wh_run_time(arena, ask->run_up_most));
    if (ask->run_up_least > 0 && up->seconds < ask->run_up_least)
        wh_doubt(&run->warnings,
                 "it ran up in %s, at least %s is expected: the clutch grips too hard, or parts are missing",
                 wh_run_time(arena, up->seconds), wh_run_time(arena, ask->run_up_least));
    if (ask->current_most > 0 && up->current > ask->current_most)
        wh_doubt(&run->warnings, "%.1f A while it ran up, at most %.1f A is expected: clutch, drag or a phase",
                 up->current, ask->current_most);
    if (ask->current_least > 0 && up->current < ask->current_least)
        wh_doubt(&run->warnings, "%.1f A while it ran up, at least %.1f A is expected: the clutch slips too easily",
                 up->current, ask->current_least);
}

void wh_run_up_read(struct wh_arena *arena, struct wh_run *run, const struct wh_run_ask *ask,
                    const struct wh_thin *current)
{
    struct wh_run_up *up = &run->up;
    struct wh_speed_trace rise;
    up->current = up->even = NAN;
    if (wh_trace_rise(arena, &run->trace, &rise) != WH_OK || rise.count < 4) return;
    double quarter = reached(&rise, run->top / 4), three = reached(&rise, run->top * 3 / 4), u;
    up->there = true;
    up->points = wh_trace_thinned(arena, &rise, 600);
    up->seconds = reached(&rise, TOP * run->top) - began(&rise, run->top);
    double gain = acceleration(&rise, quarter, three, &u);
    up->torque = ask->inertia * gain;
    up->torque_u = ask->inertia * u;
    if (current) up->current = current_between(current, quarter, three, &up->even);
    if (rise.speed[0] > run->top / 2)
        wh_doubt(&run->doubts,
                 "the run-up was read from %s on only; its time is brought back to rest by a straight line",
                 wh_rpm_words(arena, rise.speed[0]));
    against_expected(arena, run, ask);
}
