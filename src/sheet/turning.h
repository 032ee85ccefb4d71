/* turning.h - what turns, made ready for a study: a spindle or shaft by its section, with the bodies, supports and side
 * pulls that a machine file places on it ("of: spindle"). */
#ifndef WH_SHEET_TURNING_H
#define WH_SHEET_TURNING_H

#include "sheet/sheet.h"
#include "study/study.h"

/* Is it a body, support or side pull placed on this shaft? */
bool wh_stands_about(const struct wh_machine *machine, size_t thing, size_t shaft);

/* What keeps a shaft's whirling from being worked out: nothing holds it, a body has no mass or height. NULL: nothing
 * does. */
const char *wh_about_lacks(struct wh_arena *arena, const struct wh_machine *machine, size_t shaft);

/* The rotor of a use of a study, from its inputs as they are settled. */
struct wh_rotor *wh_sheet_rotor(struct wh_arena *arena, const struct wh_sheet *sheet, const struct wh_use *use);

/* The use that works out a thing's critical speeds; NULL: they are not worked out. */
const struct wh_use *wh_sheet_whirling(const struct wh_sheet *sheet, size_t thing);

/* Works a study's use, unless nothing has changed since it was last worked. */
void wh_sheet_work_study(struct wh_sheet *sheet, struct wh_use *use);

#endif
