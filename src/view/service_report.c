#include "view/service_report_inside.h"

#include "base/text.h"
#include "view/machine.h"
#include "view/section.h"

#include <string.h>

const struct wh_tree *wh_report_first_of(const struct wh_tree *map, const char *key)
{
    const struct wh_tree *list = wh_tree_get(map, key);
    return list ? list->first : NULL;
}

const char *wh_report_get(const struct wh_tree *map, const char *key)
{
    return wh_tree_text(map, key, "");
}

void wh_report_say(struct wh_report *r, struct wh_tree *map, const char *key, const char *text)
{
    wh_tree_add_text(r->arena, map, key, wh_view_units_text(r->arena, text));
}

void wh_report_start_sheet(struct wh_report *r, const char *heading)
{
    struct wh_tree *sheet = wh_tree_add_new(r->arena, r->sheets, NULL, WH_TREE_MAP);
    wh_tree_add_text(r->arena, sheet, "heading", heading);
    r->blocks = wh_tree_add_new(r->arena, sheet, "blocks", WH_TREE_LIST);
}

struct wh_tree *wh_report_block(struct wh_report *r, const char *is)
{
    struct wh_tree *map = wh_tree_add_new(r->arena, r->blocks, NULL, WH_TREE_MAP);
    wh_tree_add_text(r->arena, map, "is", is);
    return map;
}

void wh_report_text(struct wh_report *r, const char *is, const char *words)
{
    if (*words) wh_report_say(r, wh_report_block(r, is), "text", words);
}

/* A table of columns "title|weight". */
struct wh_tree *wh_report_table(struct wh_report *r, const char *const columns[], size_t n)
{
    struct wh_tree *map = wh_report_block(r, "table"), *list = wh_tree_add_new(r->arena, map, "columns", WH_TREE_LIST);
    for (size_t i = 0; i < n; i++) {
        struct wh_words words = wh_split(r->arena, columns[i], '|');
        struct wh_tree *column = wh_tree_add_new(r->arena, list, NULL, WH_TREE_MAP);
        wh_tree_add_text(r->arena, column, "title", words.at[0]);
        wh_tree_add_text(r->arena, column, "weight", words.at[1]);
    }
    return wh_tree_add_new(r->arena, map, "rows", WH_TREE_LIST);
}

void wh_report_row(struct wh_report *r, struct wh_tree *rows, const char *const cells[], size_t n)
{
    struct wh_tree *list = wh_tree_add_new(r->arena, rows, NULL, WH_TREE_LIST);
    for (size_t i = 0; i < n; i++) wh_report_say(r, list, NULL, cells[i]);
}

static bool has_kind(const struct wh_report *r, const char *kind)
{
    for (const struct wh_tree *e = wh_report_first_of(r->job, "entries"); e; e = e->next)
        if (wh_same(wh_report_get(e, "kind"), kind)) return true;
    return false;
}

static void renewed(struct wh_report *r)
{
    static const char *const columns[] = {"Part|3", "Designation|3", "Batch or serial|2",
                                          "Make|2", "Old part|3",    "By|2"};
    if (!has_kind(r, "renewed")) return;
    wh_report_text(r, "heading", "Parts renewed");
    struct wh_tree *rows = wh_report_table(r, columns, 6);
    for (const struct wh_tree *e = wh_report_first_of(r->job, "entries"); e; e = e->next) {
        if (!wh_same(wh_report_get(e, "kind"), "renewed")) continue;
        const char *instead = wh_report_get(e, "instead of");
        const char *designation =
            *instead ? wh_arena_print(r->arena, "%s instead of %s", wh_report_get(e, "designation"), instead)
                     : wh_report_get(e, "designation");
        const char *const cells[] = {wh_report_get(e, "part"),     designation,
                                     wh_report_get(e, "batch"),    wh_report_get(e, "make"),
                                     wh_report_get(e, "old part"), wh_report_get(e, "who")};
        wh_report_row(r, rows, cells, 6);
    }
}

/* "what: red dust; on: foot-sleeve": the fields of an entry in one text. */
const char *wh_report_fields_of(struct wh_report *r, const struct wh_tree *entry)
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
static const char *photo_numbers(struct wh_report *r, const struct wh_tree *entry)
{
    struct wh_words files = wh_split(r->arena, wh_report_get(entry, "files"), ',');
    struct wh_text words = {.arena = r->arena};
    for (size_t i = 0; i < files.count; i++)
        if (*files.at[i]) wh_text_print(&words, "%s%zu", words.count ? ", " : "photo ", ++r->photo);
    return wh_text_of(&words);
}

