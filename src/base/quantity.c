#include "base/quantity.h"

#include "base/text.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#define PI 3.14159265358979323846

/* An atom of a unit and its exponents of m, kg, s, K, rad, A. */
struct atom {
    const char *name;
    double factor, offset;
    signed char of[WH_DIMENSIONS];
};

static const struct atom atoms[] = {
    {"m", 1, 0, {1}},
    {"km", 1e3, 0, {1}},
    {"dm", 0.1, 0, {1}},
    {"cm", 1e-2, 0, {1}},
    {"mm", 1e-3, 0, {1}},
    {"um", 1e-6, 0, {1}},
    {"µm", 1e-6, 0, {1}},
    {"nm", 1e-9, 0, {1}},
    {"in", 0.0254, 0, {1}},
    {"ft", 0.3048, 0, {1}},
    {"mil", 25.4e-6, 0, {1}},
    {"l", 1e-3, 0, {3}},
    {"ml", 1e-6, 0, {3}},
    {"kg", 1, 0, {0, 1}},
    {"g", 1e-3, 0, {0, 1}},
    {"mg", 1e-6, 0, {0, 1}},
    {"lb", 0.45359237, 0, {0, 1}},
    {"oz", 0.028349523125, 0, {0, 1}},
    {"s", 1, 0, {0, 0, 1}},
    {"ms", 1e-3, 0, {0, 0, 1}},
    {"min", 60, 0, {0, 0, 1}},
    {"h", 3600, 0, {0, 0, 1}},
    {"day", 86400, 0, {0, 0, 1}},
    {"days", 86400, 0, {0, 0, 1}},
    {"year", 31557600, 0, {0, 0, 1}},
    {"years", 31557600, 0, {0, 0, 1}},
    {"Hz", 1, 0, {0, 0, -1}},
    {"kHz", 1e3, 0, {0, 0, -1}},
    {"N", 1, 0, {1, 1, -2}},
    {"kN", 1e3, 0, {1, 1, -2}},
    {"lbf", 4.4482216152605, 0, {1, 1, -2}},
    {"Pa", 1, 0, {-1, 1, -2}},
    {"kPa", 1e3, 0, {-1, 1, -2}},
    {"MPa", 1e6, 0, {-1, 1, -2}},
    {"GPa", 1e9, 0, {-1, 1, -2}},
    {"bar", 1e5, 0, {-1, 1, -2}},
    {"psi", 6894.757293168362, 0, {-1, 1, -2}},
    {"J", 1, 0, {2, 1, -2}},
    {"kJ", 1e3, 0, {2, 1, -2}},
    {"W", 1, 0, {2, 1, -3}},
    {"kW", 1e3, 0, {2, 1, -3}},
    {"hp", 745.6998715822702, 0, {2, 1, -3}},
    {"St", 1e-4, 0, {2, 0, -1}},
    {"cSt", 1e-6, 0, {2, 0, -1}},
    {"K", 1, 0, {0, 0, 0, 1}},
    {"degC", 1, 273.15, {0, 0, 0, 1}},
    {"°C", 1, 273.15, {0, 0, 0, 1}},
    {"degF", 5.0 / 9.0, 459.67 * 5.0 / 9.0, {0, 0, 0, 1}},
    {"°F", 5.0 / 9.0, 459.67 * 5.0 / 9.0, {0, 0, 0, 1}},
    {"rad", 1, 0, {0, 0, 0, 0, 1}},
    {"mrad", 1e-3, 0, {0, 0, 0, 0, 1}},
    {"deg", PI / 180, 0, {0, 0, 0, 0, 1}},
    {"°", PI / 180, 0, {0, 0, 0, 0, 1}},
    {"rev", 2 * PI, 0, {0, 0, 0, 0, 1}},
    {"r", 2 * PI, 0, {0, 0, 0, 0, 1}},
    {"Mrev", 2e6 * PI, 0, {0, 0, 0, 0, 1}},
    {"rpm", 2 * PI / 60, 0, {0, 0, -1, 0, 1}},
    {"A", 1, 0, {0, 0, 0, 0, 0, 1}},
    {"mA", 1e-3, 0, {0, 0, 0, 0, 0, 1}},
    {"V", 1, 0, {2, 1, -3, 0, 0, -1}},
    {"mV", 1e-3, 0, {2, 1, -3, 0, 0, -1}},
    {"ohm", 1, 0, {2, 1, -3, 0, 0, -2}},
    {"Mohm", 1e6, 0, {2, 1, -3, 0, 0, -2}},
    {"1", 1, 0, {0}},
    {"%", 1e-2, 0, {0}},
};

