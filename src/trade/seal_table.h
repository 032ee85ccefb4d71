/* seal_table.h - how much larger than its bore a rotary lip seal is made (ISO 6194-1). Lengths in m. */
#ifndef WH_TRADE_SEAL_TABLE_H
#define WH_TRADE_SEAL_TABLE_H

#include <stdbool.h>
#include <stddef.h>

/* Least and most allowance on the outside diameter of a seal for a bore of this nominal size; case_code is of the
 * vocabulary `seal-case` (metal, rubber). False: the size is not tabulated. */
bool wh_seal_allowance(double bore, double case_code, double *ret_least, double *ret_most);

/* Most out-of-round of the outside diameter, h11 of the shaft (below zero), H8 of the bore; NaN: not tabulated. */
double wh_seal_out_of_round(double bore);
double wh_seal_shaft_lower(double shaft);
double wh_seal_bore_upper(double bore);

/* Highest rim speed of a lip in oil, as it is commonly given: the lower and the upper figure. `rubber` is a code of the
 * vocabulary `rubber`. */
bool wh_seal_rim_speed(double rubber, double *ret_least, double *ret_most);

/* The vocabularies `seal-case` and `rubber`. */
bool wh_seal_case_read(const char *text, size_t n, double *ret);
size_t wh_seal_case_print(double code, char *to, size_t room);
size_t wh_seal_case_list(size_t i, char *to, size_t room);
bool wh_seal_rubber_read(const char *text, size_t n, double *ret);
size_t wh_seal_rubber_print(double code, char *to, size_t room);
size_t wh_seal_rubber_list(size_t i, char *to, size_t room);

#endif
