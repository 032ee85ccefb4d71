#include "job/workshop.h"

#include "base/text.h"

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
    gauge.U = read ? value.best * 1 : NAN;
    for (size_t i = 0; i < workshop->gauges.count; i++)
        if (wh_same(workshop->gauges.at[i].name, gauge.name)) {
            workshop->gauges.at[i] = gauge;
            return;
        }
    *WH_PUSH(arena, &workshop->gauges) = gauge;
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
