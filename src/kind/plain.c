/* Parts without figures of their own: what they are, and the steps that go with them. */
#include "kind/kind.h"

const struct wh_kind wh_retaining_ring_kind = {
    .name = "retaining ring",
    .yields = true, .lining = WH_LINING_SOLID,
    .title = "retaining ring in a groove (DIN 471, DIN 472)", .detail = "{size}",
    .part = true,
    .keys = {{"size", "text", NULL, "shaft or bore and thickness", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Take the {title} out of its groove; look for a rolled groove edge.",
               .tool = "retaining ring pliers", .cautions = {"springs"}},
              {.when = WH_WHEN_REBUILD,
               .words = "Set a new {title}; turn it in its groove to see that it sits all round.",
               .only = WH_ONLY_RENEWED, .tool = "retaining ring pliers", .cautions = {"springs"}},
              {.when = WH_WHEN_REBUILD,
               .words = "Set the {title}; turn it in its groove to see that it sits all round.",
               .only = WH_ONLY_KEPT, .tool = "retaining ring pliers", .cautions = {"springs"}}}};

const struct wh_kind wh_pin_kind = {
    .name = "pin", .title = "parallel or spring pin", .detail = "{size}", .part = true,
    .off_verb = "drive out", .on_verb = "drive in",
    .keys = {{"size", "text", NULL, "diameter and length", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Drive the {title} out, the part well supported.",
               .tool = "drift and block"},
              {.when = WH_WHEN_REBUILD, .words = "Drive the {title} in, standing out alike on both sides; no burr.",
               .tool = "drift and block"}}};

