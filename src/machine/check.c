/* Reads the checks of a machine file. */
#include "base/text.h"
#include "machine/reader.h"

#include <math.h>
#include <string.h>

static void read_limits(struct wh_reader *reader, const struct wh_tree *node, void *to);
static void read_judged_by(struct wh_reader *reader, const struct wh_tree *node, void *to);
static void read_from_record(struct wh_reader *reader, const struct wh_tree *node, void *to);
static void read_level_within(struct wh_reader *reader, const struct wh_tree *node, void *to);
static void read_stop_at(struct wh_reader *reader, const struct wh_tree *node, void *to);

#define CHECK(key_, is_, member)                                                                                       \
    {                                                                                                                  \
        .key = key_, .is = is_, .offset = offsetof(struct wh_check, member)                                            \
    }
#define CHECK_NEEDED(key_, is_, member)                                                                                \
    {                                                                                                                  \
        .key = key_, .is = is_, .offset = offsetof(struct wh_check, member), .needed = true                            \
    }
#define CHECK_FORM(key_, is_, member, form_)                                                                           \
    {                                                                                                                  \
        .key = key_, .is = is_, .offset = offsetof(struct wh_check, member), .form = form_                             \
    }
static const struct wh_field check_fields[] = {
    CHECK_NEEDED("id", WH_FIELD_TEXT, id),
    CHECK_NEEDED("title", WH_FIELD_TEXT, title),
    CHECK_NEEDED("of", WH_FIELD_THING, of),
    CHECK("reads", WH_FIELD_TEXT, reads),
    CHECK("expects", WH_FIELD_TEXT, expects),
    {.key = "limits", .is = WH_FIELD_OWN, .own = read_limits},
    CHECK("wear limit", WH_FIELD_TEXT, wear_limit),
    CHECK("expected", WH_FIELD_TEXT, expected),
    CHECK("gauge", WH_FIELD_GAUGE, gauge),
    CHECK("sets", WH_FIELD_TEXT, sets),
    {.key = "judged by", .is = WH_FIELD_OWN, .own = read_judged_by},
    CHECK("outside", WH_FIELD_TEXT, outside),
    {.key = "from record", .is = WH_FIELD_OWN, .own = read_from_record},
    CHECK_FORM("every", WH_FIELD_QUANTITY, every, "0.1..480 min"),
    CHECK_FORM("places", WH_FIELD_COUNT, places, "1..12 1"),
    {.key = "level within", .is = WH_FIELD_OWN, .own = read_level_within},
    {.key = "stop at", .is = WH_FIELD_OWN, .own = read_stop_at},
    CHECK_FORM("phase", WH_FIELD_CHOICE, phase, "running|strip|washed|rebuild|test|later"),
    CHECK("after", WH_FIELD_EVENTS, after),
    CHECK("before", WH_FIELD_EVENTS, before),
    CHECK("needed when", WH_FIELD_EVENTS, needed_when),
    CHECK_FORM("takes", WH_FIELD_QUANTITY, minutes, "0..480 min"),
    CHECK("way up", WH_FIELD_WAY_UP, way_up),
    CHECK_FORM("at", WH_FIELD_YES, bench, "frame|bench"),
    CHECK("hold", WH_FIELD_YES, hold),
    CHECK("by", WH_FIELD_TRADE, by),
    CHECK("power", WH_FIELD_YES, power),
    CHECK("with", WH_FIELD_THINGS, with),
    CHECK("tool", WH_FIELD_TEXT, tool),
    CHECK("cautions", WH_FIELD_TEXTS, cautions),
    CHECK_FORM("crew", WH_FIELD_COUNT, crew, "1..4 1"),
    CHECK_FORM("readings", WH_FIELD_COUNT, readings, "1..24 1"),
};

/* A rule that makes one value of a list of readings: "spindle.eccentricity". */
static void read_judged_by(struct wh_reader *reader, const struct wh_tree *node, void *to)
{
    struct wh_check *check = to;
    const char *text = wh_read_text(reader, node);
    const struct wh_rule *rule = text ? wh_rule_find(text) : NULL;
    if (!text) return;
    check->judged_by = text;
    if (!rule || !rule->in[0].many || rule->in[1].name)
        wh_read_error(reader, node, "a rule of readings alone, as spindle.eccentricity",
                      "\"%s\": not a rule of one list of readings", text);
}

