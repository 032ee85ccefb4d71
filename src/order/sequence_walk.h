/* sequence_walk.h - a bound from walks: a walk has one task at each place, only at places it can take, but may come by
 * a task twice and leave another out. It never goes straight back to where it came from (Houck, Picard, Queyranne and
 * Vemuganti, Opsearch 17, 1980).
 *
 * Each task takes a toll from who comes by. A sequence comes by each once, so the cheapest walk with tolls, less all
 * tolls, is never dearer than the cheapest sequence; tolls are raised where walks come too often and lowered where
 * they do not come. The same holds for the rest of a sequence, which gives each partial sequence a bound at once. */
#ifndef WH_ORDER_SEQUENCE_WALK_H
#define WH_ORDER_SEQUENCE_WALK_H

#include "order/sequence_assign.h"

/* No task: before the start and after the end. */
#define WH_SEQUENCE_NONE UINT16_MAX

/* The cheapest part of a walk that ends or begins with a task at a place, for each [place * n + task]. */
struct wh_sequence_parts {
    double *first;    /* its cost */
    double *other;    /* of the cheapest that has another neighbour */
    uint16_t *beside; /* the neighbour of the first */
};

struct wh_sequence_walk {
    const struct wh_sequence_model *model;
    bool *shut;                      /* [place * n + task]: no cheaper sequence has it there */
    size_t *least, *most;            /* of each place the first and the last task that can stand there */
    double *toll, tolls;             /* of each task but the start, and their sum */
    struct wh_sequence_parts ahead;  /* from there to the end, tolls after it included */
    struct wh_sequence_parts behind; /* from the start to there, its own toll included */
    double *row;                     /* room for one place */
    size_t *back, *chain;            /* of each task of the place before those that go on to it: the first, the next */
    double *best, *next, *way;       /* tolls: the best, the next to try, and the way they were going */
    size_t *path, *times;            /* the cheapest walk, and how often it comes by each task */
    double bound;                    /* on the cost of any sequence that could be cheaper than the best found */
    double length;                   /* of the next change of the tolls */
    uint64_t steps;                  /* of one sweep */
};

/* Room for the walks of a model: 37 n^2 bytes and a little. */
void wh_sequence_walk_make(struct wh_arena *arena, const struct wh_sequence_assignment *assignment,
                           struct wh_sequence_walk *ret);

/* Betters the tolls with so many sweeps, shuts places on the way, and raises the run's bound. */
void wh_sequence_walk_improve(struct wh_sequence_walk *walk, struct wh_sequence_run *run, int sweeps);

#endif
