/* bearing_inside.h - balls and pitch circles of common bearings, for the lines that a damaged one shows. No standard
 * fixes a bearing's inside, so makers differ a little: lines may lie some per cent off. */
#ifndef WH_TRADE_BEARING_INSIDE_H
#define WH_TRADE_BEARING_INSIDE_H

#include <stdbool.h>

struct wh_bearing_inside {
    const char *name;      /* basic designation */
    double elements;       /* in a row */
    double element, pitch; /* diameters, m */
    const char *source;
};

/* The usual inside of a bearing by its designation, suffixes left aside ("6205-2RS"); NULL: not known here. */
const struct wh_bearing_inside *wh_bearing_inside(const char *designation);

#endif
