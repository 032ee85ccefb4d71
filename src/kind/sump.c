/* An oil pot with its level, and what goes into it. */
#include "kind/kind.h"

const struct wh_kind wh_sump_kind = {
    .name = "sump", .title = "oil sump",
    .keys = {{"oil", "oil-grade", NULL, "oil", true, 0},
             {"drained-by", "thing", NULL, "the plug that empties it", true, 0},
             {"level", "text", NULL, "where the level stands", true, 0},
             {"outer", "5..5000 mm", NULL, "inside diameter of the pot", false, 0},
             {"inner", "0..5000 mm", NULL, "diameter of the boss in it", false, 0},
             {"depth", "0..5000 mm", NULL, "depth to the level", false, 0},
             {"diameter", "5..5000 mm", NULL, "diameter of a cylinder", false, 0},
             {"length", "5..10000 mm", NULL, "length of a box or lying cylinder", false, 0},
             {"width", "5..5000 mm", NULL, "width of a box", false, 0},
             {"fill-further", "0..1000 l", "0 l", "what else holds oil", false, 0},
             {"temperature", "-20..200 degC", "60 degC", "temperature of the oil at work", false, 0}},
    .rules = {{"lubricant.fill-ring", NULL, NULL},
              {"lubricant.fill-box", NULL, NULL},
              {"lubricant.fill", NULL, NULL},
              {"lubricant.purchase", NULL, NULL},
              {"lubricant.viscosity-of-grade", "viscosity", "oil-grade=oil"}},
    .steps = {{.when = WH_WHEN_REBUILD,
               .words = "Machine upright, level and still: fill with {oil} to {level}. Let it settle 10 minutes and "
                        "look again.",
               .figures = {"fill", "purchase", "viscosity"}, .cautions = {"level-not-litres"}}}};