static void found_and_done(struct wh_report *r)
{
    static const char *const columns[] = {"Entry|2", "What|3", "Words|9", "By|2", "When, UTC|3"};
    wh_report_text(r, "heading", "Found and done");
    struct wh_tree *rows = wh_report_table(r, columns, 5);
    for (const struct wh_tree *e = wh_report_first_of(r->job, "entries"); e; e = e->next) {
        if (wh_same(wh_report_get(e, "kind"), "renewed") || wh_same(wh_report_get(e, "kind"), "record")) continue;
        const char *words = wh_report_fields_of(r, e), *numbers = photo_numbers(r, e);
        words = wh_arena_print(r->arena, "%s%s%s", words, *words && *numbers ? "; " : "", numbers);
        const char *const cells[] = {wh_report_get(e, "entry"), wh_report_get(e, "title"), words,
                                     wh_report_get(e, "who"), wh_report_get(e, "at")};
        wh_report_row(r, rows, cells, 5);
    }
    for (const struct wh_tree *c = wh_report_first_of(r->job, "contests"); c; c = c->next) {
        const char *words =
            wh_arena_print(r->arena, "met entry %s: %s %s; %s", wh_report_get(c, "against"), wh_report_get(c, "kind"),
                           wh_report_get(c, "says"), wh_report_get(c, "settled"));
        const char *const cells[] = {wh_report_get(c, "entry"), "contested entry", words, wh_report_get(c, "who"), ""};
        wh_report_row(r, rows, cells, 5);
    }
}

static void first_sheet(struct wh_report *r, const struct wh_report_print *print)
{
    bool final = *wh_tree_text(wh_tree_get(r->job, "signatures"), "customer", "");
    wh_report_start_sheet(r, final ? "What was done" : "What was done, draft");
    wh_report_text(r, "text",
                   wh_arena_print(r->arena, "Opened %s. Brought in by: %s. Hours run: %s. It stands: %s.",
                                  wh_report_get(r->job, "opened"), wh_tree_text(r->job, "brought in by", "not said"),
                                  wh_tree_text(r->job, "hours run", "not said"), wh_report_get(r->job, "state")));
    wh_report_text(r, "note",
                   wh_arena_print(r->arena,
                                  "Stamp of the last entry, number %s: %s. It proves what this report was made "
                                  "from, once the report has left the house.",
                                  wh_report_get(r->job, "entries made"), print->stamp));
    renewed(r);
    found_and_done(r);
}

/* What is to be told below a reading: amendments with the first value, a decision, what would settle it. */
static const char *value_of(struct wh_report *r, const struct wh_tree *reading)
{
    struct wh_text words = {.arena = r->arena};
    wh_text_add(&words, wh_report_get(reading, "value"));
    if (wh_tree_get(reading, "first value"))
        wh_text_print(&words, ". First entered: %s", wh_report_get(reading, "first value"));
    for (const struct wh_tree *a = wh_report_first_of(reading, "amendments"); a; a = a->next)
        wh_text_print(&words, ". Amended to %s by %s because %s", wh_report_get(a, "value"), wh_report_get(a, "who"),
                      wh_report_get(a, "because"));
    return wh_text_of(&words);
}

static const char *verdict_of(struct wh_report *r, const struct wh_tree *reading)
{
    struct wh_text words = {.arena = r->arena};
    wh_text_add(&words, wh_report_get(reading, "says"));
    if (wh_tree_get(reading, "decided"))
        wh_text_print(&words, ". Decided by %s: %s", wh_report_get(reading, "decided by"),
                      wh_report_get(reading, "decided"));
    if (wh_tree_get(reading, "remark")) wh_text_print(&words, ". %s", wh_report_get(reading, "remark"));
    if (wh_tree_get(reading, "hold")) wh_text_print(&words, ". %s", wh_report_get(reading, "hold"));
    return wh_text_of(&words);
}

