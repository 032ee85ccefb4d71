/* balance_reader.h - private to machine/: what the two halves of reading a balancing sheet share. */
#ifndef WH_MACHINE_BALANCE_READER_H
#define WH_MACHINE_BALANCE_READER_H

#include "machine/balance_read.h"
#include "machine/reader.h"

struct wh_balance_reader {
    struct wh_reader reader;
    struct wh_balance_sheet *sheet;
};

/* A text as a quantity of a form ("0.. g"); NaN after an error at the node. */
double wh_balance_quantity(struct wh_balance_reader *b, const struct wh_tree *node, const char *form, const char *text);

/* The plane or sensor with an id; WH_NONE after an error at the node. */
size_t wh_balance_plane_named(struct wh_balance_reader *b, const struct wh_tree *node, const char *id);
size_t wh_balance_sensor_named(struct wh_balance_reader *b, const struct wh_tree *node, const char *id);

/* The number of a hole of a plane; 0 after an error at the node. */
size_t wh_balance_hole_named(struct wh_balance_reader *b, const struct wh_tree *node, const char *text,
                             const struct wh_balance_plane *plane);

/* "20 g at 90 deg on back-plate": cuts what follows a word off a text; NULL: the word does not stand in it. */
const char *wh_balance_cut(struct wh_balance_reader *b, const char **text, const char *word);

/* Reads the runs of a sheet whose planes and sensors are read. */
void wh_balance_read_runs(struct wh_balance_reader *b, const struct wh_tree *tree);

#endif
