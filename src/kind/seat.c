/* A shaft seat, a bore, and a sleeve that has both. */
#include "kind/kind.h"

const struct wh_kind wh_seat_kind = {
    .name = "seat", .title = "shaft seat",
    .keys = {{"diameter", "size", NULL, "diameter", true, 0},
             {"of", "thing", NULL, "the part it is on", false, 0},
             {"hollow", "0.. mm", "0 mm", "hole through the shaft", false, 0},
             {"temperature", "-20..120 degC", "20 degC", "temperature of the seat when fitting", false, 0}}};

const struct wh_kind wh_bore_kind = {
    .name = "bore", .title = "bore",
    .keys = {{"bore", "size", NULL, "diameter", true, 0},
             {"in", "thing", NULL, "the part it is in", false, 0},
             {"temperature", "-20..120 degC", "20 degC", "temperature of the bore when fitting", false, 0}}};

const struct wh_kind wh_sleeve_kind = {
    .name = "sleeve", .title = "sleeve on a shaft, shrunk or slid on",
    .detail = "{bore}, outside {outside}, {width} wide", .part = true,
    .keys = {{"seat", "thing", NULL, "shaft seat", true, 0},
             {"bore", "size", NULL, "bore", true, 0},
             {"outside", "1.. mm", NULL, "outside diameter", true, 0},
             {"width", "1.. mm", NULL, "width", true, 0},
             {"fitted", "words warm|press|hand", "warm", "how it is fitted", false, 0},
             {"spare", "0..200 um", "20 um", "clearance to slide with", false, 0},
             {"ring-expansion", "4e-6..30e-6 1/K", NULL, "expansion of the sleeve", false, 0},
             {"warmed-to", "-20..300 degC", NULL, "temperature it is warmed to", false, 0},
             {"ceiling", "20..400 degC", NULL, "highest temperature it stands", false, 0},
             {"puller-rating", "0.1..1000 kN", NULL, "rating of the puller", false, 0}},
    .rules = {{"fit.interference", NULL, NULL},
              {"fit.pressure", NULL, "diameter=bore-nominal, hollow=seat.hollow"},
              {"fit.pull-force", NULL, "diameter=bore-nominal"},
              {"bearing.mounting-temperature", NULL,
               "diameter=bore-nominal, seat-temperature=seat.temperature"},
              {"bearing.grips-at", NULL, "diameter=bore-nominal, seat-temperature=seat.temperature"},
              {"bearing.heat-margin", NULL, NULL},
              {"bearing.warmed-to", NULL, NULL}},
    .windows = {{"most warmed-to", "most grips-at", "least ceiling"}},
    .steps = {{.when = WH_WHEN_STRIP, .only = WH_ONLY_COLD,
               .words = "Slide the {title} off; no nick in the seat under it."},
              {.when = WH_WHEN_STRIP, .only = WH_ONLY_WARM,
               .words = "Draw the {title} off; it is split only where it is to be renewed, no nick in the seat under "
                        "it.",
               .tool = "claw puller", .figures = {"most pull-force"}, .cautions = {"drawing-off"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_COLD,
               .words = "Seat clean, a thin film on it: slide the {title} on to its shoulder.",
               .figures = {"interference"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WARM,
               .words = "Seat clean and dry, measured and cold: warm the {title}.",
               .tool = "oven",
               .figures = {"most warmed-to", "ceiling", "least heat-margin"}, .cautions = {"hot-ring", "heat-how"},
               .minutes = 2, .alone = 15, .within = 10, .wait = "warming"},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WARM,
               .words = "Slide the {title} on in one push against its shoulder and hold it until it grips.",
               .tool = "heat-proof gloves", .figures = {"most grips-at"}, .cautions = {"one-push"}}}};
