#include "view/spectrum_plot.h"

#include "base/text.h"
#include "view/axis.h"

#include <math.h>

enum { NAMED = 8, COLUMNS = 640, ROW = 6 };

static const double turns_drawn = 12, multiples_drawn = 6;

struct named {
    const struct wh_line *line;
    const char *text;
};

static double level(const struct wh_spectrum_drawn *d, size_t k)
{
    return sqrt(d->spectrum->power[k]) / d->unit;
}

static double top_of(const struct wh_spectrum_drawn *d)
{
    double all = (double)(d->spectrum->lines - 1) * d->spectrum->step;
    return d->top > 0 ? fmin(d->top, all) : all;
}

static size_t first_of(const struct wh_spectrum_drawn *d)
{
    return (size_t)(d->bottom / d->spectrum->step) + 1;
}

/* The strongest named lines of the spectrum, from left to right. */
static size_t choose(const struct wh_spectrum_drawn *d, struct named named[NAMED])
{
    size_t n = 0;
    for (size_t i = 0; i < d->line_count; i++) {
        const struct wh_line *line = &d->lines[i];
        if (!wh_same(line->of, d->of) || !wh_same(line->place, d->place) || line->frequency > top_of(d)) continue;
        if (line->beside || wh_same(line->name, "not named")) continue;
        size_t at = n;
        if (n == NAMED) {
            at = 0;
            for (size_t k = 1; k < n; k++)
                if (named[k].line->level < named[at].line->level) at = k;
            if (named[at].line->level >= line->level) continue;
            for (; at + 1 < n; at++) named[at] = named[at + 1];
            n--;
        }
        for (at = n++; at > 0 && named[at - 1].line->frequency > line->frequency; at--) named[at] = named[at - 1];
        named[at] = (struct named){line, line->name};
    }
    return n;
}

/* A name that stood before is not written again: how many times its first line it is. */
static void shorten(struct wh_arena *arena, struct named named[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < i; k++) {
            if (!wh_same(named[k].line->name, named[i].line->name)) continue;
            double times = named[i].line->frequency / named[k].line->frequency;
            bool whole = fabs(times - round(times)) < 0.03;
            named[i].text = wh_arena_print(arena, whole ? "%.0f times it" : "%.1f times it", times);
            break;
        }
}

static void draw_curve(struct wh_arena *arena, struct wh_scene *scene, const struct wh_spectrum_drawn *d,
                       const struct wh_axis *x, const struct wh_axis *y)
{
    struct wh_point *at = WH_NEW(arena, 2 * COLUMNS + 2, struct wh_point);
    size_t n = 0, top = (size_t)(top_of(d) / d->spectrum->step), each = top / COLUMNS + 1;
    for (size_t k = first_of(d); k <= top; k += each) {
        size_t most = k;
        for (size_t i = k; i < k + each && i <= top; i++)
            if (d->spectrum->power[i] > d->spectrum->power[most]) most = i;
        at[n++] = (struct wh_point){wh_axis_at(x, (double)most * d->spectrum->step), wh_axis_at(y, level(d, most))};
    }
    wh_scene_line(scene, WH_PEN_NARROW, at, n);
}

struct wh_scene *wh_view_spectrum(struct wh_arena *arena, const struct wh_spectrum_drawn *d)
{
    struct named named[NAMED];
    double most = 0;
    if (d->spectrum->lines < 3) return NULL;
    for (size_t k = first_of(d); (double)k * d->spectrum->step <= top_of(d); k++) most = fmax(most, level(d, k));
    if (!(most > 0)) return NULL;
    struct wh_scene *scene = wh_scene_new(arena, d->title);
    struct wh_axis x = {.to = top_of(d), .length = WH_PLOT_WIDE}, y = {.to = 1.05 * most, .length = WH_PLOT_HIGH};
    size_t n = choose(d, named);
    shorten(arena, named, n);
    wh_axis_frame(arena, scene, &x, &y, "Hz", d->unit_title);
    draw_curve(arena, scene, d, &x, &y);
    for (size_t i = 0; i < n; i++) {
        double at = wh_axis_at(&x, named[i].line->frequency), high = WH_PLOT_HIGH + ROW * (double)(n - i) + ROW;
        size_t k = (size_t)(named[i].line->frequency / d->spectrum->step + 0.5);
        wh_scene_segment(scene, WH_PEN_NARROW, at, wh_axis_at(&y, level(d, k)) + 1, at, high)->ink = WH_INK_COPPER;
        wh_scene_label(scene, at + 1.5, high, WH_PLOT_LETTER, WH_ANCHOR_LEFT, named[i].text);
    }
    double above = WH_PLOT_HIGH + ROW * (double)(n + 3);
    wh_scene_label(scene, 0, above, WH_PLOT_LETTER, WH_ANCHOR_LEFT, d->title);
    wh_scene_frame(scene, -24, -14, WH_PLOT_WIDE + 50, above + ROW);
    return scene;
}

struct wh_scene *wh_view_velocity_spectrum(struct wh_arena *arena, const struct wh_measured *measured,
                                           const struct wh_reading *reading, size_t channel)
{
    const struct wh_channel_measured *c = &measured->channel[channel];
    if (!c->sound || c->velocity.averages == 0) return NULL;
    bool scaled = c->is->of != WH_NOT_STATED;
    struct wh_spectrum_drawn drawn = {.spectrum = &c->velocity,
                                      .unit = scaled ? 1e-3 : 1,
                                      .bottom = c->low,
                                      .top = reading->shaft > 0 ? turns_drawn * reading->shaft : c->high,
                                      .unit_title = scaled ? "mm/s r.m.s." : "no unit",
                                      .lines = reading->lines.at,
                                      .line_count = reading->lines.count,
                                      .of = "velocity",
                                      .place = *c->is->place ? c->is->place : c->is->name};
    drawn.title = wh_arena_print(arena, "%s: spectrum of the velocity", c->is->name);
    return wh_view_spectrum(arena, &drawn);
}

struct wh_scene *wh_view_envelope(struct wh_arena *arena, const struct wh_measured *measured,
                                  const struct wh_reading *reading)
{
    const struct wh_envelope *envelope = reading->envelope;
    const struct wh_channel_measured *channel = reading->envelope_of;
    for (size_t c = 0; !envelope && c < measured->channels; c++)
        if (measured->channel[c].best < measured->channel[c].envelopes) {
            channel = &measured->channel[c];
            envelope = &channel->envelope[channel->best];
        }
    if (!envelope || !(envelope->mean_square > 0)) return NULL;
    const char *band = envelope->whitened ? "whole, whitened"
                                          : wh_arena_print(arena, "%.0f to %.0f Hz", envelope->low, envelope->high);
    double last = 0;
    for (size_t i = 0; reading->findings.count && i < reading->findings.at[0].line_count; i++)
        last = fmax(last, reading->findings.at[0].lines[i].frequency);
    struct wh_spectrum_drawn drawn = {.spectrum = &envelope->spectrum,
                                      .unit = envelope->mean_square,
                                      .top = last > 0 ? 1.1 * last : multiples_drawn * 5 * reading->shaft,
                                      .title = wh_arena_print(arena, "%s: envelope, %s", channel->is->name, band),
                                      .unit_title = "of its mean",
                                      .lines = reading->lines.at,
                                      .line_count = reading->lines.count,
                                      .of = wh_arena_print(arena, "envelope, %s", band),
                                      .place = *channel->is->place ? channel->is->place : channel->is->name};
    return wh_view_spectrum(arena, &drawn);
}
