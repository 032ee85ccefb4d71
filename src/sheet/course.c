#include "sheet/course.h"

#include "sheet/pair.h"

#include <math.h>
#include <string.h>

/* ---- making ---------------------------------------------------------------------------------------------------- */

/* Which cells vary: given ones that are not exact, and results of rules that hang on one and whose other inputs are all
 * in range. */
static bool *find_varying(struct wh_arena *arena, const struct wh_sheet *sheet)
{
    bool *varies = WH_NEW(arena, sheet->cell_count + 1, bool);
    for (size_t c = 0; c < sheet->cell_count; c++) {
        const struct wh_value *given = &sheet->cells[c].given;
        varies[c] = sheet->cells[c].use == WH_NONE && given->shape != WH_EXACT && given->most > given->least;
    }
    for (size_t u = 0; u < sheet->use_count; u++) {
        const struct wh_use *use = &sheet->uses[u];
        bool any = false, good = !use->study; /* a study is never worked for a trial */
        for (size_t i = 0; i < use->inputs; i++) {
            any |= varies[use->in[i]];
            good &= varies[use->in[i]] || wh_form_between(sheet->value[use->in[i]], use->least[i], use->most[i]);
        }
        for (size_t o = 0; o < use->results; o++) varies[use->out[o]] = any && good;
    }
    return varies;
}

/* Which cells the wished ones hang on, themselves among them. */
static bool *find_needed(struct wh_arena *arena, const struct wh_sheet *sheet, const size_t cells[], size_t count)
{
    bool *needed = WH_NEW(arena, sheet->cell_count + 1, bool);
    for (size_t i = 0; i < count; i++) needed[cells[i]] = true;
    for (size_t u = sheet->use_count; u-- > 0;) {
        const struct wh_use *use = &sheet->uses[u];
        bool any = false;
        for (size_t o = 0; o < use->results; o++) any |= needed[use->out[o]];
        for (size_t i = 0; any && i < use->inputs; i++) needed[use->in[i]] = true;
        for (size_t o = 0; any && o < use->results; o++) needed[use->out[o]] = true;
    }
    return needed;
}

static size_t add_column(struct wh_course *course, double fixed)
{
    course->fixed[course->column_count] = fixed;
    return course->column_count++;
}

/* The column of an input that never changes: one for all inputs of the same value. */
static size_t fixed_column(struct wh_course *course, size_t varying, double value)
{
    for (size_t c = varying; c < course->column_count; c++)
        if (memcmp(&course->fixed[c], &value, sizeof value) == 0) return c;
    return add_column(course, value);
}

/* A drawn interval that lies in the range needs no look, nor does anything drawn for a range without ends. */
static bool always_inside(const struct wh_cell *cell, double least, double most)
{
    if (cell->use != WH_NONE) return false;
    bool endless = isinf(least) && isinf(most);
    return endless || (cell->given.shape == WH_BETWEEN && wh_form_between(cell->given.least, least, most) &&
                       wh_form_between(cell->given.most, least, most));
}

static void add_use(struct wh_arena *arena, struct wh_course *course, size_t varying, const struct wh_use *use)
{
    struct wh_course_use *to = &course->uses[course->use_count++];
    *to = (struct wh_course_use){.rule = use->rule, .inputs = use->inputs, .results = use->results};
    to->checks = WH_NEW(arena, use->inputs, struct wh_course_check);
    for (size_t i = 0; i < use->inputs; i++) {
        size_t cell = use->in[i], column = course->column[cell];
        to->in[i] = column != WH_NONE ? column : fixed_column(course, varying, course->sheet->value[cell]);
        if (column == WH_NONE || always_inside(&course->sheet->cells[cell], use->least[i], use->most[i])) continue;
        to->checks[to->check_count++] = (struct wh_course_check){column, use->least[i], use->most[i]};
    }
    for (size_t o = 0; o < use->results; o++) to->out[o] = course->column[use->out[o]];
}

