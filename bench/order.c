/* Solves published problems of order with the solver that orders a job, one line each: name, found, bound, proven or
 * not, seconds of processor time in the solver, nodes searched. */
#include "order.h"

#include "base/file.h"
#include "base/quantity.h"
#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

enum { MOST_FILE = 64 << 20 };

static const struct {
    const char *ending;
    order_solve *solve;
} forms[] = {
    {".sop", order_solve_sop},
    {".sm", order_solve_project},
    {".sch", order_solve_lagged},
    {".json", order_solve_json},
};
enum { FORMS = sizeof forms / sizeof *forms };

struct request {
    const char *path;
    struct order_limits limits;
};

static double processor_seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static order_solve *solver_for(const char *path)
{
    size_t length = strlen(path);
    for (size_t i = 0; i < FORMS; i++) {
        size_t ending = strlen(forms[i].ending);
        if (length >= ending && wh_same(path + length - ending, forms[i].ending)) return forms[i].solve;
    }
    return NULL;
}

static const char *name_of(struct wh_arena *arena, const char *path)
{
    const char *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path, *dot = strrchr(name, '.');
    return wh_arena_slice(arena, name, dot ? (size_t)(dot - name) : strlen(name));
}

static const char *number(struct wh_arena *arena, double value)
{
    return isfinite(value) ? wh_arena_print(arena, "%.10g", value) : "none";
}

static enum wh_status solve_file(struct wh_arena *arena, const struct request *request, struct wh_errors *errors)
{
    struct wh_place place = {request->path, 0, 0};
    struct order_outcome outcome;
    char *text;
    size_t size;
    order_solve *solve = solver_for(request->path);
    if (!solve) {
        wh_errors_add(errors, WH_ERR_INPUT, place, "a name with the ending of a form", "this form is not known");
        return WH_ERR_INPUT;
    }
    enum wh_status status = wh_file_read(arena, request->path, MOST_FILE, &text, &size, errors);
    if (status == WH_OK) status = solve(arena, request->path, text, &request->limits, &outcome, errors);
    if (status != WH_OK) return status;
    printf("%-16s %s %s %s %.6f %llu\n", name_of(arena, request->path), number(arena, outcome.found),
           number(arena, outcome.bound), outcome.proven ? "yes" : "no", outcome.seconds,
           (unsigned long long)outcome.nodes);
    fflush(stdout);
    return WH_OK;
}

static enum wh_status answer(struct wh_arena *arena, void *context)
{
    struct wh_errors errors = wh_errors_in(arena);
    enum wh_status status = solve_file(arena, context, &errors);
    if (status != WH_OK && errors.count) fputs(wh_errors_text(arena, &errors), stderr);
    return status;
}

static bool read_option(const char *name, const char *value, struct order_limits *limits)
{
    double number;
    const char *end = value ? wh_number_read(value, &number) : NULL;
    if (!end || *end || number < 0) return false;
    if (wh_same(name, "--seconds")) {
        limits->seconds = number;
    } else if (wh_same(name, "--nodes") && number < 1e18) {
        limits->nodes = (uint64_t)number;
    } else if (wh_same(name, "--memory") && number < 1e6) {
        limits->bytes = (size_t)(number * 1048576);
    } else {
        return wh_same(name, "--threads") && number > 0 && number < 1.5;
    }
    return true;
}

int main(int argc, char **argv)
{
    struct request request = {.limits = {.seconds = 60, .clock = processor_seconds}};
    int files = 0, failed = 0;
    for (int i = 1; i < argc; i++) {
        if (!wh_starts(argv[i], "--")) {
            files++;
        } else if (read_option(argv[i], argv[i + 1], &request.limits)) {
            i++;
        } else {
            files = 0;
            break;
        }
    }
    if (files == 0) {
        fputs("usage: order FILE... [--seconds N] [--nodes N] [--memory MIB] [--threads 1]\n", stderr);
        return 2;
    }
    for (int i = 1; i < argc; i++) {
        if (wh_starts(argv[i], "--")) {
            i++;
            continue;
        }
        request.path = argv[i];
        enum wh_status status = wh_arena_run(SIZE_MAX, answer, &request);
        if (status == WH_ERR_NOMEM) fprintf(stderr, "%s: the limit of memory does not hold the problem\n", argv[i]);
        if (status != WH_OK && !failed) failed = wh_status_exit(status);
    }
    return failed;
}
