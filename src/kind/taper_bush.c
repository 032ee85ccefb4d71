/* A split taper bush that clamps a hub on its shaft. Taking it off is jacking it loose in its hub. */
#include "kind/kind.h"

const struct wh_kind wh_taper_bush_kind = {
    .name = "taper bush", .title = "split taper bush", .detail = "{size}, {bore}", .part = true,
    .keys = {{"size", "text", NULL, "size of the bush", true, 0},
             {"bore", "size", NULL, "bore", true, 0},
             {"seat", "thing", NULL, "shaft seat", false, 0},
             {"wrench-setting", "0.. N m", NULL, "torque of its screws, stated by the maker", true, 0}},
    .rules = {{"fit.interference", NULL, NULL}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Take the screws of the {title} out, oil one and turn it into the jacking hole until the bush "
                        "lets go in its hub."},
              {.when = WH_WHEN_REBUILD,
               .words = "Shaft, bore and both tapers wiped dry, no oil and no paste: {title} loose in its hub, on to "
                        "the shaft with its key, to its place."},
              {.when = WH_WHEN_REBUILD,
               .words = "Screws in turn to the setting; a tap on a block against the big end, then to the setting "
                        "again until none moves. Grease in the empty hole.",
               .tool = "torque wrench", .figures = {"wrench-setting"}, .cautions = {"wrench"},
               .consumable = "grease for the jacking hole"}}};
