/* iso492.h - tolerances of rolling bearings of metric size, tapered roller bearings excepted (ISO 492). Classes are
 * numbers, read from their text by the vocabulary "class". */
#ifndef WH_TRADE_ISO492_H
#define WH_TRADE_ISO492_H

#include <stdbool.h>
#include <stddef.h>

enum wh_iso492_class { WH_CLASS_NORMAL, WH_CLASS_P6, WH_CLASS_P5, WH_CLASS_P4, WH_CLASS_P2, WH_CLASSES };

/* Deviations of the mean bore and the mean outside diameter; false outside the tables. The upper one is always 0. */
bool wh_iso492_bore(double size, double class_code, double *lower, double *upper);
bool wh_iso492_outside(double size, double class_code, double *lower, double *upper);

/* Radial run-out of the inner and outer ring in the bearing (Kia, Kea), NAN outside the tables. */
double wh_iso492_inner_runout(double size, double class_code);
double wh_iso492_outer_runout(double size, double class_code);

/* How much the mean bore may vary along the bore (normal, P6, P5), and how much narrower the ring may be (normal). */
double wh_iso492_bore_variation(double size, double class_code);
double wh_iso492_width_deviation(double size, double class_code);

/* The vocabulary "class": normal, P0, P6, P5, P4, P2. */
bool wh_iso492_class_read(const char *text, size_t n, double *ret);
size_t wh_iso492_class_print(double code, char *to, size_t room);
size_t wh_iso492_class_list(size_t i, char *to, size_t room);

#endif
