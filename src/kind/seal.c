/* Lip seals, mechanical seals in their two parts, and O-rings. */
#include "kind/kind.h"

#include <stddef.h>

/* ISO 9222: a frame with the two crossing diagonals of a seal. */
static void outline(struct wh_scene *scene, const struct wh_ring *ring, enum wh_pen pen, enum wh_fill fill)
{
    (void)fill;
    wh_scene_box(scene, pen, WH_FILL_PAPER, ring->inner_low, ring->low, ring->outer_low, ring->high);
    wh_scene_segment(scene, pen, ring->inner_low, ring->low, ring->outer_low, ring->high);
    wh_scene_segment(scene, pen, ring->inner_low, ring->high, ring->outer_low, ring->low);
}

const struct wh_kind wh_lip_seal_kind = {
    .name = "lip seal", .off_verb = "press out", .on_verb = "press in", .title = "rotary shaft lip seal (ISO 6194)",
    .detail = "{inside} x {outside} x {width}, {rubber}", .part = true,
    .keys = {{"inside", "1..500 mm", NULL, "shaft diameter", true, 0},
             {"outside", "6..501 mm", NULL, "outside diameter", true, 0},
             {"width", "1..60 mm", NULL, "width", true, 0},
             {"rubber", "rubber", NULL, "rubber of the lip", true, 0},
             {"lip-lubrication", "lip-lubrication", "oil", "what wets the lip", false, 0},
             {"case", "seal-case", "metal", "outside of the seal", false, 0},
             {"stands", "text", NULL, "how it stands in its bore", false, 0}},
    .rules = {{"seal.lip-speed", NULL, "diameter=inside, speed=machine.speed"},
              {"seal.lip-speed-limit", NULL, NULL},
              {"seal.lip-speed-reserve", NULL, NULL},
              {"seal.runout-limit", NULL, "speed=machine.speed"},
              {"seal.press-least", NULL, "bore=outside, seal-case=case"},
              {"seal.press-most", NULL, "bore=outside, seal-case=case"}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Note which way the lip of the {title} points, then press it out and scrap it."},
              {.when = WH_WHEN_REBUILD, .words = "Bore clean, lip wetted: press the new {title} in square, {round}.",
               .only = WH_ONLY_WITHOUT_KEY, .key = "stands", .tool = "seal driver",
               .figures = {"press-least", "press-most", "lip-speed", "lip-speed-limit"}, .cautions = {"no-hot-seal"}},
              {.when = WH_WHEN_REBUILD,
               .words = "Bore clean, lip wetted: press the new {title} in square, {round}; it stands {stands}.",
               .only = WH_ONLY_WITH_KEY, .key = "stands", .tool = "seal driver",
               .figures = {"press-least", "press-most", "lip-speed", "lip-speed-limit"}, .cautions = {"no-hot-seal"}}},
    .outline = outline};

const struct wh_kind wh_mechanical_seal_kind = {
    .name = "mechanical seal", .title = "turning part of a mechanical seal (EN 12756)", .detail = "{size}",
    .part = true,
    .keys = {{"size", "text", NULL, "designation", true, 0},
             {"inside", "1..500 mm", NULL, "shaft diameter", false, 0},
             {"working-length", "1..300 mm", NULL, "working length", false, 0},
             {"liquid", "text", NULL, "liquid it seals", false, 0}},
    .rules = {{"seal.lip-speed", "face-speed", "diameter=inside, speed=machine.speed", "speed of the seal faces"}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Take the {title} off, its face kept to look at: track, chips, heat cracks, on which side."},
              {.when = WH_WHEN_REBUILD,
               .words = "Hands clean, no finger on the lapped face; soap water on the rubber, never grease: slide the "
                        "{title} on in one go to its working length.",
               .figures = {"working-length"}, .cautions = {"dry-faces"}, .consumable = "soap water, lint-free cloth"}},
    .outline = outline};

const struct wh_kind wh_seal_seat_kind = {
    .name = "seal seat", .title = "standing ring of a mechanical seal (EN 12756)", .detail = "{size}", .part = true,
    .keys = {{"size", "text", NULL, "designation", true, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Push the {title} out from behind, its face kept to look at."},
              {.when = WH_WHEN_REBUILD,
               .words = "Bore clean, no burr at its edge; soap water on the rubber: press the {title} in by thumb or a "
                        "soft sleeve, a clean card over its face, square all round. Wipe the face last.",
               .consumable = "soap water, lint-free cloth"}},
    .outline = outline};

const struct wh_kind wh_o_ring_kind = {
    .name = "o-ring", .off_verb = "lift out", .on_verb = "lay in",
    .yields = true, .lining = WH_LINING_SOLID,
    .title = "O-ring (ISO 3601)", .detail = "{inside} x {cord}, {material}", .part = true,
    .keys = {{"inside", "1..2000 mm", NULL, "inside diameter", true, 0},
             {"cord", "0.5..30 mm", NULL, "cord", true, 0},
             {"material", "text", NULL, "rubber", false, 0},
             {"groove-depth", "0.2..30 mm", NULL, "depth of the groove", false, 0},
             {"groove-width", "0.5..60 mm", NULL, "width of the groove", false, 0},
             {"groove-diameter", "1..2100 mm", NULL, "diameter of the groove's bottom", false, 0}},
    .rules = {{"seal.squeeze", NULL, NULL}, {"seal.fill", NULL, NULL}, {"seal.stretch", NULL, NULL}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Lift the {title} out without scratching the groove and scrap it."},
              {.when = WH_WHEN_REBUILD,
               .words = "Groove clean: lay a new {title} in, not twisted, a thin film of what it may have.",
               .figures = {"squeeze", "fill"}}}};
