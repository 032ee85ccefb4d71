/* Plots of a run: speed against time with one flag, and the once-a-turn against speed. */
#include "view/run.h"

#include "trade/rule.h"

#include <math.h>

enum { WIDE = 160, HIGH = 80, LETTER = 3, STEPS_MOST = 8 };

static const double RPM = 2 * WH_PI / 60;

/* An axis of a plot: from..to is `length` mm long and starts at `begin` mm. */
struct axis {
    double from, to, begin, length;
    double step; /* of its marks; 0: a round one */
};

static double along(const struct axis *axis, double value)
{
    return axis->begin + axis->length * (value - axis->from) / (axis->to - axis->from);
}

/* 1, 2 or 5 times a power of ten, so that at most STEPS_MOST steps make the whole. */
static double step_of(const struct axis *axis)
{
    static const double times[] = {1, 2, 5};
    double whole = axis->to - axis->from, ten = pow(10, floor(log10(whole / STEPS_MOST)));
    if (axis->step > 0) return axis->step;
    for (size_t i = 0; i < 3; i++)
        if (whole / (ten * times[i]) <= STEPS_MOST) return ten * times[i];
    return ten * 10;
}

static void frame(struct wh_arena *arena, struct wh_scene *scene, const struct axis *x, const struct axis *y,
                  const char *x_title, const char *y_title)
{
    double right = x->begin + x->length, top = y->begin + y->length, step = step_of(x);
    wh_scene_segment(scene, WH_PEN_NARROW, x->begin, y->begin, right, y->begin);
    wh_scene_segment(scene, WH_PEN_NARROW, x->begin, y->begin, x->begin, top);
    for (double v = ceil(x->from / step) * step; v <= x->to * (1 + 1e-9); v += step) {
        wh_scene_segment(scene, WH_PEN_NARROW, along(x, v), y->begin, along(x, v), y->begin - 1.5);
        wh_scene_label(scene, along(x, v), y->begin - 5, LETTER, WH_ANCHOR_MIDDLE, wh_arena_print(arena, "%g", v));
    }
    step = step_of(y);
    for (double v = ceil(y->from / step) * step; v <= y->to * (1 + 1e-9); v += step) {
        wh_scene_segment(scene, WH_PEN_NARROW, x->begin - 1.5, along(y, v), x->begin, along(y, v));
        wh_scene_label(scene, x->begin - 3, along(y, v), LETTER, WH_ANCHOR_RIGHT, wh_arena_print(arena, "%g", v));
    }
    if (x_title) wh_scene_label(scene, right, y->begin - 11, LETTER, WH_ANCHOR_RIGHT, x_title);
    wh_scene_label(scene, x->begin, top + 5, LETTER, WH_ANCHOR_MIDDLE, y_title);
}

/* ---- run-down -------------------------------------------------------------------------------------------------- */

static void draw_fit(struct wh_arena *arena, struct wh_scene *scene, const struct wh_run *run, const struct axis *x,
                     const struct axis *y, double minute)
{
    enum { POINTS = 120 };
    const struct wh_run_down *down = &run->down;
    struct wh_point *at = WH_NEW(arena, POINTS + 1, struct wh_point);
    double last = isfinite(down->stands) ? down->stands : x->to * minute;
    double before = wh_slowing_time(&down->fit.slowing, run->top, down->fit.slowing.of[WH_SLOWED_SPEED]);
    for (int i = 0; i <= POINTS; i++) {
        double t = last * i / POINTS;
        double speed = fmax(0, wh_slowing_speed(&down->fit.slowing, t - before)) / RPM;
        at[i] = (struct wh_point){along(x, t / minute), along(y, speed)};
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
    struct axis x = {0, 1.12 * end / minute, 0, WIDE, 0}, y = {0, 1.05 * run->top / RPM, 0, HIGH, 0};
    struct wh_scene *scene =
        wh_scene_new(arena, wh_arena_print(arena, "Run-down: %s", wh_not_before(arena, down->not_before)));
    struct wh_point *at = WH_NEW(arena, down->points.count, struct wh_point);
    frame(arena, scene, &x, &y, minute > 1 ? "minutes after the drive is off" : "seconds after the drive is off",
          "rpm");
    draw_fit(arena, scene, run, &x, &y, minute);
    for (size_t i = 0; i < down->points.count; i++) {
        double t = down->points.time[i] - down->fit.start + before;
        at[i] = (struct wh_point){along(&x, t / minute), along(&y, down->points.speed[i] / RPM)};
    }
    wh_scene_line(scene, WH_PEN_WIDE, at, down->points.count)->ink = WH_INK_COPPER;
    if (isfinite(down->not_before)) {
        double flag = along(&x, down->not_before / minute);
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
                       const double value[], double factor, const struct axis *x, const struct axis *y)
{
    struct wh_point *at = WH_NEW(arena, track->count, struct wh_point);
    for (size_t i = 0; i < track->count; i++)
        at[i] = (struct wh_point){along(x, track->speed[i] / RPM), along(y, value[i] * factor)};
    wh_scene_line(scene, WH_PEN_WIDE, at, track->count);
}

static void draw_phase(struct wh_arena *arena, struct wh_scene *scene, const struct wh_order_track *track,
                       const struct axis *x)
{
    struct axis y = {-180, 180, HIGH + 18, HIGH / 2, 90};
    frame(arena, scene, x, &y, NULL, "degrees after the mark");
    for (size_t i = 0; i < track->count; i++)
        wh_scene_circle(scene, WH_PEN_NONE, WH_FILL_SOLID, along(x, track->speed[i] / RPM),
                        along(&y, degrees(track->phase[i])), 0.4);
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
    struct axis x = {0, 1.02 * top, 0, WIDE, 0}, y = {0, 1.15 * most, 0, HIGH, 0};
    double foot = t->phase ? HIGH + 18 + HIGH / 2 + 10 : HIGH + 10;
    frame(arena, scene, &x, &y, "rpm", shown.title);
    draw_curve(arena, scene, t, t->amplitude, shown.factor, &x, &y);
    if (t->phase) draw_phase(arena, scene, t, &x);
    for (size_t i = 0; i < track->resonances; i++) {
        double at = along(&x, track->resonance[i].speed / RPM);
        wh_scene_segment(scene, WH_PEN_NARROW, at, 0, at, HIGH)->ink = WH_INK_COPPER;
        wh_scene_label(scene, at + 1.5, HIGH - 2, LETTER, WH_ANCHOR_LEFT,
                       wh_arena_print(arena, "passed at %.0f rpm", track->resonance[i].speed / RPM));
    }
    for (size_t i = 0; i < count; i++) {
        double at = along(&x, predicted[i] / RPM);
        if (predicted[i] / RPM > x.to) continue;
        wh_scene_segment(scene, WH_PEN_CHAIN, at, 0, at, HIGH - 6);
        wh_scene_label(scene, at + 1.5, HIGH - 7, LETTER, WH_ANCHOR_LEFT,
                       wh_arena_print(arena, "predicted at %.0f rpm", predicted[i] / RPM));
    }
    wh_scene_frame(scene, -16, -14, WIDE + 4, foot);
    return scene;
}
