/* schedule_breed.h - good schedules by breeding lists: two parents, a child, justified both ways. */
#ifndef WH_ORDER_SCHEDULE_BREED_H
#define WH_ORDER_SCHEDULE_BREED_H

#include "order/schedule_list.h"

struct wh_breed {
    struct wh_lister *lister;
    uint64_t random;
    int size;   /* of the herd */
    int **list; /* each by start */
    int **start;
    int *makespan;
    int *child, *child_start, *best;
    int best_makespan;
    uint64_t idle; /* children since the herd last got better */
};

/* The first herd from rules of priority and chance. */
struct wh_breed *wh_breed_new(struct wh_arena *arena, struct wh_lister *lister);

/* So many schedules more, fewer when `enough` is reached. */
void wh_breed_on(struct wh_breed *breed, uint64_t schedules, int enough);

/* Takes in a schedule found elsewhere. */
void wh_breed_take(struct wh_breed *breed, const int start[]);

#endif
