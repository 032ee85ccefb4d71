#include "trade/iso286.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Sizes up to and including, in mm. Tolerances have the coarse steps, deviations the fine ones. Values in um. */
enum { COARSE = 13, FINE = 25, GRADES = 18 };

static const double coarse_steps[COARSE] = {3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500};
static const double fine_steps[FINE] = {3,   6,   10,  14,  18,  24,  30,  40,  50,  65,  80,  100, 120,
                                        140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500};

/* IT1 to IT18, one row a coarse step. IT3 to IT11 above 3 mm were read, the rest is from memory. */
static const double tolerances[COARSE][GRADES] = {
    {0.8, 1.2, 2, 3, 4, 6, 10, 14, 25, 40, 60, 100, 140, 250, 400, 600, 1000, 1400},
    {1, 1.5, 2.5, 4, 5, 8, 12, 18, 30, 48, 75, 120, 180, 300, 480, 750, 1200, 1800},
    {1, 1.5, 2.5, 4, 6, 9, 15, 22, 36, 58, 90, 150, 220, 360, 580, 900, 1500, 2200},
    {1.2, 2, 3, 5, 8, 11, 18, 27, 43, 70, 110, 180, 270, 430, 700, 1100, 1800, 2700},
    {1.5, 2.5, 4, 6, 9, 13, 21, 33, 52, 84, 130, 210, 330, 520, 840, 1300, 2100, 3300},
    {1.5, 2.5, 4, 7, 11, 16, 25, 39, 62, 100, 160, 250, 390, 620, 1000, 1600, 2500, 3900},
    {2, 3, 5, 8, 13, 19, 30, 46, 74, 120, 190, 300, 460, 740, 1200, 1900, 3000, 4600},
    {2.5, 4, 6, 10, 15, 22, 35, 54, 87, 140, 220, 350, 540, 870, 1400, 2200, 3500, 5400},
    {3.5, 5, 8, 12, 18, 25, 40, 63, 100, 160, 250, 400, 630, 1000, 1600, 2500, 4000, 6300},
    {4.5, 7, 10, 14, 20, 29, 46, 72, 115, 185, 290, 460, 720, 1150, 1850, 2900, 4600, 7200},
    {6, 8, 12, 16, 23, 32, 52, 81, 130, 210, 320, 520, 810, 1300, 2100, 3200, 5200, 8100},
    {7, 9, 13, 18, 25, 36, 57, 89, 140, 230, 360, 570, 890, 1400, 2300, 3600, 5700, 8900},
    {8, 10, 15, 20, 27, 40, 63, 97, 155, 250, 400, 630, 970, 1550, 2500, 4000, 6300, 9700},
};

enum letter { LETTER_C, LETTER_D, LETTER_E, LETTER_F, LETTER_G, LETTER_K, LETTER_M, LETTER_N, LETTER_P, LETTER_R,
              LETTER_S, LETTER_T, LETTER_U, LETTER_H, LETTER_J, LETTER_JS, LETTERS };

static const char *const letters[LETTERS] = {"c", "d", "e", "f", "g", "k", "m", "n", "p", "r", "s", "t", "u",
                                             "h", "j", "js"};

/* Deviation of the shaft next to the zero line: the upper one of c to g, the lower one of k to u. Holes mirror it. The
 * rows c, t (none up to 24 mm) and u, and all values up to 3 mm, are from memory. */
static const short deviations[LETTER_U + 1][FINE] = {
    /* c */
    {-60, -70, -80, -95, -95, -110, -110, -120, -130, -140, -150, -170, -180, -200, -210, -230, -240,
     -260, -280, -300, -330, -360, -400, -440, -480},
    /* d */
    {-20, -30, -40, -50, -50, -65, -65, -80, -80, -100, -100, -120, -120, -145, -145, -145, -170, -170,
     -170, -190, -190, -210, -210, -230, -230},
    /* e */
    {-14, -20, -25, -32, -32, -40, -40, -50, -50, -60, -60, -72, -72, -85, -85, -85, -100, -100, -100,
     -110, -110, -125, -125, -135, -135},
    /* f */
    {-6, -10, -13, -16, -16, -20, -20, -25, -25, -30, -30, -36, -36, -43, -43, -43, -50, -50, -50, -56,
     -56, -62, -62, -68, -68},
    /* g */
    {-2, -4, -5, -6, -6, -7, -7, -9, -9, -10, -10, -12, -12, -14, -14, -14, -15, -15, -15, -17, -17,
     -18, -18, -20, -20},
    /* k */
    {0, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4, 5, 5},
    /* m */
    {2, 4, 6, 7, 7, 8, 8, 9, 9, 11, 11, 13, 13, 15, 15, 15, 17, 17, 17, 20, 20, 21, 21, 23, 23},
    /* n */
    {4, 8, 10, 12, 12, 15, 15, 17, 17, 20, 20, 23, 23, 27, 27, 27, 31, 31, 31, 34, 34, 37, 37, 40, 40},
    /* p */
    {6, 12, 15, 18, 18, 22, 22, 26, 26, 32, 32, 37, 37, 43, 43, 43, 50, 50, 50, 56, 56, 62, 62, 68, 68},
    /* r */
    {10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126,
     132},
    /* s */
    {14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190,
     208, 232, 252},
    /* t */
    {0, 0, 0, 0, 0, 0, 41, 48, 54, 66, 75, 91, 104, 122, 134, 146, 166, 180, 196, 218, 240, 268, 294,
     330, 360},
    /* u */
    {18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144, 170, 190, 210, 236, 258, 284, 315, 350, 390,
     435, 490, 540},
};

