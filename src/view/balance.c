#include "view/balance.h"

#include "base/quantity.h"
#include "view/dimension.h"

#include <math.h>
#include <string.h>

static const char *print(struct wh_arena *arena, double si, const char *unit_name, int digits)
{
    struct wh_unit unit;
    wh_unit_read(unit_name, strlen(unit_name), &unit);
    return isnan(si) ? "not known" : wh_quantity_print(arena, si, &unit, digits);
}

/* A mass as it lies in the box: no zeros that say nothing. */
static const char *grams(struct wh_arena *arena, double mass)
{
    return wh_arena_print(arena, mass < 1 ? "%.3g g" : "%.0f g", mass * 1e3);
}

static struct wh_tree *add_map(struct wh_arena *arena, struct wh_tree *list)
{
    return wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
}

static void add_reasons(struct wh_arena *arena, struct wh_tree *map, const char *key,
                        const struct wh_balance_reason reasons[], size_t count)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, key, WH_TREE_LIST);
    for (size_t i = 0; i < count; i++) {
        struct wh_tree *item = add_map(arena, list);
        const char *right;
        wh_tree_add_text(arena, item, "says", wh_view_balance_reason(arena, &reasons[i], &right));
        if (right) wh_tree_add_text(arena, item, "right", right);
    }
}

/* "15 g in hole 4", "15 g at 137 deg". */
static const char *where(struct wh_arena *arena, const struct wh_balance_place *place)
{
    return place->hole ? wh_arena_print(arena, "hole %zu, %s", place->hole, wh_view_angle(arena, place->angle))
                       : wh_arena_print(arena, "at %s", wh_view_angle(arena, place->angle));
}

static void add_place(struct wh_arena *arena, struct wh_tree *map, const struct wh_balance_place *place)
{
    wh_tree_add_text(arena, map, "mass", grams(arena, place->mass));
    wh_tree_add_text(arena, map, "where", where(arena, place));
    wh_tree_add_text(arena, map, "pull", print(arena, place->pull, "N", 3));
    struct wh_tree *si = wh_tree_add_new(arena, map, "si", WH_TREE_MAP);
    wh_tree_add_number(arena, si, "mass", place->mass);
    wh_tree_add_number(arena, si, "angle", place->angle);
    wh_tree_add_number(arena, si, "pull", place->pull);
    if (place->hole) wh_tree_add_number(arena, si, "hole", (double)place->hole);
}

/* Every mass that was fitted, with its pull at speed and how it is held. */
static void add_trials(struct wh_arena *arena, const struct wh_balance_sheet *sheet, struct wh_tree *map)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "fitted", WH_TREE_LIST);
    for (size_t f = 0; f < sheet->fitted_count; f++) {
        const struct wh_balance_fitted *fitted = &sheet->fitted[f];
        struct wh_balance_place place = {fitted->mass, fitted->angle, fitted->hole,
                                         wh_balance_pull(sheet, fitted->plane, fitted->mass)};
        struct wh_tree *item = add_map(arena, list);
        wh_tree_add_text(arena, item, "run", sheet->run[fitted->run].id);
        wh_tree_add_text(arena, item, "plane", sheet->plane[fitted->plane].id);
        add_place(arena, item, &place);
        wh_tree_add_text(arena, item, "fastened", fitted->fastened ? fitted->fastened : "not said: how?");
        wh_tree_add_truth(arena, item, "stays", fitted->stays);
    }
}

