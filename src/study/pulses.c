#include "study/pulses.h"

#include <math.h>

enum { REMEMBERED = 8, MISSING_MOST = 2 };

static const double TURN = 6.28318530717958647692, CHUNK = 0.5, NOISE = 0.1;

struct edge {
    double time;
    float height; /* of the signal about there */
};

struct wh_pulses {
    struct wh_arena *arena;
    double rate;
    size_t chunk, filled, chunks; /* samples of a chunk, in the present one, chunks done */
    double *samples;              /* of the present chunk */
    double low[REMEMBERED], high[REMEMBERED];
    double last, largest; /* the sample before; the greatest height */
    bool below;           /* it was well below the middle since the last edge */
    bool over;            /* too many edges */
    WH_LIST(struct edge) edges;
};

struct wh_pulses *wh_pulses_open(struct wh_arena *arena, double rate)
{
    struct wh_pulses *pulses = WH_NEW(arena, 1, struct wh_pulses);
    pulses->arena = arena;
    pulses->rate = rate;
    pulses->chunk = (size_t)fmax(16, ceil(CHUNK * rate));
    pulses->samples = WH_NEW(arena, pulses->chunk, double);
    return pulses;
}

/* Least and greatest of the chunks remembered. */
static void levels(struct wh_pulses *pulses, double *low, double *high)
{
    size_t slot = pulses->chunks % REMEMBERED,
           known = pulses->chunks + 1 < REMEMBERED ? pulses->chunks + 1 : REMEMBERED;
    double least = INFINITY, most = -INFINITY;
    for (size_t i = 0; i < pulses->filled; i++) {
        least = fmin(least, pulses->samples[i]);
        most = fmax(most, pulses->samples[i]);
    }
    pulses->low[slot] = least;
    pulses->high[slot] = most;
    for (size_t i = 0; i < known; i++) {
        least = fmin(least, pulses->low[i]);
        most = fmax(most, pulses->high[i]);
    }
    *low = least;
    *high = most;
}

static void work_chunk(struct wh_pulses *pulses)
{
    double low, high;
    if (pulses->filled == 0) return;
    levels(pulses, &low, &high);
    double height = high - low, middle = (high + low) / 2, well_below = middle - height / 5;
    double first = (double)pulses->chunks * (double)pulses->chunk;
    pulses->largest = fmax(pulses->largest, height);
    for (size_t i = 0; i < pulses->filled; i++) {
        double now = pulses->samples[i], was = pulses->last;
        pulses->last = now;
        if (now < well_below) pulses->below = true;
        if (!pulses->below || !(now >= middle) || !(was < now)) continue;
        pulses->below = false;
        pulses->over = pulses->over || pulses->edges.count >= WH_PULSES_MOST;
        if (pulses->over) continue;
        double back = fmin(fmax((now - middle) / (now - was), 0), 1);
        *WH_PUSH(pulses->arena, &pulses->edges) =
            (struct edge){(first + (double)i - back) / pulses->rate, (float)height};
    }
    pulses->chunks++;
    pulses->filled = 0;
}

void wh_pulses_add(struct wh_pulses *pulses, size_t n, const double samples[])
{
    for (size_t i = 0; i < n; i++) {
        pulses->samples[pulses->filled++] = samples[i];
        if (pulses->filled == pulses->chunk) work_chunk(pulses);
    }
}

enum wh_status wh_pulses_close(struct wh_pulses *pulses, const double **ret_times, size_t *ret_count)
{
    work_chunk(pulses);
    if (pulses->over) return WH_ERR_LIMIT;
    double *times = WH_NEW(pulses->arena, pulses->edges.count + 1, double);
    size_t count = 0;
    for (size_t i = 0; i < pulses->edges.count; i++)
        if ((double)pulses->edges.at[i].height > NOISE * pulses->largest) times[count++] = pulses->edges.at[i].time;
    *ret_times = times;
    *ret_count = count;
    return WH_OK;
}

