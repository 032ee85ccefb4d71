/* balance_split.h - the unbalance that is wanted, made of the masses at hand in the holes there are. Can be read alone.
 *
 * The best choice is exact: every way of filling the holes is covered. The holes are parted into two halves, all ways
 * of filling each are listed, and for every way of the one half the nearest of the other is looked up. */
#ifndef WH_STUDY_BALANCE_SPLIT_H
#define WH_STUDY_BALANCE_SPLIT_H

#include "base/arena.h"

#include <complex.h>
#include <stdbool.h>
#include <stddef.h>

enum { WH_SPLIT_PLACES = 32, WH_SPLIT_MASSES = 15, WH_SPLIT_MOST = 12 };

struct wh_split {
    double complex wanted;               /* kg m */
    double complex arm[WH_SPLIT_PLACES]; /* radius at the angle of each free hole, m */
    size_t places;
    double mass[WH_SPLIT_MASSES];  /* kg, one of which goes into a hole; below zero for what is taken away */
    size_t stock[WH_SPLIT_MASSES]; /* how many of each there are; 0: enough */
    size_t masses;
    size_t most; /* masses in all, at most WH_SPLIT_MOST */
};

struct wh_split_choice {
    int mass[WH_SPLIT_PLACES]; /* which of the masses is in each hole; -1: none */
    double complex made;       /* kg m */
    double left;               /* |wanted - made|; infinite: so many cannot be fitted */
    size_t used;
};

/* The best choice of exactly 0, 1, … most masses into ret[0…most], and how many ways there were in *ret_ways.
 * False: there are more ways than can be covered; fewer masses, or fewer in all, would be. */
bool wh_split_best(struct wh_arena *arena, const struct wh_split *split, struct wh_split_choice ret[],
                   double *ret_ways);

/* The choice to go by: the fewest masses that leave at most `enough`, otherwise the one that leaves least. */
const struct wh_split_choice *wh_split_choose(const struct wh_split_choice best[], size_t most, double enough);

#endif