static void readings(struct wh_report *r, const char *when, const char *heading)
{
    static const char *const columns[] = {"Reading|4", "Read|5", "Limits|3", "Verdict|5", "Gauge|4", "By|2"};
    struct wh_tree *rows = NULL;
    for (const struct wh_tree *reading = wh_report_first_of(r->job, "readings"); reading; reading = reading->next) {
        if (!wh_same(wh_report_get(reading, "when"), when)) continue;
        if (!rows) {
            wh_report_start_sheet(r, heading);
            rows = wh_report_table(r, columns, 6);
        }
        const char *gauge = wh_tree_get(reading, "gauge uncertainty")
                                ? wh_arena_print(r->arena, "%s, ± %s", wh_report_get(reading, "gauge"),
                                                 wh_report_get(reading, "gauge uncertainty"))
                                : wh_report_get(reading, "gauge");
        const char *const cells[] = {wh_report_get(reading, "title"),
                                     value_of(r, reading),
                                     wh_report_get(reading, "limits"),
                                     verdict_of(r, reading),
                                     gauge,
                                     wh_report_get(reading, "who")};
        wh_report_row(r, rows, cells, 6);
    }
}

static void steps(struct wh_report *r)
{
    static const char *const columns[] = {"Step|2", "What|7", "Stands|2", "Minutes|2", "By|2", "Otherwise|5"};
    wh_report_start_sheet(r, "Steps");
    struct wh_tree *rows = wh_report_table(r, columns, 6);
    for (const struct wh_tree *s = wh_report_first_of(r->job, "steps"); s; s = s->next) {
        const char *manner = wh_report_get(s, "manner"), *because = wh_report_get(s, "because");
        const char *otherwise = wh_arena_print(r->arena, "%s%s%s", manner, *manner && *because ? ", " : "", because);
        const char *const cells[] = {wh_report_get(s, "number"), wh_report_get(s, "what"),
                                     wh_report_get(s, "mark"),   wh_report_get(s, "actual minutes"),
                                     wh_report_get(s, "who"),    otherwise};
        wh_report_row(r, rows, cells, 6);
    }
}

static void holds(struct wh_report *r)
{
    static const char *const columns[] = {"Hold or energy|4", "Entry|2", "By|2", "What was tried|7",
                                          "Lapsed by entry|2"};
    wh_report_start_sheet(r, "Holds");
    struct wh_tree *rows = wh_report_table(r, columns, 5);
    for (const struct wh_tree *hold = wh_report_first_of(r->job, "holds"); hold; hold = hold->next) {
        for (const struct wh_tree *release = wh_report_first_of(hold, "releases"); release; release = release->next) {
            const char *const cells[] = {wh_report_get(hold, "title"), wh_report_get(release, "entry"),
                                         wh_report_get(release, "who"), wh_report_get(release, "tried"),
                                         wh_report_get(release, "lapsed by entry")};
            wh_report_row(r, rows, cells, 5);
        }
        const char *const none[] = {wh_report_get(hold, "title"), "", "", wh_report_get(hold, "stands"), ""};
        if (!wh_report_first_of(hold, "releases")) wh_report_row(r, rows, none, 5);
    }
}

/* Each caution once, with the names of those who worked under it. */
static void cautions(struct wh_report *r)
{
    static const char *const columns[] = {"Caution|7", "Met at|5", "By|2"};
    wh_report_text(r, "heading", "Cautions met");
    struct wh_tree *rows = wh_report_table(r, columns, 3);
    for (const struct wh_tree *c = wh_report_first_of(r->job, "cautions met"); c; c = c->next) {
        bool told = false;
        struct wh_text at = {.arena = r->arena}, who = {.arena = r->arena};
        for (const struct wh_tree *b = wh_report_first_of(r->job, "cautions met"); b != c; b = b->next)
            told |= wh_same(wh_report_get(b, "text"), wh_report_get(c, "text"));
        if (told) continue;
        for (const struct wh_tree *b = c; b; b = b->next) {
            if (!wh_same(wh_report_get(b, "text"), wh_report_get(c, "text"))) continue;
            wh_text_print(&at, "%s%s", at.count ? ", " : "", wh_report_get(b, "step"));
            if (!strstr(wh_text_of(&who), wh_report_get(b, "who")))
                wh_text_print(&who, "%s%s", who.count ? ", " : "", wh_report_get(b, "who"));
        }
        const char *const cells[] = {wh_report_get(c, "text"), wh_text_of(&at), wh_text_of(&who)};
        wh_report_row(r, rows, cells, 3);
    }
}

