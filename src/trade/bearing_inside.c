#include "trade/bearing_inside.h"

#include <string.h>

#define UNIVERSITY "a university bearing data centre, bearing information page"

static const struct wh_bearing_inside insides[] = {
    {"6203", 8, 0.2656 * 25.4e-3, 1.122 * 25.4e-3, UNIVERSITY},
    {"6205", 9, 0.3126 * 25.4e-3, 1.537 * 25.4e-3, UNIVERSITY},
};

const struct wh_bearing_inside *wh_bearing_inside(const char *designation)
{
    size_t digits = strspn(designation, "0123456789");
    for (size_t i = 0; i < sizeof insides / sizeof *insides; i++)
        if (strlen(insides[i].name) == digits && strncmp(designation, insides[i].name, digits) == 0) return &insides[i];
    return 0;
}
