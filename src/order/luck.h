/* luck.h - chance that is the same in every run (xorshift*: Vigna, ACM Transactions on Mathematical Software 42, 2016).
 * `random` moves on and is not 0. */
#ifndef WH_ORDER_LUCK_H
#define WH_ORDER_LUCK_H

#include <stddef.h>
#include <stdint.h>

/* 32 bits. */
static inline uint64_t wh_order_luck(uint64_t *random)
{
    *random ^= *random >> 12;
    *random ^= *random << 25;
    *random ^= *random >> 27;
    return *random * 0x2545F4914F6CDD1DU >> 32;
}

/* A whole number below n, n at most 2^32. */
static inline size_t wh_order_below(uint64_t *random, size_t n)
{
    return (size_t)(wh_order_luck(random) * n >> 32);
}

/* From 0 to less than 1. */
static inline double wh_order_chance(uint64_t *random)
{
    return (double)wh_order_luck(random) * 0x1p-32;
}

#endif