static void signatures(struct wh_report *r)
{
    static const char *const says[] = {"did the work as written here", "looked at the readings and at what was decided",
                                       "received it, knows what stays open, until when and with what limit"};
    wh_report_start_sheet(r, "What stays open, and who signed");
    struct wh_tree *items = wh_tree_add_new(r->arena, wh_report_block(r, "list"), "items", WH_TREE_LIST);
    for (const struct wh_tree *open = wh_report_first_of(r->job, "open"); open; open = open->next)
        wh_report_say(r, items, NULL, open->text);
    if (!items->first) wh_report_say(r, items, NULL, "nothing");
    struct wh_tree *lines = wh_tree_add_new(r->arena, wh_report_block(r, "signatures"), "lines", WH_TREE_LIST);
    size_t i = 0;
    for (const struct wh_tree *sign = wh_report_first_of(r->job, "signatures"); sign && i < 3; sign = sign->next, i++) {
        struct wh_tree *line = wh_tree_add_new(r->arena, lines, NULL, WH_TREE_MAP);
        wh_report_say(r, line, "role", sign->key);
        wh_report_say(r, line, "text",
                      *sign->text ? wh_arena_print(r->arena, "%s: %s", sign->text, says[i])
                                  : wh_arena_print(r->arena, "not yet: %s", says[i]));
    }
    wh_report_text(r, "note", "The maker's manual, local rules and licensed practice come before this report.");
}

/* The section with the parts that came off, numbered in the order in which they did. */
static void section(struct wh_report *r, const struct wh_machine *machine)
{
    size_t *number = WH_NEW(r->arena, machine->thing_count, size_t), n = 0;
    wh_report_start_sheet(r, "Section");
    struct wh_tree *map = wh_report_block(r, "drawing"),
                   *scene = wh_tree_add_new(r->arena, map, "scene", WH_TREE_SCENE);
    struct wh_tree *key = wh_tree_add_new(r->arena, map, "key", WH_TREE_LIST);
    for (const struct wh_tree *s = wh_report_first_of(r->job, "steps"); s; s = s->next) {
        size_t thing =
            wh_starts(wh_report_get(s, "id"), "off ") ? wh_machine_thing(machine, wh_report_get(s, "part")) : WH_NONE;
        if (thing == WH_NONE || number[thing] || !wh_same(wh_report_get(s, "mark"), "done")) continue;
        number[thing] = ++n;
        struct wh_tree *item = wh_tree_add_new(r->arena, key, NULL, WH_TREE_MAP);
        wh_tree_add_text(r->arena, item, "number", wh_arena_print(r->arena, "%zu", n));
        wh_report_say(r, item, "text", machine->things[thing].title);
    }
    struct wh_section_ask ask = {.part = WH_NONE, .number = number};
    scene->scene = wh_view_section(r->arena, machine, &ask);
    scene->text = scene->scene->title;
    wh_report_say(r, map, "caption", "Axial section; item numbers in the order in which the parts came off.");
}

struct wh_tree *wh_view_service_report(struct wh_arena *arena, const struct wh_tree *job,
                                       const struct wh_report_print *print)
{
    struct wh_tree *document = wh_tree_new(arena, WH_TREE_MAP);
    struct wh_report r = {.arena = arena, .job = job, .print = print};
    wh_report_say(&r, document, "paper", print->paper);
    wh_report_say(&r, document, "title", "Service report");
    wh_report_say(&r, document, "machine", wh_report_get(job, "machine"));
    wh_report_say(&r, document, "job",
                  wh_arena_print(arena, "job %s: %s", wh_report_get(job, "job"), wh_report_get(job, "title")));
    wh_report_say(
        &r, document, "date",
        wh_arena_slice(arena, wh_report_get(job, "changed"), strlen(wh_report_get(job, "changed")) < 10 ? 0 : 10));
    wh_report_say(&r, document, "maker", print->program);
    r.sheets = wh_tree_add_new(arena, document, "sheets", WH_TREE_LIST);
    first_sheet(&r, print);
    readings(&r, "as found", "Readings as found");
    readings(&r, "as left", "Readings as left");
    wh_report_centres(&r);
    wh_report_test_run(&r);
    steps(&r);
    holds(&r);
    cautions(&r);
    signatures(&r);
    wh_report_photos(&r);
    if (print->machine) section(&r, print->machine);
    return document;
}
