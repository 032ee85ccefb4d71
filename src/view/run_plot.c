/* Plots of a run: speed against time with one flag, and the once-a-turn against speed. */
#include "view/run.h"

#include "trade/rule.h"
#include "view/axis.h"

#include <math.h>

enum { WIDE = WH_PLOT_WIDE, HIGH = WH_PLOT_HIGH, LETTER = WH_PLOT_LETTER };

static const double RPM = 2 * WH_PI / 60;

/* ---- run-down -------------------------------------------------------------------------------------------------- */

static void draw_fit(struct wh_arena *arena, struct wh_scene *scene, const struct wh_run *run, const struct wh_axis *x,
                     const struct wh_axis *y, double minute)
{
    enum { POINTS = 120 };
    const struct wh_run_down *down = &run->down;
    struct wh_point *at = WH_NEW(arena, POINTS + 1, struct wh_point);
    double last = isfinite(down->stands) ? down->stands : x->to * minute;
    double before = wh_slowing_time(&down->fit.slowing, run->top, down->fit.slowing.of[WH_SLOWED_SPEED]);
    for (int i = 0; i <= POINTS; i++) {
        double t = last * i / POINTS;
        double speed = fmax(0, wh_slowing_speed(&down->fit.slowing, t - before)) / RPM;
        at[i] = (struct wh_point){wh_axis_at(x, t / minute), wh_axis_at(y, speed)};
    }
    wh_scene_line(scene, WH_PEN_DASHED, at, POINTS + 1);
}

struct wh_scene *wh_view_run_down(struct wh_arena *arena, const struct wh_run *run)
{
    const struct wh_run_down *down = &run->down;
    if (!down->there) return NULL;
    double before = wh_slowing_time(&down->fit.slowing, run->top, down->fit.slowing.of[WH_SLOWED_SPEED]);
    double end = isfinite(down->not_before) ? down->not_before : before + down->seconds;
    double minute = end < 120 ? 1 : 60;
    struct wh_axis x = {0, 1.12 * end / minute, 0, WIDE, 0}, y = {0, 1.05 * run->top / RPM, 0, HIGH, 0};
    struct wh_scene *scene =
        wh_scene_new(arena, wh_arena_print(arena, "Run-down: %s", wh_not_before(arena, down->not_before)));
    struct wh_point *at = WH_NEW(arena, down->points.count, struct wh_point);
    wh_axis_frame(arena, scene, &x, &y,
                  minute > 1 ? "minutes after the drive is off" : "seconds after the drive is off", "rpm");
    draw_fit(arena, scene, run, &x, &y, minute);
    for (size_t i = 0; i < down->points.count; i++) {
        double t = down->points.time[i] - down->fit.start + before;
        at[i] = (struct wh_point){wh_axis_at(&x, t / minute), wh_axis_at(&y, down->points.speed[i] / RPM)};
    }
    wh_scene_line(scene, WH_PEN_WIDE, at, down->points.count)->ink = WH_INK_COPPER;
    if (isfinite(down->not_before)) {
        double flag = wh_axis_at(&x, down->not_before / minute);
        wh_scene_segment(scene, WH_PEN_NARROW, flag, 0, flag, HIGH / 3);
        wh_scene_label(scene, flag, HIGH / 3 + 7, LETTER, WH_ANCHOR_RIGHT, "standstill, by this record:");
        wh_scene_label(scene, flag, HIGH / 3 + 2.5, LETTER, WH_ANCHOR_RIGHT,
                       wh_arena_print(arena, "not before %s, then look", wh_run_time(arena, down->not_before)));
    }
    wh_scene_frame(scene, -16, -14, WIDE + 4, HIGH + 10);
    return scene;
}

/* ---- once-a-turn ----------------------------------------------------------------------------------------------- */

struct shown {
    const char *title;
    double factor;
};

