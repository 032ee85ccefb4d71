#include "machine/balance_read.h"

#include "base/file.h"
#include "machine/balance_reader.h"
#include "machine/yaml_tree.h"

#include <math.h>
#include <string.h>

/* A sheet's own lines, as written. */
struct written {
    const char *title, *part, *is, *zero, *repeatability;
    struct wh_words natural;
    int turns, angles, phases, balancing; /* places in their lists of words; -1: not said */
    double speed, stamped, service, mass, grade, span, centre, phase_doubt, runout, runout_limit;
};
#define TEXT(name, member)                                                                                             \
    {                                                                                                                  \
        name, WH_FIELD_TEXT, offsetof(struct written, member), NULL, NULL, false                                       \
    }
#define QUANTITY(name, member, form)                                                                                   \
    {                                                                                                                  \
        name, WH_FIELD_QUANTITY, offsetof(struct written, member), form, NULL, false                                   \
    }
#define CHOICE(name, member, words, needed)                                                                            \
    {                                                                                                                  \
        name, WH_FIELD_CHOICE, offsetof(struct written, member), words, NULL, needed                                   \
    }
#define ELSEWHERE(name, needed)                                                                                        \
    {                                                                                                                  \
        name, WH_FIELD_ELSEWHERE, 0, NULL, NULL, needed                                                                \
    }
static const struct wh_field fields[] = {
    ELSEWHERE("format", true),
    TEXT("balance", title),
    ELSEWHERE("machine", false),
    TEXT("part", part),
    TEXT("is", is),
    CHOICE("balancing", balancing, "not allowed|masses|masses or drilling", false),
    CHOICE("turns", turns, "anticlockwise|clockwise", true),
    CHOICE("angles", angles, "with turning|against turning", true),
    CHOICE("phases", phases, "lead|lag", false),
    TEXT("zero", zero),
    {"speed", WH_FIELD_QUANTITY, offsetof(struct written, speed), "1..200000 rpm", NULL, true},
    QUANTITY("stamped speed", stamped, "1..200000 rpm"),
    QUANTITY("service speed", service, "1..200000 rpm"),
    QUANTITY("mass", mass, "0.001..100000 kg"),
    QUANTITY("balance grade", grade, "0.1..4000 mm/s"),
    QUANTITY("bearing span", span, "5..20000 mm"),
    QUANTITY("mass centre", centre, "-20000..40000 mm"),
    TEXT("repeatability", repeatability),
    QUANTITY("phase repeatability", phase_doubt, "0.01..90 deg"),
    QUANTITY("run-out", runout, "0..100 mm"),
    QUANTITY("run-out limit", runout_limit, "0.0001..100 mm"),
    {"natural frequencies", WH_FIELD_TEXTS, offsetof(struct written, natural), NULL, NULL, false},
    ELSEWHERE("planes", true),
    ELSEWHERE("sensors", true),
    ELSEWHERE("runs", true),
    ELSEWHERE("known effects", false),
};

struct plane_written {
    const char *id;
    double radius, first, at;
    int holes, most, by;
    struct wh_words taken, masses;
};
#define PLANE(name, is, member, form)                                                                                  \
    {                                                                                                                  \
        name, is, offsetof(struct plane_written, member), form, NULL, false                                            \
    }
static const struct wh_field plane_fields[] = {
    {"id", WH_FIELD_TEXT, offsetof(struct plane_written, id), NULL, NULL, true},
    PLANE("radius", WH_FIELD_QUANTITY, radius, "0.1..10000 mm"),
    PLANE("holes", WH_FIELD_COUNT, holes, "2..32 1"),
    PLANE("first hole", WH_FIELD_QUANTITY, first, "-360..360 deg"),
    PLANE("holes taken", WH_FIELD_TEXTS, taken, NULL),
    PLANE("masses", WH_FIELD_TEXTS, masses, NULL),
    PLANE("at most", WH_FIELD_COUNT, most, "1..12 1"),
    PLANE("by", WH_FIELD_CHOICE, by, "masses|drilling"),
    PLANE("at", WH_FIELD_QUANTITY, at, "-20000..40000 mm"),
};

