#include "study/speed.h"

#include <math.h>

static const double TURN = 6.28318530717958647692;
static const double AT_TOP = 0.985;            /* of the top speed: above it, it runs */
static const double FALLEN = 0.9;              /* a run-down falls at least so far */
static const double WOBBLE = 0.003;            /* of the top speed that a point may lie over the one before */
static const double RISES = 0.05;              /* of the top speed: a rise by so much is another run */
enum { POINTS_MOST = 2000, TOP_POINTS = 500 }; /* more are thinned first */

/* ---- angle ----------------------------------------------------------------------------------------------------- */

/* The speed at mark i, rad/s, from the parabola through three marks. */
static double speed_at_mark(const struct wh_speed_trace *trace, size_t i)
{
    size_t middle = i == 0 ? 1 : i + 1 == trace->marks ? i - 1 : i;
    double before = trace->mark[middle] - trace->mark[middle - 1],
           after = trace->mark[middle + 1] - trace->mark[middle];
    double slope = TURN * (1 / after - 1 / before) / (before + after); /* half the acceleration */
    double there = TURN / before + slope * before;
    return there + 2 * slope * (trace->mark[i] - trace->mark[middle]);
}

double wh_trace_angle(const struct wh_speed_trace *trace, double time)
{
    if (trace->marks < 3 || time < trace->mark[0] || !(time <= trace->mark[trace->marks - 1])) return NAN;
    size_t low = 0, high = trace->marks - 1;
    while (high - low > 1) {
        size_t half = low + (high - low) / 2;
        *(trace->mark[half] <= time ? &low : &high) = half;
    }
    double step = trace->mark[high] - trace->mark[low], x = (time - trace->mark[low]) / step;
    double begin = speed_at_mark(trace, low) * step / TURN, end = speed_at_mark(trace, high) * step / TURN;
    double turn = x * x * (3 - 2 * x) + x * (1 - x) * (1 - x) * begin - x * x * (1 - x) * end;
    return TURN * ((double)low + turn);
}

/* ---- fewer points -------------------------------------------------------------------------------------------- */

static struct wh_speed_trace without_marks(const struct wh_speed_trace *trace)
{
    struct wh_speed_trace bare = *trace;
    bare.marks = 0;
    bare.mark = NULL;
    return bare;
}

struct wh_speed_trace wh_trace_thinned(struct wh_arena *arena, const struct wh_speed_trace *trace, size_t most)
{
    struct wh_speed_trace thinned = without_marks(trace);
    if (trace->count <= most) return thinned;
    double *time = WH_NEW(arena, most, double), *speed = WH_NEW(arena, most, double);
    double begin = trace->time[0], span = trace->time[trace->count - 1] - begin;
    size_t n = 0, i = 0;
    for (size_t k = 0; k < most && i < trace->count; k++) {
        double end = begin + span * (double)(k + 1) / (double)most, t = 0, w = 0;
        size_t taken = 0;
        for (; i < trace->count && (trace->time[i] <= end || k + 1 == most); i++, taken++) {
            t += trace->time[i];
            w += trace->speed[i];
        }
        if (taken == 0) continue;
        time[n] = t / (double)taken;
        speed[n++] = w / (double)taken;
    }
    thinned.count = n;
    thinned.time = time;
    thinned.speed = speed;
    return thinned;
}

/* ---- run-up and run-down --------------------------------------------------------------------------------------- */

/* The middle one of five speeds about a point, fewer at the ends. */
static double middle_speed(const struct wh_speed_trace *trace, size_t i)
{
    double near[5] = {0};
    size_t n = 0, reach = i < 2 ? i : 2;
    if (i + reach >= trace->count) reach = trace->count - 1 - i;
    for (size_t k = i - reach; k <= i + reach; k++) {
        size_t at = n++;
        for (; at > 0 && near[at - 1] > trace->speed[k]; at--) near[at] = near[at - 1];
        near[at] = trace->speed[k];
    }
    return near[n / 2];
}

double wh_trace_top(struct wh_arena *arena, const struct wh_speed_trace *trace)
{
    struct wh_speed_trace thinned = wh_trace_thinned(arena, trace, TOP_POINTS);
    double top = 0;
    for (size_t i = 0; i < thinned.count; i++) top = fmax(top, middle_speed(&thinned, i));
    return top;
}

