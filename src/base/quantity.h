/* quantity.h - numbers with units, as people write them: "30 mm", "30.008..30.012 mm", "30.010 +- 0.002 mm".
 *
 * Inside the program every value is an SI double (m, kg, s, K, rad and their compounds) without a suffix. Only here are
 * foreign units read and printed. A dimension counts the radian, so that rpm (rad/s) and Hz (1/s) never mix. Numbers
 * are read by our own reader: a comma is a decimal sign like the point; no exponent, hex, nan or inf slips in unseen
 * ("1e-6" is allowed). */
#ifndef WH_BASE_QUANTITY_H
#define WH_BASE_QUANTITY_H

#include "base/error.h"

#include <stdbool.h>
#include <stddef.h>

enum { WH_DIMENSIONS = 6 };

/* Exponents of m, kg, s, K, rad, A. */
struct wh_dimension {
    signed char of[WH_DIMENSIONS];
};

struct wh_unit {
    double factor; /* SI value = number * factor + offset */
    double offset; /* 273.15 K of degC; zero for all but temperatures */
    struct wh_dimension dimension;
    const char *name; /* as written: "mm", "N/mm2"; points into the text it was read from */
    size_t length;    /* of the name */
};

/* Reads a unit: atoms joined by space, "*" or "·" (times) and "/" (divides what follows: W/m2 K is W per m2 and K),
 * with exponents "mm2", "m-1", "s^2". "1" and "" are the number one. False: not a unit. */
bool wh_unit_read(const char *text, size_t n, struct wh_unit *ret);

bool wh_dimension_same(struct wh_dimension a, struct wh_dimension b);

/* What a dimension measures, in words ("length", "speed of turning"), or its exponents ("m2 kg s-3"). */
const char *wh_dimension_words(struct wh_arena *arena, struct wh_dimension dimension);

/* Reads a decimal number at text; the first byte after it, or NULL when there is none. Stops before "..". */
const char *wh_number_read(const char *text, double *ret);

enum wh_shape { WH_EXACT, WH_BETWEEN, WH_NORMAL };

/* A value in SI: exact, anywhere between least and most (uniform), or normal about best with standard uncertainty u
 * (least and most are then best -/+ 2 u). */
struct wh_value {
    enum wh_shape shape;
    double best, least, most, u;
};

struct wh_value wh_exact(double best);
struct wh_value wh_between(double least, double most);
struct wh_value wh_normal(double best, double u);

/* How a value's text failed to be one: each with words for a person through wh_misread_words. */
enum wh_misread { WH_READ_WELL, WH_READ_EMPTY, WH_READ_NO_NUMBER, WH_READ_NO_UNIT, WH_READ_UNKNOWN_UNIT,
                  WH_READ_WRONG_KIND, WH_READ_REVERSED, WH_READ_REST };

/* Reads "a", "a..b" or "a +- b" with one unit of the wanted kind at the end. `wanted` NULL: any unit, and none is the
 * number one. A wanted unit of the number one takes no unit or "%". A difference of temperature is in K; degC and degF
 * are read only where `wanted` is itself degC. *ret_unit (may be NULL) is the unit as written. */
enum wh_misread wh_value_read(const char *text, const struct wh_unit *wanted, struct wh_value *ret,
                              struct wh_unit *ret_unit);

/* "a bare number: write the unit, for example 30 mm": what is wrong with this text, for an error. */
const char *wh_misread_words(struct wh_arena *arena, enum wh_misread misread, const char *text,
                             const struct wh_unit *wanted);

/* A number in a unit with `digits` significant digits, "30.006 mm", no exponent between 1e-4 and 1e7; trailing zeros
 * are kept, so the digits say how well it is known. */
const char *wh_quantity_print(struct wh_arena *arena, double si, const struct wh_unit *unit, int digits);

/* The same with a fixed number of decimals. */
const char *wh_quantity_fixed(struct wh_arena *arena, double si, const struct wh_unit *unit, int decimals);

#endif
