/* sheet.h - the figures of one machine: every rule of every thing's kind, bound to its inputs. Can be read alone.
 *
 * A cell holds one value: given, from a table, read, set, usual, or a result of a rule. Cells are named
 * "thing.value". Binding finds each rule's inputs by name, depth first, which is also the order of working: an own
 * value, an own figure, the value of a neighbour by its role ("seat.diameter"), the usual value. What is missing then
 * is said, with all that hangs on it; nothing else is taken in silence. */
#ifndef WH_SHEET_SHEET_H
#define WH_SHEET_SHEET_H

#include "machine/machine.h"

/* Which end of a figure somebody goes by: the middle, or the careful one. */
enum wh_end { WH_END_BEST, WH_END_LEAST, WH_END_MOST };

struct wh_cell {
    const char *name; /* "neck-seat.diameter" */
    const char *title;
    size_t thing;
    struct wh_form form;
    enum wh_origin origin;
    struct wh_value given;                  /* of a cell that no rule makes */
    const char *source, *written;           /* of a given one, as in the machine file; or NULL */
    size_t use;                             /* the use that makes it, WH_NONE for a given one */
    const char *remark_least, *remark_most; /* of a made one, where it is least and most; or NULL */
};

struct wh_study;

/* A rule or a study bound to cells. Uses stand in the order of working. */
struct wh_use {
    const struct wh_rule *rule;
    size_t thing;
    size_t in[WH_RULE_COLUMNS], inputs; /* cells */
    size_t out[WH_RULE_OUT], results;
    const struct wh_slot *slot[WH_RULE_COLUMNS];          /* of each input */
    double least[WH_RULE_COLUMNS], most[WH_RULE_COLUMNS]; /* the ranges of the slots, SI */
    const char *remark;                                   /* of the last settling; or NULL */

    const struct wh_study *study;  /* of a use that is none of columns; or NULL */
    size_t about[WH_RULE_COLUMNS]; /* of its inputs: the thing about it that each is of; WH_NONE: its own */
    double *seen;                  /* inputs and results of the last time it was worked */
    bool worked;
    const char *reason; /* why it had no answer then; or NULL */
};

/* A figure that cannot be worked out, and why. */
struct wh_missing {
    size_t thing;
    const char *figure, *why;
};

struct wh_sheet {
    struct wh_arena *arena;
    const struct wh_machine *machine;
    struct wh_cell *cells;
    size_t cell_count;
    struct wh_use *uses;
    size_t use_count;
    const struct wh_missing *missing;
    size_t missing_count;
    double *value, *least, *most, *u; /* by cell, SI; NaN: no answer */
};

/* A value to take instead of what the machine file says: "neck-seat.diameter", "45.006 mm". */
struct wh_setting {
    const char *name, *text;
    enum wh_origin origin; /* WH_ORIGIN_SET or WH_ORIGIN_READ */
};

/* Binds, settles and works out every uncertainty. Errors: WH_ERR_INPUT for a setting of no value here or that reads
 * badly, for a value that follows ("as …") a figure of another kind or of nothing. */
enum wh_status wh_sheet_make(struct wh_arena *arena, const struct wh_machine *machine,
                             const struct wh_setting settings[], size_t setting_count, struct wh_sheet **ret,
                             struct wh_errors *reterr);

/* Works all uses once from the given cells, best values. */
void wh_sheet_settle(struct wh_sheet *sheet);

/* Works out u, least and most of every figure. u, first order: each uncertain input in turn goes to its limits. Least
 * and most: all inputs at the limits that lower or raise it. Scratch comes from the arena. */
void wh_sheet_spread(struct wh_sheet *sheet, struct wh_arena *arena);

/* "most warmed-to" taken apart: the name, and the end before it. */
const char *wh_sheet_end(const char *figure, enum wh_end *ret);

/* The cell of that name, WH_NONE when there is none. */
size_t wh_sheet_cell(const struct wh_sheet *sheet, const char *name);
/* Of a thing: "neck-bearing" and "mounting-temperature". */
size_t wh_sheet_figure(const struct wh_sheet *sheet, size_t thing, const char *figure);

/* The names of the cells whose value differs between two sheets of the same machine. */
struct wh_words wh_sheet_changed(struct wh_arena *arena, const struct wh_sheet *before, const struct wh_sheet *after);

#endif
