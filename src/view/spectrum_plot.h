/* spectrum_plot.h - a spectrum in black with leader lines to what is named in it. */
#ifndef WH_VIEW_SPECTRUM_PLOT_H
#define WH_VIEW_SPECTRUM_PLOT_H

#include "base/scene.h"
#include "study/lines.h"
#include "testrun/finding.h"

struct wh_spectrum_drawn {
    const struct wh_spectrum *spectrum;
    double unit;        /* its numbers are drawn divided by this */
    double bottom, top; /* Hz, from where and how far it is drawn; top 0: all of it */
    const char *title, *unit_title;
    const struct wh_line *lines; /* those that are of it carry `of` and `place` as below */
    size_t line_count;
    const char *of, *place;
};

/* Amplitudes (r.m.s.) against frequency; the strongest named lines have leaders, the leftmost the highest, so that none
 * crosses a name. A spectrum of fewer than three lines: NULL. */
struct wh_scene *wh_view_spectrum(struct wh_arena *arena, const struct wh_spectrum_drawn *drawn);

/* The velocity at a channel with its named lines; the envelope that the first finding rests on, or of the band that
 * stands out most. NULL: there is none. */
struct wh_scene *wh_view_velocity_spectrum(struct wh_arena *arena, const struct wh_measured *measured,
                                           const struct wh_reading *reading, size_t channel);
struct wh_scene *wh_view_envelope(struct wh_arena *arena, const struct wh_measured *measured,
                                  const struct wh_reading *reading);

#endif
