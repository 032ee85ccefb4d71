/* record_figure.h - what a check of the test run may take from a record: "velocity at neck-bearing", "run-down". */
#ifndef WH_STUDY_RECORD_FIGURE_H
#define WH_STUDY_RECORD_FIGURE_H

#include "base/arena.h"
#include "base/quantity.h"

#include <stdbool.h>

enum wh_record_figure {
    WH_RECORD_NONE,
    WH_RECORD_VELOCITY,      /* m/s r.m.s. of a place, or of all */
    WH_RECORD_DISPLACEMENT,  /* m, peak to peak */
    WH_RECORD_ACCELERATION,  /* m/s2 r.m.s. */
    WH_RECORD_SPEED,         /* rad/s at which it ran */
    WH_RECORD_RUN_UP,        /* s from rest to speed */
    WH_RECORD_RUN_DOWN,      /* s from speed to standstill */
    WH_RECORD_START_CURRENT, /* A while it ran up */
    WH_RECORD_FIGURES
};

/* "velocity" … ; what can have a place: the vibrations. */
const char *wh_record_figure_words(enum wh_record_figure figure);
bool wh_record_figure_has_place(enum wh_record_figure figure);

/* In what it is measured: its unit in SI. */
struct wh_unit wh_record_figure_unit(enum wh_record_figure figure);

/* Reads "FIGURE" or "FIGURE at PLACE"; *ret_place is NULL without one. WH_RECORD_NONE: it is neither. */
enum wh_record_figure wh_record_figure_read(struct wh_arena *arena, const char *text, const char **ret_place);

#endif
