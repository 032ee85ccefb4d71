#include "testrun/verdict.h"

#include "base/text.h"
#include "trade/conformity.h"

#include <math.h>

const char *wh_outcome_words(enum wh_outcome outcome)
{
    static const char *const words[] = {"within", "not proven", "open", "outside", "stop"};
    return words[outcome];
}

/* ---- one check ------------------------------------------------------------------------------------------------- */

static const char *amount(struct wh_arena *arena, const struct wh_test_check *check, double si, bool difference)
{
    struct wh_unit unit = check->unit;
    if (difference && fabs(unit.offset) > 0) wh_unit_read("K", 1, &unit);
    return wh_quantity_print(arena, si, &unit, difference ? 2 : 3);
}

/* How a value stands to the limits; the worse of two is kept. */
struct weighed {
    enum wh_outcome outcome;
    double value, U;
    const char *from; /* a record; NULL: read */
    bool any;
};

static double beyond(const struct wh_test_check *check, double value)
{
    return fmax(check->least - value, value - check->most);
}

static void weigh(const struct wh_test_check *check, double value, double U, const char *from, struct weighed *worst)
{
    enum wh_verdict verdict = wh_conformity_verdict(value, U, check->least, check->most);
    enum wh_outcome outcome = verdict == WH_WITHIN    ? WH_TEST_WITHIN
                              : verdict == WH_OUTSIDE ? WH_TEST_OUTSIDE
                                                      : WH_TEST_NOT_PROVEN;
    if (value > check->stop_at) outcome = WH_TEST_STOP;
    bool worse = !worst->any || outcome > worst->outcome ||
                 (outcome == worst->outcome && beyond(check, value) > beyond(check, worst->value));
    if (worse) *worst = (struct weighed){outcome, value, U, from, true};
}

static bool tells(const struct wh_told *told, const struct wh_test_check *check)
{
    return check->from_record != WH_RECORD_NONE && told->is == check->from_record &&
           (!check->place || wh_same(check->place, told->place)) && !isnan(told->value);
}

/* How much the last whole round is higher than the one before, at its worst place; NaN: there are not two. */
static double last_rise(const struct wh_test_check *check)
{
    size_t places = check->places > 0 ? check->places : 1, rounds = check->count / places;
    double rise = -INFINITY;
    if (rounds < 2) return NAN;
    for (size_t p = 0; p < places; p++)
        rise = fmax(rise, check->values[(rounds - 1) * places + p] - check->values[(rounds - 2) * places + p]);
    return rise;
}

static struct wh_test_judged open_still(struct wh_arena *arena, const struct wh_test_check *check, const char *what)
{
    return (struct wh_test_judged){.check = check,
                                   .outcome = WH_TEST_OPEN,
                                   .value = NAN,
                                   .says = wh_arena_print(arena, "%s: %s", check->title, what)};
}

static struct wh_test_judged judge_words(struct wh_arena *arena, const struct wh_test_check *check)
{
    const char *expects = check->expects ? check->expects : "as it should be";
    if (check->answer == WH_NOT_ANSWERED) return open_still(arena, check, "not looked at yet");
    bool so = check->answer == WH_AS_EXPECTED;
    return (struct wh_test_judged){
        .check = check,
        .outcome = so ? WH_TEST_WITHIN : WH_TEST_OUTSIDE,
        .value = NAN,
        .says = wh_arena_print(arena, so ? "%s: as expected, %s" : "%s: not so, expected: %s", check->title, expects),
        .then = so ? NULL : check->outside};
}

enum { UNSEEN = 500 }; /* an uncertainty below this part of the value is not worth reading */

/* "3.4 mm/s, at most 3.0 mm/s: outside by 0.4 mm/s (neck.wav)" */
static const char *words_of(struct wh_arena *arena, const struct wh_test_check *check, const struct weighed *w)
{
    double out = beyond(check, w->value);
    struct wh_text text = {.arena = arena};
    wh_text_print(&text, "%s: %s", check->title, amount(arena, check, w->value, false));
    if (w->U > fabs(w->value) / UNSEEN) wh_text_print(&text, " ± %s", amount(arena, check, w->U, true));
    wh_text_print(&text, ", %s: ", check->limits);
    if (w->outcome == WH_TEST_STOP)
        wh_text_print(&text, "beyond %s", amount(arena, check, check->stop_at, false));
    else if (w->outcome == WH_TEST_OUTSIDE)
        wh_text_print(&text, "outside by %s", amount(arena, check, out, true));
    else if (w->outcome == WH_TEST_NOT_PROVEN)
        wh_text_print(&text, "not proven, %s from the limit", amount(arena, check, fabs(out), true));
    else
        wh_text_add(&text, "within");
    if (w->from) wh_text_print(&text, " (%s)", w->from);
    return wh_text_of(&text);
}

