#include "study/record_figure.h"

#include "base/text.h"

#include <string.h>

static const struct {
    const char *words, *unit;
    bool has_place;
} figures[WH_RECORD_FIGURES] = {
    [WH_RECORD_NONE] = {"", "1", false},
    [WH_RECORD_VELOCITY] = {"velocity", "m/s", true},
    [WH_RECORD_DISPLACEMENT] = {"displacement", "m", true},
    [WH_RECORD_ACCELERATION] = {"acceleration", "m/s2", true},
    [WH_RECORD_SPEED] = {"speed", "rad/s", false},
    [WH_RECORD_RUN_UP] = {"run-up", "s", false},
    [WH_RECORD_RUN_DOWN] = {"run-down", "s", false},
    [WH_RECORD_START_CURRENT] = {"start current", "A", false},
};

const char *wh_record_figure_words(enum wh_record_figure figure)
{
    return figures[figure].words;
}

bool wh_record_figure_has_place(enum wh_record_figure figure)
{
    return figures[figure].has_place;
}

struct wh_unit wh_record_figure_unit(enum wh_record_figure figure)
{
    struct wh_unit unit = {0};
    wh_unit_read(figures[figure].unit, strlen(figures[figure].unit), &unit);
    return unit;
}

enum wh_record_figure wh_record_figure_read(struct wh_arena *arena, const char *text, const char **ret_place)
{
    const char *at = strstr(text, " at ");
    const char *words = at ? wh_arena_slice(arena, text, (size_t)(at - text)) : text;
    *ret_place = at ? at + 4 : NULL;
    for (int i = WH_RECORD_NONE + 1; i < WH_RECORD_FIGURES; i++)
        if (wh_same(words, figures[i].words) && (!at || (figures[i].has_place && at[4])))
            return (enum wh_record_figure)i;
    return WH_RECORD_NONE;
}
