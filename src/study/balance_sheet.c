#include "study/balance_sheet.h"

#include <math.h>

double wh_balance_turned(bool against, double angle)
{
    return against ? -angle : angle;
}

static double complex turned(bool against, double complex number)
{
    return against ? conj(number) : number;
}

double wh_balance_pull(const struct wh_balance_sheet *sheet, size_t plane, double mass)
{
    return fabs(mass) * sheet->plane[plane].radius * sheet->speed * sheet->speed;
}

double wh_balance_hole(const struct wh_balance_plane *plane, size_t hole)
{
    return plane->first_hole + 2 * 3.14159265358979323846 * (double)(hole - 1) / (double)plane->holes;
}

void wh_balance_refuse(struct wh_arena *arena, struct wh_balance_result *ret, struct wh_balance_reason reason)
{
    *WH_PUSH(arena, &ret->refused) = reason;
}

void wh_balance_mind(struct wh_arena *arena, struct wh_balance_result *ret, struct wh_balance_reason reason)
{
    *WH_PUSH(arena, &ret->doubts) = reason;
}

static double complex unbalance(const struct wh_balance_sheet *sheet, const struct wh_balance_fitted *f)
{
    return f->mass * sheet->plane[f->plane].radius * cexp(I * wh_balance_turned(sheet->against, f->angle));
}

/* A reading with its standard uncertainties: half of the stated repeatability, and how far the phase wandered. */
static void set_reading(const struct wh_balance_sheet *sheet, size_t r, size_t s, struct wh_balance_runs *runs)
{
    const struct wh_balance_reading *reading = &sheet->run[r].reads[s];
    double size = reading->amplitude, wander = reading->phase_width / sqrt(12);
    double stated = isnan(sheet->amplitude_doubt) ? sheet->amplitude_share * size / 2 : sheet->amplitude_doubt / 2;
    double phase = isnan(sheet->phase_doubt) ? stated : sheet->phase_doubt / 2 * size;
    runs->reads[r][s] = size * cexp(I * wh_balance_turned(sheet->lag, reading->phase));
    if (isnan(size) || isnan(reading->phase)) runs->reads[r][s] = NAN;
    runs->along[r][s] = isnan(stated) ? 0 : stated;
    runs->across[r][s] = isnan(phase) ? 0 : hypot(phase, size * wander);
}

static void set_known(const struct wh_balance_sheet *sheet, struct wh_balance_runs *runs)
{
    for (size_t s = 0; s < sheet->sensors; s++)
        for (size_t p = 0; p < sheet->planes; p++) runs->known[s][p] = NAN;
    for (size_t k = 0; k < sheet->known_count; k++) {
        const struct wh_balance_known *known = &sheet->known[k];
        double complex effect = known->size * cexp(I * known->angle);
        runs->known[known->sensor][known->plane] = turned(sheet->lag, effect);
        runs->known_doubt[known->sensor][known->plane] = known->size * known->doubt;
    }
}

static void set_runs(const struct wh_balance_sheet *sheet, struct wh_balance_runs *runs)
{
    runs->planes = sheet->planes;
    runs->sensors = sheet->sensors;
    runs->runs = sheet->runs;
    for (size_t s = 0; s < sheet->sensors; s++) runs->weight[s] = sheet->sensor[s].weight;
    for (size_t r = 0; r < sheet->runs; r++) {
        for (size_t s = 0; s < sheet->sensors; s++) set_reading(sheet, r, s, runs);
        for (size_t f = 0; f < sheet->fitted_count; f++) {
            const struct wh_balance_fitted *fitted = &sheet->fitted[f];
            bool on = r == fitted->run || (fitted->stays && r > fitted->run && r < fitted->off);
            if (on) runs->on[r][fitted->plane] += unbalance(sheet, fitted);
        }
    }
    set_known(sheet, runs);
}

/* What stays on after the last run. */
static double complex on_now(const struct wh_balance_sheet *sheet, size_t plane)
{
    double complex sum = 0;
    for (size_t f = 0; f < sheet->fitted_count; f++) {
        const struct wh_balance_fitted *fitted = &sheet->fitted[f];
        if (fitted->plane == plane && fitted->stays && fitted->off >= sheet->runs) sum += unbalance(sheet, fitted);
    }
    return sum;
}

/* A trial mass that pulls a tenth of the part's weight (common practice). */
static void propose_trial(const struct wh_balance_sheet *sheet, size_t plane, struct wh_balance_result *ret)
{
    const struct wh_balance_plane *p = &sheet->plane[plane];
    double wanted = 0.1 * sheet->mass * 9.80665 / (p->radius * sheet->speed * sheet->speed);
    ret->next = WH_BALANCE_TRY;
    ret->trial_plane = plane;
    ret->trial = (struct wh_balance_place){.mass = wanted, .angle = p->first_hole, .hole = p->holes > 0};
    for (size_t m = 0; m < p->masses && !p->drilled; m++)
        if (m == 0 || fabs(p->mass[m] - wanted) < fabs(ret->trial.mass - wanted)) ret->trial.mass = p->mass[m];
    ret->trial.pull = wh_balance_pull(sheet, plane, ret->trial.mass);
}

