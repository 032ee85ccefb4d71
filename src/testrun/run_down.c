#include "testrun/run_inside.h"

#include "trade/rule.h"

#include <math.h>

static const double SHORTER = 0.05;     /* of the time of last time: less is not said */
static const double STRAYS = 0.02;      /* of the top speed: what a fit may miss the readings by */
static const double FALLEN_LEAST = 0.5; /* of the top speed: what is read no further down hangs on the fit */

const char *wh_run_time(struct wh_arena *arena, double seconds)
{
    if (seconds < 120) return wh_arena_print(arena, "%.0f s", ceil(seconds - 1e-9));
    return wh_arena_print(arena, "%.1f min", ceil(seconds / 6 - 1e-9) / 10);
}

const char *wh_not_before(struct wh_arena *arena, double seconds)
{
    if (!isfinite(seconds))
        return "this record does not tell how early it can stand: it stands only when it is seen to stand";
    return wh_arena_print(arena,
                          "not before %s after the drive is off, then look: it stands only when it is seen to stand",
                          wh_run_time(arena, seconds));
}

/* Up to the digit that wh_run_time says. */
static double rounded_up(double seconds)
{
    return seconds < 120 ? ceil(seconds - 1e-9) : ceil(seconds / 6 - 1e-9) * 6;
}

static double not_before(double stands, double u)
{
    return isfinite(stands) && isfinite(u) ? rounded_up(stands + 2 * u) : INFINITY;
}

/* The same fit with a piece of its steady drag gone (or back, where the drive was off). */
static void without_drive(struct wh_run_down *down, const struct wh_run_ask *ask, double top)
{
    bool known = ask->inertia > 0 && ask->steady > 0 && ask->free_steady > 0 && !ask->drive_off;
    struct wh_run_down_fit free = down->fit;
    double u;
    if (!known) return;
    free.slowing.of[WH_SLOWED_STEADY] -= (ask->steady - ask->free_steady) / ask->inertia;
    down->free_stands = wh_run_down_time(&free, top, 0, &u);
    down->free_not_before = not_before(down->free_stands, hypot(u, wh_run_down_unseen(&free)));
}

static void drags_of(struct wh_run_down *down, const struct wh_run_ask *ask, double top)
{
    const struct wh_run_down_fit *fit = &down->fit;
    double j = ask->inertia, steady = ask->drive_off && ask->free_steady > 0 ? ask->free_steady : ask->steady;
    down->steady = j * fit->slowing.of[WH_SLOWED_STEADY];
    down->air = j * fit->slowing.of[WH_SLOWED_AIR];
    down->steady_u = j * sqrt(fit->covariance[WH_SLOWED_STEADY][WH_SLOWED_STEADY]);
    down->air_u = j * sqrt(fit->covariance[WH_SLOWED_AIR][WH_SLOWED_AIR]);
    struct wh_slowing own = {{0}};
    if (!(j > 0 && steady > 0)) return;
    own.of[WH_SLOWED_STEADY] = steady / j;
    own.of[WH_SLOWED_AIR] = ask->air / j;
    down->expected = wh_slowing_time(&own, top, 0);
}

/* Which drag has changed: told by the one whose share of the time moved most. */
static const char *what_changed(const struct wh_slowing *now, const struct wh_slowing *was, double speed, bool shorter)
{
    double steady = now->of[WH_SLOWED_STEADY] - was->of[WH_SLOWED_STEADY];
    double air = (now->of[WH_SLOWED_AIR] - was->of[WH_SLOWED_AIR]) * speed * speed / 3;
    double grease = (now->of[WH_SLOWED_VISCOUS] - was->of[WH_SLOWED_VISCOUS]) * speed / 2;
    if (!shorter) return "the belt slips or is off, or a new seal has run in";
    if (steady >= air && steady >= grease)
        return "its steady drag has grown: something rubs, a bearing drags, a seal or a belt is tighter";
    if (air >= grease)
        return "its drag at high speed has grown: air, product left in it, a guard or damper that stands otherwise";
    return "its drag in step with the speed has grown: oil or grease is thicker or too much";
}

