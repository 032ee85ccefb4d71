#include "job/workshop.h"

#include "base/text.h"
#include "job/entry.h"

#include <math.h>
#include <string.h>

/* Days since 1970-01-01 to a date of the Gregorian calendar, counted in 400 years from a March. */
const char *wh_day(struct wh_arena *arena, int64_t at)
{
    int64_t days = at / 86400000 - (at % 86400000 < 0);
    int64_t z = days + 719468, era = (z >= 0 ? z : z - 146096) / 146097, day = z - era * 146097;
    int64_t year = (day - day / 1460 + day / 36524 - day / 146096) / 365;
    int64_t of_year = day - (365 * year + year / 4 - year / 100), march = (5 * of_year + 2) / 153;
    int64_t month = march < 10 ? march + 3 : march - 9;
    return wh_arena_print(arena, "%04lld-%02lld-%02lld", (long long)(year + era * 400 + (month <= 2)), (long long)month,
                          (long long)(of_year - (153 * march + 2) / 5 + 1));
}

struct day {
    int64_t at;
    const char *due;
    bool over;
};

static enum wh_status compare_day(struct wh_arena *arena, void *context)
{
    struct day *day = context;
    day->over = strcmp(wh_day(arena, day->at), day->due) > 0;
    return WH_OK;
}

bool wh_gauge_over(const struct wh_workshop_gauge *gauge, int64_t at)
{
    struct day day = {at, gauge->due, true}; /* without memory: taken as over */
    if (!gauge->due) return false;
    wh_arena_run(1 << 20, compare_day, &day);
    return day.over;
}

static void take_gauge(struct wh_arena *arena, struct wh_workshop *workshop, const struct wh_tree *body, int64_t seq)
{
    struct wh_workshop_gauge gauge = {.name = wh_tree_text(body, "name", ""),
                                      .is = wh_tree_text(body, "is", wh_tree_text(body, "name", "")),
                                      .title = wh_tree_text(body, "title", wh_tree_text(body, "name", "")),
                                      .uncertainty = wh_tree_text(body, "uncertainty", ""),
                                      .due = wh_tree_text(body, "due", NULL),
                                      .seq = seq};
    struct wh_value value;
    bool read = wh_value_read(gauge.uncertainty, NULL, &value, &gauge.unit) == WH_READ_WELL;
    gauge.U = read ? value.best : NAN;
    for (size_t i = 0; i < workshop->gauges.count; i++)
        if (wh_same(workshop->gauges.at[i].name, gauge.name)) {
            workshop->gauges.at[i] = gauge;
            return;
        }
    *WH_PUSH(arena, &workshop->gauges) = gauge;
}

static void take_person(struct wh_arena *arena, struct wh_workshop *workshop, const struct wh_tree *body)
{
    struct wh_workshop_person person = {wh_tree_text(body, "name", ""), wh_tree_text(body, "role", "gone"),
                                        wh_tree_text(body, "hash", "")};
    for (size_t i = 0; i < workshop->people.count; i++)
        if (wh_same(workshop->people.at[i].name, person.name)) {
            workshop->people.at[i] = person;
            return;
        }
    *WH_PUSH(arena, &workshop->people) = person;
}

static void take_job(struct wh_arena *arena, struct wh_workshop *workshop, const struct wh_event_in *event,
                     const struct wh_tree *body)
{
    int64_t number = (int64_t)wh_tree_number(body, "job", 0);
    struct wh_workshop_job *job = NULL;
    for (size_t i = workshop->jobs.count; i > 0 && !job; i--)
        if (workshop->jobs.at[i - 1].job == number) job = &workshop->jobs.at[i - 1];
    if (!job) {
        job = WH_PUSH(arena, &workshop->jobs);
        *job = (struct wh_workshop_job){.job = number};
    }
    if (wh_same(event->kind, "opened")) job->opened = event->seq;
    if (!wh_same(event->kind, "signed")) return;
    job->signs++;
    job->reached = (int64_t)wh_tree_number(body, "entry", 0);
    job->hash = wh_tree_text(body, "hash", NULL);
}

enum wh_status wh_workshop_fold(struct wh_arena *arena, struct wh_workshop *workshop, const struct wh_event_in *event,
                                struct wh_errors *reterr)
{
    struct wh_tree *body;
    enum wh_status status = wh_tree_read(arena, "workshop", event->body, event->size, &body, reterr);
    if (status != WH_OK) return status;
    workshop->seq = event->seq;
    if (wh_same(event->kind, "gauge")) take_gauge(arena, workshop, body, event->seq);
    if (wh_same(event->kind, "person")) take_person(arena, workshop, body);
    if (wh_same(event->kind, "opened") || wh_same(event->kind, "signed")) take_job(arena, workshop, event, body);
    return WH_OK;
}

const struct wh_workshop_gauge *wh_workshop_gauge(const struct wh_workshop *workshop, const char *name)
{
    for (size_t i = 0; i < workshop->gauges.count; i++)
        if (wh_same(workshop->gauges.at[i].name, name)) return &workshop->gauges.at[i];
    for (size_t i = 0; i < workshop->gauges.count; i++)
        if (wh_same(workshop->gauges.at[i].is, name)) return &workshop->gauges.at[i];
    return NULL;
}

