#include "order/paths.h"

#include <math.h>

struct wh_order_paths wh_order_paths_new(struct wh_arena *arena, const struct wh_order_job *job, bool timed)
{
    size_t all = job->end_count, width = WH_ORDER_ENDS + all;
    return (struct wh_order_paths){.job = job,
                                   .timed = timed,
                                   .width = width,
                                   .at = WH_NEW(arena, (all + 1) * width, double),
                                   .rows = WH_NEW(arena, all + 1, size_t),
                                   .ends = WH_NEW(arena, all + 1, size_t),
                                   .start = WH_NEW(arena, all + 1, double),
                                   .back = WH_NEW(arena, width, double)};
}

/* The i-th column in use, of WH_ORDER_ENDS + end_count. */
static size_t column(const struct wh_order_paths *p, size_t i)
{
    return i < WH_ORDER_ENDS ? i : WH_ORDER_ENDS + p->ends[i - WH_ORDER_ENDS];
}

static bool counts(const struct wh_order_paths *p, const struct wh_order_lag *lag)
{
    return p->timed || lag->inside;
}

/* Paths to the start of a task: after the change, and after each end it waits for. */
static void find_start(struct wh_order_paths *p, size_t task, double change)
{
    const struct wh_order_job *job = p->job;
    for (size_t r = 0; r <= p->row_count; r++) p->start[r] = wh_order_row(p, r)[WH_ORDER_FREE] + change;
    for (size_t i = job->lags_into[task]; i < job->lags_into[task + 1]; i++) {
        const struct wh_order_lag *lag = &job->lags[i];
        size_t source = job->source_of[lag->first];
        if (!counts(p, lag)) continue;
        for (size_t e = 0; e < p->end_count; e++) {
            if (p->ends[e] != source) continue;
            for (size_t r = 0; r <= p->row_count; r++)
                p->start[r] = wh_order_later(p->start[r], wh_order_row(p, r)[WH_ORDER_ENDS + source] + lag->least);
        }
    }
}

/* A task that starts within a time of a source holds the source back: paths lead on from its start to what the source
 * leads to, and every path to the start now leads there too. False: they go round in a ring, it must come too late. */
static bool hold_back(struct wh_order_paths *p, size_t task)
{
    const struct wh_order_job *job = p->job;
    size_t columns = WH_ORDER_ENDS + p->end_count;
    bool any = false;
    for (size_t i = 0; i < columns; i++) p->back[column(p, i)] = -INFINITY;
    for (size_t k = job->lags_into[task]; k < job->lags_into[task + 1]; k++) {
        const struct wh_order_lag *lag = &job->lags[k];
        if (!counts(p, lag) || !isfinite(lag->most)) continue;
        size_t r = 1;
        while (p->rows[r - 1] != job->source_of[lag->first]) r++;
        if (p->start[r] > lag->most + WH_ORDER_SLACK) return false;
        const double *row = wh_order_row(p, r);
        for (size_t i = 0; i < columns; i++) {
            size_t c = column(p, i);
            p->back[c] = wh_order_later(p->back[c], row[c] - lag->most);
        }
        any = true;
    }
    for (size_t r = 0; any && r <= p->row_count; r++) {
        double *row = wh_order_row(p, r);
        for (size_t i = 0; i < columns; i++) {
            size_t c = column(p, i);
            row[c] = wh_order_later(row[c], p->start[r] + p->back[c]);
        }
    }
    return true;
}

static void insert(size_t list[], size_t *count, size_t value)
{
    size_t at = (*count)++;
    for (; at > 0 && list[at - 1] > value; at--) list[at] = list[at - 1];
    list[at] = value;
}

/* Does the end of a source matter from here on; is a row from it needed? */
static bool is_limited(const struct wh_order_paths *p, size_t source)
{
    const struct wh_order_job *job = p->job;
    return (p->timed && job->limited[source]) || job->limited_inside[source];
}