/* The zones j and J follow no rule: lower deviation of the shafts, upper one of the holes. j7 is from memory. */
enum { SHAFT_J5, SHAFT_J7, HOLE_J6, HOLE_J7, HOLE_J8 };
static const short around_zero[][FINE] = {
    /* j5, j6 */
    {-2, -2, -2, -3, -3, -4, -4, -5, -5, -7, -7, -9, -9, -11, -11, -11, -13, -13, -13, -16, -16, -18,
     -18, -20, -20},
    /* j7 */
    {-4, -4, -5, -6, -6, -8, -8, -10, -10, -12, -12, -15, -15, -18, -18, -18, -21, -21, -21, -26, -26,
     -28, -28, -32, -32},
    /* J6 */
    {2, 5, 5, 6, 6, 8, 8, 10, 10, 13, 13, 16, 16, 18, 18, 18, 22, 22, 22, 25, 25, 29, 29, 33, 33},
    /* J7 */
    {4, 6, 8, 10, 10, 12, 12, 14, 14, 18, 18, 22, 22, 26, 26, 26, 30, 30, 30, 36, 36, 39, 39, 43, 43},
    /* J8 */
    {6, 10, 12, 15, 15, 20, 20, 24, 24, 28, 28, 34, 34, 41, 41, 41, 47, 47, 47, 55, 55, 60, 60, 66, 66},
};

/* The addition to holes K, M, N to IT8 and P and beyond to IT7, which keeps the mirrored fit the same: IT3 to IT8. */
static const double additions[][FINE] = {
    /* IT3 */
    {0, 1, 1, 1, 1, 1.5, 1.5, 1.5, 1.5, 2, 2, 2, 2, 3, 3, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5},
    /* IT4 */
    {0, 1.5, 1.5, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 5, 5, 5, 5},
    /* IT5 */
    {0, 1, 2, 3, 3, 3, 3, 4, 4, 5, 5, 5, 5, 6, 6, 6, 6, 6, 6, 7, 7, 7, 7, 7, 7},
    /* IT6 */
    {0, 3, 3, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 7, 7, 7, 9, 9, 9, 9, 9, 11, 11, 13, 13},
    /* IT7 */
    {0, 4, 6, 7, 7, 8, 8, 9, 9, 11, 11, 13, 13, 15, 15, 15, 17, 17, 17, 20, 20, 21, 21, 23, 23},
    /* IT8 */
    {0, 6, 7, 9, 9, 12, 12, 14, 14, 16, 16, 19, 19, 23, 23, 23, 26, 26, 26, 29, 29, 32, 32, 34, 34},
};

/* The step a size belongs to, or the number of steps when it is outside all. */
static size_t step_of(const double steps[], size_t n, double size)
{
    const double hair = 1e-9; /* a size read from text may lie a rounding above its step */
    size_t i = 0;
    if (!(size > 0)) return n;
    while (i < n && size * 1e3 > steps[i] * (1 + hair)) i++;
    return i;
}

double wh_iso286_tolerance(double size, double grade)
{
    size_t step = step_of(coarse_steps, COARSE, size);
    if (step == COARSE || !(grade >= 1 && grade <= GRADES)) return NAN;
    return tolerances[step][(size_t)grade - 1] * 1e-6;
}

bool wh_iso286_step(double size, double *above, double *up_to)
{
    size_t step = step_of(coarse_steps, COARSE, size);
    bool found = step < COARSE;
    *above = !found ? NAN : step == 0 ? 0 : coarse_steps[step - 1] * 1e-3;
    *up_to = found ? coarse_steps[step] * 1e-3 : NAN;
    return found;
}

/* A zone's number: hole or shaft, letter, grade. */
static double zone_code(bool hole, int letter, int grade)
{
    return (hole ? 1024 : 0) + letter * 32 + grade;
}

bool wh_iso286_zone_is_hole(double code)
{
    return code >= 1024;
}

static int letter_of(double code)
{
    return (int)code % 1024 / 32;
}

static int grade_of(double code)
{
    return (int)code % 32;
}

static bool shaft_limits(int letter, int grade, size_t step, double tolerance, double *lower, double *upper)
{
    bool slack = letter == LETTER_H || letter <= LETTER_G;
    double near = letter <= LETTER_U ? deviations[letter][step] : 0;
    if (letter == LETTER_T && step < 6) return false;
    if (letter == LETTER_K && (grade < 4 || grade > 7)) near = 0;
    if (letter == LETTER_J) {
        if (grade < 5 || grade > 7) return false;
        near = around_zero[grade == 7 ? SHAFT_J7 : SHAFT_J5][step];
    }
    if (letter == LETTER_JS) near = -tolerance / 2;
    *lower = slack ? near - tolerance : near;
    *upper = slack ? near : near + tolerance;
    return true;
}

