/* sequence_crowd.h - the partial sequences that end at one place: those of the same set of tasks stand together, and of
 * each set and last task there is one, the cheapest. */
#ifndef WH_ORDER_SEQUENCE_CROWD_H
#define WH_ORDER_SEQUENCE_CROWD_H

#include "base/arena.h"

#include <stdbool.h>
#include <stdint.h>

struct wh_sequence_partial {
    double cost, reach; /* so far; the least it can end with */
    uint32_t set, from; /* index of its set; of the partial sequence it continues */
    uint32_t task;      /* its last */
};

/* A set is its words that differ within the place; the rest is the same for all. */
struct wh_sequence_crowd {
    struct wh_sequence_partial *at;
    size_t count, room;
    uint64_t *sets; /* `words` for each set */
    double *tolls;  /* of the tasks of each set */
    size_t *start;  /* after wh_sequence_crowd_settle: the first partial sequence of each set; one more */
    size_t set_count, words;
    uint32_t *table;   /* open addressing: indices of sets */
    size_t table_size; /* of the part in use: a power of two */
};

/* The length of the table for so many sets. */
size_t wh_sequence_crowd_table(size_t room);

/* Room for so many partial sequences with sets of at most so many words. `table`: for looking sets up. */
void wh_sequence_crowd_make(struct wh_arena *arena, size_t room, size_t words, bool table,
                            struct wh_sequence_crowd *ret);

/* Empties it; its sets have so many words now. */
void wh_sequence_crowd_clear(struct wh_sequence_crowd *crowd, size_t words);

/* The index of a set, added with its tolls when it is new. */
uint32_t wh_sequence_crowd_set(struct wh_sequence_crowd *crowd, const uint64_t *set, double tolls);

/* Keeps only the `keep` with the least reach, and drops sets without any. The least reach that was dropped, INFINITY
 * for none. */
double wh_sequence_crowd_thin(struct wh_sequence_crowd *crowd, size_t keep);

/* Copies into `to` with the partial sequences of each set beside each other. */
void wh_sequence_crowd_settle(const struct wh_sequence_crowd *crowd, struct wh_sequence_crowd *to);

#endif
