/* A lying shaft in two bearings, of a fan, a blower or a pump. */
#include "kind/kind.h"

/* Shafts are not cut (ISO 128): no section lining, only the tint of the part asked for. */
static void outline(struct wh_scene *scene, const struct wh_ring *ring, enum wh_pen pen, enum wh_fill fill)
{
    wh_outline_plain(scene, ring, pen, fill == WH_FILL_TINT ? fill : WH_FILL_NONE);
}

const struct wh_kind wh_shaft_kind = {
    .name = "shaft", .off_verb = "take out",
    .title = "lying shaft in two bearings",
    .part = true,
    .keys = {{"bearing-span", "5..20000 mm", NULL, "distance of the bearings", false, 0},
             {"overhung-load", "0..1000000 N", NULL, "weight of the wheel beyond its bearing", false, 0},
             {"overhang", "1..10000 mm", NULL, "wheel beyond its bearing", false, 0},
             {"elastic-modulus", "1..1000 kN/mm2", NULL, "elastic modulus of its steel", false, 0},
             {"poisson-ratio", "0..0.5 1", NULL, "Poisson's ratio of its steel", false, 0},
             {"density", "500..25000 kg/m3", NULL, "density of its steel", false, 0},
             {"critical-margin", "0..100 %", NULL, "how far running speed should stand off a critical one", false, 0},
             {"inertia", "0.. kg m2", NULL, "moment of inertia of what turns", false, 0},
             {"steady-drag", "0..100000 N m", NULL, "drag that does not change with speed", false, 0},
             {"air-drag", "0..1000 N m s2", NULL, "drag that grows with the square of speed", false, 0},
             {"free-drag", "0..100000 N m", NULL, "steady drag with the drive off", false, 0}},
    .rules = {{"shaft.reaction-far", NULL, "load=overhung-load, span=bearing-span"},
              {"whirl.critical-speeds", NULL, "speed=machine.speed"},
              {"whirl.separation", "separation-below", "critical-speed=critical-below, speed=machine.speed",
               "how far running speed stands above the critical speed below it"},
              {"whirl.separation", "separation-above", "critical-speed=critical-above, speed=machine.speed",
               "how far running speed stands below the critical speed above it"},
              {"rotor.kinetic-energy", NULL, "speed=machine.speed"},
              {"rotor.speed-reserve", NULL, "speed=machine.speed, stamped-speed=machine.stamped-speed"},
              {"rotor.run-down-time", NULL, "speed=machine.speed"},
              {"rotor.run-down-time", "run-down-drive-off", "speed=machine.speed, steady-drag=free-drag",
               "with the drive off: time before which it does not stand"}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Take the {title} out level, no knock on the seats; lay it on V-blocks with wood."},
              {.when = WH_WHEN_REBUILD,
               .words = "Seats, shoulders and centres free of burr: bring the {title} in level, guided by hand, no "
                        "bearing made to carry it on its edge."}},
    .outline = outline};