/* YYYY-MM-DD, as a calendar has it. */
static bool is_day(struct wh_arena *arena, const char *text)
{
    struct wh_words parts = wh_split(arena, text, '-');
    double year, month, day;
    if (strlen(text) != 10 || parts.count != 3) return false;
    const char *y = wh_number_read(parts.at[0], &year), *m = wh_number_read(parts.at[1], &month),
               *d = wh_number_read(parts.at[2], &day);
    if (!y || *y || !m || *m || !d || *d || year < 1970 || month < 1 || month > 12 || day < 1 || day > 31) return false;
    for (int64_t at = 0, days = (int64_t)((year - 1970) * 365.2425 + (month - 1) * 30.4 + day) - 6; at < 12; at++)
        if (wh_same(wh_day(arena, (days + at) * 86400000), text)) return true;
    return false;
}

const struct wh_workshop_person *wh_workshop_person(const struct wh_workshop *workshop, const char *name)
{
    for (size_t i = 0; i < workshop->people.count; i++)
        if (wh_same(workshop->people.at[i].name, name) && !wh_same(workshop->people.at[i].role, "gone"))
            return &workshop->people.at[i];
    return NULL;
}

size_t wh_workshop_people(const struct wh_workshop *workshop)
{
    size_t n = 0;
    for (size_t i = 0; i < workshop->people.count; i++) n += !wh_same(workshop->people.at[i].role, "gone");
    return n;
}

/* What is entered into the workshop, and its fields. */
struct kind {
    const char *name, *title, *fields;
};

static const struct kind *kind_of(const char *name)
{
    static const struct kind kinds[] = {{"gauge", "gauge", "name, is, title, uncertainty, due"},
                                        {"person", "person", "name, role, hash"}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (wh_same(kinds[i].name, name)) return &kinds[i];
    return NULL;
}

static bool has_field(struct wh_arena *arena, const struct kind *kind, const char *name)
{
    struct wh_words fields = wh_split(arena, kind->fields, ',');
    for (size_t i = 0; i < fields.count; i++)
        if (wh_same(fields.at[i], name)) return true;
    return false;
}

static struct wh_tree *take_fields(struct wh_arena *arena, const struct kind *kind, const struct wh_tree *said,
                                   struct wh_errors *reterr)
{
    struct wh_tree *body = wh_tree_new(arena, WH_TREE_MAP);
    wh_tree_add_number(arena, body, "v", WH_JOB_FORM);
    for (const struct wh_tree *node = said ? said->first : NULL; node; node = node->next) {
        bool good = has_field(arena, kind, node->key) && node->is == WH_TREE_TEXT && *node->text &&
                    strlen(node->text) <= 200 && wh_text_is_plain(node->text, strlen(node->text));
        if (good)
            wh_tree_add_text(arena, body, node->key, node->text);
        else
            wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0},
                          wh_arena_print(arena, "a %s has: %s", kind->title, kind->fields),
                          "\"%s\": not a field of a %s, or no plain text", node->key, kind->title);
    }
    if (!wh_tree_get(body, "name"))
        wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "a %s has a name", kind->title);
    return body;
}

static void ask_gauge(struct wh_arena *arena, const struct wh_tree *body, struct wh_errors *reterr)
{
    struct wh_place nowhere = {0};
    struct wh_value value = {0};
    struct wh_unit unit;
    const char *uncertainty = wh_tree_text(body, "uncertainty", ""), *due = wh_tree_text(body, "due", NULL);
    if (wh_value_read(uncertainty, NULL, &value, &unit) != WH_READ_WELL || value.shape != WH_EXACT || !(value.best > 0))
        wh_errors_add(reterr, WH_ERR_INPUT, nowhere, "write 0.002 mm: expanded, k = 2, as its certificate says",
                      "uncertainty \"%s\": not a quantity above zero", uncertainty);
    if (due && !is_day(arena, due))
        wh_errors_add(reterr, WH_ERR_INPUT, nowhere, "write 2027-01-31", "due \"%s\": not a day", due);
}

static void ask_person(const struct wh_tree *body, struct wh_errors *reterr)
{
    static const char *const roles[] = {"reader", "fitter", "charge hand", "gone"};
    const char *role = wh_tree_text(body, "role", "");
    bool known = false;
    for (size_t i = 0; i < sizeof roles / sizeof *roles; i++) known = known || wh_same(roles[i], role);
    if (!known)
        wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, "reader, fitter, charge hand or gone",
                      "role \"%s\": there is none of that name", role);
    if (!wh_same(role, "gone") && !wh_tree_get(body, "hash"))
        wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "a PIN or pass phrase is missing");
}

enum wh_status wh_workshop_accept(struct wh_arena *arena, const struct wh_entry *entry, struct wh_accepted *ret,
                                  struct wh_errors *reterr)
{
    const struct kind *kind = kind_of(entry->kind);
    size_t before = reterr->count;
    if (!kind)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0}, NULL, "\"%s\" is nothing that is entered here",
                             entry->kind);
    struct wh_tree *body = take_fields(arena, kind, entry->said, reterr);
    if (wh_same(kind->name, "gauge"))
        ask_gauge(arena, body, reterr);
    else
        ask_person(body, reterr);
    *ret = (struct wh_accepted){WH_TAKEN, entry->key, kind->name, wh_tree_line(arena, body), NULL, 0};
    return reterr->count > before ? WH_ERR_INPUT : WH_OK;
}
