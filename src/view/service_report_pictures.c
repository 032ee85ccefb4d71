/* What a service report shows in pictures: the centre of the spindle, the test run, photos. */
#include "view/service_report_inside.h"

static struct wh_tree *pictures(struct wh_report *r)
{
    return wh_tree_add_new(r->arena, wh_report_block(r, "pictures"), "items", WH_TREE_LIST);
}

static struct wh_tree *picture(struct wh_report *r, struct wh_tree *items, const char *words)
{
    struct wh_tree *item = wh_tree_add_new(r->arena, items, NULL, WH_TREE_MAP);
    wh_report_say(r, item, "text", words);
    return item;
}

static void add_scene(struct wh_report *r, struct wh_tree *item, const struct wh_tree *drawn)
{
    struct wh_tree *scene = wh_tree_add_new(r->arena, item, "scene", WH_TREE_SCENE);
    scene->scene = drawn->scene;
    scene->text = drawn->text;
}

/* Has the machine proven itself? The sentence, the checks, what each record says, its drawings. */
static void acceptance(struct wh_report *r, const struct wh_tree *run)
{
    static const char *const columns[] = {"Stands|2", "Check|8", "What then|5"};
    const struct wh_tree *acceptance = wh_tree_get(run, "acceptance");
    wh_report_text(r, "text", wh_report_get(acceptance, "says"));
    struct wh_tree *rows = wh_report_table(r, columns, 3);
    for (const struct wh_tree *c = wh_report_first_of(acceptance, "checks"); c; c = c->next) {
        const char *const cells[] = {wh_report_get(c, "outcome"), wh_report_get(c, "says"), wh_report_get(c, "then")};
        wh_report_row(r, rows, cells, 3);
    }
}

static void sentences(struct wh_report *r, const struct wh_tree *record, const char *key, const char *before)
{
    for (const struct wh_tree *says = wh_report_first_of(record, key); says; says = says->next)
        if (says->text) wh_report_text(r, "text", wh_arena_print(r->arena, "%s%s", before, says->text));
}

static void record_of(struct wh_report *r, const struct wh_tree *record)
{
    wh_report_text(r, "heading",
                   wh_arena_print(r->arena, "Record %s: %s, %s. %s, %s", wh_report_get(record, "entry"),
                                  wh_report_get(record, "what"), wh_report_get(record, "when"),
                                  wh_report_get(record, "who"), wh_report_get(record, "at")));
    sentences(r, record, "sentences", "");
    sentences(r, record, "warnings", "Mind: ");
    for (const struct wh_tree *f = wh_report_first_of(record, "findings"); f; f = f->next)
        wh_report_text(r, "note",
                       wh_arena_print(r->arena, "%s: %s", wh_report_get(f, "sure"), wh_report_get(f, "evidence")));
    sentences(r, record, "changed", "Since the last record: ");
    if (!wh_report_first_of(record, "drawings")) return;
    struct wh_tree *block = wh_report_block(r, "pictures"),
                   *items = wh_tree_add_new(r->arena, block, "items", WH_TREE_LIST);
    wh_tree_add_text(r->arena, block, "columns", "1");
    for (const struct wh_tree *drawing = wh_report_first_of(record, "drawings"); drawing; drawing = drawing->next)
        add_scene(r, picture(r, items, wh_report_get(drawing, "text")), wh_tree_get(drawing, "scene"));
}

void wh_report_test_run(struct wh_report *r)
{
    const struct wh_tree *records = wh_report_first_of(r->print->run, "records");
    if (!records) return;
    wh_report_start_sheet(r, "Test run");
    acceptance(r, r->print->run);
    for (const struct wh_tree *record = records; record; record = record->next) record_of(r, record);
}

/* The middle of the spindle as it was read all round, found and left. */
void wh_report_centres(struct wh_report *r)
{
    if (!r->print->centres || !r->print->centres->first) return;
    wh_report_start_sheet(r, "Centre of the spindle");
    struct wh_tree *items = pictures(r);
    for (const struct wh_tree *centre = r->print->centres->first; centre; centre = centre->next) {
        add_scene(r, picture(r, items, wh_report_get(centre, "text")), wh_tree_get(centre, "scene"));
    }
}

static const struct wh_picture *picture_of(const struct wh_report *r, const char *hash)
{
    for (size_t i = 0; i < r->print->photo_count; i++)
        if (wh_same(r->print->photos[i].hash, hash)) return &r->print->photos[i].picture;
    return NULL;
}

/* What cannot be printed is told with its hash, under which the store keeps it. */
static void photos_of(struct wh_report *r, struct wh_tree *items, const struct wh_tree *entry)
{
    struct wh_words files = wh_split(r->arena, wh_report_get(entry, "files"), ',');
    for (size_t i = 0; i < files.count; i++) {
        const struct wh_picture *shown = picture_of(r, files.at[i]);
        const char *words =
            wh_arena_print(r->arena, "Photo %zu, entry %s, %s: %s. %s%s%s", ++r->photo, wh_report_get(entry, "entry"),
                           wh_report_get(entry, "title"), wh_report_fields_of(r, entry), wh_report_get(entry, "who"),
                           shown ? "" : ". Not printed here, kept as ", shown ? "" : files.at[i]);
        struct wh_tree *item = picture(r, items, words);
        if (shown) wh_tree_add_new(r->arena, item, "picture", WH_TREE_PICTURE)->picture = shown;
    }
}

void wh_report_photos(struct wh_report *r)
{
    struct wh_tree *items = NULL;
    r->photo = 0;
    for (const struct wh_tree *e = wh_report_first_of(r->job, "entries"); e; e = e->next) {
        if (!wh_tree_get(e, "files") || wh_same(wh_report_get(e, "kind"), "record")) continue;
        if (!items) {
            wh_report_start_sheet(r, "Photos");
            items = pictures(r);
        }
        photos_of(r, items, e);
    }
}
