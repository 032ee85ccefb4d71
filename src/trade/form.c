#include "trade/form.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

const char *wh_origin_words(enum wh_origin origin)
{
    static const char *const words[] = {"missing", "given", "table", "computed", "read", "set", "usual"};
    return words[origin];
}

static bool read_any(const char *unit, struct wh_form *form)
{
    while (*unit == ' ') unit++;
    form->takes = strcmp(unit, "any") == 0              ? WH_FORM_ANY
                  : strcmp(unit, "any difference") == 0 ? WH_FORM_ANY_DIFFERENCE
                                                        : WH_FORM_OWN;
    return form->takes != WH_FORM_OWN && wh_unit_read("1", 1, &form->unit);
}

/* "[least]..[most] unit": an open side is infinite. */
static bool read_range(const char *range, struct wh_form *form)
{
    const char *dots = strstr(range, "..");
    const char *unit = range;
    double least = -INFINITY, most = INFINITY;
    if (dots) {
        if (dots > range && wh_number_read(range, &least) != dots) return false;
        unit = dots + 2;
        const char *end = *unit == ' ' || !*unit ? unit : wh_number_read(unit, &most);
        if (!end) return false;
        unit = end;
    }
    if (!read_any(unit, form) && !wh_unit_read(unit, strlen(unit), &form->unit)) return false;
    form->least = least * form->unit.factor + form->unit.offset;
    form->most = most * form->unit.factor + form->unit.offset;
    return least < most;
}

bool wh_form_read(const char *range, struct wh_form *ret)
{
    *ret = (struct wh_form){.vocabulary = wh_vocabulary_find(range, strlen(range))};
    return ret->vocabulary || read_range(range, ret);
}

/* The listed designation most like a text, for "did you mean". */
static const char *nearest_designation(struct wh_arena *arena, const struct wh_vocabulary *vocabulary, const char *text)
{
    WH_LIST(const char *) list = {0};
    char word[64];
    for (size_t i = 0; i < 4096 && vocabulary->list && vocabulary->list(i, word, sizeof word) > 0; i++)
        *WH_PUSH(arena, &list) = wh_arena_text(arena, word);
    return wh_nearest(text, list.at, list.count);
}

static enum wh_status read_designation(const struct wh_vocabulary *vocabulary, const char *name, const char *text,
                                       struct wh_place place, struct wh_value *ret, struct wh_errors *reterr)
{
    double code;
    if (vocabulary->read(text, strlen(text), &code)) {
        *ret = wh_exact(code);
        return WH_OK;
    }
    const char *nearest = nearest_designation(reterr->arena, vocabulary, text);
    const char *right = nearest ? wh_arena_print(reterr->arena, "did you mean \"%s\"?", nearest)
                                : wh_arena_print(reterr->arena, "write a %s, for example \"%s\"", vocabulary->title,
                                                 vocabulary->example);
    return wh_errors_add(reterr, WH_ERR_INPUT, place, right, "%s: \"%s\" is no %s that is known here", name, text,
                         vocabulary->title);
}

void wh_form_take(struct wh_form *form, const struct wh_form *from, const char *text)
{
    struct wh_value value;
    struct wh_unit unit;
    if (form->takes == WH_FORM_OWN) return;
    if (from)
        form->unit = from->unit;
    else if (wh_value_read(text, NULL, &value, &unit) == WH_READ_WELL)
        form->unit = unit;
    else
        return;
    if (form->takes == WH_FORM_ANY_DIFFERENCE && form->unit.offset > 0) wh_unit_read("K", 1, &form->unit);
    form->takes = WH_FORM_OWN;
}

bool wh_form_between(double value, double least, double most)
{
    const double slack = 1e-12;
    return value >= least - slack * fabs(least) && value <= most + slack * fabs(most);
}

enum wh_status wh_form_value(const struct wh_form *form, const char *name, const char *text, struct wh_place place,
                             struct wh_value *ret, struct wh_errors *reterr)
{
    struct wh_arena *arena = reterr->arena;
    if (form->vocabulary) return read_designation(form->vocabulary, name, text, place, ret, reterr);
    struct wh_value value;
    enum wh_misread misread = wh_value_read(text, &form->unit, &value, NULL);
    if (misread != WH_READ_WELL)
        return wh_errors_add(reterr, WH_ERR_INPUT, place, NULL, "%s: %s", name,
                             wh_misread_words(arena, misread, text, &form->unit));
    if (!wh_form_between(value.least, form->least, form->most) || !wh_form_between(value.most, form->least, form->most))
        return wh_errors_add(reterr, WH_ERR_INPUT, place, NULL, "%s: \"%s\" is out of range: %s", name, text,
                             wh_form_words(arena, form));
    *ret = value;
    return WH_OK;
}

const char *wh_form_print(struct wh_arena *arena, const struct wh_form *form, double value, double uncertainty)
{
    char word[64];
    if (form->vocabulary) {
        if (form->vocabulary->print(value, word, sizeof word) == 0) return "no designation";
        return wh_arena_text(arena, word);
    }
    double size = fabs(value - form->unit.offset);
    int digits = 6;
    if (uncertainty > 0 && size > 0) digits = (int)ceil(log10(size / uncertainty)) + 2;
    return wh_quantity_print(arena, value, &form->unit, digits < 2 ? 2 : digits > 6 ? 6 : digits);
}

/* An end of a range without the zeros that say nothing: "500 mm", "1e-6 1/K". */
static const char *side(struct wh_arena *arena, const struct wh_form *form, double value)
{
    const char *text = wh_quantity_print(arena, value, &form->unit, 15);
    size_t n = strcspn(text, " "), digits = strcspn(text, "e "), keep = digits;
    if (!memchr(text, '.', digits)) return text;
    while (text[keep - 1] == '0') keep--;
    if (text[keep - 1] == '.') keep--;
    double power = 0;
    if (digits == n || !wh_number_read(text + digits + 1, &power))
        return wh_arena_print(arena, "%.*s%s", (int)keep, text, text + n);
    return wh_arena_print(arena, "%.*se%.0f%s", (int)keep, text, power, text + n);
}

const char *wh_form_words(struct wh_arena *arena, const struct wh_form *form)
{
    if (form->vocabulary)
        return wh_arena_print(arena, "a %s, for example \"%s\"", form->vocabulary->title, form->vocabulary->example);
    if (form->takes != WH_FORM_OWN) return "in any unit, the same for all";
    bool below = isfinite(form->least), above = isfinite(form->most);
    if (below && above)
        return wh_arena_print(arena, "from %s to %s", side(arena, form, form->least), side(arena, form, form->most));
    if (below) return wh_arena_print(arena, "at least %s", side(arena, form, form->least));
    if (above) return wh_arena_print(arena, "at most %s", side(arena, form, form->most));
    return wh_dimension_words(arena, form->unit.dimension);
}
