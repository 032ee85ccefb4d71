#include "view/service_report.h"

#include "base/text.h"
#include "view/machine.h"
#include "view/section.h"

#include <string.h>

struct report {
    struct wh_arena *arena;
    const struct wh_tree *job;
    const struct wh_report_print *print;
    struct wh_tree *sheets, *blocks;
    size_t photo; /* number of the last photo told */
};

static const struct wh_tree *first_of(const struct wh_tree *map, const char *key)
{
    const struct wh_tree *list = wh_tree_get(map, key);
    return list ? list->first : NULL;
}

static const char *get(const struct wh_tree *map, const char *key)
{
    return wh_tree_text(map, key, "");
}

static void say(struct report *r, struct wh_tree *map, const char *key, const char *text)
{
    wh_tree_add_text(r->arena, map, key, wh_view_units_text(r->arena, text));
}

static void start_sheet(struct report *r, const char *heading)
{
    struct wh_tree *sheet = wh_tree_add_new(r->arena, r->sheets, NULL, WH_TREE_MAP);
    wh_tree_add_text(r->arena, sheet, "heading", heading);
    r->blocks = wh_tree_add_new(r->arena, sheet, "blocks", WH_TREE_LIST);
}

static struct wh_tree *block(struct report *r, const char *is)
{
    struct wh_tree *map = wh_tree_add_new(r->arena, r->blocks, NULL, WH_TREE_MAP);
    wh_tree_add_text(r->arena, map, "is", is);
    return map;
}

static void text(struct report *r, const char *is, const char *words)
{
    if (*words) say(r, block(r, is), "text", words);
}

