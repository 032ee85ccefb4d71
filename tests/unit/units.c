/* Conversions of units against an independent library of units. It counts the radian as the number one, so the same
 * pair is also held to our own stricter view of what may be converted. */
#include "base/quantity.h"
#include "check.h"

#include <string.h>
#include <udunits2.h>

/* Our spelling and theirs, where it differs; "mass" and the like part the units that may be converted. */
struct spelling {
    const char *kind, *ours, *theirs;
};

static const struct spelling spellings[] = {
    {"length", "m", NULL},
    {"length", "km", NULL},
    {"length", "dm", NULL},
    {"length", "cm", NULL},
    {"length", "mm", NULL},
    {"length", "um", NULL},
    {"length", "µm", NULL},
    {"length", "nm", NULL},
    {"length", "in", NULL},
    {"length", "ft", NULL},
    {"length", "mil", NULL},
    {"area", "mm2", NULL},
    {"area", "in2", NULL},
    {"volume", "l", NULL},
    {"volume", "ml", NULL},
    {"volume", "m3", NULL},
    {"volume", "in3", NULL},
    {"mass", "kg", NULL},
    {"mass", "g", NULL},
    {"mass", "mg", NULL},
    {"mass", "lb", NULL},
    {"time", "s", NULL},
    {"time", "ms", NULL},
    {"time", "min", NULL},
    {"time", "h", NULL},
    {"time", "day", NULL},
    {"time", "year", "julian_year"},
    {"frequency", "Hz", NULL},
    {"frequency", "kHz", NULL},
    {"frequency", "1/min", NULL},
    {"force", "N", NULL},
    {"force", "kN", NULL},
    {"force", "lbf", NULL},
    {"force", "kg m/s2", "kg.m/s2"},
    {"pressure", "Pa", NULL},
    {"pressure", "kPa", NULL},
    {"pressure", "MPa", NULL},
    {"pressure", "GPa", NULL},
    {"pressure", "bar", NULL},
    {"pressure", "psi", NULL},
    {"pressure", "N/mm2", NULL},
    {"torque", "N m", "N.m"},
    {"torque", "N mm", "N.mm"},
    {"torque", "lbf in", "lbf.in"},
    {"torque", "lbf ft", "lbf.ft"},
    {"torque", "J", NULL},
    {"torque", "kJ", NULL},
    {"power", "W", NULL},
    {"power", "kW", NULL},
    {"viscosity", "St", NULL},
    {"viscosity", "cSt", NULL},
    {"viscosity", "mm2/s", NULL},
    {"viscosity", "m2/s", NULL},
    {"temperature", "K", NULL},
    {"temperature", "degC", NULL},
    {"temperature", "°C", NULL},
    {"temperature", "degF", NULL},
    {"temperature", "°F", NULL},
    {"angle", "rad", NULL},
    {"angle", "mrad", NULL},
    {"angle", "deg", "arc_degree"},
    {"angle", "°", NULL},
    {"angle", "rev", "turn"},
    {"turning", "rpm", NULL},
    {"turning", "rad/s", NULL},
    {"turning", "rev/min", "turn/min"},
    {"stiffness", "N/mm", NULL},
    {"stiffness", "kN/m", NULL},
    {"density", "kg/m3", NULL},
    {"density", "g/ml", NULL},
    {"acceleration", "m/s2", NULL},
    {"acceleration", "mm/s^2", "mm/s2"},
    {"expansion", "1/K", NULL},
    {"inertia", "kg m2", "kg.m2"},
    {"inertia", "kg mm2", "kg.mm2"},
    {"heat passing", "W/m2 K", "W.m-2.K-1"},
    {"heat passing", "W/mm2 K", "W.mm-2.K-1"},
    {"current", "A", NULL},
    {"tension", "V", NULL},
    {"resistance", "ohm", NULL},
    {"resistance", "Mohm", NULL},
    {"number", "1", NULL},
    {"number", "%", NULL},
};
enum { SPELLINGS = sizeof spellings / sizeof *spellings };

static ut_system *oracle;