struct sensor_written {
    const char *id;
    double weight;
};
static const struct wh_field sensor_fields[] = {
    {"id", WH_FIELD_TEXT, offsetof(struct sensor_written, id), NULL, NULL, true},
    {"weight", WH_FIELD_QUANTITY, offsetof(struct sensor_written, weight), "0.000001..1000000 1", NULL, false},
};

struct known_written {
    const char *plane, *sensor, *effect;
    double angle, speed, doubt;
};
#define KNOWN(name, is, member, form)                                                                                  \
    {                                                                                                                  \
        name, is, offsetof(struct known_written, member), form, NULL, true                                             \
    }
static const struct wh_field known_fields[] = {
    KNOWN("plane", WH_FIELD_TEXT, plane, NULL),
    KNOWN("sensor", WH_FIELD_TEXT, sensor, NULL),
    KNOWN("effect", WH_FIELD_TEXT, effect, NULL),
    KNOWN("angle", WH_FIELD_QUANTITY, angle, "-360..720 deg"),
    KNOWN("speed", WH_FIELD_QUANTITY, speed, "1..200000 rpm"),
    {"doubt", WH_FIELD_QUANTITY, offsetof(struct known_written, doubt), "0..100 %", NULL, false},
};
#define READ(b, item, table, to) wh_read_fields(&(b)->reader, item, table, sizeof table / sizeof *table, to, NULL)

double wh_balance_quantity(struct wh_balance_reader *b, const struct wh_tree *node, const char *form_text,
                           const char *text)
{
    struct wh_form form;
    struct wh_value value = wh_exact(NAN);
    if (wh_form_read(form_text, &form))
        wh_form_value(&form, node->key ? node->key : "value", text, node->place, &value, b->reader.errors);
    return value.best;
}

size_t wh_balance_plane_named(struct wh_balance_reader *b, const struct wh_tree *node, const char *id)
{
    for (size_t p = 0; p < b->sheet->planes; p++)
        if (wh_same(b->sheet->plane[p].id, id)) return p;
    wh_read_error(&b->reader, node, "name one of the list \"planes\"", "there is no plane \"%s\"", id);
    return WH_NONE;
}

size_t wh_balance_sensor_named(struct wh_balance_reader *b, const struct wh_tree *node, const char *id)
{
    for (size_t s = 0; s < b->sheet->sensors; s++)
        if (wh_same(b->sheet->sensor[s].id, id)) return s;
    wh_read_error(&b->reader, node, "name one of the list \"sensors\"", "there is no sensor \"%s\"", id);
    return WH_NONE;
}

/* "5 g", or "4 x 5 g" where there are no more than four. */
static void read_masses(struct wh_balance_reader *b, const struct wh_tree *item, const struct plane_written *written,
                        struct wh_balance_plane *plane)
{
    const struct wh_tree *node = wh_tree_get(item, "masses");
    for (size_t i = 0; i < written->masses.count; i++) {
        const char *text = written->masses.at[i], *mass = strstr(text, " x ");
        if (plane->masses == WH_SPLIT_MASSES) {
            wh_read_error(&b->reader, node, NULL, "more than %d sorts of masses", WH_SPLIT_MASSES);
            return;
        }
        double stock = mass ? wh_balance_quantity(b, node, "1..999 1",
                                                  wh_arena_slice(b->reader.arena, text, (size_t)(mass - text)))
                            : 0;
        double size = wh_balance_quantity(b, node, "0.001..1000000 g", mass ? mass + 3 : text);
        if (isnan(stock) || isnan(size)) continue;
        plane->stock[plane->masses] = (size_t)stock;
        plane->mass[plane->masses++] = size;
    }
}

static void read_plane(struct wh_balance_reader *b, const struct wh_tree *item, const struct wh_balance_part *part)
{
    struct plane_written written = {.radius = NAN, .at = NAN, .most = 4};
    struct wh_balance_plane *plane = &b->sheet->plane[b->sheet->planes];
    READ(b, item, plane_fields, &written);
    *plane = (struct wh_balance_plane){.id = written.id ? written.id : "?",
                                       .radius = written.radius,
                                       .first_hole = written.first,
                                       .at = written.at,
                                       .drilled = written.by == 1,
                                       .holes = (size_t)written.holes,
                                       .most = (size_t)written.most};
    if (isnan(plane->radius) && part) plane->radius = part->radius;
    if (plane->holes == 0 && part) plane->holes = part->holes;
    if (isnan(plane->radius))
        wh_read_error(&b->reader, item, "radius: 250 mm", "the radius at which masses sit is missing");
    for (size_t i = 0; i < written.taken.count; i++) {
        size_t hole = wh_balance_hole_named(b, wh_tree_get(item, "holes taken"), written.taken.at[i], plane);
        if (hole > 0) plane->taken[hole - 1] = true;
    }
    read_masses(b, item, &written, plane);
    b->sheet->planes++;
}