/* Has it levelled out? Makes a check that is within no more than it is. */
static void judge_level(struct wh_arena *arena, const struct wh_test_check *check, struct wh_test_judged *judged)
{
    double rise = last_rise(check);
    if (isnan(check->level_within) || judged->outcome >= WH_TEST_OPEN) return;
    if (isnan(rise)) {
        *judged = open_still(arena, check, "one more round of readings tells whether it has levelled out");
    } else if (rise > check->level_within) {
        judged->outcome = WH_TEST_OUTSIDE;
        judged->says = wh_arena_print(arena, "%s: still rising, %s more than the round before, at most %s is levelled",
                                      check->title, amount(arena, check, rise, true),
                                      amount(arena, check, check->level_within, true));
        judged->then = check->outside;
    }
}

static struct wh_test_judged judge_numbers(struct wh_arena *arena, const struct wh_test_check *check,
                                           const struct wh_told told[], size_t told_count)
{
    struct weighed worst = {0};
    size_t taken = 0;
    for (size_t i = 0; i < check->count; i++) weigh(check, check->values[i], check->U, NULL, &worst);
    for (size_t i = 0; i < told_count; i++) {
        if (!tells(&told[i], check)) continue;
        weigh(check, told[i].value, told[i].U, told[i].from, &worst);
        taken++;
    }
    bool missing = taken == 0 && check->count < check->readings;
    if (!worst.any || (missing && worst.outcome < WH_TEST_OUTSIDE))
        return open_still(arena, check,
                          wh_arena_print(arena, "%zu of %zu readings%s", check->count, check->readings,
                                         check->from_record != WH_RECORD_NONE ? ", and no record that tells it" : ""));
    struct wh_test_judged judged = {check, worst.outcome, worst.value, words_of(arena, check, &worst),
                                    worst.outcome == WH_TEST_WITHIN ? NULL : check->outside};
    judge_level(arena, check, &judged);
    return judged;
}

static struct wh_test_judged judge_check(struct wh_arena *arena, const struct wh_test_check *check,
                                         const struct wh_told told[], size_t told_count)
{
    struct wh_test_judged judged =
        check->has_limits ? judge_numbers(arena, check, told, told_count) : judge_words(arena, check);
    if (judged.outcome < WH_TEST_OPEN && check->hold && !check->released)
        return open_still(arena, check, "good so far, not released by name yet");
    return judged;
}

/* ---- all of them ----------------------------------------------------------------------------------------------- */

static const char *sentence(struct wh_arena *arena, const struct wh_acceptance *a, const size_t of[], bool warned)
{
    if (of[WH_TEST_STOP])
        return wh_arena_print(arena, "Stop: %zu of %zu checks of the test run lie beyond where it is stopped at once.",
                              of[WH_TEST_STOP], a->count);
    if (of[WH_TEST_OUTSIDE])
        return wh_arena_print(arena, "Not accepted: %zu of %zu checks of the test run are outside.",
                              of[WH_TEST_OUTSIDE], a->count);
    if (of[WH_TEST_OPEN])
        return wh_arena_print(arena, "Not done: %zu of %zu checks of the test run are open.", of[WH_TEST_OPEN],
                              a->count);
    if (of[WH_TEST_NOT_PROVEN])
        return wh_arena_print(arena, "Not proven: %zu of %zu checks of the test run lie too near to a limit to decide.",
                              of[WH_TEST_NOT_PROVEN], a->count);
    if (warned) return "Not proven: all checks of the test run are within, but a warning of the run is not settled.";
    if (a->count == 0) return "Nothing is asked: the machine file has no checks for the test run.";
    return wh_arena_print(arena, "All %zu checks of the test run are within their limits.", a->count);
}

struct wh_acceptance wh_accept_run(struct wh_arena *arena, const struct wh_test_check checks[], size_t count,
                                   const struct wh_told told[], size_t told_count, const struct wh_doubts *warnings)
{
    struct wh_acceptance a = {.judged = WH_NEW(arena, count + 1, struct wh_test_judged), .count = count};
    size_t of[WH_TEST_STOP + 1] = {0};
    bool warned = warnings && warnings->count > 0;
    for (size_t i = 0; i < count; i++) {
        a.judged[i] = judge_check(arena, &checks[i], told, told_count);
        of[a.judged[i].outcome]++;
        if (a.judged[i].outcome > a.outcome) a.outcome = a.judged[i].outcome;
    }
    if (count == 0) a.outcome = WH_TEST_OPEN;
    if (warned && a.outcome == WH_TEST_WITHIN) a.outcome = WH_TEST_NOT_PROVEN;
    a.says = sentence(arena, &a, of, warned);
    return a;
}

size_t wh_run_told(const struct wh_run *run, bool drive_off, struct wh_told ret[4])
{
    const char *from = run->record->path;
    size_t n = 0;
    if (!drive_off) ret[n++] = (struct wh_told){WH_RECORD_SPEED, NULL, run->top, 0, from};
    if (run->down.there && !drive_off && isfinite(run->down.stands))
        ret[n++] = (struct wh_told){WH_RECORD_RUN_DOWN, NULL, run->down.stands, 2 * run->down.stands_u, from};
    if (run->up.there) ret[n++] = (struct wh_told){WH_RECORD_RUN_UP, NULL, run->up.seconds, 0, from};
    if (run->up.there && !isnan(run->up.current))
        ret[n++] = (struct wh_told){WH_RECORD_START_CURRENT, NULL, run->up.current, 0, from};
    return n;
}