static void add_correction(struct wh_arena *arena, const struct wh_balance_sheet *sheet, size_t plane,
                           const struct wh_balance_correction *c, struct wh_tree *item)
{
    const struct wh_balance_plane *p = &sheet->plane[plane];
    double mass = cabs(c->wanted) / p->radius, left = cabs(c->left);
    if (left < 1e-9 * cabs(c->wanted)) left = 0; /* rounding */
    wh_tree_add_text(arena, item, "plane", p->id);
    wh_tree_add_text(arena, item, "deed", p->drilled ? "drill out" : "fit");
    wh_tree_add_text(arena, item, "wanted",
                     wh_arena_print(arena, "%s at %s (%s at %s)", grams(arena, mass),
                                    wh_view_angle(arena, carg(c->wanted)), print(arena, cabs(c->wanted), "g mm", 3),
                                    print(arena, p->radius, "mm", 4)));
    if (!isnan(c->size_doubt))
        wh_tree_add_text(arena, item, "doubt",
                         wh_arena_print(arena, "+- %s, +- %.0f deg", print(arena, c->size_doubt / p->radius, "g", 2),
                                        fmin(c->angle_doubt * 180 / 3.14159265358979323846, 180)));
    struct wh_tree *masses = wh_tree_add_new(arena, item, "masses", WH_TREE_LIST);
    for (size_t i = 0; i < c->places; i++) add_place(arena, add_map(arena, masses), &c->place[i]);
    wh_tree_add_text(arena, item, "left", print(arena, left, "g mm", 2));
    if (c->ways > 0)
        wh_tree_add_text(arena, item, "proof",
                         wh_arena_print(arena, "the best of all %.0f ways of filling the holes", c->ways));
    struct wh_tree *choices = wh_tree_add_new(arena, item, "choices", WH_TREE_LIST);
    for (size_t k = 0; k <= c->most && c->ways > 0; k++) {
        if (isinf(c->best[k].left)) continue;
        struct wh_tree *choice = add_map(arena, choices);
        wh_tree_add_number(arena, choice, "masses", (double)k);
        wh_tree_add_text(arena, choice, "leaves", print(arena, c->best[k].left, "g mm", 2));
    }
    struct wh_tree *si = wh_tree_add_new(arena, item, "si", WH_TREE_MAP);
    wh_tree_add_number(arena, si, "wanted", cabs(c->wanted));
    wh_tree_add_number(arena, si, "angle", carg(c->wanted));
    wh_tree_add_number(arena, si, "doubt", c->size_doubt);
    wh_tree_add_number(arena, si, "left", cabs(c->left));
}

static const char *verdict_words(enum wh_balance_verdict verdict)
{
    static const char *const words[] = {"within", "not proven", "outside"};
    return words[verdict];
}

/* What is left, drawn between nothing and what is permissible. */
static void add_dimension(struct wh_arena *arena, struct wh_tree *item, const struct wh_balance_residual *r)
{
    struct wh_limits_drawn limits = {.least = 0,
                                     .most = r->allowed,
                                     .reading = r->left,
                                     .low = fmax(0, r->left - r->doubt),
                                     .high = r->left + r->doubt,
                                     .title = r->name,
                                     .verdict = verdict_words(r->verdict)};
    wh_unit_read("g mm", 4, &limits.unit);
    if (isnan(r->doubt)) return;
    struct wh_tree *drawn = wh_tree_add_new(arena, item, "drawn", WH_TREE_SCENE);
    drawn->scene = wh_view_dimension(arena, &limits);
    drawn->text = drawn->scene->title;
}

static void add_permissible(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                            const struct wh_balance_result *result, struct wh_tree *map)
{
    if (isnan(result->allowed)) return;
    struct wh_tree *out = wh_tree_add_new(arena, map, "permissible", WH_TREE_MAP);
    wh_tree_add_text(arena, out, "whole", print(arena, result->allowed, "g mm", 3));
    wh_tree_add_text(arena, out, "from",
                     wh_arena_print(arena, "ISO 21940-11, G %.3g, %s at %s", sheet->grade * 1e3,
                                    print(arena, sheet->mass, "kg", 3), print(arena, sheet->service, "rpm", 4)));
    struct wh_tree *list = wh_tree_add_new(arena, out, "places", WH_TREE_LIST);
    for (size_t i = 0; i < result->residuals; i++) {
        const struct wh_balance_residual *r = &result->residual[i];
        struct wh_tree *item = add_map(arena, list);
        wh_tree_add_text(arena, item, "name", r->name);
        wh_tree_add_text(arena, item, "allowed", print(arena, r->allowed, "g mm", 3));
        wh_tree_add_text(arena, item, "before", print(arena, r->before, "g mm", 3));
        wh_tree_add_text(arena, item, "left", print(arena, r->left, "g mm", 2));
        if (!isnan(r->doubt)) wh_tree_add_text(arena, item, "doubt", print(arena, r->doubt, "g mm", 2));
        wh_tree_add_text(arena, item, "verdict", verdict_words(r->verdict));
        wh_tree_add_text(arena, item, "verdict before", verdict_words(r->verdict_before));
        add_dimension(arena, item, r);
    }
}

static const char *reading(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                           const struct wh_balance_result *result, size_t s, double complex value)
{
    const char *size = wh_quantity_print(arena, cabs(value), &sheet->sensor[s].unit, 3);
    if (result->phaseless) return size;
    return wh_arena_print(arena, "%s at %s", size, wh_view_angle(arena, wh_balance_turned(sheet->lag, carg(value))));
}

