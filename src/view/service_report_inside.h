/* service_report_inside.h - what the parts of the service report share. */
#ifndef WH_VIEW_SERVICE_REPORT_INSIDE_H
#define WH_VIEW_SERVICE_REPORT_INSIDE_H

#include "view/service_report.h"

struct wh_report {
    struct wh_arena *arena;
    const struct wh_tree *job;
    const struct wh_report_print *print;
    struct wh_tree *sheets, *blocks;
    size_t photo; /* number of the last photo told */
};

/* The first of a map's list; its text. */
const struct wh_tree *wh_report_first_of(const struct wh_tree *map, const char *key);
const char *wh_report_get(const struct wh_tree *map, const char *key);

/* Adds a text in units as a hand writes them; a sheet; a block; a block of words; a table and its rows. */
void wh_report_say(struct wh_report *r, struct wh_tree *map, const char *key, const char *text);
void wh_report_start_sheet(struct wh_report *r, const char *heading);
struct wh_tree *wh_report_block(struct wh_report *r, const char *is);
void wh_report_text(struct wh_report *r, const char *is, const char *words);
struct wh_tree *wh_report_table(struct wh_report *r, const char *const columns[], size_t n);
void wh_report_row(struct wh_report *r, struct wh_tree *rows, const char *const cells[], size_t n);

/* "what: red dust; on: foot-sleeve": the fields of an entry in one text. */
const char *wh_report_fields_of(struct wh_report *r, const struct wh_tree *entry);

void wh_report_centres(struct wh_report *r);
void wh_report_test_run(struct wh_report *r);
void wh_report_photos(struct wh_report *r);

#endif
