/* rotor_sample.h - what the tests of rotors share. */
#ifndef WH_TESTS_UNIT_ROTOR_SAMPLE_H
#define WH_TESTS_UNIT_ROTOR_SAMPLE_H

#include "study/rotor.h"
#include "check.h"

#define PIECE(a, b, r)                                                                                                 \
    {                                                                                                                  \
        a, b, r, r, 0, 0                                                                                               \
    }
#define SPRING(z, k)                                                                                                   \
    {                                                                                                                  \
        z, {{k, 0}, {0, k}},                                                                                           \
        {                                                                                                              \
            {0, 0},                                                                                                    \
            {                                                                                                          \
                0, 0                                                                                                   \
            }                                                                                                          \
        }                                                                                                              \
    }

static const double pi = 3.14159265358979323846;

static inline struct wh_rotor_model *make(struct wh_arena *arena, const struct wh_rotor *rotor)
{
    struct wh_rotor_model *model = NULL;
    const char *why = NULL;
    if (wh_rotor_make(arena, rotor, &model, &why) != WH_OK) fail_msg("%s", why);
    return model;
}

static inline const struct wh_whirl *whirls_of(struct wh_arena *arena, const struct wh_rotor *rotor, double speed,
                                               size_t want)
{
    struct wh_whirl *whirls;
    assert_true(wh_rotor_whirls(arena, make(arena, rotor), speed, want, &whirls) == want);
    return whirls;
}

#endif