static void read_known(struct wh_balance_reader *b, const struct wh_tree *item)
{
    struct known_written written = {0};
    struct wh_value value;
    struct wh_unit unit;
    READ(b, item, known_fields, &written);
    if (!written.plane || !written.sensor || !written.effect) return;
    size_t plane = wh_balance_plane_named(b, wh_tree_get(item, "plane"), written.plane);
    size_t sensor = wh_balance_sensor_named(b, wh_tree_get(item, "sensor"), written.sensor);
    if (plane == WH_NONE || sensor == WH_NONE) return;
    struct wh_dimension wanted = b->sheet->sensor[sensor].unit.dimension;
    wanted.of[0]--, wanted.of[1]--;
    if (wh_value_read(written.effect, NULL, &value, &unit) != WH_READ_WELL || !(value.best > 0) ||
        !wh_dimension_same(unit.dimension, wanted)) {
        wh_read_error(&b->reader, wh_tree_get(item, "effect"),
                      "write what a unit of unbalance makes of the reading: "
                      "\"0.0045 mm/s g mm\"",
                      "\"%s\" is no effect on sensor %s", written.effect, written.sensor);
        return;
    }
    for (size_t k = 0; k < b->sheet->known_count; k++)
        if (b->sheet->known[k].plane == plane && b->sheet->known[k].sensor == sensor) {
            wh_read_error(&b->reader, item, NULL, "this effect stands here twice");
            return;
        }
    b->sheet->known[b->sheet->known_count++] =
        (struct wh_balance_known){plane, sensor, value.best, written.angle, written.speed, written.doubt / 2};
}

static void read_lists(struct wh_balance_reader *b, const struct wh_tree *tree, const struct wh_balance_part *part)
{
    struct wh_balance_sheet *sheet = b->sheet;
    const struct wh_tree *planes = wh_read_list(&b->reader, tree, "planes");
    const struct wh_tree *sensors = wh_read_list(&b->reader, tree, "sensors");
    for (const struct wh_tree *item = planes ? planes->first : NULL; item; item = item->next) {
        if (sheet->planes == WH_BALANCE_PLANES) {
            wh_read_error(&b->reader, item, NULL, "more than %d planes", WH_BALANCE_PLANES);
            break;
        }
        read_plane(b, item, part);
    }
    for (const struct wh_tree *item = sensors ? sensors->first : NULL; item; item = item->next) {
        struct sensor_written written = {.weight = NAN};
        READ(b, item, sensor_fields, &written);
        if (sheet->sensors == WH_BALANCE_SENSORS) {
            wh_read_error(&b->reader, item, NULL, "more than %d sensors", WH_BALANCE_SENSORS);
            break;
        }
        sheet->sensor[sheet->sensors++] =
            (struct wh_balance_sensor){.id = written.id ? written.id : "?", .weight = written.weight};
    }
    if (planes && sheet->planes == 0) wh_read_error(&b->reader, planes, NULL, "there is no plane");
    if (sensors && sheet->sensors == 0) wh_read_error(&b->reader, sensors, NULL, "there is no sensor");
}

/* Sensors of different quantities cannot be weighed against each other unless it is said how. */
static void weigh(struct wh_balance_reader *b, const struct wh_tree *tree)
{
    struct wh_balance_sheet *sheet = b->sheet;
    bool same = true, stated = true;
    for (size_t s = 0; s < sheet->sensors; s++) {
        same = same && wh_dimension_same(sheet->sensor[s].unit.dimension, sheet->sensor[0].unit.dimension);
        stated = stated && !isnan(sheet->sensor[s].weight);
        if (isnan(sheet->sensor[s].weight)) sheet->sensor[s].weight = 1;
    }
    if (!same && !stated)
        wh_read_error(&b->reader, wh_tree_get(tree, "sensors"), "give each sensor a weight",
                      "the sensors read different quantities");
}

