/* matter.h - which inputs matter most to a figure: Spearman's rank correlation over the trials of a pilot run. */
#ifndef WH_SHEET_MATTER_H
#define WH_SHEET_MATTER_H

#include "sheet/course.h"
#include "sheet/spread.h"

/* Fills matters of `count` figures, those that matter most first, none below 0.05 in size. Figure f stands in
 * `columns`, its n trials at trials + f * WH_SPREAD_PILOT; those without an answer are left out. */
void wh_matter_find(struct wh_arena *arena, const struct wh_course *course, const size_t columns[], size_t count,
                    size_t n, const double *trials, struct wh_spread ret[]);

#endif