struct wh_pulses_found wh_pulses_forget(struct wh_pulses *pulses, bool all)
{
    struct wh_pulses_found found = {0};
    if (all) work_chunk(pulses);
    for (size_t i = 0; i < pulses->edges.count; i++) {
        const struct edge *edge = &pulses->edges.at[i];
        if (!((double)edge->height > NOISE * pulses->largest)) continue;
        if (found.count++ == 0) found.first = edge->time;
        found.last = edge->time;
    }
    pulses->edges.count = 0;
    return found;
}

/* ---- turns ----------------------------------------------------------------------------------------------------- */

/* Pulses in a row, with what was put in and left out. */
struct row {
    double *at;
    size_t count, room;
    size_t missing, doubled;
};

/* The middle one of three steps. */
static double middle_of(double a, double b, double c)
{
    return fmax(fmin(a, b), fmin(fmax(a, b), c));
}

/* The step to expect next: the middle of the last three, of the first three at the beginning of a row. */
static double step_expected(const struct row *row, const double times[], size_t i, size_t n)
{
    if (row->count >= 4) {
        const double *end = row->at + row->count;
        return middle_of(end[-1] - end[-2], end[-2] - end[-3], end[-3] - end[-4]);
    }
    if (i + 2 < n) return middle_of(times[i] - times[i - 1], times[i + 1] - times[i], times[i + 2] - times[i + 1]);
    return times[i] - times[i - 1];
}

/* Takes pulses from times[i] on into the row until one is lost for longer; the index after the last one taken. */
static size_t take_row(struct wh_arena *arena, struct row *row, size_t i, size_t n, const double times[])
{
    *WH_PUSH(arena, row) = times[i++];
    for (; i < n; i++) {
        double last = row->at[row->count - 1], step = step_expected(row, times, i, n), gap = times[i] - last;
        double next = i + 1 < n ? times[i + 1] - last : INFINITY;
        if (gap < step / 2 && next > 0.8 * step && next < 1.25 * step) {
            row->doubled++;
            continue;
        }
        double steps = round(gap / step);
        if (steps > MISSING_MOST + 1) break;
        for (double k = 1; k < steps; k++) *WH_PUSH(arena, row) = last + gap * k / steps;
        row->missing += steps > 1 ? (size_t)steps - 1 : 0;
        *WH_PUSH(arena, row) = times[i];
    }
    return i;
}

static void speeds_of(struct wh_arena *arena, const struct row *row, size_t per_turn, struct wh_speed_trace *ret)
{
    size_t turns = (row->count - 1) / per_turn;
    double *time = WH_NEW(arena, turns, double), *speed = WH_NEW(arena, turns, double);
    double *mark = WH_NEW(arena, turns + 1, double);
    for (size_t k = 0; k <= turns; k++) mark[k] = row->at[k * per_turn];
    for (size_t k = 0; k < turns; k++) {
        time[k] = (mark[k] + mark[k + 1]) / 2;
        speed[k] = TURN / (mark[k + 1] - mark[k]);
    }
    ret->count = turns;
    ret->time = time;
    ret->speed = speed;
    ret->marks = turns + 1;
    ret->mark = mark;
}

enum wh_status wh_pulses_turns(struct wh_arena *arena, size_t n, const double times[], size_t per_turn,
                               struct wh_speed_trace *ret)
{
    struct row best = {0};
    size_t rows = 0;
    double longest = 0;
    for (size_t i = 0; i < n; rows++) {
        struct row row = {0};
        i = take_row(arena, &row, i, n, times);
        double length = row.at[row.count - 1] - row.at[0];
        if (best.count == 0 || length > longest) {
            longest = length;
            best = row;
        }
    }
    if (best.count <= 3 * per_turn) return WH_ERR_NO_ANSWER;
    *ret = (struct wh_speed_trace){.missing = best.missing, .doubled = best.doubled, .gaps = rows - 1};
    speeds_of(arena, &best, per_turn, ret);
    return WH_OK;
}
