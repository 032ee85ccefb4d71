/* Run-downs from vibration records for ridge.py: "RATE COUNT SPEED" on a line, then COUNT samples as doubles. Each
 * record is answered by a line "status top standstill uncertainty", a line "time speed" for each point, and an empty
 * line. */
#include "study/ridge.h"
#include "study/rundown.h"

#include <math.h>
#include <stdio.h>

enum { BLOCK = 5000 };

static enum wh_status read_fall(struct wh_arena *arena, const struct wh_speed_trace *trace, double *stands, double *u)
{
    struct wh_speed_trace fall;
    struct wh_run_down_fit fit;
    enum wh_status status = wh_trace_fall(arena, trace, &fall);
    if (status != WH_OK) return status;
    bool *used = WH_NEW(arena, fall.count, bool);
    status = wh_run_down_fit_most(arena, fall.count, fall.time, fall.speed, trace->resolution / 50, used, &fit);
    if (status == WH_OK) *stands = wh_run_down_time(&fit, wh_trace_top(arena, trace), 0, u);
    return status;
}

static enum wh_status follow(struct wh_arena *arena, void *context)
{
    double *head = context, samples[BLOCK], stands = NAN, u = NAN;
    struct wh_thin *thin = wh_thin_open(arena, head[0], wh_ridge_rate(head[2]));
    for (size_t left = (size_t)head[1]; left > 0;) {
        size_t n = fread(samples, sizeof *samples, left < BLOCK ? left : BLOCK, stdin);
        if (n == 0) return WH_ERR_FILE;
        wh_thin_add(thin, n, samples);
        left -= n;
    }
    wh_thin_close(thin);
    const struct wh_thin *one = thin;
    struct wh_ridge ridge = {0};
    enum wh_status status = wh_ridge_follow(arena, 1, &one, head[2], &ridge);
    if (status == WH_OK) status = read_fall(arena, &ridge.trace, &stands, &u);
    printf("%d %.17g %.17g %.17g\n", status, wh_trace_top(arena, &ridge.trace), stands, u);
    for (size_t i = 0; i < ridge.trace.count; i++) printf("%.17g %.17g\n", ridge.trace.time[i], ridge.trace.speed[i]);
    printf("\n");
    return WH_OK;
}

int main(void)
{
    double head[3];
    while (scanf("%lf %lf %lf", &head[0], &head[1], &head[2]) == 3 && getchar() == '\n')
        if (wh_arena_run((size_t)64 << 20, follow, head) != WH_OK) return 1;
    return 0;
}