static double complex runs_wanted(const struct wh_balance_sheet *sheet, const struct wh_balance_result *ret,
                                  size_t plane)
{
    return turned(sheet->against, ret->answer.wanted[plane] - on_now(sheet, plane));
}

/* The masses of every plane, what is then left, and the readings now and after. */
static void correct(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    double complex after[WH_BALANCE_PLANES], now[WH_BALANCE_PLANES];
    wh_balance_doubt(&ret->runs, &ret->answer, ret->answer.wanted, &ret->doubt);
    ret->next = WH_BALANCE_LEAVE;
    for (size_t p = 0; p < sheet->planes; p++) {
        struct wh_balance_correction *c = &ret->correction[p];
        c->wanted = runs_wanted(sheet, ret, p);
        c->size_doubt = ret->doubt.factor * ret->doubt.most[p];
        c->angle_doubt = ret->doubt.factor * ret->doubt.most[p] / cabs(c->wanted);
        wh_balance_correct(arena, sheet, p, ret, c);
        now[p] = on_now(sheet, p);
        after[p] = now[p] + turned(sheet->against, c->wanted - c->left);
        if (c->places > 0) ret->next = WH_BALANCE_FIT;
    }
    wh_balance_doubt(&ret->runs, &ret->answer, after, &ret->doubt);
    for (size_t s = 0; s < sheet->sensors; s++) {
        ret->now[s] = wh_balance_reading(&ret->answer, sheet->planes, s, now);
        ret->after[s] = wh_balance_reading(&ret->answer, sheet->planes, s, after);
        ret->after_doubt[s] = ret->doubt.factor * ret->doubt.reading[s];
    }
}

static void with_phase(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    enum wh_balanced done = wh_balance_solve(&ret->runs, &ret->answer);
    size_t at = ret->answer.at;
    struct wh_balance_reason reason = {.why = WH_WHY_NOT_APART};
    if (done == WH_BALANCE_NO_TRIAL && ret->refused.count == 0) propose_trial(sheet, at, ret);
    if (done == WH_BALANCE_NO_TRIAL) return;
    if (done == WH_BALANCE_NOT_READ) reason = (struct wh_balance_reason){WH_WHY_NOT_READ, sheet->sensor[at].id, 0, 0};
    if (done != WH_BALANCED) {
        wh_balance_refuse(arena, ret, reason);
        return;
    }
    wh_balance_follows(arena, sheet, ret);
    correct(arena, sheet, ret);
}

/* The runs without phase: the one with nothing on, and the others. False: there is none, or something is on in all. */
static size_t split_runs(const struct wh_balance_runs *runs, const struct wh_balance_sheet *sheet, size_t *ret_bare,
                         double complex on[], double amplitude[], size_t run[])
{
    size_t count = 0;
    *ret_bare = runs->runs;
    for (size_t r = 0; r < runs->runs; r++) {
        if (!(cabs(runs->on[r][0]) > 0)) {
            *ret_bare = r;
            continue;
        }
        on[count] = runs->on[r][0];
        run[count] = r;
        amplitude[count++] = sheet->run[r].reads[0].amplitude;
    }
    return count;
}

/* How far the answer without phase may be off: each amplitude moved by its uncertainty, and what mean and swing differ
 * by, as a span. Expanded, k = 2. */
static double phaseless_doubt(const struct wh_balance_runs *runs, size_t bare, size_t n, const double complex on[],
                              const double amplitude[], const size_t run[], const struct wh_balance_phaseless *p,
                              double at_rest)
{
    double sum = 0, span = isnan(p->by_swing) ? 0 : fabs(1 / p->by_mean - 1 / p->by_swing) * at_rest / sqrt(3);
    for (size_t i = 0; i <= n; i++) {
        double u = i < n ? runs->along[run[i]][0] : runs->along[bare][0], moved[WH_BALANCE_RUNS];
        struct wh_balance_phaseless up = *p, down = *p;
        if (!(u > 0)) return NAN;
        for (size_t k = 0; k < n; k++) moved[k] = amplitude[k];
        if (i < n) moved[i] = amplitude[i] + u;
        wh_balance_without_phase(i < n ? at_rest : at_rest + u, n, on, moved, &up);
        if (i < n) moved[i] = amplitude[i] - u;
        wh_balance_without_phase(i < n ? at_rest : at_rest - u, n, on, moved, &down);
        sum = hypot(sum, cabs(up.wanted - down.wanted) / 2);
    }
    return 2 * hypot(sum, span);
}

