/* pair.h - two numbers that any processor of today works side by side, for the loops that a spread runs a billion
 * times. gcc and clang give the same bits with it as without. */
#ifndef WH_SHEET_PAIR_H
#define WH_SHEET_PAIR_H

#include <stdint.h>
#include <string.h>

typedef double wh_pair __attribute__((vector_size(16)));
typedef int64_t wh_marks __attribute__((vector_size(16))); /* of a comparison: -1 true, 0 false */

#define WH_PAIR(x)                                                                                                     \
    {                                                                                                                  \
        (x), (x)                                                                                                       \
    }

static inline wh_pair wh_pair_at(const double *column)
{
    wh_pair pair;
    memcpy(&pair, column, sizeof pair);
    return pair;
}

/* The lesser and the greater of each; the second where the first is no number. */
static inline wh_pair wh_pair_lesser(wh_pair a, wh_pair b)
{
    return (wh_pair){a[0] < b[0] ? a[0] : b[0], a[1] < b[1] ? a[1] : b[1]};
}
static inline wh_pair wh_pair_greater(wh_pair a, wh_pair b)
{
    return (wh_pair){a[0] > b[0] ? a[0] : b[0], a[1] > b[1] ? a[1] : b[1]};
}

#endif
