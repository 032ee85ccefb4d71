/* May this be balanced away? By the kind of part, the speeds, and what the evidence says it is instead: a bearing, a
 * bent shaft, a resonance. Limits without a source are common practice and said as such where they are shown. */
#include "base/text.h"
#include "study/balance_sheet.h"

#include <math.h>
#include <string.h>

/* Common practice. */
static const double PHASE_STANDS = 30 * 3.14159265358979323846 / 180, AMPLITUDE_STANDS = 1.3, SPEED_STANDS = 0.02,
                    AWAY_FROM_RESONANCE = 0.15, CHANGE = 0.3, USUAL_PULL = 0.1, GRAVITY = 9.80665;

static void refuse(struct wh_arena *arena, struct wh_balance_result *ret, enum wh_balance_why why, const char *name,
                   double value, double limit)
{
    wh_balance_refuse(arena, ret, (struct wh_balance_reason){why, name, value, limit});
}

static void by_kind(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    static const enum wh_balance_why whys[] = {[WH_BALANCE_NOT_ALLOWED] = WH_WHY_NOT_ALLOWED,
                                               [WH_BALANCE_MAKERS] = WH_WHY_MAKERS,
                                               [WH_BALANCE_MAKERS_SHAFT] = WH_WHY_MAKERS_SHAFT,
                                               [WH_BALANCE_NO_ROTOR] = WH_WHY_NO_ROTOR};
    if (sheet->allows >= WH_BALANCE_NOT_ALLOWED) refuse(arena, ret, whys[sheet->allows], sheet->part, 0, 0);
    for (size_t p = 0; p < sheet->planes; p++)
        if (sheet->plane[p].drilled && sheet->allows == WH_BALANCE_BY_MASSES)
            refuse(arena, ret, WH_WHY_NO_DRILLING, sheet->plane[p].id, 0, 0);
}

static void speeds(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    if (sheet->speed > sheet->stamped) refuse(arena, ret, WH_WHY_OVER_STAMPED, NULL, sheet->speed, sheet->stamped);
    for (size_t r = 0; r < sheet->runs; r++) {
        const struct wh_balance_run *run = &sheet->run[r];
        if (run->speed > sheet->stamped) refuse(arena, ret, WH_WHY_OVER_STAMPED, run->id, run->speed, sheet->stamped);
        if (fabs(run->speed - sheet->speed) > SPEED_STANDS * sheet->speed)
            refuse(arena, ret, WH_WHY_OTHER_SPEED, run->id, run->speed, sheet->speed);
    }
    for (size_t k = 0; k < sheet->known_count; k++)
        if (fabs(sheet->known[k].speed - sheet->speed) > SPEED_STANDS * sheet->speed)
            refuse(arena, ret, WH_WHY_OTHER_SPEED, "known effects", sheet->known[k].speed, sheet->speed);
    if (sheet->known_count > 0) wh_balance_mind(arena, ret, (struct wh_balance_reason){.why = WH_WHY_KNOWN});
}

static void fastening(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    double weight = sheet->mass * GRAVITY;
    for (size_t f = 0; f < sheet->fitted_count; f++) {
        const struct wh_balance_fitted *fitted = &sheet->fitted[f];
        const char *run = sheet->run[fitted->run].id;
        double pull = wh_balance_pull(sheet, fitted->plane, fitted->mass);
        if (!fitted->fastened) refuse(arena, ret, WH_WHY_NOT_FASTENED, run, 0, 0);
        if (pull > weight)
            refuse(arena, ret, WH_WHY_TOO_STRONG, run, pull, weight);
        else if (pull > 2 * USUAL_PULL * weight && !fitted->stays)
            wh_balance_mind(arena, ret, (struct wh_balance_reason){WH_WHY_STRONG, run, pull, weight});
    }
}

/* Does one of the words stand in a text? */
static bool speaks_of(const char *text, const char *const words[])
{
    for (size_t i = 0; words[i]; i++)
        if (text && strstr(text, words[i])) return true;
    return false;
}

/* What is found besides unbalance is mended first. */
static void findings(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    static const char *const others[] = {"bearing", "ring",     "roll",  "ball", "cage",  "bent",
                                         "resonan", "misalign", "loose", "rub",  "crack", NULL};
    static const char *const weak[] = {"possible", "may be", NULL}, *const none[] = {"unlikely", NULL};
    for (size_t i = 0; i < sheet->findings; i++) {
        const struct wh_balance_finding *f = &sheet->finding[i];
        const char *says = f->says && *f->says ? f->says : f->part;
        if (!speaks_of(f->part, others) || speaks_of(f->sure, none)) continue;
        if (speaks_of(f->sure, weak))
            wh_balance_mind(arena, ret, (struct wh_balance_reason){WH_WHY_FINDING_MAY, says, 0, 0});
        else
            refuse(arena, ret, WH_WHY_FINDING, says, 0, 0);
    }
    if (sheet->runout > sheet->runout_limit)
        refuse(arena, ret, WH_WHY_RUNOUT, NULL, sheet->runout, sheet->runout_limit);
    for (size_t i = 0; i < sheet->naturals; i++)
        if (fabs(sheet->natural[i] / sheet->speed - 1) < AWAY_FROM_RESONANCE)
            refuse(arena, ret, WH_WHY_RESONANCE, NULL, sheet->natural[i], sheet->speed);
}

/* A critical speed that is worked out is no reading: it makes doubtful, it does not refuse. */
static void criticals(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    for (size_t i = 0; i < sheet->criticals; i++)
        if (fabs(sheet->critical[i] / sheet->speed - 1) < AWAY_FROM_RESONANCE)
            wh_balance_mind(arena, ret,
                            (struct wh_balance_reason){WH_WHY_CRITICAL, NULL, sheet->critical[i], sheet->speed});
}

