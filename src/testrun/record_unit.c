#include "testrun/record_unit.h"

#include "base/quantity.h"

#include <string.h>

static const double gravity = 9.80665; /* standard acceleration of free fall, ISO 80000-3 */

static const struct {
    const char *unit;
    enum wh_measure of;
} measures[] = {{"m/s2", WH_ACCELERATION}, {"m/s", WH_VELOCITY}, {"m", WH_DISPLACEMENT},
                {"rad/s", WH_SPEED},       {"A", WH_CURRENT},    {"V", WH_NOT_STATED}};
enum { MEASURES = sizeof measures / sizeof *measures };

/* The words that stand for a direction, and ours for it. */
static const char *const directions[][2] = {{"across", "across"},     {"up", "up"},       {"along", "along"},
                                            {"horizontal", "across"}, {"vertical", "up"}, {"axial", "along"},
                                            {"h", "across"},          {"v", "up"},        {"a", "along"}};
enum { DIRECTIONS = sizeof directions / sizeof *directions };

bool wh_record_unit_read(const char *text, struct wh_record_unit *ret)
{
    struct wh_unit unit, known;
    *ret = (struct wh_record_unit){WH_NOT_STATED, 1, false};
    if (!*text || wh_same(text, "-") || wh_same(text, "1")) return true;
    if (wh_same(text, "g") || wh_same(text, "G") || wh_same(text, "gn")) {
        *ret = (struct wh_record_unit){WH_ACCELERATION, gravity, false};
        return true;
    }
    if (!wh_unit_read(text, strlen(text), &unit)) return false;
    for (size_t m = 0; m < MEASURES; m++) {
        wh_unit_read(measures[m].unit, strlen(measures[m].unit), &known);
        if (!wh_dimension_same(unit.dimension, known.dimension)) continue;
        *ret = (struct wh_record_unit){measures[m].of, unit.factor, wh_same(measures[m].unit, "V")};
        return true;
    }
    return false;
}

bool wh_record_scale_read(const char *text, double *ret_number, const char **ret_unit)
{
    const char *rest = wh_number_read(text, ret_number);
    if (!rest || !(*ret_number > 0)) return false;
    while (*rest == ' ') rest++;
    *ret_unit = rest;
    return true;
}

bool wh_record_sensitivity_read(struct wh_arena *arena, const char *text, struct wh_record_unit *ret)
{
    double number;
    const char *units, *slash;
    struct wh_record_unit above, below;
    if (!wh_record_scale_read(text, &number, &units) || !(slash = strchr(units, '/'))) return false;
    const char *under = slash + 1;
    size_t n = strlen(under);
    if (*under == '(' && n > 1 && under[n - 1] == ')') under = wh_arena_slice(arena, under + 1, n - 2);
    if (!wh_record_unit_read(wh_arena_slice(arena, units, (size_t)(slash - units)), &above) || !above.volts)
        return false;
    if (!wh_record_unit_read(under, &below) || below.of == WH_NOT_STATED) return false;
    *ret = (struct wh_record_unit){below.of, below.factor / (number * above.factor), false};
    return true;
}

static const char *trimmed(struct wh_arena *arena, const char *text, size_t n)
{
    while (n && (*text == ' ' || *text == '"' || *text == '\'')) text++, n--;
    while (n && (text[n - 1] == ' ' || text[n - 1] == '"' || text[n - 1] == '\'')) n--;
    return wh_arena_slice(arena, text, n);
}

/* "name [unit]" or "name (unit)" into both. */
static const char *split_unit(struct wh_arena *arena, const char *text, const char **ret_unit)
{
    const char *plain = trimmed(arena, text, strlen(text));
    size_t n = strlen(plain);
    *ret_unit = NULL;
    if (n < 2 || (plain[n - 1] != ']' && plain[n - 1] != ')')) return plain;
    const char *open = plain[n - 1] == ']' ? strchr(plain, '[') : strchr(plain, '(');
    if (!open) return plain;
    *ret_unit = trimmed(arena, open + 1, (size_t)(plain + n - 1 - open - 1));
    return trimmed(arena, plain, (size_t)(open - plain));
}

static char lower(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c + 'a' - 'A' : c);
}

static bool same_in_lower(const char *text, const char *word)
{
    for (; *text && lower(*text) == *word; text++) word++;
    return !*text && !*word;
}

void wh_record_name_read(struct wh_arena *arena, const char *text, struct wh_record_channel *channel,
                         const char **ret_unit)
{
    const char *name = split_unit(arena, text, ret_unit), *space = strrchr(name, ' ');
    const char *last = space ? space + 1 : name;
    if (!*name) return;
    channel->name = channel->place = name;
    channel->direction = "";
    if (same_in_lower(name, "tacho") || same_in_lower(name, "pulse")) channel->of = WH_TACHO;
    for (size_t d = 0; d < DIRECTIONS; d++) {
        if (!same_in_lower(last, directions[d][0])) continue;
        channel->direction = directions[d][1];
        channel->place = trimmed(arena, name, (size_t)(last - name));
    }
}
