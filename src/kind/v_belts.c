/* A set of like V-belts. Its figures are those of one belt: it is set and pushed belt by belt. */
#include "kind/kind.h"

const struct wh_kind wh_v_belts_kind = {
    .name = "v-belts", .title = "set of V-belts (ISO 4184)", .detail = "{size}", .part = true,
    .keys = {{"size", "text", NULL, "number, section and datum length", true, 0},
             {"motor", "thing", NULL, "pulley of the motor", true, 0},
             {"spindle", "thing", NULL, "driven pulley", true, 0},
             {"length", "200..20000 mm", NULL, "datum length", true, 0},
             {"groove", "10..90 deg", NULL, "angle of the smaller pulley's groove", true, 0},
             {"friction", "0.01..1 1", NULL, "friction of rubber on the groove", false, 0},
             {"mass-per-length", "0.001..50 kg/m", NULL, "mass a metre of one belt", true, 0},
             {"power-each", "0.. kW", NULL, "power carried by one belt", false, 0},
             {"service-factor", "0.5..5 1", NULL, "service factor", false, 0},
             {"motor-speed", "1..60000 rpm", NULL, "speed of the motor", true, 0},
             {"other-mains", "1..1000 Hz", "60 Hz", "other mains it might be moved to", false, 0},
             {"strand-pull", "0.. N", NULL, "pull of a strand of one belt, run in", false, 0},
             {"new-strand-pull", "0.. N", NULL, "pull of a strand of one belt, new", false, 0},
             {"deflection", "0..500 mm", NULL, "push in the middle of the span, for the spring balance", false, 0}},
    .rules = {{"belt.centres", NULL, "large=motor.diameter, small=spindle.diameter"},
              {"belt.wrap", NULL, "large=motor.diameter, small=spindle.diameter"},
              {"belt.span", NULL, "large=motor.diameter, small=spindle.diameter"},
              {"belt.spindle-speed", NULL, "motor-pulley=motor.diameter, spindle-pulley=spindle.diameter"},
              {"rotor.speed-at-frequency", "speed-on-other-mains", "speed=spindle-speed, mains-frequency=other-mains"},
              {"belt.speed", NULL, "motor-pulley=motor.diameter"},
              {"belt.centrifugal", NULL, NULL},
              {"belt.wedge-friction", NULL, NULL},
              {"belt.needed-pull", NULL, "power=power-each"},
              {"belt.setting-pull", NULL, "friction=wedge-friction"},
              {"belt.capacity", NULL, "friction=wedge-friction"},
              {"belt.reserve", NULL, NULL},
              {"belt.span-frequency", NULL, NULL},
              {"belt.span-frequency", "new-span-frequency", "strand-pull=new-strand-pull"},
              {"belt.deflection-force", NULL, NULL},
              {"belt.deflection-force", "new-deflection-force", "strand-pull=new-strand-pull"},
              {"belt.shaft-load", "shaft-load-each", NULL}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Slacken the motor on its slide until each of the {title} lifts off by hand; never levered "
                        "over a rim. Keep the old ones together: flanks glazed, base cracked, one lower than the "
                        "others in its groove?",
               .cautions = {"belt-fingers"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_RENEWED,
               .words = "Compare the new {title} with the kit list: {size}, one set with one code, never new beside "
                        "old.",
               .figures = {"new-span-frequency", "deflection", "new-deflection-force"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_KEPT,
               .words = "The old set goes back together: {size}.",
               .figures = {"span-frequency", "deflection", "deflection-force"}},
              {.when = WH_WHEN_REBUILD,
               .words = "Grooves clean and dry, sides not hollow, planes in line: lay the {title} in with the motor "
                        "slid up, pull the slide back evenly, turn ten times by hand and look at each belt. The "
                        "figures are those of one belt.",
               .figures = {"setting-pull", "shaft-load-each"}, .cautions = {"belt-fingers"}}}};
