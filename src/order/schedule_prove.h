/* schedule_prove.h - the proof search: choose, draw consequences, learn from what fails, begin again. */
#ifndef WH_ORDER_SCHEDULE_PROVE_H
#define WH_ORDER_SCHEDULE_PROVE_H

#include "order/schedule_core.h"

/* A bound of a start as something to choose by: how often it took part in conflicts lately. */
struct wh_prover {
    struct wh_core *core;
    int *best; /* the best start times known, with the end; followed in choices once `found` */
    bool found;
    uint64_t choices, conflicts;
    size_t most_atoms; /* learnt, before half is forgotten */
    bool by_time;      /* choose the earliest start first, as when generating; otherwise by worth */

    int *need, *where; /* analysis: of each side, the value in hand and its growth; where < 0: none */
    bool *listed;
    int *met, met_count;
    int level, open;
    struct wh_atom *clause;
    int clause_count;

    float *worth; /* of each bound of each start, 2^shift values together */
    float step;
    int shift, *worth_of;          /* of each activity: its first bound */
    int *heap, heap_count, *place; /* bounds by worth; place in the heap or -1 */
    WH_LIST(struct {
        int bound;
        size_t trail;
    })
    taken;            /* from the heap, at that length of the trail */
    int *activity_of; /* of each bound */
};

enum wh_proved {
    WH_PROVED_NONE,   /* no schedule within the root's limits */
    WH_PROVED_ABOVE,  /* none ends by `target` */
    WH_PROVED_FOUND,  /* prover->best holds a new schedule */
    WH_PROVED_STOPPED /* after so many conflicts, or asked to */
};

struct wh_prover *wh_prover_new(struct wh_arena *arena, struct wh_core *core, size_t most_atoms);

/* Searches for a schedule that ends by `target`, until one is found or so many conflicts were met. go_on is asked now
 * and then. What is learnt serves later searches of the same core, whatever their target. */
enum wh_proved wh_prover_search(struct wh_prover *prover, int target, uint64_t conflicts, bool (*go_on)(void *context),
                                void *context);

/* Learns from core->conflict (schedule_learn.c). False: there is nothing to choose otherwise, no schedule exists. */
bool wh_prover_learn(struct wh_prover *prover);

/* The heap of bounds by worth (schedule_worth.c). */
void wh_worth_begin(struct wh_prover *prover);
void wh_worth_raise(struct wh_prover *prover, struct wh_atom atom);
void wh_worth_return(struct wh_prover *prover);
/* The undecided bound of most worth as "start is at least"; side -1: none. */
struct wh_atom wh_worth_take(struct wh_prover *prover);

#endif