static const struct atom *find_atom(const char *text, size_t n)
{
    for (size_t i = 0; i < sizeof atoms / sizeof *atoms; i++)
        if (strlen(atoms[i].name) == n && memcmp(atoms[i].name, text, n) == 0) return &atoms[i];
    return NULL;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Cuts an exponent ("2", "-1", "^2", "²", "³") off the end of an atom's text; its value, 1 when there is none, 0 when
 * it is not a sensible one. */
static int cut_exponent(const char *text, size_t *n)
{
    if (*n > 2 && memcmp(text + *n - 2, "²", 2) == 0) return *n -= 2, 2;
    if (*n > 2 && memcmp(text + *n - 2, "³", 2) == 0) return *n -= 2, 3;
    if (*n < 2 || !is_digit(text[*n - 1])) return 1;
    int power = text[*n - 1] - '0';
    *n -= 1;
    if (*n > 1 && text[*n - 1] == '-') power = -power, *n -= 1;
    if (*n > 1 && text[*n - 1] == '^') *n -= 1;
    return is_digit(text[*n - 1]) || power > 8 || power < -8 ? 0 : power;
}

static bool multiply(struct wh_unit *unit, const char *text, size_t n, bool divide)
{
    int power = cut_exponent(text, &n);
    const struct atom *atom = find_atom(text, n);
    if (!atom || power == 0) return false;
    if (divide) power = -power;
    unit->factor *= pow(atom->factor, power);
    unit->offset = atom->offset;
    for (int d = 0; d < WH_DIMENSIONS; d++) {
        int sum = unit->dimension.of[d] + power * atom->of[d];
        if (sum < -32 || sum > 32) return false;
        unit->dimension.of[d] = (signed char)sum;
    }
    return power == 1 || unit->offset <= 0;
}

/* Bytes of a multiplication sign at text: space, "*", "." or "·"; 0 for none. */
static size_t times(const char *text, size_t n)
{
    if (n >= 2 && memcmp(text, "·", 2) == 0) return 2;
    return n >= 1 && (*text == ' ' || *text == '*' || *text == '.') ? 1 : 0;
}

bool wh_unit_read(const char *text, size_t n, struct wh_unit *ret)
{
    while (n > 0 && text[0] == ' ') text++, n--;
    while (n > 0 && text[n - 1] == ' ') n--;
    struct wh_unit unit = {.factor = 1, .name = text, .length = n};
    bool divide = false, offset_seen = false;
    size_t atoms_seen = 0;
    for (size_t i = 0; i < n;) {
        size_t end = i;
        while (end < n && text[end] != '/' && !times(text + end, n - end)) end++;
        if (end == i || !multiply(&unit, text + i, end - i, divide)) return false;
        offset_seen |= unit.offset > 0;
        atoms_seen++;
        for (i = end; i < n && (text[i] == '/' || times(text + i, n - i));) {
            if (text[i] == '/' && divide) return false;
            divide |= text[i] == '/';
            i += text[i] == '/' ? 1 : times(text + i, n - i);
            if (i == n) return false;
        }
    }
    if (offset_seen && atoms_seen > 1) return false;
    *ret = unit;
    return true;
}

bool wh_dimension_same(struct wh_dimension a, struct wh_dimension b)
{
    return memcmp(a.of, b.of, sizeof a.of) == 0;
}

const char *wh_dimension_words(struct wh_arena *arena, struct wh_dimension dimension)
{
    static const struct {
        struct wh_dimension dimension;
        const char *words;
    } known[] = {
        {{{0}}, "a pure number"},
        {{{1}}, "a length"},
        {{{2}}, "an area"},
        {{{3}}, "a volume"},
        {{{0, 1}}, "a mass"},
        {{{0, 0, 1}}, "a time"},
        {{{0, 0, -1}}, "a frequency"},
        {{{1, 0, -1}}, "a speed"},
        {{{0, 0, -1, 0, 1}}, "a speed of turning"},
        {{{0, 0, 0, 0, 1}}, "an angle"},
        {{{0, 0, 0, 1}}, "a temperature"},
        {{{1, 1, -2}}, "a force"},
        {{{-1, 1, -2}}, "a pressure"},
        {{{2, 1, -2}}, "a torque or energy"},
        {{{2, 1, -3}}, "a power"},
        {{{2, 0, -1}}, "a viscosity"},
        {{{0, 1, -2}}, "a stiffness"},
        {{{-1, 1}}, "a mass per length"},
        {{{2, 1}}, "a moment of inertia"},
        {{{0, 0, 0, 0, 0, 1}}, "a current"},
        {{{2, 1, -3, 0, 0, -2}}, "a resistance"},
    };
    static const char *const base[WH_DIMENSIONS] = {"m", "kg", "s", "K", "rad", "A"};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (wh_dimension_same(known[i].dimension, dimension)) return known[i].words;
    struct wh_text text = {.arena = arena};
    for (int d = 0; d < WH_DIMENSIONS; d++)
        if (dimension.of[d])
            wh_text_print(&text, dimension.of[d] == 1 ? "%s%s" : "%s%s%d", text.count ? " " : "", base[d],
                          dimension.of[d]);
    return wh_text_of(&text);
}

/* Digits and at most one decimal sign; the number as mantissa and power of ten. */
static const char *read_digits(const char *text, uint64_t *mantissa, int *power)
{
    const uint64_t full = (UINT64_MAX - 9) / 10;
    bool point = false, any = false;
    *mantissa = 0;
    *power = 0;
    for (;; text++) {
        if (is_digit(*text)) {
            any = true;
            bool room = *mantissa <= full;
            if (room) *mantissa = 10 * *mantissa + (uint64_t)(*text - '0');
            *power += room ? (point ? -1 : 0) : (point ? 0 : 1);
        } else if ((*text == '.' || *text == ',') && !point && is_digit(text[1])) {
            point = true;
        } else {
            return any ? text : NULL;
        }
    }
}

static const char *read_sign(const char *text, bool *minus)
{
    *minus = *text == '-' || wh_starts(text, "−");
    if (*text == '-' || *text == '+') return text + 1;
    return *minus ? text + strlen("−") : text;
}

/* mantissa * 10^power; exact to the last bit wherever both are exact doubles, which covers all that people write. */
static double scaled(uint64_t mantissa, int power)
{
    static const double ten[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    if (mantissa < (UINT64_C(1) << 53) && power >= -22 && power <= 22)
        return power < 0 ? (double)mantissa / ten[-power] : (double)mantissa * ten[power];
    return (double)((long double)mantissa * powl(10, power));
}

const char *wh_number_read(const char *text, double *ret)
{
    bool minus, small;
    uint64_t mantissa;
    int power;
    while (*text == ' ') text++;
    const char *at = read_digits(read_sign(text, &minus), &mantissa, &power);
    if (!at) return NULL;
    if (*at == 'e' || *at == 'E') {
        const char *digits = read_sign(at + 1, &small);
        if (is_digit(*digits)) {
            int more = 0;
            for (at = digits; is_digit(*at); at++) more = more < 1000 ? 10 * more + (*at - '0') : more;
            power += small ? -more : more;
        }
    }
    double value = scaled(mantissa, power);
    if (!isfinite(value)) return NULL;
    *ret = minus ? -value : value;
    return at;
}

struct wh_value wh_exact(double best)
{
    return (struct wh_value){WH_EXACT, best, best, best, 0};
}

struct wh_value wh_between(double least, double most)
{
    return (struct wh_value){WH_BETWEEN, (least + most) / 2, least, most, (most - least) / sqrt(12)};
}

struct wh_value wh_normal(double best, double u)
{
    return (struct wh_value){WH_NORMAL, best, best - 2 * u, best + 2 * u, u};
}

/* The numbers of a value before its unit: one, two parted by "..", or one and its expanded uncertainty. */
static enum wh_misread read_numbers(const char **text, double number[2], enum wh_shape *shape)
{
    const char *at = *text;
    *shape = WH_EXACT;
    if (!(at = wh_number_read(at, &number[0]))) return WH_READ_NO_NUMBER;
    while (*at == ' ') at++;
    size_t sign = wh_starts(at, "..") || wh_starts(at, "+-") ? 2 : wh_starts(at, "±") ? strlen("±") : 0;
    if (sign > 0) {
        *shape = *at == '.' ? WH_BETWEEN : WH_NORMAL;
        if (!(at = wh_number_read(at + sign, &number[1]))) return WH_READ_NO_NUMBER;
    }
    *text = at;
    return WH_READ_WELL;
}

static enum wh_misread check_unit(const struct wh_unit *wanted, struct wh_unit *unit)
{
    if (!wanted) return WH_READ_WELL;
    if (!wh_dimension_same(wanted->dimension, unit->dimension))
        return unit->length ? WH_READ_WRONG_KIND : WH_READ_NO_UNIT;
    return unit->offset > 0 && wanted->offset <= 0 ? WH_READ_WRONG_KIND : WH_READ_WELL;
}

enum wh_misread wh_value_read(const char *text, const struct wh_unit *wanted, struct wh_value *ret,
                              struct wh_unit *ret_unit)
{
    double number[2];
    enum wh_shape shape;
    struct wh_unit unit;
    while (*text == ' ') text++;
    if (!*text) return WH_READ_EMPTY;
    enum wh_misread misread = read_numbers(&text, number, &shape);
    if (misread != WH_READ_WELL) return misread;
    if (*text == '.' || *text == ',') return WH_READ_REST;
    if (!wh_unit_read(text, strlen(text), &unit)) return WH_READ_UNKNOWN_UNIT;
    if ((misread = check_unit(wanted, &unit)) != WH_READ_WELL) return misread;
    double a = number[0] * unit.factor + unit.offset;
    double b = shape == WH_NORMAL ? number[1] * unit.factor : number[1] * unit.factor + unit.offset;
    if (!isfinite(a) || (shape != WH_EXACT && !isfinite(b))) return WH_READ_NO_NUMBER;
    if ((shape == WH_BETWEEN && a > b) || (shape == WH_NORMAL && b < 0)) return WH_READ_REVERSED;
    *ret = shape == WH_EXACT ? wh_exact(a) : shape == WH_BETWEEN ? wh_between(a, b) : wh_normal(a, b / 2);
    if (ret_unit) *ret_unit = unit;
    return WH_READ_WELL;
}

const char *wh_misread_words(struct wh_arena *arena, enum wh_misread misread, const char *text,
                             const struct wh_unit *wanted)
{
    const char *kind = wanted ? wh_dimension_words(arena, wanted->dimension) : "a number with a unit";
    const char *unit = wanted ? wh_arena_slice(arena, wanted->name, wanted->length) : "mm";
    const char *as = wh_arena_print(arena, "write %s, for example \"30%s%s\"", kind, *unit ? " " : "", unit);
    const char *what[] = {
        [WH_READ_WELL] = "reads well",
        [WH_READ_EMPTY] = "nothing is written here",
        [WH_READ_NO_NUMBER] = "is not a number",
        [WH_READ_NO_UNIT] = "is a bare number without its unit",
        [WH_READ_UNKNOWN_UNIT] = "has a unit that is not known here",
        [WH_READ_WRONG_KIND] = wh_arena_print(arena, "has the wrong kind of unit, it is not %s", kind),
        [WH_READ_REVERSED] = "has its limits reversed, or an uncertainty below zero",
        [WH_READ_REST] = "has a second decimal sign",
    };
    return wh_arena_print(arena, "\"%s\" %s: %s", text, what[misread],
                          misread == WH_READ_REVERSED ? "write the smaller one first" : as);
}

static bool is_bare(const struct wh_unit *unit)
{
    return unit->length == 0 || (unit->length == 1 && *unit->name == '1');
}

static const char *with_unit(struct wh_arena *arena, const char *number, const struct wh_unit *unit)
{
    return is_bare(unit) ? number : wh_arena_print(arena, "%s %.*s", number, (int)unit->length, unit->name);
}

/* A number with a fixed number of decimals and its unit, without a minus before zero. */
static const char *fixed(struct wh_arena *arena, double number, int decimals, const struct wh_unit *unit)
{
    bool bare = is_bare(unit);
    char *text = wh_arena_print(arena, "%.*f%s%.*s", decimals, number, bare ? "" : " ", bare ? 0 : (int)unit->length,
                                unit->name);
    if (text[0] != '-') return text;
    char after_zeros = text[1 + strspn(text + 1, "0.")];
    return after_zeros == '\0' || after_zeros == ' ' ? text + 1 : text;
}

const char *wh_quantity_fixed(struct wh_arena *arena, double si, const struct wh_unit *unit, int decimals)
{
    return fixed(arena, (si - unit->offset) / unit->factor, decimals, unit);
}

const char *wh_quantity_print(struct wh_arena *arena, double si, const struct wh_unit *unit, int digits)
{
    double number = (si - unit->offset) / unit->factor, size = fabs(number);
    if (!isfinite(number)) return with_unit(arena, "no answer", unit);
    if (size > 0 && (size < 1e-4 || size >= 1e7))
        return with_unit(arena, wh_arena_print(arena, "%.*e", digits - 1, number), unit);
    char *as = wh_arena_print(arena, "%.*e", digits - 1, number); /* rounds first: 9.996 has four digits, 10.00 */
    const char *e = strchr(as, 'e');
    double power = 0;
    if (size > 0 && e) wh_number_read(e + 1, &power);
    int decimals = digits - 1 - (int)power;
    return fixed(arena, number, decimals > 0 ? decimals : 0, unit);
}
