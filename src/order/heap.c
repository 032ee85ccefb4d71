#include "order/heap.h"

#include <math.h>
#include <stdbool.h>

static bool goes_first(const struct wh_order_entry *a, const struct wh_order_entry *b)
{
    if (a->key < b->key || a->key > b->key) return a->key < b->key;
    if (a->depth != b->depth) return a->depth > b->depth;
    return a->number < b->number;
}

void wh_order_heap_add(struct wh_order_heap *heap, double key, uint32_t depth, uint32_t number)
{
    WH_PUSH(heap->arena, &heap->list);
    struct wh_order_entry entry = {floor(key * 1e6 + 0.01) / 1e6, depth, number};
    struct wh_order_entry *at = heap->list.at;
    size_t hole = heap->list.count - 1;
    while (hole > 0 && goes_first(&entry, &at[(hole - 1) / 2])) {
        at[hole] = at[(hole - 1) / 2];
        hole = (hole - 1) / 2;
    }
    at[hole] = entry;
}

struct wh_order_entry wh_order_heap_take(struct wh_order_heap *heap)
{
    struct wh_order_entry *at = heap->list.at, first = at[0];
    size_t n = --heap->list.count, hole = 0;
    struct wh_order_entry last = at[n];
    for (size_t child = 1; child < n; child = 2 * hole + 1) {
        if (child + 1 < n && goes_first(&at[child + 1], &at[child])) child++;
        if (!goes_first(&at[child], &last)) break;
        at[hole] = at[child];
        hole = child;
    }
    at[hole] = last;
    return first;
}