/* A table of columns "title|weight". */
static struct wh_tree *table(struct report *r, const char *const columns[], size_t n)
{
    struct wh_tree *map = block(r, "table"), *list = wh_tree_add_new(r->arena, map, "columns", WH_TREE_LIST);
    for (size_t i = 0; i < n; i++) {
        struct wh_words words = wh_split(r->arena, columns[i], '|');
        struct wh_tree *column = wh_tree_add_new(r->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(r->arena, column, "title", words.at[0]);
        wh_tree_add_text(r->arena, column, "weight", words.at[1]);
    }
    return wh_tree_add_new(r->arena, map, "rows", WH_TREE_LIST);
}

static void row(struct report *r, struct wh_tree *rows, const char *const cells[], size_t n)
{
    struct wh_tree *list = wh_tree_add_new(r->arena, rows, NULL, WH_TREE_LIST);
    for (size_t i = 0; i < n; i++) say(r, list, NULL, cells[i]);
}

static bool has_kind(const struct report *r, const char *kind)
{
    for (const struct wh_tree *e = first_of(r->job, "entries"); e; e = e->next)
        if (wh_same(get(e, "kind"), kind)) return true;
    return false;
}

static void renewed(struct report *r)
{
    static const char *const columns[] = {"Part|3", "Designation|3", "Batch or serial|2",
                                          "Make|2", "Old part|3",    "By|2"};
    if (!has_kind(r, "renewed")) return;
    text(r, "heading", "Parts renewed");
    struct wh_tree *rows = table(r, columns, 6);
    for (const struct wh_tree *e = first_of(r->job, "entries"); e; e = e->next) {
        if (!wh_same(get(e, "kind"), "renewed")) continue;
        const char *instead = get(e, "instead of");
        const char *designation = *instead
                                      ? wh_arena_print(r->arena, "%s instead of %s", get(e, "designation"), instead)
                                      : get(e, "designation");
        const char *const cells[] = {get(e, "part"), designation,        get(e, "batch"),
                                     get(e, "make"), get(e, "old part"), get(e, "who")};
        row(r, rows, cells, 6);
    }
}

/* "what: red dust; on: foot-sleeve": the fields of an entry in one text. */
static const char *fields_of(struct report *r, const struct wh_tree *entry)
{
    static const char *const known[] = {"entry", "kind", "title", "who", "at"};
    struct wh_text words = {.arena = r->arena};
    for (const struct wh_tree *node = entry->first; node; node = node->next) {
        bool head = false;
        for (size_t i = 0; i < sizeof known / sizeof *known; i++) head |= wh_same(node->key, known[i]);
        if (!head && !wh_same(node->key, "files"))
            wh_text_print(&words, "%s%s: %s", words.count ? "; " : "", node->key, node->text);
    }
    return wh_text_of(&words);
}

/* "photos 3, 4" of an entry: photos are counted in the order of the entries. */
static const char *photo_numbers(struct report *r, const struct wh_tree *entry)
{
    struct wh_words files = wh_split(r->arena, get(entry, "files"), ',');
    struct wh_text words = {.arena = r->arena};
    for (size_t i = 0; i < files.count; i++)
        if (*files.at[i]) wh_text_print(&words, "%s%zu", words.count ? ", " : "photo ", ++r->photo);
    return wh_text_of(&words);
}

static void found_and_done(struct report *r)
{
    static const char *const columns[] = {"Entry|2", "What|3", "Words|9", "By|2", "When, UTC|3"};
    text(r, "heading", "Found and done");
    struct wh_tree *rows = table(r, columns, 5);
    for (const struct wh_tree *e = first_of(r->job, "entries"); e; e = e->next) {
        if (wh_same(get(e, "kind"), "renewed")) continue;
        const char *words = fields_of(r, e), *numbers = photo_numbers(r, e);
        words = wh_arena_print(r->arena, "%s%s%s", words, *words && *numbers ? "; " : "", numbers);
        const char *const cells[] = {get(e, "entry"), get(e, "title"), words, get(e, "who"), get(e, "at")};
        row(r, rows, cells, 5);
    }
    for (const struct wh_tree *c = first_of(r->job, "contests"); c; c = c->next) {
        const char *words = wh_arena_print(r->arena, "met entry %s: %s %s; %s", get(c, "against"), get(c, "kind"),
                                           get(c, "says"), get(c, "settled"));
        const char *const cells[] = {get(c, "entry"), "contested entry", words, get(c, "who"), ""};
        row(r, rows, cells, 5);
    }
}

static void first_sheet(struct report *r, const struct wh_report_print *print)
{
    bool final = *wh_tree_text(wh_tree_get(r->job, "signatures"), "customer", "");
    start_sheet(r, final ? "What was done" : "What was done, draft");
    text(r, "text",
         wh_arena_print(r->arena, "Opened %s. Brought in by: %s. Hours run: %s. It stands: %s.", get(r->job, "opened"),
                        wh_tree_text(r->job, "brought in by", "not said"),
                        wh_tree_text(r->job, "hours run", "not said"), get(r->job, "state")));
    text(r, "note",
         wh_arena_print(r->arena,
                        "Stamp of the last entry, number %s: %s. It proves what this report was made "
                        "from, once the report has left the house.",
                        get(r->job, "entries made"), print->stamp));
    renewed(r);
    found_and_done(r);
}

/* What is to be told below a reading: amendments with the first value, a decision, what would settle it. */
static const char *value_of(struct report *r, const struct wh_tree *reading)
{
    struct wh_text words = {.arena = r->arena};
    wh_text_add(&words, get(reading, "value"));
    if (wh_tree_get(reading, "first value")) wh_text_print(&words, ". First entered: %s", get(reading, "first value"));
    for (const struct wh_tree *a = first_of(reading, "amendments"); a; a = a->next)
        wh_text_print(&words, ". Amended to %s by %s because %s", get(a, "value"), get(a, "who"), get(a, "because"));
    return wh_text_of(&words);
}

static const char *verdict_of(struct report *r, const struct wh_tree *reading)
{
    struct wh_text words = {.arena = r->arena};
    wh_text_add(&words, get(reading, "says"));
    if (wh_tree_get(reading, "decided"))
        wh_text_print(&words, ". Decided by %s: %s", get(reading, "decided by"), get(reading, "decided"));
    if (wh_tree_get(reading, "remark")) wh_text_print(&words, ". %s", get(reading, "remark"));
    if (wh_tree_get(reading, "hold")) wh_text_print(&words, ". %s", get(reading, "hold"));
    return wh_text_of(&words);
}

static void readings(struct report *r, const char *when, const char *heading)
{
    static const char *const columns[] = {"Reading|4", "Read|5", "Limits|3", "Verdict|5", "Gauge|4", "By|2"};
    struct wh_tree *rows = NULL;
    for (const struct wh_tree *reading = first_of(r->job, "readings"); reading; reading = reading->next) {
        if (!wh_same(get(reading, "when"), when)) continue;
        if (!rows) {
            start_sheet(r, heading);
            rows = table(r, columns, 6);
        }
        const char *gauge =
            wh_tree_get(reading, "gauge uncertainty")
                ? wh_arena_print(r->arena, "%s, ± %s", get(reading, "gauge"), get(reading, "gauge uncertainty"))
                : get(reading, "gauge");
        const char *const cells[] = {
            get(reading, "title"), value_of(r, reading), get(reading, "limits"), verdict_of(r, reading), gauge,
            get(reading, "who")};
        row(r, rows, cells, 6);
    }
}

static void steps(struct report *r)
{
    static const char *const columns[] = {"Step|2", "What|7", "Stands|2", "Minutes|2", "By|2", "Otherwise|5"};
    start_sheet(r, "Steps");
    struct wh_tree *rows = table(r, columns, 6);
    for (const struct wh_tree *s = first_of(r->job, "steps"); s; s = s->next) {
        const char *manner = get(s, "manner"), *because = get(s, "because");
        const char *otherwise = wh_arena_print(r->arena, "%s%s%s", manner, *manner && *because ? ", " : "", because);
        const char *const cells[] = {get(s, "number"),         get(s, "what"), get(s, "mark"),
                                     get(s, "actual minutes"), get(s, "who"),  otherwise};
        row(r, rows, cells, 6);
    }
}

static void holds(struct report *r)
{
    static const char *const columns[] = {"Hold or energy|4", "Entry|2", "By|2", "What was tried|7",
                                          "Lapsed by entry|2"};
    start_sheet(r, "Holds");
    struct wh_tree *rows = table(r, columns, 5);
    for (const struct wh_tree *hold = first_of(r->job, "holds"); hold; hold = hold->next) {
        for (const struct wh_tree *release = first_of(hold, "releases"); release; release = release->next) {
            const char *const cells[] = {get(hold, "title"), get(release, "entry"), get(release, "who"),
                                         get(release, "tried"), get(release, "lapsed by entry")};
            row(r, rows, cells, 5);
        }
        const char *const none[] = {get(hold, "title"), "", "", get(hold, "stands"), ""};
        if (!first_of(hold, "releases")) row(r, rows, none, 5);
    }
}

/* Each caution once, with the names of those who worked under it. */
static void cautions(struct report *r)
{
    static const char *const columns[] = {"Caution|7", "Met at|5", "By|2"};
    text(r, "heading", "Cautions met");
    struct wh_tree *rows = table(r, columns, 3);
    for (const struct wh_tree *c = first_of(r->job, "cautions met"); c; c = c->next) {
        bool told = false;
        struct wh_text at = {.arena = r->arena}, who = {.arena = r->arena};
        for (const struct wh_tree *b = first_of(r->job, "cautions met"); b != c; b = b->next)
            told |= wh_same(get(b, "text"), get(c, "text"));
        if (told) continue;
        for (const struct wh_tree *b = c; b; b = b->next) {
            if (!wh_same(get(b, "text"), get(c, "text"))) continue;
            wh_text_print(&at, "%s%s", at.count ? ", " : "", get(b, "step"));
            if (!strstr(wh_text_of(&who), get(b, "who")))
                wh_text_print(&who, "%s%s", who.count ? ", " : "", get(b, "who"));
        }
        const char *const cells[] = {get(c, "text"), wh_text_of(&at), wh_text_of(&who)};
        row(r, rows, cells, 3);
    }
}

static void signatures(struct report *r)
{
    static const char *const says[] = {"did the work as written here", "looked at the readings and at what was decided",
                                       "received it, knows what stays open, until when and with what limit"};
    start_sheet(r, "What stays open, and who signed");
    struct wh_tree *items = wh_tree_add_new(r->arena, block(r, "list"), "items", WH_TREE_LIST);
    for (const struct wh_tree *open = first_of(r->job, "open"); open; open = open->next)
        say(r, items, NULL, open->text);
    if (!items->first) say(r, items, NULL, "nothing");
    struct wh_tree *lines = wh_tree_add_new(r->arena, block(r, "signatures"), "lines", WH_TREE_LIST);
    size_t i = 0;
    for (const struct wh_tree *sign = first_of(r->job, "signatures"); sign && i < 3; sign = sign->next, i++) {
        struct wh_tree *line = wh_tree_add_new(r->arena, lines, NULL, WH_TREE_MAP);
        say(r, line, "role", sign->key);
        say(r, line, "text",
            *sign->text ? wh_arena_print(r->arena, "%s: %s", sign->text, says[i])
                        : wh_arena_print(r->arena, "not yet: %s", says[i]));
    }
    text(r, "note", "The maker's manual, local rules and licensed practice come before this report.");
}

static struct wh_tree *pictures(struct report *r)
{
    return wh_tree_add_new(r->arena, block(r, "pictures"), "items", WH_TREE_LIST);
}

static struct wh_tree *picture(struct report *r, struct wh_tree *items, const char *words)
{
    struct wh_tree *item = wh_tree_add_new(r->arena, items, NULL, WH_TREE_MAP);
    say(r, item, "text", words);
    return item;
}

/* The middle of the spindle as it was read all round, found and left. */
static void centres(struct report *r)
{
    if (!r->print->centres || !r->print->centres->first) return;
    start_sheet(r, "Centre of the spindle");
    struct wh_tree *items = pictures(r);
    for (const struct wh_tree *centre = r->print->centres->first; centre; centre = centre->next) {
        const struct wh_tree *drawn = wh_tree_get(centre, "scene");
        struct wh_tree *item = picture(r, items, get(centre, "text")),
                       *scene = wh_tree_add_new(r->arena, item, "scene", WH_TREE_SCENE);
        scene->scene = drawn->scene;
        scene->text = drawn->text;
    }
}

static const struct wh_picture *picture_of(const struct report *r, const char *hash)
{
    for (size_t i = 0; i < r->print->photo_count; i++)
        if (wh_same(r->print->photos[i].hash, hash)) return &r->print->photos[i].picture;
    return NULL;
}

/* What cannot be printed is told with its hash, under which the store keeps it. */
static void photos_of(struct report *r, struct wh_tree *items, const struct wh_tree *entry)
{
    struct wh_words files = wh_split(r->arena, get(entry, "files"), ',');
    for (size_t i = 0; i < files.count; i++) {
        const struct wh_picture *shown = picture_of(r, files.at[i]);
        const char *words =
            wh_arena_print(r->arena, "Photo %zu, entry %s, %s: %s. %s%s%s", ++r->photo, get(entry, "entry"),
                           get(entry, "title"), fields_of(r, entry), get(entry, "who"),
                           shown ? "" : ". Not printed here, kept as ", shown ? "" : files.at[i]);
        struct wh_tree *item = picture(r, items, words);
        if (shown) wh_tree_add_new(r->arena, item, "picture", WH_TREE_PICTURE)->picture = shown;
    }
}

static void photos(struct report *r)
{
    struct wh_tree *items = NULL;
    r->photo = 0;
    for (const struct wh_tree *e = first_of(r->job, "entries"); e; e = e->next) {
        if (!wh_tree_get(e, "files")) continue;
        if (!items) {
            start_sheet(r, "Photos");
            items = pictures(r);
        }
        photos_of(r, items, e);
    }
}

/* The section with the parts that came off, numbered in the order in which they did. */
static void section(struct report *r, const struct wh_machine *machine)
{
    size_t *number = WH_NEW(r->arena, machine->thing_count, size_t), n = 0;
    start_sheet(r, "Section");
    struct wh_tree *map = block(r, "drawing"), *scene = wh_tree_add_new(r->arena, map, "scene", WH_TREE_SCENE);
    struct wh_tree *key = wh_tree_add_new(r->arena, map, "key", WH_TREE_LIST);
    for (const struct wh_tree *s = first_of(r->job, "steps"); s; s = s->next) {
        size_t thing = wh_starts(get(s, "id"), "off ") ? wh_machine_thing(machine, get(s, "part")) : WH_NONE;
        if (thing == WH_NONE || number[thing] || !wh_same(get(s, "mark"), "done")) continue;
        number[thing] = ++n;
        struct wh_tree *item = wh_tree_add_new(r->arena, key, NULL, WH_TREE_MAP);
        wh_tree_add_text(r->arena, item, "number", wh_arena_print(r->arena, "%zu", n));
        say(r, item, "text", machine->things[thing].title);
    }
    struct wh_section_ask ask = {.part = WH_NONE, .number = number};
    scene->scene = wh_view_section(r->arena, machine, &ask);
    scene->text = scene->scene->title;
    say(r, map, "caption", "Axial section; item numbers in the order in which the parts came off.");
}

struct wh_tree *wh_view_service_report(struct wh_arena *arena, const struct wh_tree *job,
                                       const struct wh_report_print *print)
{
    struct wh_tree *document = wh_tree_new(arena, WH_TREE_MAP);
    struct report r = {.arena = arena, .job = job, .print = print};
    say(&r, document, "paper", print->paper);
    say(&r, document, "title", "Service report");
    say(&r, document, "machine", get(job, "machine"));
    say(&r, document, "job", wh_arena_print(arena, "job %s: %s", get(job, "job"), get(job, "title")));
    say(&r, document, "date", wh_arena_slice(arena, get(job, "changed"), strlen(get(job, "changed")) < 10 ? 0 : 10));
    say(&r, document, "maker", print->program);
    r.sheets = wh_tree_add_new(arena, document, "sheets", WH_TREE_LIST);
    first_sheet(&r, print);
    readings(&r, "as found", "Readings as found");
    readings(&r, "as left", "Readings as left");
    centres(&r);
    steps(&r);
    holds(&r);
    cautions(&r);
    signatures(&r);
    photos(&r);
    if (print->machine) section(&r, print->machine);
    return document;
}
