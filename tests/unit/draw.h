/* draw.h - random inputs of rules, for the tests of all of them. */
#ifndef WH_TESTS_UNIT_DRAW_H
#define WH_TESTS_UNIT_DRAW_H

#include "trade/form.h"

#include <stdint.h>

/* A designation that the vocabulary lists. */
double wh_draw_designation(const struct wh_vocabulary *vocabulary, uint64_t *state);

/* An input inside the range of its slot, wide ranges over their orders of magnitude, often near the usual value. */
double wh_draw(const struct wh_slot *slot, const struct wh_form *form, uint64_t *state);

#endif