static bool same_load(const struct wh_balance_runs *runs, size_t a, size_t b)
{
    for (size_t p = 0; p < runs->planes; p++)
        if (cabs(runs->on[a][p] - runs->on[b][p]) > 1e-12) return false;
    return true;
}

static double largest(const struct wh_balance_sheet *sheet, size_t sensor)
{
    double most = 0;
    for (size_t r = 0; r < sheet->runs; r++) most = fmax(most, sheet->run[r].reads[sensor].amplitude);
    return most;
}

/* Two runs with the same on read the same; small readings may turn as they like. */
static void compare(struct wh_arena *arena, const struct wh_balance_sheet *sheet, size_t sensor, size_t a, size_t b,
                    struct wh_balance_result *ret)
{
    const struct wh_balance_reading *first = &sheet->run[a].reads[sensor], *second = &sheet->run[b].reads[sensor];
    double low = fmin(first->amplitude, second->amplitude), high = fmax(first->amplitude, second->amplitude);
    if (!(high > 0.2 * largest(sheet, sensor))) return;
    double turn = fabs(remainder(second->phase - first->phase, 2 * 3.14159265358979323846));
    if (turn > PHASE_STANDS) refuse(arena, ret, WH_WHY_PHASE_WANDERS, sheet->sensor[sensor].id, turn, PHASE_STANDS);
    if (high > AMPLITUDE_STANDS * low)
        refuse(arena, ret, WH_WHY_DOES_NOT_REPEAT, sheet->sensor[sensor].id, high / low, AMPLITUDE_STANDS);
}

static void steadiness(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    for (size_t s = 0; s < sheet->sensors; s++)
        for (size_t r = 0; r < sheet->runs; r++) {
            const struct wh_balance_reading *reading = &sheet->run[r].reads[s];
            if (reading->phase_width > PHASE_STANDS && reading->amplitude > 0.2 * largest(sheet, s))
                refuse(arena, ret, WH_WHY_PHASE_WANDERS, sheet->sensor[s].id, reading->phase_width, PHASE_STANDS);
            for (size_t other = r + 1; other < sheet->runs; other++)
                if (same_load(&ret->runs, r, other)) compare(arena, sheet, s, r, other, ret);
        }
}

void wh_balance_evidence(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    by_kind(arena, sheet, ret);
    speeds(arena, sheet, ret);
    fastening(arena, sheet, ret);
    findings(arena, sheet, ret);
    criticals(arena, sheet, ret);
    steadiness(arena, sheet, ret);
}

/* Is a run the first one with trial masses added, and nothing else? */
static bool is_trial(const struct wh_balance_sheet *sheet, const struct wh_balance_runs *runs, size_t run)
{
    double complex added[WH_BALANCE_PLANES] = {0};
    bool fitted = false;
    for (size_t f = 0; f < sheet->fitted_count; f++) {
        const struct wh_balance_fitted *one = &sheet->fitted[f];
        if (one->run != run) continue;
        fitted = true;
        added[one->plane] +=
            one->mass * sheet->plane[one->plane].radius * cexp(I * wh_balance_turned(sheet->against, one->angle));
    }
    for (size_t p = 0; p < runs->planes; p++)
        if (cabs(runs->on[run][p] - runs->on[0][p] - added[p]) > 1e-12) return false;
    return fitted && run > 0;
}

/* What a trial changed, at the sensor that saw most of it. */
static void change(struct wh_arena *arena, const struct wh_balance_sheet *sheet, size_t run,
                   struct wh_balance_result *ret)
{
    const struct wh_balance_runs *runs = &ret->runs;
    bool seen = false, clear = false;
    double most = 0, turn = 0;
    for (size_t s = 0; s < runs->sensors; s++) {
        double complex before = runs->reads[0][s], after = runs->reads[run][s];
        double size = fabs(cabs(after) / cabs(before) - 1), phase = fabs(carg(after / before));
        double doubt =
            2 * hypot(fmax(runs->along[0][s], runs->across[0][s]), fmax(runs->along[run][s], runs->across[run][s]));
        if (isnan(size)) continue;
        seen = seen || cabs(after - before) > doubt;
        clear = clear || size >= CHANGE || phase >= PHASE_STANDS;
        most = fmax(most, size);
        turn = fmax(turn, phase);
    }
    const char *id = sheet->run[run].id;
    if (!seen)
        refuse(arena, ret, WH_WHY_NO_CHANGE, id, 0, 0);
    else if (!clear)
        wh_balance_mind(arena, ret, (struct wh_balance_reason){WH_WHY_SMALL_CHANGE, id, most, turn});
}

void wh_balance_follows(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_balance_result *ret)
{
    double off = 0;
    for (size_t r = 1; r < sheet->runs; r++)
        if (is_trial(sheet, &ret->runs, r)) change(arena, sheet, r, ret);
    wh_balance_doubt(&ret->runs, &ret->answer, ret->answer.wanted, &ret->doubt);
    if (ret->doubt.raised > 1.5 && ret->doubt.raised <= 3)
        wh_balance_mind(arena, ret, (struct wh_balance_reason){WH_WHY_RAISED, NULL, ret->doubt.raised, 0});
    if (ret->doubt.raised > 3) off = ret->doubt.raised;
    if (off > 0) refuse(arena, ret, WH_WHY_DOES_NOT_FOLLOW, NULL, off, 3);
    for (size_t s = 0; s < sheet->sensors && off <= 0; s++)
        if (ret->answer.misfit[s] > 0.2 * largest(sheet, s)) {
            refuse(arena, ret, WH_WHY_DOES_NOT_FOLLOW, sheet->sensor[s].id, ret->answer.misfit[s] / largest(sheet, s),
                   0.2);
            return;
        }
}
