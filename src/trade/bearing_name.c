/* bearing_name.c - reads and prints designations of rolling bearings. */
#include "trade/bearing.h"
#include "trade/bearing_table.h"
#include "trade/iso492.h"

#include <stdio.h>
#include <string.h>

const char *const wh_bearing_type_words[WH_BEARING_TYPES] = {"deep-groove", "self-aligning-ball", "angular-contact",
                                                             "cylindrical-roller", "spherical-roller"};
const char *const wh_cage_words[WH_CAGES] = {"steel", "brass", "polymer", "unknown"};
const char *const wh_sealing_words[WH_SEALINGS] = {"open", "shields", "seals", "unknown"};
const char *const wh_clearance_group_words[WH_CLEARANCE_GROUPS] = {"C2", "CN", "C3", "C4", "C5"};

enum cover { COVER_NONE, COVER_Z, COVER_2Z, COVER_RS, COVER_2RS, COVERS };
static const char *const cover_words[COVERS] = {"", "-Z", "-2Z", "-RS", "-2RS"};

/* A designation taken apart. */
struct name {
    size_t series, bore;
    int cover, cage, group, class;
    int tapered;
};

enum field { FIELD_NONE, FIELD_COVER, FIELD_CAGE, FIELD_GROUP, FIELD_CLASS, FIELD_BOTH, FIELD_TAPER };

/* Suffixes, a longer one before its own beginning. FIELD_BOTH is class * 8 + group, as in "P63". Suffixes without a
 * field are inner design, heat treatment, lubrication groove and snap ring groove: known, but nothing hangs on them. */
static const struct suffix {
    const char *text;
    enum field field;
    int value;
} suffixes[] = {
    {"2RSR", FIELD_COVER, COVER_2RS},
    {"2RSH", FIELD_COVER, COVER_2RS},
    {"2RS1", FIELD_COVER, COVER_2RS},
    {"2RS", FIELD_COVER, COVER_2RS},
    {"2RZ", FIELD_COVER, COVER_2RS},
    {"2ZR", FIELD_COVER, COVER_2Z},
    {"2Z", FIELD_COVER, COVER_2Z},
    {"ZZ", FIELD_COVER, COVER_2Z},
    {"RSR", FIELD_COVER, COVER_RS},
    {"RSH", FIELD_COVER, COVER_RS},
    {"RS1", FIELD_COVER, COVER_RS},
    {"RS", FIELD_COVER, COVER_RS},
    {"RZ", FIELD_COVER, COVER_RS},
    {"ZR", FIELD_COVER, COVER_Z},
    {"Z", FIELD_COVER, COVER_Z},
    {"C2", FIELD_GROUP, WH_CLEARANCE_C2},
    {"CN", FIELD_GROUP, WH_CLEARANCE_CN},
    {"C0", FIELD_GROUP, WH_CLEARANCE_CN},
    {"C3", FIELD_GROUP, WH_CLEARANCE_C3},
    {"C4", FIELD_GROUP, WH_CLEARANCE_C4},
    {"C5", FIELD_GROUP, WH_CLEARANCE_C5},
    {"CC", FIELD_NONE, 0},
    {"C", FIELD_NONE, 0},
    {"P62", FIELD_BOTH, WH_CLASS_P6 * 8 + WH_CLEARANCE_C2},
    {"P63", FIELD_BOTH, WH_CLASS_P6 * 8 + WH_CLEARANCE_C3},
    {"P64", FIELD_BOTH, WH_CLASS_P6 * 8 + WH_CLEARANCE_C4},
    {"P52", FIELD_BOTH, WH_CLASS_P5 * 8 + WH_CLEARANCE_C2},
    {"P53", FIELD_BOTH, WH_CLASS_P5 * 8 + WH_CLEARANCE_C3},
    {"P54", FIELD_BOTH, WH_CLASS_P5 * 8 + WH_CLEARANCE_C4},
    {"P43", FIELD_BOTH, WH_CLASS_P4 * 8 + WH_CLEARANCE_C3},
    {"P0", FIELD_CLASS, WH_CLASS_NORMAL},
    {"P6", FIELD_CLASS, WH_CLASS_P6},
    {"P5", FIELD_CLASS, WH_CLASS_P5},
    {"P4", FIELD_CLASS, WH_CLASS_P4},
    {"P2", FIELD_CLASS, WH_CLASS_P2},
    {"P", FIELD_CAGE, WH_CAGE_POLYMER},
    {"TN9", FIELD_CAGE, WH_CAGE_POLYMER},
    {"TN", FIELD_CAGE, WH_CAGE_POLYMER},
    {"J", FIELD_CAGE, WH_CAGE_STEEL},
    {"MA", FIELD_CAGE, WH_CAGE_BRASS},
    {"MB", FIELD_CAGE, WH_CAGE_BRASS},
    {"M", FIELD_CAGE, WH_CAGE_BRASS},
    {"K", FIELD_TAPER, 1},
    {"W33", FIELD_NONE, 0},
    {"EC", FIELD_NONE, 0},
    {"E1", FIELD_NONE, 0},
    {"E", FIELD_NONE, 0},
    {"NR", FIELD_NONE, 0},
    {"N", FIELD_NONE, 0},
    {"A", FIELD_NONE, 0},
    {"B", FIELD_NONE, 0},
    {"S0", FIELD_NONE, 0},
    {"S1", FIELD_NONE, 0},
};

