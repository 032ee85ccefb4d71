/* Rolling bearings: the ring is drawn off and warmed by figures of this bearing on this seat. */
#include "trade/bearing.h"

#include "kind/kind.h"
#include "trade/iso492.h"

#include <math.h>
#include <string.h>

/* ISO 8826-1: a frame with an upright cross standing free in it. */
static void outline(struct wh_scene *scene, const struct wh_ring *ring, enum wh_pen pen, enum wh_fill fill)
{
    (void)fill;
    double x = (ring->inner_low + ring->outer_low) / 2, y = (ring->low + ring->high) / 2;
    double arm = 0.3 * fmin(ring->outer_low - ring->inner_low, ring->high - ring->low);
    wh_scene_box(scene, pen, WH_FILL_PAPER, ring->inner_low, ring->low, ring->outer_low, ring->high);
    wh_scene_segment(scene, pen, x - arm, y, x + arm, y);
    wh_scene_segment(scene, pen, x, y - arm, x, y + arm);
}

static void set(struct wh_filling *filling, const char *name, const char *range, struct wh_value value,
                const char *source)
{
    filling->set(filling->context, name, range, value, source);
}

/* The clearance group's two limits, by the rule of the handbook. */
static void fill_clearance(struct wh_filling *filling, const struct wh_bearing *bearing)
{
    const struct wh_rule *rule = wh_rule_find("bearing.clearance-least");
    double size = bearing->bore, group = bearing->group, type = bearing->type, least = NAN, most = NAN;
    const double *const in[] = {&size, &group, &type};
    double *const out[] = {&least, &most};
    rule->work(1, 3, in, out);
    if (isfinite(least) && isfinite(most))
        set(filling, "clearance", "0..1000 um", wh_between(least, most),
            wh_arena_print(filling->arena, "ISO 5753-1, %s", wh_clearance_group_words[bearing->group]));
}

static void fill_sizes(struct wh_filling *filling, const struct wh_bearing *bearing)
{
    double lower, upper;
    set(filling, "diameter", "1..2000 mm", wh_exact(bearing->bore), "ISO 15");
    set(filling, "outside-nominal", "1..5000 mm", wh_exact(bearing->outside), "ISO 15");
    set(filling, "width", "1..1000 mm", wh_exact(bearing->width), "ISO 15");
    if (wh_iso492_bore(bearing->bore, bearing->tolerance_class, &lower, &upper))
        set(filling, "bore", "1..2000 mm", wh_between(bearing->bore + lower, bearing->bore + upper), "ISO 492, bore");
    if (wh_iso492_outside(bearing->outside, bearing->tolerance_class, &lower, &upper))
        set(filling, "outside", "1..5000 mm", wh_between(bearing->outside + lower, bearing->outside + upper),
            "ISO 492, outside");
}

static enum wh_status fill(struct wh_filling *filling)
{
    const char *designation = filling->written(filling->context, "designation");
    struct wh_bearing bearing;
    if (!designation || !wh_bearing_find(designation, strlen(designation), &bearing)) return WH_OK; /* refused before */
    fill_sizes(filling, &bearing);
    fill_clearance(filling, &bearing);
    set(filling, "sealing", "sealing", wh_exact(bearing.sealing), "by the designation");
    set(filling, "class", "class", wh_exact(bearing.tolerance_class), "by the designation");
    if (isfinite(bearing.rating))
        set(filling, "rating", "0.001..100000 kN", wh_exact(bearing.rating), bearing.rating_source);
    if (isfinite(bearing.static_rating))
        set(filling, "static-rating", "0.001..100000 kN", wh_exact(bearing.static_rating), bearing.rating_source);
    return WH_OK;
}

