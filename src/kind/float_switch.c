/* A switch that starts and stops a pump by the level in its pit. */
#include "kind/kind.h"

const struct wh_kind wh_float_switch_kind = {
    .name = "float switch", .title = "float switch with start and stop level", .detail = "{size}", .part = true,
    .wiped = true, .by = "electrician",
    .keys = {{"size", "text", NULL, "kind of float and length of cable", true, 0},
             {"start-level", "0..20000 mm", NULL, "level at which the pump starts", true, 0},
             {"stop-level", "0..20000 mm", NULL, "level at which the pump stops", true, 0},
             {"measured-from", "text", NULL, "where levels are measured from", true, 0}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Mark cable and clamp, unclamp the {title} and hang it up clean; its plug stays dry.",
               .cautions = {"electric"}},
              {.when = WH_WHEN_REBUILD,
               .words = "Clamp the {title} to its mark, float free all round, no pipe or ladder in its way. Levels "
                        "over {measured-from}.",
               .figures = {"start-level", "stop-level"}, .cautions = {"starts-by-itself"}}}};
