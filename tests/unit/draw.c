/* draw.c - see draw.h. */
#include "draw.h"

#include <math.h>

/* Steele's splitmix, from 0 to 1. */
static double chance(uint64_t *state)
{
    uint64_t z = *state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (double)((z ^ (z >> 31)) >> 11) * 0x1p-53;
}

/* Wide ranges evenly over their orders of magnitude, or small values would never be drawn. */
static double between(double least, double most, uint64_t *state)
{
    double low = least > 0 ? least : most * 1e-5;
    if (least >= 0 && most > 30 * low && chance(state) < 0.6) return low * pow(most / low, chance(state));
    return least + (most - least) * chance(state);
}

static double anywhere(const struct wh_form *form, uint64_t *state)
{
    if (isfinite(form->least) && isfinite(form->most)) return between(form->least, form->most, state);
    if (form->unit.offset > 0) return 250 + 200 * chance(state);
    double size = form->unit.factor * pow(10, 5 * chance(state) - 3);
    if (isfinite(form->least)) return form->least + size;
    if (isfinite(form->most)) return form->most - size;
    return chance(state) < 0.3 ? -size : size;
}

static double near_usual(const struct wh_form *form, double usual, uint64_t *state)
{
    double value = (usual - form->unit.offset) * pow(2, 2 * chance(state) - 1) + form->unit.offset;
    return fmin(fmax(value, form->least), form->most);
}

/* Long lists take long to walk: the last one's length is kept. */
static size_t length_of(const struct wh_vocabulary *vocabulary)
{
    static const struct wh_vocabulary *last;
    static size_t length;
    char word[64];
    if (vocabulary != last) length = 0;
    last = vocabulary;
    while (length < 4096 && vocabulary->list(length, word, sizeof word) > 0) length++;
    return length;
}

double wh_draw_designation(const struct wh_vocabulary *vocabulary, uint64_t *state)
{
    char word[64];
    double code = NAN;
    size_t count = length_of(vocabulary);
    size_t n = vocabulary->list((size_t)(chance(state) * (double)count), word, sizeof word);
    return vocabulary->read(word, n, &code) ? code : NAN;
}

double wh_draw(const struct wh_slot *slot, const struct wh_form *form, uint64_t *state)
{
    if (form->vocabulary) return wh_draw_designation(form->vocabulary, state);
    struct wh_value usual;
    bool known = slot->usual && wh_value_read(slot->usual, &form->unit, &usual, NULL) == WH_READ_WELL;
    return known && chance(state) < 0.5 ? near_usual(form, usual.best, state) : anywhere(form, state);
}
