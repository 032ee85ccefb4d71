/* course.h - a sheet made ready to be worked for many trials, a block of rows at a time: only the rules that hang on
 * something uncertain and that a wished figure hangs on, each with its columns. */
#ifndef WH_SHEET_COURSE_H
#define WH_SHEET_COURSE_H

#include "sheet/draw.h"
#include "sheet/sheet.h"

enum { WH_COURSE_ROWS = 128 };

struct wh_course_input {
    size_t cell, column;
    uint64_t stream;
    bool looked_at; /* its sums and ends are wanted */
};

/* A column and the range a rule wants it in. */
struct wh_course_check {
    size_t column;
    double least, most;
};

struct wh_course_use {
    const struct wh_rule *rule;
    size_t in[WH_RULE_COLUMNS], inputs, out[WH_RULE_OUT], results;
    struct wh_course_check *checks;
    size_t check_count;
};

/* Made once and then read only: any number of threads work from it, each with a bench of its own. */
struct wh_course {
    const struct wh_sheet *sheet;
    struct wh_draw_layers layers;
    struct wh_course_input *inputs;
    size_t input_count;
    struct wh_course_use *uses;
    size_t use_count;
    size_t *column; /* by cell; WH_NONE: not worked here, always the sheet's value */
    double *fixed;  /* by column: what stands in it for all trials, and about which its sums are taken */
    size_t column_count;
};

/* What was seen of a column in a block, over the rows that have an answer. */
struct wh_seen {
    double sum, square; /* about the column's fixed value */
    double least, most;
    size_t answers;
};

/* Room of one thread. */
struct wh_bench {
    double *columns; /* WH_COURSE_ROWS each */
    struct wh_seen *seen;
    double *spare; /* the inputs of one use, where rows have to be left out */
};

struct wh_course *wh_course_make(struct wh_arena *arena, const struct wh_sheet *sheet, const size_t cells[],
                                 size_t count, uint64_t seed);
struct wh_bench wh_course_bench(struct wh_arena *arena, const struct wh_course *course);

/* Draws and works the trials first … first + n - 1, n at most WH_COURSE_ROWS. Takes no memory. */
void wh_course_draw(const struct wh_course *course, struct wh_bench *bench, uint64_t first, size_t n);
void wh_course_work(const struct wh_course *course, struct wh_bench *bench, size_t n);

#endif
