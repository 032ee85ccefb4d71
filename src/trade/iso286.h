/* iso286.h - limits of size: tolerances IT1 to IT18 and the zones c to u, C to U, up to 500 mm (ISO 286-1, ISO 286-2).
 * Zones and grades are numbers here, read from their text by the vocabularies "zone" and "grade". */
#ifndef WH_TRADE_ISO286_H
#define WH_TRADE_ISO286_H

#include <stdbool.h>
#include <stddef.h>

/* The deviations of a zone at a nominal size; false where the standard has none. */
bool wh_iso286_limits(double size, double zone_code, double *lower, double *upper);

/* Is it the zone of a hole (capital letter)? */
bool wh_iso286_zone_is_hole(double zone_code);

/* The tolerance of a grade at a nominal size, NAN outside the table. */
double wh_iso286_tolerance(double size, double grade_code);

/* The step of nominal sizes that this one belongs to; false above 500 mm. */
bool wh_iso286_step(double size, double *above, double *up_to);

/* The vocabularies "zone" (k6, JS7) and "grade" (IT6); see rule.h. */
bool wh_iso286_zone_read(const char *text, size_t n, double *ret);
size_t wh_iso286_zone_print(double code, char *to, size_t room);
size_t wh_iso286_zone_list(size_t i, char *to, size_t room);
bool wh_iso286_grade_read(const char *text, size_t n, double *ret);
size_t wh_iso286_grade_print(double code, char *to, size_t room);
size_t wh_iso286_grade_list(size_t i, char *to, size_t room);

#endif
