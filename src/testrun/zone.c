#include "testrun/zone.h"

#include "base/text.h"
#include "trade/form.h"
#include "trade/rule.h"

#include <math.h>
#include <string.h>

static const char *const zone_words[] = {
    "zone A, as of a machine newly put to work", "zone B, runs on without a time limit",
    "zone C, not for long: find out why, at the next stop at the latest", "zone D, may do damage: stop"};
static const char *const fan_words[] = {"within the limit for a first start",
                                        "over the limit for a first start, under the alarm", "over the alarm",
                                        "over the limit to shut down: stop"};
static const char *const own_words[][4] = {
    {"within", "outside"},
    {"within", "outside, under the alarm", "over the alarm: find out why"},
    {"within", "outside, under the alarm", "over the alarm: find out why", "over the limit to stop: stop"}};

/* The published table by its word: which rule gives its limits, and how it is shown. */
static const struct {
    const char *starts, *vocabulary, *rule, *source;
    double least_power; /* W: it says nothing of smaller machines */
    bool fans;
} tables[] = {{"group-", "vibration-group", "vibration.velocity-limits", "ISO 10816-3", 15e3, false},
              {"class-", "vibration-group", "vibration.velocity-limits", "ISO 10816-1, annex B", 0, false},
              {"pump-", "vibration-group", "vibration.velocity-limits", "ISO 10816-7", 1e3, false},
              {"BV-", "fan-category", "vibration.fan-limits", "ISO 14694", 0, true}};
enum { TABLES = sizeof tables / sizeof *tables };

static enum wh_status own_limits(struct wh_arena *arena, const struct wh_zone_ask *ask, struct wh_zone_limits *ret,
                                 struct wh_errors *reterr)
{
    for (size_t i = 0; i < ask->own_count; i++) {
        if (!(ask->own[i] > (i ? ask->own[i - 1] : 0)))
            return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0},
                                 "good up to, alarm, stop, each above the one before",
                                 "limits of vibration that do not rise");
        ret->at[i] = ask->own[i];
    }
    ret->count = ask->own_count;
    ret->words = own_words[ask->own_count - 1];
    ret->source = ask->own_source ? wh_arena_print(arena, "the machine's own limits (%s)", ask->own_source)
                                  : "the machine's own limits";
    return WH_OK;
}

/* Why the table does not hold for this machine. */
static const char *doubt_of(struct wh_arena *arena, const struct wh_zone_ask *ask, size_t t)
{
    const char *small = NULL, *soft = NULL;
    if (ask->power < tables[t].least_power)
        small = wh_arena_print(arena, "it begins at %g kW, this motor has %g kW", tables[t].least_power / 1e3,
                               ask->power / 1e3);
    if (ask->soft) soft = "it is for supports of metal, this machine stands on soft mounts";
    return small && soft ? wh_arena_print(arena, "%s; %s", small, soft) : small ? small : soft;
}

static enum wh_status unknown(const char *table, struct wh_errors *reterr)
{
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){0},
                         "group-1-rigid … group-4-flexible, class-1 … class-4, pump-1-small …, or a fan's BV-1-rigid … "
                         "BV-5-flexible",
                         "\"%s\" is no table of vibration limits", table);
}

static enum wh_status table_limits(struct wh_arena *arena, const struct wh_zone_ask *ask, struct wh_zone_limits *ret,
                                   struct wh_errors *reterr)
{
    size_t t = 0;
    double code;
    struct wh_form form;
    while (t < TABLES && strncmp(ask->table, tables[t].starts, strlen(tables[t].starts)) != 0) t++;
    if (t == TABLES || !wh_form_read(tables[t].vocabulary, &form) ||
        !form.vocabulary->read(ask->table, strlen(ask->table), &code))
        return unknown(ask->table, reterr);
    const double *in[] = {&code};
    double *out[] = {&ret->at[0], &ret->at[1], &ret->at[2]};
    wh_rule_find(tables[t].rule)->work(1, 1, in, out);
    while (ret->count < 3 && isfinite(ret->at[ret->count])) ret->count++;
    ret->words = tables[t].fans ? fan_words : zone_words;
    ret->letters = tables[t].fans ? NULL : "ABCD";
    ret->source = wh_arena_print(arena, "%s, %s", tables[t].source, ask->table);
    ret->doubt = doubt_of(arena, ask, t);
    return WH_OK;
}

enum wh_status wh_zone_choose(struct wh_arena *arena, const struct wh_zone_ask *ask, struct wh_zone_limits *ret,
                              struct wh_errors *reterr)
{
    *ret = (struct wh_zone_limits){.at = {NAN, NAN, NAN}, .source = ""};
    if (ask->own_count > 0) return own_limits(arena, ask, ret, reterr);
    return ask->table ? table_limits(arena, ask, ret, reterr) : WH_OK;
}

size_t wh_zone_of(const struct wh_zone_limits *limits, double velocity)
{
    size_t zone = 0;
    for (size_t i = 0; i < limits->count; i++) zone += velocity > limits->at[i] * (1 + 1e-12);
    return zone;
}
