#include "testrun/figures.h"

#include <math.h>

enum { FIGURES = 6 };

static size_t of_channel(const struct wh_channel_measured *c, struct wh_run_figure to[FIGURES])
{
    size_t count = 0;
    if (c->is->of == WH_NOT_STATED) {
        to[count++] =
            (struct wh_run_figure){"level", "level in the record's own numbers, r.m.s.", "", c->rms, 0, 0, c->is};
    } else {
        to[count++] =
            (struct wh_run_figure){"velocity", "velocity, r.m.s.", "mm/s", c->velocity_rms, c->low, c->high, c->is};
        to[count++] = (struct wh_run_figure){
            "displacement", "displacement, peak to peak", "um", c->displacement, c->low, c->high, c->is};
        if (c->is->of == WH_ACCELERATION)
            to[count++] = (struct wh_run_figure){"acceleration", "acceleration, r.m.s.", "m/s2", c->rms, 0, 0, c->is};
        else
            to[count++] = (struct wh_run_figure){
                "acceleration", "acceleration, r.m.s.", "m/s2", c->acceleration_rms, c->low, c->high, c->is};
    }
    to[count++] = (struct wh_run_figure){"crest-factor", "crest factor", "", c->crest, 0, 0, c->is};
    to[count++] =
        (struct wh_run_figure){"kurtosis", "kurtosis (noise has 3, blows raise it)", "", c->kurtosis, 0, 0, c->is};
    return count;
}

struct wh_run_figure *wh_run_figures(struct wh_arena *arena, const struct wh_measured *measured, size_t *ret_count)
{
    struct wh_run_figure *list = WH_NEW(arena, FIGURES * measured->channels, struct wh_run_figure);
    *ret_count = 0;
    for (size_t c = 0; c < measured->channels; c++) {
        const struct wh_channel_measured *channel = &measured->channel[c];
        if (channel->sound && wh_measure_vibrates(channel->is->of))
            *ret_count += of_channel(channel, list + *ret_count);
    }
    return list;
}
