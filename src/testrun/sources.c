#include "testrun/sources.h"

#include "base/quantity.h"
#include "base/text.h"
#include "trade/bearing_inside.h"

#include <math.h>
#include <string.h>

const char *const wh_bearing_line_keys[WH_BEARING_LINES] = {"outer", "inner", "roller", "cage"};
const char *const wh_bearing_line_parts[WH_BEARING_LINES] = {"outer ring", "inner ring", "rolling element", "cage"};

static const struct wh_place nowhere = {0};
static const double least_order = 0.05, most_order = 100;

struct wh_sources wh_sources_usual(void)
{
    return (struct wh_sources){.tolerance = 0.08,
                               .mains = 50,
                               .slip = 0.02,
                               .limit = 2.8e-3,
                               .limit_from = "ISO 10816-1, class II, zone C (from memory)"};
}

enum wh_status wh_sources_add_bearing(struct wh_arena *arena, struct wh_sources *sources, const char *designation,
                                      struct wh_errors *reterr)
{
    const struct wh_bearing_inside *inside = wh_bearing_inside(designation);
    if (!inside)
        return wh_errors_add(reterr, WH_ERR_INPUT, nowhere,
                             "give its orders: --lines outer=3.585,inner=5.415,roller=4.714,cage=0.398",
                             "the inside of a bearing %s is not known here", designation);
    double ratio = inside->element / inside->pitch, half = inside->elements / 2;
    *WH_PUSH(arena, &sources->bearings) = (struct wh_bearing_source){
        .title = wh_arena_print(arena, "bearing %s", designation),
        .order = {half * (1 - ratio), half * (1 + ratio), (1 - ratio * ratio) / ratio, (1 - ratio) / 2},
        .from = inside->source};
    return WH_OK;
}

static enum wh_status add_line(struct wh_bearing_source *bearing, const char *part, struct wh_errors *reterr)
{
    const char *right = "one of outer, inner, roller, cage with its times a turn: outer=3.585";
    for (size_t i = 0; i < WH_BEARING_LINES; i++) {
        size_t n = strlen(wh_bearing_line_keys[i]);
        if (strncmp(part, wh_bearing_line_keys[i], n) != 0 || part[n] != '=') continue;
        const char *end = wh_number_read(part + n + 1, &bearing->order[i]);
        if (!end || *end || !(bearing->order[i] >= least_order && bearing->order[i] <= most_order))
            return wh_errors_add(reterr, WH_ERR_INPUT, nowhere, "0.05 to 100 times a turn",
                                 "\"%s\" does not give a line's order", part);
        return WH_OK;
    }
    return wh_errors_add(reterr, WH_ERR_INPUT, nowhere, right, "\"%s\" is no line of a bearing", part);
}

enum wh_status wh_sources_add_lines(struct wh_arena *arena, struct wh_sources *sources, const char *lines,
                                    struct wh_errors *reterr)
{
    struct wh_bearing_source bearing = {.title = "bearing", .order = {NAN, NAN, NAN, NAN}, .from = "as stated"};
    struct wh_words parts = wh_split(arena, lines, ',');
    enum wh_status status = WH_OK;
    if (parts.count == 0)
        status = wh_errors_add(reterr, WH_ERR_INPUT, nowhere, "outer=3.585,inner=5.415,roller=4.714,cage=0.398",
                               "no line of a bearing is given");
    for (size_t i = 0; i < parts.count; i++) {
        enum wh_status one = add_line(&bearing, parts.at[i], reterr);
        if (one != WH_OK) status = one;
    }
    if (status == WH_OK) *WH_PUSH(arena, &sources->bearings) = bearing;
    return status;
}
