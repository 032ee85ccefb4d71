#include "paper_sample.h"

#include <stdarg.h>

/* A map in a list, from pairs of key and text, ended by NULL. */
static struct wh_tree *put(struct wh_arena *arena, struct wh_tree *list, ...)
{
    struct wh_tree *map = wh_tree_add_new(arena, list, NULL, WH_TREE_MAP);
    va_list pairs;

    va_start(pairs, list);
    for (const char *key = va_arg(pairs, const char *); key; key = va_arg(pairs, const char *)) {
        wh_tree_add_text(arena, map, key, va_arg(pairs, const char *));
    }
    va_end(pairs);
    return map;
}

static struct wh_tree *list_of(struct wh_arena *arena, struct wh_tree *map, const char *key)
{
    return wh_tree_add_new(arena, map, key, WH_TREE_LIST);
}

/* A list of texts ended by NULL: named in a map, or key NULL, a row in a list. */
static void texts(struct wh_arena *arena, struct wh_tree *to, const char *key, ...)
{
    struct wh_tree *list = list_of(arena, to, key);
    va_list all;

    va_start(all, key);
    for (const char *text = va_arg(all, const char *); text; text = va_arg(all, const char *)) {
        wh_tree_add_text(arena, list, NULL, text);
    }
    va_end(all);
}

static void mirrored(struct wh_scene *scene, enum wh_pen pen, enum wh_fill fill, const char *part, double inner,
                     double bottom, double outer, double top)
{
    wh_scene_box(scene, pen, fill, inner, bottom, outer, top)->part = part;
    wh_scene_box(scene, pen, fill, -outer, bottom, -inner, top)->part = part;
}

static void item(struct wh_scene *scene, const char *number, double x, double y, double to_x, double to_y)
{
    wh_scene_segment(scene, WH_PEN_NARROW, x, y, to_x, to_y);
    wh_scene_circle(scene, WH_PEN_NONE, WH_FILL_SOLID, to_x, to_y, 1.6);
    wh_scene_label(scene, x + (x > 0 ? 3 : -3), y, 3.5, x > 0 ? WH_ANCHOR_LEFT : WH_ANCHOR_RIGHT, number);
}

static void balls(struct wh_scene *scene, double x, double y, double radius)
{
    wh_scene_circle(scene, WH_PEN_WIDE, WH_FILL_PAPER, x, y, radius);
    wh_scene_circle(scene, WH_PEN_WIDE, WH_FILL_PAPER, -x, y, radius);
}

static void round_the_spindle(struct wh_scene *scene)
{
    mirrored(scene, WH_PEN_NARROW, WH_FILL_HATCH_WIDE, "pedestal", 70, 200, 120, 330);
    mirrored(scene, WH_PEN_NARROW, WH_FILL_CROSS, "mount-ring", 50, 265, 70, 289);
    mirrored(scene, WH_PEN_WIDE, WH_FILL_HATCH_A, "neck-housing", 42.5, 250, 50, 305);
    mirrored(scene, WH_PEN_WIDE, WH_FILL_HATCH_B, "neck-bearing", 22.5, 268, 29, 287);
    mirrored(scene, WH_PEN_WIDE, WH_FILL_HATCH_B, "neck-bearing", 36, 268, 42.5, 287);
    balls(scene, 32.5, 277.5, 6.35);
    mirrored(scene, WH_PEN_NARROW, WH_FILL_HATCH_A, "wear-sleeve", 21, 288, 25, 306);
    mirrored(scene, WH_PEN_NARROW, WH_FILL_SOLID, "neck-seal", 25, 297, 34, 299);
    mirrored(scene, WH_PEN_NARROW, WH_FILL_HATCH_B, "spindle-pulley", 20, 142, 50, 188);
    mirrored(scene, WH_PEN_NARROW, WH_FILL_HATCH_A, "foot-sleeve", 36, -10, 45, 40);
    mirrored(scene, WH_PEN_WIDE, WH_FILL_HATCH_B, "foot-bearing", 15, 0, 21, 27);
    mirrored(scene, WH_PEN_WIDE, WH_FILL_HATCH_B, "foot-bearing", 30, 0, 36, 27);
    balls(scene, 25.5, 7.5, 5);
    balls(scene, 25.5, 19.5, 5);
    mirrored(scene, WH_PEN_GONE, WH_FILL_NONE, "bowl", 30, 345, 190, 520);
    wh_scene_box(scene, WH_PEN_NARROW, WH_FILL_TINT, -45, -20, 45, -12)->part = "thrust-plate";
}

