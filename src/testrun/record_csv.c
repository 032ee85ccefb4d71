/* CSV: lines of numbers with a comma, semicolon, tab or space between; the decimal sign is a point, or a comma where
 * the comma does not divide. Comment lines "# sample_rate_hz=25600" or "# rate: 25.6 kHz" give the rate, a line of
 * names the channels, their units in brackets; a first column named "time" or "t" gives the rate if nothing else does
 * and shows gaps. */
#include "testrun/record_form.h"
#include "testrun/record_lines.h"
#include "testrun/record_unit.h"

#include "base/quantity.h"

#include <math.h>
#include <string.h>

enum { LOOK_AHEAD = 2048, HEAD_LINES = 64 };

struct csv {
    struct wh_arena *arena;
    struct wh_lines *lines;
    uint64_t start;         /* of the first line of numbers */
    char divider;           /* ' ' stands for any white space */
    bool timed;             /* the first column is the time */
    double time_unit;       /* s */
    double step;            /* s between lines, by the first ones; 0: no time */
    double digit, rounding; /* what the last digit of this line's time is worth, and the greater of two lines', s */
    double first, last;     /* times */
    size_t rows;
    bool told;
};

static enum wh_status refuse(const struct wh_run_record *record, int line, const char *right, struct wh_errors *reterr,
                             const char *says)
{
    struct wh_place place = {.file = record->path, .line = line, .column = line > 0};
    return wh_errors_add(reterr, WH_ERR_INPUT, place, right, "%s", says);
}

/* ---- fields ------------------------------------------------------------------------------------------ */

/* Cuts a line at its dividers in place; the number of fields, at most `room`. */
static size_t cut(char *line, char divider, size_t room, char *fields[])
{
    size_t count = 0;
    while (count < room) {
        while (*line == ' ' || (divider == ' ' && *line == '\t')) line++;
        if (!*line && (divider == ' ' || count == 0)) break;
        fields[count++] = line;
        while (*line && *line != divider && !(divider == ' ' && *line == '\t')) line++;
        char *end = line;
        bool more = *line != '\0';
        while (end > fields[count - 1] && end[-1] == ' ') end--;
        line += more;
        *end = '\0';
        if (!more) break;
    }
    return count;
}

static bool is_blank(const char *line)
{
    return line[strspn(line, " \t\r")] == '\0';
}

/* A number and nothing else. */
static bool read_number(const char *text, double *ret)
{
    const char *end = wh_number_read(text, ret);
    return end && *end == '\0';
}

/* ---- the head --------------------------------------------------------------------------------------------------- */

static const char *after_word(const char *line, const char *word)
{
    const char *at = strstr(line, word);
    if (!at) return NULL;
    at += strlen(word);
    return at + strspn(at, " =:\t");
}

/* "# sample_rate_hz=20000", "# rate: 25.6 kHz". */
static void read_comment(struct wh_run_record *record, const char *line)
{
    const char *text = after_word(line, "sample_rate_hz");
    struct wh_unit hertz;
    struct wh_value value;
    double number;
    wh_unit_read("Hz", 2, &hertz);
    if (text && wh_number_read(text, &number)) record->rate = number;
    if (!text && (text = after_word(line, "rate")) && wh_value_read(text, &hertz, &value, NULL) == WH_READ_WELL)
        record->rate = value.best;
}

static char divider_of(const char *line)
{
    if (strchr(line, ';')) return ';';
    if (strchr(line, '\t')) return '\t';
    return strchr(line, ',') ? ',' : ' ';
}

/* Is a line of names, not of numbers? */
static bool is_names(const char *line)
{
    for (; *line; line++)
        if ((*line >= 'A' && *line <= 'Z' && *line != 'E') || (*line >= 'a' && *line <= 'z' && *line != 'e'))
            return true;
    return false;
}

static bool is_time(const char *name)
{
    return wh_same(name, "time") || wh_same(name, "Time") || wh_same(name, "t") || wh_same(name, "TIME");
}

/* The first column, when it is the time. */
static enum wh_status read_time(struct csv *csv, struct wh_run_record *record, const char *field,
                                struct wh_errors *reterr)
{
    struct wh_record_channel channel = {.name = ""};
    struct wh_unit unit, second;
    const char *written;
    wh_record_name_read(csv->arena, field, &channel, &written);
    if (!is_time(channel.name)) return WH_OK;
    wh_unit_read("s", 1, &second);
    if (!wh_unit_read(written ? written : "s", strlen(written ? written : "s"), &unit) ||
        !wh_dimension_same(unit.dimension, second.dimension))
        return refuse(record, csv->lines->line, "its unit is s or ms", reterr,
                      wh_arena_print(csv->arena, "time in \"%s\"", written));
    csv->timed = true;
    csv->time_unit = unit.factor;
    return WH_OK;
}