static void compare(struct wh_arena *arena, struct wh_run *run, const struct wh_run_down_was *last)
{
    struct wh_run_down *down = &run->down;
    double speed = fmin(run->top, last->speed), u, now = wh_run_down_time(&down->fit, speed, 0, &u);
    double own = hypot(u, wh_run_down_unseen(&down->fit));
    double was = wh_slowing_time(&last->slowing, speed, 0), less = was - now;
    if (!isfinite(now) || !isfinite(was) || !(fabs(less) > fmax(2 * hypot(own, last->u), SHORTER * was))) return;
    wh_doubt(&run->warnings, "from %s it runs down in %s, last time it took %s: %s", wh_rpm_words(arena, speed),
             wh_run_time(arena, now), wh_run_time(arena, was),
             what_changed(&down->fit.slowing, &last->slowing, speed, less > 0));
}

static void against_expected(struct wh_arena *arena, struct wh_run *run)
{
    const struct wh_run_down *down = &run->down;
    double off = down->expected - down->stands;
    if (!(down->expected > 0) || !isfinite(down->stands)) return;
    if (!(fabs(off) > fmax(2 * down->stands_u, 3 * SHORTER * down->expected))) return;
    wh_doubt(&run->warnings, "it runs down in %s, by its drags it should take %s: %s", wh_run_time(arena, down->stands),
             wh_run_time(arena, down->expected),
             off > 0 ? "something drags" : "less drags than the machine file says, or the belt slips or is off");
}

static void doubts_of(struct wh_arena *arena, struct wh_run *run)
{
    const struct wh_run_down *down = &run->down;
    if (down->fit.scatter > STRAYS * run->top)
        wh_doubt(&run->doubts, "the readings lie about %s off the fitted run-down: something changed on the way",
                 wh_rpm_words(arena, down->fit.scatter));
    if (down->to > FALLEN_LEAST * run->top)
        wh_doubt(&run->doubts, "it was read down to %s only; the rest of the way hangs on the fit",
                 wh_rpm_words(arena, down->to));
    if (!isfinite(down->stands))
        wh_doubt(&run->doubts, "the record ends too early to tell the steady drag: no time is given");
}

void wh_run_down_read(struct wh_arena *arena, struct wh_run *run, const struct wh_run_ask *ask)
{
    struct wh_run_down *down = &run->down;
    struct wh_speed_trace fall;
    if (wh_trace_fall(arena, &run->trace, &fall) != WH_OK) return;
    fall = wh_trace_thinned(arena, &fall, 600);
    bool *used = WH_NEW(arena, fall.count + 1, bool);
    double *time = WH_NEW(arena, fall.count + 1, double), *speed = WH_NEW(arena, fall.count + 1, double);
    if (wh_run_down_fit_most(arena, fall.count, fall.time, fall.speed, fall.resolution / 50, used, &down->fit) !=
        WH_OK) {
        wh_doubt(&run->doubts, "the speed falls, but in no way that a run-down does");
        return;
    }
    size_t n = 0;
    for (size_t i = 0; i < fall.count; i++) {
        if (!used[i]) continue;
        time[n] = fall.time[i];
        speed[n++] = fall.speed[i];
    }
    down->there = true;
    down->points = fall;
    down->points.count = n;
    down->points.time = time;
    down->points.speed = speed;
    down->from = speed[0];
    down->to = speed[n - 1];
    down->seconds = time[n - 1] - time[0];
    down->stands = wh_run_down_time(&down->fit, run->top, 0, &down->stands_u);
    down->stands_u = hypot(down->stands_u, wh_run_down_unseen(&down->fit));
    down->not_before = not_before(down->stands, down->stands_u);
    if (ask->inertia > 0) drags_of(down, ask, run->top);
    without_drive(down, ask, run->top);
    doubts_of(arena, run);
    against_expected(arena, run);
    if (ask->last.speed > 0) compare(arena, run, &ask->last);
}
