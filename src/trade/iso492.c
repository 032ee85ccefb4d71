#include "trade/iso492.h"

#include "trade/words.h"

#include <math.h>

/* Sizes up to and including, in mm; values in um. Classes P4 and P2, and the first and last steps, are from memory. */
enum { BORES = 11, OUTSIDES = 11 };

static const double bore_steps[BORES] = {2.5, 10, 18, 30, 50, 80, 120, 150, 180, 250, 315};
static const double outside_steps[OUTSIDES] = {2.5, 6, 18, 30, 50, 80, 120, 150, 180, 250, 315};

static const double bore_lower[WH_CLASSES][BORES] = {
    {-8, -8, -8, -10, -12, -15, -20, -25, -25, -30, -35},
    {-7, -7, -7, -8, -10, -12, -15, -18, -18, -22, -25},
    {-5, -5, -5, -6, -8, -9, -10, -13, -13, -15, -18},
    {-4, -4, -4, -5, -6, -7, -8, -10, -10, -12, NAN},
    {-2.5, -2.5, -2.5, -2.5, -2.5, -4, -5, -7, -7, -8, NAN},
};

static const double inner_runout[WH_CLASSES][BORES] = {
    {10, 10, 10, 13, 15, 20, 25, 30, 30, 40, 50},
    {5, 6, 7, 8, 10, 10, 13, 18, 18, 20, 25},
    {4, 4, 4, 4, 5, 5, 6, 8, 8, 10, 13},
    {2.5, 2.5, 2.5, 3, 4, 4, 5, 6, 6, 8, NAN},
    {1.5, 1.5, 1.5, 2.5, 2.5, 2.5, 2.5, 2.5, 5, 5, NAN},
};

static const double bore_variation[WH_CLASS_P5 + 1][BORES] = {
    {6, 6, 6, 8, 9, 11, 15, 19, 19, 23, 26},
    {5, 5, 5, 6, 8, 9, 11, 14, 14, 17, 19},
    {3, 3, 3, 3, 4, 5, 5, 7, 7, 8, 9},
};

static const double width_lower[BORES] = {-40, -120, -120, -120, -120, -150, -200, -250, -250, -300, -350};

static const double outside_lower[WH_CLASSES][OUTSIDES] = {
    {-8, -8, -8, -9, -11, -13, -15, -18, -25, -30, -35},
    {-7, -7, -7, -8, -9, -11, -13, -15, -18, -20, -25},
    {-5, -5, -5, -6, -7, -9, -10, -11, -13, -15, -18},
    {-4, -4, -4, -5, -6, -7, -8, -9, -10, -11, -13},
    {-2.5, -2.5, -2.5, -4, -4, -4, -5, -5, -7, -8, -8},
};

static const double outer_runout[WH_CLASSES][OUTSIDES] = {
    {15, 15, 15, 15, 20, 25, 35, 40, 45, 50, 60},
    {8, 8, 8, 9, 10, 13, 18, 20, 23, 25, 30},
    {5, 5, 5, 6, 7, 8, 10, 11, 13, 15, 18},
    {3, 3, 3, 4, 5, 5, 6, 7, 8, 10, 10},
    {1.5, 1.5, 1.5, 2.5, 2.5, 4, 5, 5, 5, 7, 7},
};

/* The value of a size's step in a row of the table, NAN above the last. */
static double look_up(const double steps[], const double row[], size_t n, double size)
{
    const double hair = 1e-9; /* a size read from text may lie a rounding above its step */
    for (size_t i = 0; size > 0 && i < n; i++)
        if (size * 1e3 <= steps[i] * (1 + hair)) return row[i] * 1e-6;
    return NAN;
}

static bool is_class(double code, int last)
{
    return code >= 0 && code <= last;
}

bool wh_iso492_bore(double size, double class_code, double *lower, double *upper)
{
    if (!is_class(class_code, WH_CLASS_P2)) return false;
    *lower = look_up(bore_steps, bore_lower[(size_t)class_code], BORES, size);
    *upper = 0;
    return !isnan(*lower);
}

bool wh_iso492_outside(double size, double class_code, double *lower, double *upper)
{
    if (!is_class(class_code, WH_CLASS_P2)) return false;
    *lower = look_up(outside_steps, outside_lower[(size_t)class_code], OUTSIDES, size);
    *upper = 0;
    return !isnan(*lower);
}

double wh_iso492_inner_runout(double size, double class_code)
{
    if (!is_class(class_code, WH_CLASS_P2)) return NAN;
    return look_up(bore_steps, inner_runout[(size_t)class_code], BORES, size);
}

double wh_iso492_outer_runout(double size, double class_code)
{
    if (!is_class(class_code, WH_CLASS_P2)) return NAN;
    return look_up(outside_steps, outer_runout[(size_t)class_code], OUTSIDES, size);
}

double wh_iso492_bore_variation(double size, double class_code)
{
    if (!is_class(class_code, WH_CLASS_P5)) return NAN;
    return look_up(bore_steps, bore_variation[(size_t)class_code], BORES, size);
}

double wh_iso492_width_deviation(double size, double class_code)
{
    if (!is_class(class_code, WH_CLASS_NORMAL)) return NAN;
    return look_up(bore_steps, width_lower, BORES, size);
}

/* After the classes stand other words for the normal one. */
static const char *const classes[] = {"normal", "P6", "P5", "P4", "P2", "P0", "PN"};

bool wh_iso492_class_read(const char *text, size_t n, double *ret)
{
    if (!wh_words_read(classes, sizeof classes / sizeof *classes, text, n, ret)) return false;
    if (*ret >= WH_CLASSES) *ret = WH_CLASS_NORMAL;
    return true;
}

size_t wh_iso492_class_print(double code, char *to, size_t room)
{
    return wh_words_print(classes, WH_CLASSES, code, to, room);
}

size_t wh_iso492_class_list(size_t i, char *to, size_t room)
{
    return wh_words_print(classes, sizeof classes / sizeof *classes, (double)i, to, room);
}
