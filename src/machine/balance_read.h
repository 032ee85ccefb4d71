/* balance_read.h - reads a balancing sheet (study/balance_sheet.h) from a tree: a file of its own in the style of a
 * machine file, or what a page or a command line made of its fields. Can be read alone.
 *
 * A sheet may name a part of a machine; what the machine says of that part then need not stand in the sheet. */
#ifndef WH_MACHINE_BALANCE_READ_H
#define WH_MACHINE_BALANCE_READ_H

#include "base/tree.h"
#include "machine/machine.h"
#include "study/balance_sheet.h"

enum { WH_BALANCE_BYTES = 64 * 1024 };

/* What a machine says of the part to be balanced; NaN, 0 or NULL where it says nothing. */
struct wh_balance_part {
    const char *title, *machine;
    enum wh_balance_allows allows;
    double mass, grade, radius, speed, stamped; /* speed: the highest it works at */
    size_t holes;
};

/* May a part of this machine be balanced in place? */
enum wh_balance_allows wh_balance_allowed(const struct wh_machine *machine, size_t thing);

/* The tree of a sheet's file. Errors: WH_ERR_FILE, WH_ERR_INPUT with the places. */
enum wh_status wh_balance_file(struct wh_arena *arena, const char *path, struct wh_tree **ret,
                               struct wh_errors *reterr);

/* Reads a sheet. `part` is NULL where it names no machine's part. All errors are added at once; *ret is set only when
 * there are none. */
enum wh_status wh_balance_read(struct wh_arena *arena, const struct wh_tree *tree, const struct wh_balance_part *part,
                               struct wh_balance_sheet **ret, struct wh_errors *reterr);

/* A sheet put together by a form or a command line: its tree, with empty lists of planes, sensors and runs. Lines of
 * an empty text, or NULL, are left out. The sensors are as many as the last run has readings. */
struct wh_tree *wh_balance_tree(struct wh_arena *arena);
void wh_balance_line(struct wh_arena *arena, struct wh_tree *to, const char *key, const char *text);
struct wh_tree *wh_balance_item(struct wh_arena *arena, struct wh_tree *tree, const char *list, const char *id);
void wh_balance_sensors(struct wh_arena *arena, struct wh_tree *tree);

#endif
