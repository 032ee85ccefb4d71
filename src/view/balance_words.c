/* Why a rotor is not balanced in place, or what is doubtful about its balance, in words. */
#include "base/quantity.h"
#include "view/balance.h"

#include <math.h>
#include <string.h>

/* What the two numbers of a reason are, for printing. */
enum numbers { NONE, RPM, NEWTON, MILLIMETRE, DEGREES, TIMES, SHARE, COUNT };

/* %N: the name, %A and %B: the two numbers. */
static const struct {
    enum numbers numbers;
    const char *says, *right;
} words[] = {
    [WH_WHY_MAKERS] = {NONE,
                       "%N: bowl parts, their lock ring and their spindle are balanced by the maker only; no trial "
                       "mass, no drilling, no grinding",
                       "send it to the maker, as a set"},
    [WH_WHY_MAKERS_SHAFT] = {NONE, "%N sits on the spindle of a bowl: that is balanced by the maker only",
                             "send it to the maker, as a set"},
    [WH_WHY_NOT_ALLOWED] = {NONE, "%N: its file does not allow balancing in place",
                            "where the maker's manual allows it, the machine file says \"balancing: masses\""},
    [WH_WHY_NO_ROTOR] = {NONE, "%N: this kind of part is not balanced in place",
                         "only fan wheels and pulleys are, where the file allows it"},
    [WH_WHY_NO_DRILLING] = {NONE, "plane %N: the file allows masses, no drilling", "by: masses"},
    [WH_WHY_OVER_STAMPED] = {RPM, "%N%A is above the stamped speed of %B: it is not run so fast, for no reading",
                             "read it at the speed it works at"},
    [WH_WHY_OTHER_SPEED] = {RPM, "%N%A: what a mass does at that speed says nothing at %B",
                            "read all runs at one speed, within 2 %"},
    [WH_WHY_NOT_FASTENED] = {NONE, "run %N: it is not said how the mass is fastened",
                             "fastened: M6 screw with locked nut, or as the maker's manual says"},
    [WH_WHY_TOO_STRONG] = {NEWTON, "run %N: the mass pulls %A, more than the part weighs (%B)",
                           "a trial mass that pulls a tenth of the weight"},
    [WH_WHY_FINDING] = {NONE, "the test run says: %N; a mass does not mend that", "mend it, run again, then balance"},
    [WH_WHY_RUNOUT] = {MILLIMETRE, "run-out %A, limit %B: the shaft is bent or the wheel does not sit home",
                       "find out which, mend it, then read again"},
    [WH_WHY_RESONANCE] = {RPM,
                          "a natural frequency at %A lies within 15 % of the speed %B: it shakes because it "
                          "resonates, and the phase tells nothing",
                          "look at mounts, frame and speed first"},
    [WH_WHY_PHASE_WANDERS] = {DEGREES, "sensor %N: the phase does not stand still, it wanders by %A (%B at most)",
                              "look for looseness, a rub, a slipping belt, another machine near the same speed"},
    [WH_WHY_DOES_NOT_REPEAT] = {TIMES, "sensor %N: with the same on, one run reads %A another (%B at most)",
                                "warm it through, then look for looseness or a rub"},
    [WH_WHY_DOES_NOT_FOLLOW] = {TIMES,
                                "%Nthe amplitude does not follow the mass: readings lie %A as far off as they may "
                                "(%B at most)",
                                "look for a bearing, looseness, a rub, a resonance"},
    [WH_WHY_NO_CHANGE] = {NONE, "run %N: the mass changed nothing that can be told from the readings' own scatter",
                          "was it on? in this plane? then a larger one, its pull looked at"},
    [WH_WHY_SOME_PHASES] = {NONE, "some readings have a phase and some have none", "all with phase, or all without"},
    [WH_WHY_PHASELESS_PLANES] = {NONE, "without phase there is one plane and one sensor only",
                                 "read the phase, or one plane"},
    [WH_WHY_PHASELESS_RUNS] =
        {NONE, "these runs do not tell where the unbalance sits",
         "without phase: nothing on, then one mass at three places round, a third of a turn apart"},
    [WH_WHY_NO_BARE_RUN] = {NONE, "there is no run without a mass", "read it once with nothing fitted"},
    [WH_WHY_NOT_READ] = {NONE, "sensor %N is not read in enough runs", "one run more than there are planes"},
    [WH_WHY_NOT_APART] = {NONE, "the runs or the sensors do not tell the planes apart",
                          "a trial mass in each plane by itself, and as many sensors as planes"},
    [WH_WHY_SMALL_CHANGE] = {SHARE, "run %N: the mass changed the reading little, by %A and %B",
                             "common practice: 30 % of the amplitude or 30 deg"},
    [WH_WHY_STRONG] = {NEWTON, "run %N: the trial mass pulls %A, the part weighs %B",
                       "common practice: a tenth of the weight"},
    [WH_WHY_FINDING_MAY] = {NONE, "the test run holds possible: %N; then a mass does not mend it",
                            "look at that first"},
    [WH_WHY_CRITICAL] = {RPM,
                         "a critical speed is worked out at %A, within 15 % of %B: it may shake because it resonates",
                         "watch the phase while it runs down: a resonance turns it by a quarter turn and more"},
    [WH_WHY_NOT_STATED] = {NONE, "how far the answer may be off is not known",
                           "state the repeatability of the readings, or read a run twice"},
    [WH_WHY_RAISED] = {TIMES,
                       "the readings lie %A as far off as they should repeat; the answer's doubt is raised so far",
                       NULL},
    [WH_WHY_TWO_PLACES] = {NONE,
                           "two runs without phase leave two places: fit it at the first, read it, and where it is "
                           "worse move it to the second",
                           "a third run, a quarter turn on, tells which"},
    [WH_WHY_READINGS_DISAGREE] = {TIMES,
                                  "the readings do not quite agree: by their swing round the rotor a mass does %B "
                                  "what it does by their mean",
                                  "read the runs again, or trim afterwards"},
    [WH_WHY_TOO_MANY_WAYS] = {COUNT,
                              "plane %N: all ways with %A or fewer were looked at, with up to %B they are too many",
                              "name fewer sorts of masses, or fewer at most"},
    [WH_WHY_KNOWN] = {NONE, "known effects hold only while nothing has changed: mounts, belt, bearings, speed", NULL},
};

