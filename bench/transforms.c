/* transforms SIZE COUNT: the processor's seconds for so many bare transforms of so many samples. */
#include "study/transform.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

struct ask {
    size_t size;
    int count;
};

static enum wh_status run(struct wh_arena *arena, void *context)
{
    const struct ask *ask = context;
    struct wh_transform *transform = wh_transform_forth(arena, ask->size);
    for (size_t i = 0; i < ask->size; i++) transform->real[i] = (double)(i * 7919 % 1009) - 504;
    clock_t began = clock();
    for (int i = 0; i < ask->count; i++) wh_transform_run(transform);
    printf("%.6f\n", (double)(clock() - began) / CLOCKS_PER_SEC);
    return WH_OK;
}

int main(int argc, char **argv)
{
    if (argc != 3) return 2;
    struct ask ask = {(size_t)atol(argv[1]), atoi(argv[2])};
    return wh_arena_run((size_t)1 << 30, run, &ask) == WH_OK ? 0 : 1;
}
