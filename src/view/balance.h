/* balance.h - a trim balance as people see it: verdict first, where the masses go, what is then left. */
#ifndef WH_VIEW_BALANCE_H
#define WH_VIEW_BALANCE_H

#include "base/scene.h"
#include "base/tree.h"
#include "study/balance_sheet.h"

/* A map: verdict (refused, try, leave, fit), says, refused, doubts, mind, counting, trials, planes, permissible,
 * readings, effects, plot. Texts are rounded; "si" beside them holds the numbers. */
struct wh_tree *wh_view_balance(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                                const struct wh_balance_result *result);

/* The same as text. */
const char *wh_view_balance_text(struct wh_arena *arena, const struct wh_tree *balance);

/* The planes seen from the pulley end, side by side: holes numbered, turning arrow, what is out of balance, what goes
 * where. */
struct wh_scene *wh_view_balance_plot(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                                      const struct wh_balance_result *result);

/* A reason in words, and what would be right; *ret_right may be NULL. Private to view/. */
const char *wh_view_balance_reason(struct wh_arena *arena, const struct wh_balance_reason *reason,
                                   const char **ret_right);

/* "137 deg", of an angle as counted. */
const char *wh_view_angle(struct wh_arena *arena, double angle);

#endif
