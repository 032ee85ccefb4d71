/* finding.h - the reading of a measured record: which lines stand out, what makes them, and what that means in a
 * fitter's words. docs/reading-records.md says how, and where its limits come from.
 *
 * "Nothing found" is an empty list: nothing found at this place, speed and load, never leave to run or to open. */
#ifndef WH_TESTRUN_FINDING_H
#define WH_TESTRUN_FINDING_H

#include "study/lines.h"
#include "testrun/measure.h"
#include "testrun/sources.h"

struct wh_finding {
    const char *part;     /* "outer ring", "inner ring", "rolling element", "cage", "unbalance", "belt" … */
    const char *place;    /* where it shows most: the channel's place */
    const char *says;     /* one sentence */
    const char *evidence; /* what it rests on */
    const char *sure;     /* "very likely", "likely", "possible" */
    const struct wh_line *lines;
    size_t line_count;
};

struct wh_reading {
    double shaft;           /* Hz; 0: no speed is known, then no line is named */
    bool shaft_found;       /* its line stands out; false: the stated speed is taken */
    const char *shaft_says; /* "29.93 Hz (1796 rpm), 0.1 % below the stated speed" */
    const char *says;       /* the verdict: the first finding's sentence, or that nothing was found */
    const struct wh_envelope *envelope; /* that the bearing found shows in, and its channel; or NULL */
    const struct wh_channel_measured *envelope_of;
    WH_LIST(struct wh_finding) findings;
    WH_LIST(struct wh_line) lines; /* that stand out, of velocity and envelope, strongest first of each */
};

/* Reads what was measured. Everything lives in the arena. */
struct wh_reading *wh_findings(struct wh_arena *arena, const struct wh_measured *measured,
                               const struct wh_sources *sources);

#endif