static enum wh_status read_names(struct csv *csv, struct wh_run_record *record, char *line, struct wh_errors *reterr)
{
    char *fields[WH_RECORD_CHANNELS + 2];
    const char *whole = wh_arena_text(csv->arena, line);
    csv->divider = strchr(whole, ';') ? ';' : strchr(whole, '\t') ? '\t' : ',';
    size_t count = cut(line, csv->divider, WH_RECORD_CHANNELS + 2, fields);
    enum wh_status status = count ? read_time(csv, record, fields[0], reterr) : WH_OK;
    if (status == WH_OK) status = wh_record_channels(csv->arena, record, count - csv->timed, reterr);
    for (size_t c = 0; c < record->channels && status == WH_OK; c++)
        wh_record_name_read(csv->arena, fields[c + csv->timed], &record->channel[c], &record->inside->unit[c]);
    if (count == 1) csv->divider = '\0'; /* one column: a comma is a decimal sign */
    return status;
}

/* Comments, then names; without names the first line of numbers says how many channels there are. */
static enum wh_status read_head(struct csv *csv, struct wh_run_record *record, struct wh_errors *reterr)
{
    char *line, *fields[WH_RECORD_CHANNELS + 2];
    for (int n = 0; n < HEAD_LINES; n++) {
        uint64_t before = wh_lines_tell(csv->lines);
        enum wh_status status = wh_lines_next(csv->lines, &line, reterr);
        if (status != WH_OK) return status;
        if (!line) return refuse(record, csv->lines->line, NULL, reterr, "no line of numbers");
        if (!wh_text_is_utf8(line, strlen(line)))
            return refuse(record, csv->lines->line, "records are read as WAV, CSV or universal files", reterr,
                          "this is no text");
        if (*line == '#') {
            read_comment(record, line);
        } else if (is_names(line)) {
            csv->start = wh_lines_tell(csv->lines);
            return read_names(csv, record, line, reterr);
        } else if (!is_blank(line)) {
            csv->divider = divider_of(line);
            csv->lines->line--; /* it is read again */
            csv->start = before;
            return wh_record_channels(csv->arena, record, cut(line, csv->divider, WH_RECORD_CHANNELS + 2, fields),
                                      reterr);
        }
    }
    return refuse(record, csv->lines->line, NULL, reterr, "no line of numbers among the first 64");
}

/* ---- numbers ---------------------------------------------------------------------------------------------------- */

static enum wh_status bad_count(struct csv *csv, struct wh_run_record *record, size_t count, struct wh_errors *reterr)
{
    return refuse(record, csv->lines->line,
                  count > record->channels && csv->divider == ','
                      ? "decimal commas want a semicolon or a tab between the columns"
                      : NULL,
                  reterr,
                  wh_arena_print(csv->arena, "%zu field%s, the record has %zu", count, count == 1 ? "" : "s",
                                 record->channels + csv->timed));
}

/* A line's numbers into row[]; the time first if there is one. */
static enum wh_status read_row(struct csv *csv, struct wh_run_record *record, char *line, double row[],
                               struct wh_errors *reterr)
{
    char *fields[WH_RECORD_CHANNELS + 2];
    size_t wanted = record->channels + csv->timed;
    size_t count = cut(line, csv->divider, WH_RECORD_CHANNELS + 2, fields);
    if (count != wanted) return bad_count(csv, record, count, reterr);
    for (size_t f = 0; f < count; f++) {
        if (read_number(fields[f], &row[f])) continue;
        return refuse(record, csv->lines->line, NULL, reterr,
                      wh_arena_print(csv->arena, "column %zu: \"%.40s\" is not a number", f + 1, fields[f]));
    }
    return WH_OK;
}

/* What the last digit of a number is worth. */
static double last_digit(const char *text)
{
    const char *sign = strpbrk(text, ".,"), *exponent = strpbrk(text, "eE");
    double power = sign ? -(double)strspn(sign + 1, "0123456789") : 0, more = 0;
    if (exponent) wh_number_read(exponent[1] == '+' ? exponent + 2 : exponent + 1, &more);
    return pow(10, power + more);
}

