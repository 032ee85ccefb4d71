/* Projects in the forms of PSPLIB (Kolisch, Sprecher, European J. Operational Research 96, 1997, 205-216): `.sm`, one
 * mode each, and with least and greatest time lags `.sch` (as ProGen/max writes it). */
#include "order.h"

#include "base/quantity.h"
#include "base/text.h"
#include "order/schedule.h"

#include <math.h>
#include <string.h>

enum { MOST_JOBS = 10000, MOST_RESOURCES = 100, MOST_NUMBER = 1000000 };

struct reading {
    struct wh_arena *arena;
    struct wh_errors *errors;
    const char *path, *next;
    const char *at; /* in the line that is read */
    int line;
    size_t jobs, resources;
    int *duration, *use, *capacity;
    WH_LIST(struct wh_schedule_lag) lags;
};

static enum wh_status refuse(const struct reading *r, const char *right, const char *says)
{
    return wh_errors_add(r->errors, WH_ERR_INPUT, (struct wh_place){r->path, r->line, 0}, right, "%s", says);
}

static bool next_line(struct reading *r)
{
    if (!*r->next) return false;
    size_t length = strcspn(r->next, "\n");
    r->at = wh_arena_slice(r->arena, r->next, length);
    r->next += length + (r->next[length] == '\n');
    r->line++;
    return true;
}

/* The line that holds these words is read next, behind them. */
static enum wh_status find(struct reading *r, const char *words)
{
    while (next_line(r)) {
        const char *found = strstr(r->at, words);
        if (!found) continue;
        r->at = found + strlen(words);
        return WH_OK;
    }
    return refuse(r, wh_arena_print(r->arena, "a line with \"%s\"", words), "the file ends too early");
}

/* The next whole number of the line, in brackets or not. */
static enum wh_status number(struct reading *r, const char *what, int least, int most, int *ret)
{
    double value;
    r->at += strspn(r->at, " \t\r:[]");
    const char *end = wh_number_read(r->at, &value);
    if (!end || (*end && !strchr(" \t\r[]R", *end))) {
        const char *word = wh_arena_slice(r->arena, r->at, strcspn(r->at, " \t\r"));
        return refuse(r, what, *word ? wh_arena_print(r->arena, "\"%s\" is no number", word) : "the line ends here");
    }
    if (value < least || value > most || floor(value) < value) {
        return refuse(r, wh_arena_print(r->arena, "%s: %d..%d", what, least, most),
                      wh_arena_print(r->arena, "%g is out of range", value));
    }
    r->at = end;
    *ret = (int)value;
    return WH_OK;
}

/* The next line begins with the number of a job, in turn, and its one mode. */
static enum wh_status begin_job(struct reading *r, int job)
{
    int mode;
    if (!next_line(r)) return refuse(r, wh_arena_print(r->arena, "the line of job %d", job), "the file ends too early");
    enum wh_status status = number(r, wh_arena_print(r->arena, "job %d", job), job, job, &mode);
    return status ? status : number(r, "one mode", 1, 1, &mode);
}

static enum wh_status line_ends(const struct reading *r)
{
    const char *rest = r->at + strspn(r->at, " \t\r]");
    return *rest ? refuse(r, "the end of the line", wh_arena_print(r->arena, "\"%s\" is too much", rest)) : WH_OK;
}

/* Successors, then with time lags as many waits in brackets. */
static enum wh_status read_successors(struct reading *r, size_t job, int first, bool lags)
{
    int count, most = (int)r->jobs - 1 + first;
    size_t from = r->lags.count;
    enum wh_status status = begin_job(r, (int)job + first);
    if (!status) status = number(r, "how many successors", 0, (int)r->jobs * 2, &count);
    for (int k = 0; !status && k < count; k++) {
        int to = first;
        status = number(r, "a successor", first, most, &to);
        *WH_PUSH(r->arena, &r->lags) = (struct wh_schedule_lag){job, (size_t)(to - first), 0};
    }
    for (int k = 0; !status && lags && k < count; k++)
        status = number(r, "a time lag", -MOST_NUMBER, MOST_NUMBER, &r->lags.at[from + (size_t)k].wait);
    return status ? status : line_ends(r);
}

static enum wh_status read_demand(struct reading *r, size_t job, int first)
{
    enum wh_status status = begin_job(r, (int)job + first);
    if (!status) status = number(r, "a duration", 0, MOST_NUMBER, &r->duration[job]);
    for (size_t k = 0; !status && k < r->resources; k++)
        status = number(r, "use of a resource", 0, MOST_NUMBER, &r->use[job * r->resources + k]);
    return status ? status : line_ends(r);
}

