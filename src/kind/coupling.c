/* A shaft coupling: its hubs, and the element or spacer between them. */
#include "kind/kind.h"

/* Readings of the dials stand with the hub of the machine that is moved: zero at the top, read at the bottom; across,
 * zero on the far side, read on the near one. */
const struct wh_kind wh_coupling_kind = {
    .name = "coupling", .title = "hub of a shaft coupling", .detail = "{bore}", .part = true,
    .keys = {{"seat", "thing", NULL, "shaft seat", false, 0},
             {"bore", "size", NULL, "bore", false, 0},
             {"fitted", "words warm|press|hand", "hand", "how it is fitted", false, 0},
             {"ceiling", "20..400 degC", NULL, "highest temperature it stands", false, 0},
             {"face-diameter", "10..2000 mm", NULL, "diameter the face dial runs on", false, 0},
             {"near-feet", "1..10000 mm", NULL, "from the rim dial to the near feet of the motor", false, 0},
             {"far-feet", "1..10000 mm", NULL, "from the rim dial to the far feet of the motor", false, 0},
             {"rim", "-20..20 mm", NULL, "rim reading at the bottom", false, 0},
             {"face", "-20..20 mm", NULL, "face reading at the bottom", false, 0},
             {"rim-across", "-20..20 mm", NULL, "rim reading on the near side", false, 0},
             {"face-across", "-20..20 mm", NULL, "face reading on the near side", false, 0}},
    .rules = {{"fit.interference", NULL, NULL},
              {"bearing.mounting-temperature", NULL, "diameter=bore-nominal, seat-temperature=seat.temperature"},
              {"bearing.heat-margin", NULL, NULL},
              {"bearing.warmed-to", NULL, NULL},
              {"shaft.rim-face-move", "lift-near-feet", "foot-distance=near-feet"},
              {"shaft.rim-face-move", "lift-far-feet", "foot-distance=far-feet"},
              {"shaft.rim-face-move", "shift-near-feet", "face=face-across, rim=rim-across, foot-distance=near-feet"},
              {"shaft.rim-face-move", "shift-far-feet", "face=face-across, rim=rim-across, foot-distance=far-feet"}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Match-mark hub and shaft, measure how far the {title} stands from the shaft end, draw it off "
                        "by its hub.",
               .tool = "puller", .cautions = {"drawing-off"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WARM, .words = "Seat and key clean and dry: warm the {title}.",
               .tool = "oven",
               .figures = {"most warmed-to", "ceiling"}, .cautions = {"hot-ring", "heat-how"},
               .minutes = 2, .alone = 15, .within = 10, .wait = "warming"},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WARM,
               .words = "Slide the {title} on in one push to its place, key in line; no hammer, it would go into the "
                        "bearings.",
               .tool = "heat-proof gloves", .cautions = {"one-push"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_COLD,
               .words = "Seat and key clean: fit the {title} to its place.",
               .figures = {"interference"}}}};

const struct wh_kind wh_coupling_element_kind = {
    .name = "coupling element", .title = "elastic element or spacer of a coupling", .detail = "{size}, {material}",
    .part = true,
    .keys = {{"size", "text", NULL, "size", true, 0},
             {"material", "text", NULL, "material", true, 0},
             {"hub", "thing", NULL, "hub of the machine that is moved", false, 0},
             {"gap", "0..1000 mm", NULL, "gap between the hubs", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Match-mark, support the {title} and take it out between the hubs; cracks, crumbs and rubber "
                        "dust go into the notes."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_RENEWED,
               .words = "Compare the new {title} with the kit list: {size}, {material}."},
              {.when = WH_WHEN_REBUILD,
               .words = "Shafts in line, faces clean: fit the {title} by hand, marks together. It goes in without "
                        "force, or the shafts are not in line.",
               .figures = {"gap"}}}};