static void add_readings(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                         const struct wh_balance_result *result, struct wh_tree *map)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "readings", WH_TREE_LIST);
    for (size_t s = 0; s < sheet->sensors; s++) {
        const struct wh_unit *unit = &sheet->sensor[s].unit;
        double now = cabs(result->now[s]), after = cabs(result->after[s]), doubt = result->after_doubt[s];
        if (after < 1e-9 * now) after = 0; /* rounding */
        struct wh_tree *item = add_map(arena, list);
        wh_tree_add_text(arena, item, "sensor", sheet->sensor[s].id);
        wh_tree_add_text(arena, item, "now", reading(arena, sheet, result, s, result->now[s]));
        wh_tree_add_text(arena, item, "after", wh_quantity_print(arena, after, unit, 2));
        if (!isnan(doubt)) wh_tree_add_text(arena, item, "at most", wh_quantity_print(arena, after + doubt, unit, 2));
        struct wh_tree *si = wh_tree_add_new(arena, item, "si", WH_TREE_MAP);
        wh_tree_add_number(arena, si, "now", now);
        wh_tree_add_number(arena, si, "after", after);
        wh_tree_add_number(arena, si, "doubt", doubt);
    }
}

/* The effects as a sheet takes them again. */
static void add_effects(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                        const struct wh_balance_result *result, struct wh_tree *map)
{
    struct wh_tree *list = wh_tree_add_new(arena, map, "known effects", WH_TREE_LIST);
    for (size_t s = 0; s < sheet->sensors && !result->phaseless; s++)
        for (size_t p = 0; p < sheet->planes; p++) {
            double complex effect = result->answer.effect[s][p];
            const struct wh_unit *unit = &sheet->sensor[s].unit;
            struct wh_unit whole;
            const char *name = wh_arena_print(arena, "%.*s%sg mm", (int)unit->length, unit->name,
                                              memchr(unit->name, '/', unit->length) ? " " : "/");
            struct wh_tree *item = add_map(arena, list);
            wh_tree_add_text(arena, item, "plane", sheet->plane[p].id);
            wh_tree_add_text(arena, item, "sensor", sheet->sensor[s].id);
            if (wh_unit_read(name, strlen(name), &whole))
                wh_tree_add_text(arena, item, "effect", wh_quantity_print(arena, cabs(effect), &whole, 4));
            double angle = wh_balance_turned(sheet->lag, carg(effect)) * 180 / 3.14159265358979323846;
            wh_tree_add_text(arena, item, "angle", wh_arena_print(arena, "%.1f deg", angle < 0 ? angle + 360 : angle));
            wh_tree_add_text(arena, item, "speed", print(arena, sheet->speed, "rpm", 4));
            if (result->doubt.effect[s][p] > 0)
                wh_tree_add_text(
                    arena, item, "doubt",
                    wh_arena_print(arena, "%.0f %%", fmin(ceil(200 * result->doubt.effect[s][p] / cabs(effect)), 100)));
        }
}

/* "15 g in hole 4 and 5 g in hole 5 of back-plate": all that is to be fitted. */
static const char *deeds(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                         const struct wh_balance_result *result)
{
    struct wh_text text = {.arena = arena};
    for (size_t p = 0; p < sheet->planes; p++) {
        const struct wh_balance_correction *c = &result->correction[p];
        for (size_t i = 0; i < c->places; i++) {
            const struct wh_balance_place *place = &c->place[i];
            if (i == 0)
                wh_text_print(&text, "%s%s ", text.count ? "; " : "", sheet->plane[p].drilled ? "drill out" : "fit");
            else
                wh_text_add(&text, i + 1 == c->places ? " and " : ", ");
            wh_text_add(&text, grams(arena, place->mass));
            if (place->hole)
                wh_text_print(&text, " in hole %zu", place->hole);
            else
                wh_text_print(&text, " at %s", wh_view_angle(arena, place->angle));
        }
        if (c->places > 0 && sheet->planes > 1) wh_text_print(&text, " of %s", sheet->plane[p].id);
    }
    return wh_text_of(&text);
}

/* How the whole stands against what is permissible: the worst of its places. */
static const char *standing(struct wh_arena *arena, const struct wh_balance_result *result, bool before)
{
    enum wh_balance_verdict worst = WH_BALANCE_WITHIN;
    for (size_t i = 0; i < result->residuals; i++) {
        enum wh_balance_verdict one = before ? result->residual[i].verdict_before : result->residual[i].verdict;
        if (one > worst) worst = one;
    }
    return result->residuals == 0
               ? "what is permissible is not known"
               : wh_arena_print(arena, "%s is %s what is permissible%s", before ? "it" : "what is left",
                                worst == WH_BALANCE_NOT_PROVEN ? "not proven within" : verdict_words(worst),
                                worst == WH_BALANCE_NOT_PROVEN ? ": read again afterwards" : "");
}