static int load_oracle(void **state)
{
    (void)state;
    ut_set_error_message_handler(ut_ignore);
    oracle = ut_read_xml(NULL);
    return oracle ? 0 : -1;
}

static int drop_oracle(void **state)
{
    (void)state;
    ut_free_system(oracle);
    return 0;
}

static struct wh_unit ours(const struct spelling *spelling)
{
    struct wh_unit unit;
    if (!wh_unit_read(spelling->ours, strlen(spelling->ours), &unit)) fail_msg("\"%s\" is not read", spelling->ours);
    return unit;
}

/* The number `x` of one unit in the other, by the oracle; NAN where it converts nothing. */
static double by_oracle(const struct spelling *from, const struct spelling *to, double x)
{
    ut_unit *a = ut_parse(oracle, from->theirs ? from->theirs : from->ours, UT_UTF8);
    ut_unit *b = ut_parse(oracle, to->theirs ? to->theirs : to->ours, UT_UTF8);
    if (!a || !b) fail_msg("the oracle does not know \"%s\" or \"%s\"", from->ours, to->ours);
    cv_converter *converter = ut_get_converter(a, b);
    double y = converter ? cv_convert_double(converter, x) : NAN;
    cv_free(converter);
    ut_free(a);
    ut_free(b);
    return y;
}

static void conversions_agree_with_the_oracle(void **state)
{
    (void)state;
    for (size_t i = 0; i < SPELLINGS; i++)
        for (size_t j = 0; j < SPELLINGS; j++) {
            if (strcmp(spellings[i].kind, spellings[j].kind) != 0) continue;
            struct wh_unit from = ours(&spellings[i]), to = ours(&spellings[j]);
            assert_true(wh_dimension_same(from.dimension, to.dimension));
            double got = (3.7 * from.factor + from.offset - to.offset) / to.factor;
            double want = by_oracle(&spellings[i], &spellings[j], 3.7);
            if (!(fabs(got - want) <= 1e-12 * (fabs(want) + to.offset)))
                fail_msg("3.7 %s is %.17g %s, the oracle says %.17g", spellings[i].ours, got, spellings[j].ours, want);
        }
}

/* Of different kinds, nothing is converted; the oracle would convert turning, frequency and other numbers. */
static void kinds_are_kept_apart(void **state)
{
    (void)state;
    for (size_t i = 0; i < SPELLINGS; i++)
        for (size_t j = 0; j < SPELLINGS; j++) {
            bool kin = strcmp(spellings[i].kind, spellings[j].kind) == 0;
            if (kin != wh_dimension_same(ours(&spellings[i]).dimension, ours(&spellings[j]).dimension))
                fail_msg("%s and %s: %s", spellings[i].ours, spellings[j].ours, kin ? "kept apart" : "taken for kin");
        }
}

/* Two that the oracle has only rounded, to seven digits: a horse is 550 ft lbf/s, an ounce a sixteenth of a pound. */
static void a_horse_and_an_ounce_are_exact(void **state)
{
    (void)state;
    static const struct spelling horse_power = {NULL, "hp", NULL}, watt = {NULL, "W", NULL};
    static const struct spelling ounces = {NULL, "oz", "avoirdupois_ounce"}, kilogram = {NULL, "kg", NULL};
    struct wh_unit horse, ounce;
    assert_true(wh_unit_read("hp", 2, &horse) && wh_unit_read("oz", 2, &ounce));
    check_close(ounce.factor, 0.45359237 / 16, 0, 1e-15);
    check_close(ounce.factor, by_oracle(&ounces, &kilogram, 1), 0, 5e-7);
    check_close(horse.factor, 550 * 0.3048 * 4.4482216152605, 0, 1e-14);
    check_close(horse.factor, by_oracle(&horse_power, &watt, 1), 0, 1e-7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(conversions_agree_with_the_oracle),
        cmocka_unit_test(kinds_are_kept_apart),
        cmocka_unit_test(a_horse_and_an_ounce_are_exact),
    };
    return cmocka_run_group_tests(tests, load_oracle, drop_oracle);
}