/* Where a run-down that begins at `from` is over: where the shaft is at speed again, or the speed rises. One read off a
 * spectrum may stray for long; there the chain below decides alone. */
static size_t end_of_fall(const struct wh_speed_trace *trace, size_t from, double top)
{
    double least = INFINITY;
    for (size_t i = from; i < trace->count; i++) {
        double speed = middle_speed(trace, i);
        least = fmin(least, speed);
        if (speed >= AT_TOP * top || (trace->step <= 0 && speed > least + RISES * top)) return i;
    }
    return trace->count;
}

/* The longest chain of points from..to - 1 of which none lies higher than the one before it by more than a wobble. */
static size_t longest_chain(struct wh_arena *arena, const struct wh_speed_trace *trace, size_t from, size_t to,
                            double wobble, size_t chain[])
{
    size_t *length = WH_NEW(arena, to - from + 1, size_t), *before = WH_NEW(arena, to - from + 1, size_t), last = from;
    for (size_t i = from; i < to; i++) {
        for (size_t k = from; k < i; k++) {
            bool follows = trace->speed[i] <= trace->speed[k] + wobble;
            if (!follows || length[k - from] < length[i - from]) continue;
            length[i - from] = length[k - from] + 1;
            before[i - from] = k;
        }
        if (length[i - from] >= length[last - from]) last = i;
    }
    size_t count = to > from ? length[last - from] + 1 : 0;
    for (size_t n = count, i = last; n-- > 0; i = before[i - from]) chain[n] = i;
    return count;
}

/* Takes the points that follow each other down from `from`; how many. */
static size_t follow(struct wh_arena *arena, const struct wh_speed_trace *trace, size_t from, double top, double time[],
                     double speed[])
{
    size_t *chain = WH_NEW(arena, trace->count + 1, size_t), to = end_of_fall(trace, from, top);
    size_t n = longest_chain(arena, trace, from, to, fmax(WOBBLE * top, 2 * trace->resolution), chain);
    for (size_t i = 0; i < n; i++) {
        time[i] = trace->time[chain[i]];
        speed[i] = trace->speed[chain[i]];
    }
    return n;
}

enum wh_status wh_trace_fall(struct wh_arena *arena, const struct wh_speed_trace *whole, struct wh_speed_trace *ret)
{
    struct wh_speed_trace thinned = wh_trace_thinned(arena, whole, POINTS_MOST), *trace = &thinned;
    double top = wh_trace_top(arena, whole), *time = WH_NEW(arena, trace->count + 1, double);
    double *speed = WH_NEW(arena, trace->count + 1, double);
    bool running = false;
    for (size_t i = 0; i < trace->count; i++) {
        bool above = middle_speed(trace, i) >= AT_TOP * top;
        bool leaves = running && !above;
        running = running || above;
        if (!leaves) continue;
        running = false;
        size_t n = follow(arena, trace, i, top, time, speed);
        if (n < 2 || speed[n - 1] > FALLEN * top) continue;
        *ret = without_marks(trace);
        ret->count = n;
        ret->time = time;
        ret->speed = speed;
        return WH_OK;
    }
    return WH_ERR_NO_ANSWER;
}

/* The trace from its end to its beginning. */
static struct wh_speed_trace turned_round(struct wh_arena *arena, const struct wh_speed_trace *trace)
{
    struct wh_speed_trace back = without_marks(trace);
    double *time = WH_NEW(arena, trace->count + 1, double), *speed = WH_NEW(arena, trace->count + 1, double);
    for (size_t i = 0; i < trace->count; i++) {
        time[i] = -trace->time[trace->count - 1 - i];
        speed[i] = trace->speed[trace->count - 1 - i];
    }
    back.time = time;
    back.speed = speed;
    return back;
}

enum wh_status wh_trace_rise(struct wh_arena *arena, const struct wh_speed_trace *trace, struct wh_speed_trace *ret)
{
    struct wh_speed_trace back = turned_round(arena, trace), fall;
    enum wh_status status = wh_trace_fall(arena, &back, &fall);
    if (status == WH_OK) *ret = turned_round(arena, &fall);
    return status;
}
