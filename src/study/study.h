/* study.h - a long calculation that is named and bound as a rule is: same slots, but no closed form. Can be read alone.
 *
 * It is worked once for each change of what goes in, never for each trial of a spread: there its results stand still.
 */
#ifndef WH_STUDY_STUDY_H
#define WH_STUDY_STUDY_H

#include "study/rotor.h"
#include "trade/rule.h"

enum { WH_STUDY_ABOUT = 16 };

struct wh_study {
    struct wh_rule rule;                  /* its words and slots; its work is none of columns: NULL */
    struct wh_slot about[WH_STUDY_ABOUT]; /* what is taken of the things that stand about the one it is bound to */
    /* Workspace comes from the arena. Why there is no answer; NULL: there is one, of which a result may be NaN. */
    const char *(*work)(struct wh_arena *arena, const struct wh_rotor *rotor, const double in[], double out[]);
};

const struct wh_study *wh_study_find(const char *name);
/* What a study takes of a thing about it under this name; NULL: nothing. */
const struct wh_slot *wh_study_about(const struct wh_study *study, const char *name);

/* How finely a shaft is divided for it, how many modes are kept, how many critical speeds are looked at. */
enum { WH_STUDY_ELEMENTS = 24, WH_STUDY_MODES = 12, WH_STUDY_CRITICALS = 12 };

/* Does a critical speed shake the rotor from its unbalance? One that is all backward is not driven by it. */
bool wh_critical_shakes(const struct wh_whirl *critical);

#endif