struct wh_scene *paper_sample_section(struct wh_arena *arena)
{
    struct wh_scene *scene = wh_scene_new(arena, "Section of the spindle, \"neck\" & foot");
    const struct wh_point shaft[] = {{-15, 0},   {15, 0},    {15, 27},     {18.5, 27},   {18.5, 120},
                                     {20, 120},  {20, 190},  {22.5, 190},  {22.5, 330},  {20.5, 330},
                                     {17, 420},  {-17, 420}, {-20.5, 330}, {-22.5, 330}, {-22.5, 190},
                                     {-20, 190}, {-20, 120}, {-18.5, 120}, {-18.5, 27},  {-15, 27}};

    round_the_spindle(scene);
    wh_scene_area(scene, WH_PEN_NARROW, WH_FILL_PAPER, shaft, sizeof shaft / sizeof *shaft)->part = "spindle";
    wh_scene_segment(scene, WH_PEN_CHAIN, 0, -40, 0, 540);
    wh_scene_segment(scene, WH_PEN_DASHED, -18.5, 70, 18.5, 70);
    wh_scene_segment(scene, WH_PEN_DOTTED, -120, 60, -45, 60);
    item(scene, "11", 215, 480, 160, 480);
    item(scene, "27", 150, 277, 60, 277);
    item(scene, "30", -150, 300, -30, 298);
    item(scene, "31", 150, 306, 24, 303);
    item(scene, "32", 150, 250, 39, 272);
    item(scene, "34", -150, 240, -10, 220);
    item(scene, "35", 150, 165, 40, 165);
    item(scene, "43", 150, 40, 33, 20);
    item(scene, "45", -150, 20, -40, 20);
    item(scene, "46", -150, -16, -30, -16);
    wh_scene_label(scene, 0, 100, 2.5, WH_ANCHOR_MIDDLE, "Ø37 h6")->turned = 90;
    return scene;
}

static struct wh_scene *outline_on_its_back(struct wh_arena *arena)
{
    struct wh_scene *scene = wh_scene_new(arena, "The machine on its back");

    wh_scene_box(scene, WH_PEN_WIDE, WH_FILL_PAPER, 0, 12, 60, 50);
    wh_scene_box(scene, WH_PEN_NARROW, WH_FILL_TINT, 60, 22, 92, 40);
    wh_scene_segment(scene, WH_PEN_CHAIN, -8, 31, 100, 31);
    wh_scene_box(scene, WH_PEN_NARROW, WH_FILL_PAPER, 8, 0, 14, 12);
    wh_scene_box(scene, WH_PEN_NARROW, WH_FILL_PAPER, 46, 0, 52, 12);
    wh_scene_segment(scene, WH_PEN_WIDE, -10, 0, 104, 0);
    return scene;
}

