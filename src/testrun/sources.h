/* sources.h - what may make lines in a machine's vibration: its shaft, bearings, belt, blades and the mains. Filled
 * from the command line here, from a machine by whoever has read one. Speeds are frequencies in Hz, orders are times a
 * turn of the shaft whose speed is stated. */
#ifndef WH_TESTRUN_SOURCES_H
#define WH_TESTRUN_SOURCES_H

#include "base/error.h"

enum wh_bearing_line { WH_LINE_OUTER, WH_LINE_INNER, WH_LINE_ROLLER, WH_LINE_CAGE, WH_BEARING_LINES };

/* "outer", as asked for; "outer ring", as a finding calls the part. */
extern const char *const wh_bearing_line_keys[WH_BEARING_LINES];
extern const char *const wh_bearing_line_parts[WH_BEARING_LINES];

struct wh_bearing_source {
    const char *title;              /* "neck bearing"; "bearing 6205" */
    double order[WH_BEARING_LINES]; /* the roller's is that of its strikes, twice its spin; NAN: not known */
    const char *from;               /* where the orders are from, or NULL */
};

/* Anything else that makes lines at a fixed number of times a turn: belt, pulley, motor, blades, gear. */
struct wh_order_source {
    const char *part;  /* "belt" */
    const char *title; /* "drive belt" */
    double order;
};

struct wh_sources {
    double stated;    /* Hz, speed of the shaft; 0: not known */
    double tolerance; /* how far off it may be, as a share */
    double mains;     /* Hz */
    double slip;      /* how far a bearing's line may be off, as a share */
    double limit;     /* m/s r.m.s.: vibration below is nothing to look for a cause of */
    const char *limit_from;
    WH_LIST(struct wh_bearing_source) bearings;
    WH_LIST(struct wh_order_source) orders;
};

/* The usual settings, no bearing: 8 % of the speed, 50 Hz, 2 % slip, 2.8 mm/s. */
struct wh_sources wh_sources_usual(void);

/* Adds the bearing of a designation, with the orders of its usual inside ("6205"). Errors: WH_ERR_INPUT: not a bearing,
 * or one whose inside is not known here. */
enum wh_status wh_sources_add_bearing(struct wh_arena *arena, struct wh_sources *sources, const char *designation,
                                      struct wh_errors *reterr);

/* Adds a bearing by its orders: "outer=3.585,inner=5.415,roller=4.714,cage=0.398", some of them, one at least; each
 * 0.05 to 100 times a turn. Errors: WH_ERR_INPUT. */
enum wh_status wh_sources_add_lines(struct wh_arena *arena, struct wh_sources *sources, const char *lines,
                                    struct wh_errors *reterr);

#endif
