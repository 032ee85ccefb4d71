/* balance_bind.h - what a machine and its figures say of a part that is to be balanced in place. Can be read alone. */
#ifndef WH_SHEET_BALANCE_BIND_H
#define WH_SHEET_BALANCE_BIND_H

#include "machine/balance_read.h"
#include "sheet/sheet.h"

/* Reads a balancing sheet. The machine is `figures`, or NULL; its part is named under "part" of the sheet. Errors:
 * those of wh_balance_read, and a part that the machine does not have. */
enum wh_status wh_balance_bind(struct wh_arena *arena, const struct wh_tree *tree, const struct wh_sheet *figures,
                               struct wh_balance_sheet **ret, struct wh_errors *reterr);

/* The cell of a value of a thing, also of one that follows another figure; WH_NONE where it has none. */
size_t wh_balance_cell(const struct wh_sheet *figures, size_t thing, const char *name);

#endif
