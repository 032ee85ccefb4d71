/* A fan wheel or pump impeller on the end of a shaft; unlike a bowl it may be balanced where its file allows it. */
#include "kind/kind.h"

const struct wh_kind wh_wheel_kind = {
    .name = "wheel",
    .title = "fan wheel or impeller",
    .detail = "{outside} outside",
    .part = true,
    .balancing = WH_BALANCING_BY_FILE,
    .keys = {{"outside", "1..20000 mm", NULL, "outside diameter", true, 0},
             {"mass", "0.001..100000 kg", NULL, "mass", true, 0},
             {"bore", "size", NULL, "bore", false, 0},
             {"seat", "thing", NULL, "shaft seat", false, 0},
             {"balance-grade", "0.1..4000 mm/s", NULL, "balance grade G (ISO 21940-11)", false, 0},
             {"trial-mass", "0.0001..1000 kg", NULL, "trial mass", false, 0},
             {"trial-radius", "0.1..10000 mm", NULL, "radius it is fastened at", false, 0},
             WH_BALANCING_KEYS},
    .rules = {{"fit.interference", NULL, NULL},
              {"rotor.rim-speed", NULL, "diameter=outside, speed=machine.speed"},
              {"rotor.specific-unbalance", NULL, "speed=machine.speed"},
              {"rotor.residual-unbalance", NULL, "speed=machine.speed"},
              {"rotor.mass-pull", "trial-pull", "mass=trial-mass, radius=trial-radius, speed=machine.speed",
               "pull of a trial mass at speed"}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Match-mark the {title} and the shaft with paint; note where dirt sits on it, then take it off "
                        "straight by its hub, never by rim or blades.",
               .cautions = {"never-centre-punch"}},
              {.when = WH_WHEN_REBUILD,
               .words = "Bore, seat and key clean: set the {title} on, marks together, to its place on the shaft.",
               .cautions = {"wheel-cracks"}}}};
