/* The order so far is the natural order of what is planned anew: it is kept unless another saves five minutes. */
#include "plan/builder.h"

#include "base/text.h"

#include <stdlib.h>

size_t wh_build_find(const struct wh_builder *b, const char *id)
{
    for (size_t t = 0; t < b->tasks.count; t++)
        if (wh_same(b->tasks.at[t].id, id)) return t;
    return WH_NONE;
}

/* The natural order: the steps done, then those that were ahead as they stood, what is new after its neighbour. */
struct placed {
    double natural;
    size_t task;
};

static int by_natural(const void *a, const void *b)
{
    const struct placed *x = a, *y = b;
    if (x->natural < y->natural || x->natural > y->natural) return x->natural < y->natural ? -1 : 1;
    return x->task < y->task ? -1 : x->task > y->task;
}

/* A mark stands just before the first that waits for it. */
static void place_marks(struct wh_builder *b)
{
    for (size_t t = 0; t < b->tasks.count; t++) {
        double *natural = &b->tasks.at[t].natural;
        if (b->tasks.at[t].is != WH_TASK_MARK) continue;
        for (size_t n = 0; n < b->needs.count; n++)
            for (size_t w = 0; w < b->needs.at[n].way_count; w++)
                if (b->needs.at[n].ways[w].tasks[0] == t)
                    *natural = fmin(*natural, b->tasks.at[b->needs.at[n].task].natural - 1e-4);
        for (size_t l = 0; l < b->links.count; l++)
            if (b->links.at[l].first == t) *natural = fmin(*natural, b->tasks.at[b->links.at[l].after].natural - 1e-4);
    }
}

void wh_build_keep_order(struct wh_builder *b)
{
    size_t n = b->tasks.count;
    struct placed *placed = WH_NEW(b->arena, n + 1, struct placed);
    double *ahead = WH_NEW(b->arena, n + 1, double), last = 0;
    for (size_t t = 0; t < n; t++) ahead[t] = -1;
    for (size_t i = 0; i < b->ask->ahead.count; i++) {
        size_t t = wh_build_find(b, b->ask->ahead.at[i]);
        if (t != WH_NONE) ahead[t] = (double)i + 1;
    }
    for (size_t t = 0; t < n; t++) placed[t] = (struct placed){b->tasks.at[t].natural, t};
    qsort(placed, n, sizeof *placed, by_natural);
    for (size_t i = 0; i < n; i++) {
        size_t t = placed[i].task;
        if (ahead[t] > 0) last = ahead[t];
        b->tasks.at[t].natural = last + (double)i / (double)(n + 1) * (ahead[t] > 0 ? 0 : 1);
    }
    for (size_t i = 0; i < b->done.count; i++) b->tasks.at[b->done.at[i]].natural = (double)i - (double)b->done.count;
    place_marks(b);
}
