#include "testrun/compare.h"

#include <math.h>

/* A change below this share is what reading twice may make: common practice. */
static const double quarter = 0.25;

static bool same_word(const struct wh_tree *a, const struct wh_tree *b, const char *key)
{
    return wh_same(wh_tree_text(a, key, ""), wh_tree_text(b, key, ""));
}

static bool alike(const struct wh_tree *a, const struct wh_tree *b)
{
    static const char *const keys[] = {"name", "channel", "place", "direction", "unit", "low", "high"};
    for (size_t k = 0; k < sizeof keys / sizeof *keys; k++)
        if (!same_word(a, b, keys[k])) return false;
    return true;
}

/* The figure's like in another list: where several records have channels of one name, the first is the first's like. */
static const struct wh_tree *like(const struct wh_tree *others, const struct wh_tree *figures,
                                  const struct wh_tree *figure)
{
    size_t before = 0;
    for (const struct wh_tree *f = figures->first; f != figure; f = f->next) before += alike(f, figure);
    for (const struct wh_tree *other = others->first; other; other = other->next)
        if (alike(other, figure) && before-- == 0) return other;
    return NULL;
}

static const char *words_of(struct wh_arena *arena, const struct wh_compared *c)
{
    if (!c->matters) return "as before";
    if (c->now > 2 * c->before) return wh_arena_print(arena, "%.1f times what it was: look for the cause", c->ratio);
    return wh_arena_print(arena, "%s by %.0f %%", c->now > c->before ? "up" : "down", 100 * fabs(c->ratio - 1));
}

static struct wh_compared compared(struct wh_arena *arena, const struct wh_tree *before, const struct wh_tree *now,
                                   double step)
{
    struct wh_compared c = {.name = wh_tree_text(now, "name", ""),
                            .place = wh_tree_text(now, "place", ""),
                            .direction = wh_tree_text(now, "direction", ""),
                            .unit = wh_tree_text(now, "unit", ""),
                            .before = wh_tree_number(before, "value", NAN),
                            .now = wh_tree_number(now, "value", NAN)};
    bool velocity = wh_same(c.name, "velocity");
    c.ratio = c.now / c.before;
    double change = fabs(c.now - c.before);
    c.matters = velocity && isfinite(step) ? change >= step : change > quarter * c.before;
    c.says = words_of(arena, &c);
    return c;
}

enum wh_status wh_compare(struct wh_arena *arena, const struct wh_tree *before, const struct wh_tree *now, double step,
                          struct wh_compared **ret, size_t *ret_count, struct wh_errors *reterr)
{
    const struct wh_tree *old = wh_tree_get(before, "figures"), *fresh = wh_tree_get(now, "figures");
    if (!old || old->is != WH_TREE_LIST)
        return wh_errors_add(reterr, WH_ERR_INPUT, before ? before->place : (struct wh_place){0},
                             "the file that `wharve testrun … --json` printed", "no figures of a test run");
    struct wh_compared *list = WH_NEW(arena, fresh->count, struct wh_compared);
    size_t count = 0;
    for (const struct wh_tree *figure = fresh->first; figure; figure = figure->next) {
        const struct wh_tree *was = like(old, fresh, figure);
        if (!was || !(wh_tree_number(was, "value", NAN) > 0) || !isfinite(wh_tree_number(figure, "value", NAN)))
            continue;
        list[count++] = compared(arena, was, figure, step);
    }
    *ret = list;
    *ret_count = count;
    return WH_OK;
}
