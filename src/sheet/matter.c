#include "sheet/matter.h"

#include <math.h>
#include <stdlib.h>

static const double least_worth_telling = 0.05; /* three standard errors of the pilot */

struct ranked {
    double value;
    size_t trial;
};

static int by_value(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    return (x->value > y->value) - (x->value < y->value);
}

/* Ranks of n trials, equal ones sharing theirs; NaN for one without an answer. */
static void rank(const double trials[], size_t n, struct ranked scratch[], float ranks[])
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++) {
        ranks[i] = NAN;
        if (isfinite(trials[i])) scratch[count++] = (struct ranked){trials[i], i};
    }
    qsort(scratch, count, sizeof *scratch, by_value);
    for (size_t i = 0; i < count;) {
        size_t end = i + 1;
        while (end < count && scratch[end].value <= scratch[i].value) end++;
        for (size_t j = i; j < end; j++) ranks[scratch[j].trial] = (float)(i + end - 1) / 2;
        i = end;
    }
}

static double correlation(const float x[], const float y[], size_t n)
{
    double sx = 0, sy = 0, xx = 0, yy = 0, xy = 0, count = 0, middle = (double)n / 2;
    for (size_t i = 0; i < n; i++) {
        if (isnan(y[i])) continue;
        double a = (double)x[i] - middle, b = (double)y[i] - middle;
        sx += a;
        sy += b;
        xx += a * a;
        yy += b * b;
        xy += a * b;
        count++;
    }
    double size = (xx - sx * sx / count) * (yy - sy * sy / count);
    return size > 0 ? (xy - sx * sy / count) / sqrt(size) : 0;
}

/* Which columns a column hangs on. */
static void find_reach(const struct wh_course *course, size_t column, bool reach[])
{
    for (size_t c = 0; c < course->column_count; c++) reach[c] = c == column;
    for (size_t u = course->use_count; u-- > 0;) {
        const struct wh_course_use *use = &course->uses[u];
        bool any = false;
        for (size_t o = 0; o < use->results; o++) any |= reach[use->out[o]];
        for (size_t i = 0; any && i < use->inputs; i++) reach[use->in[i]] = true;
    }
}

/* Puts a matter in its place among those kept; the least falls out. */
static void keep(struct wh_spread *spread, struct wh_matter matter)
{
    size_t place = spread->matter_count;
    while (place > 0 && fabs(spread->matters[place - 1].rank) < fabs(matter.rank)) place--;
    if (place == WH_SPREAD_MATTERS) return;
    if (spread->matter_count < WH_SPREAD_MATTERS) spread->matter_count++;
    for (size_t m = spread->matter_count - 1; m > place; m--) spread->matters[m] = spread->matters[m - 1];
    spread->matters[place] = matter;
}

/* The ranks of every input, WH_SPREAD_PILOT apart, its trials drawn once more. */
static float *rank_inputs(struct wh_arena *arena, const struct wh_course *course, size_t n, struct ranked *scratch)
{
    float *ranks = WH_NEW(arena, course->input_count * WH_SPREAD_PILOT + 1, float);
    double *drawn = WH_NEW(arena, WH_SPREAD_PILOT, double);
    for (size_t i = 0; i < course->input_count; i++) {
        const struct wh_course_input *input = &course->inputs[i];
        wh_draw_column(&course->sheet->cells[input->cell].given, input->stream, 0, n, &course->layers, drawn);
        rank(drawn, n, scratch, ranks + i * WH_SPREAD_PILOT);
    }
    return ranks;
}

void wh_matter_find(struct wh_arena *arena, const struct wh_course *course, const size_t columns[], size_t count,
                    size_t n, const double *trials, struct wh_spread ret[])
{
    struct ranked *scratch = WH_NEW(arena, WH_SPREAD_PILOT, struct ranked);
    float *inputs = rank_inputs(arena, course, n, scratch), *figure = WH_NEW(arena, WH_SPREAD_PILOT, float);
    bool *reach = WH_NEW(arena, course->column_count + 1, bool);
    for (size_t f = 0; f < count; f++) {
        ret[f].matter_count = 0;
        if (columns[f] == WH_NONE) continue;
        rank(trials + f * WH_SPREAD_PILOT, n, scratch, figure);
        find_reach(course, columns[f], reach);
        for (size_t i = 0; i < course->input_count; i++) {
            if (!reach[course->inputs[i].column]) continue;
            double rho = correlation(inputs + i * WH_SPREAD_PILOT, figure, n);
            if (fabs(rho) >= least_worth_telling) keep(&ret[f], (struct wh_matter){course->inputs[i].cell, rho});
        }
    }
}
