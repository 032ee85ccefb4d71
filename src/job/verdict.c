#include "job/verdict.h"

#include "base/text.h"

#include <math.h>

struct wh_gauge_used wh_gauge_for(const struct wh_workshop *workshop, const struct wh_job_check *check,
                                  const char *named, int64_t at)
{
    const char *name = named ? named : check->gauge;
    const struct wh_workshop_gauge *own = name ? wh_workshop_gauge(workshop, name) : NULL;
    if (own) return (struct wh_gauge_used){own->name, own->title, own->U, own->due, wh_gauge_over(own, at), true};
    if (name && wh_same(name, check->gauge))
        return (struct wh_gauge_used){name, check->gauge_title, check->uncertainty, NULL, false, false};
    return (struct wh_gauge_used){.name = name, .title = name, .U = name ? NAN : 0};
}

static const char *amount(struct wh_arena *arena, double si, const struct wh_job_check *check)
{
    struct wh_unit step = check->unit;
    step.offset = 0; /* a difference of temperature has no zero point */
    return wh_quantity_print(arena, si, &step, 2);
}

/* The coarsest gauge in calibration that would still decide: the one nobody minds fetching. */
static const char *gauge_that_settles(struct wh_arena *arena, const struct wh_job_check *check, double needed,
                                      const struct wh_workshop *workshop, int64_t at)
{
    const struct wh_workshop_gauge *best = NULL;
    for (size_t i = 0; i < workshop->gauges.count; i++) {
        const struct wh_workshop_gauge *gauge = &workshop->gauges.at[i];
        bool fits = wh_dimension_same(gauge->unit.dimension, check->unit.dimension) && gauge->U < needed &&
                    !wh_gauge_over(gauge, at) && wh_workshop_gauge(workshop, gauge->name) == gauge;
        if (fits && (!best || gauge->U > best->U)) best = gauge;
    }
    if (best) return wh_arena_print(arena, "%s, ± %s", best->title, best->uncertainty);
    if (needed <= 0) return "no gauge: the reading lies on the limit";
    return wh_arena_print(arena, "a gauge of ± %s or better; none is in the register", amount(arena, needed, check));
}

static double beyond(const struct wh_job_check *check, double value)
{
    return fmax(check->least - value, value - check->most);
}

/* The value with the worst verdict, and among these the one furthest out. */
static size_t worst_of(const struct wh_job_check *check, const double values[], size_t n, double U)
{
    size_t worst = 0;
    for (size_t i = 1; i < n; i++) {
        enum wh_verdict a = wh_conformity_verdict(values[i], U, check->least, check->most),
                        b = wh_conformity_verdict(values[worst], U, check->least, check->most);
        if (a < b || (a == b && beyond(check, values[i]) > beyond(check, values[worst]))) worst = i;
    }
    return worst;
}

struct wh_judged wh_judge(struct wh_arena *arena, const struct wh_job_check *check, const double values[], size_t n,
                          const struct wh_gauge_used *gauge, const struct wh_workshop *workshop, int64_t at)
{
    struct wh_judged judged = {.verdict = WH_NOT_PROVEN};
    if (gauge->over || isnan(gauge->U)) {
        judged.says =
            gauge->over
                ? wh_arena_print(arena, "not proven: the calibration of %s was due on %s", gauge->name, gauge->due)
                : wh_arena_print(arena, "not proven: the uncertainty of %s is not known", gauge->name);
        judged.settles = "a gauge in calibration";
        return judged;
    }
    double value = values[worst_of(check, values, n, gauge->U)], out = beyond(check, value);
    judged.verdict = wh_conformity_verdict(value, gauge->U, check->least, check->most);
    if (judged.verdict == WH_WITHIN) {
        judged.says = isfinite(out) ? wh_arena_print(arena, "within by %s", amount(arena, -out, check)) : "within";
    } else if (judged.verdict == WH_OUTSIDE) {
        judged.says = wh_arena_print(arena, "outside by %s", amount(arena, out, check));
    } else {
        judged.says = wh_arena_print(arena, "not proven: %s from the limit, the gauge is ± %s",
                                     amount(arena, fabs(out), check), amount(arena, gauge->U, check));
        judged.settles = gauge_that_settles(arena, check, wh_conformity_gauge_needed(value, check->least, check->most),
                                            workshop, at);
    }
    return judged;
}
