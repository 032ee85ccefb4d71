/* What stands about a spindle or shaft where it whirls: what turns with it, what holds it, what pulls at it. No parts
 * of their own: a body may be several parts and what is in them. */
#include "kind/kind.h"

#define OF                                                                                                             \
    {                                                                                                                  \
        "of", "thing", NULL, "the spindle or shaft", true, 0                                                           \
    }
#define STIFFNESS "-100000000..100000000 N/mm"

const struct wh_kind wh_body_kind = {
    .name = "body",
    .title = "rigid body on a spindle or shaft, for its whirling",
    .keys = {OF,
             {"part", "thing", NULL, "the part it is, with its mass and section", false, 0},
             {"height", "-20000..20000 mm", NULL, "its centre of mass, along the shaft", false, 0},
             {"held-at", "-20000..20000 mm", NULL, "where it sits on the shaft", false, 0},
             {"mass", "0..1000000 kg", NULL, "mass", false, 0},
             {"polar-inertia", "0..100000 kg m2", NULL, "moment of inertia about the axis", false, 0},
             {"tilting-inertia", "0..100000 kg m2", NULL, "moment of inertia across it, about its centre", false, 0}}};

const struct wh_kind wh_support_kind = {
    .name = "support",
    .title = "what holds a spindle or shaft sideways: a bearing or mount, as it yields",
    .keys = {
        OF,
        {"height", "-20000..20000 mm", NULL, "where along the shaft", true, 0},
        {"stiffness", "0.001..100000000 N/mm", NULL, "stiffness", true, 0},
        {"stiffness-across", "0.001..100000000 N/mm", NULL, "stiffness a quarter turn on, where another", false, 0},
        {"cross-stiffness", STIFFNESS, NULL, "force for a way a quarter turn on", false, 0},
        {"cross-stiffness-back", STIFFNESS, NULL, "force a quarter turn on for a way", false, 0},
        {"damping", "0..100000000 N s/m", NULL, "damping", false, 0}}};

const struct wh_kind wh_side_pull_kind = {
    .name = "side pull",
    .title = "what pulls a spindle or shaft sideways and stands still: a belt",
    .keys = {OF,
             {"height", "-20000..20000 mm", NULL, "where along the shaft", true, 0},
             {"force", "-1000000..1000000 N", NULL, "pull", true, 0}}};
