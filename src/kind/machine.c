/* The machine as a whole: its plate. */
#include "kind/kind.h"

const struct wh_kind wh_machine_kind = {
    .name = "machine", .title = "the machine itself",
    .keys = {{"speed", "1..200000 rpm", NULL, "speed of the spindle", true, 0},
             {"stamped-speed", "1..200000 rpm", NULL, "stamped greatest speed", false, 0},
             {"inertia", "0.. kg m2", NULL, "moment of inertia of what turns", false, 0},
             {"hall-temperature", "-20..50 degC", "20 degC", "temperature of the hall", false, 0},
             {"washing", "0..480 min", "30 min", "time for washing all parts", false, 0},
             {"vibration-limits", "0..1 m/s", NULL, "r.m.s. velocity: good up to, alarm, stop", false, 3},
             {"vibration-group", "vibration-group", NULL, "table of its vibration, if it has no limits", false, 0},
             {"fan-category", "fan-category", NULL, "the same of a fan: ISO 14694", false, 0},
             {"of", "text", NULL, "whose it is and what it does", false, 0},
             {"plate", "text", NULL, "what its plate says", false, 0}}};
