/* heap.h - numbered things, the least key first; among equals the greater depth, then the lower number. */
#ifndef WH_ORDER_HEAP_H
#define WH_ORDER_HEAP_H

#include "base/arena.h"

#include <stdint.h>

struct wh_order_entry {
    double key;
    uint32_t depth, number;
};

struct wh_order_heap {
    struct wh_arena *arena;
    WH_LIST(struct wh_order_entry) list;
};

/* Keys are rounded down to a millionth so that rounding in sums makes no difference of equals. */
void wh_order_heap_add(struct wh_order_heap *heap, double key, uint32_t depth, uint32_t number);

/* Takes the first out of a heap that is not empty. */
struct wh_order_entry wh_order_heap_take(struct wh_order_heap *heap);

#endif
