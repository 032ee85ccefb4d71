/* form.h - what may be written in a rule's slot or under a key of a machine file: "3..500 mm", "0.. N", "zone".
 *
 * This is the one check of an input, whatever door it came through: unit of the right kind, inside the range, a
 * designation that exists. */
#ifndef WH_TRADE_FORM_H
#define WH_TRADE_FORM_H

#include "base/quantity.h"
#include "trade/rule.h"

/* Where a value comes from. */
enum wh_origin { WH_ORIGIN_MISSING, WH_ORIGIN_GIVEN, WH_ORIGIN_TABLE, WH_ORIGIN_COMPUTED, WH_ORIGIN_READ, WH_ORIGIN_SET,
                 WH_ORIGIN_USUAL };
const char *wh_origin_words(enum wh_origin origin);

struct wh_form {
    const struct wh_vocabulary *vocabulary; /* or NULL, and then: */
    struct wh_unit unit;
    double least, most; /* SI; infinite where the range is open */
    enum { WH_FORM_OWN, WH_FORM_ANY, WH_FORM_ANY_DIFFERENCE } takes; /* its own unit, or one that is given to it */
};

/* Reads a range's text. False: it is none, and its writer has to mend it. */
bool wh_form_read(const char *range, struct wh_form *ret);

/* Gives a form that takes any unit the one that a text is written in, or that another form has: "any" the unit itself,
 * "any difference" its steps (of degC: K). A text that cannot be read changes nothing. */
void wh_form_take(struct wh_form *form, const struct wh_form *from, const char *text);

/* Does a number lie between least and most, with room for the last bit of one read in another unit? Not a NaN. */
bool wh_form_between(double value, double least, double most);

/* Reads a text as a value of this form. Errors are added with the place, the text and what would be right; `name` is
 * what the value is called. */
enum wh_status wh_form_value(const struct wh_form *form, const char *name, const char *text, struct wh_place place,
                             struct wh_value *ret, struct wh_errors *reterr);

/* A value or designation as people write it: digits as many as its uncertainty deserves, at most 6. */
const char *wh_form_print(struct wh_arena *arena, const struct wh_form *form, double value, double uncertainty);

/* "3 mm to 500 mm", "at least 0 N", or what the vocabulary lists. */
const char *wh_form_words(struct wh_arena *arena, const struct wh_form *form);

#endif
