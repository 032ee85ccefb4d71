#include "testrun/watch.h"

#include <math.h>

enum { STOPS = 3, STUCK = 64 };
static const double stuck_time = 0.02; /* s */

/* A new greatest or least value: what was counted at the old one was no stop. */
static void widen(struct wh_watch *w, double x)
{
    if (x > w->most) w->most = x, w->stopped = 0;
    if (x < w->least) w->least = x, w->stopped = 0;
}

/* The second of equal samples at an end of the range: a stop, if the signal came there with a jump. A slow wave, finely
 * sampled, lies still at its top as well, but comes there by its finest steps. */
static void look_at_end(struct wh_watch *w, double x)
{
    bool at_end = x >= w->most || x <= w->least;
    if (at_end && fabs(x - w->before) > 4 * w->finest) w->stopped++;
}

static void add_one(struct wh_watch *w, double x)
{
    double step = fabs(x - w->last);
    if (step > 0) {
        if (step < w->finest) w->finest = step;
        widen(w, x);
        w->before = w->last;
        w->last = x;
        w->run = 1;
        return;
    }
    if (++w->run == 2) look_at_end(w, x);
    if (w->run > w->longest) {
        w->longest = w->run;
        w->longest_at = w->count + 1 - w->run;
    }
}

void wh_watch_add(struct wh_watch *w, size_t n, const double samples[])
{
    size_t i = 0;
    if (w->count == 0 && n > 0) {
        *w = (struct wh_watch){.last = samples[0],
                               .before = samples[0],
                               .least = samples[0],
                               .most = samples[0],
                               .finest = INFINITY,
                               .run = 1,
                               .longest = 1};
        w->count = i = 1;
    }
    for (; i < n; i++, w->count++) add_one(w, samples[i]);
}

bool wh_watch_constant(const struct wh_watch *w)
{
    return w->count > 0 && !(w->most > w->least);
}

void wh_watch_doubts(const struct wh_watch *w, const char *name, double rate, struct wh_doubts *doubts)
{
    if (wh_watch_constant(w)) {
        wh_doubt(doubts, "%s: the same number all along: the sensor, its cable or the channel is dead", name);
        return;
    }
    if (w->stopped >= STOPS)
        wh_doubt(doubts,
                 "%s: clipped: it stops %zu times at its greatest or least value; levels and lines are not to "
                 "be trusted",
                 name, w->stopped);
    double still = (double)w->longest / rate;
    if (w->longest > STUCK && still > stuck_time)
        wh_doubt(doubts, "%s: stuck for %.3g s at %.4g s: a loose cable or a gap in the record", name, still,
                 (double)w->longest_at / rate);
}
