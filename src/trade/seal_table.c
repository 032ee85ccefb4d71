#include "trade/seal_table.h"

#include "trade/words.h"

#include <math.h>

/* Sizes are compared with half a nanometre to spare, so that 80 mm stays in "up to 80" however it was read. */
static bool up_to(double size, double limit)
{
    return size <= limit * 1e-3 + 5e-10;
}

/* A step reaches from the limit of the row above, excluded, to its own, included: mm, then micrometres. */
struct step {
    double most, value;
};

static const struct step shaft_h11[] = {
    {3, -60},   {6, -75},   {10, -90},  {18, -110}, {30, -130}, {50, -160}, {80, -190},
    {120, -220}, {180, -250}, {250, -290}, {315, -320}, {400, -360}, {500, -400},
};
static const struct step bore_h8[] = {
    {3, 14},    {6, 18},    {10, 22},   {18, 27},   {30, 33},   {50, 39},   {80, 46},
    {120, 54},  {180, 63},  {250, 72},  {315, 81},  {400, 89},  {500, 97},
};

static double look_up(const struct step steps[], size_t count, double size)
{
    if (!(size > 0)) return NAN;
    for (size_t i = 0; i < count; i++)
        if (up_to(size, steps[i].most)) return steps[i].value * 1e-6;
    return NAN;
}

double wh_seal_shaft_lower(double shaft)
{
    return look_up(shaft_h11, sizeof shaft_h11 / sizeof shaft_h11[0], shaft);
}

double wh_seal_bore_upper(double bore)
{
    return look_up(bore_h8, sizeof bore_h8 / sizeof bore_h8[0], bore);
}

/* Outside diameter of the seal less the nominal bore, metal case and rubber covered; out-of-round: all mm. */
static const struct fit {
    double most, metal[2], rubber[2], out_of_round;
} fits[] = {
    {50, {0.10, 0.20}, {0.15, 0.30}, 0.25},  {80, {0.13, 0.23}, {0.20, 0.35}, 0.35},
    {120, {0.15, 0.25}, {0.20, 0.35}, 0.50}, {180, {0.18, 0.28}, {0.25, 0.45}, 0.65},
    {300, {0.20, 0.30}, {0.25, 0.45}, 0.80}, {500, {0.23, 0.35}, {0.30, 0.55}, 1.00},
};

static const struct fit *fit_of(double bore)
{
    for (size_t i = 0; i < sizeof fits / sizeof fits[0]; i++)
        if (bore > 0 && up_to(bore, fits[i].most)) return &fits[i];
    return NULL;
}

static const char *const cases[] = {"metal", "rubber"};
enum { CASES = sizeof cases / sizeof cases[0], CASE_METAL = 0 };

bool wh_seal_allowance(double bore, double case_code, double *ret_least, double *ret_most)
{
    const struct fit *fit = fit_of(bore);
    size_t place = wh_words_place(case_code, CASES);
    if (!fit || place == CASES) return false;
    const double *allowance = place == CASE_METAL ? fit->metal : fit->rubber;
    *ret_least = allowance[0] * 1e-3;
    *ret_most = allowance[1] * 1e-3;
    return true;
}

double wh_seal_out_of_round(double bore)
{
    const struct fit *fit = fit_of(bore);
    return fit ? fit->out_of_round * 1e-3 : NAN;
}

bool wh_seal_case_read(const char *text, size_t n, double *ret)
{
    return wh_words_read(cases, CASES, text, n, ret);
}

size_t wh_seal_case_print(double code, char *to, size_t room)
{
    return wh_words_print(cases, CASES, code, to, room);
}

size_t wh_seal_case_list(size_t i, char *to, size_t room)
{
    return wh_words_print(cases, CASES, (double)i, to, room);
}

/* m/s, from memory; NBR, ACM, VMQ and FKM after the diagram of DIN 3760. */
static const char *const rubbers[] = {"NBR", "FKM", "EPDM", "VMQ", "silicone", "HNBR", "ACM", "PTFE"};
static const double rim_speeds[][2] = {{12, 14}, {35, 38}, {10, 12}, {25, 35}, {25, 35}, {14, 20}, {18, 20}, {25, 30}};
enum { RUBBERS = sizeof rubbers / sizeof rubbers[0] };

bool wh_seal_rim_speed(double rubber, double *ret_least, double *ret_most)
{
    size_t place = wh_words_place(rubber, RUBBERS);
    if (place == RUBBERS) return false;
    *ret_least = rim_speeds[place][0];
    *ret_most = rim_speeds[place][1];
    return true;
}

bool wh_seal_rubber_read(const char *text, size_t n, double *ret)
{
    return wh_words_read(rubbers, RUBBERS, text, n, ret);
}

size_t wh_seal_rubber_print(double code, char *to, size_t room)
{
    return wh_words_print(rubbers, RUBBERS, code, to, room);
}

size_t wh_seal_rubber_list(size_t i, char *to, size_t room)
{
    return wh_words_print(rubbers, RUBBERS, (double)i, to, room);
}