/* "24.0..24.4 mm", "0.5 +- 0.1 mm", "at most 0.02 mm", "at least 5 Mohm". */
static void read_limits(struct wh_reader *reader, const struct wh_tree *node, void *to)
{
    struct wh_check *check = to;
    const char *text = wh_read_text(reader, node);
    if (!text) return;
    bool most = wh_starts(text, "at most "), least = wh_starts(text, "at least ");
    struct wh_value value;
    const char *number = text + (most ? 8 : least ? 9 : 0);
    enum wh_misread misread = wh_value_read(number, NULL, &value, &check->unit);
    if (misread == WH_READ_WELL && check->unit.length == 0) misread = WH_READ_NO_UNIT;
    if (misread != WH_READ_WELL) {
        wh_read_error(reader, node, "write \"24.0..24.4 mm\", \"at most 0.02 mm\" or \"at least 5 Mohm\"", "limits: %s",
                      wh_misread_words(reader->arena, misread, number, NULL));
        return;
    }
    if (value.shape == WH_EXACT && !most && !least) {
        wh_read_error(reader, node, "write a least and a greatest, or \"at most\" or \"at least\"",
                      "limits: \"%s\" is one value, not limits", text);
        return;
    }
    check->has_limits = true;
    check->limits = text;
    check->least = most ? -INFINITY : value.least;
    check->most = least ? INFINITY : value.most;
}

/* "velocity at neck-bearing", "run-down". */
static void read_from_record(struct wh_reader *reader, const struct wh_tree *node, void *to)
{
    struct wh_check *check = to;
    const char *text = wh_read_text(reader, node), *place;
    if (!text) return;
    check->from_record = wh_record_figure_read(reader->arena, text, &place);
    if (check->from_record == WH_RECORD_NONE)
        wh_read_error(reader, node,
                      "velocity, displacement or acceleration, perhaps \"at\" a part; speed, run-up, run-down, start "
                      "current",
                      "from record: \"%s\" is nothing that a record tells", text);
    else if (place)
        check->at_place = wh_read_thing(reader, node, place);
}

/* One value in a unit of its own. */
static double read_value(struct wh_reader *reader, const struct wh_tree *node, const char *key, struct wh_unit *unit)
{
    const char *text = wh_read_text(reader, node);
    struct wh_value value;
    if (!text) return NAN;
    enum wh_misread misread = wh_value_read(text, NULL, &value, unit);
    if (misread == WH_READ_WELL && value.shape == WH_EXACT) return value.best;
    wh_read_error(reader, node, "one value with its unit", "%s: %s", key,
                  misread == WH_READ_WELL ? "more than one value"
                                          : wh_misread_words(reader->arena, misread, text, NULL));
    return NAN;
}

static void read_level_within(struct wh_reader *reader, const struct wh_tree *node, void *to)
{
    struct wh_unit unit = {0};
    ((struct wh_check *)to)->level_within = read_value(reader, node, "level within", &unit);
    if (fabs(unit.offset) > 0) wh_read_error(reader, node, "2 K", "level within: a difference of temperature is in K");
}

static void read_stop_at(struct wh_reader *reader, const struct wh_tree *node, void *to)
{
    struct wh_unit unit = {0};
    ((struct wh_check *)to)->stop_at = read_value(reader, node, "stop at", &unit);
}

static void same_kind(struct wh_reader *reader, const struct wh_tree *item, const char *key, struct wh_unit unit,
                      const struct wh_check *check)
{
    const struct wh_tree *node = wh_tree_get(item, key);
    if (!node || unit.name == NULL) return;
    if (!check->has_limits)
        wh_read_error(reader, node, "add \"limits\"", "%s: the check has no limits", key);
    else if (!wh_dimension_same(unit.dimension, check->unit.dimension))
        wh_read_error(reader, node, NULL, "%s: it is %s, the limits are %s", key,
                      wh_dimension_words(reader->arena, unit.dimension),
                      wh_dimension_words(reader->arena, check->unit.dimension));
}

/* The unit of a key's value; without a name: none was read. */
static struct wh_unit unit_of(const struct wh_tree *item, const char *key)
{
    struct wh_unit unit = {0};
    struct wh_value value;
    const char *text = wh_tree_text(item, key, NULL);
    if (!text || wh_value_read(text, NULL, &value, &unit) != WH_READ_WELL) unit.name = NULL;
    return unit;
}

