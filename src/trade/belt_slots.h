/* belt_slots.h - the inputs that several rules of belt.c share. */
#ifndef WH_TRADE_BELT_SLOTS_H
#define WH_TRADE_BELT_SLOTS_H

#define LARGE {"large", "D", "5..5000 mm", .title = "diameter of the large pulley"}
#define SMALL {"small", "d", "5..5000 mm", .title = "diameter of the small pulley"}
#define CENTRES {"centres", "C", "10..20000 mm", .title = "between the shafts"}
#define DRIVER {"motor-pulley", "D", "5..5000 mm", .title = "diameter of the motor pulley"}
#define DRIVEN {"spindle-pulley", "d", "5..5000 mm", .title = "diameter of the driven pulley"}
#define THICKNESS {"thickness", "t", "0..50 mm", .usual = "0 mm", .title = "thickness of the belt"}
#define MOTOR_SPEED {"motor-speed", "n1", "1..60000 rpm", .title = "speed of the motor"}
#define WANTED_SPEED {"spindle-speed", "n2", "1..200000 rpm", .title = "speed of the driven shaft"}
#define SLIP {"slip", "s", "0..0.5 1", .usual = "1 %", .title = "slip and creep"}
#define WRAP {"wrap", "theta", "10..400 deg", .title = "wrap on the small pulley"}
#define FRICTION \
    {"friction", "mu", "0.01..3 1", .usual = "0.30", .title = "friction of belt on pulley; of a V-belt, wedged"}
#define SPEED {"speed", "v", "0..150 m/s", .title = "speed of the belt"}
#define MASS {"mass-per-length", "m", "0.001..50 kg/m", .title = "mass of a metre of belt"}
#define THROWN {"centrifugal", "Fc", "0.. N", .usual = "0 N", .title = "pull thrown off at speed"}
#define STRAND {"strand-pull", "F", "0.. N", .title = "pull of a strand at rest"}
#define NEEDED {"needed-pull", "U", "0.. N", .title = "difference of pulls the work needs"}
#define TIGHT {"tight-pull", "F1", "0.. N", .title = "pull of the tight strand"}
#define SLACK {"slack-pull", "F2", "0.. N", .title = "pull of the slack strand"}
#define SPAN {"span", "L", "10..20000 mm", .title = "free length between the pulleys"}
#define WIDTH {"width", "b", "1..2000 mm", .title = "width of the belt"}
#define STIFFNESS \
    {"stiffness-per-width", "k", "0.1..1000 N/mm %", .title = "pull of a strand, a mm of width, at 1 % of stretch"}
#define SLACK_LENGTH {"slack-length", "L0", "30..100000 mm", .title = "length along its middle, slack"}
#define POWER {"power", "P", "0.. kW", .title = "power carried"}
#define SERVICE {"service-factor", "K", "0.5..5 1", .usual = "1", .title = "service factor"}
#define PULLS(name, symbol, says) {name, symbol, "N", .title = says}
#define LENGTH(name, symbol, says) {name, symbol, "mm", .title = says}

#endif