/* An input is looked at where its range is checked, and where it is itself wished for. */
static void mark_looked_at(struct wh_course *course, const size_t cells[], size_t count)
{
    for (size_t i = 0; i < course->input_count; i++) {
        struct wh_course_input *input = &course->inputs[i];
        for (size_t c = 0; c < count; c++) input->looked_at |= cells[c] == input->cell;
        for (size_t u = 0; u < course->use_count; u++)
            for (size_t k = 0; k < course->uses[u].check_count; k++)
                input->looked_at |= course->uses[u].checks[k].column == input->column;
    }
}

struct wh_course *wh_course_make(struct wh_arena *arena, const struct wh_sheet *sheet, const size_t cells[],
                                 size_t count, uint64_t seed)
{
    struct wh_course *course = WH_NEW(arena, 1, struct wh_course);
    size_t n = sheet->cell_count;
    bool *varies = find_varying(arena, sheet), *needed = find_needed(arena, sheet, cells, count);
    *course = (struct wh_course){.sheet = sheet,
                                 .inputs = WH_NEW(arena, n + 1, struct wh_course_input),
                                 .uses = WH_NEW(arena, sheet->use_count + 1, struct wh_course_use),
                                 .column = WH_NEW(arena, n + 1, size_t),
                                 .fixed = WH_NEW(arena, 2 * n + 1, double)};
    wh_draw_layers(&course->layers);
    for (size_t c = 0; c < n; c++) {
        course->column[c] = WH_NONE;
        if (!varies[c] || !needed[c]) continue;
        course->column[c] = add_column(course, isfinite(sheet->value[c]) ? sheet->value[c] : 0);
        if (sheet->cells[c].use != WH_NONE) continue;
        course->inputs[course->input_count++] =
            (struct wh_course_input){c, course->column[c], wh_draw_stream(seed, sheet->cells[c].name), false};
    }
    size_t varying = course->column_count;
    for (size_t u = 0; u < sheet->use_count; u++)
        if (course->column[sheet->uses[u].out[0]] != WH_NONE) add_use(arena, course, varying, &sheet->uses[u]);
    mark_looked_at(course, cells, count);
    return course;
}

struct wh_bench wh_course_bench(struct wh_arena *arena, const struct wh_course *course)
{
    struct wh_bench bench = {WH_NEW(arena, course->column_count * WH_COURSE_ROWS + 1, double),
                             WH_NEW(arena, course->column_count + 1, struct wh_seen),
                             WH_NEW(arena, WH_RULE_COLUMNS * WH_COURSE_ROWS, double)};
    for (size_t c = 0; c < course->column_count; c++)
        for (size_t i = 0; i < WH_COURSE_ROWS; i++) bench.columns[c * WH_COURSE_ROWS + i] = course->fixed[c];
    return bench;
}

/* ---- working --------------------------------------------------------------------------------------------------- */

/* A column with rows that have no answer, one by one. */
static struct wh_seen look_closely(const double *column, size_t n, double about)
{
    struct wh_seen seen = {.least = INFINITY, .most = -INFINITY};
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(column[i])) continue;
        double d = column[i] - about;
        seen.sum += d;
        seen.square += d * d;
        seen.least = fmin(seen.least, column[i]);
        seen.most = fmax(seen.most, column[i]);
        seen.answers++;
    }
    return seen;
}

enum { STRIDE = 4 };

/* Sums and ends of a column, two rows at a time and those twice, so that the additions overlap. */
static struct wh_seen look(const double *column, size_t n, double about)
{
    wh_pair middle = WH_PAIR(about), least = WH_PAIR(column[0]), most = least;
    wh_pair sum[2] = {{0}}, square[2] = {{0}};
    size_t whole = n / STRIDE * STRIDE;
    for (size_t i = 0; i < whole; i += STRIDE) {
        wh_pair x = wh_pair_at(column + i), y = wh_pair_at(column + i + 2), dx = x - middle, dy = y - middle;
        sum[0] += dx;
        sum[1] += dy;
        square[0] += dx * dx;
        square[1] += dy * dy;
        least = wh_pair_lesser(wh_pair_lesser(x, y), least);
        most = wh_pair_greater(wh_pair_greater(x, y), most);
    }
    struct wh_seen seen = look_closely(column + whole, n - whole, about);
    wh_pair sums = sum[0] + sum[1], squares = square[0] + square[1];
    seen.sum += sums[0] + sums[1];
    seen.square += squares[0] + squares[1];
    seen.least = fmin(seen.least, fmin(least[0], least[1]));
    seen.most = fmax(seen.most, fmax(most[0], most[1]));
    if (!isfinite(seen.sum) || seen.answers < n - whole) return look_closely(column, n, about);
    seen.answers = n;
    return seen;
}

