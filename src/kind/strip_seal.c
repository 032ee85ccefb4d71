/* Seals laid in a groove in halves or as a strip, for a shaft that need not come out for them. */
#include "kind/kind.h"

const struct wh_kind wh_strip_seal_kind = {
    .name = "strip seal", .yields = true,
    .title = "felt strip or split seal", .detail = "{size}, {material}", .part = true,
    .keys = {{"size", "text", NULL, "size", true, 0},
             {"material", "text", NULL, "felt or rubber", true, 0},
             {"soaked", "words oil|grease|dry", "oil", "what it is laid in with", false, 0},
             {"inside", "1..1000 mm", NULL, "shaft under it", false, 0},
             {"lip-speed-limit", "0..100 m/s", NULL, "speed it stands, by its maker", false, 0}},
    .rules = {{"seal.lip-speed", NULL, "diameter=inside, speed=machine.speed"}, {"seal.lip-speed-reserve", NULL, NULL}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Lift the {title} out of the groove, both halves, and scrape the groove clean."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "soaked=oil",
               .words = "Soak the {title} in warm oil before it goes in.", .consumable = "oil for soaking"},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "soaked=grease",
               .words = "Fill the lips of the {title} with grease before it goes in.",
               .consumable = "grease for the lips"},
              {.when = WH_WHEN_REBUILD,
               .words = "Lay the {title} in, joints closed and not over the joint of the housing; the shaft lies in it "
                        "touched all round and gripped nowhere.",
               .figures = {"lip-speed", "lip-speed-limit"}}}};
