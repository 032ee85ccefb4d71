/* Any text as a number, a unit and a value. Whatever is read is finite and in order, and what is printed from it reads
 * back as itself. */
#include "base/quantity.h"
#include "base/text.h"
#include "fuzz.h"

#include <math.h>
#include <string.h>

enum { CAP = 1 << 20, LONGEST = 4096, ALL_DIGITS = 17 };

static void check_printed(struct wh_arena *arena, double si, const struct wh_unit *unit)
{
    double number = (si - unit->offset) / unit->factor, slack = 4e-16 * fabs(unit->offset);
    if (fabs(number) < 1e-290 || fabs(number) > 1e300 || fabs(si) < 1e-290) return; /* numbers that lose digits */
    struct wh_value back;
    const char *text = wh_quantity_print(arena, si, unit, ALL_DIGITS);
    must(wh_value_read(text, unit, &back, NULL) == WH_READ_WELL);
    must(fabs(back.best - si) <= 1e-15 * fabs(si) + slack);
    text = wh_quantity_print(arena, si, unit, 4);
    must(wh_value_read(text, unit, &back, NULL) == WH_READ_WELL);
    must(fabs(back.best - si) <= 0.51e-3 * fabs(number) * unit->factor + slack);
}

static void check_value(struct wh_arena *arena, const char *text, const struct wh_unit *wanted)
{
    struct wh_value value = {0};
    struct wh_unit unit = {0};
    enum wh_misread misread = wh_value_read(text, wanted, &value, &unit);
    must(wh_text_width(wh_misread_words(arena, misread, text, wanted)) > 0);
    if (misread != WH_READ_WELL) return;
    must(isfinite(value.best) && isfinite(value.least) && isfinite(value.most) && isfinite(value.u));
    must(value.least <= value.best && value.best <= value.most && value.u >= 0);
    must(unit.name >= text && unit.name + unit.length <= text + strlen(text));
    must(!wanted || wh_dimension_same(wanted->dimension, unit.dimension));
    must(*wh_dimension_words(arena, unit.dimension));
    check_printed(arena, value.best, &unit);
}

static enum wh_status check(struct wh_arena *arena, void *context)
{
    static const char *const wanted[] = {"mm", "rpm", "K", "degC", "1", "N/mm2", "W/m2 K"};
    const char *text = context;
    double number;
    const char *end = wh_number_read(text, &number);
    must(!end || (isfinite(number) && end > text && end <= text + strlen(text)));
    struct wh_unit unit;
    if (wh_unit_read(text, strlen(text), &unit)) must(unit.factor > 0);
    check_value(arena, text, NULL);
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
        must(wh_unit_read(wanted[i], strlen(wanted[i]), &unit));
        check_value(arena, text, &unit);
    }
    return WH_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    char text[LONGEST];
    if (size >= sizeof text) return 0;
    if (size > 0) memcpy(text, bytes, size);
    text[size] = '\0';
    must(wh_arena_run(CAP, check, text) == WH_OK);
    return 0;
}
