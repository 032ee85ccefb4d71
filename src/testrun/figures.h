/* figures.h - what was measured as a list of figures, each with its name, place, direction and band. */
#ifndef WH_TESTRUN_FIGURES_H
#define WH_TESTRUN_FIGURES_H

#include "testrun/measure.h"

struct wh_run_figure {
    const char *name;  /* "velocity", "displacement", "acceleration", "level", "crest-factor", "kurtosis" */
    const char *title; /* "velocity, r.m.s." */
    const char *unit;  /* in which it is shown: "mm/s"; "" for a plain number */
    double value;      /* SI */
    double low, high;  /* of its band, Hz; 0 and 0: all that was recorded */
    const struct wh_record_channel *of;
};

/* Of all living vibration channels. A channel without a unit has its level, crest factor and kurtosis only. */
struct wh_run_figure *wh_run_figures(struct wh_arena *arena, const struct wh_measured *measured, size_t *ret_count);

#endif