static void correct_without_phase(struct wh_arena *arena, const struct wh_balance_sheet *sheet, double at_rest,
                                  double doubt, struct wh_balance_result *ret)
{
    struct wh_balance_correction *c = &ret->correction[0];
    double complex now = on_now(sheet, 0);
    ret->answer.wanted[0] = ret->without_phase.wanted;
    ret->answer.bare[0] = at_rest;
    ret->answer.effect[0][0] = -at_rest / ret->without_phase.wanted;
    c->wanted = runs_wanted(sheet, ret, 0);
    c->size_doubt = doubt;
    c->angle_doubt = doubt / cabs(c->wanted);
    ret->doubt.factor = isnan(doubt) ? NAN : 2;
    ret->doubt.most[0] = doubt / 2;
    wh_balance_correct(arena, sheet, 0, ret, c);
    ret->next = c->places > 0 ? WH_BALANCE_FIT : WH_BALANCE_LEAVE;
    if (!isnan(creal(ret->without_phase.other))) {
        ret->other.wanted = turned(sheet->against, ret->without_phase.other - now);
        wh_balance_correct(arena, sheet, 0, ret, &ret->other);
        wh_balance_mind(arena, ret, (struct wh_balance_reason){.why = WH_WHY_TWO_PLACES});
    }
    double complex after = now + turned(sheet->against, c->wanted - c->left);
    ret->now[0] = wh_balance_reading(&ret->answer, 1, 0, &now);
    ret->after[0] = wh_balance_reading(&ret->answer, 1, 0, &after);
    ret->after_doubt[0] = doubt * cabs(ret->answer.effect[0][0]);
}

static void phaseless(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    double complex on[WH_BALANCE_RUNS];
    double amplitude[WH_BALANCE_RUNS];
    size_t bare, run[WH_BALANCE_RUNS], n = split_runs(&ret->runs, sheet, &bare, on, amplitude, run);
    struct wh_balance_phaseless *p = &ret->without_phase;
    ret->phaseless = true;
    if (sheet->planes > 1 || sheet->sensors > 1) {
        wh_balance_refuse(arena, ret, (struct wh_balance_reason){.why = WH_WHY_PHASELESS_PLANES});
    } else if (bare == sheet->runs) {
        wh_balance_refuse(arena, ret, (struct wh_balance_reason){.why = WH_WHY_NO_BARE_RUN});
    } else if (n == 0 && ret->refused.count == 0) {
        propose_trial(sheet, 0, ret);
    } else if (!wh_balance_without_phase(sheet->run[bare].reads[0].amplitude, n, on, amplitude, p)) {
        wh_balance_refuse(arena, ret, (struct wh_balance_reason){.why = WH_WHY_PHASELESS_RUNS});
    } else {
        double at_rest = sheet->run[bare].reads[0].amplitude;
        double doubt = phaseless_doubt(&ret->runs, bare, n, on, amplitude, run, p, at_rest);
        if (!isnan(p->by_swing) && fabs(p->by_mean - p->by_swing) > 0.03 * p->by_mean)
            wh_balance_mind(arena, ret,
                            (struct wh_balance_reason){WH_WHY_READINGS_DISAGREE, NULL, 1, p->by_swing / p->by_mean});
        correct_without_phase(arena, sheet, at_rest, doubt, ret);
    }
}

/* Of the readings there are, how many have a phase. */
static void count_phases(const struct wh_balance_sheet *sheet, size_t *ret_with, size_t *ret_without)
{
    *ret_with = *ret_without = 0;
    for (size_t r = 0; r < sheet->runs; r++)
        for (size_t s = 0; s < sheet->sensors; s++) {
            const struct wh_balance_reading *reading = &sheet->run[r].reads[s];
            if (isnan(reading->amplitude)) continue;
            ++*(isnan(reading->phase) ? ret_without : ret_with);
        }
}

void wh_balance_work(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    size_t with, without;
    *ret = (struct wh_balance_result){.allowed = sheet->grade * sheet->mass / sheet->service};
    set_runs(sheet, &ret->runs);
    wh_balance_evidence(arena, sheet, ret);
    count_phases(sheet, &with, &without);
    if (with > 0 && without > 0)
        wh_balance_refuse(arena, ret, (struct wh_balance_reason){.why = WH_WHY_SOME_PHASES});
    else if (without > 0)
        phaseless(arena, sheet, ret);
    else
        with_phase(arena, sheet, ret);
    if (ret->next == WH_BALANCE_FIT || ret->next == WH_BALANCE_LEAVE) {
        if (isnan(ret->doubt.factor)) wh_balance_mind(arena, ret, (struct wh_balance_reason){.why = WH_WHY_NOT_STATED});
        wh_balance_judge(sheet, ret);
    }
    if (ret->refused.count > 0) ret->next = WH_BALANCE_REFUSED;
}