/* The next row of numbers; *ret_more false at the end. */
static enum wh_status next_row(struct csv *csv, struct wh_run_record *record, double row[], bool *ret_more,
                               struct wh_errors *reterr)
{
    char *line;
    enum wh_status status;
    do {
        if ((status = wh_lines_next(csv->lines, &line, reterr)) != WH_OK) return status;
        if (!line) return *ret_more = false, WH_OK;
    } while (is_blank(line));
    *ret_more = true;
    if ((status = read_row(csv, record, line, row, reterr)) != WH_OK || !csv->timed) return status;
    double digit = last_digit(line + strspn(line, " ")) * csv->time_unit;
    csv->rounding = fmax(digit, csv->digit);
    csv->digit = digit;
    return WH_OK;
}

/* The times of the first lines: the step between them. */
static enum wh_status look_at_time(struct csv *csv, struct wh_run_record *record, struct wh_errors *reterr)
{
    double row[WH_RECORD_CHANNELS + 1], first = 0, last = 0;
    size_t rows = 0;
    for (bool more; rows < LOOK_AHEAD; rows++) {
        enum wh_status status = next_row(csv, record, row, &more, reterr);
        if (status != WH_OK) return status;
        if (!more) break;
        if (rows == 0) first = row[0];
        last = row[0];
    }
    if (rows < 2 || !(last > first)) return refuse(record, csv->lines->line, NULL, reterr, "the time does not rise");
    csv->step = (last - first) * csv->time_unit / (double)(rows - 1);
    return WH_OK;
}

/* Holds a line's time to the one before. */
static enum wh_status check_time(struct csv *csv, struct wh_run_record *record, double time, struct wh_errors *reterr)
{
    time *= csv->time_unit;
    double step = time - csv->last;
    if (csv->rows == 0) csv->first = time;
    bool odd = csv->rows > 0 && fabs(step - csv->step) > 0.5 * csv->step + csv->rounding;
    if (odd)
        return refuse(record, csv->lines->line, "a record's lines follow at an even step", reterr,
                      wh_arena_print(csv->arena,
                                     step > 0 ? "a gap: %.6g s after the line before, the step is %.6g s"
                                              : "the time goes back: %.6g s after the line before, the step is "
                                                "%.6g s",
                                     step, csv->step));
    csv->last = time;
    csv->rows++;
    return WH_OK;
}

static void doubt_rate(struct csv *csv, struct wh_run_record *record)
{
    double step = csv->rows > 1 ? (csv->last - csv->first) / (double)(csv->rows - 1) : csv->step;
    if (!csv->timed || csv->told || fabs(step * record->rate - 1) < 1e-3) return;
    csv->told = true;
    wh_doubt(&record->doubts, "by its times it has %.6g samples a second, %.6g are taken", 1 / step, record->rate);
}

/* ---- opening and reading ---------------------------------------------------------------------------------------- */

static enum wh_status open_csv(struct wh_arena *arena, struct wh_run_record *record, struct wh_errors *reterr)
{
    struct csv *csv = WH_NEW(arena, 1, struct csv);
    size_t lines;
    csv->arena = arena;
    csv->lines = wh_lines_open(arena, record->inside->file, record->path);
    record->inside->state = csv;
    enum wh_status status = wh_lines_count(csv->lines, &lines, reterr);
    if (status == WH_OK) status = read_head(csv, record, reterr);
    if (status != WH_OK) return status;
    int head = csv->lines->line;
    record->frames = lines - (size_t)head; /* and blank lines */
    wh_lines_go(csv->lines, csv->start, head);
    if (!csv->timed) return WH_OK;
    if ((status = look_at_time(csv, record, reterr)) != WH_OK) return status;
    if (!(record->rate > 0)) record->rate = 1 / csv->step;
    wh_lines_go(csv->lines, csv->start, head);
    return WH_OK;
}

static enum wh_status read_csv(struct wh_run_record *record, size_t n, double *const to[], size_t *ret_frames,
                               struct wh_errors *reterr)
{
    struct csv *csv = record->inside->state;
    double row[WH_RECORD_CHANNELS + 1];
    size_t done = 0;
    while (done < n) {
        bool more;
        enum wh_status status = next_row(csv, record, row, &more, reterr);
        if (status != WH_OK) return status;
        if (!more) break;
        if (csv->timed && (status = check_time(csv, record, row[0], reterr)) != WH_OK) return status;
        for (size_t c = 0; c < record->channels; c++) to[c][done] = row[c + csv->timed];
        done++;
    }
    if (done == 0) doubt_rate(csv, record);
    *ret_frames = done;
    return WH_OK;
}

const struct wh_record_form wh_record_csv = {.name = "CSV", .open = open_csv, .read = read_csv};