static void before_you_start(struct wh_arena *arena, struct wh_tree *sheets)
{
    struct wh_tree *blocks = list_of(arena, put(arena, sheets, "heading", "Before you start", NULL), "blocks");

    put(arena, blocks, "is", "text", "text",
        "Both bearings of the spindle are renewed, the seats measured, the spindle set true again. About 10 h of work "
        "for one fitter, 6½ h for two; 2 h of waiting for the adhesive before the first start.",
        NULL);
    put(arena, blocks, "is", "caution", "signal", "danger", "sign", "rotating", "text",
        "The bowl runs down by itself in 14 to 17 minutes and makes no sound at the end. Nothing is opened before "
        "standstill was seen: the pick-up at zero and the hub watched still through the sight port for 60 s.",
        NULL);
    put(arena, blocks, "is", "hold", "number", "A1", "title", "Product out, valves locked, casing cool", "text",
        "Rinsed, valves shut and locked, casing below 40 °C, drain pit aired: fermenting juice gives off carbon "
        "dioxide.",
        "tried", "sample cock open and dry; thermometer on the casing", "lines", "1", NULL);
    put(arena, blocks, "is", "hold", "number", "A2", "title", "Each energy off, locked by each fitter, tried", "text",
        "Mains Q1, feed pump, water and cleaning line, control supply of the guard lock. Every fitter hangs a padlock "
        "of "
        "his own.",
        "tried", "start button pressed at the panel and on the machine: nothing moves", "lines", "4", "sign",
        "lock-out", NULL);
    put(arena, blocks, "is", "hold", "number", "A3", "title", "Standstill seen", "text",
        "Pick-up at zero and the hub watched still through the sight port for 60 s.", "tried",
        "pick-up: a tool held before it makes it count", "lines", "1", "sign", "rotating", NULL);
    put(arena, blocks, "is", "caution", "signal", "notice", "text",
        "Numbers of the set on bowl body, bowl top, lock ring and discs are the same: 2117. A bowl of mixed parts is "
        "out "
        "of balance.",
        NULL);
}

static void parts_needed(struct wh_arena *arena, struct wh_tree *blocks)
{
    static const char *const KIT[][2] = {{"Bearing 6209/C3, steel cage, neck", "1"},
                                         {"Bearing 2306, self-aligning, foot", "1"},
                                         {"Retaining ring DIN 471, 30 x 1.5", "1"},
                                         {"Retaining ring DIN 471, 40 x 1.75", "1"},
                                         {"Lip seal 50 x 68 x 8 FKM with dust lip", "1"},
                                         {"Lip seal 38 x 52 x 7 NBR", "1"},
                                         {"O-ring 90 x 2.5 NBR", "1"},
                                         {"O-ring 110 x 3 NBR", "1"},
                                         {"O-ring 290 x 5 EPDM, food grade", "1"},
                                         {"Gasket 416/396 x 1, food grade fibre", "1"},
                                         {"Grease, food grade (incidental contact)", "23 g"},
                                         {"Oil ISO VG 68, food grade", "0.8 l"},
                                         {"Thread adhesive, medium strength", "2 ml"},
                                         {"Thread paste, food grade", "20 g"},
                                         {"Parallel pin 4 m6 x 55", "1"}};
    struct wh_tree *items = list_of(arena, put(arena, blocks, "is", "list", NULL), "items");

    for (size_t i = 0; i < sizeof KIT / sizeof *KIT; i++) {
        put(arena, items, "text", KIT[i][0], "amount", KIT[i][1], NULL);
    }
}

static void gauges_needed(struct wh_arena *arena, struct wh_tree *blocks)
{
    struct wh_tree *block = put(arena, blocks, "is", "table", NULL), *items = list_of(arena, block, "columns");

    put(arena, items, "title", "Gauge", "weight", "4", NULL);
    put(arena, items, "title", "Reads to", "weight", "2", "align", "right", NULL);
    put(arena, items, "title", "For", "weight", "5", NULL);
    put(arena, items, "title", "Number of the gauge", "weight", "3", NULL);
    items = list_of(arena, block, "rows");
    texts(arena, items, NULL, "Comparator set on blocks", "± 0.002 mm", "neck seat, foot seat", "", NULL);
    texts(arena, items, NULL, "Three-point bore gauge", "± 0.005 mm",
          "bore of the foot sleeve, bore of the neck housing", "", NULL);
    texts(arena, items, NULL, "Dial gauge with stand", "± 0.01 mm",
          "lean of the spindle at the rim, run-out in place, push test of the mount", "", NULL);
    texts(arena, items, NULL, "Frequency meter", "± 1 Hz", "belt pull", "", NULL);
}

