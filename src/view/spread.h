/* spread.h - the spread of figures as people read it. */
#ifndef WH_VIEW_SPREAD_H
#define WH_VIEW_SPREAD_H

#include "base/tree.h"
#include "sheet/spread.h"

/* A map: trials, seed, a list of spreads, and how many figures no uncertain input moves: those, and given values, are
 * left out unless `steady` is asked for. */
struct wh_tree *wh_view_spreads(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_spread_wish *wish,
                                const struct wh_spread spreads[], bool steady);

/* The same as text: a line a figure, below it what lies outside its limits and what it hangs on most. */
const char *wh_view_spreads_text(struct wh_arena *arena, const struct wh_tree *spreads);

#endif