static enum wh_status read_capacities(struct reading *r)
{
    enum wh_status status = next_line(r) ? WH_OK : refuse(r, "the capacities", "the file ends too early");
    for (size_t k = 0; !status && k < r->resources; k++)
        status = number(r, "a capacity", 0, MOST_NUMBER, &r->capacity[k]);
    return status ? status : line_ends(r);
}

static void make_room(struct reading *r, int jobs, int resources)
{
    r->jobs = (size_t)jobs;
    r->resources = (size_t)resources;
    r->duration = WH_NEW(r->arena, r->jobs, int);
    r->use = WH_NEW(r->arena, r->jobs * r->resources, int);
    r->capacity = WH_NEW(r->arena, r->resources, int);
}

static enum wh_status read_plain(struct reading *r)
{
    int jobs = 0, resources = 0, others = 0;
    enum wh_status status = find(r, "jobs (incl. supersource/sink )");
    if (!status) status = number(r, "how many jobs", 1, MOST_JOBS, &jobs);
    if (!status) status = find(r, "- renewable");
    if (!status) status = number(r, "how many resources", 0, MOST_RESOURCES, &resources);
    if (!status) status = find(r, "- nonrenewable");
    if (!status) status = number(r, "no nonrenewable resources", 0, 0, &others);
    if (!status) status = find(r, "PRECEDENCE RELATIONS:");
    if (!status) status = find(r, "jobnr.");
    if (status) return status;
    make_room(r, jobs, resources);
    for (size_t j = 0; !status && j < r->jobs; j++) status = read_successors(r, j, 1, false);
    if (!status) status = find(r, "REQUESTS/DURATIONS:");
    if (!status) status = find(r, "----");
    for (size_t j = 0; !status && j < r->jobs; j++) status = read_demand(r, j, 1);
    if (!status) status = find(r, "RESOURCEAVAILABILITIES:");
    if (!status) status = find(r, "R 1");
    if (!status) status = read_capacities(r);
    for (size_t k = 0; k < r->lags.count; k++) r->lags.at[k].wait = r->duration[r->lags.at[k].from];
    return status;
}

static enum wh_status read_lagged(struct reading *r)
{
    int jobs = 0, resources = 0;
    enum wh_status status = next_line(r) ? WH_OK : refuse(r, "how many activities and resources", "the file is empty");
    if (!status) status = number(r, "how many activities", 1, MOST_JOBS, &jobs);
    if (!status) status = number(r, "how many resources", 0, MOST_RESOURCES, &resources);
    if (status) return status;
    make_room(r, jobs + 2, resources);
    for (size_t j = 0; !status && j < r->jobs; j++) status = read_successors(r, j, 0, true);
    for (size_t j = 0; !status && j < r->jobs; j++) status = read_demand(r, j, 0);
    return status ? status : read_capacities(r);
}

static enum wh_status solve(struct reading *r, const struct order_limits *limits, struct order_outcome *ret)
{
    struct wh_schedule_problem problem = {r->jobs, r->duration, r->resources, r->capacity,
                                          r->use,  r->lags.at,  r->lags.count};
    const char *unsound = wh_schedule_sound(&problem);
    if (unsound) return refuse(r, NULL, unsound);
    struct wh_schedule_limits own = {
        .nodes = limits->nodes, .seconds = limits->seconds, .bytes = limits->bytes, .clock = limits->clock};
    double started = limits->clock();
    struct wh_schedule schedule = wh_schedule_solve(r->arena, &problem, &own);
    *ret = (struct order_outcome){schedule.found ? (double)schedule.makespan : INFINITY,
                                  schedule.found || !schedule.proven ? (double)schedule.bound : INFINITY,
                                  schedule.proven, limits->clock() - started, schedule.nodes};
    return WH_OK;
}

enum wh_status order_solve_project(struct wh_arena *arena, const char *path, const char *text,
                                   const struct order_limits *limits, struct order_outcome *ret,
                                   struct wh_errors *reterr)
{
    struct reading r = {.arena = arena, .errors = reterr, .path = path, .next = text};
    enum wh_status status = read_plain(&r);
    return status ? status : solve(&r, limits, ret);
}

enum wh_status order_solve_lagged(struct wh_arena *arena, const char *path, const char *text,
                                  const struct order_limits *limits, struct order_outcome *ret,
                                  struct wh_errors *reterr)
{
    struct reading r = {.arena = arena, .errors = reterr, .path = path, .next = text};
    enum wh_status status = read_lagged(&r);
    return status ? status : solve(&r, limits, ret);
}
