/* Sequential ordering problems in the form of TSPLIB (Reinelt, ORSA Journal on Computing 3, 1991, 376-384): a full
 * matrix, -1 at (i, j) for j before i, from the first node to the last. */
#include "order.h"

#include "base/quantity.h"
#include "base/text.h"
#include "order/sequence.h"

#include <math.h>
#include <string.h>

struct reading {
    struct wh_arena *arena;
    struct wh_errors *errors;
    const char *path, *at;
    int line;
};

static enum wh_status refuse(const struct reading *r, const char *right, const char *says)
{
    return wh_errors_add(r->errors, WH_ERR_INPUT, (struct wh_place){r->path, r->line, 0}, right, "%s", says);
}

/* The next line without white space at its ends; NULL at the end of the text. */
static const char *next_line(struct reading *r)
{
    if (!*r->at) return NULL;
    size_t length = strcspn(r->at, "\n"), start = strspn(r->at, " \t\r\n");
    const char *from = r->at + (start < length ? start : length);
    size_t count = (size_t)(r->at + length - from);
    while (count && strchr(" \t\r", from[count - 1])) count--;
    r->at += length + (r->at[length] == '\n');
    r->line++;
    return wh_arena_slice(r->arena, from, count);
}

/* The value of "KEY: value" or "KEY : value"; NULL when the line has another key. */
static const char *value_of(const char *line, const char *key)
{
    if (!wh_starts(line, key)) return NULL;
    const char *at = line + strlen(key);
    at += strspn(at, " \t");
    if (*at != ':') return NULL;
    at++;
    return at + strspn(at, " \t");
}

static enum wh_status read_head(struct reading *r)
{
    for (const char *line = next_line(r); line; line = next_line(r)) {
        const char *type = value_of(line, "TYPE"), *form = value_of(line, "EDGE_WEIGHT_FORMAT");
        if (type && !wh_same(type, "SOP")) {
            return refuse(r, "TYPE: SOP", wh_arena_print(r->arena, "type %s is another problem", type));
        }
        if (form && !wh_same(form, "FULL_MATRIX")) {
            return refuse(r, "EDGE_WEIGHT_FORMAT: FULL_MATRIX", wh_arena_print(r->arena, "%s is not read", form));
        }
        if (wh_same(line, "EDGE_WEIGHT_SECTION")) return WH_OK;
    }
    return refuse(r, "the line EDGE_WEIGHT_SECTION and the matrix", "the file ends without its matrix");
}

static enum wh_status read_number(struct reading *r, double *ret)
{
    for (; *r->at && strchr(" \t\r\n", *r->at); r->at++) r->line += *r->at == '\n';
    const char *end = wh_number_read(r->at, ret);
    if (end && (!*end || strchr(" \t\r\n", *end))) {
        r->at = end;
        return WH_OK;
    }
    const char *word = wh_arena_slice(r->arena, r->at, strcspn(r->at, " \t\r\n"));
    return refuse(r, "as many numbers as the size squared",
                  *word ? wh_arena_print(r->arena, "\"%s\" is not a number", word) : "the matrix ends too early");
}

static enum wh_status read_matrix(struct reading *r, size_t n, double *cost, struct wh_sequence_problem *p)
{
    WH_LIST(struct wh_sequence_pair) before = {0};
    r->line++;
    for (size_t i = 0; i < n * n; i++) {
        double value;
        enum wh_status status = read_number(r, &value);
        if (status != WH_OK) return status;
        if (value < 0 && (value > -1 || value < -1)) return refuse(r, "-1 or a cost", "a cost below zero");
        cost[i] = value < 0 ? INFINITY : value;
        if (value < 0) *WH_PUSH(r->arena, &before) = (struct wh_sequence_pair){i % n, i / n};
    }
    r->at += strspn(r->at, " \t\r\n");
    if (*r->at && !wh_starts(r->at, "EOF")) return refuse(r, "EOF", "more follows after the matrix");
    *p = (struct wh_sequence_problem){n, cost, before.at, before.count, 0, (int)n - 1};
    return WH_OK;
}

static enum wh_status read_problem(struct reading *r, struct wh_sequence_problem *ret)
{
    double size;
    enum wh_status status = read_head(r);
    if (status != WH_OK) return status;
    r->line++;
    status = read_number(r, &size);
    if (status != WH_OK) return status;
    if (size < 1 || size > WH_SEQUENCE_MOST || floor(size) < size) {
        return refuse(r, wh_arena_print(r->arena, "1 to %d", WH_SEQUENCE_MOST), "no size of a problem");
    }
    size_t n = (size_t)size;
    r->line--;
    return read_matrix(r, n, WH_NEW(r->arena, n * n, double), ret);
}

enum wh_status order_solve_sop(struct wh_arena *arena, const char *path, const char *text,
                               const struct order_limits *limits, struct order_outcome *ret, struct wh_errors *reterr)
{
    struct reading reading = {arena, reterr, path, text, 0};
    struct wh_sequence_problem problem;
    struct wh_sequence found;
    enum wh_status status = read_problem(&reading, &problem);
    if (status != WH_OK) return status;
    struct wh_sequence_limits own = {
        .nodes = limits->nodes, .seconds = limits->seconds, .bytes = limits->bytes, .clock = limits->clock};
    double started = limits->clock();
    status = wh_sequence_solve(arena, &problem, &own, &found, reterr);
    if (status != WH_OK) return status;
    *ret = (struct order_outcome){found.cost, found.bound, found.stop == WH_SEQUENCE_PROVEN, limits->clock() - started,
                                  found.nodes};
    return WH_OK;
}
