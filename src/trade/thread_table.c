#include "trade/thread_table.h"

#include "trade/rule.h"
#include "trade/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PITCHES = 5 };

/* A row of ISO 261: diameter and pitches in hundredths of a mm; the coarse pitch is 0 where a size has none. */
struct size {
    unsigned diameter, coarse, fine[PITCHES];
};

static const struct size sizes[] = {
    {160, 35, {20}},
    {200, 40, {25}},
    {250, 45, {35}},
    {300, 50, {35}},
    {350, 60, {35}},
    {400, 70, {50}},
    {500, 80, {50}},
    {600, 100, {75}},
    {700, 100, {75}},
    {800, 125, {100, 75}},
    {900, 125, {100, 75}},
    {1000, 150, {125, 100, 75}},
    {1100, 150, {100, 75}},
    {1200, 175, {150, 125, 100}},
    {1400, 200, {150, 125, 100}},
    {1500, 0, {150, 100}},
    {1600, 200, {150, 100}},
    {1700, 0, {150, 100}},
    {1800, 250, {200, 150, 100}},
    {2000, 250, {200, 150, 100}},
    {2200, 250, {200, 150, 100}},
    {2400, 300, {200, 150, 100}},
    {2500, 0, {200, 150, 100}},
    {2600, 0, {150}},
    {2700, 300, {200, 150, 100}},
    {2800, 0, {200, 150, 100}},
    {3000, 350, {300, 200, 150, 100}},
    {3200, 0, {200, 150}},
    {3300, 350, {300, 200, 150}},
    {3500, 0, {150}},
    {3600, 400, {300, 200, 150}},
    {3800, 0, {150}},
    {3900, 400, {300, 200, 150}},
    {4000, 0, {300, 200, 150}},
    {4200, 450, {400, 300, 200, 150}},
    {4500, 450, {400, 300, 200, 150}},
    {4800, 500, {400, 300, 200, 150}},
    {5000, 0, {300, 200, 150}},
    {5200, 500, {400, 300, 200, 150}},
    {5500, 0, {400, 300, 200, 150}},
    {5600, 550, {400, 300, 200, 150}},
    {5800, 0, {400, 300, 200, 150}},
    {6000, 550, {400, 300, 200, 150}},
    {6200, 0, {400, 300, 200, 150}},
    {6400, 600, {400, 300, 200, 150}},
    {6500, 0, {400, 300, 200, 150}},
    {6800, 600, {400, 300, 200, 150}},
    {7000, 0, {600, 400, 300, 200, 150}},
    {7200, 0, {600, 400, 300, 200, 150}},
    {7500, 0, {400, 300, 200, 150}},
    {7600, 0, {600, 400, 300, 200, 150}},
    {8000, 0, {600, 400, 300, 200, 150}},
    {8500, 0, {600, 400, 300, 200}},
    {9000, 0, {600, 400, 300, 200}},
    {9500, 0, {600, 400, 300, 200}},
    {10000, 0, {600, 400, 300, 200}},
};
enum { SIZES = sizeof sizes / sizeof sizes[0] };

/* What a head bears on, mm: hexagon head dw (ISO 4014, 4017), socket head dw (ISO 4762), hole (ISO 273, medium); the
 * hexagon and the hole from M4 to M30 reproduce the published torques, the others are from memory. 0: not tabulated. */
struct head {
    unsigned diameter;
    double hexagon, socket, hole;
};

static const struct head heads[] = {
    {300, 4.6, 5.07, 3.4},     {400, 5.9, 6.53, 4.5},      {500, 6.9, 8.03, 5.5},     {600, 8.9, 9.38, 6.6},
    {800, 11.6, 12.33, 9.0},   {1000, 14.6, 15.33, 11.0},  {1200, 16.6, 17.23, 13.5}, {1400, 19.6, 20.17, 15.5},
    {1600, 22.5, 23.17, 17.5}, {1800, 25.3, 0, 20.0},      {2000, 28.2, 28.87, 22.0}, {2200, 31.7, 0, 24.0},
    {2400, 33.6, 34.81, 26.0}, {2700, 38.0, 0, 30.0},      {3000, 42.7, 43.61, 33.0}, {3300, 46.6, 0, 36.0},
    {3600, 51.1, 0, 39.0},     {3900, 55.9, 0, 42.0},      {4200, 60.0, 0, 45.0},     {4800, 69.5, 0, 52.0},
};

/* A code packs both in hundredths of a mm: M8x1.25 is 800125. */
static double pack(unsigned diameter, unsigned pitch)
{
    return (double)(diameter * 1000 + pitch);
}

static unsigned packed(double code)
{
    return code >= 0 && code < 1e8 ? (unsigned)code : 0;
}

/* Both are divided from whole numbers, so that 8 mm is the same number wherever it comes from. */
double wh_thread_diameter(double code)
{
    return (double)(packed(code) / 1000) / 1e5;
}

double wh_thread_pitch(double code)
{
    return (double)(packed(code) % 1000) / 1e5;
}

/* A decimal number of at most two decimals, in hundredths; the bytes read, 0 for none. */
static size_t read_hundredths(const char *text, size_t n, unsigned *ret)
{
    size_t i = 0, decimals = 0;
    bool point = false;
    *ret = 0;
    for (; i < n; i++) {
        if ((text[i] == '.' || text[i] == ',') && !point && i > 0 && i + 1 < n) {
            point = true;
            continue;
        }
        if (text[i] < '0' || text[i] > '9' || *ret > 99999 || decimals == 2) break;
        *ret = 10 * *ret + (unsigned)(text[i] - '0');
        decimals += point;
    }
    for (; decimals < 2; decimals++) *ret *= 10;
    return i;
}