const struct wh_kind wh_key_kind = {
    .name = "key", .title = "parallel key (DIN 6885)", .detail = "{size}", .part = true,
    .off_verb = "lift out", .on_verb = "lay in",
    .keys = {{"size", "text", NULL, "width, height and length", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Lift the {title} out; look at the keyway corners for cracks."},
              {.when = WH_WHEN_REBUILD, .words = "Lay the {title} in: sides tight, top clear, corners sound."}}};

const struct wh_kind wh_nut_kind = {
    .name = "nut", .title = "nut or lock ring on a thread", .detail = "{thread}", .part = true, .off_verb = "undo",
    .balancing = WH_BALANCING_MAKERS,
    .keys = {{"thread", "thread", NULL, "thread", false, 0},
             {"wrench-setting", "0.. N m", NULL, "torque stated by the maker", false, 0},
             {"hand", "words right|left", "right", "hand of the thread", false, 0},
             {"mark", "text", NULL, "how far it is turned", false, 0}},
    .rules = {{"thread.diameter", NULL, NULL}},
    .steps = {{.when = WH_WHEN_STRIP, .only = WH_ONLY_WITH_KEY, .key = "hand=left",
               .words = "It is a left-hand thread: loosen clockwise.", .cautions = {"left-hand"}},
              {.when = WH_WHEN_STRIP, .words = "Undo the {title}; look at the thread flanks for galling."},
              {.when = WH_WHEN_REBUILD, .words = "Thread clean, thin film of paste; run the {title} up by hand first."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "hand=left",
               .words = "It is a left-hand thread: tighten anticlockwise.", .cautions = {"left-hand"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "wrench-setting",
               .words = "Tighten to the setting.",
               .figures = {"wrench-setting"}, .cautions = {"wrench"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "mark", .words = "Tighten: {mark}."}}};

const struct wh_kind wh_plug_kind = {
    .name = "plug", .title = "screw plug", .detail = "{thread}, ring {ring}", .part = true,
    .off_verb = "screw out", .on_verb = "screw in",
    .keys = {{"thread", "text", NULL, "thread", false, 0},
             {"wrench-setting", "0.. N m", NULL, "torque stated by the maker", false, 0},
             {"ring", "text", NULL, "sealing ring", false, 0},
             {"drains", "thing", NULL, "the sump it empties", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .only = WH_ONLY_WITH_KEY, .key = "drains",
               .words = "Take an oil sample in a clean bottle (date, hours), then drain the {drains}; look at the "
                        "magnet, for water and at the sludge, and measure what comes out.",
               .cautions = {"oil-floor"}, .consumable = "sample bottle and drain tray"},
              {.when = WH_WHEN_STRIP, .words = "Screw the {title} out."},
              {.when = WH_WHEN_REBUILD, .words = "Wipe the face and screw the {title} in."},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "ring", .words = "With a new ring, {ring}.",
               .consumable = "new ring {ring}"},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "wrench-setting",
               .words = "Tighten to the setting.",
               .figures = {"wrench-setting"}}}};

const struct wh_kind wh_cover_kind = {
    .name = "cover", .title = "cover, lid or cap", .part = true,
    .keys = {{"material", "text", NULL, "material", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Match-mark the {title} and what it sits on."},
              {.when = WH_WHEN_STRIP, .words = "Take the {title} off; never a wedge in the joint."},
              {.when = WH_WHEN_REBUILD, .words = "Faces clean and dry, marks together: fit the {title}."}}};

const struct wh_kind wh_housing_kind = {
    .name = "housing", .title = "housing, casing or bearing sleeve", .part = true,
    .keys = {{"material", "text", NULL, "material", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Match-mark the {title} and what it sits on."},
              {.when = WH_WHEN_STRIP, .words = "Take the {title} off straight."},
              {.when = WH_WHEN_REBUILD, .words = "Registers clean, no burr: fit the {title}, marks together."}}};

const struct wh_kind wh_guard_kind = {
    .name = "guard", .title = "guard over moving parts", .part = true,
    .steps = {{.when = WH_WHEN_STRIP, .words = "Take the {title} off: standstill seen and every energy locked before."},
              {.when = WH_WHEN_REBUILD, .words = "Put the {title} back, all its screws in."}}};

const struct wh_kind wh_switch_kind = {
    .name = "switch", .title = "switch or pick-up", .detail = "{size}", .part = true,
    .wiped = true, .by = "electrician",
    .keys = {{"size", "text", NULL, "size and kind", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Unplug and take the {title} off; mark how it stood.",
               .cautions = {"electric"}},
              {.when = WH_WHEN_REBUILD, .words = "Fit the {title} to its mark and plug it in.",
               .cautions = {"electric", "interlock"}}}};

const struct wh_kind wh_motor_kind = {
    .name = "motor", .title = "electric motor", .detail = "{power}, {frame}", .part = true, .wiped = true,
    .keys = {{"power", "0.01.. kW", NULL, "rated power", false, 0},
             {"motor-speed", "1..60000 rpm", NULL, "speed at rated power", false, 0},
             {"rated-current", "0.01.. A", NULL, "current at rated power", false, 0},
             {"idle-current", "0.. A", NULL, "current without load", false, 0},
             {"start-torque", "0.. N m", NULL, "torque while it starts, of the clutch", false, 0},
             {"frame", "text", NULL, "IEC frame and flange", false, 0}},
    .rules = {{"rotor.motor-current", "start-current", "torque=start-torque", "current while the clutch slips"}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Take the {title} off. Listen to its bearings by hand, look at drive end and rain cap.",
               .cautions = {"hanging"}},
              {.when = WH_WHEN_REBUILD, .words = "Set the {title} on; spigot clean.", .cautions = {"hanging"}}}};

const struct wh_kind wh_clutch_kind = {
    .name = "clutch", .title = "centrifugal clutch or brake part", .part = true,
    .keys = {{"lining", "0.. mm", NULL, "lining when new", false, 0},
             {"slips-at", "0.. N m", NULL, "torque at which it slips", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Take the {title} off; measure the lining left, look for oil and glaze."},
              {.when = WH_WHEN_REBUILD, .words = "Fit the {title}, clean and free of oil; shoes only as a set."}}};

const struct wh_kind wh_plate_kind = {
    .name = "plate", .title = "plate, ring or shims", .detail = "{size}", .part = true,
    .off_verb = "take out", .on_verb = "lay in",
    .keys = {{"size", "text", NULL, "size", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Take the {title} out and look at both faces."},
              {.when = WH_WHEN_REBUILD, .words = "Faces wiped and oiled: lay the {title} in."}}};

const struct wh_kind wh_pipe_kind = {
    .name = "pipe", .title = "pipe, inlet or outlet", .detail = "{size}", .part = true,
    .keys = {{"size", "text", NULL, "size", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Part the {title} and cover the open end."},
              {.when = WH_WHEN_REBUILD, .words = "Fit the {title} with its flat ring clean; no strain on it."}}};

const struct wh_kind wh_adjuster_kind = {
    .name = "adjuster", .title = "slide, tension screw or thrower", .part = true,
    .keys = {{"size", "text", NULL, "size", false, 0}, {"seat", "thing", NULL, "shaft seat", false, 0},
             {"bore", "size", NULL, "bore", false, 0}},
    .rules = {{"fit.interference", NULL, NULL}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Note how the {title} stands."},
              {.when = WH_WHEN_STRIP, .words = "Take the {title} off."},
              {.when = WH_WHEN_REBUILD, .words = "Clean and fit the {title} as it stood."}}};

const struct wh_kind wh_rotor_kind = {
    .name = "rotor", .title = "bowl part, wheel or impeller", .part = true, .balancing = WH_BALANCING_MAKERS,
    .keys = {{"outside", "1.. mm", NULL, "outside diameter", false, 0},
             {"number", "text", NULL, "set number", false, 0},
             {"inertia", "0.. kg m2", NULL, "moment of inertia", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Compare the set numbers, match-mark the {title} with paint.",
               .cautions = {"never-centre-punch", "balanced-set"}},
              {.when = WH_WHEN_STRIP, .words = "Lift the {title} out straight."},
              {.when = WH_WHEN_REBUILD, .words = "Seats clean and dry, numbers and marks together: set the {title} in.",
               .cautions = {"cracks", "balanced-set"}}}};

const struct wh_kind wh_gasket_kind = {
    .name = "gasket", .laid = true, .on_verb = "lay",
    .lining = WH_LINING_SOLID, .title = "flat gasket", .detail = "{size}, {material}", .part = true,
    .keys = {{"size", "text", NULL, "size", false, 0}, {"material", "text", NULL, "material", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Lift the {title} off; scrape the faces with a plastic scraper, no scratch across."},
              {.when = WH_WHEN_REBUILD, .words = "Lay a new {title}, dry, holes together."}}};

const struct wh_kind wh_fixture_kind = {
    .name = "fixture", .title = "something fitted for a while only", .part = false,
    .keys = {{"size", "text", NULL, "size", false, 0}},
    .steps = {{.when = WH_WHEN_STRIP, .words = "Take the {title} away and count it in."},
              {.when = WH_WHEN_REBUILD, .words = "Fit the {title} and count it out."}}};
