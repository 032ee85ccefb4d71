/* An oil pot with its level, and what goes into it. */
#include "base/text.h"
#include "kind/kind.h"

enum { SHAPES = 4, SIZES = 3 };

/* The sizes of a pot: a ring round a boss, a box, a cylinder that stands or lies. */
static const char *const shapes[SHAPES][SIZES] = {{"outer", "inner", "depth"},
                                                  {"length", "width", "depth"},
                                                  {"diameter", "depth"},
                                                  {"lying-diameter", "length", "depth"}};

static const char *as_written(struct wh_arena *arena, const char *key)
{
    char *text = wh_arena_text(arena, key);
    for (char *c = text; *c; c++) *c = *c == '-' ? ' ' : *c;
    return text;
}

static bool is_whole(struct wh_filling *filling, const char *const sizes[SIZES])
{
    for (size_t i = 0; i < SIZES && sizes[i]; i++)
        if (!filling->written(filling->context, sizes[i])) return false;
    return true;
}

/* A size that makes no whole shape with the others would give no litres at all. */
static enum wh_status fill(struct wh_filling *filling)
{
    const char *lone = NULL;
    for (size_t s = 0; s < SHAPES; s++) {
        if (is_whole(filling, shapes[s])) return WH_OK;
        for (size_t i = 0; i < SIZES && shapes[s][i]; i++)
            if (!lone && filling->written(filling->context, shapes[s][i]))
                lone = as_written(filling->arena, shapes[s][i]);
    }
    if (!lone) return WH_OK;
    return filling->complain(filling->context, lone,
                             "a pot has outer, inner and depth; a box length, width and depth; a standing cylinder "
                             "diameter and depth; a lying one lying diameter, length and depth",
                             wh_arena_print(filling->arena, "%s: the shape of the sump is only half stated", lone));
}

const struct wh_kind wh_sump_kind = {
    .name = "sump",
    .title = "oil sump",
    .keys = {{"oil", "oil-grade", NULL, "oil", true, 0},
             {"drained-by", "thing", NULL, "the plug that empties it", true, 0},
             {"level", "text", NULL, "where the level stands", true, 0},
             {"outer", "5..5000 mm", NULL, "inside diameter of the pot", false, 0},
             {"inner", "0..5000 mm", NULL, "diameter of the boss in it", false, 0},
             {"depth", "0..5000 mm", NULL, "depth to the level", false, 0},
             {"diameter", "5..5000 mm", NULL, "inside diameter of a standing cylinder", false, 0},
             {"lying-diameter", "5..5000 mm", NULL, "inside diameter of a lying cylinder", false, 0},
             {"length", "5..10000 mm", NULL, "length of a box or lying cylinder", false, 0},
             {"width", "5..5000 mm", NULL, "width of a box", false, 0},
             {"fill-further", "0..1000 l", "0 l", "what else holds oil", false, 0},
             {"drain-time", "0..240 min", "5 min", "until what is below its level may be opened", false, 0},
             {"temperature", "-20..200 degC", "60 degC", "temperature of the oil at work", false, 0}},
    .rules = {{"lubricant.fill-ring", NULL, NULL},
              {"lubricant.fill-box", NULL, NULL},
              {"lubricant.fill-cylinder-standing", NULL, NULL},
              {"lubricant.fill-cylinder-lying", NULL, "diameter=lying-diameter"},
              {"lubricant.fill", NULL, NULL},
              {"lubricant.purchase", NULL, NULL},
              {"lubricant.viscosity-of-grade", "viscosity", "oil-grade=oil"}},
    .fill = fill,
    .steps = {{.when = WH_WHEN_REBUILD,
               .words = "Machine upright, level and still: fill with {oil} to {level}. Let it settle 10 minutes and "
                        "look again.",
               .figures = {"fill", "purchase", "viscosity"},
               .cautions = {"level-not-litres"}}}};