const struct wh_kind wh_bearing_kind = {
    .name = "bearing", .off_verb = "draw off",
    .title = "rolling bearing", .detail = "{designation}", .part = true, .fill = fill,
    .outline = outline,
    .keys = {{"designation", "bearing", NULL, "designation", true, 0},
             {"seat", "thing", NULL, "shaft seat", false, 0},
             {"housing", "thing", NULL, "housing bore", false, 0},
             {"fitted", "words warm|press|hand", "warm", "how it is fitted", false, 0},
             {"drives", "words inner|outer|both", "inner", "the ring that has the tight fit", false, 0},
             {"cage", "cage", "unknown", "cage", false, 0},
             {"grease-fill", "grease-fill", "unknown", "grease in it as bought", false, 0},
             {"puller-rating", "0.1..1000 kN", NULL, "rating of the puller", false, 0},
             {"warmed-to", "-20..200 degC", NULL, "temperature of the ring when it leaves the heat", false, 0},
             {"inner-raceway", "1..2000 mm", NULL, "mean raceway of the inner ring", false, 0},
             {"radial-load", "0..10000 kN", NULL, "radial load", false, 0},
             {"axial-load", "0..10000 kN", NULL, "axial load", false, 0},
             {"rating", "0.001..100000 kN", NULL, "basic dynamic rating C", false, 0},
             {"static-rating", "0.001..100000 kN", NULL, "basic static rating C0", false, 0},
             {"axial-limit", "0..5 1", NULL, "limit e of Fa/Fr", false, 0},
             {"radial-factor", "0..2 1", NULL, "X", false, 0},
             {"axial-factor", "0..10 1", NULL, "Y", false, 0},
             {"elements", "3..200 1", NULL, "balls or rollers in a row", false, 0},
             {"element-diameter", "0.5..200 mm", NULL, "diameter of ball or roller", false, 0},
             {"pitch-diameter", "2..3000 mm", NULL, "pitch diameter", false, 0},
             {"contact-angle", "0..80 deg", NULL, "contact angle", false, 0},
             {"vertical", "0.5..1 1", NULL, "share of the grease interval on a vertical shaft", false, 0},
             {"grease", "text", NULL, "grease it runs in", false, 0}},
    .rules = {{"fit.interference", NULL, NULL},
              {"fit.interference", "outer-interference", "seat.diameter=outside, bore=housing.bore",
               "grip of the housing, + tight, - loose"},
              {"bearing.inner-raceway", NULL, "outside=outside-nominal"},
              {"bearing.pressure", NULL, "hollow=seat.hollow"},
              {"fit.pull-force", NULL, NULL},
              {"fit.rusted-pull-force", NULL, NULL},
              {"fit.puller-share", NULL, NULL},
              {"fit.puller-stop", NULL, NULL},
              {"bearing.mounting-temperature", NULL, "seat-temperature=seat.temperature"},
              {"bearing.grips-at", NULL, "seat-temperature=seat.temperature"},
              {"bearing.ceiling", NULL, NULL},
              {"bearing.heat-margin", NULL, NULL},
              {"bearing.warmed-to", NULL, NULL},
              {"bearing.warm-clearance", NULL, "seat-temperature=seat.temperature"},
              {"bearing.surface", NULL, "outside=outside-nominal"},
              {"bearing.mass", NULL, "outside=outside-nominal"},
              {"bearing.inner-heat", NULL, NULL},
              {"bearing.carry-time", NULL, "hall-temperature=machine.hall-temperature"},
              {"bearing.seat-time", NULL, "seat-temperature=seat.temperature"},
              {"bearing.outer-raceway", NULL, "outside=outside-nominal"},
              {"bearing.clearance-lost", NULL, "hollow=seat.hollow"},
              {"bearing.clearance-left", NULL, NULL},
              {"bearing.grease-amount", NULL, "outside=outside-nominal"},
              {"bearing.equivalent-load", NULL, NULL},
              {"bearing.rating-life", NULL, NULL},
              {"bearing.life", NULL, "speed=machine.speed"},
              {"bearing.grease-interval", NULL, "speed=machine.speed"},
              {"bearing.outer-line", NULL, "speed=machine.speed"},
              {"bearing.inner-line", NULL, "speed=machine.speed"},
              {"bearing.roller-line", NULL, "speed=machine.speed"},
              {"bearing.cage-line", NULL, "speed=machine.speed"}},
    .windows = {{"most warmed-to", "most grips-at", "least ceiling"}, {"clearance-left", "0 um", NULL}},
    .steps = {{.when = WH_WHEN_STRIP,
               .words = "Draw the {title} off by its inner ring. Tag it \"this side up\" and keep it.",
               .only = WH_ONLY_WITH_KEY, .key = "seat",
               .tool = "puller", .figures = {"most pull-force", "most rusted-pull-force", "puller-stop"},
               .cautions = {"drawing-off", "rusted-seat"}},
              {.when = WH_WHEN_STRIP,
               .words = "Take the {title} out by its tight ring. Tag it \"this side up\" and keep it.",
               .only = WH_ONLY_WITHOUT_KEY, .key = "seat", .tool = "press"},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_RENEWED,
               .words = "Unwrap the new {title}; read designation, clearance group, cage and seals against the kit "
                        "list: {designation}.",
               .cautions = {"wrapped"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WARM,
               .words = "Warm the {title}, thermometer on the ring itself.",
               .tool = "induction heater", .figures = {"most warmed-to", "ceiling", "least heat-margin"},
               .cautions = {"hot-ring", "heat-how"}, .minutes = 2, .alone = 12, .within = 8, .wait = "warming"},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WARM,
               .words = "Carry it over, slide it home in one push on the inner ring and hold it until it grips. Cold, "
                        "a feeler at the shoulder goes in nowhere.",
               .tool = "heat-proof gloves", .figures = {"most grips-at", "least carry-time", "least seat-time"},
               .cautions = {"one-push"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_COLD,
               .words = "Press the {title} home square on the {drives} ring.",
               .tool = "press and sleeve", .figures = {"interference"}, .cautions = {"tight-ring"}},
              {.when = WH_WHEN_REBUILD, .only = WH_ONLY_WITH_KEY, .key = "grease",
               .words = "Grease with {grease}; the bearing filled, the room beside it only in part.",
               .figures = {"grease-amount"}, .consumable = "grease"}}};