static void what_you_need(struct wh_arena *arena, struct wh_tree *sheets)
{
    struct wh_tree *blocks = list_of(arena, put(arena, sheets, "heading", "What you need", NULL), "blocks");

    put(arena, blocks, "is", "heading", "text", "New parts and stuff", NULL);
    parts_needed(arena, blocks);
    put(arena, blocks, "is", "heading", "text", "Gauges", NULL);
    gauges_needed(arena, blocks);
    put(arena, blocks, "is", "heading", "text", "Tools out of the common", NULL);
    texts(arena, put(arena, blocks, "is", "list", NULL), "items", "Claw puller, 40 kN", "Bearing splitter",
          "Bearing heater with thermometer", "Two bowl pins", NULL);
    put(arena, blocks, "is", "note", "text",
        "Amounts are for this job alone. What is renewed only when a reading says so "
        "is not in the list: wear sleeve, mount ring, foot sleeve.",
        NULL);
}

static void the_section(struct wh_arena *arena, struct wh_tree *sheets)
{
    static const char *const KEY[][3] = {{"11", "bowl body", "true"},         {"27", "mount ring, rubber", ""},
                                         {"30", "neck seal 50 x 68 x 8", ""}, {"31", "wear sleeve 50/42 x 18", ""},
                                         {"32", "neck bearing 6209/C3", ""},  {"34", "spindle", ""},
                                         {"35", "spindle pulley", ""},        {"43", "foot bearing 2306", ""},
                                         {"45", "foot sleeve 90/72", ""},     {"46", "thrust plate, hardened", ""}};
    struct wh_tree *sheet = put(arena, sheets, "heading", "The spindle in section", NULL);
    struct wh_tree *block =
        put(arena, list_of(arena, sheet, "blocks"), "is", "drawing", "caption",
            "Numbers in the order in which they come off. Long dashes with two dots: already off.", NULL);
    struct wh_tree *key = list_of(arena, block, "key");

    wh_tree_add_new(arena, block, "scene", WH_TREE_SCENE)->scene = paper_sample_section(arena);
    for (size_t i = 0; i < sizeof KEY / sizeof *KEY; i++) {
        put(arena, key, "number", KEY[i][0], "text", KEY[i][1], "gone", KEY[i][2], NULL);
    }
}

static struct wh_tree *step(struct wh_arena *arena, struct wh_tree *blocks, const char *number, const char *words,
                            const char *part, const char *item_number, const char *tool, const char *minutes)
{
    return put(arena, blocks, "is", "step", "number", number, "words", words, "part", part, "item", item_number, "tool",
               tool, "minutes", minutes, "way", "upright", NULL);
}

static void bowl_off(struct wh_arena *arena, struct wh_tree *blocks)
{
    struct wh_tree *at = step(arena, blocks, "11", "Press the bowl body off its taper and lift it out",
                              "bowl body, 30.8 kg", "11", "press-off screw M36", "7 min"),
                   *more;

    wh_tree_add_text(arena, at, "crew", "two people, or one and a hoist");
    texts(arena, at, "with", "hoist", "lifting eye M10", "wooden stand", NULL);
    put(arena, list_of(arena, at, "cautions"), "signal", "warning", "sign", "hanging-load", "text",
        "31 kg on one eye. Nobody reaches under the bowl while it hangs.", NULL);
    more = list_of(arena, at, "figures");
    put(arena, more, "name", "press-off force, at most", "value", "25 kN", NULL);
    put(arena, more, "name", "torque on the screw for it", "value", "118 N·m", "note", "screw oiled, friction 0.12",
        NULL);
    put(arena, list_of(arena, at, "readings"), "title", "bowl height as found, rim of casing to shoulder of bowl body",
        "limits", "23.80 to 24.40 mm", "unit", "mm", "gauge", "depth gauge, ± 0.03 mm", "note",
        "read before the body comes off", NULL);
}