void wh_course_draw(const struct wh_course *course, struct wh_bench *bench, uint64_t first, size_t n)
{
    for (size_t i = 0; i < course->input_count; i++) {
        const struct wh_course_input *input = &course->inputs[i];
        double *column = bench->columns + input->column * WH_COURSE_ROWS;
        wh_draw_column(&course->sheet->cells[input->cell].given, input->stream, first, n, &course->layers, column);
        if (input->looked_at) bench->seen[input->column] = look(column, n, course->fixed[input->column]);
    }
}

/* Is every checked input in its range in all n rows? */
static bool all_inside(const struct wh_course_use *use, const struct wh_bench *bench, size_t n)
{
    for (size_t i = 0; i < use->check_count; i++) {
        const struct wh_course_check *check = &use->checks[i];
        const struct wh_seen *seen = &bench->seen[check->column];
        if (seen->answers < n || !wh_form_between(seen->least, check->least, check->most) ||
            !wh_form_between(seen->most, check->least, check->most))
            return false;
    }
    return true;
}

static bool row_inside(const struct wh_course_use *use, const struct wh_bench *bench, size_t row)
{
    for (size_t i = 0; i < use->check_count; i++) {
        const struct wh_course_check *check = &use->checks[i];
        if (!wh_form_between(bench->columns[check->column * WH_COURSE_ROWS + row], check->least, check->most))
            return false;
    }
    return true;
}

/* Some rows are out of range: in their place the rule is shown a good row, and they have no answer. */
static void work_good_rows(const struct wh_course_use *use, struct wh_bench *bench, size_t n, const double *in[],
                           double *const out[])
{
    bool good[WH_COURSE_ROWS];
    size_t stand_in = n;
    for (size_t r = 0; r < n; r++) {
        good[r] = row_inside(use, bench, r);
        if (good[r] && stand_in == n) stand_in = r;
    }
    for (size_t i = 0; i < use->inputs && stand_in < n; i++) {
        double *spare = bench->spare + i * WH_COURSE_ROWS;
        for (size_t r = 0; r < n; r++) spare[r] = in[i][good[r] ? r : stand_in];
        in[i] = spare;
    }
    if (stand_in < n) use->rule->work(n, use->inputs, in, out);
    for (size_t o = 0; o < use->results; o++)
        for (size_t r = 0; r < n; r++)
            if (!good[r]) out[o][r] = NAN;
}

void wh_course_work(const struct wh_course *course, struct wh_bench *bench, size_t n)
{
    for (size_t u = 0; u < course->use_count; u++) {
        const struct wh_course_use *use = &course->uses[u];
        const double *in[WH_RULE_COLUMNS];
        double *out[WH_RULE_OUT];
        for (size_t i = 0; i < use->inputs; i++) in[i] = bench->columns + use->in[i] * WH_COURSE_ROWS;
        for (size_t o = 0; o < use->results; o++) out[o] = bench->columns + use->out[o] * WH_COURSE_ROWS;
        if (all_inside(use, bench, n)) {
            use->rule->work(n, use->inputs, in, out);
        } else {
            work_good_rows(use, bench, n, in, out);
        }
        for (size_t o = 0; o < use->results; o++) {
            bench->seen[use->out[o]] = look(out[o], n, course->fixed[use->out[o]]);
        }
    }
}