static const char *says(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                        const struct wh_balance_result *result)
{
    const char *right, *part = sheet->part;
    switch (result->next) {
    case WH_BALANCE_REFUSED:
        return wh_arena_print(arena, "Not balanced: %s.",
                              wh_view_balance_reason(arena, &result->refused.at[0], &right));
    case WH_BALANCE_TRY:
        return isnan(result->trial.mass)
                   ? wh_arena_print(arena, "%s: next a run with a trial mass in %s.", part,
                                    sheet->plane[result->trial_plane].id)
                   : wh_arena_print(arena,
                                    "%s: next a run with a trial mass of %s in %s, %s; it pulls %s at speed. How "
                                    "is it fastened?",
                                    part, grams(arena, result->trial.mass), sheet->plane[result->trial_plane].id,
                                    where(arena, &result->trial), print(arena, result->trial.pull, "N", 2));
    case WH_BALANCE_LEAVE:
        return wh_arena_print(arena, "%s: leave it as it is; %s.", part, standing(arena, result, true));
    case WH_BALANCE_FIT: break;
    }
    return wh_arena_print(arena, "%s: %s; %s.", part, deeds(arena, sheet, result), standing(arena, result, false));
}

static const char *counting(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                            const struct wh_balance_result *result)
{
    const char *way = sheet->clockwise ? "clockwise" : "anticlockwise";
    const char *phases = sheet->lag ? "phases lag: a later peak reads more" : "phases lead: an earlier peak reads more";
    return wh_arena_print(arena, "seen from the pulley end it turns %s; places are counted %s the turning from %s%s%s",
                          way, sheet->against ? "against" : "with", sheet->zero ? sheet->zero : "the mark, 0 deg",
                          result->phaseless ? "" : "; ", result->phaseless ? "; readings without phase" : phases);
}

static void add_mind(struct wh_arena *arena, const struct wh_balance_result *result, struct wh_tree *map)
{
    static const char *const cautions[] = {
        "Before a mass goes on or comes off: stopped, every energy off, locked and tried, the rotor seen standing.",
        "For each run: guards back, nobody in the plane of the rotor, a hand on the stop, never above the stamped "
        "speed.",
        "A mass that lets go flies: its pull at speed stands beside it. Only as and where the maker's manual allows "
        "it."};
    struct wh_tree *list = wh_tree_add_new(arena, map, "mind", WH_TREE_LIST);
    for (size_t i = 0; i < 3 && result->next != WH_BALANCE_REFUSED; i++)
        wh_tree_add_text(arena, add_map(arena, list), "says", cautions[i]);
}

struct wh_tree *wh_view_balance(struct wh_arena *arena, const struct wh_balance_sheet *sheet,
                                const struct wh_balance_result *result)
{
    static const char *const verdicts[] = {"refused", "try", "leave", "fit"};
    struct wh_tree *map = wh_tree_new(arena, WH_TREE_MAP);
    bool worked = result->next == WH_BALANCE_FIT || result->next == WH_BALANCE_LEAVE;
    if (sheet->title) wh_tree_add_text(arena, map, "title", sheet->title);
    wh_tree_add_text(arena, map, "part", sheet->part);
    if (sheet->machine) wh_tree_add_text(arena, map, "machine", sheet->machine);
    wh_tree_add_text(arena, map, "verdict", verdicts[result->next]);
    wh_tree_add_text(arena, map, "says", says(arena, sheet, result));
    add_reasons(arena, map, "refused", result->refused.at, result->refused.count);
    add_reasons(arena, map, "doubts", result->doubts.at, result->doubts.count);
    add_mind(arena, result, map);
    wh_tree_add_text(arena, map, "counting", counting(arena, sheet, result));
    wh_tree_add_text(arena, map, "speed", print(arena, sheet->speed, "rpm", 4));
    add_trials(arena, sheet, map);
    if (result->next == WH_BALANCE_TRY)
        add_place(arena, wh_tree_add_new(arena, map, "trial", WH_TREE_MAP), &result->trial);
    if (!worked) return map;
    struct wh_tree *planes = wh_tree_add_new(arena, map, "planes", WH_TREE_LIST);
    for (size_t p = 0; p < sheet->planes; p++)
        add_correction(arena, sheet, p, &result->correction[p], add_map(arena, planes));
    if (!isnan(creal(result->without_phase.other)) && result->phaseless)
        add_correction(arena, sheet, 0, &result->other, wh_tree_add_new(arena, map, "or else", WH_TREE_MAP));
    add_permissible(arena, sheet, result, map);
    add_readings(arena, sheet, result, map);
    add_effects(arena, sheet, result, map);
    struct wh_tree *plot = wh_tree_add_new(arena, map, "plot", WH_TREE_SCENE);
    plot->scene = wh_view_balance_plot(arena, sheet, result);
    plot->text = plot->scene->title;
    return map;
}
