/* The ring that an impeller's neck runs in; its play is the pump's inner leak. */
#include "kind/kind.h"

const struct wh_kind wh_wear_ring_kind = {
    .name = "wear ring",
    .title = "wear ring of a pump",
    .detail = "{outside} outside, {bore} bore, {material}",
    .part = true,
    .keys = {{"outside", "size", NULL, "outside diameter", true, 0},
             {"bore", "size", NULL, "bore", true, 0},
             {"material", "text", NULL, "material", true, 0},
             {"housing", "thing", NULL, "bore it is pressed into", false, 0},
             {"runs-on", "thing", NULL, "neck of the impeller", false, 0}},
    .rules = {{"fit.interference", "press-fit", "seat.diameter=outside, bore=housing.bore",
               "grip of the ring in its bore, + tight, - loose"},
              {"fit.interference", "running-fit", "seat.diameter=runs-on.diameter",
               "ring on what it runs on, + tight, - loose"}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Pull the {title} out with inside jaws, or drill it through twice and fold it in; the bore "
                        "behind it stays whole."},
              {.when = WH_WHEN_REBUILD,
               .words = "Bore clean, no burr: press the {title} in square against its shoulder, then measure its bore "
                        "once more; it is closed a little by the press fit.",
               .tool = "press and sleeve",
               .figures = {"press-fit", "running-fit"}}}};