const char *wh_view_angle(struct wh_arena *arena, double angle)
{
    double degrees = fmod(angle * 180 / 3.14159265358979323846, 360);
    if (degrees < -0.5) degrees += 360;
    return wh_arena_print(arena, "%.0f deg", fabs(degrees) >= 359.5 ? 0 : fabs(degrees));
}

static const char *in_unit(struct wh_arena *arena, double si, const char *name, int digits)
{
    struct wh_unit unit;
    wh_unit_read(name, strlen(name), &unit);
    return wh_quantity_print(arena, si, &unit, digits);
}

static const char *number(struct wh_arena *arena, enum numbers numbers, double value, bool second)
{
    switch (numbers) {
    case RPM: return in_unit(arena, value, "rpm", 4);
    case NEWTON: return in_unit(arena, value, "N", 3);
    case MILLIMETRE: return in_unit(arena, value, "mm", 2);
    case DEGREES: return wh_view_angle(arena, value);
    case TIMES: return wh_arena_print(arena, "%.2g times", value);
    case SHARE: return second ? wh_view_angle(arena, value) : wh_arena_print(arena, "%.0f %%", 100 * value);
    case COUNT: return wh_arena_print(arena, second ? "%.0f" : "%.0f masses", value);
    case NONE: break;
    }
    return "";
}

const char *wh_view_balance_reason(struct wh_arena *arena, const struct wh_balance_reason *reason,
                                   const char **ret_right)
{
    struct wh_text out = {.arena = arena};
    enum numbers numbers = words[reason->why].numbers;
    bool leads = reason->why == WH_WHY_OVER_STAMPED || reason->why == WH_WHY_OTHER_SPEED ||
                 reason->why == WH_WHY_DOES_NOT_FOLLOW;
    for (const char *w = words[reason->why].says; *w; w++) {
        if (*w != '%' || !strchr("NAB", w[1]) || !w[1]) {
            wh_text_add_slice(&out, w, 1);
            continue;
        }
        w++;
        if (*w == 'N' && reason->name) wh_text_print(&out, leads ? "%s: " : "%s", reason->name);
        if (*w == 'A') wh_text_add(&out, number(arena, numbers, reason->value, false));
        if (*w == 'B') wh_text_add(&out, number(arena, numbers, reason->limit, true));
    }
    *ret_right = words[reason->why].right;
    return wh_text_of(&out);
}