/* In the unit that a fitter reads it in. */
static struct shown shown_in(enum wh_measure of)
{
    if (of == WH_DISPLACEMENT) return (struct shown){"um", 1e6};
    if (of == WH_VELOCITY) return (struct shown){"mm/s", 1e3};
    return (struct shown){of == WH_ACCELERATION ? "m/s2" : "as recorded", 1};
}

/* Within half a turn to either side, degrees. */
static double degrees(double phase)
{
    return (phase - 2 * WH_PI * round(phase / (2 * WH_PI))) * 180 / WH_PI;
}

static void draw_curve(struct wh_arena *arena, struct wh_scene *scene, const struct wh_order_track *track,
                       const double value[], double factor, const struct wh_axis *x, const struct wh_axis *y)
{
    struct wh_point *at = WH_NEW(arena, track->count, struct wh_point);
    for (size_t i = 0; i < track->count; i++)
        at[i] = (struct wh_point){wh_axis_at(x, track->speed[i] / RPM), wh_axis_at(y, value[i] * factor)};
    wh_scene_line(scene, WH_PEN_WIDE, at, track->count);
}

static void draw_phase(struct wh_arena *arena, struct wh_scene *scene, const struct wh_order_track *track,
                       const struct wh_axis *x)
{
    struct wh_axis y = {-180, 180, HIGH + 18, HIGH / 2, 90};
    wh_axis_frame(arena, scene, x, &y, NULL, "degrees after the mark");
    for (size_t i = 0; i < track->count; i++)
        wh_scene_circle(scene, WH_PEN_NONE, WH_FILL_SOLID, wh_axis_at(x, track->speed[i] / RPM),
                        wh_axis_at(&y, degrees(track->phase[i])), 0.4);
}

struct wh_scene *wh_view_run_track(struct wh_arena *arena, const struct wh_run_track *track, const double predicted[],
                                   size_t count)
{
    const struct wh_order_track *t = &track->track;
    struct shown shown = shown_in(track->channel->of);
    double top = 0, most = 0;
    struct wh_scene *scene =
        wh_scene_new(arena, wh_arena_print(arena, "Once-a-turn at %s against speed", track->channel->name));
    for (size_t i = 0; i < t->count; i++) {
        top = fmax(top, t->speed[i] / RPM);
        most = fmax(most, t->amplitude[i] * shown.factor);
    }
    if (!(top > 0) || !(most > 0)) return NULL;
    struct wh_axis x = {0, 1.02 * top, 0, WIDE, 0}, y = {0, 1.15 * most, 0, HIGH, 0};
    double foot = t->phase ? HIGH + 18 + HIGH / 2 + 10 : HIGH + 10;
    wh_axis_frame(arena, scene, &x, &y, "rpm", shown.title);
    draw_curve(arena, scene, t, t->amplitude, shown.factor, &x, &y);
    if (t->phase) draw_phase(arena, scene, t, &x);
    for (size_t i = 0; i < track->resonances; i++) {
        double at = wh_axis_at(&x, track->resonance[i].speed / RPM);
        wh_scene_segment(scene, WH_PEN_NARROW, at, 0, at, HIGH)->ink = WH_INK_COPPER;
        wh_scene_label(scene, at + 1.5, HIGH - 2, LETTER, WH_ANCHOR_LEFT,
                       wh_arena_print(arena, "passed at %.0f rpm", track->resonance[i].speed / RPM));
    }
    for (size_t i = 0; i < count; i++) {
        double at = wh_axis_at(&x, predicted[i] / RPM);
        if (predicted[i] / RPM > x.to) continue;
        wh_scene_segment(scene, WH_PEN_CHAIN, at, 0, at, HIGH - 6);
        wh_scene_label(scene, at + 1.5, HIGH - 7, LETTER, WH_ANCHOR_LEFT,
                       wh_arena_print(arena, "predicted at %.0f rpm", predicted[i] / RPM));
    }
    wh_scene_frame(scene, -16, -14, WIDE + 4, foot);
    return scene;
}