/* The task takes its place: the fitter is free after it, and its end is there to be waited for. */
static void add_task(struct wh_order_paths *p, size_t task)
{
    const struct wh_order_job *job = p->job;
    const struct wh_order_task *of = &job->problem->tasks[task];
    size_t source = job->source_of[task];
    for (size_t r = 0; r <= p->row_count; r++) {
        double *row = wh_order_row(p, r), end = p->start[r] + of->minutes;
        row[WH_ORDER_FREE] = of->alone ? p->start[r] : end;
        if (p->timed) row[WH_ORDER_LATEST] = wh_order_later(row[WH_ORDER_LATEST], end);
        if (source != WH_ORDER_NONE) row[WH_ORDER_ENDS + source] = end;
    }
    if (source == WH_ORDER_NONE) return;
    if (is_limited(p, source)) {
        double *row = &p->at[(source + 1) * p->width];
        row[WH_ORDER_FREE] = of->alone ? -of->minutes : 0;
        row[WH_ORDER_LATEST] = wh_order_later(0, p->back[WH_ORDER_LATEST] - of->minutes);
        for (size_t e = 0; e < p->end_count; e++) {
            size_t c = WH_ORDER_ENDS + p->ends[e];
            row[c] = p->back[c] - of->minutes;
        }
        row[WH_ORDER_ENDS + source] = 0;
        insert(p->rows, &p->row_count, source);
    }
    insert(p->ends, &p->end_count, source);
}

/* Must something of what is still to come follow this source within a time? Must it come so late that it does come too
 * late? The work that stands before it has to be done first. */
enum due { NOT_DUE, DUE, OVERDUE };

static enum due due(const struct wh_order_paths *p, const uint64_t done[], size_t r)
{
    const struct wh_order_job *job = p->job;
    enum due is = NOT_DUE;
    size_t source = p->rows[r - 1];
    for (size_t k = job->lags_from[source]; k < job->lags_from[source + 1]; k++) {
        const struct wh_order_lag *lag = &job->lags[job->from[k]];
        size_t block = job->block_of[lag->after];
        if (!counts(p, lag) || !isfinite(lag->most) || wh_order_has(done, block)) continue;
        double least = wh_order_row(p, r)[WH_ORDER_FREE];
        const uint64_t *before = &job->before[block * job->words];
        for (size_t w = 0; w < job->words; w++)
            for (uint64_t left = before[w] & ~done[w]; left; left &= left - 1)
                least += job->blocks[w * 64 + (size_t)__builtin_ctzll(left)].minutes;
        if (least > lag->most + WH_ORDER_SLACK) return OVERDUE;
        is = DUE;
    }
    return is;
}

/* Can an end still hold up anything? */
static bool is_awaited(const struct wh_order_paths *p, const uint64_t done[], size_t source)
{
    const struct wh_order_job *job = p->job;
    for (size_t k = job->lags_from[source]; k < job->lags_from[source + 1]; k++) {
        const struct wh_order_lag *lag = &job->lags[job->from[k]];
        if (!counts(p, lag) || wh_order_has(done, job->block_of[lag->after])) continue;
        for (size_t r = 0; r <= p->row_count; r++) {
            const double *row = wh_order_row(p, r);
            if (row[WH_ORDER_ENDS + source] + lag->least > row[WH_ORDER_FREE]) return true;
        }
    }
    return false;
}

bool wh_order_paths_tidy(struct wh_order_paths *p, const uint64_t done[])
{
    size_t rows = 0, ends = 0;
    for (size_t r = 1; r <= p->row_count; r++) {
        enum due is = due(p, done, r);
        if (is == OVERDUE) return false;
        if (is == DUE) p->rows[rows++] = p->rows[r - 1];
    }
    p->row_count = rows;
    for (size_t e = 0; e < p->end_count; e++) {
        bool kept = false;
        for (size_t r = 0; r < rows; r++) kept |= p->rows[r] == p->ends[e];
        if (kept || is_awaited(p, done, p->ends[e])) p->ends[ends++] = p->ends[e];
    }
    p->end_count = ends;
    return true;
}

bool wh_order_paths_add(struct wh_order_paths *p, size_t task, double change, double *ret_waited)
{
    double ready = p->at[WH_ORDER_FREE] + change;
    find_start(p, task, change);
    if (!hold_back(p, task)) return false;
    *ret_waited = p->start[0] - ready;
    add_task(p, task);
    return true;
}
