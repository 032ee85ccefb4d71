/* bearing_table.h - the tables behind bearing.h: series, boundary dimensions, load ratings. */
#ifndef WH_TRADE_BEARING_TABLE_H
#define WH_TRADE_BEARING_TABLE_H

#include "trade/bearing.h"

enum { WH_BEARING_SERIES = 36, WH_BEARING_BORES = 31 };

/* The letters and digits in front of a series' bores; NULL past the end. */
const char *wh_bearing_series(size_t series);

/* Fills type, dimensions and ratings; false when the series has no bearing of this bore (by its place in the table). */
bool wh_bearing_dimensions(size_t series, size_t bore, struct wh_bearing *ret);

/* The place of a bore code: "00" to "03", "04" and up in steps of 5 mm, one digit in mm; WH_BEARING_BORES: none. */
size_t wh_bearing_bore_read(const char *text, size_t n);
size_t wh_bearing_bore_print(size_t bore, char *to, size_t room);

#endif
