/* schedule_load.h - the load of one resource: its time-table (schedule_load.c) and its energy (schedule_energy.c). */
#ifndef WH_ORDER_SCHEDULE_LOAD_H
#define WH_ORDER_SCHEDULE_LOAD_H

#include "order/schedule_core.h"

/* A span of time with the same sure load. */
struct wh_span {
    int from, to, height;
};

/* An activity as the energy rule sees it, forwards in time or backwards. */
struct wh_window {
    int least, most, last;     /* earliest and latest start, latest end */
    int free;                  /* energy beyond its sure part */
    int sure_least, sure_last; /* energy of all sure parts before its earliest start, and before its latest end */
};

struct wh_load {
    int capacity;
    int count;             /* of activities that use it */
    int *activity, *use;   /* each */
    int *by_most, *by_end; /* places in `activity`, by latest start and by earliest end */
    struct wh_span *spans;
    int span_count, highest;
    bool touched, pressed; /* a bound has moved since the time-table, the energy was looked at */
    int idle, skip;        /* the energy is looked at less often where that has moved nothing lately */
    struct wh_window *windows;
    int *by_least, *by_last; /* for the energy rule */
};

/* What cannot all be done between two times, and what that moves. The time-table is as laid last. */
bool wh_energy_settle(struct wh_core *core, struct wh_load *load);

#endif