/* "5 %", or "0.2 mm/s" alike for all sensors. */
static void read_repeatability(struct wh_balance_reader *b, const struct wh_tree *tree, const char *text)
{
    struct wh_balance_sheet *sheet = b->sheet;
    struct wh_value value;
    struct wh_unit unit;
    static const struct wh_dimension number = {{0}};
    bool good = wh_value_read(text, NULL, &value, &unit) == WH_READ_WELL && value.best > 0;
    bool share = good && wh_dimension_same(unit.dimension, number);
    for (size_t s = 0; s < sheet->sensors && good && !share; s++)
        good = wh_dimension_same(unit.dimension, sheet->sensor[s].unit.dimension);
    if (!good)
        wh_read_error(&b->reader, wh_tree_get(tree, "repeatability"),
                      "write \"5 %\", or \"0.2 mm/s\" as the sensors read",
                      "\"%s\" is no repeatability of these sensors", text);
    if (good) *(share ? &sheet->amplitude_share : &sheet->amplitude_doubt) = value.best;
}

static double known_or(double written, double part)
{
    return isnan(written) ? part : written;
}

/* What the sheet says itself goes before the machine; but what the machine does not allow, no sheet allows. */
static void settle(struct wh_balance_reader *b, const struct wh_tree *tree, const struct written *w,
                   const struct wh_balance_part *part)
{
    struct wh_balance_sheet *sheet = b->sheet;
    static const enum wh_balance_allows allows[] = {WH_BALANCE_NOT_ALLOWED, WH_BALANCE_BY_MASSES,
                                                    WH_BALANCE_BY_DRILLING};
    *sheet = (struct wh_balance_sheet){.title = w->title,
                                       .machine = part ? part->machine : NULL,
                                       .part = part ? part->title : w->is,
                                       .zero = w->zero,
                                       .clockwise = w->turns == 1,
                                       .against = w->angles == 1,
                                       .lag = w->phases == 1,
                                       .speed = w->speed,
                                       .stamped = known_or(part ? part->stamped : NAN, w->stamped),
                                       .mass = known_or(w->mass, part ? part->mass : NAN),
                                       .service = known_or(w->service, part ? part->speed : NAN),
                                       .span = w->span,
                                       .centre = w->centre,
                                       .grade = known_or(w->grade, part ? part->grade : NAN),
                                       .phase_doubt = w->phase_doubt,
                                       .runout = w->runout,
                                       .runout_limit = w->runout_limit,
                                       .amplitude_doubt = NAN,
                                       .amplitude_share = NAN};
    sheet->service = known_or(sheet->service, sheet->speed);
    if (isnan(sheet->stamped))
        wh_read_error(&b->reader, tree, "stamped speed: 2200 rpm", "the stamped speed is missing");
    if (!isnan(sheet->runout) && isnan(sheet->runout_limit))
        wh_read_error(&b->reader, wh_tree_get(tree, "run-out"), "run-out limit: 0.03 mm",
                      "a run-out tells nothing without its limit");
    if (part) {
        sheet->allows = part->allows;
        return;
    }
    const struct wh_kind *kind = wh_kind_find(w->is ? w->is : "");
    if (!kind) {
        wh_read_error(&b->reader, tree,
                      "machine: FILE and part: ID; or is: wheel, and balancing: masses where its "
                      "maker allows it",
                      w->is ? "\"%s\" is no kind of part" : "neither a part of a machine nor its kind is named%s",
                      w->is ? w->is : "");
        return;
    }
    sheet->allows = kind->balancing == WH_BALANCING_BY_FILE  ? allows[w->balancing < 0 ? 0 : w->balancing]
                    : kind->balancing == WH_BALANCING_MAKERS ? WH_BALANCE_MAKERS
                                                             : WH_BALANCE_NO_ROTOR;
}

static void read_natural(struct wh_balance_reader *b, const struct wh_tree *tree, const struct written *w)
{
    const struct wh_tree *node = wh_tree_get(tree, "natural frequencies");
    for (size_t i = 0; i < w->natural.count; i++) {
        if (i == WH_BALANCE_NATURALS) {
            wh_read_error(&b->reader, node, NULL, "more than %d natural frequencies", WH_BALANCE_NATURALS);
            return;
        }
        double frequency = wh_balance_quantity(b, node, "0.1..100000 Hz", w->natural.at[i]);
        b->sheet->natural[b->sheet->naturals++] = 2 * 3.14159265358979323846 * frequency;
    }
}

