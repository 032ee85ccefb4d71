/* How far the answer of a balance may be off: each reading moved by its uncertainty and the answer worked out anew. */
#include "study/balance.h"
#include "trade/statistics.h"

#include <math.h>

/* Sums of squares and products of what two parts of a number move. */
struct scatter {
    double xx, xy, yy;
};

static void scatter_add(struct scatter *s, double complex moved)
{
    s->xx += creal(moved) * creal(moved);
    s->xy += creal(moved) * cimag(moved);
    s->yy += cimag(moved) * cimag(moved);
}

/* Standard uncertainty in the direction of a number of size one. */
static double scatter_along(const struct scatter *s, double complex way)
{
    double x = creal(way), y = cimag(way);
    return sqrt(fmax(0, s->xx * x * x + 2 * s->xy * x * y + s->yy * y * y));
}

static double scatter_most(const struct scatter *s)
{
    return sqrt((s->xx + s->yy) / 2 + hypot((s->xx - s->yy) / 2, s->xy));
}

struct scattered {
    const double complex *on;
    struct scatter wanted[WH_BALANCE_PLANES], reading[WH_BALANCE_SENSORS];
    struct scatter effect[WH_BALANCE_SENSORS][WH_BALANCE_PLANES];
};

/* Moves one number of the runs both ways by `step` and adds half of what the answer moves. False: then there is none.
 */
static bool move(struct scattered *all, struct wh_balance_runs *moved, double complex *number, double complex step)
{
    static const double ways[] = {1, -1};
    struct wh_balance_answer answer[2];
    double complex stood = *number;
    size_t planes = moved->planes;
    for (size_t w = 0; w < 2; w++) {
        *number = stood + ways[w] * step;
        bool solved = wh_balance_solve(moved, &answer[w]) == WH_BALANCED;
        *number = stood;
        if (!solved) return false;
    }
    for (size_t p = 0; p < planes; p++) scatter_add(&all->wanted[p], (answer[0].wanted[p] - answer[1].wanted[p]) / 2);
    for (size_t s = 0; s < moved->sensors; s++) {
        scatter_add(&all->reading[s], (wh_balance_reading(&answer[0], planes, s, all->on) -
                                       wh_balance_reading(&answer[1], planes, s, all->on)) /
                                          2);
        for (size_t p = 0; p < planes; p++)
            scatter_add(&all->effect[s][p], (answer[0].effect[s][p] - answer[1].effect[s][p]) / 2);
    }
    return true;
}

/* How far the readings lie about the fit, in their own uncertainties; *ret_freedom readings were there to tell. */
static double lack_of_fit(const struct wh_balance_runs *runs, const struct wh_balance_answer *answer,
                          size_t *ret_freedom)
{
    double sum = 0;
    *ret_freedom = 0;
    for (size_t s = 0; s < runs->sensors; s++) {
        if (answer->freedom[s] == 0) continue;
        *ret_freedom += answer->freedom[s];
        for (size_t r = 0; r < runs->runs; r++) {
            double complex reading = runs->reads[r][s];
            if (isnan(creal(reading))) continue;
            double off = cabs(reading - wh_balance_reading(answer, runs->planes, s, runs->on[r]));
            sum += 2 * off * off / (pow(runs->along[r][s], 2) + pow(runs->across[r][s], 2));
        }
    }
    return *ret_freedom > 0 ? sqrt(sum / (double)*ret_freedom) : NAN;
}

static bool all_stated(const struct wh_balance_runs *runs)
{
    for (size_t r = 0; r < runs->runs; r++)
        for (size_t s = 0; s < runs->sensors; s++)
            if (!isnan(creal(runs->reads[r][s])) && !(runs->along[r][s] > 0 && runs->across[r][s] > 0)) return false;
    return true;
}

/* The uncertainties to go by. False: neither stated nor shown by readings to spare. */
static bool choose(const struct wh_balance_runs *runs, const struct wh_balance_answer *answer,
                   struct wh_balance_runs *moved, struct wh_balance_doubt *ret)
{
    size_t freedom, least = 0;
    bool stated = all_stated(runs);
    if (stated) ret->raised = fmax(1, lack_of_fit(runs, answer, &freedom));
    for (size_t s = 0; s < runs->sensors; s++) {
        if (!stated && answer->freedom[s] == 0) return false;
        if (s == 0 || answer->freedom[s] < least) least = answer->freedom[s];
        for (size_t r = 0; r < runs->runs; r++) {
            moved->along[r][s] = stated ? runs->along[r][s] * ret->raised : answer->misfit[s];
            moved->across[r][s] = stated ? runs->across[r][s] * ret->raised : answer->misfit[s];
        }
    }
    ret->factor = stated ? 2 : wh_student_quantile(0.95, (double)least);
    return true;
}

static bool move_all(struct scattered *all, struct wh_balance_runs *moved)
{
    bool told = true;
    for (size_t s = 0; s < moved->sensors; s++) {
        for (size_t r = 0; r < moved->runs; r++) {
            double complex reading = moved->reads[r][s];
            if (isnan(creal(reading))) continue;
            double complex way = cabs(reading) > 0 ? reading / cabs(reading) : 1;
            told = told && move(all, moved, &moved->reads[r][s], moved->along[r][s] * way);
            told = told && move(all, moved, &moved->reads[r][s], moved->across[r][s] * way * I);
        }
        for (size_t p = 0; p < moved->planes; p++) {
            if (isnan(creal(moved->known[s][p])) || !(moved->known_doubt[s][p] > 0)) continue;
            told = told && move(all, moved, &moved->known[s][p], moved->known_doubt[s][p]);
            told = told && move(all, moved, &moved->known[s][p], moved->known_doubt[s][p] * I);
        }
    }
    return told;
}

void wh_balance_doubt(const struct wh_balance_runs *runs, const struct wh_balance_answer *answer,
                      const double complex on[], struct wh_balance_doubt *ret)
{
    struct scattered all = {.on = on};
    struct wh_balance_runs moved = *runs;
    *ret = (struct wh_balance_doubt){.factor = NAN, .raised = 1};
    bool told = choose(runs, answer, &moved, ret) && move_all(&all, &moved);
    for (size_t p = 0; p < runs->planes; p++) {
        double size = cabs(answer->wanted[p]);
        double complex way = size > 0 ? answer->wanted[p] / size : 1;
        ret->size[p] = told ? scatter_along(&all.wanted[p], way) : NAN;
        ret->angle[p] = told ? scatter_along(&all.wanted[p], way * I) / size : NAN;
        ret->most[p] = told ? scatter_most(&all.wanted[p]) : NAN;
    }
    for (size_t s = 0; s < runs->sensors; s++) {
        ret->reading[s] = told ? scatter_most(&all.reading[s]) : NAN;
        for (size_t p = 0; p < runs->planes; p++) ret->effect[s][p] = told ? scatter_most(&all.effect[s][p]) : NAN;
    }
}