/* Bytes of the sign between diameter and pitch: "x", "X" or the multiplication sign; 0 for none. */
static size_t times(const char *text, size_t n)
{
    if (*text == 'x' || *text == 'X') return 1;
    return n >= strlen("×") && memcmp(text, "×", strlen("×")) == 0 ? strlen("×") : 0;
}

static bool has_pitch(const struct size *size, unsigned pitch)
{
    bool has = pitch > 0 && size->coarse == pitch;
    for (size_t i = 0; i < PITCHES; i++) has |= pitch > 0 && size->fine[i] == pitch;
    return has;
}

bool wh_thread_read(const char *text, size_t n, double *ret)
{
    unsigned diameter, pitch = 0;
    if (n < 2 || (text[0] != 'M' && text[0] != 'm')) return false;
    size_t at = 1 + read_hundredths(text + 1, n - 1, &diameter);
    bool coarse = at == n;
    if (!coarse) {
        size_t sign = times(text + at, n - at);
        if (sign == 0) return false;
        at += sign;
        at += read_hundredths(text + at, n - at, &pitch);
        if (at != n) return false;
    }
    for (size_t i = 0; i < SIZES; i++) {
        if (sizes[i].diameter != diameter) continue;
        if (coarse) pitch = sizes[i].coarse;
        if (!has_pitch(&sizes[i], pitch)) return false;
        *ret = pack(diameter, pitch);
        return true;
    }
    return false;
}

static const struct size *size_of(unsigned diameter)
{
    for (size_t i = 0; i < SIZES; i++)
        if (sizes[i].diameter == diameter) return &sizes[i];
    return NULL;
}

size_t wh_thread_print(double code, char *to, size_t room)
{
    unsigned diameter = packed(code) / 1000, pitch = packed(code) % 1000;
    const struct size *size = size_of(diameter);
    if (!size || !has_pitch(size, pitch)) return 0;
    if (pitch == size->coarse) return (size_t)snprintf(to, room, "M%g", diameter / 100.0);
    return (size_t)snprintf(to, room, "M%gx%g", diameter / 100.0, pitch / 100.0);
}

size_t wh_thread_list(size_t i, char *to, size_t room)
{
    for (size_t s = 0; s < SIZES; s++) {
        if (sizes[s].coarse > 0 && i-- == 0) return wh_thread_print(pack(sizes[s].diameter, sizes[s].coarse), to, room);
        for (size_t p = 0; p < PITCHES && sizes[s].fine[p] > 0; p++)
            if (i-- == 0) return wh_thread_print(pack(sizes[s].diameter, sizes[s].fine[p]), to, room);
    }
    return 0;
}

static double tabulated(double value)
{
    return value > 0 ? value * 1e-3 : NAN;
}

bool wh_thread_of_code(double code, struct wh_thread *ret)
{
    char word[16];
    if (wh_thread_print(code, word, sizeof word) == 0) return false;
    double d = wh_thread_diameter(code), p = wh_thread_pitch(code);
    double d2 = d - 0.649519 * p, d3 = d - 1.226869 * p, mean = (d2 + d3) / 2;
    *ret = (struct wh_thread){.code = code, .diameter = d, .pitch = p, .pitch_diameter = d2, .minor_diameter = d3,
                              .nut_minor_diameter = d - 1.082532 * p, .stress_area = WH_PI / 4 * mean * mean,
                              .hexagon_bearing = NAN, .socket_bearing = NAN, .hole = NAN};
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        if (heads[i].diameter != packed(code) / 1000) continue;
        ret->hexagon_bearing = tabulated(heads[i].hexagon);
        ret->socket_bearing = tabulated(heads[i].socket);
        ret->hole = tabulated(heads[i].hole);
    }
    return true;
}

bool wh_thread_find(const char *text, size_t n, struct wh_thread *ret)
{
    double code;
    if (!wh_thread_read(text, n, &code)) return false;
    return wh_thread_of_code(code, ret);
}

/* From memory, near the classes B (0.08 to 0.16) and C (0.14 to 0.24) of VDI 2230-1. On locker the sources disagree
 * whether it eases or brakes the thread while it is wet: hence its width. */
static const char *const states[] = {"oiled", "dry", "paste", "locked"};
static const struct {
    double least, most;
} frictions[] = {{0.10, 0.14}, {0.14, 0.24}, {0.10, 0.16}, {0.10, 0.16}};
enum { STATES = sizeof states / sizeof states[0] };

bool wh_thread_state_read(const char *text, size_t n, double *ret)
{
    return wh_words_read(states, STATES, text, n, ret);
}

size_t wh_thread_state_print(double code, char *to, size_t room)
{
    return wh_words_print(states, STATES, code, to, room);
}

size_t wh_thread_state_list(size_t i, char *to, size_t room)
{
    return wh_words_print(states, STATES, (double)i, to, room);
}

bool wh_thread_friction(double state, double *least, double *most)
{
    size_t place = wh_words_place(state, STATES);
    bool found = place < STATES;
    *least = found ? frictions[place].least : NAN;
    *most = found ? frictions[place].most : NAN;
    return found;
}