static void check_phases(struct wh_balance_reader *b, const struct wh_tree *tree, const struct written *w)
{
    bool phase = false;
    for (size_t r = 0; r < b->sheet->runs; r++)
        for (size_t s = 0; s < b->sheet->sensors; s++) phase = phase || !isnan(b->sheet->run[r].reads[s].phase);
    if (phase && w->phases < 0)
        wh_read_error(&b->reader, tree, "phases: lag where a later peak reads more, phases: lead where it reads less",
                      "it is not said which way phases are counted");
}

enum wh_status wh_balance_read(struct wh_arena *arena, const struct wh_tree *tree, const struct wh_balance_part *part,
                               struct wh_balance_sheet **ret, struct wh_errors *reterr)
{
    struct wh_balance_reader b = {{arena, reterr, NULL}, WH_NEW(arena, 1, struct wh_balance_sheet)};
    struct written w = {.turns = -1,
                        .angles = -1,
                        .phases = -1,
                        .balancing = -1,
                        .speed = NAN,
                        .stamped = NAN,
                        .service = NAN,
                        .mass = NAN,
                        .grade = NAN,
                        .span = NAN,
                        .centre = NAN,
                        .phase_doubt = NAN,
                        .runout = NAN,
                        .runout_limit = NAN};
    const struct wh_tree *format = wh_tree_get(tree, "format");
    READ(&b, tree, fields, &w);
    if (format && !wh_same(format->text, "1"))
        wh_read_error(&b.reader, format, "write \"format: 1\"", "this program reads sheets of format 1 only");
    settle(&b, tree, &w, part);
    read_natural(&b, tree, &w);
    read_lists(&b, tree, part);
    wh_balance_read_runs(&b, tree);
    weigh(&b, tree);
    if (w.repeatability) read_repeatability(&b, tree, w.repeatability);
    const struct wh_tree *known = wh_read_list(&b.reader, tree, "known effects");
    for (const struct wh_tree *item = known ? known->first : NULL; item; item = item->next) read_known(&b, item);
    check_phases(&b, tree, &w);
    for (size_t f = 0; f < b.sheet->fitted_count; f++) {
        struct wh_balance_fitted *one = &b.sheet->fitted[f];
        if (one->stays && one->off > b.sheet->runs && one->hole > 0)
            b.sheet->plane[one->plane].taken[one->hole - 1] = true;
    }
    enum wh_status status = wh_errors_status(reterr);
    if (status == WH_OK) *ret = b.sheet;
    return status;
}

enum wh_balance_allows wh_balance_allowed(const struct wh_machine *machine, size_t thing)
{
    const struct wh_thing *part = &machine->things[thing];
    const char *words = wh_thing_words(part, "balancing");
    if (part->kind->balancing == WH_BALANCING_MAKERS) return WH_BALANCE_MAKERS;
    if (part->kind->balancing == WH_BALANCING_NONE) return WH_BALANCE_NO_ROTOR;
    for (size_t t = 0; t < machine->thing_count; t++) {
        if (machine->things[t].kind->balancing != WH_BALANCING_MAKERS) continue;
        size_t belt = wh_thing_role(machine, t, "belt");
        if (belt != WH_NONE && wh_thing_role(machine, belt, "spindle") == thing) return WH_BALANCE_MAKERS_SHAFT;
    }
    if (wh_same(words, "masses")) return WH_BALANCE_BY_MASSES;
    return wh_same(words, "masses or drilling") ? WH_BALANCE_BY_DRILLING : WH_BALANCE_NOT_ALLOWED;
}

enum wh_status wh_balance_file(struct wh_arena *arena, const char *path, struct wh_tree **ret, struct wh_errors *reterr)
{
    char *bytes;
    size_t size;
    enum wh_status status = wh_file_read(arena, path, WH_BALANCE_BYTES, &bytes, &size, reterr);
    if (status != WH_OK) return status;
    wh_errors_show(reterr, path, bytes);
    status = wh_yaml_read(arena, path, bytes, size, ret, reterr);
    return status == WH_OK ? wh_errors_status(reterr) : status;
}