static void taking_down(struct wh_arena *arena, struct wh_tree *sheets)
{
    struct wh_tree *blocks = list_of(arena, put(arena, sheets, "heading", "Taking down", NULL), "blocks"), *at, *more;

    step(arena, blocks, "1", "Take off the feed tube", "feed tube", "1", "hook spanner DIN 1810", "3 min");
    step(arena, blocks, "2", "Take off the outlet head", "outlet head", "2", "13 mm", "5 min");
    at =
        step(arena, blocks, "6", "Unscrew the lock ring", "lock ring 310 x 6", "6", "hook bar, copper mallet", "8 min");
    wh_tree_add_text(arena, at, "mark", "LH");
    put(arena, list_of(arena, at, "cautions"), "signal", "warning", "sign", "crush", "text",
        "The bowl is not locked by the belt. Put in both bowl pins before the bar goes on.", NULL);
    put(arena, list_of(arena, at, "readings"), "title", "mark of the ring past the mark of the body", "limits",
        "0 to 12°", "unit", "°", "gauge", "by eye, ± 2°", NULL);
    texts(arena, at, "lines", "Bowl pins in: two", "Ring struck loose clockwise, seen from above", NULL);
    bowl_off(arena, blocks);
    put(arena, blocks, "is", "phase", "text", "Dirty work ends here: wash, wipe the bench, change gloves", NULL);
    at = put(arena, blocks, "is", "turn", "text", "Turn the machine: upright → on its back", "minutes",
             "12 min, two people", NULL);
    wh_tree_add_new(arena, at, "scene", WH_TREE_SCENE)->scene = outline_on_its_back(arena);
    at = step(arena, blocks, "34", "Measure the seat of the neck bearing at three heights, two ways across", "spindle",
              "34", "comparator set on blocks", "12 min");
    more = list_of(arena, at, "readings");
    put(arena, more, "title", "seat, top, 0° and 90°", "limits", "45.002 to 45.013 mm", "unit", "mm", NULL);
    put(arena, more, "title", "seat, middle", "limits", "45.002 to 45.013 mm", "unit", "mm", NULL);
    put(arena, more, "title", "seat, bottom", "limits", "45.002 to 45.013 mm", "unit", "mm", "gauge",
        "comparator on blocks, ± 0.002 mm", "note", "gauge and spindle at the same temperature: 10 K is 5 µm", NULL);
    texts(arena, at, "with", "lint-free cloth", "alcohol", NULL);
    wh_tree_add_truth(arena, at, "hold", true);
}

static void bearing_on(struct wh_arena *arena, struct wh_tree *blocks)
{
    struct wh_tree *at = step(arena, blocks, "41",
                              "Slide the warm neck bearing home against its shoulder and hold it there until it grips",
                              "neck bearing 6209/C3", "32", "gloves, driving tube 50", "5 min");
    struct wh_tree *more = list_of(arena, at, "cautions");

    put(arena, more, "signal", "caution", "sign", "gloves", "text",
        "The ring is at 80 °C or more: heat-proof gloves, and the path to the bench is free.", NULL);
    put(arena, more, "signal", "notice", "text", "Never above 110 °C, never near the neck seal.", NULL);
    more = list_of(arena, at, "figures");
    put(arena, more, "name", "warm to", "value", "80 °C", "note", "± 3 K, measured on the inner ring", NULL);
    put(arena, more, "name", "gap at that temperature", "value", "33 µm", "note", "seat as read, 18 °C", NULL);
    put(arena, more, "name", "grips after", "value", "38 s", "note", "from the heater; carried 2 m", NULL);
    put(arena, list_of(arena, at, "readings"), "title", "feeler between ring and shoulder", "limits", "at most 0.03 mm",
        "unit", "mm", "gauge", "feeler 0.03 must not go in", NULL);
}

static void building_up(struct wh_arena *arena, struct wh_tree *sheets)
{
    struct wh_tree *blocks = list_of(arena, put(arena, sheets, "heading", "Building up", NULL), "blocks"), *at;

    put(arena, blocks, "is", "wait", "text", "warming the neck bearing", "minutes", "about 12 min", NULL);
    bearing_on(arena, blocks);
    at = step(arena, blocks, "42", "Tighten the screws of the casing crosswise in two stages, then once round",
              "casing, 8 x M10 x 35", "13", "17 mm, torque wrench", "11 min");
    texts(arena, at, "lines", "crosswise 15 N·m", "crosswise 30 N·m", "once round 30 N·m", NULL);
    put(arena, list_of(arena, at, "figures"), "name", "setting on the wrench", "value", "30 N·m", "note",
        "food paste, friction 0.10; each screw then holds 21 kN", NULL);
    put(arena, blocks, "is", "space", NULL);
    put(arena, blocks, "is", "caution", "signal", "warning", "sign", "electricity", "text",
        "The terminal box is opened by an electrician only.", NULL);
    put(arena, blocks, "is", "caution", "signal", "caution", "sign", "eye", "text", "Glasses on for the pin.", NULL);
    put(arena, blocks, "is", "caution", "signal", "warning", "sign", "hot", "text", "Casing above 40 °C.", NULL);
    put(arena, blocks, "is", "caution", "signal", "notice", "sign", "manual", "text",
        "The sheet of the adhesive decides.", NULL);
}

