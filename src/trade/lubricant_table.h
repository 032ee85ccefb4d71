/* lubricant_table.h - the grades of ISO 3448 and the reference oils of ASTM D2270. */
#ifndef WH_TRADE_LUBRICANT_TABLE_H
#define WH_TRADE_LUBRICANT_TABLE_H

#include <stddef.h>

enum { WH_LUBRICANT_GRADES = 20 };

/* The number in a grade's name ("ISO VG 68": 68), by its place in the list 0 to 19. */
unsigned wh_lubricant_grade_number(size_t grade);

/* Middle viscosity of a grade at 40 degC, m2/s; 0.9 and 1.1 times it bound the grade. NaN: no such grade. */
double wh_lubricant_grade_middle(size_t grade);

/* Viscosity at 40 degC, m2/s, of the reference oils of index 0 (low) and 100 (high) that have `at_100` (m2/s) at
 * 100 degC. NaN below 2 mm2/s. */
struct wh_reference_oils {
    double low, high;
};
struct wh_reference_oils wh_lubricant_reference_oils(double at_100);

#endif
