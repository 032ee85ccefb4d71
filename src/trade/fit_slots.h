/* fit_slots.h - the inputs that press fits, warming and clearance have in common. */
#ifndef WH_TRADE_FIT_SLOTS_H
#define WH_TRADE_FIT_SLOTS_H

#define SLOT_GRIP {"interference", "delta", "-2..5 mm", .title = "grip on the diameter, + tight"}
#define SLOT_DIAMETER {"diameter", "d", "1..2000 mm", .title = "diameter of the fit, nominal"}
#define SLOT_OUTSIDE {"outside", "D", "1..5000 mm", .title = "outside diameter, nominal"}
#define SLOT_WIDTH {"width", "b", "1..1000 mm", .title = "length of the fit"}
#define SLOT_HOLLOW {"hollow", "h", "0..2000 mm", .usual = "0 mm", .title = "hole through the seat"}
#define SLOT_SPARE {"spare", "s", "0..2 mm", .usual = "10 um", .title = "play to slide with"}
#define SLOT_RING_EXPANSION                                                                                 \
    {"ring-expansion", "alpha_r", "1e-6..40e-6 1/K", .usual = "12e-6 1/K", .title = "expansion of the ring"}
#define SLOT_SEAT_EXPANSION                                                                                 \
    {"seat-expansion", "alpha_s", "1e-6..40e-6 1/K", .usual = "12e-6 1/K", .title = "expansion of the seat"}
#define SLOT_SEAT_TEMPERATURE                                                                               \
    {"seat-temperature", "T_s", "-200..200 degC", .usual = "20 degC", .title = "temperature of the seat itself"}

#endif