/* The upper deviation of the holes K and beyond, or NAN where the standard has none. */
static double tight_hole(int letter, int grade, size_t step)
{
    double near = -deviations[letter][step];
    int last = letter <= LETTER_N ? 8 : 7;
    if (letter == LETTER_T && step < 6) return NAN;
    if (letter == LETTER_N && grade > 8) return step == 0 ? near : 0;
    if (letter == LETTER_M && grade == 6 && (step == 19 || step == 20)) return -9; /* not the -11 of the rule */
    if (step == 0 || (grade > last && letter != LETTER_K)) return near;
    return grade < 3 || grade > last ? NAN : near + additions[grade - 3][step];
}

static bool hole_limits(int letter, int grade, size_t step, double tolerance, double *lower, double *upper)
{
    if (letter == LETTER_J && (grade < 6 || grade > 8)) return false;
    if (letter == LETTER_H || letter <= LETTER_G) {
        *lower = letter == LETTER_H ? 0 : -deviations[letter][step];
        *upper = *lower + tolerance;
        return true;
    }
    *upper = letter == LETTER_JS  ? tolerance / 2
             : letter == LETTER_J ? around_zero[HOLE_J6 + grade - 6][step]
                                  : tight_hole(letter, grade, step);
    *lower = *upper - tolerance;
    return !isnan(*upper);
}

bool wh_iso286_limits(double size, double code, double *lower, double *upper)
{
    size_t step = step_of(fine_steps, FINE, size);
    int letter = letter_of(code), grade = grade_of(code);
    double tolerance = wh_iso286_tolerance(size, grade) * 1e6, low = 0, high = 0;
    if (step == FINE || isnan(tolerance) || letter >= LETTERS) return false;
    if (!(wh_iso286_zone_is_hole(code) ? hole_limits : shaft_limits)(letter, grade, step, tolerance, &low, &high))
        return false;
    *lower = low * 1e-6;
    *upper = high * 1e-6;
    return true;
}

static bool grade_digits(const char *text, size_t n, int *ret)
{
    int grade = 0;
    if (n < 1 || n > 2 || text[0] == '0') return false;
    for (size_t i = 0; i < n; i++) {
        if (text[i] < '0' || text[i] > '9') return false;
        grade = grade * 10 + text[i] - '0';
    }
    *ret = grade;
    return grade <= GRADES;
}

/* Zones of j and J exist only about the usual grades. */
static bool zone_exists(bool hole, int letter, int grade)
{
    return letter != LETTER_J || (hole ? grade >= 6 && grade <= 8 : grade >= 5 && grade <= 7);
}

static char in_case(char c, bool hole)
{
    return hole && c ? (char)(c - 'a' + 'A') : c;
}

static bool starts_with_letter(const char *text, size_t n, int letter, bool hole)
{
    size_t length = strlen(letters[letter]);
    if (n < length) return false;
    for (size_t i = 0; i < length; i++)
        if (text[i] != in_case(letters[letter][i], hole)) return false;
    return true;
}

bool wh_iso286_zone_read(const char *text, size_t n, double *ret)
{
    bool hole = n > 0 && text[0] >= 'A' && text[0] <= 'Z';
    for (int letter = 0; letter < LETTERS; letter++) {
        int grade;
        size_t length = strlen(letters[letter]);
        if (!starts_with_letter(text, n, letter, hole)) continue;
        if (!grade_digits(text + length, n - length, &grade) || !zone_exists(hole, letter, grade)) continue;
        *ret = zone_code(hole, letter, grade);
        return true;
    }
    return false;
}

size_t wh_iso286_zone_print(double code, char *to, size_t room)
{
    bool hole = wh_iso286_zone_is_hole(code);
    const char *letter = letters[letter_of(code)];
    char name[3] = {in_case(letter[0], hole), in_case(letter[1], hole), '\0'};
    return (size_t)snprintf(to, room, "%s%d", name, grade_of(code));
}

size_t wh_iso286_zone_list(size_t i, char *to, size_t room)
{
    for (int hole = 0; hole < 2; hole++)
        for (int letter = 0; letter < LETTERS; letter++)
            for (int grade = 3; grade <= 11; grade++)
                if (zone_exists(hole, letter, grade) && i-- == 0)
                    return wh_iso286_zone_print(zone_code(hole, letter, grade), to, room);
    return 0;
}

bool wh_iso286_grade_read(const char *text, size_t n, double *ret)
{
    int grade;
    if (n < 3 || (memcmp(text, "IT", 2) != 0 && memcmp(text, "it", 2) != 0)) return false;
    if (!grade_digits(text + 2, n - 2, &grade)) return false;
    *ret = grade;
    return true;
}

size_t wh_iso286_grade_print(double code, char *to, size_t room)
{
    return (size_t)snprintf(to, room, "IT%d", (int)code);
}

size_t wh_iso286_grade_list(size_t i, char *to, size_t room)
{
    return i < GRADES ? wh_iso286_grade_print((double)(i + 1), to, room) : 0;
}
