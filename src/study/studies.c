/* The studies that kinds may name: see study.h. */
#include "study/study.h"

#include <math.h>
#include <string.h>

bool wh_critical_shakes(const struct wh_whirl *critical)
{
    return critical->turning > -0.99;
}

/* ---- whirl.critical-speeds ------------------------------------------------------------------------------------- */

static const char *critical_speeds(struct wh_arena *arena, const struct wh_rotor *rotor, const double in[],
                                   double out[])
{
    struct wh_rotor_model *model;
    struct wh_whirl *criticals;
    const char *why;
    double speed = in[0];
    if (wh_rotor_make(arena, rotor, &model, &why) != WH_OK) return why;
    model = wh_rotor_reduce(arena, model, WH_STUDY_MODES);
    size_t count = wh_rotor_criticals(arena, model, WH_STUDY_CRITICALS, &criticals);
    out[0] = out[1] = out[2] = NAN;
    for (size_t i = count; i-- > 0;) {
        double critical = criticals[i].speed;
        if (!wh_critical_shakes(&criticals[i])) continue;
        out[0] = critical;
        if (critical <= speed && isnan(out[1])) out[1] = critical;
        if (critical > speed) out[2] = critical;
    }
    return isnan(out[0]) ? "it comes into step with no whirl" : NULL;
}

static const char *critical_remark(const double in[], const double out[])
{
    (void)in;
    return isnan(out[1]) ? "it runs below all its critical speeds" : NULL;
}

#define WAY(name, symbol, title)                                                                                       \
    {                                                                                                                  \
        name, symbol, "-20000..20000 mm", NULL, title                                                                  \
    }
#define STIFFNESS(name, symbol, title)                                                                                 \
    {                                                                                                                  \
        name, symbol, "-100000000..100000000 N/mm", NULL, title                                                        \
    }
#define INERTIA(name, symbol, title)                                                                                   \
    {                                                                                                                  \
        name, symbol, "0..100000 kg m2", NULL, title                                                                   \
    }

static const struct wh_study studies[] = {
    {.rule = {.name = "whirl.critical-speeds",
              .formula =
                  "beam elements with rotary inertia, gyroscopic effect and shear; whirl in step with the turning",
              .source = "Nelson, J. Mech. Design 102 (1980), from memory; held to closed forms and published rotors",
              .in = {{"speed", "w", "1..200000 rpm", NULL, "running speed"},
                     {"elastic-modulus", "E", "1..1000 kN/mm2", "206 kN/mm2", "elastic modulus of the shaft"},
                     {"poisson-ratio", "nu", "0..0.5 1", "0.3", "Poisson's ratio of the shaft"},
                     {"density", "rho", "500..25000 kg/m3", "7850 kg/m3", "density of the shaft"}},
              .out = {{"first-critical", "n", "rpm", NULL, "lowest speed at which it shakes"},
                      {"critical-below", "b", "rpm", NULL, "nearest critical speed below running speed"},
                      {"critical-above", "a", "rpm", NULL, "nearest critical speed above running speed"}},
              .remark = critical_remark},
     .about = {WAY("height", "z", "its height over the foot bearing, or along the shaft"),
               WAY("held-at", "y", "where it sits on the shaft"),
               {"mass", "m", "0..1000000 kg", NULL, "mass"},
               INERTIA("polar-inertia", "Q", "moment of inertia about the axis"),
               INERTIA("tilting-inertia", "T", "moment of inertia across it, about its own middle"),
               STIFFNESS("stiffness", "k", "stiffness"),
               STIFFNESS("stiffness-across", "l", "stiffness across"),
               STIFFNESS("cross-stiffness", "q", "force in x for a way in y"),
               STIFFNESS("cross-stiffness-back", "p", "force in y for a way in x"),
               {"damping", "c", "0..100000000 N s/m", NULL, "damping"},
               {"force", "F", "-1000000..1000000 N", NULL, "pull"}},
     .work = critical_speeds},
};

const struct wh_study *wh_study_find(const char *name)
{
    for (size_t i = 0; i < sizeof studies / sizeof *studies; i++)
        if (strcmp(studies[i].rule.name, name) == 0) return &studies[i];
    return NULL;
}

const struct wh_slot *wh_study_about(const struct wh_study *study, const char *name)
{
    for (size_t i = 0; i < WH_STUDY_ABOUT && study->about[i].name; i++)
        if (strcmp(study->about[i].name, name) == 0) return &study->about[i];
    return NULL;
}