/* A record's figure, a change and a stop are of the kind that the limits are. */
static void check_kinds(struct wh_reader *reader, const struct wh_tree *item, const struct wh_check *check)
{
    same_kind(reader, item, "level within", unit_of(item, "level within"), check);
    same_kind(reader, item, "stop at", unit_of(item, "stop at"), check);
    if (check->from_record != WH_RECORD_NONE)
        same_kind(reader, item, "from record", wh_record_figure_unit(check->from_record), check);
    if (!isnan(check->stop_at) && check->has_limits && !(check->stop_at > check->most))
        wh_read_error(reader, wh_tree_get(item, "stop at"), "a value beyond the limits",
                      "stop at: it does not lie above \"%s\"", check->limits);
}

static void check_sets(struct wh_reader *reader, const struct wh_tree *item, const struct wh_check *check)
{
    const struct wh_tree *node = wh_tree_get(item, "sets");
    const char *dot = check->sets ? strchr(check->sets, '.') : NULL;
    if (!check->sets) return;
    size_t thing =
        dot ? wh_machine_thing(reader->machine, wh_arena_slice(reader->arena, check->sets, (size_t)(dot - check->sets)))
            : WH_NONE;
    const struct wh_kind *kind = thing == WH_NONE ? NULL : reader->machine->things[thing].kind;
    bool known = kind && (wh_kind_key(kind, dot + 1) || wh_thing_value(&reader->machine->things[thing], dot + 1));
    if (!known)
        wh_read_error(reader, node, "write \"neck-seat.diameter\": a part and one of its values",
                      "sets: \"%s\" is no value of this machine", check->sets);
}

static void check_whole(struct wh_reader *reader, const struct wh_tree *item, const struct wh_check *check)
{
    if (!check->has_limits && !check->expects && !wh_tree_get(item, "limits"))
        wh_read_error(reader, item, "add \"limits: 24.0..24.4 mm\", or \"expects: none\" in words",
                      "the check \"%s\" does not say what is right", check->id ? check->id : "?");
    if (!wh_tree_get(item, "phase"))
        wh_read_error(reader, item, "add \"phase: strip\" or running, washed, rebuild, test, later",
                      "the check \"%s\" does not say when it is made", check->id ? check->id : "?");
    if (check->gauge == WH_NONE || !check->has_limits) return;
    const struct wh_gauge *gauge = &reader->machine->gauges[check->gauge];
    if (!wh_dimension_same(gauge->unit.dimension, check->unit.dimension))
        wh_read_error(reader, wh_tree_get(item, "gauge"), NULL, "the gauge \"%s\" measures %s, the limits are %s",
                      gauge->id, wh_dimension_words(reader->arena, gauge->unit.dimension),
                      wh_dimension_words(reader->arena, check->unit.dimension));
}

void wh_register_checks(struct wh_reader *reader, const struct wh_tree *file)
{
    struct wh_machine *machine = reader->machine;
    const struct wh_tree *list = wh_read_list(reader, file, "checks");
    machine->checks = WH_NEW(reader->arena, list ? list->count + 1 : 1, struct wh_check);
    for (const struct wh_tree *item = list ? list->first : NULL; item; item = item->next) {
        const char *id = wh_tree_text(item, "id", NULL);
        if (id && wh_machine_check(machine, id) != WH_NONE)
            wh_read_error(reader, wh_tree_get(item, "id"), NULL, "the id \"%s\" is doubled", id);
        machine->checks[machine->check_count++] = (struct wh_check){.id = id,
                                                                    .of = WH_NONE,
                                                                    .gauge = WH_NONE,
                                                                    .by = WH_NONE,
                                                                    .way_up = WH_NONE,
                                                                    .at_place = WH_NONE,
                                                                    .level_within = NAN,
                                                                    .stop_at = NAN,
                                                                    .crew = 1,
                                                                    .readings = 1,
                                                                    .places = 1,
                                                                    .place = item->place};
    }
}

void wh_read_checks(struct wh_reader *reader, const struct wh_tree *file)
{
    const struct wh_tree *list = wh_tree_get(file, "checks");
    size_t i = 0;
    if (!list || list->is != WH_TREE_LIST) return;
    for (const struct wh_tree *item = list->first; item && i < reader->machine->check_count; item = item->next, i++) {
        struct wh_check *check = &reader->machine->checks[i];
        wh_read_fields(reader, item, check_fields, sizeof check_fields / sizeof *check_fields, check, NULL);
        if (check->phase == WH_PHASE_WASHED && !wh_tree_get(item, "at")) check->bench = true;
        check_whole(reader, item, check);
        check_kinds(reader, item, check);
        check_sets(reader, item, check);
    }
}