static void take_suffix(struct name *name, const struct suffix *suffix)
{
    switch (suffix->field) {
    case FIELD_COVER: name->cover = suffix->value; break;
    case FIELD_CAGE: name->cage = suffix->value; break;
    case FIELD_GROUP: name->group = suffix->value; break;
    case FIELD_CLASS: name->class = suffix->value; break;
    case FIELD_TAPER: name->tapered = suffix->value; break;
    case FIELD_BOTH:
        name->class = suffix->value / 8;
        name->group = suffix->value % 8;
        break;
    case FIELD_NONE: break;
    }
}

static bool begins(const char *text, size_t n, const char *with)
{
    size_t length = strlen(with);
    return n >= length && memcmp(text, with, length) == 0;
}

static bool read_suffixes(const char *text, size_t n, struct name *ret)
{
    while (n > 0) {
        size_t i = 0;
        if (strchr("-/ .", *text)) {
            text++, n--;
            continue;
        }
        while (i < sizeof suffixes / sizeof *suffixes && !begins(text, n, suffixes[i].text)) i++;
        if (i == sizeof suffixes / sizeof *suffixes) return false;
        take_suffix(ret, &suffixes[i]);
        text += strlen(suffixes[i].text), n -= strlen(suffixes[i].text);
    }
    return true;
}

/* Series, then two digits or one for the bore, then suffixes. */
static bool read_name(const char *text, size_t n, struct name *ret)
{
    struct wh_bearing ignored;
    for (size_t series = 0; series < WH_BEARING_SERIES; series++) {
        const char *prefix = wh_bearing_series(series);
        size_t length = strlen(prefix), digits = 0;
        if (!begins(text, n, prefix)) continue;
        while (length + digits < n && text[length + digits] >= '0' && text[length + digits] <= '9') digits++;
        size_t bore = wh_bearing_bore_read(text + length, digits);
        if (!wh_bearing_dimensions(series, bore, &ignored)) continue;
        *ret = (struct name){.series = series, .bore = bore, .cage = WH_CAGE_UNKNOWN, .group = WH_CLEARANCE_CN};
        return read_suffixes(text + length + digits, n - length - digits, ret);
    }
    return false;
}

/* A number with one place for each part of the name. */
static double pack(const struct name *name)
{
    long code = (long)name->series;
    code = code * WH_BEARING_BORES + (long)name->bore;
    code = code * COVERS + name->cover;
    code = code * WH_CAGES + name->cage;
    code = code * WH_CLEARANCE_GROUPS + name->group;
    code = code * WH_CLASSES + name->class;
    return (double)(code * 2 + name->tapered);
}

static int take(long *code, long of)
{
    int part = (int)(*code % of);
    *code /= of;
    return part;
}

static struct name unpack(double packed)
{
    struct name name;
    long code = (long)packed;
    name.tapered = take(&code, 2);
    name.class = take(&code, WH_CLASSES);
    name.group = take(&code, WH_CLEARANCE_GROUPS);
    name.cage = take(&code, WH_CAGES);
    name.cover = take(&code, COVERS);
    name.bore = (size_t)take(&code, WH_BEARING_BORES);
    name.series = (size_t)code;
    return name;
}

struct wh_bearing wh_bearing_of(double code)
{
    static const enum wh_sealing sealings[COVERS] = {WH_SEALING_OPEN, WH_SEALING_SHIELDS, WH_SEALING_SHIELDS,
                                                     WH_SEALING_SEALS, WH_SEALING_SEALS};
    struct name name = unpack(code);
    struct wh_bearing bearing = {0};
    wh_bearing_dimensions(name.series, name.bore, &bearing);
    bearing.sealing = sealings[name.cover];
    bearing.cage = (enum wh_cage)name.cage;
    bearing.group = (enum wh_clearance_group)name.group;
    bearing.tolerance_class = name.class;
    bearing.tapered = name.tapered;
    return bearing;
}

bool wh_bearing_find(const char *designation, size_t n, struct wh_bearing *ret)
{
    double code;
    if (!wh_bearing_read(designation, n, &code)) return false;
    *ret = wh_bearing_of(code);
    return true;
}

bool wh_bearing_read(const char *text, size_t n, double *ret)
{
    struct name name;
    if (!read_name(text, n, &name)) return false;
    *ret = pack(&name);
    return true;
}

size_t wh_bearing_print(double code, char *to, size_t room)
{
    static const char *const cages[WH_CAGES] = {"-J", "-M", "-TN", ""};
    static const char *const groups[WH_CLEARANCE_GROUPS] = {"/C2", "", "/C3", "/C4", "/C5"};
    static const char *const classes[WH_CLASSES] = {"", "/P6", "/P5", "/P4", "/P2"};
    struct name name = unpack(code);
    char bore[8];
    wh_bearing_bore_print(name.bore, bore, sizeof bore);
    return (size_t)snprintf(to, room, "%s%s%s%s%s%s%s", wh_bearing_series(name.series), bore, name.tapered ? "-K" : "",
                            cages[name.cage], cover_words[name.cover], classes[name.class], groups[name.group]);
}

size_t wh_bearing_list(size_t i, char *to, size_t room)
{
    struct wh_bearing ignored;
    for (size_t series = 0; series < WH_BEARING_SERIES; series++)
        for (size_t bore = 0; bore < WH_BEARING_BORES; bore++)
            if (wh_bearing_dimensions(series, bore, &ignored) && i-- == 0) {
                struct name name = {.series = series, .bore = bore, .cage = WH_CAGE_UNKNOWN, .group = WH_CLEARANCE_CN};
                return wh_bearing_print(pack(&name), to, room);
            }
    return 0;
}
