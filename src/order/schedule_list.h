/* schedule_list.h - schedules from lists: each activity in turn as early (or as late) as lags and resources let it. */
#ifndef WH_ORDER_SCHEDULE_LIST_H
#define WH_ORDER_SCHEDULE_LIST_H

#include "order/schedule.h"

/* Working space for one problem whose lags form no ring. */
struct wh_lister {
    const struct wh_schedule_problem *problem;
    int count;
    int horizon; /* no schedule of a list is longer */
    struct wh_list_arc {
        int from, wait;
    } * arcs[2];     /* forwards and backwards: what has to stand before, and how long before */
    int *arcs_of[2]; /* of activity i: arcs_of[i] up to arcs_of[i + 1] */
    int *tail;       /* of each activity: from its start to the end, by lags alone */
    int words, bits; /* resources packed: so many words a time, so many bits each with the one above them */
    uint64_t *guard, *full, *use;
    uint64_t *free;           /* [time * words + word] */
    int *start, *order, *key; /* working space */
    bool *placed;
    uint64_t generated; /* schedules so far */
};

/* NULL: the lags form a ring, an activity alone uses more than there is, or the time-table takes more than so many
 * bytes. */
struct wh_lister *wh_lister_new(struct wh_arena *arena, const struct wh_schedule_problem *problem, size_t bytes);

/* Starts in the order of a list, each as early as it can; what has to come before an activity is placed before it. The
 * makespan. */
int wh_list_forwards(struct wh_lister *lister, const int list[], int start[]);

/* From a schedule: all as late as can be, latest end first, then all as early as can be again. Never longer; start[]
 * and list[] (by start) are replaced. */
int wh_list_justify(struct wh_lister *lister, int list[], int start[], int makespan);

/* Orders a list by keys, equals as they stand. */
void wh_list_sort(int list[], int count, const int key[]);

#endif
