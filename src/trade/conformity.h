/* conformity.h - does a reading prove that a limit is kept, with the gauge it was taken with? */
#ifndef WH_TRADE_CONFORMITY_H
#define WH_TRADE_CONFORMITY_H

enum wh_verdict { WH_OUTSIDE = -1, WH_NOT_PROVEN = 0, WH_WITHIN = 1 };

/* Within only when the whole of reading -/+ U lies between the limits, outside only when all of it lies beyond one;
 * between the two the gauge is too coarse to decide. U is the expanded uncertainty (k = 2). A limit that is not set is
 * -INFINITY or INFINITY. A NaN proves nothing. */
enum wh_verdict wh_conformity_verdict(double reading, double U, double least, double most);

/* The expanded uncertainty below which a gauge would settle this reading; zero when it lies on a limit, infinite when
 * no limit is set. */
double wh_conformity_gauge_needed(double reading, double least, double most);

/* "within", "not proven", "outside". */
const char *wh_verdict_words(enum wh_verdict verdict);

#endif
