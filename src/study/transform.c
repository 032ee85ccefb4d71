#include "study/transform.h"

#include <fftw3.h>
#include <pthread.h>

/* The library's planner is the one thing in it that threads may not enter side by side. */
static pthread_mutex_t planner = PTHREAD_MUTEX_INITIALIZER;

enum way { FORTH, BACK, COMPLEX };

static fftw_plan plan_of(const struct wh_transform *t, enum way way)
{
    int n = (int)t->n;
    if (way == FORTH) return fftw_plan_dft_r2c_1d(n, t->real, t->bins, FFTW_ESTIMATE);
    if (way == BACK) return fftw_plan_dft_c2r_1d(n, t->bins, t->real, FFTW_ESTIMATE);
    return fftw_plan_dft_1d(n, t->bins, t->bins, FFTW_BACKWARD, FFTW_ESTIMATE);
}

static void forget(void *transform)
{
    struct wh_transform *t = transform;
    pthread_mutex_lock(&planner);
    if (t->plan) fftw_destroy_plan(t->plan);
    pthread_mutex_unlock(&planner);
}

static struct wh_transform *make(struct wh_arena *arena, size_t n, enum way way)
{
    struct wh_transform *t = WH_NEW(arena, 1, struct wh_transform);
    t->n = n;
    t->real = way == COMPLEX ? NULL : WH_NEW(arena, n, double);
    t->bins = wh_arena_get_many(arena, way == COMPLEX ? n : n / 2 + 1, sizeof *t->bins);
    wh_arena_defer(arena, forget, t);
    pthread_mutex_lock(&planner);
    t->plan = plan_of(t, way);
    pthread_mutex_unlock(&planner);
    if (!t->plan) wh_arena_give_up(arena);
    return t;
}

struct wh_transform *wh_transform_forth(struct wh_arena *arena, size_t n)
{
    return make(arena, n, FORTH);
}

struct wh_transform *wh_transform_back(struct wh_arena *arena, size_t n)
{
    return make(arena, n, BACK);
}

struct wh_transform *wh_transform_complex(struct wh_arena *arena, size_t n)
{
    return make(arena, n, COMPLEX);
}

void wh_transform_run(struct wh_transform *transform)
{
    fftw_execute(transform->plan);
}

size_t wh_transform_length(size_t least)
{
    static const size_t primes[] = {2, 3, 5};
    for (size_t n = least < 2 ? 2 : least + least % 2;; n += 2) {
        size_t rest = n;
        for (size_t p = 0; p < 3; p++)
            while (rest % primes[p] == 0) rest /= primes[p];
        if (rest == 1) return n;
    }
}