static void tags_and_names(struct wh_arena *arena, struct wh_tree *sheets)
{
    struct wh_tree *blocks = list_of(arena, put(arena, sheets, "heading", "Bag tags", NULL), "blocks"), *items;

    items = list_of(arena, put(arena, blocks, "is", "tags", NULL), "items");
    put(arena, items, "number", "2", "title", "Outlet head", "text", "4 x M8 x 30 A2-70, key 13", NULL);
    put(arena, items, "number", "5", "title", "Guard switch", "text", "2 x M5 x 30 A2-70; tongue", NULL);
    put(arena, items, "number", "13", "title", "Casing", "text", "8 x M10 x 35 A2-70, 2 dowels, earth lead", NULL);
    put(arena, items, "number", "28", "title", "Neck cap", "text", "4 x M6 x 16 A2-70", NULL);
    put(arena, blocks, "is", "new-sheet", NULL);
    put(arena, blocks, "is", "heading", "text", "Handed back", NULL);
    items = list_of(arena, put(arena, blocks, "is", "signatures", NULL), "lines");
    put(arena, items, "role", "Fitter", "text",
        "All tools, rags and both bowl pins counted; guards back; guard lock tried.", NULL);
    put(arena, items, "role", "Charge hand", "text", "Readings looked through, holds released by name.", NULL);
}

/* A table longer than a sheet, and a step that is. */
static void all_readings(struct wh_arena *arena, struct wh_tree *sheets)
{
    struct wh_tree *blocks = list_of(arena, put(arena, sheets, "heading", "All readings", NULL), "blocks");
    struct wh_tree *block = put(arena, blocks, "is", "table", NULL), *list = list_of(arena, block, "columns");

    put(arena, list, "title", "Hole", "weight", "1", "align", "middle", NULL);
    put(arena, list, "title", "Limits", "weight", "3", NULL);
    put(arena, list, "title", "As left", "weight", "4", NULL);
    list = list_of(arena, block, "rows");
    for (int hole = 1; hole <= 40; hole++) {
        texts(arena, list, NULL, wh_arena_print(arena, "%d", hole), "at most 0.02 mm", "", NULL);
    }
    block = put(arena, blocks, "is", "step", "number", "99", "words", "Read the rim all round", NULL);
    list = list_of(arena, block, "readings");
    for (int place = 0; place < 24; place++) {
        put(arena, list, "title", wh_arena_print(arena, "rim at %d°", 15 * place), "limits", "at most 0.04 mm", "unit",
            "mm", NULL);
    }
}

struct wh_tree *paper_sample(struct wh_arena *arena, const char *paper)
{
    struct wh_tree *document = wh_tree_new(arena, WH_TREE_MAP), *sheets;

    wh_tree_add_text(arena, document, "paper", paper);
    wh_tree_add_text(arena, document, "title", "Job sheet");
    wh_tree_add_text(arena, document, "machine", "Juice clarifier no. 2, cider co-operative");
    wh_tree_add_text(arena, document, "job", "Renew both spindle bearings, set the spindle true");
    wh_tree_add_text(arena, document, "date", "2026-11-25");
    wh_tree_add_text(arena, document, "maker", "wharve 0.1.0");
    sheets = list_of(arena, document, "sheets");
    before_you_start(arena, sheets);
    what_you_need(arena, sheets);
    the_section(arena, sheets);
    taking_down(arena, sheets);
    building_up(arena, sheets);
    all_readings(arena, sheets);
    tags_and_names(arena, sheets);
    paper_sample_photos(arena, sheets);
    return document;
}
