/* transform.h - Fourier transforms of one length: planned once, worked often, the same bits every time. */
#ifndef WH_STUDY_TRANSFORM_H
#define WH_STUDY_TRANSFORM_H

#include "base/arena.h"

/* A planned transform with the numbers it works on; all of it lives in the arena. */
struct wh_transform {
    size_t n;          /* samples */
    double *real;      /* n samples of a real transform; NULL of a complex one */
    double (*bins)[2]; /* n/2 + 1 bins of a real transform, n of a complex one: real and imaginary part */
    void *plan;
};

/* Samples to bins: bins[k] = sum of real[j] exp(-2 pi i j k/n). The samples are kept. */
struct wh_transform *wh_transform_forth(struct wh_arena *arena, size_t n);

/* Bins back to samples: n times the inverse. The bins are spoilt. */
struct wh_transform *wh_transform_back(struct wh_arena *arena, size_t n);

/* n bins back to n complex samples in their place: n times the inverse. */
struct wh_transform *wh_transform_complex(struct wh_arena *arena, size_t n);

void wh_transform_run(struct wh_transform *transform);

/* The least even length with no prime factor above 5 that is not below `least`. */
size_t wh_transform_length(size_t least);

#endif
