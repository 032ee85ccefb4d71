#include "study/balance.h"

#include "study/least_squares.h"

#include <math.h>

static bool is_read(double complex reading)
{
    return !isnan(creal(reading)) && !isnan(cimag(reading));
}

/* The planes whose effect on a sensor has to be found. */
static size_t unknown_planes(const struct wh_balance_runs *runs, size_t sensor, size_t plane[])
{
    size_t count = 0;
    for (size_t p = 0; p < runs->planes; p++)
        if (!is_read(runs->known[sensor][p])) plane[count++] = p;
    return count;
}

/* Does what is on in a plane differ between the runs? */
static bool is_tried(const struct wh_balance_runs *runs, size_t plane)
{
    for (size_t r = 1; r < runs->runs; r++)
        if (cabs(runs->on[r][plane] - runs->on[0][plane]) > 0) return true;
    return false;
}

/* What is left of a reading once the effects known from an earlier time are taken off. */
static double complex without_known(const struct wh_balance_runs *runs, size_t run, size_t sensor)
{
    double complex left = runs->reads[run][sensor];
    for (size_t p = 0; p < runs->planes; p++)
        if (is_read(runs->known[sensor][p])) left -= runs->known[sensor][p] * runs->on[run][p];
    return left;
}

static void find_misfit(const struct wh_balance_runs *runs, size_t sensor, size_t rows, size_t columns,
                        struct wh_balance_answer *ret)
{
    double sum = 0;
    for (size_t r = 0; r < runs->runs; r++) {
        if (!is_read(runs->reads[r][sensor])) continue;
        sum = hypot(sum, cabs(runs->reads[r][sensor] - wh_balance_reading(ret, runs->planes, sensor, runs->on[r])));
    }
    ret->freedom[sensor] = 2 * (rows - columns);
    ret->misfit[sensor] = rows > columns ? sum / sqrt((double)ret->freedom[sensor]) : NAN;
}

/* The bare reading of a sensor and the effects of the planes on it. */
static enum wh_balanced solve_sensor(const struct wh_balance_runs *runs, size_t sensor, struct wh_balance_answer *ret)
{
    double complex a[WH_BALANCE_RUNS][WH_LEAST_COLUMNS], b[WH_BALANCE_RUNS], x[WH_LEAST_COLUMNS];
    size_t plane[WH_BALANCE_PLANES], planes = unknown_planes(runs, sensor, plane), rows = 0;
    for (size_t r = 0; r < runs->runs; r++) {
        if (!is_read(runs->reads[r][sensor])) continue;
        a[rows][0] = 1;
        for (size_t p = 0; p < planes; p++) a[rows][p + 1] = runs->on[r][plane[p]];
        b[rows++] = without_known(runs, r, sensor);
    }
    for (size_t p = 0; p < planes; p++) {
        ret->at = plane[p];
        if (!is_tried(runs, plane[p])) return WH_BALANCE_NO_TRIAL;
    }
    ret->at = sensor;
    if (rows < planes + 1) return WH_BALANCE_NOT_READ;
    if (wh_least_squares(rows, planes + 1, a, b, x) < planes + 1) return WH_BALANCE_NOT_APART;
    for (size_t p = 0; p < runs->planes; p++) ret->effect[sensor][p] = runs->known[sensor][p];
    for (size_t p = 0; p < planes; p++) ret->effect[sensor][plane[p]] = x[p + 1];
    ret->bare[sensor] = x[0];
    find_misfit(runs, sensor, rows, planes + 1, ret);
    return WH_BALANCED;
}

enum wh_balanced wh_balance_solve(const struct wh_balance_runs *runs, struct wh_balance_answer *ret)
{
    double complex a[WH_BALANCE_SENSORS][WH_LEAST_COLUMNS], b[WH_BALANCE_SENSORS];
    for (size_t s = 0; s < runs->sensors; s++) {
        enum wh_balanced done = solve_sensor(runs, s, ret);
        if (done != WH_BALANCED) return done;
        for (size_t p = 0; p < runs->planes; p++) a[s][p] = runs->weight[s] * ret->effect[s][p];
        b[s] = -runs->weight[s] * ret->bare[s];
    }
    ret->at = 0;
    if (runs->sensors < runs->planes) return WH_BALANCE_NOT_APART;
    bool apart = wh_least_squares(runs->sensors, runs->planes, a, b, ret->wanted) == runs->planes;
    return apart ? WH_BALANCED : WH_BALANCE_NOT_APART;
}

double complex wh_balance_reading(const struct wh_balance_answer *answer, size_t planes, size_t sensor,
                                  const double complex on[])
{
    double complex reading = answer->bare[sensor];
    for (size_t p = 0; p < planes; p++) reading += answer->effect[sensor][p] * on[p];
    return reading;
}
